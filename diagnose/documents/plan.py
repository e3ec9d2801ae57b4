"""The bench plan: steps in order, each with its why, minutes, hazards and hold point, so that another repairer could work from it."""

import re
from collections.abc import Iterable

from diagnose import words
from diagnose.assess import Assessment
from diagnose.documents import md, say
from diagnose.planning.adhesive import Demand, Ranked, rank
from diagnose.planning.calendar import calendar
from diagnose.planning.clock import clock, glue_minutes
from diagnose.planning.compose import PlannedStep
from diagnose.rulebase.entries import Adhesive

_PLACEHOLDER = re.compile(r"\{([a-z_.]+)\}")
BENCH_GAP_MM = 0.1


def plan(assessment: Assessment) -> str:
    """The plan of the whole piece as Markdown."""
    case = assessment.case
    glue = _glue(assessment)
    blocks = [
        md.heading(f"Bench plan {md.safe(case.number) or 'no number'}: {say.piece_name(assessment)}", 1),
        _stop_signs(assessment),
        md.heading("What is done, and why", 2),
        _decisions(assessment),
        _joint_map(assessment),
        md.heading("Lay ready", 2),
        _lists(assessment),
    ]
    if glue:
        blocks += [md.heading("Glue and clock", 2), _clock(assessment, glue)]
    blocks += [
        md.heading("Steps", 2),
        *_steps(assessment, glue[0].adhesive if glue and glue[0].usable else None),
        md.heading("Protection", 2),
        _protection(assessment),
        md.heading("Time", 2),
        _time(assessment),
        md.heading("Keep and leave behind", 2),
        _keep(assessment),
        say.footer(assessment),
    ]
    return md.join(*blocks)


def _stop_signs(assessment: Assessment) -> str:
    lines = []
    if assessment.triage is not words.Triage.TAKE_IN:
        lines.append(f"{say.first_up(words.TRIAGE_SAY[assessment.triage])}. {' '.join(assessment.triage_because)}")
    lines.append("No work before the owner's yes is written down, with the limit in money.")
    for damage in assessment.damages:
        place = say.first_up(say.place_of(damage.damage))
        lines += [
            f"{place}: stop and ask again unless this is ruled out. {line}"
            for line in say.provided(assessment.knowledge, damage.decision.provided_that)
        ]
    return md.box("Stop before you start", lines[:9])


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


def _lists(assessment: Assessment) -> str:
    tools = sorted({tool for planned in assessment.plan for tool in planned.step.tools})
    uses: dict[str, float] = {}
    for planned in assessment.plan:
        for name, quantity in planned.step.uses.items():
            uses[name] = uses.get(name, 0.0) + quantity * planned.count
    consumables = assessment.knowledge.consumables
    rows = [(consumables[name].name, f"{amount * 1.15:.3g} {consumables[name].unit}") for name, amount in sorted(uses.items())]
    return md.join(
        ("Tools: " + ", ".join(tools) + ".") if tools else "",
        md.table(("used up", "quantity, with 15 % over"), rows) if rows else "",
    )


def _glue(assessment: Assessment) -> tuple[Ranked, ...]:
    bonds, minutes = glue_minutes(assessment.plan)
    if not bonds:
        return ()
    demand = Demand(BENCH_GAP_MM, minutes / bonds, assessment.shop.room_temperature_c)
    return rank(assessment.knowledge.adhesives.values(), demand)


def _clock(assessment: Assessment, ranked: tuple[Ranked, ...]) -> str:
    bonds, minutes = glue_minutes(assessment.plan)
    best = ranked[0]
    if not best.usable:
        return (
            "No glue of the rule base answers this demand: " + "; ".join(best.ruled_out) + ". Warm the room or part the glue-up."
        )
    timed = clock(bonds, minutes, best.adhesive.working_min[1])
    text = (
        f"**{best.adhesive.name}**: {'; '.join(best.speaks_for)}. Working time {best.adhesive.working_min[0]:g} to "
        f"{best.adhesive.working_min[1]:g} minutes at {best.adhesive.temp_c:g} °C; the label on the bottle wins.\n\n"
        f"{bonds} glue line{'s' if bonds > 1 else ''}, about {minutes:.0f} minutes from the first spread to the last clamp. "
    )
    if timed.closings == 1 and timed.feasible:
        text += f"It fits in one closing with {timed.spare:.0f} minutes to spare. Last line closed by minute {timed.allows:.0f}."
    elif timed.feasible:
        text += (
            f"That is too long for one closing: glue in {timed.closings} closings, sub-frames first, each closed by minute "
            f"{timed.allows:.0f} ({timed.spare:.0f} minutes to spare)."
        )
    else:
        text += "Even one line takes longer than the glue stays open: rehearse until it is quicker, or take the next glue."
    others = [
        f"{other.adhesive.name}: {'; '.join(other.ruled_out or other.against or other.speaks_for)}" for other in ranked[1:5]
    ]
    text += f"\n\nHold in clamps {best.adhesive.clamp_min[0]:g} to {best.adhesive.clamp_min[1]:g} minutes; no load for {best.adhesive.full_cure_h:g} hours."
    return text + "\n\nThe next in line:\n\n" + md.bullets(others)


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
    filled = _PLACEHOLDER.sub(lambda match: known.get(match[1], match[0]), text)
    return say.first_up(re.sub(r"\b([Tt]he|[Aa]|[Ee]ach|[Ee]very|[Tt]his|[Tt]hat|[Oo]ld|[Nn]ew) the\b", r"\1", filled))


def _steps(assessment: Assessment, adhesive: Adhesive | None) -> Iterable[str]:
    phase = ""
    lines: list[str] = []
    for number, planned in enumerate(assessment.plan, start=1):
        if planned.step.phase != phase:
            if lines:
                yield "\n".join(lines)
                lines = []
            phase = planned.step.phase
            yield md.heading(words.PHASES[phase], 3)
        lines.append(_step(assessment, planned, number, adhesive))
    if lines:
        yield "\n".join(lines)


def _step(assessment: Assessment, planned: PlannedStep, number: int, adhesive: Adhesive | None) -> str:
    step = planned.step
    low, likely, high = planned.minutes()
    times = f"×{planned.count}, " if planned.count > 1 else ""
    wait = f"; then wait {_wait(step.wait_hours)}" if step.wait_hours else ""
    lines = [
        f"- **{number}.** {_fill(step.do, assessment, planned, adhesive)} *({times}{low:.0f}–{likely:.0f}–{high:.0f} min{wait})*",
        f"    - Why: {_fill(step.why, assessment, planned, adhesive)}",
    ]
    if step.check is not None:
        sign = assessment.knowledge.signs[step.check.sign]
        ask = sign.ask or say.plain(sign.id)
        lines.append(f"    - **Hold: go on only when “{ask}” reads “{sign.say(step.check.reads)}”.** ☐")
    asked = [name for name in planned.asked_by if name in assessment.knowledge.logic]
    if asked:
        lines.append(f"    - Asked for because: {assessment.knowledge.logic[asked[0]].because}")
    return "\n".join(lines)


def _wait(hours: float) -> str:
    """Hours as a person says them."""
    if hours >= 24 * 14:
        return f"{hours / 168:.0f} weeks"
    if hours >= 48:
        return f"{hours / 24:.0f} days"
    return f"{hours:.0f} h" if hours >= 1 else f"{hours * 60:.0f} min"


def _protection(assessment: Assessment) -> str:
    rows = []
    for name in assessment.cautions:
        caution = assessment.knowledge.cautions[name]
        steps = [str(i) for i, p in enumerate(assessment.plan, start=1) if name in p.step.hazards]
        rows.append((", ".join(steps) or "–", caution.hazard, caution.do, say.plain(caution.authority)))
    return md.table(("step", "hazard", "what to do", "who says so"), rows) if rows else "Nothing out of the ordinary."


def _time(assessment: Assessment) -> str:
    price = assessment.price
    if price is None:
        return "No work."
    shop = assessment.shop
    outside = tuple(sorted({d.decision.by for d in assessment.damages} - {"us"}))
    when = calendar(assessment.today, price.minutes[1], price.waiting_hours, shop.weeks_booked, shop.hours_a_week, outside)
    return (
        f"Work {price.minutes[0]:.0f} – **{price.minutes[1]:.0f}** – {price.minutes[2]:.0f} minutes; waiting about {_wait(price.waiting_hours)}. "
        f"Ready in {say.week_of(when.ready)}. That depends on: {'; '.join(when.depends_on)}."
    )


def _keep(assessment: Assessment) -> str:
    number = md.safe(assessment.case.number) or "number"
    methods = say.listed([assessment.knowledge.methods[d.decision.method].name.lower() for d in assessment.damages])
    lines = [
        "Photographs: whole piece, every damage, both glue faces side by side before any cleaning.",
        "Evidence in a bag until the term is over: the failed dowel, tenon or splinters, labelled.",
    ]
    if assessment.damages:
        mark = f"{number} · {assessment.today:%Y-%m} · which glue · {methods}"
        lines.append(f"Pencil line inside, under a rail: “{mark}”")
    return md.bullets(lines)
