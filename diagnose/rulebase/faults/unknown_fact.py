"""A condition asks about something that is neither a fact of the case, nor a sign, nor (in rules) a finding.

Gates of causes use facts of the case only; gates of signs and methods use facts and readings, never findings.
"""

from collections.abc import Iterator

from diagnose import words
from diagnose.rulebase.entries import Line, When
from diagnose.rulebase.fault import Fault, nearest
from diagnose.rulebase.load import Loaded

CODE = "unknown-fact"


def _values(loaded: Loaded) -> dict[str, set[str]]:
    pieces = loaded.found["pieces"].values()
    known: dict[str, set[str]] = {
        "piece": {piece.id for piece in pieces} | {piece.group for piece in pieces},
        "damage": set(words.DAMAGES),
        "joint": set(words.JOINT_KINDS),
        "part": {part for piece in pieces for part in piece.parts},
        "carries": set(words.CARRIES),
        "consequence": set(words.CONSEQUENCES),
        "moving_joints": set(words.COUNT_WORDS),
        words.FINDING: set(loaded.found["findings"]),
        "wood": set(loaded.woods) | {wood.group for wood in loaded.woods.values()},
    }
    known.update({sign.id: set(sign.readings) for sign in loaded.found["signs"].values()})
    return known


def _lines(loaded: Loaded, known: dict[str, set[str]], allowed: set[str], line: Line, mark_of: tuple[str, str, str]) -> Iterator[Fault]:
    kind, entry_id, side = mark_of
    mark = loaded.key_mark(kind, entry_id, side, line.key)
    if line.key not in allowed:
        what = "cannot be asked here" if line.key in known else "is neither a fact, a sign nor a finding"
        yield Fault(mark, CODE, f"{line.key} {what}", nearest(line.key, allowed))
        return
    for value in line.values:
        if value not in known[line.key]:
            yield Fault(mark, CODE, f"{value} is not a value of {line.key}", nearest(value, known[line.key]))


def check(loaded: Loaded) -> Iterator[Fault]:
    """Every line of every condition that can never be answered."""
    known = _values(loaded)
    facts = set(words.CASE_FACTS)
    signs = set(loaded.found["signs"])
    for kind, allowed in (
        ("signs", facts | signs),
        ("causes", facts),
        ("methods", facts | signs),
        ("logic", facts | signs | {words.FINDING}),
    ):
        for entry in loaded.found[kind].values():
            for side in ("when", "unless"):
                condition: When | None = getattr(entry, side, None)
                for line in condition.all_lines() if condition else ():
                    yield from _lines(loaded, known, allowed, line, (kind, entry.id, side))
            for other in getattr(entry, "exceptions", ()):
                for line in other.when.all_lines():
                    yield from _lines(loaded, known, facts, line, (kind, entry.id, "except"))
