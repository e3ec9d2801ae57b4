"""No id of the rule base stands in the code: an exception of the trade becomes an entry, never an `if`."""

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import diagnose
from diagnose.rulebase.store import load_knowledge

PACKAGE = Path(diagnose.__file__).parent
KINDS = ("signs", "causes", "methods", "steps", "logic", "findings", "cautions", "pieces")
# The closed lists of the language are the one place where the program names words of the rule base.
WORDS = PACKAGE / "words.py"
# Texts that are words of another language and only look like an id.
OF_ANOTHER_LANGUAGE = {
    name: {"table"}  # an element of HTML
    for name in ("documents/md.py", "documents/fieldguide/chapters.py", "documents/fieldguide/check.py")
}


def docstrings(tree: ast.AST) -> Iterator[ast.Constant]:
    """The texts that stand alone: docstrings (with the doctests in them) and comments written as texts."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            yield node.value


def literals(code: str) -> Iterator[tuple[int, str]]:
    """Every text that the code itself uses, with its line; parts of formatted texts and keys of mappings as well."""
    tree = ast.parse(code)
    apart = {id(node) for node in docstrings(tree)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in apart:
            yield node.lineno, node.value
        elif isinstance(node, ast.keyword) and node.arg is not None:
            yield node.value.lineno, node.arg


def words_of_the_language() -> set[str]:
    return {text for _, text in literals(WORDS.read_text(encoding="utf-8"))}


def ids() -> dict[str, str]:
    knowledge = load_knowledge()
    return {entry: kind for kind in KINDS for entry in getattr(knowledge, kind)}


def ids_in(code: str, known: dict[str, str]) -> list[tuple[int, str]]:
    return [(line, f"{known[text]}: {text}") for line, text in literals(code) if text in known]


def test_every_file_of_code_is_looked_at() -> None:
    files = sorted(PACKAGE.rglob("*.py"))
    assert WORDS in files
    assert len(files) > 60
    assert sum(1 for path in files for _ in literals(path.read_text(encoding="utf-8"))) > 1000
    assert len(ids()) > 500


def files_of_code() -> Iterator[Any]:
    for path in sorted(PACKAGE.rglob("*.py")):
        name = path.relative_to(PACKAGE).as_posix()
        if path != WORDS:
            yield name


@pytest.mark.parametrize("name", list(files_of_code()))
def test_no_id_of_the_rule_base_stands_in_the_code(name: str) -> None:
    let_through = words_of_the_language() | OF_ANOTHER_LANGUAGE.get(name, set())
    known = {entry: kind for entry, kind in ids().items() if entry not in let_through}
    assert ids_in((PACKAGE / name).read_text(encoding="utf-8"), known) == []


def test_the_language_shares_few_words_with_the_rule_base() -> None:
    """What stands in words.py is let through everywhere, so it must not grow into a list of entries."""
    known = words_of_the_language()
    shared = {f"{kind}: {entry}" for entry, kind in ids().items() if entry in known}
    assert len(shared) <= 8, sorted(shared)


def test_an_id_is_found_wherever_it_is_used() -> None:
    known = {"bar_stool": "pieces"}
    code = '''
"""A file about the bar_stool: `"bar_stool"`."""
def f(piece: str) -> bool:
    """bar_stool

    >>> f("bar_stool")
    """
    if piece == "bar_stool":
        return piece in {"bar_stool": 1}
    return g(bar_stool=1) or h(f"{piece}") or "a bar_stool" == piece
'''
    assert sorted(line for line, _ in ids_in(code, known)) == [8, 9, 10]
    assert ids_in('"bar_stool"\n', known) == []
