"""The cache of the rule base: faster and never stale, whatever happens to its files, whoever else is reading."""

import hashlib
import os
import pickle
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
import yaml

from diagnose import house, words
from diagnose.rulebase import located, store
from diagnose.rulebase.check import check_rules
from diagnose.rulebase.fault import FaultsFound
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.load import Loaded, load_rules, rule_files, version_of
from diagnose.rulebase.store import cache_folder, load_knowledge
from tests.rulebase.small import FILES, Change, small_rules

NOTEBOOK = Change("cautions.yaml", "wear a mask", "wear a good mask")


@pytest.fixture
def rules(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The small rule base, and a cache of its own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    folder, _ = small_rules(tmp_path)
    return folder


def only_file() -> Path:
    (path,) = cache_folder().iterdir()
    return path


def forbid_reading(monkeypatch: pytest.MonkeyPatch) -> None:
    def read(folder: Path) -> Loaded:
        raise AssertionError(f"{folder} was read again")

    monkeypatch.setattr(store, "load_rules", read)


def test_the_same_content_is_read_from_the_cache(rules: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = load_knowledge(rules)
    forbid_reading(monkeypatch)
    second = load_knowledge(rules)
    assert second == first
    assert second is not first
    assert second.cautions["scraping_dust"].do == "Scrape wet and wear a mask."


def test_the_same_content_in_another_folder_is_the_same(rules: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = load_knowledge(rules)
    other = shutil.copytree(rules, tmp_path / "elsewhere" / "rules")
    forbid_reading(monkeypatch)
    assert load_knowledge(other) == first


def test_the_cache_is_faster_than_reading(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))

    def seconds() -> float:
        start = time.process_time()
        load_knowledge(house.rules_folder())
        return time.process_time() - start

    cold = seconds()
    warm = min(seconds() for _ in range(3))
    assert warm < cold / 3


def test_one_word_changed_is_a_new_version(rules: Path) -> None:
    before = load_knowledge(rules)
    path = rules / NOTEBOOK.file
    times = path.stat()
    path.write_text(NOTEBOOK.made(path.read_text(encoding="utf-8")), encoding="utf-8")
    os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))
    after = load_knowledge(rules)
    assert after.version != before.version
    assert after.cautions["scraping_dust"].do == "Scrape wet and wear a good mask."
    path.write_text(FILES[NOTEBOOK.file], encoding="utf-8")
    assert load_knowledge(rules) == before


def test_what_changes_while_it_is_read_is_not_kept_as_what_it_was(rules: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file saved between the reading of the version and the reading of the rules."""
    path = rules / NOTEBOOK.file
    with monkeypatch.context() as patch:

        def save_and_read(folder: Path) -> Loaded:
            path.write_text(NOTEBOOK.made(FILES[NOTEBOOK.file]), encoding="utf-8")
            return load_rules(folder)

        patch.setattr(store, "load_rules", save_and_read)
        during = load_knowledge(rules)
    assert "good mask" in during.cautions["scraping_dust"].do
    assert load_knowledge(rules) == during
    path.write_text(FILES[NOTEBOOK.file], encoding="utf-8")
    assert "good mask" not in load_knowledge(rules).cautions["scraping_dust"].do


def test_the_version_hears_of_names_and_of_where_files_end(rules: Path) -> None:
    files = rule_files(rules)
    assert list(files) == sorted(files)
    assert set(files) == set(FILES)
    versions = {
        version_of(files),
        version_of({"b.yaml" if name == "cautions.yaml" else name: content for name, content in files.items()}),
        version_of({"a": b"xy", "b": b"z"}),
        version_of({"a": b"x", "b": b"yz"}),
        version_of({"a": b"x", "ab": b"yz"}),
        version_of({"a": b"x\0b\0yz"}),
        version_of({}),
    }
    assert len(versions) == 7
    assert all(len(version) == 12 for version in versions)
    assert load_knowledge(rules).version == version_of(files)


def test_a_rule_base_with_a_fault_is_refused_each_time_and_never_kept(rules: Path) -> None:
    (rules / "findings.yaml").write_text("findings: none\n", encoding="utf-8")
    for _ in range(2):
        with pytest.raises(FaultsFound, match=r"rules/findings.yaml:1:11 form findings is a list of entries"):
            load_knowledge(rules)
    assert not cache_folder().exists()


def test_a_warning_does_not_stop_it(rules: Path) -> None:
    path = rules / "causes" / "joint.yaml"
    text = path.read_text(encoding="utf-8").replace("      moving_joints: {none: often}\n", "")
    path.write_text(text, encoding="utf-8")
    assert [fault.severity for fault in check_rules(load_rules(rules))] == ["warning"]
    assert "moving_joints" not in load_knowledge(rules).causes["overload"].shows


def test_a_missing_folder_is_a_fault(tmp_path: Path) -> None:
    with pytest.raises(FaultsFound, match="missing-folder"):
        load_knowledge(tmp_path / "nowhere")


LOADING = """
import sys
from pathlib import Path
from diagnose.rulebase.store import load_knowledge
knowledge = load_knowledge(Path(sys.argv[1]))
print(knowledge.version, len(knowledge.causes), len(knowledge.steps))
"""


def test_four_processes_may_read_at_once(rules: Path, tmp_path: Path) -> None:
    running = [
        subprocess.Popen([sys.executable, "-c", LOADING, str(rules)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        for _ in range(4)
    ]
    ended = [(process.communicate(timeout=60), process.returncode) for process in running]
    version = version_of(rule_files(rules))
    assert ended == [((f"{version} 3 4\n", ""), 0)] * 4
    assert load_knowledge(rules).version == version
    assert [path.suffix for path in cache_folder().iterdir()] == [".pickle"]


def with_digest(content: bytes) -> bytes:
    return hashlib.sha256(content).digest() + content


class Trap:
    """A pickle that makes a folder as soon as it is read, and cannot where there is one already."""

    def __init__(self, folder: str = "/") -> None:
        self.folder = folder

    def __reduce__(self) -> tuple[Callable[[str], None], tuple[str]]:
        return os.mkdir, (self.folder,)


SPOILT: dict[str, Callable[[bytes], bytes]] = {
    "empty": lambda kept: b"",
    "one byte": lambda kept: b"\x80",
    "cut short": lambda kept: kept[: len(kept) // 2],
    "a byte more": lambda kept: kept + b".",
    "nothing but its digest": lambda kept: kept[:32],
    "first byte turned": lambda kept: bytes([kept[0] ^ 1]) + kept[1:],
    "a letter of a text turned": lambda kept: kept.replace(b"wear a mask", b"wear a task"),
    "last byte turned": lambda kept: kept[:-1] + bytes([kept[-1] ^ 1]),
    "zeroes": lambda kept: bytes(len(kept)),
    "text": lambda kept: "Größe".encode("latin-1") * 20,
    "a pickle of something else": lambda kept: with_digest(pickle.dumps({"causes": 1})),
    "a pickle of a class that is gone": lambda kept: with_digest(b"cdiagnose.rulebase\nGone\n."),
    "a pickle that fails": lambda kept: with_digest(pickle.dumps(Trap())),
    "no pickle, with its digest": lambda kept: with_digest(b"\xff\xfe"),
    "a protocol of the future": lambda kept: with_digest(b"\x80\x63."),
}


@pytest.mark.parametrize("name", SPOILT)
def test_a_spoilt_cache_file_is_passed_over_and_written_anew(rules: Path, name: str) -> None:
    first = load_knowledge(rules)
    path = only_file()
    whole = path.read_bytes()
    spoilt = SPOILT[name](whole)
    assert spoilt != whole
    path.write_bytes(spoilt)
    assert load_knowledge(rules) == first
    assert path.read_bytes() == whole


def test_every_single_turned_bit_is_noticed(rules: Path) -> None:
    first = load_knowledge(rules)
    path = only_file()
    whole = path.read_bytes()
    for place in range(0, len(whole), len(whole) // 40):
        path.write_bytes(whole[:place] + bytes([whole[place] ^ 4]) + whole[place + 1 :])
        assert store._cached(path) is None
    path.write_bytes(whole)
    assert store._cached(path) == first


def test_a_pickle_from_elsewhere_is_not_run(rules: Path, tmp_path: Path) -> None:
    first = load_knowledge(rules)
    folder = tmp_path / "made by a pickle"
    only_file().write_bytes(pickle.dumps(Trap(str(folder))))
    assert load_knowledge(rules) == first
    assert not folder.exists()


def test_a_folder_in_the_place_of_the_cache_file(rules: Path) -> None:
    first = load_knowledge(rules)
    path = only_file()
    path.unlink()
    path.mkdir()
    assert load_knowledge(rules) == first
    assert path.is_dir()
    assert list(cache_folder().iterdir()) == [path]


def test_a_cache_file_of_somebody_else_is_not_read(rules: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    load_knowledge(rules)
    mine = os.getuid()
    monkeypatch.setattr(os, "getuid", lambda: mine + 1)
    forbid_reading(monkeypatch)
    with pytest.raises(AssertionError, match="was read again"):
        load_knowledge(rules)


def test_a_cache_that_cannot_be_written_costs_nothing_else(rules: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("not a folder", encoding="utf-8")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    assert len(load_knowledge(rules).signs) == 8


def test_a_failed_writing_leaves_nothing_behind(rules: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "replace", full)
        first = load_knowledge(rules)
    assert list(cache_folder().iterdir()) == []
    assert load_knowledge(rules) == first
    assert only_file().suffix == ".pickle"


def test_caches_of_the_day_before_yesterday_are_cleared_away(rules: Path) -> None:
    load_knowledge(rules)
    folder = cache_folder()
    old, young, other = folder / "rules-old.pickle", folder / "rules-young.pickle", folder / "something.else"
    for path in (old, young, other):
        path.write_bytes(b"x")
    long_ago = time.time() - 2 * 86_400
    os.utime(old, (long_ago, long_ago))
    os.utime(other, (long_ago, long_ago))
    path = rules / NOTEBOOK.file
    path.write_text(NOTEBOOK.made(path.read_text(encoding="utf-8")), encoding="utf-8")
    load_knowledge(rules)
    assert not old.exists()
    assert young.exists()
    assert other.exists()


def test_without_libyaml_the_same_rule_base_is_read(rules: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    compiled = load_rules(rules)
    monkeypatch.setattr(located, "_LOADER", yaml.SafeLoader)
    plain = load_rules(rules)
    assert check_rules(plain) == []
    assert plain.knowledge() == compiled.knowledge()
    for document, _ in compiled.places.values():
        again = next(d for d, _ in plain.places.values() if d.file == document.file)
        assert again.values.keys() == document.values.keys()
        assert again.keys.keys() == document.keys.keys()
        assert all(again.mark(path) == document.mark(path) for path in document.values)
        assert all(again.key_mark(path) == document.key_mark(path) for path in document.keys)


@pytest.mark.parametrize(
    "change",
    [
        Change("steps/joint.yaml", "after: [spread_glue]", "after: [spread_the_glue]"),
        Change("steps/joint.yaml", "do: Clamp and leave alone.", "do: Clamp: leave alone."),
        Change("signs/break.yaml", "say: Straight across the part", "say: Straight across # the part"),
        Change("steps/joint.yaml", "do: Clamp and leave alone.", "do: *clamp"),
        Change("signs/break.yaml", "{upto: 0.15}", "{upto: 0.15, say: Snug, or nearly so}"),
    ],
    ids=lambda change: change.new,
)
def test_without_libyaml_faults_have_the_same_places(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, change: Change) -> None:
    folder, _ = small_rules(tmp_path, change)
    compiled = check_rules(load_rules(folder))
    monkeypatch.setattr(located, "_LOADER", yaml.SafeLoader)
    plain = check_rules(load_rules(folder))
    assert len(compiled) == 1
    assert [(f.code, f.mark, f.hint) for f in plain] == [(f.code, f.mark, f.hint) for f in compiled]


def test_the_delivered_rule_base_is_kept_and_read_back_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    first = load_knowledge()
    forbid_reading(monkeypatch)
    second = load_knowledge()
    assert isinstance(second, Knowledge)
    assert second == first


def test_another_shape_of_the_entries_is_another_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What a program with other words or other entries kept under the same rules is not read."""
    before = store._path("rules")
    other = tmp_path / "words.py"
    other.write_text("PARTS = ()\n", encoding="utf-8")
    monkeypatch.setattr(words, "__file__", str(other))
    assert store._path("rules") != before
