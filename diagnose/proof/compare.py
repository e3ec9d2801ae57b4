"""What changed between two rule bases: entries, rows, and what they say of the stories of the newer one."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields
from typing import Any

from diagnose.case.told import StoryError
from diagnose.decision.undecided import Undecided
from diagnose.proof.stories import Says, assess_story, says
from diagnose.rulebase.entries import Cause, Story
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.load import KINDS, MATERIALS


def compare(old: Knowledge, new: Knowledge, progress: Callable[[int, int], None] = lambda done, of: None) -> Iterator[str]:
    """One line for each difference: entries gone, come and changed; rows in their words; stories told otherwise.

    `progress` hears how many stories are done, of how many.
    """
    for kind in (*KINDS, *MATERIALS):
        before, after = getattr(old, kind), getattr(new, kind)
        yield from (f"{kind} {name}: gone" for name in before if name not in after)
        yield from (f"{kind} {name}: new" for name in after if name not in before)
        for name in after:
            if name in before and before[name] != after[name]:
                yield from _changed(kind, name, before[name], after[name])
    for number, told in enumerate(new.stories, start=1):
        yield from _told_otherwise(told.story, old, new)
        progress(number, len(new.stories))


def _changed(kind: str, name: str, before: Any, after: Any) -> Iterator[str]:
    if isinstance(before, Cause) and before.shows != after.shows:
        for sign in sorted({*before.shows, *after.shows}):
            was, now = before.shows.get(sign, {}), after.shows.get(sign, {})
            if was != now:
                yield f"causes {name}: {sign}: {_row(was)} → {_row(now)}"
    others = [
        field
        for field in type(after).model_fields
        if field != "shows" and getattr(before, field, None) != getattr(after, field, None)
    ]
    if others:
        yield f"{kind} {name}: changed in {', '.join(others)}"


def _row(row: Mapping[str, str]) -> str:
    return ", ".join(f"{reading} {word}" for reading, word in row.items()) or "no row"


def _said(story: Story, knowledge: Knowledge) -> Says | str:
    try:
        return says(assess_story(story, knowledge))
    except (StoryError, Undecided) as error:
        return str(error)


def _told_otherwise(story: Story, old: Knowledge, new: Knowledge) -> Iterator[str]:
    before, after = _said(story, old), _said(story, new)
    if before == after:
        return
    if isinstance(before, str) or isinstance(after, str):
        yield f"story {story.name}: {before if isinstance(before, str) else 'told'} → {after if isinstance(after, str) else 'told'}"
        return
    for field in fields(Says):
        was, now = getattr(before, field.name), getattr(after, field.name)
        if was != now:
            yield f"story {story.name}: {field.name.replace('_', ' ')}: {_difference(was, now)}"


def _difference(was: Any, now: Any) -> str:
    if isinstance(was, str):
        return f"{was or 'none'} → {now or 'none'}"
    gone, come = [x for x in was if x not in now], [x for x in now if x not in was]
    told = [f"without {', '.join(sorted(gone))}"] if gone else []
    told += [f"with {', '.join(sorted(come))}"] if come else []
    return "; ".join(told) or "in another order"
