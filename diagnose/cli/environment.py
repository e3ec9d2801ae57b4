"""The outside world in one object, so that a test can put another in its place: streams, terminal, today's date."""

import os
import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from typing import TextIO


@dataclass
class Environment:
    """Streams and what is known about them. Results go to `out`, talk goes to `talk`."""

    inp: TextIO = field(default_factory=lambda: sys.stdin)
    out: TextIO = field(default_factory=lambda: sys.stdout)
    talk: TextIO = field(default_factory=lambda: sys.stderr)
    today: date = field(default_factory=date.today)

    @property
    def interactive(self) -> bool:
        """Whether somebody sits at a terminal and can be asked."""
        return self.inp.isatty() and self.talk.isatty()

    @property
    def coloured(self) -> bool:
        """Whether the talk may be coloured: only on a terminal, and never against NO_COLOR."""
        return self.talk.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"

    def say(self, text: str = "") -> None:
        """A line of talk."""
        print(text, file=self.talk, flush=True)

    def strong(self, text: str) -> str:
        """A text that stands out on a terminal and is plain elsewhere."""
        return f"\x1b[1m{text}\x1b[0m" if self.coloured else text

    def result(self, text: str) -> None:
        """A result."""
        self.out.write(text if text.endswith("\n") else text + "\n")
        self.out.flush()

    def progress(self, what: str) -> Callable[[int, int], None]:
        """Something that tells how far long work has come: one line rewritten on a terminal, a line now and then elsewhere."""
        end = "\r" if self.talk.isatty() else "\n"

        def tell(done: int, of: int) -> None:
            if done == of:
                print(f"{what}: {done} of {of}", file=self.talk, flush=True)
            elif self.talk.isatty() or done % max(1, of // 4) == 0:
                print(f"{what}: {done} of {of}", file=self.talk, end=end, flush=True)

        return tell

    def ask(self, prompt: str) -> str:
        """One typed line, without its end; EOFError when there is no more."""
        self.talk.write(prompt)
        self.talk.flush()
        line = self.inp.readline()
        if not line:
            raise EOFError
        return line.strip()
