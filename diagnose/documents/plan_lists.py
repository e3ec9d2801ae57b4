"""The plan's lists: tools, what is used up, what must be in hand first, photographs, evidence, and the line left inside the piece."""

from collections.abc import Sequence

from diagnose.assess import Assessment
from diagnose.documents import md, plan_protection, plan_steps, say
from diagnose.planning.gluing import Gluing
from diagnose.planning.lists import Bought, Used, evidence, pencil_line, photographs, to_buy, tools, used_up


def lay_ready(assessment: Assessment, glue: Sequence[Gluing]) -> str:
    """Tools, what is used up, and what must be in hand before anything is opened."""
    named = tools(assessment.plan)
    used = used_up(assessment.knowledge, assessment.plan)
    glues = list(dict.fromkeys(one.best.adhesive.name.lower() for one in glue if one.best is not None))
    rows = [(_name(one, glues), _amount(one), ", ".join(str(n) for n in one.steps)) for one in used]
    return md.join(
        f"Tools: {', '.join(named)}." if named else "",
        _masks(assessment, glue),
        md.table(("used up", "lay ready", "for step"), rows) if rows else "",
        _to_buy(to_buy(used, assessment.shop.in_rack)),
    )


def _name(one: Used, glues: Sequence[str]) -> str:
    return f"{one.thing.name} ({say.listed(glues)})" if one.thing.chosen == "adhesive" and glues else one.thing.name


def _masks(assessment: Assessment, glue: Sequence[Gluing]) -> str:
    """What must be at hand to be breathed through, with its steps."""
    masks = plan_protection.worn(assessment, plan_steps.hazards_by_step(assessment, glue))
    known = sorted((assessment.knowledge.respirators[name] for name in masks), key=lambda one: one.rank)
    return "".join(f"To breathe through: {one.name.lower()} (step {', '.join(masks[one.id])}). " for one in known).rstrip()


def _amount(one: Used) -> str:
    """How much is laid ready; of what is counted one by one the number alone."""
    ready = f"{one.ready:.0f}" if one.thing.counted else f"{one.ready:.2g}" if one.ready < 10 else f"{one.ready:.0f}"
    each, several = one.thing.unit == "each", ready != "1" and one.thing.unit != "ml"
    unit = "" if each else f" {one.thing.unit}{'s' if several else ''}"
    return f"{ready}{unit}" + (f" ({one.thing.over:.0%} over)" if one.thing.over and not one.thing.counted else "")


def _to_buy(bought: Sequence[Bought]) -> str:
    if not bought:
        return ""
    rows = [
        (
            one.used.thing.name,
            _amount(one.used),
            "☒ by the shop's list" if one.in_rack else "☐",
            "" if one.in_rack else f"☐ {one.days[0]:g} to {one.days[1]:g} days",
            "" if one.in_rack else "☐",
        )
        for one in bought
    ]
    hold = "**Hold: nothing is taken apart or cut before each of these is in hand.** Not found is told to the owner before the piece is opened. ☐"
    return md.join(
        md.heading("In hand before it is opened", 3),
        md.table(("what", "how much", "in the rack", "to order", "not found"), rows),
        hold,
    )


def keep(assessment: Assessment, glue: Sequence[Gluing]) -> str:
    """Photographs, evidence and the pencil line, each with its step."""
    plan = assessment.plan
    pictures = [f"☐ Step {number}: {what}." for number, what in photographs(plan)]
    kept = [f"☐ Step {number}: {what}." for number, what in evidence(plan)]
    kept.append("☐ The recipe of colour and finish, on the card, where any was laid.")
    blocks = [md.heading("Photographs", 3), md.bullets(pictures)] if pictures else []
    blocks += [md.heading("Evidence", 3), md.bullets(kept)]
    line = line_inside(assessment, glue)
    if line:
        blocks.append(f"Pencil line inside, under a rail: “{line}”. On museum work it goes on paper only.")
    return md.join(*blocks)


def line_inside(assessment: Assessment, glue: Sequence[Gluing]) -> str:
    """The line left inside the piece; empty where nothing is done to it."""
    if not assessment.damages or not assessment.plan:
        return ""
    glues = [one.best.adhesive.name for one in glue if one.best is not None]
    places = list(dict.fromkeys(say.plain(d.damage.joint or d.damage.part or d.damage.kind) for d in assessment.damages))
    return pencil_line(md.safe(assessment.case.number), assessment.today, glues, places)
