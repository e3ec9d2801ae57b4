"""The plan's sections on hold points and protection: how each is tested, what each hazard asks for, what is breathed through."""

from collections.abc import Sequence

from diagnose.assess import Assessment
from diagnose.documents import md, say
from diagnose.planning.colour import found
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
        (", ".join(numbers), signs[name].ask or say.plain(name), signs[name].look or "", signs[name].say(reads), "☐")
        for (name, reads), numbers in steps.items()
    ]
    return md.table(("step", "test", "how", "go on when", ""), rows) if rows else ""


def section(assessment: Assessment) -> str:
    """Every hazard with its steps and its authority, and the respirators they ask for."""
    knowledge = assessment.knowledge
    rows = []
    for name in assessment.cautions:
        caution = knowledge.cautions[name]
        steps = [str(i) for i, p in enumerate(assessment.plan, start=1) if name in p.step.hazards]
        rows.append((", ".join(steps) or "–", caution.hazard, caution.do, say.plain(caution.authority)))
    if not rows:
        return "Nothing out of the ordinary."
    worn: dict[str, list[str]] = {}
    for number, planned in enumerate(assessment.plan, start=1):
        respirator = protection(knowledge, planned.step.hazards).respirator
        if respirator is not None:
            worn.setdefault(respirator.id, []).append(str(number))
    if not any(planned.step.lays == "finish" for planned in assessment.plan):
        return md.join(md.table(("step", "hazard", "what to do", "who says so"), rows), _respirators(assessment, worn))
    for finish in (f for d in assessment.damages for f in found(knowledge, d.facts.values)):
        respirator = respirator_for(knowledge, finish.air)
        if respirator is not None and finish.name.lower() not in worn.get(respirator.id, []):
            worn.setdefault(respirator.id, []).append(finish.name.lower())
    return md.join(md.table(("step", "hazard", "what to do", "who says so"), rows), _respirators(assessment, worn))


def _respirators(assessment: Assessment, worn: dict[str, list[str]]) -> str:
    known: Sequence[Respirator] = sorted(assessment.knowledge.respirators.values(), key=lambda one: one.rank)
    rows = [
        (", ".join(worn[one.id]), one.name, one.grade, one.keep, one.change, f"{one.authority}{_how_known(one)}")
        for one in known
        if one.id in worn
    ]
    if not rows:
        return ""
    head = ("step", "breathe through", "class", "kept", "changed", "who says so")
    note = "A beard breaks the seal of every mask. No figure in this plan is a legal limit; the law of the place is."
    return md.join(md.heading("What is breathed through", 3), md.table(head, rows), note)


def _how_known(one: Respirator) -> str:
    return {"memory": " [remembered, not read]", "read_second_hand": " [at second hand]"}.get(one.known_by, "")
