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
_ORDER = {phase: index for index, phase in enumerate(words.PHASES)}


def cure_hours(adhesive: Adhesive, wood_c: float) -> float:
    """Hours until a glue may be loaded, on wood of `wood_c` °C: those of its label, and longer where a two-part glue is colder than that.

    >>> from diagnose.rulebase.store import load_knowledge
    >>> slow = load_knowledge().adhesives["epoxy_slow"]
    >>> [round(cure_hours(slow, c)) for c in (0, 5, 15, 25, 35)]
    [672, 672, 336, 168, 168]
    """
    glue = Glue(adhesive.name, 1.0, adhesive.temp_c, adhesive.two_part)
    return adhesive.full_cure_h * max(1.0, glue.slower(max(wood_c, COLDEST_KNOWN_C)))


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
    later = [one for number, one in placed if number >= index]
    earlier = [one for number, one in placed if number < index]
    if later and (_ORDER[step.step.phase] < _ORDER[CURE] or not earlier):
        return later[0]
    return earlier[-1] if earlier else None


def waits(
    knowledge: Knowledge, plan: Sequence[PlannedStep], gluings: Sequence[Gluing], finishes: Iterable[Finish] = ()
) -> tuple[float, ...]:
    """Hours behind each step, never fewer than it says, but for a cure whose glue has had its time.

    What is glued on its own waits for the full cure of its glue. The cure at the end waits for what was closed just before it; where
    all was waited for already, nothing is left. What is closed in several goes stands in its clamps in between. A finish takes its coats.
    """
    coats = max((coat_hours(finish) for finish in finishes), default=0.0)
    return tuple(_wait(knowledge, plan, gluings, index, coats) for index in range(len(plan)))


def _wait(knowledge: Knowledge, plan: Sequence[PlannedStep], gluings: Sequence[Gluing], index: int, coats: float) -> float:
    step = plan[index].step
    if step.phase == CURE:
        return _left_to_cure(plan, gluings, index)
    if cures_alone(knowledge, step):
        own = gluing_at(gluings, plan, index)
        return max(step.wait_hours, cured(own)) if own is not None else step.wait_hours
    if step.lays == "finish" and step.wait_hours:
        return max(step.wait_hours, coats)
    return max(step.wait_hours, _between_closings(plan, gluings, index))


def cured(gluing: Gluing) -> float:
    """Hours until what was glued there may be loaded; 0 where no glue is left for it."""
    return cure_hours(gluing.best.adhesive, gluing.demand.wood_c) if gluing.best is not None else 0.0


def _left_to_cure(plan: Sequence[PlannedStep], gluings: Sequence[Gluing], index: int) -> float:
    before = [g for g in gluings if any(g.work.step is planned for planned in plan[:index])]
    still_soft = [g for g in before if not g.work.step.step.wait_hours]
    if before and not still_soft:
        return 0.0
    return max([plan[index].step.wait_hours, *(cured(g) for g in still_soft)])


def _between_closings(plan: Sequence[PlannedStep], gluings: Sequence[Gluing], index: int) -> float:
    """The hours in clamps between the closings of one gluing, behind the last step that is done while the glue is wet."""
    hours = 0.0
    for gluing in gluings:
        if gluing.best is None or gluing.schedule is None or len(gluing.schedule.closings) < 2:
            continue
        start = next(number for number, planned in enumerate(plan) if planned is gluing.work.step)
        wet = [n for n, p in enumerate(plan) if n >= start and p.step.phase == ASSEMBLY and not p.step.wait_hours]
        if wet and wet[-1] == index:
            hours += (len(gluing.schedule.closings) - 1) * gluing.best.adhesive.clamp_min[1] / 60.0
    return hours
