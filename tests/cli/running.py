"""Running the command line as a user does: in this process with captured streams, or at a real pseudo-terminal."""

import os
import signal
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pexpect
import pytest

from diagnose.cli.app import run
from diagnose.rulebase.entries import Sign
from diagnose.rulebase.knowledge import Knowledge

ROOT = Path(__file__).parent.parent.parent
EXAMPLES = ROOT / "guide" / "examples"
PROGRAM = Path(sys.executable).with_name("diagnose")
PROMPT = "> $"


@dataclass(frozen=True)
class Ran:
    """What a command said and how it ended."""

    code: int
    out: str
    err: str


class Program:
    """The command line in this process: `program("assess", path)`; standard input is no terminal."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        self.monkeypatch = monkeypatch
        self.capsys = capsys

    def __call__(self, *arguments: object) -> Ran:
        """Run with these arguments."""
        self.monkeypatch.setattr(sys, "argv", ["diagnose", *map(str, arguments)])
        self.capsys.readouterr()
        with pytest.raises(SystemExit) as ended:
            run()
        captured = self.capsys.readouterr()
        assert isinstance(ended.value.code, int)
        return Ran(ended.value.code, captured.out, captured.err)


def _heed_interrupts() -> None:
    """A terminal's program heeds Ctrl-C, also where the tests were started in the background and inherit that it is ignored."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


class Terminal:
    """The program at a pseudo-terminal, one prompt at a time."""

    def __init__(self, *arguments: object, **environment: str) -> None:
        env = {**os.environ, "TERM": "dumb", "OPENBLAS_NUM_THREADS": "1", "PYTHONUTF8": "1", **environment}
        listed = [str(argument) for argument in arguments]
        self.child: Any = pexpect.spawn(
            str(PROGRAM),
            listed,
            env=env,
            encoding="utf-8",
            codec_errors="replace",
            dimensions=(60, 4000),
            timeout=20,
            preexec_fn=_heed_interrupts,
        )
        self.child.delaybeforesend = None
        self.child.delayafterread = None
        self.said = ""
        self.ended = False
        self.listen()

    def listen(self) -> str:
        """Everything said up to the next prompt, or to the end."""
        self.ended = self.child.expect([PROMPT, pexpect.EOF]) == 1
        self.said = self.child.before.replace("\r\n", "\n")
        if self.ended:
            self.child.close()
        return self.said

    def type(self, line: str) -> str:
        """Type a line; what is said up to the next prompt, without the echo."""
        self.child.sendline(line)
        return self.listen().partition("\n")[2]

    def press(self, key: str) -> str:
        """Press a key together with control; what is said until the end."""
        self.child.sendcontrol(key)
        return self.listen()

    def kill(self) -> None:
        """End it as a power cut would."""
        self.child.kill(9)
        self.child.expect(pexpect.EOF)
        self.child.close()

    @property
    def code(self) -> int:
        """The exit code; only after the end."""
        assert self.ended, self.said
        assert isinstance(self.child.exitstatus, int), self.child.signalstatus
        return self.child.exitstatus


def asked(knowledge: Knowledge, said: str) -> Sign:
    """The sign whose question was asked last."""
    lines = said.splitlines()
    by_question = {sign.ask: sign for sign in knowledge.signs.values() if sign.ask}
    found = [by_question[line] for line in lines if line in by_question]
    assert found, said
    return found[-1]
