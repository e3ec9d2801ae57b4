"""The plan's section on glue and clock: which glue and why, minute by minute, force, cure, and what would change it."""

from collections.abc import Iterable, Sequence
from math import ceil, floor

from diagnose.assess import Assessment
from diagnose.documents import md, say
from diagnose.documents.plan_colour import named_finishes
from diagnose.documents.plan_glue_ways import no_glue, others, ways
from diagnose.mechanics.adhesives import clamp_force, clamp_pressure, hardness_of
from diagnose.planning.adhesive import place_of
from diagnose.planning.clock import Closing, GlueUp, Task
from diagnose.planning.gluing import USED, WARM_SHOP_C, Gluing, gluings
from diagnose.planning.waiting import cure_hours, gluing_at, waits, worked_hours
from diagnose.rulebase.entries import Adhesive

COLD_C = 10.0  # below this most glues of the trade set weak or not at all (common practice)


def gluings_of(assessment: Assessment) -> tuple[Gluing, ...]:
    """Every gluing of the plan of an assessment, in the order of its steps."""
    places = {
        d.damage.id: place_of(
            assessment.knowledge, d.damage.id, assessment.knowledge.methods[d.decision.method], d.facts, d.deduction.findings
        )
        for d in assessment.damages
    }
    return gluings(assessment.knowledge, assessment.case, assessment.shop, assessment.plan, places)


def glue_for(assessment: Assessment, found: Sequence[Gluing], index: int) -> Adhesive | None:
    """The glue that a step (0 the first) speaks of: its own, the next or the last of its damages; None where there is none."""
    gluing = gluing_at(found, assessment.plan, index)
    return gluing.best.adhesive if gluing is not None and gluing.best is not None else None


def waits_of(assessment: Assessment, found: Sequence[Gluing]) -> tuple[float, ...]:
    """Hours behind each step of the plan, for the glues chosen and the finish that was found."""
    return waits(assessment.knowledge, assessment.plan, found, named_finishes(assessment))


def cold(assessment: Assessment, found: Sequence[Gluing]) -> list[tuple[str, str]]:
    """What is said of a shop that is too cold to glue in, and the way out; nothing where it is warm enough or nothing is glued."""
    shop_c = assessment.shop.room_temperature_c
    if not found or shop_c >= COLD_C:
        return []
    way = (
        f"The way out: warm room, wood and glue to {WARM_SHOP_C:g} °C overnight, keep them so until the cure is over, and plan again "
        "with that figure."
    )
    return [(f"{shop_c:g} °C is too cold to glue with confidence.", way)]


def in_closings(gluing: Gluing) -> str:
    """What a step that spreads says where its lines are closed in several goes; empty for one."""
    if gluing.best is None or gluing.schedule is None or len(gluing.schedule.closings) < 2:
        return ""
    clamps = say.span_of_minutes(*gluing.best.adhesive.clamp_min)
    return (
        f"Done in {len(gluing.schedule.closings)} closings, in the order of the clock: each is spread, closed, clamped and squared by "
        f"itself, and stands in its clamps for {clamps} before the next is begun."
    )


def stops(gluing: Gluing) -> str:
    """Why a gluing cannot be done as it stands, in a few words; empty where it can."""
    if gluing.best is None:
        return "no glue is left for this"
    if gluing.schedule is None:
        return "there are too few clamps for this"
    return "" if gluing.schedule.fits else "this does not fit the clock"


def section(assessment: Assessment, found: tuple[Gluing, ...]) -> str:
    """The section, without its heading; empty where nothing is glued."""
    if not found:
        return ""
    shop = assessment.shop
    about = (
        f"The wood is taken to be as warm as the shop, {shop.room_temperature_c:g} °C: lay the thermometer on it, for glue follows the "
        f"wood. Of every working time {USED * 100:.0f} % is planned with and the rest kept in hand. The label on the bottle wins over any figure here."
    )
    return md.join(
        *(f"**{what}** {way} What follows is the best that can be done cold." for what, way in cold(assessment, found)),
        about,
        *(block for gluing in found for block in _gluing(assessment, gluing)),
    )


def title(assessment: Assessment, gluing: Gluing) -> str:
    """What is glued, in a few words, with the number of its step."""
    number = next(i for i, planned in enumerate(assessment.plan, start=1) if planned is gluing.work.step)
    if len(gluing.work.lines) > 1:
        return f"Step {number}: {len(gluing.work.lines)} glue lines"
    return f"Step {number}: {gluing.work.lines[0].name}"


def _gluing(assessment: Assessment, gluing: Gluing) -> Iterable[str]:
    yield md.heading(title(assessment, gluing), 3)
    best = gluing.best
    if best is None:
        yield no_glue(gluing)
        return
    yield f"**{best.adhesive.name}.** " + _sentences([*best.wanted, *best.answers])
    but = [*best.doubts, *best.against]
    if but:
        yield "Mind: " + _sentences(but)
    yield _faces(best.adhesive)
    if gluing.work.warmed is not None:
        number = next(i for i, planned in enumerate(assessment.plan, start=1) if planned is gluing.work.warmed)
        yield f"Step {number} warms the parts first: it is reckoned on wood of {gluing.demand.wood_c:g} °C."
    if gluing.work.one_by_one:
        yield "**One by one:** each is spread, pressed home and let go before the next, so there is no clock."
    elif gluing.schedule is None:
        yield f"**No order:** {gluing.no_order}. {ways(gluing)}"
    else:
        for number, closing in enumerate(gluing.schedule.closings, start=1):
            yield from _closing(assessment, gluing, closing, number, len(gluing.schedule.closings))
        if not gluing.schedule.fits:
            yield f"**It does not fit:** the tightest closing is {-gluing.schedule.spare:.0f} min short. {ways(gluing)}"
        elif gluing.changes:
            yield "In fewer closings it would fit with one of these. " + ways(gluing)
        if not gluing.schedule.proven:
            yield "More than ten lines: grouped by rule of thumb, tightest first. A better grouping may exist."
    yield _cure(best.adhesive, gluing)
    yield from others(gluing)


def _sentences(reasons: Iterable[str]) -> str:
    listed = list(dict.fromkeys(reasons))
    return f"{say.first_up('; '.join(listed))}." if listed else ""


def _faces(adhesive: Adhesive) -> str:
    if adhesive.bonds_over:
        over = " and ".join(name.replace("_", "-") for name in adhesive.bonds_over)
        return f"Faces: bare wood, or wood with sound {over} glue in its pores; no other glue, no finish, no wax."
    return "Faces: bare wood that drinks a drop of water; no old glue, no finish, no wax."


def _task(glue_up: GlueUp, task: Task, mixed: set[str]) -> str:
    if task.bond is None:
        return "check square, shift clamps until it is"
    bond = glue_up.bonds[task.bond]
    if task.does == "close":
        return f"close {bond.name} and draw up its clamps"
    glue = bond.glue.name.lower()
    mix = f"mix {glue}, then " if bond.glue.two_part and glue not in mixed else ""
    mixed.add(glue)
    shut = "" if bond.close_min else ", close it and draw up its clamps" if bond.clamps else ", press it home and check it"
    return f"{mix}spread {glue} on {bond.name}{shut}"


def tasks(glue_up: GlueUp, closing: Closing) -> tuple[tuple[float, int, str], ...]:
    """What is done in a closing: from which minute, by which pair of hands (1 the first), what; a two-part glue is mixed when first spread."""
    mixed: set[str] = set()
    return tuple((task.minute, task.hand + 1, _task(glue_up, task, mixed)) for task in closing.tasks if task.lasts)


def _closing(assessment: Assessment, gluing: Gluing, closing: Closing, number: int, of: int) -> Iterable[str]:
    glue_up = gluing.glue_up
    several = glue_up.hands > 1
    rows = [(minute(at), *([str(hand)] if several else []), what) for at, hand, what in tasks(glue_up, closing)]
    name = f"Closing {number} of {of}" if of > 1 else "One closing"
    lines = [gluing.work.lines[index].name for index in closing.bonds]
    yield f"**{name}: {say.listed(lines)}.** {_force(assessment, gluing, closing)}"
    yield md.table(("minute", *(["hands"] if several else []), "what"), rows)
    spare = f"{floor(closing.spare * 2) / 2:g} min to spare" if closing.spare >= 0 else f"{-closing.spare:.0f} min too long"
    yield f"Square at minute {minute(closing.ends)}; latest minute **{minute(closing.latest)}** ({spare})."
    low, high = gluing.ranked[0].adhesive.clamp_min
    if number < of:
        yield f"Leave it in the clamps {say.span_of_minutes(low, high)} before the next closing."


def minute(minutes: float) -> str:
    """A minute of the clock as minutes and seconds; half a second is nothing at a bench.

    >>> minute(6.5)
    '6:30'
    """
    seconds = round(minutes * 60)
    return f"{seconds // 60}:{seconds % 60:02d}"


def _force(assessment: Assessment, gluing: Gluing, closing: Closing) -> str:
    if not closing.clamps:
        return "No clamp: it is pressed in by hand and stays."
    clamps = f"{closing.clamps} clamp{'s' if closing.clamps != 1 else ''} of {assessment.shop.clamps}."
    best = gluing.best
    if best is not None and best.adhesive.press == "contact":
        return f"{clamps} They only hold the line shut: this glue wants contact and no squeeze."
    wood = assessment.knowledge.woods.get(assessment.case.wood or "")
    pressed = [gluing.work.lines[index] for index in closing.bonds if gluing.work.lines[index].area_mm2]
    if wood is None or not pressed:
        return f"{clamps} Tighten only until the line shuts and a fine bead shows."
    pressure = clamp_pressure(hardness_of(wood.gravity_12)).value
    forces = [clamp_force(line.area_mm2 or 0.0, pressure, len(pressed), "series").value / line.clamps for line in pressed]
    most = max(forces)
    return (
        f"{clamps} Until the line shuts and a fine bead shows, and never over {most / 1000:.1f} kN a clamp (the pull of {most / 9.81:.0f} kg); "
        "joints in a row under one clamp need no more than one of them."
    )


def _cure(adhesive: Adhesive, gluing: Gluing) -> str:
    low, high = adhesive.clamp_min
    hours = cure_hours(adhesive, gluing.demand.wood_c)
    longer = (
        f" ({adhesive.full_cure_h:g} h at {adhesive.temp_c:g} °C, longer in the cold)" if hours > adhesive.full_cure_h else ""
    )
    clamped = any(bond.clamps for bond in gluing.glue_up.bonds)
    held = f"In clamps {say.span_of_minutes(low, high)} at {adhesive.temp_c:g} °C" if clamped else "Left as it was pressed in"
    soonest = worked_hours(adhesive, gluing.demand.wood_c)
    cut = f" It may be cut with sharp edges after {ceil(soonest)} h, with no load on it." if soonest < hours else ""
    return f"{held}; no load for **{ceil(hours)} h**{longer}, whatever it feels like.{cut}"
