"""Doctests of the room, and that every public function says what the house asks."""

import doctest
import importlib
import inspect
import pkgutil
from types import ModuleType

import pytest

import diagnose.mechanics

NAMES = sorted(m.name for m in pkgutil.iter_modules(diagnose.mechanics.__path__))
MODULES = [importlib.import_module(f"diagnose.mechanics.{name}") for name in NAMES]
HELPERS = {"result", "published"}


@pytest.mark.parametrize("module", MODULES, ids=NAMES)
def test_doctests(module: ModuleType) -> None:
    done = doctest.testmod(module)
    assert done.failed == 0
    assert done.attempted > 0


@pytest.mark.parametrize("module", MODULES, ids=NAMES)
def test_every_public_function_says_enough(module: ModuleType) -> None:
    for name, function in inspect.getmembers(module, inspect.isfunction):
        if name.startswith("_") or function.__module__ != module.__name__:
            continue
        text = function.__doc__ or ""
        assert ">>>" in text, f"{module.__name__}.{name} has no worked example"
        if module.__name__.rsplit(".", 1)[-1] not in HELPERS:
            says_where = ("Source", "source", "Judgement")
            assert any(word in text for word in says_where), f"{module.__name__}.{name} names no source"
            assert "Raises" in text, f"{module.__name__}.{name} does not say what it raises"


def test_the_room_imports_nothing_else_of_the_project() -> None:
    for module in MODULES:
        text = inspect.getsource(module)
        for line in text.splitlines():
            if line.startswith(("from diagnose", "import diagnose")):
                assert line.startswith("from diagnose.mechanics"), line
