"""A fault is data: where, which code, what is wrong, and the nearest right thing."""

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches


@dataclass(frozen=True, order=True)
class Mark:
    """A place in a file; line and column count from 1."""

    file: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, order=True)
class Fault:
    """One thing wrong with a file that a person wrote."""

    mark: Mark
    code: str
    message: str
    hint: str = ""
    severity: str = "error"

    def __str__(self) -> str:
        text = f"{self.mark} {self.code} {self.message}"
        return f"{text}; {self.hint}" if self.hint else text


class FaultsFound(Exception):
    """Raised when a file cannot be used; carries every fault, not only the first."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(sorted(faults))
        super().__init__("\n".join(str(fault) for fault in self.faults))


def nearest(word: str, known: Iterable[str]) -> str:
    """The hint that names the closest valid word, or says which words there are.

    >>> nearest("brake_path", ["break_path", "joint_gap"])
    'did you mean break_path?'
    >>> nearest("zzz", ["b", "a"])
    'one of: a, b'
    """
    names = sorted(set(known))
    close = get_close_matches(word, names, n=1, cutoff=0.6)
    if close:
        return f"did you mean {close[0]}?"
    if not names:
        return ""
    return "one of: " + ", ".join(names[:12]) + (" …" if len(names) > 12 else "")
