"""What a story demands, held against what the program says of it; and what it says, for one rule base to be compared with another."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from diagnose.assess import Assessment, assess
from diagnose.case.told import case_of
from diagnose.rulebase.entries import Story
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop

# Stories are told on one day, so that the same rule base always says the same.
TOLD_ON = date(2026, 3, 2)


def assess_story(story: Story, knowledge: Knowledge) -> Assessment:
    """The assessment of the case a story tells. Raises StoryError or Undecided."""
    return assess(case_of(story, knowledge), knowledge, Shop(), TOLD_ON, only=story.open)


@dataclass(frozen=True)
class Says:
    """What the program says of a story, without its figures: enough to tell one rule base from another."""

    first_cause: str
    decision: str
    method: str
    triage: str
    findings: tuple[str, ...]
    cautions: tuple[str, ...]
    refer_to: tuple[str, ...]
    banned: frozenset[str]
    ask_first: tuple[str, ...]
    steps: tuple[str, ...]


def says(got: Assessment) -> Says:
    """The words of an assessment of one damage."""
    (damage,) = got.damages
    leading = damage.causes_by_probability()
    return Says(
        first_cause=leading[0][0] if leading and leading[0][1] > damage.belief.something_else else "",
        decision=damage.decision.decision,
        method=damage.decision.method,
        triage=got.triage.value,
        findings=got.findings,
        cautions=got.cautions,
        refer_to=got.refer_to,
        banned=frozenset(option.method for option in damage.decision.options if option.verdict == "ruled_out"),
        ask_first=damage.deduction.targets("ask_first"),
        steps=tuple(planned.step.id for planned in got.plan),
    )


def verdicts(story: Story, knowledge: Knowledge, got: Assessment | None = None) -> list[str]:
    """Every demand that is not met, in words; empty when the story holds. `got` is its assessment, where that is known already."""
    return list(_unmet(story, got if got is not None else assess_story(story, knowledge)))


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
