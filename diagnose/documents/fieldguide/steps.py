"""Step pages: what is done and why, how long, with what, and what must be seen before one goes on."""

import re

from diagnose import words
from diagnose.documents.fieldguide import told
from diagnose.documents.fieldguide.blocks import (
    Block,
    Box,
    Facts,
    Inline,
    Link,
    Page,
    Para,
    Phrase,
    Section,
    contents,
    in_a_row,
    items,
    phrase,
    present,
    section,
)
from diagnose.documents.fieldguide.stock import Stock
from diagnose.documents.say import first_down, first_up, plain, wait
from diagnose.rulebase.entries import Step

UP = Link("Steps", "list:steps")
# A step that every other method uses needs no list of them all.
MOST_METHODS = 4
# Nor does one that comes late need every step before it.
MOST_BEFORE = 5
_PER = {"piece": "once for the piece", "damage": "for each damage", "part": "for each part", "bond": "for each glue line"}
# What a step says of a case, said of any.
_ANY = {
    "piece": "the piece",
    "part": "the part",
    "joint": "the joint",
    "bond.faces": "the faces that meet",
    "adhesive": "the glue",
}
_PLACEHOLDER = re.compile(r"\{([a-z.]+)\}")
_TWICE = re.compile(r"\b([Tt]he|[Aa]|[Ee]ach|[Ee]very|[Tt]his|[Tt]hat|[Oo]ld|[Nn]ew) the\b")


def generic(text: str) -> str:
    """The words of a step where no case is at hand.

    >>> generic("Set {piece} on pads, the {part} up.")
    'Set the piece on pads, the part up.'
    """
    return first_up(_TWICE.sub(r"\1", _PLACEHOLDER.sub(lambda match: _ANY.get(match[1], plain(match[1])), text)))


def _facts(stock: Stock, step: Step) -> Facts:
    rows: list[tuple[str, Phrase]] = [
        ("Done", (_PER[step.per],)),
        (
            "Minutes",
            (
                told.minutes(step.minutes)
                + ("" if step.then is None or step.per == "piece" else f"; each further one {told.minutes(step.then)}"),
            ),
        ),
    ]
    if step.wait_hours:
        rows.append(("Then wait", (wait(step.wait_hours),)))
    if step.trade != "us":
        rows.append(("Done by", (words.BYS[step.trade],)))
    if step.tools:
        rows.append(("Tools", in_a_row(list(step.tools))))
    if step.uses:
        used = [
            (
                Link(stock.knowledge.consumables[name].name, f"consumable:{name}"),
                f" {told.number(many)} {stock.knowledge.consumables[name].unit}",
            )
            for name, many in step.uses.items()
        ]
        rows.append(("Uses up", in_a_row(used)))
    rows.append(("Can be undone", ("yes",) if step.undo else ("no",)))
    return Facts(tuple(rows))


def _used(stock: Stock, step: Step) -> Phrase:
    methods = list(stock.methods_with(step.id))
    said = in_a_row([Link(method.name, f"method:{method.id}") for method in methods[:MOST_METHODS]], between="; ")
    if len(methods) <= MOST_METHODS:
        return said
    return phrase(said, f"; and {len(methods) - MOST_METHODS} more of ", Link("all methods", "list:methods"))


def _round_it(stock: Stock, step: Step) -> list[tuple[str, Phrase]]:
    """What a step hangs together with: hazards, the steps before it, methods, rules, sources."""
    knowledge = stock.knowledge
    cautions = [Link(knowledge.cautions[hazard].called, f"caution:{hazard}") for hazard in step.hazards]
    before: list[Inline | Phrase] = [
        Link(first_down(knowledge.steps[name].called), f"step:{name}") for name in step.after[:MOST_BEFORE]
    ]
    if (left := len(step.after) - len(before)) > 0:
        before.append(f"{left} more")
    rules = [Link(rule.called, f"rule:{rule.id}") for rule in stock.rules_with("require", step.id)]
    rows = [
        ("Cautions", in_a_row(cautions, between="; ")),
        ("Comes after", in_a_row(before, last=" and ")),
        ("Methods that use it", _used(stock, step)),
        ("Rules that require it", in_a_row(rules, between="; ")),
        ("Sources", in_a_row([told.cited(knowledge, cite) for cite in step.sources], between="; ")),
    ]
    return [(what, said) for what, said in rows if said]


def step_section(stock: Stock, step: Step) -> Section:
    """One step among those of its phase."""
    hold = told.hold_point(stock.knowledge, step)
    blocks = present(
        Para((generic(step.do),)),
        Para(phrase("Why: ", generic(step.why))),
        Box("Hold point", (Para(hold[1:]),)) if hold else None,
        Facts((*_facts(stock, step).rows, *_round_it(stock, step))),
    )
    return Section(step.called, blocks, f"step:{step.id}")


def phase_pages(stock: Stock) -> tuple[Page, ...]:
    """The steps, a page for each phase that has any."""
    found = []
    for phase, called in words.PHASES.items():
        steps = [step for step in stock.knowledge.steps.values() if step.phase == phase]
        if steps:
            sections = [step_section(stock, step) for step in steps]
            blocks: tuple[Block, ...] = (contents(sections), *sections) if len(sections) > 1 else tuple(sections)
            found.append(
                Page(f"phase:{phase}", f"step/{phase}.html", called, "steps", blocks, (UP,), (f"Steps: {called.lower()}",))
            )
    return tuple(found)


def step_list(stock: Stock) -> Page:
    """All steps, phase by phase."""
    found = []
    for phase, called in words.PHASES.items():
        listed = items((Link(s.called, f"step:{s.id}"),) for s in stock.knowledge.steps.values() if s.phase == phase)
        found.append(section(called, listed))
    lead = Para(("What is done at the bench, in the order in which a plan puts it.",), "lead")
    return Page("list:steps", "steps.html", "Steps", "list", present(lead, *found), names=("Steps, all",))
