"""The worked glue-up clock of a method: the only place where the guide asks the planning room for it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from diagnose.planning.clock import Bond, Glue, GlueUp, schedule
from diagnose.rulebase.entries import Adhesive, Consumable, Ground, Method, Step

# A method for one joint or break closes one glue line; one for a frame is worked for four joints, each closed by itself.
LINES_OF_A_FRAME = 4
ASSEMBLY = "glue"


@dataclass(frozen=True)
class Worked:
    """One glue in one glue-up, in minutes: when the last line is closed and square, how long the glue lets one, and in how many closings."""

    adhesive: Adhesive
    ends: float
    allows: float
    closings: int
    spare: float


@dataclass(frozen=True)
class Work:
    """What is glued at once: how many lines, minutes to spread and to close each (the first, each further one), and to square all."""

    lines: int
    spread: tuple[float, float]
    close: tuple[float, float]
    square: float

    @property
    def minutes(self) -> float:
        """Minutes of work from the first spread to square, with one pair of hands."""
        first, further = self.spread[0] + self.close[0], self.spread[1] + self.close[1]
        return first + (self.lines - 1) * further + self.square


def _likely(steps: Iterable[Step]) -> tuple[float, float]:
    listed = list(steps)
    return sum(step.minutes[1] for step in listed), sum((step.then or step.minutes)[1] for step in listed)


def work_of(steps: Sequence[Step], consumables: Mapping[str, Consumable], whole_frame: bool) -> Work | None:
    """What a method glues, its steps being in order: the joints where it closes joints, else the longest gluing of a part; None for none."""

    def glues(step: Step) -> bool:
        return any(consumables[name].chosen is not None for name in step.uses)

    for index, step in enumerate(steps):
        if step.phase == ASSEMBLY and glues(step) and not step.wait_hours:
            later = [
                other for other in steps[index + 1 :] if other.phase == ASSEMBLY and not glues(other) and not other.wait_hours
            ]
            close = _likely(other for other in later if other.per == "bond")
            square = sum(other.minutes[1] for other in later if other.per == "piece")
            return Work(LINES_OF_A_FRAME if whole_frame else 1, _likely([step]), close, square)
    single = [_likely([step]) for step in steps if step.wait_hours and glues(step)]
    return Work(1, max(single), (0.0, 0.0), 0.0) if single else None


def never_here(adhesive: Adhesive, method: Method) -> Ground | None:
    """What bars a glue from a method: a ground that says never of something that the method itself is for, as far as its gate tells."""
    offered: dict[str, set[str]] = {}
    for line in method.when.all_lines():
        offered.setdefault(line.key, set()).update(line.values)
    for ground in adhesive.grounds:
        asked = ground.when.lines
        if ground.says == "never" and asked and all(offered.get(line.key, set()) & set(line.values) for line in asked):
            return ground
    return None


def worked(work: Work, adhesive: Adhesive) -> Worked:
    """The clock of a work with one glue, on wood as warm as the glue's own figure is for, with one pair of hands."""
    glue = Glue(adhesive.name, adhesive.working_min[1], adhesive.temp_c, adhesive.two_part)
    bonds = tuple(
        Bond(f"line {number + 1}", glue, work.spread[min(number, 1)], work.close[min(number, 1)], clamps=0)
        for number in range(work.lines)
    )
    found = schedule(GlueUp(bonds, square_min=work.square, wood_c=adhesive.temp_c))
    tightest = min(found.closings, key=lambda closing: closing.spare)
    return Worked(adhesive, tightest.ends, tightest.latest, len(found.closings), found.spare)
