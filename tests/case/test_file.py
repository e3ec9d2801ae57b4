"""Case files: what is written is read back the same, what is wrong is named at its place, no file is half written."""

import os
import stat
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import example, given, settings
from hypothesis import strategies as st

from diagnose import words
from diagnose.case.case import Answer, Case, Damage
from diagnose.case.file import (
    LARGEST_MM,
    STATED,
    case_from_text,
    case_text,
    find_piece,
    parse_reading,
    read_case,
    write_case,
    write_whole,
)
from diagnose.case.told import StoryError, case_of
from diagnose.rulebase import located
from diagnose.rulebase.entries import Piece, Sign, Story
from diagnose.rulebase.fault import Fault, FaultsFound
from diagnose.rulebase.store import load_knowledge

KNOWLEDGE = load_knowledge()
HERE = "‸"

SIZES = [*words.PART_SIZES, *words.JOINT_SIZES]
ASKED = [sign for sign in KNOWLEDGE.signs.values() if sign.computed is None]
WEIRD = [
    "no", "yes", "~", "null", "Null", "NULL", "true", "- x", "? x", "a: b", "x: ", ": x", "#", "a # b", "# b", "a #",
    "'", '"', '"x', "it's", "'quoted'", "{a: b}", "[a, b", "&a", "*a", "!tag", "!!python/object:os.system", "@x", "`x`",
    "%YAML 1.1", "|", ">", "| \n x", "---", "...", "--- x", "=", "<<", "1:30", "012", "0x1F", "1e3", "2026-03-02",
    " leading", "trailing ", "\ttab", "a\tb", "a\nb", "\na", "a\n", "a\n\n", "\n", "a\n b", " a\nb", "a\n  b # c\n",
    "a\r\nb", "a\rb", "a\x85b", "a\u2028b", "a\u2029b", "\ufeffa", "a\ufeff", "a\x00b", "\x1b[31m", "é", "ß — “x”",
    "椅子", "🪑", "x" * 300, "word " * 60, "word " * 40 + "# " + "word " * 40, "a  b   c", "none", "cannot_tell",
    "Ünïcode: #1, 'two' \"three\"", "\\", "\\n", "<b>x</b>",
]  # fmt: skip
any_text = st.one_of(st.sampled_from(WEIRD), st.text(st.characters(codec="utf-8"), max_size=30))
some_text = any_text.filter(bool)


@st.composite
def answers(draw: st.DrawFn, sign: Sign) -> Answer:
    by, unsure = draw(st.sampled_from(list(words.SPEAKERS))), draw(st.booleans())
    if draw(st.integers(0, 5)) == 0:
        return Answer((), by, unsure, cannot_tell=True)
    names = list(sign.readings)
    if sign.kind == "tick_all":
        ticked = draw(st.sets(st.sampled_from(names)))
        return Answer(tuple(name for name in names if name in ticked), by, unsure)
    if sign.measure is not None and draw(st.booleans()):
        text = f"{draw(st.integers(0, round(sign.measure.high * 100))) / 100:g} mm"
        return Answer((parse_reading(sign, text)[0],), by, unsure, measured=text)
    return Answer((draw(st.sampled_from(names)),), by, unsure)


@st.composite
def readings(draw: st.DrawFn, of: str, most: int) -> dict[str, Answer]:
    names = st.sampled_from([sign.id for sign in ASKED if sign.of == of])
    return {name: draw(answers(KNOWLEDGE.signs[name])) for name in draw(st.lists(names, max_size=most, unique=True))}


@st.composite
def damages(draw: st.DrawFn, piece: Piece, damage_id: str) -> Damage:
    return Damage(
        id=damage_id,
        kind=draw(st.sampled_from(list(words.DAMAGES))),
        part=draw(st.sampled_from([None, *piece.parts])),
        joint=draw(st.sampled_from([None, *(joint.id for joint in piece.joints)])),
        says=draw(any_text),
        found_by=draw(st.sampled_from(["owner", "us"])),
        facts={key: draw(st.sampled_from(list(known))) for key, known in STATED.items() if draw(st.booleans())},
        sizes=draw(st.dictionaries(st.sampled_from(SIZES), st.floats(1e-9, LARGEST_MM), max_size=2)),
        readings=draw(readings("damage", 6)),
    )


@st.composite
def cases(draw: st.DrawFn) -> Case:
    piece = draw(st.sampled_from(list(KNOWLEDGE.pieces.values())))
    names = draw(st.lists(some_text, max_size=3, unique=True))
    states = st.sampled_from(list(words.JOINT_STATES))
    return Case(
        piece=piece.id,
        number=draw(any_text),
        taken_in=draw(st.none() | st.dates()),
        owner=draw(any_text),
        owner_says=draw(any_text),
        called=draw(any_text),
        wood=draw(st.none() | st.sampled_from(list(KNOWLEDGE.woods))),
        value=draw(st.none() | st.floats(1e-3, 9e8)),
        value_by=draw(st.just("owner") | some_text),
        joints=draw(st.dictionaries(st.sampled_from([joint.id for joint in piece.joints]), states)),
        readings=draw(readings("piece", 6)),
        damages=tuple(draw(damages(piece, name)) for name in names),
    )


@settings(max_examples=200, deadline=None, derandomize=True)
@given(cases())
def test_what_is_written_is_read_back_the_same(case: Case) -> None:
    text = case_text(case, KNOWLEDGE)
    assert case_from_text(text, "case.yaml", KNOWLEDGE) == case
    assert case_text(case_from_text(text, "case.yaml", KNOWLEDGE), KNOWLEDGE) == text


@settings(max_examples=30, deadline=None, derandomize=True)
@given(cases())
def test_what_is_written_is_read_back_without_libyaml(case: Case) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(located, "_LOADER", yaml.SafeLoader)
        assert case_from_text(case_text(case, KNOWLEDGE), "case.yaml", KNOWLEDGE) == case


@pytest.mark.parametrize("text", WEIRD)
def test_every_awkward_text_comes_back_from_everywhere(text: str, tmp_path: Path) -> None:
    damage = Damage(id=text, kind="loose", says=text)
    case = Case("side_chair", text, None, text, text, text, value=1.0, value_by=text, damages=(damage,))
    path = tmp_path / "case.yaml"
    write_case(path, case, KNOWLEDGE)
    assert read_case(path, KNOWLEDGE) == case


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.text(alphabet="ab :-#'\"\n\t|>&*!%@`{}[],~?\\é\x85\u2028\r", max_size=25))
def test_what_the_owner_says_comes_back_word_for_word(text: str) -> None:
    case = Case(piece="stool", owner_says=text)
    assert case_from_text(case_text(case, KNOWLEDGE), "case.yaml", KNOWLEDGE).owner_says == text


@settings(max_examples=200, deadline=None, derandomize=True)
@given(st.floats(1e-9, 9.9e8))
@example(1234567.0)
@example(0.1 + 0.2)
@example(300.0)
def test_figures_come_back_to_the_last_digit(number: float) -> None:
    damage = Damage(id="a", kind="loose", sizes={SIZES[0]: min(number, LARGEST_MM)})
    case = Case(piece="stool", value=number, damages=(damage,))
    assert case_from_text(case_text(case, KNOWLEDGE), "case.yaml", KNOWLEDGE) == case


def test_a_case_is_written_as_a_person_would() -> None:
    damage = Damage(id="seat", kind="loose", part="side_rail", says="wobbles, says the owner", readings={
        "break_path": Answer(("along_glue_line",)),
        "joint_gap": Answer(("slack",), by="measured", measured="0.9 mm"),
        "glue_face_state": Answer(()),
    })  # fmt: skip
    case = Case(piece="side_chair", taken_in=date(2026, 3, 2), owner="A. Nother", value=450.0, damages=(damage,))
    assert case_text(case, KNOWLEDGE) == (
        "schema: '1'\ntaken_in: '2026-03-02'\nowner: A. Nother\n"
        "piece:\n  kind: side_chair\n  value: '450'\n  value_by: owner\n"
        "damages:\n- id: seat\n  damage: loose\n  part: side_rail\n  says: wobbles, says the owner\n  found_by: owner\n"
        "  readings:\n    break_path: along_glue_line\n    joint_gap:\n      reads: 0.9 mm\n      by: measured\n"
        "    glue_face_state: none\n"
    )


def test_every_story_of_the_rule_base_can_be_written_as_a_case() -> None:
    woods = set(KNOWLEDGE.woods)
    for told in KNOWLEDGE.stories:
        case = case_of(told.story, KNOWLEDGE)
        case = case if case.wood in woods else replace(case, wood=None)
        assert case_from_text(case_text(case, KNOWLEDGE), "case.yaml", KNOWLEDGE) == case


def test_names_of_pieces_mean_one_piece_each() -> None:
    for piece in KNOWLEDGE.pieces.values():
        for name in (piece.id, piece.name, *piece.also_called):
            assert find_piece(KNOWLEDGE, name) is piece
            assert find_piece(KNOWLEDGE, f"  {name.upper()} ") is piece
    assert find_piece(KNOWLEDGE, "wardrobe of the neighbours") is None


@pytest.mark.parametrize("name", ["side_chair", "side chair", "Side Chair", "dining chair", "Dining_Chair", "Stuhl"])
def test_a_piece_may_be_called_by_any_of_its_names(name: str) -> None:
    assert case_from_text(f"piece: {{kind: {name}}}\n", "case.yaml", KNOWLEDGE).piece == "side_chair"


GOOD = """\
schema: 1
number: 012
taken_in: 2026-03-02
owner: Mrs Quill
owner_says: It let go when my uncle leaned back.
piece:
  kind: dining chair
  called: the one from the hall
  wood: black_cherry
  value: 450
  value_by: owner
joints:
  all: tight
  left_side_rail_to_back_leg: moves
readings:
  rack_test: {reads: moves_at_one_joint, by: owner, unsure: yes}
  used_how: none
damages:
  - id: rail
    damage: loose
    part: side_rail
    joint: left_side_rail_to_back_leg
    says: no
    facts: {joint: dowel}
    sizes: {tenon_length: 1 1/4 in}
    readings:
      break_path: along_glue_line
      joint_gap: 0.4 mm
      glue_face_state: [bare_wood]
"""


def good() -> str:
    """The good case, with readings that the rule base has."""
    rack, face = list(KNOWLEDGE.signs["rack_test"].readings), list(KNOWLEDGE.signs["glue_face_state"].readings)
    return GOOD.replace("moves_at_one_joint", rack[0]).replace("bare_wood", face[0])


def faults_in(text: str) -> tuple[Fault, ...]:
    with pytest.raises(FaultsFound) as found:
        case_from_text(text, "case.yaml", KNOWLEDGE)
    return found.value.faults


def test_the_good_case() -> None:
    case = case_from_text(good(), "case.yaml", KNOWLEDGE)
    assert (case.piece, case.number, case.taken_in, case.value) == ("side_chair", "012", date(2026, 3, 2), 450.0)
    assert set(case.joints) == {joint.id for joint in KNOWLEDGE.pieces["side_chair"].joints}
    assert sorted(set(case.joints.values())) == ["moves", "tight"]
    assert case.readings["used_how"] == Answer(())
    assert case.readings["rack_test"].off_by == "unsure"
    (damage,) = case.damages
    assert damage.says == "no"
    assert damage.sizes == {"tenon_length": 31.75}
    assert damage.readings["joint_gap"] == Answer(("loose",), measured="0.4 mm")
    assert case_from_text(case_text(case, KNOWLEDGE), "case.yaml", KNOWLEDGE) == case


# The name of the test → the line that is changed, what it becomes (‸ marks the place), the code, what the fault says.
BAD: dict[str, tuple[str, str, str, str]] = {
    "unknown sign": (
        "      break_path:",
        "      ‸brake_path:",
        "unknown-sign",
        "brake_path is not a sign; did you mean break_path?",
    ),
    "unknown sign of the piece": ("  rack_test:", "  ‸rack_tests:", "unknown-sign", "did you mean rack_test?"),
    "unknown reading": (
        "break_path: along_glue_line",
        "break_path: ‸along_glue_lines",
        "unknown-reading",
        "along_glue_lines is not a reading of break_path; did you mean along_glue_line?",
    ),
    "unknown reading of a list": (
        "glue_face_state: [FACE]",
        "glue_face_state: [FACE, ‸nothing_at_all]",
        "unknown-reading",
        "nothing_at_all is not a reading of glue_face_state; one of:",
    ),
    "unknown reading of a measured sign": (
        "joint_gap: 0.4 mm",
        "joint_gap: ‸slck",
        "unknown-reading",
        "did you mean slack? (or a figure in mm)",
    ),
    "unknown joint": (
        "  left_side_rail_to_back_leg: moves",
        "  ‸left_rail_to_back_leg: moves",
        "unknown-joint",
        "a side chair has no joint left_rail_to_back_leg; did you mean",
    ),
    "unknown state of a joint": (
        "leg: moves",
        "leg: ‸move",
        "unknown",
        "move is not a state of a joint; did you mean moves?",
    ),
    "unknown state of all joints": ("all: tight", "all: ‸tigth", "unknown", "did you mean tight?"),
    "joint of a damage": (
        "joint: left_side_rail_to_back_leg",
        "joint: ‸left_side_rail",
        "unknown",
        "left_side_rail is not a joint of a side chair; did you mean",
    ),
    "unknown part": (
        "part: side_rail",
        "part: ‸side_rails",
        "unknown",
        "side_rails is not a part of a side chair; did you mean side_rail?",
    ),
    "unknown piece": (
        "kind: dining chair",
        "kind: ‸side_chiar",
        "unknown-piece",
        "side_chiar is not a kind of piece; did you mean side_chair?",
    ),
    "no piece": ("  kind: dining chair\n", "", "unknown-piece", "the case does not say what piece it is; one of:"),
    "unknown wood": (
        "wood: black_cherry",
        "wood: ‸black_chery",
        "unknown",
        "black_chery is not a wood of the rule base; did you mean black_cherry?",
    ),
    "unknown damage": (
        "damage: loose",
        "damage: ‸lose",
        "unknown",
        "lose is not a kind of damage; did you mean loose?",
    ),
    "damage without a kind": (
        "    damage: loose\n",
        "",
        "missing",
        "a damage needs its kind; damage: one of loose, broken",
    ),
    "unknown key": ("    says: no", "    ‸say: no", "unknown-key", "say is not known here; did you mean says?"),
    "unknown key at the top": (
        "owner: Mrs Quill",
        "‸ownr: Mrs Quill",
        "unknown-key",
        "ownr is not known here; did you mean owner?",
    ),
    "unknown key of the piece": (
        "  called: the",
        "  ‸caled: the",
        "unknown-key",
        "caled is not known here; did you mean called?",
    ),
    "unknown key of an answer": (
        "unsure: yes",
        "‸unsur: yes",
        "unknown-key",
        "unsur is not known here; did you mean unsure?",
    ),
    "unknown speaker": (
        "by: owner, unsure",
        "by: ‸ownr, unsure",
        "unknown",
        "ownr is not who can say so; did you mean owner?",
    ),
    "neither sure nor unsure": ("unsure: yes", "unsure: ‸yess", "unknown", "yess is not yes or no; did you mean yes?"),
    "unknown finder": ("    says: no", "    found_by: ‸uss", "unknown", "uss is not who found it; did you mean us?"),
    "unknown stated fact": ("facts: {joint: dowel}", "facts: {‸joints: dowel}", "unknown-key", "did you mean joint?"),
    "unknown value of a fact": (
        "facts: {joint: dowel}",
        "facts: {joint: ‸dowels}",
        "unknown",
        "dowels is not a value of joint; did you mean dowel?",
    ),
    "figure out of range": ("0.4 mm", "‸7 mm", "out-of-range", "7 mm is outside 0 to 6 mm"),
    "figure far out of range": ("0.4 mm", "‸3 ft", "out-of-range", "914.4 mm is outside 0 to 6 mm"),
    "figure without a unit": ("0.4 mm", "‸0.4", "out-of-range", "'0.4' has no unit; write a length like 12 mm"),
    "figure with another unit": ("0.4 mm", "‸0.4 kg", "out-of-range", "'kg' is no unit of length"),
    "negative figure": ("0.4 mm", "‸-0.4 mm", "out-of-range", "is negative"),
    "figure that is none": (
        "0.4 mm",
        "‸nan mm",
        "unknown-reading",
        "nan mm is not a reading of joint_gap; one of: loose, slack, snug",
    ),
    "size without a unit": ("1 1/4 in", "‸1 1/4", "quantity", "has no unit"),
    "size that says nothing": ("1 1/4 in", "‸''", "quantity", "is not a quantity"),
    "unknown size": (
        "{tenon_length: 1",
        "{‸tenon_lenght: 1",
        "unknown-key",
        "tenon_lenght is not known here; did you mean tenon_length?",
    ),
    "size of nothing": ("1 1/4 in", "‸0 mm", "out-of-range", "tenon_length 0 mm is outside 0 to 4000 mm"),
    "size of a house": ("1 1/4 in", "‸40 ft", "out-of-range", "tenon_length 12192 mm is outside 0 to 4000 mm"),
    "value 0": ("value: 450", "value: ‸0", "out-of-range", "value 0 must be above 0"),
    "negative value": ("value: 450", "value: ‸-20", "out-of-range", "value -20 must be above 0"),
    "value beyond belief": ("value: 450", "value: ‸1e12", "out-of-range", "must be above 0 and below 1,000,000,000"),
    "value that is none": ("value: 450", "value: ‸nan", "out-of-range", "value nan must be above 0"),
    "value in words": ("value: 450", "value: ‸450 EUR", "form", "'450 EUR' is not a number"),
    "date that is none": (
        "taken_in: 2026-03-02",
        "taken_in: ‸2026-02-30",
        "form",
        "'2026-02-30' is not a date; write it as 2026-03-02",
    ),
    "date of another country": ("taken_in: 2026-03-02", "taken_in: ‸2.3.2026", "form", "'2.3.2026' is not a date"),
    "newer schema": (
        "schema: 1",
        "schema: ‸2",
        "schema",
        "the case has schema 2, this program reads 1; bring the program up to date",
    ),
    "older schema": (
        "schema: 1",
        "schema: ‸0",
        "schema",
        "the case has schema 0, this program reads 1; this program writes schema 1",
    ),
    "schema in a raised figure": ("schema: 1", "schema: ‸²", "schema", "the case has schema ², this program reads 1"),
    "sign of the piece under a damage": (
        "      break_path: along_glue_line",
        "      ‸used_how: none",
        "misplaced",
        "used_how is a sign of the piece; it stands under readings of the piece",
    ),
    "sign of a damage under the piece": (
        "  used_how: none",
        "  ‸break_path: along_glue_line",
        "misplaced",
        "break_path is a sign of the damage",
    ),
    "computed sign answered": (
        "  used_how: none",
        "  ‸moving_joints: two",
        "computed",
        "moving_joints is worked out, not answered; leave it out",
    ),
    "computed sign of a damage": (
        "      break_path: along_glue_line",
        "      ‸strength_left: near",
        "computed",
        "strength_left is worked out",
    ),
    "two readings of a sign that has one": (
        "break_path: along_glue_line",
        "break_path: ‸[along_glue_line]",
        "form",
        "break_path needs one reading; one of:",
    ),
    "sign without a reading": (
        "break_path: along_glue_line",
        "break_path:‸",
        "form",
        "break_path needs one reading; one of:",
    ),
    "list left empty by accident": (
        "glue_face_state: [FACE]",
        "glue_face_state:‸",
        "form",
        "glue_face_state needs its readings, or none; one of:",
    ),
    "list of answers without reads": (
        "  used_how: none",
        "  used_how: ‸{by: owner}",
        "form",
        "used_how needs its readings, or none",
    ),
    "mapping in a list of readings": (
        "glue_face_state: [FACE]",
        "glue_face_state: [‸{FACE: yes}]",
        "unknown-reading",
        "is not a reading of glue_face_state",
    ),
    "list in a list of readings": (
        "glue_face_state: [FACE]",
        "glue_face_state: [‸[FACE]]",
        "unknown-reading",
        "is not a reading of glue_face_state",
    ),
    "list for a text": ("owner: Mrs Quill", "owner: ‸[Mrs, Quill]", "form", "owner needs a text"),
    "mapping for a text": ("part: side_rail", "part: ‸{side: rail}", "form", "part needs a text"),
    "text for a mapping": ("facts: {joint: dowel}", "facts: ‸dowel", "form", "facts is a mapping of names and values"),
    "list for a mapping": ("{tenon_length: 1 1/4 in}", "‸[1 1/4 in]", "form", "sizes is a mapping of names and values"),
    "duplicate key": (
        "    damage: loose",
        "    damage: loose\n    ‸damage: loose",
        "duplicate-key",
        "damage is given twice here",
    ),
    "comment trap": (
        "when my uncle leaned back.",
        "when my uncle ‸# leaned back.",
        "comment-in-prose",
        "everything after # is lost",
    ),
    "colon in what the owner says": (
        "It let go when",
        "It let go‸: when",
        "yaml",
        "a text that holds a colon needs quotes round it",
    ),
}
NO_MARK = {"no piece": "7:3", "damage without a kind": "19:5"}


@pytest.mark.parametrize("name", BAD)
def test_one_fault_at_its_place_with_the_nearest_valid_name(name: str) -> None:
    old, new, code, says = BAD[name]
    face = next(iter(KNOWLEDGE.signs["glue_face_state"].readings))
    old, new = old.replace("FACE", face), new.replace("FACE", face)
    text = good()
    assert text.count(old) == 1
    text = text.replace(old, new)
    before = text.split(HERE)[0]
    place = NO_MARK.get(name) or f"{before.count(chr(10)) + 1}:{len(before) - before.rfind(chr(10))}"
    (fault,) = faults_in(text.replace(HERE, ""))
    assert f"{fault.mark.line}:{fault.mark.column} {fault.code}" == f"{place} {code}"
    assert says in str(fault)


def test_duplicate_ids_of_damages() -> None:
    text = good() + "  - id: rail\n    damage: split\n"
    (fault,) = faults_in(text)
    assert (fault.code, fault.mark.line, fault.mark.column) == ("duplicate", 30, 5)
    assert fault.message == "two damages are called rail"
    without = "piece: {kind: stool}\ndamages:\n  - damage: loose\n  - damage: split\n"
    assert [damage.id for damage in case_from_text(without, "case.yaml", KNOWLEDGE).damages] == ["damage_1", "damage_2"]
    (fault,) = faults_in(without.replace("- damage: loose", "- id: damage_2\n    damage: loose"))
    assert fault.message == "two damages are called damage_2"


def test_damages_that_are_no_list_or_no_mappings() -> None:
    (fault,) = faults_in("piece: {kind: stool}\ndamages:\n  rail: loose\n")
    assert (fault.code, fault.mark.line, fault.hint) == ("form", 3, "start each with - id")
    codes = [fault.code for fault in faults_in("piece: {kind: stool}\ndamages: [loose]\n")]
    assert codes == ["form", "missing"]


def test_all_faults_come_at_once_in_order() -> None:
    text = good()
    wanted = ("unknown sign", "unknown part", "unknown wood", "date that is none", "value 0", "figure out of range")
    for name in wanted:
        old, new, _, _ = BAD[name]
        text = text.replace(old, new.replace(HERE, ""))
    found = faults_in(text)
    assert len(found) == len(wanted)
    assert list(found) == sorted(found)
    assert [fault.mark.line for fault in found] == [3, 9, 10, 21, 27, 28]


def test_a_case_that_is_no_mapping_or_not_there_at_all() -> None:
    assert {fault.code for fault in faults_in("- a\n- b\n")} == {"form", "unknown-piece"}
    assert [fault.code for fault in faults_in("just a text\n")] == ["form", "unknown-piece"]
    assert [fault.code for fault in faults_in("")] == ["empty"]


OTHER_THINGS: list[Any] = [
    "", "none", "cannot_tell", "²", "-1", "1e400", "0", [], {}, [[]], [{}], {"": ""}, {"reads": {}}, {"reads": []},
    {"reads": [{"a": "b"}]}, {"by": []}, ["a", ["b"]], {"all": []}, {"all": {}},
]  # fmt: skip


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.data())
def test_no_mangled_case_ever_ends_in_anything_but_faults(data: st.DataObject) -> None:
    """One value anywhere in a good case becomes another thing: it is read, or it is refused with a place."""
    document: Any = yaml.load(good(), Loader=yaml.BaseLoader)
    paths = list(every_path(document))
    path = data.draw(st.sampled_from(paths))
    other = data.draw(st.sampled_from(OTHER_THINGS))
    holder = document
    for step in path[:-1]:
        holder = holder[step]
    holder[path[-1]] = other
    text = yaml.safe_dump(document)
    refused: tuple[Fault, ...] = ()
    try:
        case = case_from_text(text, "case.yaml", KNOWLEDGE)
    except FaultsFound as found:
        refused = found.faults
    if refused:
        assert all(1 <= fault.mark.line <= text.count("\n") + 1 for fault in refused)
    else:
        assert case_from_text(case_text(case, KNOWLEDGE), "case.yaml", KNOWLEDGE) == case


def every_path(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    items: Any = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, item in items:
        yield (*path, key)
        yield from every_path(item, (*path, key))


def test_a_missing_file_a_folder_and_a_file_of_no_text(tmp_path: Path) -> None:
    (tmp_path / "bytes.yaml").write_bytes(b"owner: \xff\n")
    (tmp_path / "loop.yaml").symlink_to(tmp_path / "loop.yaml")
    for name, code, says in (
        ("missing.yaml", "unreadable", "cannot be read: no such file or directory"),
        ("", "unreadable", "cannot be read: is a directory"),
        ("bytes.yaml", "not-text", "the file is not UTF-8 text"),
        ("loop.yaml", "unreadable", "cannot be read: too many levels of symbolic links"),
    ):
        path = tmp_path / name
        with pytest.raises(FaultsFound) as found:
            read_case(path, KNOWLEDGE)
        assert [str(fault) for fault in found.value.faults] == [f"{path}:1:1 {code} {says}"]


def test_a_case_from_another_editor(tmp_path: Path) -> None:
    path = tmp_path / "case.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + good().replace("\n", "\r\n").encode("utf-8"))
    assert read_case(path, KNOWLEDGE) == case_from_text(good(), "case.yaml", KNOWLEDGE)


# Writing.


def test_a_file_is_written_whole(tmp_path: Path) -> None:
    path = tmp_path / "case.yaml"
    write_whole(path, "one\n")
    assert path.read_text(encoding="utf-8") == "one\n"
    assert stat.S_IMODE(path.stat().st_mode) == 0o644
    path.chmod(0o600)
    write_whole(path, "zwei: ß\n")
    assert path.read_bytes() == "zwei: ß\n".encode()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert list(tmp_path.iterdir()) == [path]


def test_a_file_in_the_folder_one_stands_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    write_whole(Path("case.yaml"), "one\n")
    assert (tmp_path / "case.yaml").read_text(encoding="utf-8") == "one\n"


def full(*args: object) -> None:
    raise OSError(28, "No space left on device")


def stopped(*args: object) -> None:
    raise KeyboardInterrupt


@pytest.mark.parametrize("target", ["fsync", "replace", "chmod"])
@pytest.mark.parametrize(("fails", "raised"), [(full, OSError), (stopped, KeyboardInterrupt)])
@pytest.mark.parametrize("existed", [True, False])
def test_when_writing_fails_the_old_file_is_untouched_and_no_part_is_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, target: str, fails: Any, raised: type[BaseException], existed: bool
) -> None:
    path = tmp_path / "case.yaml"
    if existed:
        path.write_text("old: yes\n", encoding="utf-8")
    monkeypatch.setattr(os if target == "fsync" else Path, target, fails)
    case = Case(piece="stool", owner="somebody new")
    with pytest.raises(raised):
        write_case(path, case, KNOWLEDGE)
    monkeypatch.undo()
    assert [other.name for other in tmp_path.iterdir()] == (["case.yaml"] if existed else [])
    assert not existed or path.read_text(encoding="utf-8") == "old: yes\n"


def test_a_text_that_cannot_be_encoded_leaves_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "case.yaml"
    path.write_text("old: yes\n", encoding="utf-8")
    with pytest.raises(UnicodeEncodeError):
        write_whole(path, "new: \ud800\n")
    assert path.read_text(encoding="utf-8") == "old: yes\n"
    assert list(tmp_path.iterdir()) == [path]


def test_a_folder_that_is_not_there_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        write_whole(tmp_path / "nowhere" / "case.yaml", "x\n")


# Stories told as cases.


def told(**given: Any) -> Case:
    return case_of(Story(name="a story", given=given), KNOWLEDGE)


def test_a_story_is_a_case() -> None:
    case = told(piece="chair", damage="loose", part="side_rail", joint="dowel", value="200", used_how="none",
                joints={"left_side_rail_to_back_leg": "moves", "all": "tight"}, joint_gap="0.4 mm",
                break_path={"reads": "along_glue_line", "by": "owner", "unsure": "yes"})  # fmt: skip
    (damage,) = case.damages
    assert (case.piece, case.value, damage.part, damage.facts) == ("side_chair", 200.0, "side_rail", {"joint": "dowel"})
    assert case.joints["left_side_rail_to_back_leg"] == "moves"
    assert list(case.joints.values()).count("tight") == len(case.joints) - 1
    assert case.readings == {"used_how": Answer(())}
    assert damage.readings["joint_gap"] == Answer(("loose",), measured="0.4 mm")
    assert damage.readings["break_path"] == Answer(("along_glue_line",), by="owner", unsure=True)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"piece": "coach"}, "coach is not a piece"),
        ({"part": "wheel"}, "there is no chair with a part wheel"),
        ({"part": ["leg"]}, "is not one part"),
        ({"damage": "lose"}, "lose is not a kind of damage"),
        ({"damage": ["loose"]}, "is not a kind of damage"),
        ({"brake_path": "x"}, "brake_path is neither a fact of a case nor a sign"),
        ({"moving_joints": "four"}, "four is not a value of moving_joints"),
        ({"joint": ["dowel", "screwed"]}, "is not a value of joint"),
        ({"break_path": "along"}, "along is not a reading of break_path"),
        ({"break_path": ["along_glue_line"]}, "break_path takes one reading"),
        ({"used_how": ["flying"]}, "flying is not a reading of used_how"),
        ({"used_how": [["flying"]]}, "is not a reading of used_how"),
        ({"used_how": None}, "used_how needs its readings, or none"),
        ({"break_path": {"reads": "along_glue_line", "by": "nobody"}}, "nobody is nobody who could say break_path"),
        ({"joint_gap": "0.4"}, "has no unit"),
        ({"joint_gap": "9 mm"}, "outside 0 to 6 mm"),
        ({"wood": "chocolate"}, "chocolate is neither a wood of the rule base nor a group of woods"),
        ({"value": "much"}, "much is no value of a piece"),
        ({"value": "nan"}, "nan is no value of a piece"),
        ({"value": ["1"]}, "is no value of a piece"),
        ({"joints": "tight"}, "joints is a mapping of joints and states"),
        ({"joints": {"all": "tihgt"}}, "all: tihgt is not a joint of this piece and a state"),
        ({"joints": {"nose": "tight"}}, "nose: tight is not a joint of this piece and a state"),
    ],
)
def test_a_story_that_no_case_could_hold(given: dict[str, Any], says: str) -> None:
    with pytest.raises(StoryError) as error:
        told(**{"piece": "chair", "damage": "loose", **given})
    assert says in str(error.value)
