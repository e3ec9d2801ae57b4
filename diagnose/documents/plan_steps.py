"""The steps of the plan in words: what, why, how long, what to wear, what must hold before going on, and who asked for it."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from diagnose import words
from diagnose.assess import Assessment
from diagnose.documents import md, plan_glue, say
from diagnose.planning.compose import PlannedStep
from diagnose.planning.gluing import Gluing
from diagnose.planning.protection import protection
from diagnose.planning.since import Worded
from diagnose.rulebase.entries import Adhesive

# A word before a place that is filled with "the …" stands in place of that "the"; the same words before any other "the" are left alone.
_PLACEHOLDER = re.compile(r"(\b(?:the|a|each|every|this|that|old|new) )?\{([a-z_.]+)\}", re.IGNORECASE)
_STEP = re.compile(r"- \*\*\d+\.\*\* ")


@dataclass(frozen=True)
class ToldStep:
    """A step in words, its number left out, and every fact that its words hang on."""

    planned: PlannedStep
    worded: Worded
    facts: tuple[str, ...]


def told_steps(assessment: Assessment, glue: Sequence[Gluing]) -> tuple[ToldStep, ...]:
    """Every step of the plan, in its order."""
    return tuple(_told(assessment, planned, plan_glue.glue_for(glue, planned.damages)) for planned in assessment.plan)


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


def wait_hours(planned: PlannedStep, adhesive: Adhesive | None) -> float:
    """Hours to wait behind a step: what it says, and where the cure is waited for never less than the glue wants."""
    cure = adhesive.full_cure_h if adhesive is not None and planned.step.phase == "cure" else 0.0
    return max(planned.step.wait_hours, cure)


def hazards_of(assessment: Assessment, planned: PlannedStep, adhesive: Adhesive | None) -> tuple[str, ...]:
    """The hazards of a step: its own, of a gluing step only those of glues that are the chosen one's, and the chosen one's."""
    knowledge = assessment.knowledge
    if adhesive is None or not any(knowledge.consumables[name].chosen == "adhesive" for name in planned.step.uses):
        return planned.step.hazards
    of_glues = {hazard for glue in knowledge.adhesives.values() for hazard in glue.hazards}
    own = [hazard for hazard in planned.step.hazards if hazard not in of_glues]
    return tuple(dict.fromkeys([*own, *adhesive.hazards]))


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


def _told(assessment: Assessment, planned: PlannedStep, adhesive: Adhesive | None) -> ToldStep:
    step, knowledge = planned.step, assessment.knowledge
    low, likely, high = planned.minutes()
    times = f"×{planned.count}, " if planned.count > 1 else ""
    hours = wait_hours(planned, adhesive)
    wait = f"; then wait {say.wait(hours)}" if hours else ""
    done = " ".join(_fill(text, assessment, planned, adhesive) for text in (step.do, *planned.also))
    lines = [
        f"{done} *({times}{low:.0f}–{likely:.0f}–{high:.0f} min{wait})*",
        f"    - Why: {_fill(step.why, assessment, planned, adhesive)}",
    ]
    hazards = hazards_of(assessment, planned, adhesive)
    if hazards:
        lines.append(f"    - Protect: {_protect(assessment, hazards)}")
    if step.check is not None:
        sign = knowledge.signs[step.check.sign]
        ask = sign.ask or say.plain(sign.id)
        lines.append(f"    - **Hold: go on only when “{ask}” reads “{sign.say(step.check.reads)}”.** ☐")
    asked = [name for name in planned.asked_by if name in knowledge.logic]
    if asked:
        lines.append(f"    - Asked for because: {knowledge.logic[asked[0]].because}")
    glued = "{adhesive}" in step.do + step.why or hazards != step.hazards or hours != step.wait_hours
    glue = (f"glue={adhesive.id if adhesive else 'none'}",) if glued or step.phase == "cure" else ()
    return ToldStep(planned, Worded(words.PHASES[step.phase], "\n".join(lines)), (*planned.facts, *glue))


def _protect(assessment: Assessment, hazards: Sequence[str]) -> str:
    needed = protection(assessment.knowledge, hazards)
    told = "; ".join(caution.brief for caution in needed.cautions if caution.brief)
    return f"{told}." + (f" Breathe through: {needed.respirator.name.lower()}." if needed.respirator else "")
