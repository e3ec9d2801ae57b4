"""What a story demands, held against what the program says of it."""

from collections.abc import Iterator
from datetime import date

from diagnose.assess import Assessment, assess
from diagnose.case.told import case_of
from diagnose.rulebase.entries import Story
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop

TODAY = date(2026, 3, 2)


def assess_story(story: Story, knowledge: Knowledge) -> Assessment:
    """The assessment of the case a story tells."""
    return assess(case_of(story, knowledge), knowledge, Shop(), TODAY, only=story.open)


def verdicts(story: Story, knowledge: Knowledge) -> list[str]:
    """Every demand that is not met, in words; empty when the story holds."""
    return list(_unmet(story, assess_story(story, knowledge)))


def _unmet(story: Story, got: Assessment) -> Iterator[str]:
    (damage,) = got.damages
    expect, never = story.expect, story.never
    leading = damage.causes_by_probability()
    first = leading[0][0] if leading else "something_else"
    top = ", ".join(f"{name} {p:.2f}" for name, p in leading[:4])
    fired = {trace.rule for trace in damage.deduction.traces}
    said = damage.deduction
    classes = set(said.targets("forbid_class"))
    forbidden = {name for name, method in got.knowledge.methods.items() if method.decision in classes}
    forbidden |= set(said.targets("forbid_method"))
    ruled_out = forbidden | {option.method for option in damage.decision.options if option.verdict == "ruled_out"}
    if expect.first_cause and first != expect.first_cause:
        yield f"cause: {expect.first_cause} wanted first; {top}"
    for name, floor in expect.at_least.items():
        if damage.belief.causes.get(name, 0.0) < floor:
            yield f"belief: {name} wanted at {floor:.2f}; {top}"
    if first in never.causes:
        yield f"cause: {first} must not be first; {top}"
    for what, wanted, have in (
        ("rule", expect.rules, fired),
        ("finding", expect.findings, set(said.findings)),
        ("caution", expect.cautions, set(got.cautions)),
        ("require", expect.requires, set(said.targets("require"))),
        ("forbid", expect.forbids, ruled_out),
    ):
        for name in wanted:
            if name not in have:
                yield f"{what}: {name} wanted"
    for what, banned, have in (
        ("rule", never.rules, fired),
        ("finding", never.findings, set(said.findings)),
        ("caution", never.cautions, set(got.cautions)),
        ("require", never.requires, set(said.targets("require"))),
        ("forbid", never.forbids, forbidden),
        ("triage", never.triage, {got.triage.value}),
        ("method", never.methods, {damage.decision.method}),
        ("class", never.classes, {damage.decision.decision}),
    ):
        for name in banned:
            if name in have:
                yield f"{what}: {name} must not come"
    for what, word, have_one in (
        ("triage", expect.triage, got.triage.value),
        ("class", expect.decision, damage.decision.decision),
        ("method", expect.method, damage.decision.method),
    ):
        if word and word != have_one:
            yield f"{what}: {word} wanted, {have_one} ({damage.decision.method}) came"
