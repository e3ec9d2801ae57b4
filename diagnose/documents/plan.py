"""The bench plan: everything that another repairer needs to do the work, in the order in which it is read at the bench."""

from collections.abc import Sequence

from diagnose import words
from diagnose.assess import Assessment
from diagnose.documents import (
    md,
    plan_colour,
    plan_glue,
    plan_lists,
    plan_part,
    plan_protection,
    plan_steps,
    plan_time,
    say,
)
from diagnose.planning.gluing import Gluing


def plan(assessment: Assessment) -> str:
    """The plan of the whole piece as Markdown."""
    glue = plan_glue.gluings_of(assessment)
    sections = {
        "What is done, and why": md.join(_decisions(assessment), _joint_map(assessment)),
        "Lay ready": plan_lists.lay_ready(assessment, glue),
        "New wood": plan_part.section(assessment),
        "Glue and clock": plan_glue.section(assessment, glue),
        "Steps": md.join(*plan_steps.steps(plan_steps.told_steps(assessment, glue))),
        "Colour and finish": plan_colour.section(assessment),
        "Hold points": plan_protection.hold_points(assessment),
        "Protection": plan_protection.section(assessment, glue),
        "Time": plan_time.section(assessment),
        "Keep and leave behind": plan_lists.keep(assessment, glue),
    }
    return md.join(
        md.heading(f"Bench plan {md.safe(assessment.case.number) or 'no number'}: {say.piece_name(assessment)}", 1),
        _stop_signs(assessment, glue),
        *(md.join(md.heading(title, 2), text) for title, text in sections.items() if text.strip()),
        say.footer(assessment),
    )


def _stop_signs(assessment: Assessment, glue: Sequence[Gluing]) -> str:
    lines = []
    if assessment.triage is not words.Triage.TAKE_IN:
        lines.append(f"{say.first_up(words.TRIAGE_SAY[assessment.triage])}. {' '.join(assessment.triage_because)}")
    lines.append("No work before the owner's yes is written down, with the limit in money.")
    lines += [f"{what} {way}" for what, way in plan_glue.cold(assessment, glue)]
    lines += [
        f"{plan_glue.title(assessment, gluing)}: {why}. What would help stands under “Glue and clock”."
        for gluing in glue
        if (why := plan_glue.stops(gluing))
    ]
    for places, tests in _still_open(assessment).items():
        lines.append("\n>     - ".join([f"{say.first_up(places)}: stop and ask again unless this is ruled out.", *tests]))
    return md.box("Stop before you start", lines)


def _still_open(assessment: Assessment) -> dict[str, list[str]]:
    """What must not be found for the advice to stand, each once, under the places it is asked of."""
    asked: dict[str, list[str]] = {}
    for damage in assessment.damages if assessment.plan else ():
        for line in say.provided(assessment.knowledge, damage.decision.provided_that):
            asked.setdefault(line, []).append(say.place_of(damage.damage))
    found: dict[str, list[str]] = {}
    for line, places in asked.items():
        found.setdefault(say.listed(list(dict.fromkeys(places))), []).append(line)
    return found


def _decisions(assessment: Assessment) -> str:
    told = []
    for damage in assessment.damages:
        decision = damage.decision
        method = assessment.knowledge.methods[decision.method]
        causes = say.listed([assessment.knowledge.causes[name].name.lower() for name, _ in say.leading_causes(damage)])
        told.append(
            f"**{say.first_up(say.place_of(damage.damage))}: {method.name}** "
            f"({words.CLASSES[decision.decision][0]}; {words.EXTENTS[decision.extent]}). It failed because of: {causes}. "
            f"End use: {words.END_USES[decision.end_use]}."
        )
        if method.fails_again_if:
            told.append("It fails again if: " + " ".join(method.fails_again_if))
    if not told and assessment.triage is not words.Triage.TAKE_IN:
        return "No work is done on it here."
    return md.bullets(told) or "No structural work. The piece is fit for its use as before."


def _joint_map(assessment: Assessment) -> str:
    case = assessment.case
    piece = assessment.knowledge.pieces[case.piece]
    if not case.joints:
        return "The joint map is not written yet: try every joint and write it down before anything is opened."
    groups: dict[str, list[str]] = {}
    for joint in piece.joints:
        groups.setdefault(case.joints.get(joint.id, "not_tried"), []).append(say.plain(joint.id))
    told = [f"**{words.JOINT_STATES[state]}**: {', '.join(groups[state])}" for state in words.JOINT_STATES if state in groups]
    return md.join(md.heading("Joint map", 3), md.bullets(told), "A tight joint is left alone.")
