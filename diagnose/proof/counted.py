"""Which entries count: those whose removal changes what the program says of at least one story.

An entry that can be taken out without a story noticing is not proved, and perhaps not needed. Steps, cautions and findings count when
some story's plan or advice holds them; methods when some story is advised them or demands that they be ruled out; signs, causes and
rules are really taken out, and the stories that touch them told again.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import islice
from typing import Any

from diagnose.decision.undecided import Undecided
from diagnose.proof.stories import Says, assess_story, says, verdicts
from diagnose.reasoning.engine import set_aside
from diagnose.rulebase.entries import Story
from diagnose.rulebase.knowledge import Knowledge

COUNTED_KINDS = ("signs", "causes", "methods", "steps", "logic", "cautions", "findings")


@dataclass(frozen=True)
class Told:
    """A story, what the program says of it, which rules fired, and whether its demands are met."""

    story: Story
    says: Says
    fired: frozenset[str]
    holds: bool


def tell(knowledge: Knowledge) -> Iterator[Told]:
    """Every story as the whole rule base tells it."""
    for told in knowledge.stories:
        got = assess_story(told.story, knowledge)
        fired = frozenset(trace.rule for damage in got.damages for trace in damage.deduction.traces)
        yield Told(told.story, says(got), fired, not verdicts(told.story, knowledge, got))


def without(knowledge: Knowledge, kind: str, entry_id: str) -> Knowledge:
    """The rule base without one sign, cause, method or rule."""
    kept = {name: entry for name, entry in getattr(knowledge, kind).items() if name != entry_id}
    changed: dict[str, Any] = {kind: kept}
    return replace(knowledge, version=f"{knowledge.version} without {kind} {entry_id}", **changed)


def _spared(story: Story, kind: str, entry_id: str) -> Story:
    """The story as it is told once an entry is gone: nobody can answer a sign that is not there, nor open a cause."""
    if kind == "signs":
        return story.model_copy(update={"given": {key: value for key, value in story.given.items() if key != entry_id}})
    if kind == "causes":
        return story.model_copy(update={"open": tuple(name for name in story.open if name != entry_id)})
    return story


def _touches(told: Told, kind: str, entry_id: str) -> bool:
    story = told.story
    if kind == "signs":
        return entry_id in story.given
    if kind == "causes":
        return entry_id == told.says.first_cause or entry_id in (*story.open, *story.expect.at_least, *story.never.causes)
    return entry_id in told.fired


def _changes(told: Told, knowledge: Knowledge, kind: str, entry_id: str) -> bool:
    story = _spared(told.story, kind, entry_id)
    try:
        got = assess_story(story, knowledge)
    except Undecided:
        return True
    return says(got) != told.says or (told.holds and bool(verdicts(told.story, knowledge, got)))


def _held(stories: Iterable[Told], kind: str) -> Iterator[tuple[str, str]]:
    for told in stories:
        if kind == "methods":
            names: Iterable[str] = (told.says.method, *told.story.expect.forbids)
        else:
            names = getattr(told.says, kind)
        for name in names:
            yield name, told.story.name


def counted(
    knowledge: Knowledge, stories: Iterable[Told], kinds: Iterable[str] = COUNTED_KINDS
) -> Iterator[tuple[str, str, str]]:
    """(kind, entry, name of a story that changes without it, or nothing) for every entry of these kinds."""
    stories = list(stories)
    for kind in kinds:
        entries: Mapping[str, object] = getattr(knowledge, kind)
        if kind in ("methods", "steps", "cautions", "findings"):
            held = dict(_held(stories, kind))
            yield from ((kind, name, held.get(name, "")) for name in entries)
            continue
        for name in entries:
            yield kind, name, story_that_changes(knowledge, stories, kind, name)


def story_that_changes(knowledge: Knowledge, stories: Iterable[Told], kind: str, entry_id: str, most: int = 12) -> str:
    """The name of the first of at most `most` touching stories that changes without an entry; nothing when none does."""
    lesser = without(knowledge, kind, entry_id)
    touching = (told for told in stories if _touches(told, kind, entry_id))
    with set_aside():
        return next((told.story.name for told in islice(touching, most) if _changes(told, lesser, kind, entry_id)), "")
