"""The outside world in one object, so that a test can put another in its place: streams, terminal, today's date."""

import os
import re
import select
import sys
import textwrap
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from typing import TextIO

NARROWEST = 30
_INDENT = re.compile(r" *(?:\d+  )?")
_MARKS = re.compile(r"\x1b\[\d*m")


def folded(line: str, width: int) -> str:
    """A line of talk broken between words so that it fits a terminal; what runs on stands under the text, not under its number.

    >>> print(folded("  12  a word or two or three", 15))
      12  a word or
          two or
          three
    """
    plain = _MARKS.sub("", line)
    if len(plain) <= width:
        return line
    found = _INDENT.match(plain)
    under = " " * len(found[0]) if found is not None else ""
    text = textwrap.fill(plain, width, subsequent_indent=under, break_long_words=False, break_on_hyphens=False)
    # The marks of what stands out take no room; each goes back behind as many letters as stood before it.
    for mark in reversed(list(_MARKS.finditer(line))):
        letters = len("".join(_MARKS.sub("", line[: mark.start()]).split()))
        at = [0, *(place for place, letter in enumerate(text, start=1) if not letter.isspace())][letters]
        text = f"{text[:at]}{mark[0]}{text[at:]}"
    return text


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

    @property
    def width(self) -> int:
        """Columns of the terminal that is talked to; 0 where it is none or does not say."""
        try:
            return os.get_terminal_size(self.talk.fileno()).columns if self.talk.isatty() else 0
        except (OSError, ValueError):
            return 0

    def say(self, text: str = "") -> None:
        """A line of talk, broken between words where it would run over the edge of a terminal."""
        width = self.width
        print(folded(text, width - 1) if width >= NARROWEST else text, file=self.talk, flush=True)

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

    def pause(self, seconds: float) -> bool:
        """Wait so long, or until Enter is pressed where the system can tell; whether it was. EOFError when there is no more."""
        try:
            ready, _, _ = select.select([self.inp], [], [], seconds)
        except (OSError, ValueError):
            time.sleep(seconds)
            return False
        if ready and not self.inp.readline():
            raise EOFError
        return bool(ready)

    def ask(self, prompt: str) -> str:
        """One typed line, without its end; EOFError when there is no more."""
        self.talk.write(prompt)
        self.talk.flush()
        line = self.inp.readline()
        if not line:
            raise EOFError
        return line.strip()
