"""Writing case files: what is written is read back the same, and no file is ever half written."""

import os
import stat
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
from diagnose.case.fields import LARGEST_MM
from diagnose.case.naming import parse_reading
from diagnose.case.read import STATED, case_from_text, read_case
from diagnose.case.told import case_of
from diagnose.case.write import case_text, sweep_parts, write_case, write_whole
from diagnose.rulebase import located
from diagnose.rulebase.entries import Piece, Sign
from diagnose.rulebase.store import load_knowledge

KNOWLEDGE = load_knowledge()

LIMITS = {**dict.fromkeys(words.PART_SIZES, (1e-9, LARGEST_MM)), **words.JOINT_SIZES}
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
        sizes={name: draw(st.floats(*LIMITS[name])) for name in draw(st.sets(st.sampled_from(sorted(LIMITS)), max_size=2))},
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
    damage = Damage(id="a", kind="loose", sizes={words.PART_SIZES[0]: min(number, LARGEST_MM)})
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


def test_only_what_a_power_cut_left_of_this_file_is_swept_away(tmp_path: Path) -> None:
    path = tmp_path / "a[1].yaml"
    left, at_work, of_another = (tmp_path / f".{name}.part" for name in ("a[1].yaml.x1", "a[1].yaml.x2", "a1.yaml.x3"))
    for part, age in ((left, 3600), (at_work, 5), (of_another, 3600), (path, 3600)):
        part.write_text("schema: 1\n", encoding="utf-8")
        os.utime(part, (1e9 - age, 1e9 - age))
    sweep_parts(path, 1e9)
    assert sorted(tmp_path.iterdir()) == sorted([at_work, of_another, path])
    sweep_parts(tmp_path / "nowhere" / "a.yaml", 1e9)


def test_a_folder_that_is_not_there_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        write_whole(tmp_path / "nowhere" / "case.yaml", "x\n")
