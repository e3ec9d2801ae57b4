"""YAML read as text with places: what was written comes back, places are right, and hostile input ends in a fault."""

import json
import random
import time
from collections.abc import Callable

import pytest
import yaml
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from diagnose.rulebase import located
from diagnose.rulebase.fault import Fault, FaultsFound, Mark
from diagnose.rulebase.located import MAX_BYTES, MAX_DEPTH, MAX_VALUES, Plain, read_located

PLAIN_WORDS = [
    "no", "yes", "on", "off", "true", "1:30", "012", "0x1F", "1e3", "1_000", ".5", "2026-03-02", "NULL", "Null", "=",
    "<<", "1.0", "-3", "nan", "~x", "null_", "a#b", "a:b", "it's", "ﬁ", "½ in", '3/8"',
]  # fmt: skip


def tried(text: str) -> tuple[Plain, tuple[Fault, ...]]:
    """The data of a text and no fault, or no data and its faults."""
    try:
        return read_located(text, "x.yaml").data, ()
    except FaultsFound as found:
        return None, found.faults


def outcome(text: str) -> list[str]:
    """The faults of a text, as `line:column code`; empty where it can be read."""
    return [f"{fault.mark.line}:{fault.mark.column} {fault.code}" for fault in tried(text)[1]]


@pytest.mark.parametrize("word", PLAIN_WORDS)
def test_a_plain_word_stays_what_was_written(word: str) -> None:
    text = f"- {word}\n- {{a: {word}}}\n"
    assert read_located(text, "x.yaml").data == [word, {"a": word}]


@pytest.mark.parametrize("word", ["", "~", "null"])
def test_nothing_is_nothing_unless_it_stands_in_quotes(word: str) -> None:
    text = f"a: {word}\nb: '{word}'\nc: \"{word}\"\n"
    assert read_located(text, "x.yaml").data == {"a": None, "b": word, "c": word}


def test_keys_stay_what_was_written() -> None:
    assert read_located("no: a\n1:30: b\n012: c\nnull: d\n~: e\n", "x.yaml").data == {
        "no": "a", "1:30": "b", "012": "c", "null": "d", "~": "e",
    }  # fmt: skip


# Everything that a YAML file may hold, and the words that YAML reads as something else.
characters = st.characters(codec="utf-8", exclude_characters="\ufeff")
awkward = [*PLAIN_WORDS, "null", "~", "", " #", "a # b", "- x", "? x", "&a", "*a", "!b", "% c", "@d", "a: b", " c "]
texts = st.one_of(st.sampled_from(awkward), st.text(characters, max_size=20))
readable = texts.filter(lambda text: yaml.reader.Reader.NON_PRINTABLE.search(text) is None)
documents = st.recursive(
    readable,
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(readable, inner, max_size=4)),
    max_leaves=20,
)


def quoted(value: Plain, indent: int = 0) -> str:
    """A document with every text in double quotes, as plain as YAML can be written."""
    pad = "  " * indent
    if isinstance(value, list) and value:
        return "".join(f"\n{pad}- {quoted(item, indent + 1)}" for item in value)
    if isinstance(value, dict) and value:
        return "".join(f"\n{pad}? {quote(key)}\n{pad}: {quoted(item, indent + 1)}" for key, item in value.items())
    return quote(value) if isinstance(value, str) else "[]" if isinstance(value, list) else "{}"


def quote(text: str) -> str:
    inside = "".join(c if c.isascii() and c.isprintable() and c not in '"\\' else f"\\U{ord(c):08X}" for c in text)
    return f'"{inside}"'


@settings(max_examples=150, deadline=None, derandomize=True)
@given(documents)
@example([["no", "1:30", "012", "null", "~", ""]])
@example({"a": {"b": [{"c": []}, {}]}})
def test_what_is_written_in_quotes_is_read(document: Plain) -> None:
    found = read_located(quoted(document) + "\n", "x.yaml")
    assert found.data == document


@settings(max_examples=150, deadline=None, derandomize=True)
@given(documents, st.booleans(), st.sampled_from([20, 80, 120]))
@example(["a, b", {"c # d": ["- e", "~"]}], True, 20)
def test_what_yaml_writes_is_read_or_refused_aloud(document: Plain, flow: bool, width: int) -> None:
    """Whatever style the YAML library chooses: the same document, or a fault; never one that was quietly changed.

    Line separators of Unicode are left out: the library itself folds them away when it writes.
    """
    assume(not any(separator in json.dumps(document, ensure_ascii=False) for separator in "\x85\u2028\u2029"))
    text = yaml.dump(document, default_flow_style=flow, width=width, allow_unicode=True, Dumper=NoAliases)
    found, refused = tried(text)
    assert {fault.code for fault in refused} <= ALOUD
    if not refused:
        assert found == document


ALOUD = {"tag", "prose-in-braces", "comment-in-prose"}


class NoAliases(yaml.SafeDumper):
    def ignore_aliases(self, data: object) -> bool:
        return True


@settings(max_examples=150, deadline=None, derandomize=True)
@given(documents)
def test_every_place_is_where_the_value_stands(document: Plain) -> None:
    text = quoted(document) + "\n"
    lines = text.split("\n")
    found = read_located(text, "x.yaml")

    def visit(value: Plain, path: tuple[str | int, ...]) -> int:
        mark = found.mark(path)
        rest = lines[mark.line - 1][mark.column - 1 :]
        if isinstance(value, str):
            assert rest == quote(value)
            return 1
        if not value:
            assert rest in ("[]", "{}")
            return 1
        assert value is not None
        assert rest.startswith("- " if isinstance(value, list) else "? ")
        seen = 1
        if isinstance(value, dict):
            for key, item in value.items():
                place = found.key_mark((*path, key))
                assert lines[place.line - 1][place.column - 1 :] == quote(key)
                seen += visit(item, (*path, key))
        else:
            for index, item in enumerate(value):
                seen += visit(item, (*path, index))
        return seen

    assert visit(document, ()) == len(found.values)


def test_the_place_of_what_is_not_there_is_that_of_what_holds_it() -> None:
    found = read_located("a:\n  b: no\n", "x.yaml")
    assert found.mark(("a", "missing", 3)) == Mark("x.yaml", 2, 3)
    assert found.mark(("nothing",)) == Mark("x.yaml", 1, 1)
    assert found.key_mark(("a", "b")) == Mark("x.yaml", 2, 3)
    assert found.key_mark(("a", "c")) == Mark("x.yaml", 2, 3)


def test_places_count_characters_and_not_bytes() -> None:
    found = read_located("ä: {über: öl, ß: [é, ☃]}\n", "x.yaml")
    assert found.mark(("ä", "ß", 1)) == Mark("x.yaml", 1, 22)
    assert found.key_mark(("ä", "ß")) == Mark("x.yaml", 1, 15)


def test_a_byte_order_mark_moves_no_place() -> None:
    assert outcome("\ufeffa: b\na: c\n") == ["2:1 duplicate-key"]
    assert read_located("\ufeffa: b\n", "x.yaml").key_mark(("a",)) == Mark("x.yaml", 1, 1)


FAULTY = {
    "duplicate key": ("a: 1\nb: 2\na: 3\n", ["3:1 duplicate-key"]),
    "the same key of another kind": ("a: {no: 1, 'no': 2}\n", ["1:12 duplicate-key"]),
    "key that is a list": ("[a]: b\n", ["1:1 key"]),
    "alias": ("a: 1\nb: *x\n", ["2:4 alias"]),
    "alias with its name": ("a: &x [1]\nb: *x\n", ["1:4 anchor", "2:4 alias"]),
    "alias as a key": ("a: b\n*x : y\n", ["2:1 alias"]),
    "recursive alias": ("a: &x [*x]\n", ["1:4 anchor"]),
    "text that loses its first word": ("a: &sons and daughters\n", ["1:4 anchor"]),
    "tag": ("a: !thing b\n", ["1:4 tag"]),
    "tag of the language itself": ("a: !!str no\nb: !!int 3\n", ["1:4 tag", "2:4 tag"]),
    "tag that would build an object": ("a: !!python/object/apply:os.system [x]\n", ["1:4 tag"]),
    "tag that says nothing": ("a: ! b\n", ["1:4 tag"]),
    "tag on a key": ("!thing a: b\n", ["1:1 tag"]),
    "merge key": ("a: b\nc:\n  <<: *a\n", ["3:7 alias"]),
    "prose in braces": ("a: {say: In the wood, beside the line}\n", ["1:23 prose-in-braces"]),
    "prose in braces of a list": ("a: [{study: table 3, figure 4}]\n", ["1:22 prose-in-braces"]),
    "comment trap": ("a: bore it # 8 at the back\n", ["1:12 comment-in-prose"]),
    "comment trap on a second line": ("a: bore the\n   hole # 8\nb: c\n", ["2:9 comment-in-prose"]),
    "comment trap behind a tab": ("a: bore it\t# 8\n", ["1:12 comment-in-prose"]),
    "comment trap in a list": ("a:\n  - one leg # 8\n", ["2:13 comment-in-prose"]),
    "colon in prose": ("a: b: c\n", ["1:5 yaml"]),
    "tab before a key": ("a:\n\tb: c\n", ["2:1 yaml"]),
    "unclosed double quote": ('a: b\nc: "d\ne: f\n', ["2:4 yaml"]),
    "unclosed single quote": ("a: b\nc: it is 'd\ne: 'f\n", ["3:4 yaml"]),
    "unclosed bracket": ("a: [b, c\nd: e\n", ["2:2 yaml"]),
    "two documents": ("a: 1\n---\nb: 2\n", ["2:1 yaml"]),
    "nul": ("a: 1\nb: x\0y\n", ["2:5 not-text"]),
    "escape": ("a: \x1b[31mred\n", ["1:4 not-text"]),
    "half a character": ("a: \ud800\n", ["1:4 not-text"]),
    "empty": ("", ["1:1 empty"]),
    "blanks": (" \n\n", ["1:1 empty"]),
    "only a comment": ("# later\n", ["1:1 empty"]),
    "only a byte order mark": ("\ufeff", ["1:1 empty"]),
    "only a beginning": ("---\n", []),
}


@pytest.mark.parametrize("name", FAULTY)
def test_a_fault_of_form_stands_at_its_place(name: str) -> None:
    text, expected = FAULTY[name]
    assert outcome(text) == expected


@pytest.mark.parametrize(
    ("text", "data"),
    [
        ("a: one # two\n", {"a": "one"}),
        ("a: 4      # the effort's minutes\n", {"a": "4"}),
        ("a: [b c, d] # both\n", {"a": ["b c", "d"]}),
        ("a: # on the next line\n  b\n", {"a": "b"}),
        ("# a\na: 'b c' # d\n", {"a": "b c"}),
        ("a: b#c d\n", {"a": "b#c d"}),
        ("- a: |\n    b # c\n", [{"a": "b # c\n"}]),
    ],
)
def test_comments_that_lose_no_prose_are_no_fault(text: str, data: Plain) -> None:
    assert tried(text) == (data, ())


def test_faults_before_a_syntax_error_are_told_with_it() -> None:
    assert outcome("a: 1\na: 2\nb: c: d\n") == ["2:1 duplicate-key", "3:5 yaml"]


def deep(opening: str, closing: str, times: int) -> str:
    return opening * times + closing * times


LAUGHS = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{b}: &{b} [{', '.join([f'*{a}'] * 9)}]\n" for a, b in zip("abcdefgh", "bcdefghi", strict=True)
)
HOSTILE: dict[str, Callable[[], str]] = {
    "deep lists": lambda: deep("[", "]", 100_000),
    "deep lists unclosed": lambda: "[" * 500_000,
    "deep mappings": lambda: deep("{a: ", "}", 50_000),
    "deep dashes": lambda: "- " * 200_000,
    "deep questions": lambda: "? " * 200_000,
    "deep colons": lambda: ": " * 200_000,
    "deep by a step each": lambda: "\n".join(" " * level + "a:" for level in range(1000)),
    "deep behind brackets in quotes": lambda: '["]", ' * 100_000,
    "deep behind a tag": lambda: "a: !x " + "[" * 100_000,
    "deep behind a name": lambda: "a: &x " + "{a: " * 100_000,
    "deep keys": lambda: "[" * 900 + "]" * 900 + ": a",
    "a billion laughs": lambda: LAUGHS,
    "aliases without end": lambda: "- *a\n" * 150_000,
    "names without end": lambda: "- &a\n" * 150_000,
    "two million letters": lambda: "a: " + "x" * 2_000_000,
    "one long line of values": lambda: "[" + "x, " * 300_000 + "]",
    "one long list": lambda: "- x y\n" * 160_000,
    "many keys": lambda: "".join(f"k{n}: v\n" for n in range(80_000)),
    "the same key": lambda: "a: b\n" * 190_000,
    "unclosed quote of many lines": lambda: '"' + "\n" * 900_000,
    "quotes": lambda: "'" * 900_000,
    "colons": lambda: ":" * 900_000,
    "exclamations": lambda: "!" * 900_000,
    "percent": lambda: "%" * 900_000,
    "blanks": lambda: " " * 900_000,
    "hashes": lambda: "#" * 900_000,
    "documents": lambda: "---\n" * 200_000,
    "nul": lambda: "a: b\n" * 1000 + "\0",
    "binary": lambda: random.Random(1).randbytes(300_000).decode("latin-1"),
    "binary read as text": lambda: random.Random(2).randbytes(300_000).decode("utf-8", "replace"),
    "open block": lambda: "a: |\n" + " \n" * 400_000,
    "text of many lines": lambda: "a: " + "x\n  " * 200_000,
}
NO_FAULT = {"open block", "text of many lines", "quotes"}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_input_is_a_fault_within_a_second(name: str) -> None:
    text = HOSTILE[name]()
    start = time.process_time()
    found = outcome(text)
    assert time.process_time() - start < 1.0
    assert bool(found) == (name not in NO_FAULT)
    assert len(found) <= MAX_VALUES


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("a: " + "ä" * (MAX_BYTES // 2), "too-large"),
        ("- a\n" * (MAX_VALUES + 1), "too-large"),
        ("- " * (MAX_DEPTH + 2) + "a", "too-deep"),
        ("[" * (MAX_DEPTH + 2) + "]" * (MAX_DEPTH + 2), "too-deep"),
    ],
)
def test_the_limits(text: str, code: str) -> None:
    assert [line.split()[1] for line in outcome(text)] == [code]


def test_within_the_limits_all_is_read() -> None:
    assert outcome("a: " + "x" * (MAX_BYTES - 3)) == []
    assert outcome("- " * MAX_DEPTH + "a") == []
    assert len(read_located("- a\n" * (MAX_VALUES - 10), "x.yaml").values) == MAX_VALUES - 9


@settings(max_examples=400, deadline=None, derandomize=True)
@given(st.text(alphabet="ab01 \n\n:-?#&*!|>'\"%@`{}[],~\t\r\0\ufeff\x85\u2028é☃", max_size=60))
def test_any_text_is_read_or_is_a_fault_with_a_place(text: str) -> None:
    lines = text.removeprefix("\ufeff").splitlines() or [""]
    for fault in tried(text)[1]:
        assert 1 <= fault.mark.line <= len(lines)
        assert 1 <= fault.mark.column <= len(lines[fault.mark.line - 1]) + 1


@settings(max_examples=100, deadline=None, derandomize=True)
@given(st.text(alphabet="ab: -#&!'\"{}[],\n\n", max_size=40))
def test_the_plain_loader_and_the_compiled_one_agree(text: str) -> None:
    """Without libyaml the same texts are read to the same data; where both refuse, the places may differ."""
    if not hasattr(yaml, "CSafeLoader"):
        pytest.skip("this PyYAML was built without libyaml")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(located, "_LOADER", yaml.SafeLoader)
        plain, plain_faults = tried(text)
    compiled, compiled_faults = tried(text)
    assert bool(plain_faults) == bool(compiled_faults)
    assert plain == compiled
