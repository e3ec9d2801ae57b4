"""Every command as somebody types it: help, exit codes, what comes out, and one plain line for whatever is wrong."""

import json
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from diagnose.cli.app import app
from diagnose.proof.counted import COUNTED_KINDS
from diagnose.rulebase.knowledge import Knowledge
from diagnose.words import ExitCode
from tests.cli.running import EXAMPLES, PROGRAM, Program
from tests.rulebase.editor import underlined

CASE = EXAMPLES / "broken_back_leg.yaml"
OTHER_CASE = EXAMPLES / "rocking_table.yaml"
DAY = ("--today", "2026-03-02")
ESCAPE = "\x1b"


def commands(group: typer.Typer, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Every command and group of commands, as typed."""
    for command in group.registered_commands:
        assert command.callback is not None
        yield (*path, command.name or command.callback.__name__.replace("_", "-"))
    for inner in group.registered_groups:
        assert inner.name is not None
        assert inner.typer_instance is not None
        yield (*path, inner.name)
        yield from commands(inner.typer_instance, (*path, inner.name))


ALL = [(), *commands(app)]


def wrong(ran_code: int, out: str, err: str) -> str:
    """The one line that wrong use gets."""
    assert ran_code == ExitCode.WRONG_USE
    assert out == ""
    (line,) = err.splitlines()
    assert "Traceback" not in line
    return line


@pytest.mark.parametrize("path", ALL, ids=" ".join)
def test_every_command_has_help(path: tuple[str, ...]) -> None:
    ran = CliRunner().invoke(app, [*path, "--help"])
    assert ran.exit_code == ExitCode.DONE
    assert ran.output.lstrip().startswith("Usage:")
    assert ESCAPE not in ran.output
    _, _, said = ran.output.partition("\n\n")
    assert len(said.split("\n")[0].strip()) > 10, "a sentence on what it does"
    if path[:1] == ("calc",):
        return  # The sums name what they take by its unit; they have tests of their own.
    undocumented = [line for line in ran.output.splitlines() if re.fullmatch(r"\s+(-\w, )?--[\w-]+( [A-Z]+)?\s*", line)]
    assert undocumented == []


def test_the_commands_of_the_readme_are_all_there() -> None:
    wanted: set[tuple[str, ...]] = {("intake",), ("assess",), ("plan",), ("letter",), ("calc",)}
    wanted |= {("rules", name) for name in ("check", "list", "show", "schema")}
    assert wanted <= set(ALL)


def test_version(program: Program) -> None:
    ran = program("--version")
    assert ran.code == ExitCode.DONE
    assert re.fullmatch(r"\d+\.\d+\.\d+\n", ran.out)


def test_nothing_typed_shows_what_there_is(program: Program) -> None:
    ran = program()
    assert ran.code == ExitCode.WRONG_USE
    assert ran.err.startswith("Usage:")
    assert ran.out == ""


def test_assess_as_text(program: Program) -> None:
    ran = program("assess", CASE, *DAY)
    assert (ran.code, ran.err) == (ExitCode.DONE, "")
    assert ran.out.startswith("# Diagnosis R-0121")
    for heading in ("### Why it failed", "### What is advised", "### Still worth looking at", "## Price of the whole"):
        assert heading in ran.out
    assert "rule `" not in ran.out


def test_assess_explained(program: Program, knowledge: Knowledge) -> None:
    ran = program("assess", CASE, "--explain", *DAY)
    assert ran.code == ExitCode.DONE
    rules = re.findall(r"rule: [^(]+ \(`(\w+)`\)", ran.out)
    assert rules
    assert set(rules) <= set(knowledge.logic)
    assert "likeliest explanations" in ran.out
    assert any(source.title in ran.out for source in knowledge.sources.values())


def test_assess_as_data(program: Program) -> None:
    ran = program("assess", CASE, "--json", *DAY)
    assert (ran.code, ran.err) == (ExitCode.DONE, "")
    data = json.loads(ran.out)
    assert data["number"] == "R-0121"
    assert data["today"] == "2026-03-02"
    assert program("assess", CASE, "--json", *DAY).out == ran.out


@pytest.mark.parametrize("place", ["photos", "counter", "bench"])
def test_the_place_says_what_may_still_be_looked_at(program: Program, knowledge: Knowledge, place: str) -> None:
    from diagnose.words import PLACES

    data = json.loads(program("assess", CASE, "--json", "--at", place, *DAY).out)
    signs = [question["sign"] for damage in data["damages"] for question in damage["next_signs"]]
    assert signs
    assert {knowledge.signs[name].effort for name in signs} <= PLACES[place]


@pytest.mark.parametrize("command", ["plan", "letter", "assess"])
def test_documents_go_to_the_screen_or_to_a_file(program: Program, tmp_path: Path, command: str) -> None:
    shown = program(command, CASE, *DAY)
    assert (shown.code, shown.err) == (ExitCode.DONE, "")
    written = tmp_path / "paper.md"
    ran = program(command, CASE, "-o", written, *DAY)
    assert (ran.code, ran.out, ran.err) == (ExitCode.DONE, "", f"written: {written}\n")
    assert written.read_text(encoding="utf-8") == shown.out
    page = tmp_path / "paper.html"
    assert program(command, CASE, "--output", page, *DAY).code == ExitCode.DONE
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["paper.html", "paper.md"]


def test_the_shop_is_on_the_letter(program: Program) -> None:
    ran = program("letter", CASE, "--shop", EXAMPLES / "shop.yaml", *DAY)
    name = re.search(r"^name: (.*)$", (EXAMPLES / "shop.yaml").read_text(encoding="utf-8"), re.MULTILINE)
    assert name
    assert name[1] in ran.out


def test_rules_check_says_nothing_is_wrong(program: Program) -> None:
    ran = program("rules", "check")
    assert (ran.code, ran.out) == (ExitCode.DONE, "")
    assert re.search(r"\d+ entries, \d+ stories: 0 errors", ran.err)
    assert json.loads(program("rules", "check", "--format", "json").out) == []
    assert json.loads(program("rules", "check", "--format", "sarif").out)["version"] == "2.1.0"


def test_rules_check_says_no_with_every_fault_at_its_place(program: Program, tmp_path: Path) -> None:
    rules = tmp_path / "rules"
    (rules / "signs").mkdir(parents=True)
    (rules / "signs" / "a.yaml").write_text("signs:\n  - id: one\n    knd: choose_one\n", encoding="utf-8")
    ran = program("rules", "check", rules)
    assert ran.code == ExitCode.NO
    assert re.search(r"rules/signs/a\.yaml:3:5 \S+ .*knd.*did you mean kind\?", ran.out)
    assert all(re.match(r"\S+:\d+:\d+ [\w-]+ ", line) for line in ran.out.splitlines())
    listed = json.loads(program("rules", "check", rules, "--format", "json").out)
    assert len(listed) == len(ran.out.splitlines())
    for command in (("assess", CASE), ("rules", "list")):
        again = program(*command, "--rules", rules)
        assert again.code == ExitCode.WRONG_USE
        assert again.out == ""
        assert "a.yaml:3:5" in again.err


def test_rules_list(program: Program, knowledge: Knowledge) -> None:
    counted = {name: int(n) for n, name in map(str.split, program("rules", "list").out.splitlines())}
    assert counted["signs"] == len(knowledge.signs)
    assert counted["causes"] == len(knowledge.causes)
    for kind, count in counted.items():
        ran = program("rules", "list", kind)
        assert ran.code == ExitCode.DONE
        assert len(ran.out.splitlines()) == count
        assert all(len(line.split(maxsplit=1)) == 2 for line in ran.out.splitlines()), kind


def test_rules_show_shows_what_is_written_and_where(program: Program, knowledge: Knowledge) -> None:
    for entry_id in [next(iter(knowledge.signs)), list(knowledge.causes)[-1], list(knowledge.logic)[3]]:
        ran = program("rules", "show", entry_id)
        assert ran.code == ExitCode.DONE
        head, first, *_ = ran.out.splitlines()
        place = re.fullmatch(r"# (rules/\S+\.yaml):(\d+):(\d+) \((\w+)\)", head)
        assert place, head
        assert first.strip(" -") == f"id: {entry_id}"
        lines = (EXAMPLES.parent.parent / place[1]).read_text(encoding="utf-8").splitlines()
        assert lines[int(place[2]) - 1] == first
        assert ran.out.count(" id: ") == 1


def test_rules_schema_prints_the_form_of_rules_cases_and_shops(program: Program, knowledge: Knowledge) -> None:
    printed = {kind: json.loads(program("rules", "schema", *kind.split()).out) for kind in ("", "causes", "case", "shop")}
    assert all(form["$schema"].endswith("2020-12/schema") and knowledge.version in form["$comment"] for form in printed.values())
    assert set(printed[""]["properties"]) >= {*COUNTED_KINDS, "materials", "scale", "stories"}
    assert printed["causes"]["$ref"] == "#/$defs/Cause"
    case, shop = ((EXAMPLES / name).read_text(encoding="utf-8") for name in ("slack_chair.yaml", "shop.yaml"))
    for text, fits in ((case, "case"), (shop, "shop")):
        assert {kind for kind, form in printed.items() if not underlined(form, text)} == {fits}
    assert underlined(printed["shop"], shop.replace("rate_per_hour: 58", "rate_per_hour: much"))


def test_rules_schema_of_a_broken_rule_base_names_its_faults(program: Program, tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("sources:\n  - id: one\n", encoding="utf-8")
    ran = program("rules", "schema", "--rules", tmp_path)
    assert (ran.code, ran.out) == (ExitCode.WRONG_USE, "")
    assert "a.yaml:2:5 form title is missing" in ran.err


# What is in the case file → line and column of the fault, and what it says, the nearest right thing included.
BAD_CASES = {
    "unknown sign": ("readings: {live_pest: none_seen}", "3:12", "did you mean live_pests?"),
    "unknown reading": ("readings: {live_pests: none_sen}", "3:24", "did you mean none_seen?"),
    "computed sign": ("readings: {moving_joints: one}", "3:12", "leave it out"),
    "sign of the damage": ("readings: {grain_slope: straight}", "3:12", "readings of the damage"),
    "unknown joint": ("joints: {left_side_rail_to_back_lag: tight}", "3:10", "did you mean left_side_rail_to_back_leg?"),
    "unknown state": ("joints: {all: tihgt}", "3:15", "did you mean tight?"),
    "unknown key": ("redings: {}", "3:1", "did you mean readings?"),
    "unknown damage": ("damages: [{damage: lose}]", "3:20", "did you mean loose?"),
    "unknown part": ("damages: [{damage: loose, part: bak_leg}]", "3:33", "did you mean back_leg?"),
    "number out of range": (
        "damages: [{damage: loose, readings: {joint_gap: 70 mm}}]",
        "3:49",
        "70 mm is outside 0 to 6 mm",
    ),
    "number without its unit": ("damages: [{damage: loose, readings: {joint_gap: 0.7}}]", "3:49", "has no unit"),
    "unknown unit": ("damages: [{damage: loose, readings: {joint_gap: 3 furlong}}]", "3:49", "furlong"),
    "value below nothing": ("readings: {}\nnumber: x\ntaken_in: 2026-13-01", "5:11", "write it as 2026-03-02"),
    "alias": ("owner: *him", "3:8", "an alias"),
    "twice": ("owner: a\nowner: b", "4:1", "twice"),
}


@pytest.mark.parametrize("name", BAD_CASES)
def test_a_bad_case_gets_one_line_with_its_place(program: Program, tmp_path: Path, name: str) -> None:
    text, place, says = BAD_CASES[name]
    path = tmp_path / "case.yaml"
    path.write_text(f"schema: 1\npiece: {{kind: side_chair}}\n{text}\n", encoding="utf-8")
    before = path.read_bytes()
    for command in (("assess", path), ("letter", path, "-o", tmp_path / "letter.md"), ("intake", path, "--answers", path)):
        ran = program(*command)
        line = wrong(ran.code, ran.out, ran.err)
        assert line.startswith(f"{path}:{place} ")
        assert says in line
    assert [file.name for file in tmp_path.iterdir()] == ["case.yaml"]
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    ("content", "place", "says"),
    [
        ("schema: 2\npiece: {kind: side_chair}\n", "1:9", "bring the program up to date"),
        ("schema: 1\npiece: {kind: side_chiar}\n", "2:15", "did you mean side_chair?"),
        ("schema: 1\n", "1:1", "does not say what piece it is"),
        ("schema: 1\npiece: {kind: table, value: -5}\n", "2:29", "above 0"),
        ("schema: 1\npiece: {kind: table, value: lots}\n", "2:29", "not a number"),
        ("", "1:1", "the file is empty"),
        ("\x00\x01", "1:1", ""),
        ("- 1\n", "1:1", "the case is a mapping"),
        ("schema: 1\nowner: [a\n", "", "not YAML"),
        ("a: " + "[" * 500 + "]" * 500, "1:", ""),
    ],
)
def test_a_case_that_cannot_be_read_at_all(program: Program, tmp_path: Path, content: str, place: str, says: str) -> None:
    path = tmp_path / "case.yaml"
    path.write_text(content, encoding="utf-8")
    ran = program("assess", path)
    assert (ran.code, ran.out) == (ExitCode.WRONG_USE, "")
    lines = ran.err.splitlines()
    assert lines[0].startswith(f"{path}:{place}")
    assert says in lines[0]
    assert all(re.match(rf"{re.escape(str(path))}:\d+:\d+ [\w-]+ ", line) for line in lines)


def test_all_faults_of_a_case_come_at_once(program: Program, tmp_path: Path) -> None:
    path = tmp_path / "case.yaml"
    path.write_text("schema: 1\npiece: {kind: table}\nredings: {}\njoints: {all: x}\nowner: {a: b}\n", encoding="utf-8")
    ran = program("assess", path)
    assert ran.code == ExitCode.WRONG_USE
    assert [line.split()[0] for line in ran.err.splitlines()] == [f"{path}:3:1", f"{path}:4:15", f"{path}:5:8"]


# What is typed → what the line says.
BAD_USE = {
    "missing file": (["assess", "{tmp}/none.yaml"], "none.yaml:1:1 unreadable cannot be read: no such file"),
    "folder": (["assess", "{tmp}"], "unreadable cannot be read: is a directory"),
    "unknown command": (["asses", "{case}"], "No such command 'asses'"),
    "unknown command of rules": (["rules", "chek"], "No such command 'chek'"),
    "unknown option": (["assess", "{case}", "--josn"], "--josn"),
    "nothing to assess": (["assess"], "Missing argument"),
    "bad day": (["assess", "{case}", "--today", "tomorrow"], "--today tomorrow: not a date; write it as 2026-03-02"),
    "no such day": (["plan", "{case}", "--today", "2026-02-30"], "--today 2026-02-30: not a date"),
    "unknown place": (["assess", "{case}", "--at", "shed"], "--at shed: choose one of photos, counter, bench"),
    "unknown place of intake": (["intake", "{case}", "--at", "shed"], "--at shed: choose one of photos, counter, bench"),
    "unknown form": (
        ["letter", "{case}", "--form", "estimat"],
        "--form estimat: choose one of until_you_bring_it, receipt, estimate",
    ),
    "earlier sheet with another form": (
        ["letter", "{case}", "--form", "receipt", "--since", "{case}"],
        "--since goes with the estimate, not with --form receipt",
    ),
    "earlier sheet of another piece": (["letter", "{case}", "--since", str(OTHER_CASE)], "is another piece than R-0121"),
    "no earlier sheet": (["letter", "{case}", "--since", "{tmp}/none.yaml"], "none.yaml:1:1 unreadable"),
    "unknown format": (["rules", "check", "--format", "xml"], "--format xml: choose text, json or sarif"),
    "no rules folder": (["assess", "{case}", "--rules", "{tmp}/none"], "none:1:1 missing-folder"),
    "no shop": (["assess", "{case}", "--shop", "{tmp}/none.yaml"], "none.yaml: no such file or directory"),
    "shop is a folder": (["assess", "{case}", "--shop", "{tmp}"], ": is a directory"),
    "unknown entry": (["rules", "show", "live_pest"], "live_pest is no entry; did you mean live_pests?"),
    "unknown kind": (["rules", "list", "sign"], "sign is not a kind: signs, causes"),
    "unknown form of a file": (["rules", "schema", "cases"], "cases is not a kind: case, shop, signs, causes"),
    "no folder for the plan": (["plan", "{case}", "-o", "{tmp}/none/plan.md"], "/none/plan.md: no such file or directory"),
    "plan is a folder": (["plan", "{case}", "-o", "{tmp}/folder.md"], "/folder.md: is a directory"),
    "letter as something else": (["letter", "{case}", "-o", "{tmp}/a.pdf"], "a.pdf: the output is .md or .html"),
    "no folder for the case": (
        ["intake", "{tmp}/none/a.yaml", "--answers", "{case}"],
        "/none/a.yaml: there is no folder",
    ),
    "no answers": (["intake", "{tmp}/a.yaml", "--answers", "{tmp}/none.yaml"], "none.yaml:1:1 unreadable"),
    "case is a folder": (["intake", "{tmp}/folder.md", "--answers", "{case}"], "folder.md:1:1 unreadable"),
}


@pytest.mark.parametrize("name", BAD_USE)
def test_wrong_use_gets_one_line(program: Program, tmp_path: Path, name: str) -> None:
    typed, says = BAD_USE[name]
    (tmp_path / "folder.md").mkdir()
    (tmp_path / "folder.md" / "kept").write_text("kept", encoding="utf-8")
    ran = program(*(argument.format(tmp=tmp_path, case=CASE) for argument in typed))
    assert says in wrong(ran.code, ran.out, ran.err)
    assert [str(path.relative_to(tmp_path)) for path in sorted(tmp_path.rglob("*"))] == ["folder.md", "folder.md/kept"]


def test_a_paper_that_could_not_be_true_is_refused_with_the_reason(program: Program, tmp_path: Path) -> None:
    sheet, paper = tmp_path / "sound.yaml", tmp_path / "paper.md"
    sheet.write_text("schema: 1\nnumber: R-1\npiece: {kind: stool}\n", encoding="utf-8")
    ran = program("letter", sheet, "--form", "hand_over", "-o", paper)
    assert wrong(ran.code, ran.out, ran.err) == (
        f"{sheet}: we do no work on this piece, so there is none to hand over; the estimate says why"
    )
    assert not paper.exists()


def test_the_revised_estimate_stands_beside_the_sheet_it_was_written_from(program: Program, tmp_path: Path) -> None:
    text = CASE.read_text(encoding="utf-8")
    opened = tmp_path / "opened.yaml"
    opened.write_text(text.replace("break_fits_back: closes_clean", "break_fits_back: bits_missing"), encoding="utf-8")
    ran = program("letter", opened, "--since", CASE, *DAY)
    assert ran.code == ExitCode.DONE
    assert ran.out.startswith("# Revised estimate for your ")
    assert "bits of wood are missing." in ran.out.partition("*New since we wrote to you*")[2].partition("##")[0]


def test_what_is_written_already_stays_when_the_next_cannot_be_made(program: Program, tmp_path: Path) -> None:
    letter = tmp_path / "letter.html"
    letter.write_text("the old letter", encoding="utf-8")
    bad = tmp_path / "case.yaml"
    bad.write_text("schema: 1\npiece: {kind: side_chiar}\n", encoding="utf-8")
    assert program("letter", bad, "-o", letter).code == ExitCode.WRONG_USE
    assert program("letter", CASE, "-o", letter, "--form", "none").code == ExitCode.WRONG_USE
    assert letter.read_text(encoding="utf-8") == "the old letter"
    assert program("letter", CASE, "-o", letter).code == ExitCode.DONE
    assert "R-0121" in letter.read_text(encoding="utf-8")


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="nothing is forbidden to the superuser")
def test_a_folder_that_may_not_be_written_to(program: Program, tmp_path: Path) -> None:
    shut = tmp_path / "shut"
    shut.mkdir(mode=0o500)
    for typed in (("plan", CASE, "-o", shut / "plan.md"), ("intake", shut / "a.yaml", "--answers", CASE)):
        ran = program(*typed)
        assert str(shut) in wrong(ran.code, ran.out, ran.err)


def subprocess_of(*arguments: object, **more: str) -> subprocess.CompletedProcess[str]:
    env = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "TERM": "xterm", **more}
    return subprocess.run(
        [PROGRAM, *map(str, arguments)], stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False, env=env
    )


def test_the_installed_program_is_plain_to_a_pipe() -> None:
    ran = subprocess_of("assess", CASE, *DAY, PYTHONUTF8="1", FORCE_COLOR="", NO_COLOR="")
    assert (ran.returncode, ran.stderr) == (ExitCode.DONE, "")
    assert ran.stdout.startswith("# Diagnosis")
    assert ESCAPE not in ran.stdout
    failed = subprocess_of("assess", "none.yaml", NO_COLOR="1")
    assert failed.returncode == ExitCode.WRONG_USE
    assert failed.stderr == "none.yaml:1:1 unreadable cannot be read: no such file or directory\n"


def test_a_screen_that_lacks_letters_gets_question_marks() -> None:
    ran = subprocess_of("rules", "show", "list_of_nothing", PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert ran.returncode == ExitCode.WRONG_USE
    ran = subprocess_of("plan", CASE, PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert (ran.returncode, ran.stderr) == (ExitCode.DONE, "")
    assert "# Bench plan R-0121" in ran.stdout
    assert ran.stdout.isascii()


@pytest.mark.parametrize("typed", [["assess", CASE, "--json"], ["rules", "list", "signs"]], ids=["assess", "rules"])
def test_a_reader_that_has_gone_is_no_error(typed: list[object]) -> None:
    gone, pipe = os.pipe()
    os.close(gone)
    with os.fdopen(pipe, "wb") as stream:
        ran = subprocess.run(
            [PROGRAM, *map(str, typed)], stdin=subprocess.DEVNULL, stdout=stream, stderr=subprocess.PIPE, check=False
        )
    assert (ran.returncode, ran.stderr) == (ExitCode.DONE, b"")


@pytest.mark.skipif(sys.platform != "linux", reason="/dev/full is Linux's")
def test_a_full_disk_gets_one_line() -> None:
    with Path("/dev/full").open("wb") as full:
        ran = subprocess.run(
            [PROGRAM, "rules", "list"], stdin=subprocess.DEVNULL, stdout=full, stderr=subprocess.PIPE, check=False
        )
    assert (ran.returncode, ran.stderr) == (ExitCode.WRONG_USE, b"no space left on device\n")
