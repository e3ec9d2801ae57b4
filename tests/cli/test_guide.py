"""`diagnose guide`: a folder made whole or not at all, never over foreign files; one entry in plain words."""

import subprocess
import sys
from pathlib import Path

import pytest

from diagnose.cli import site_folder
from diagnose.cli.site_folder import MARKER, NotOurs, write_folder
from diagnose.rulebase.knowledge import Knowledge
from tests.cli.running import Program

FILES = {"index.html": "one\n", "sign/a.html": "zwei ü\n"}


def held(folder: Path) -> dict[str, str]:
    """Every file of a folder with its text."""
    return {p.relative_to(folder).as_posix(): p.read_text(encoding="utf-8") for p in folder.rglob("*") if p.is_file()}


def test_a_folder_is_made_and_made_again(tmp_path: Path) -> None:
    folder = tmp_path / "new" / "guide"
    write_folder(folder, FILES)
    assert held(folder) == {**FILES, MARKER: "index.html\nsign/a.html\n"}
    write_folder(folder, {"index.html": "two\n"})
    assert held(folder) == {"index.html": "two\n", MARKER: "index.html\n"}
    assert [p.name for p in folder.parent.iterdir()] == ["guide"]


def test_an_empty_folder_may_be_used(tmp_path: Path) -> None:
    write_folder(tmp_path, FILES)
    assert held(tmp_path) == {**FILES, MARKER: "index.html\nsign/a.html\n"}


@pytest.mark.parametrize("foreign", ["letter.txt", "sign/notes.html", "deep/er/still.md"])
def test_foreign_files_are_never_touched(tmp_path: Path, foreign: str) -> None:
    folder = tmp_path / "guide"
    path = folder / foreign
    path.parent.mkdir(parents=True)
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(NotOurs):
        write_folder(folder, FILES)
    assert held(folder) == {foreign: "mine"}
    path.unlink()
    write_folder(folder, FILES)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(NotOurs, match=Path(foreign).name):
        write_folder(folder, {"index.html": "other"})
    assert held(folder) == {**FILES, MARKER: "index.html\nsign/a.html\n", foreign: "mine"}


def test_a_file_in_the_way_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "guide"
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(NotOurs):
        write_folder(path, FILES)
    assert path.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("call", [1, 2])
def test_what_cannot_be_written_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: int) -> None:
    """A full disk while writing, and a rename that fails while the new folder is put in the place of the old."""
    folder = tmp_path / "guide"
    write_folder(folder, FILES)
    before = held(folder)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    if call == 1:
        monkeypatch.setattr(Path, "write_bytes", full)
    else:
        real = Path.rename

        def rename(self: Path, target: Path) -> Path:
            if self.name.endswith(".part"):
                raise OSError(5, "Input/output error")
            return real(self, target)

        monkeypatch.setattr(Path, "rename", rename)
    with pytest.raises(OSError, match=r"No space|Input/output"):
        write_folder(folder, {"index.html": "two\n"})
    monkeypatch.undo()
    assert held(folder) == before
    assert [p.name for p in tmp_path.iterdir()] == ["guide"]


@pytest.fixture(scope="module")
def chapters(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of chapters with one that names what does not exist."""
    folder = tmp_path_factory.mktemp("chapters")
    (folder / "01_broken.md").write_text("# Broken\n\nSee [this](cause:no_such_cause).\n", encoding="utf-8")
    return folder


def test_build_writes_the_guide_and_says_how_far_it_is(program: Program, tmp_path: Path, knowledge: Knowledge) -> None:
    folder = tmp_path / "guide"
    ran = program("guide", "build", "-o", folder)
    assert (ran.code, ran.out) == (0, "")
    assert [line.split()[0] for line in ran.err.splitlines()] == ["reading", "making", "writing", "written:"]
    found = held(folder)
    assert {f"cause/{cause}.html" for cause in knowledge.causes} <= set(found)
    assert set(found[MARKER].splitlines()) == set(found) - {MARKER}


def test_a_broken_link_in_a_chapter_fails_the_check_and_nothing_is_written(
    program: Program, tmp_path: Path, chapters: Path
) -> None:
    ran = program("guide", "build", "-o", tmp_path / "guide", "--check", "--chapters", chapters)
    assert ran.code == 1
    assert "chapter/broken.html: a link to an unknown entry: cause:no_such_cause" in ran.out.splitlines()
    assert ran.err.splitlines()[-1].endswith("faults: nothing written") or ran.err.splitlines()[-1] == "1 faults: nothing written"
    assert list(tmp_path.iterdir()) == []


def test_build_refuses_a_foreign_folder_before_it_works(program: Program, tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("mine", encoding="utf-8")
    ran = program("guide", "build", "-o", tmp_path)
    assert ran.code == 2
    assert ran.err.splitlines() == [f"{tmp_path}: holds files that are not of the guide; name a new or an empty folder"]


def test_build_names_bad_chapters_in_one_line(program: Program, tmp_path: Path) -> None:
    (tmp_path / "01_bad.md").write_bytes(b"# \xff")
    ran = program("guide", "build", "-o", tmp_path / "guide", "--chapters", tmp_path)
    assert (ran.code, ran.err.splitlines()[-1]) == (2, f"{tmp_path / '01_bad.md'}: not UTF-8; save it as UTF-8")
    ran = program("guide", "build", "-o", tmp_path / "guide", "--chapters", tmp_path / "none")
    assert (ran.code, ran.err.splitlines()[-1]) == (2, f"{tmp_path / 'none'}: there is no such folder")


def test_show_prints_an_entry(program: Program, knowledge: Knowledge) -> None:
    cause = next(iter(knowledge.causes.values()))
    ran = program("guide", "show", cause.id)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.splitlines()[:2] == [cause.name, "=" * len(cause.name)]
    assert " ".join(cause.owner.split()) in " ".join(ran.out.split())
    assert " dB  " in ran.out


def test_show_names_the_nearest_of_an_unknown_id(program: Program, knowledge: Knowledge) -> None:
    method = max(knowledge.methods, key=len)
    ran = program("guide", "show", method[:-2] + "x")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.splitlines() == [f"{method[:-2]}x is no entry of the guide; did you mean {method}?"]


def test_the_guide_costs_other_commands_nothing() -> None:
    code = (
        "import sys, diagnose.cli.app; "
        "print(sorted({'markdown', 'nh3', 'numpy', 'diagnose.documents.fieldguide'} & set(sys.modules)))"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"
    assert site_folder.MARKER.startswith(".")
