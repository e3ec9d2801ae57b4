"""The plan's sections on hold points and protection: how each is tested, what each hazard asks for, what is breathed through."""

from collections.abc import Sequence

from diagnose.assess import Assessment
from diagnose.documents import md, say
from diagnose.documents.plan_colour import named_finishes
from diagnose.documents.plan_steps import hazards_by_step
from diagnose.planning.gluing import Gluing
from diagnose.planning.protection import protection, respirator_for
from diagnose.rulebase.entries import Respirator


def hold_points(assessment: Assessment) -> str:
    """Each test once, with how it is done at the bench and the steps that hang on it; empty where nothing holds."""
    steps: dict[tuple[str, str], list[str]] = {}
    for number, planned in enumerate(assessment.plan, start=1):
        if planned.step.check is not None:
            steps.setdefault((planned.step.check.sign, planned.step.check.reads), []).append(str(number))
    signs = assessment.knowledge.signs
    rows = [
        (", ".join(numbers), signs[name].ask or signs[name].called, signs[name].look or "", signs[name].say(reads), "☐")
        for (name, reads), numbers in steps.items()
    ]
    return md.table(("step", "test", "how", "go on when", ""), rows) if rows else ""


def worn(assessment: Assessment, by_step: Sequence[Sequence[str]]) -> dict[str, list[str]]:
    """What must be breathed through, by its id, with the numbers of the steps that ask for it."""
    found: dict[str, list[str]] = {}
    for number, hazards in enumerate(by_step, start=1):
        respirator = protection(assessment.knowledge, hazards).respirator
        if respirator is not None:
            found.setdefault(respirator.id, []).append(str(number))
    return found


def section(assessment: Assessment, glue: Sequence[Gluing]) -> str:
    """Every hazard with its steps and its authority, and the respirators they ask for; of glues only those that were chosen."""
    knowledge = assessment.knowledge
    by_step = hazards_by_step(assessment, glue)
    told = [name for hazards in by_step for name in hazards]
    of_steps = {name for planned in assessment.plan for name in planned.step.hazards}
    rows = []
    for name in dict.fromkeys([*(name for name in assessment.cautions if name not in of_steps or name in told), *told]):
        caution = knowledge.cautions[name]
        steps = [str(i) for i, hazards in enumerate(by_step, start=1) if name in hazards]
        rows.append((", ".join(steps) or "–", caution.hazard, caution.do, say.plain(caution.authority)))
    if not rows:
        return "Nothing out of the ordinary."
    masks = worn(assessment, by_step)
    if any(planned.step.lays == "finish" for planned in assessment.plan):
        for finish in named_finishes(assessment):
            respirator = respirator_for(knowledge, finish.air)
            if respirator is not None:
                masks.setdefault(respirator.id, []).append(finish.name.lower())
    return md.join(md.table(("step", "hazard", "what to do", "who says so"), rows), _respirators(assessment, masks))


def _respirators(assessment: Assessment, masks: dict[str, list[str]]) -> str:
    known: Sequence[Respirator] = sorted(assessment.knowledge.respirators.values(), key=lambda one: one.rank)
    rows = [
        (", ".join(masks[one.id]), one.name, one.grade, one.keep, one.change, f"{one.authority}{_how_known(one)}")
        for one in known
        if one.id in masks
    ]
    if not rows:
        return ""
    head = ("step", "breathe through", "class", "kept", "changed", "who says so")
    note = "A beard breaks the seal of every mask. No figure in this plan is a legal limit; the law of the place is."
    return md.join(md.heading("What is breathed through", 3), md.table(head, rows), note)


def _how_known(one: Respirator) -> str:
    return {"memory": " [remembered, not read]", "read_second_hand": " [at second hand]"}.get(one.known_by, "")
