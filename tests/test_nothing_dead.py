"""Every public function, class and constant of the program is used by the program: what only tests use is dead, and goes.

`mechanics/` is a library of published sums: there a printed example that is held in a test is use enough.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

import diagnose

PACKAGE = Path(diagnose.__file__).parent
# Used from outside: the entry point of the installed command, and what the schema in the repository is held against.
OUTSIDE = {"main", "schema_text", "SCHEMA_FILE"}


def trees() -> dict[str, ast.Module]:
    return {
        path.relative_to(PACKAGE).as_posix(): ast.parse(path.read_text(encoding="utf-8"))
        for path in sorted(PACKAGE.rglob("*.py"))
    }


def defined(tree: ast.Module) -> Iterator[str]:
    """Public names that a file gives at its top level; a decorated function is called by what decorates it."""
    for node in tree.body:
        if isinstance(node, ast.ClassDef) or (isinstance(node, ast.FunctionDef) and not node.decorator_list):
            yield node.name
        elif isinstance(node, ast.Assign):
            yield from (target.id for target in node.targets if isinstance(target, ast.Name))
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            yield node.target.id


def used(tree: ast.Module) -> Iterator[str]:
    """Names that a file reads, its own or another file's."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
            yield node.id
        elif isinstance(node, ast.Attribute):
            yield node.attr


def dead(files: dict[str, ast.Module]) -> list[str]:
    read = {name for tree in files.values() for name in used(tree)}
    ours = {path: tree for path, tree in files.items() if not path.startswith("mechanics/")}
    public = ((path, name) for path, tree in ours.items() for name in defined(tree) if not name.startswith("_"))
    return [f"{path}: {name}" for path, name in public if name not in read | OUTSIDE]


def test_every_public_name_is_used_by_the_program() -> None:
    assert dead(trees()) == []


def test_a_dead_name_would_be_found() -> None:
    code = (
        "import a\nUSED, DEAD = 1, 2\nALONE: int = 3\n\ndef f(): return USED\n\n@a.command\ndef g(): return f\n\nclass C: pass\n"
    )
    assert dead({"x.py": ast.parse(code.replace("USED, DEAD = 1, 2", "USED = 1\nDEAD = 2"))}) == [
        "x.py: DEAD",
        "x.py: ALONE",
        "x.py: C",
    ]
