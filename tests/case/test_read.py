"""Reading case files: what is wrong is named at its place, with the nearest right thing, and never ends in a traceback."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.case.case import Answer
from diagnose.case.read import case_from_text, read_case
from diagnose.case.write import case_text
from diagnose.rulebase.fault import Fault, FaultsFound
from diagnose.rulebase.store import load_knowledge

KNOWLEDGE = load_knowledge()
HERE = "‸"

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
    "a wood that several share": (
        "wood: black_cherry",
        "wood: ‸oak",
        "unknown",
        "oak is not a wood of the rule base; one of: red_oak, southern_red_oak, white_oak",
    ),
    "a group of pieces": (
        "kind: dining chair",
        "kind: ‸chair",
        "unknown-piece",
        "chair is not a kind of piece; one of: side_chair, armchair, stick_chair",
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
    "size of nothing": ("1 1/4 in", "‸0 mm", "out-of-range", "tenon_length 0 mm is outside 5 to 150 mm"),
    "size of a house": ("1 1/4 in", "‸40 ft", "out-of-range", "tenon_length 12192 mm is outside 5 to 150 mm"),
    "value 0": ("value: 450", "value: ‸0", "out-of-range", "value 0 must be above 0"),
    "negative value": ("value: 450", "value: ‸-20", "out-of-range", "value -20 must be above 0"),
    "value beyond belief": ("value: 450", "value: ‸1e12", "out-of-range", "must be above 0 and below 1,000,000,000"),
    "value that is none": ("value: 450", "value: ‸nan", "out-of-range", "value nan must be above 0"),
    "value in words": (
        "value: 450",
        "value: ‸450 EUR",
        "form",
        "'450 EUR' is not a number; write the figure alone, as 1250 or 12.50",
    ),
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


def test_a_wood_may_be_called_by_its_name() -> None:
    named = good().replace("wood: black_cherry", "wood: Black Cherry")
    assert case_from_text(named, "case.yaml", KNOWLEDGE).wood == "black_cherry"


def test_a_repair_in_the_future_is_a_fault_where_the_day_is_known() -> None:
    text = "piece: {kind: stool}\ndamages:\n  - damage: loose\n    repaired: 2029-05-01\n"
    assert case_from_text(text, "case.yaml", KNOWLEDGE).damages[0].repaired == date(2029, 5, 1)
    today = date(2026, 3, 2)
    with pytest.raises(FaultsFound) as found:
        case_from_text(f"taken_in: 2026-03-02\n{text}", "case.yaml", KNOWLEDGE, today)
    assert [str(fault) for fault in found.value.faults] == [
        "case.yaml:5:15 order-of-days the repair of 2029-05-01 lies in the future: today is 2026-03-02; "
        "give the day on which it was done"
    ]
    earlier = text.replace("2029", "2024")
    assert case_from_text(earlier, "case.yaml", KNOWLEDGE, today).damages[0].repaired == date(2024, 5, 1)
    (fault,) = faults_in(f"taken_in: 2026-03-02\n{text}")
    assert fault.message == "the repair of 2029-05-01 lies after the day it was taken in, 2026-03-02"


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
    (fault,) = faults_in("piece: {kind: stool}\ndamages: [loose]\n")
    assert fault.message == "number 1 of damages is a mapping of names and values"
    assert fault.hint.startswith("names that may stand in it: id, damage, part")


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
    for text in ("- a\n- b\n", "just a text\n"):
        (fault,) = faults_in(text)
        assert (fault.code, fault.message) == ("form", "the case is a mapping of names and values")
    (fault,) = faults_in("piece: side_chair\n")
    assert (fault.mark.column, fault.message) == (8, "piece is a mapping of names and values")
    assert fault.hint.startswith("names that may stand in it: kind")
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
        (
            "bytes.yaml",
            "not-text",
            "the file is not UTF-8 text; a case is a text file; it may be a picture or a document of another program",
        ),
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
