"""The steps of the plan in words: what, why, how long, what to wear, what must hold before going on, and who asked for it."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from diagnose import words
from diagnose.assess import Assessment
from diagnose.documents import md, plan_glue, say
from diagnose.planning.compose import PlannedStep
from diagnose.planning.glue_lines import uses_glue
from diagnose.planning.gluing import Gluing
from diagnose.planning.protection import protection
from diagnose.planning.since import Worded
from diagnose.planning.waiting import soft_at
from diagnose.rulebase.entries import Adhesive
from diagnose.rulebase.knowledge import Knowledge

# A word before a place that is filled with "the …" stands in place of that "the"; the same words before any other "the" are left alone.
_PLACEHOLDER = re.compile(r"(\b(?:the|a|each|every|this|old|new) )?\{([a-z_.]+)\}", re.IGNORECASE)
_STEP = re.compile(r"- \*\*\d+\.\*\* ")


@dataclass(frozen=True)
class ToldStep:
    """A step in words, its number left out, and every fact that its words hang on."""

    planned: PlannedStep
    worded: Worded
    facts: tuple[str, ...]


def told_steps(assessment: Assessment, glue: Sequence[Gluing]) -> tuple[ToldStep, ...]:
    """Every step of the plan, in its order."""
    hours = plan_glue.waits_of(assessment, glue)
    return tuple(
        _told(
            assessment,
            planned,
            plan_glue.glue_for(assessment, glue, index),
            hours[index],
            _glued_here(glue, planned),
            soft_at(assessment.plan, glue, index),
        )
        for index, planned in enumerate(assessment.plan)
    )


def _glued_here(glue: Sequence[Gluing], planned: PlannedStep) -> Gluing | None:
    return next((gluing for gluing in glue if gluing.work.step is planned), None)


def steps(told: Sequence[ToldStep]) -> Iterable[str]:
    """The steps as Markdown, numbered, a heading for each phase."""
    phase = ""
    lines: list[str] = []
    for number, step in enumerate(told, start=1):
        if step.worded.phase != phase:
            if lines:
                yield "\n".join(lines)
                lines = []
            phase = step.worded.phase
            yield md.heading(phase, 3)
        lines.append(f"- **{number}.** {step.worded.text}")
    if lines:
        yield "\n".join(lines)


def read_steps(plan_text: str) -> tuple[Worded, ...]:
    """The steps of a plan that was written as Markdown; empty where the text is none.

    >>> read_steps("## Steps\\n\\n### Glue\\n\\n- **7.** Spread.\\n    - Why: so.\\n\\n## Time\\n- **8.** no\\n")
    (Worded(phase='Glue', text='Spread.\\n    - Why: so.'),)
    """
    found: list[Worded] = []
    inside, phase = False, ""
    for line in plan_text.splitlines():
        if line.startswith("## "):
            inside = line == "## Steps"
        elif inside and line.startswith("### "):
            phase = line[4:].strip()
        elif inside and (start := _STEP.match(line)):
            found.append(Worded(phase, line[start.end() :]))
        elif inside and line.startswith("    - ") and found:
            found[-1] = Worded(found[-1].phase, f"{found[-1].text}\n{line}")
    return tuple(found)


def hazards_by_step(assessment: Assessment, glue: Sequence[Gluing]) -> tuple[tuple[str, ...], ...]:
    """The hazards of every step of the plan, in its order, with the glues that were chosen and those that are still soft beside it."""
    return tuple(
        hazards_of(assessment, planned, plan_glue.glue_for(assessment, glue, index), soft_at(assessment.plan, glue, index))
        for index, planned in enumerate(assessment.plan)
    )


def hazards_of(
    assessment: Assessment, planned: PlannedStep, adhesive: Adhesive | None, soft: Sequence[Adhesive] = ()
) -> tuple[str, ...]:
    """The hazards of a step: its own, of a gluing step only those of glues that are the chosen one's, and the chosen one's.

    What is cut beside a glue before its full cure has the hazards of that glue too: its dust is the worst of it.
    """
    knowledge = assessment.knowledge
    beside = [hazard for glue in soft for hazard in glue.hazards]
    if adhesive is None or not uses_glue(knowledge, planned.step):
        return tuple(dict.fromkeys([*planned.step.hazards, *beside]))
    of_glues = {hazard for glue in knowledge.adhesives.values() for hazard in glue.hazards}
    own = [hazard for hazard in planned.step.hazards if hazard not in of_glues]
    return tuple(dict.fromkeys([*own, *adhesive.hazards, *beside]))


def _fill(text: str, assessment: Assessment, planned: PlannedStep, adhesive: Adhesive | None) -> str:
    damages = [d.damage for d in assessment.damages if d.damage.id in planned.damages]
    parts = list(dict.fromkeys(say.plain(d.part) for d in damages if d.part))
    joints = list(dict.fromkeys(say.plain(d.joint) for d in damages if d.joint))
    several = planned.count > 1
    known = {
        "piece": "the " + assessment.knowledge.pieces[assessment.case.piece].name.lower(),
        "part": "the " + (say.listed(parts) or "part"),
        "joint": "the joint " + say.listed(joints) if joints and not several else "the joints" if several else "the joint",
        "bond.faces": "the faces that meet",
        "adhesive": adhesive.name.lower() if adhesive is not None else "glue",
    }

    def filled(place: re.Match[str]) -> str:
        value = known.get(place[2])
        if value is None:
            return place[0]
        return place[1] + value.removeprefix("the ") if place[1] else value

    return say.first_up(_PLACEHOLDER.sub(filled, text))


def _told(
    assessment: Assessment,
    planned: PlannedStep,
    adhesive: Adhesive | None,
    hours: float,
    here: Gluing | None,
    soft: Sequence[Adhesive],
) -> ToldStep:
    step, knowledge = planned.step, assessment.knowledge
    low, likely, high = planned.minutes()
    times = f"×{planned.count}, " if planned.count > 1 else ""
    wait = f"; then wait {say.wait(hours)}" if hours else ""
    done = " ".join(_fill(text, assessment, planned, adhesive) for text in (step.do, *planned.also))
    in_closings = plan_glue.in_closings(here) if here is not None else ""
    lines = [
        f"{' '.join(filter(None, (done, in_closings)))} *({times}{low:.0f}–{likely:.0f}–{high:.0f} min{wait})*",
        f"    - Why: {_fill(step.why, assessment, planned, adhesive)}",
    ]
    stop = plan_glue.stops(here) if here is not None else ""
    if stop:
        lines.append(f"    - **Stop: {stop}, see “Glue and clock”. No glue is mixed before that is put right.**")
    hazards = hazards_of(assessment, planned, adhesive, soft)
    if hazards:
        lines.append(f"    - Protect: {_protect(assessment, hazards)}")
    if step.check is not None:
        sign = knowledge.signs[step.check.sign]
        ask = sign.ask or sign.called
        lines.append(f"    - **Hold: go on only when “{ask}” reads “{sign.say(step.check.reads)}”.** ☐")
    asked = [name for name in planned.asked_by if _requires(knowledge, name, step.id)]
    if asked:
        lines.append(f"    - Asked for because: {knowledge.logic[asked[0]].because}")
    text = step.do + step.why + "".join(planned.also)
    glued = "{adhesive}" in text or hazards != step.hazards or hours != step.wait_hours
    glue = [f"glue={adhesive.id if adhesive else 'none'}"] if glued or step.phase == "cure" else []
    hangs_on = [f"{name}={value}" for name, value in (("wait", hours), ("closings", in_closings), ("stop", stop)) if value]
    hangs_on += [f"soft={glue.id}" for glue in soft if glue.hazards]
    return ToldStep(planned, Worded(words.PHASES[step.phase], "\n".join(lines)), (*planned.facts, *glue, *hangs_on))


def _requires(knowledge: Knowledge, name: str, step_id: str) -> bool:
    """Whether a rule asks for this very step, and not only for one that brings it along."""
    rule = knowledge.logic.get(name)
    return rule is not None and any(effect.kind == "require" and effect.target == step_id for effect in rule.then)


def _protect(assessment: Assessment, hazards: Sequence[str]) -> str:
    needed = protection(assessment.knowledge, hazards)
    told = "; ".join(caution.brief for caution in needed.cautions if caution.brief)
    return f"{told}." + (f" Breathe through: {needed.respirator.name.lower()}." if needed.respirator else "")
