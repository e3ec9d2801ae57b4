"""What the tests of the command line share."""

import pytest

from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from tests.cli.running import Program


@pytest.fixture
def program(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Program:
    """The command line in this process."""
    return Program(monkeypatch, capsys)


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    """The delivered rule base."""
    return load_knowledge()
