"""How long each step of a plan is waited behind: for the glue and the finish that were chosen, at the warmth of the wood."""

from collections.abc import Iterable, Sequence

from diagnose import words
from diagnose.planning.clock import Glue
from diagnose.planning.compose import PlannedStep
from diagnose.planning.glue_lines import ASSEMBLY, cures_alone
from diagnose.planning.gluing import Gluing
from diagnose.rulebase.entries import Adhesive, Finish
from diagnose.rulebase.knowledge import Knowledge

CURE = "cure"
# Below this nothing is known of how much slower a glue of two parts gets; it counts as cold as this, and is hardly used there.
COLDEST_KNOWN_C = 5.0
# What is glued is not cut on the same day, whatever the label says of its clamps (common practice).
A_DAY = 24.0
_ORDER = {phase: index for index, phase in enumerate(words.PHASES)}


def cure_hours(adhesive: Adhesive, wood_c: float) -> float:
    """Hours until a glue may be loaded, on wood of `wood_c` °C: those of its label, and longer where a two-part glue is colder than that.

    >>> from diagnose.rulebase.store import load_knowledge
    >>> slow = load_knowledge().adhesives["epoxy_slow"]
    >>> [round(cure_hours(slow, c)) for c in (0, 5, 15, 25, 35)]
    [672, 672, 336, 168, 168]
    """
    return adhesive.full_cure_h * _slower(adhesive, wood_c)


def worked_hours(adhesive: Adhesive, wood_c: float) -> float:
    """Hours until what was glued may be cut, planed and glued on, with no load on it: out of its clamps at their longest, a day at the
    least, and never more than its full cure.

    >>> from diagnose.rulebase.store import load_knowledge
    >>> slow = load_knowledge().adhesives["epoxy_slow"]
    >>> [round(worked_hours(slow, c)) for c in (15, 25, 35)]
    [96, 48, 48]
    """
    return min(adhesive.full_cure_h, max(A_DAY, adhesive.clamp_min[1] / 60.0)) * _slower(adhesive, wood_c)


def _slower(adhesive: Adhesive, wood_c: float) -> float:
    glue = Glue(adhesive.name, 1.0, adhesive.temp_c, adhesive.two_part)
    return max(1.0, glue.slower(max(wood_c, COLDEST_KNOWN_C)))


def coat_hours(finish: Finish) -> float:
    """Hours from the first to the last of the usual number of coats, each at its longest.

    >>> from diagnose.rulebase.store import load_knowledge
    >>> coat_hours(load_knowledge().finishes["oil_varnish"])
    48.0
    """
    return (sum(finish.coats) / 2 - 1) * finish.recoat_h[1]


def gluing_at(found: Iterable[Gluing], plan: Sequence[PlannedStep], index: int) -> Gluing | None:
    """The gluing that a step speaks of: its own; before the cure the next of its damages; behind it, or where none follows, the last."""
    step, wanted = plan[index], set(plan[index].damages)
    numbers = {id(planned): number for number, planned in enumerate(plan)}
    placed = [(numbers[id(one.work.step)], one) for one in found if wanted & set(one.work.damages)]
    own = [one for number, one in placed if number == index]
    if own:
        return own[0]
    later = [one for number, one in placed if number >= index]
    earlier = [one for number, one in placed if number < index]
    if later and (_ORDER[step.step.phase] < _ORDER[CURE] or not earlier):
        return later[0]
    return earlier[-1] if earlier else None


def waits(
    knowledge: Knowledge, plan: Sequence[PlannedStep], gluings: Sequence[Gluing], finishes: Iterable[Finish] = ()
) -> tuple[float, ...]:
    """Hours behind each step, never fewer than it says, but for a cure whose glue has had its time.

    What is glued on its own waits until it may be cut, where a cure comes before it is loaded, and otherwise for the full cure of its
    glue. The cure waits for what every glue before it still lacks; where all was waited for already, nothing is left. What is closed in
    several goes stands in its clamps in between. A finish takes its coats.
    """
    coats = max((coat_hours(finish) for finish in finishes), default=0.0)
    found: list[float] = []
    for index in range(len(plan)):
        found.append(_wait(knowledge, plan, gluings, index, coats, found))
    return tuple(found)


def _wait(
    knowledge: Knowledge,
    plan: Sequence[PlannedStep],
    gluings: Sequence[Gluing],
    index: int,
    coats: float,
    before: Sequence[float],
) -> float:
    step = plan[index].step
    if step.phase == CURE:
        return _left_to_cure(plan, gluings, index, before)
    if cures_alone(knowledge, step):
        own = gluing_at(gluings, plan, index)
        if own is None:
            return step.wait_hours
        return max(step.wait_hours, worked(own) if _cure_behind(plan, index) is not None else cured(own))
    if step.lays == "finish" and step.wait_hours:
        return max(step.wait_hours, coats)
    return max(step.wait_hours, _between_closings(plan, gluings, index))


def cured(gluing: Gluing) -> float:
    """Hours until what was glued there may be loaded; 0 where no glue is left for it."""
    return cure_hours(gluing.best.adhesive, gluing.demand.wood_c) if gluing.best is not None else 0.0


def worked(gluing: Gluing) -> float:
    """Hours until what was glued there may be worked on; 0 where no glue is left for it."""
    return worked_hours(gluing.best.adhesive, gluing.demand.wood_c) if gluing.best is not None else 0.0


def soft_at(plan: Sequence[PlannedStep], gluings: Iterable[Gluing], index: int) -> tuple[Adhesive, ...]:
    """The glues that a step works beside before their full cure: those of the parts mended before it, up to the cure of the whole."""
    damages = set(plan[index].damages)
    found: dict[str, Adhesive] = {}
    for gluing in gluings:
        start = _at(plan, gluing)
        cure = _cure_behind(plan, start)
        here = cure is not None and start < index < cure and damages & set(gluing.work.damages)
        if here and gluing.best is not None and worked(gluing) < cured(gluing):
            found[gluing.best.adhesive.id] = gluing.best.adhesive
    return tuple(found.values())


def _at(plan: Sequence[PlannedStep], gluing: Gluing) -> int:
    return next(number for number, planned in enumerate(plan) if planned is gluing.work.step)


def _cure_behind(plan: Sequence[PlannedStep], index: int) -> int | None:
    mine = set(plan[index].damages)
    return next((i for i in range(index + 1, len(plan)) if plan[i].step.phase == CURE and mine <= set(plan[i].damages)), None)


def _left_to_cure(plan: Sequence[PlannedStep], gluings: Sequence[Gluing], index: int, waited: Sequence[float]) -> float:
    """What the slowest glue before a cure still lacks, and no less than the step says; 0 where each has had its time."""
    lacks = []
    for gluing in gluings:
        start = _at(plan, gluing)
        if start < index:
            mine = set(gluing.work.damages)
            behind = sum(waited[i] for i in range(start, index) if mine & set(plan[i].damages))
            lacks.append(cured(gluing) - behind)
    left = max(lacks, default=0.0)
    return max(left, plan[index].step.wait_hours) if left > 1e-9 or not lacks else 0.0


def _between_closings(plan: Sequence[PlannedStep], gluings: Sequence[Gluing], index: int) -> float:
    """The hours in clamps between the closings of one gluing, behind the last step that is done while the glue is wet."""
    hours = 0.0
    for gluing in gluings:
        if gluing.best is None or gluing.schedule is None or len(gluing.schedule.closings) < 2:
            continue
        start = _at(plan, gluing)
        wet = [n for n, p in enumerate(plan) if n >= start and p.step.phase == ASSEMBLY and not p.step.wait_hours]
        if wet and wet[-1] == index:
            hours += (len(gluing.schedule.closings) - 1) * gluing.best.adhesive.clamp_min[1] / 60.0
    return hours
