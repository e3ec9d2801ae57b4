"""A condition asks about something that is neither a fact of the case, nor a sign, nor (in rules) a finding.

Gates of causes and of single readings use facts of the case only; gates of signs and methods use facts and readings, never
findings; rules and grounds of adhesives may ask for all three. What a story gives is held to the same words.
"""

from collections.abc import Iterator

from diagnose import words
from diagnose.rulebase.entries import Line, When
from diagnose.rulebase.fact_values import fact_values
from diagnose.rulebase.fault import Fault, Mark, nearest
from diagnose.rulebase.load import Loaded

CODE = "unknown-fact"
# What a story may give besides facts and readings.
OF_A_STORY = ("joints", "value")
NEEDED = ("piece", "damage")


def _values(loaded: Loaded) -> dict[str, frozenset[str]]:
    found = loaded.found
    return fact_values(found["pieces"].values(), loaded.woods.values(), found["findings"], found["signs"].values())


def _placed(condition: When, *path: str | int) -> Iterator[tuple[Line, tuple[str | int, ...]]]:
    for line in condition.lines:
        yield line, (*path, line.key)
    for index, branch in enumerate(condition.branches):
        for line in branch:
            yield line, (*path, "any", index, line.key)


def _line(known: dict[str, frozenset[str]], allowed: set[str], line: Line, mark: Mark) -> Iterator[Fault]:
    if line.key not in allowed:
        what = "cannot be asked here" if line.key in known else "is neither a fact, a sign nor a finding"
        yield Fault(mark, CODE, f"{line.key} {what}", nearest(line.key, allowed))
        return
    for value in line.values:
        if value not in known[line.key]:
            yield Fault(mark, CODE, f"{value} is not a value of {line.key}", nearest(value, known[line.key]))


def _given(value: object) -> list[str]:
    if isinstance(value, dict):
        value = value.get("reads")
    listed = value if isinstance(value, list) else [value]
    return [word for word in listed if isinstance(word, str)]


def _stories(loaded: Loaded, known: dict[str, frozenset[str]]) -> Iterator[Fault]:
    """What a story gives and no case can hold; a measured text is left to the story's own reading."""
    signs = loaded.found["signs"]
    allowed = {*words.CASE_FACTS, *signs, *OF_A_STORY}
    for document, place, told in loaded.stories:
        for key in NEEDED:
            if key not in told.story.given:
                mark = document.mark((*place, "given"))
                yield Fault(mark, CODE, f"a story gives {key}, and this one does not", f"{key}: one of the kinds of {key}")
        for key, value in told.story.given.items():
            at = (*place, "given", key)
            if key not in allowed:
                yield Fault(document.key_mark(at), CODE, f"{key} is neither a fact nor a sign", nearest(key, allowed))
            elif key not in OF_A_STORY and not (key in signs and signs[key].kind == "measure"):
                said = {words.CANNOT_TELL, "none"} if key in signs else set()
                for word in _given(value):
                    if word not in known[key] | said:
                        mark = document.mark(at)
                        yield Fault(mark, CODE, f"{word} is not a value of {key}", nearest(word, known[key]))


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
        ("finishes", facts | signs),
        ("cautions", facts),
    ):
        for entry in loaded.found[kind].values():
            for side in ("when", "unless"):
                for line, path in _placed(getattr(entry, side, When()), side):
                    yield from _line(known, allowed, line, loaded.key_mark(kind, entry.id, *path))
            for index, other in enumerate(getattr(entry, "exceptions", ())):
                for line, path in _placed(other.when, "except", index, "when"):
                    yield from _line(known, facts, line, loaded.key_mark(kind, entry.id, *path))
    for sign in loaded.found["signs"].values():
        for name, reading in sign.readings.items():
            for line, path in _placed(reading.when, "readings", name, "when"):
                yield from _line(known, facts, line, loaded.key_mark("signs", sign.id, *path))
    for method in loaded.found["methods"].values():
        for index, key in enumerate(method.only_if_known):
            if key not in (named := method.when.keys()):
                mark = loaded.mark("methods", method.id, "only_if_known", index)
                yield Fault(mark, CODE, f"{key} must be known, and no line of when asks for it", nearest(key, named))
    for step in loaded.found["steps"].values():
        for side in ("where", "unless"):
            for line, path in _placed(getattr(step, side), side):
                yield from _line(known, facts | signs, line, loaded.key_mark("steps", step.id, *path))
        for index, more in enumerate(step.also):
            for side in ("when", "unless"):
                for line, path in _placed(getattr(more, side), "also", index, side):
                    yield from _line(known, facts | signs | {words.FINDING}, line, loaded.key_mark("steps", step.id, *path))
    for glue in loaded.found["adhesives"].values():
        for index, ground in enumerate(glue.grounds):
            for side in ("when", "unless"):
                for line, path in _placed(getattr(ground, side), "grounds", index, side):
                    yield from _line(known, facts | signs | {words.FINDING}, line, loaded.key_mark("adhesives", glue.id, *path))
    yield from _stories(loaded, known)
