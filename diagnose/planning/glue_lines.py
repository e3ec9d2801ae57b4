"""What a plan glues: its glue lines with their minutes, gathered into the works that are each prepared, timed and cured on their own."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from diagnose import words
from diagnose.case.case import Case, Damage
from diagnose.planning.compose import PlannedStep
from diagnose.rulebase.entries import Joint, Piece, Step
from diagnose.rulebase.knowledge import Knowledge

ASSEMBLY = "glue"
LEAST_CURE_H = 1.0
CLAMPS = "clamps"  # as a step names them among its tools
CLAMP_SPACING_MM = 250.0  # clamps on a long edge stand 200 to 300 mm apart (mechanics.adhesives.clamp_force)
_NOT_A_WORD = re.compile(r"[\W_]+")
EDGE_KINDS = frozenset({"edge_joint", "lamination", "veneer_bond"})


@dataclass(frozen=True)
class Line:
    """One glue line: minutes to spread and to close, clamps, the area they press in mm² (None: not known), its sub-frame, what it closes with."""

    name: str
    spread_min: float
    close_min: float
    clamps: int = 1
    area_mm2: float | None = None
    frame: str = ""
    together: str = ""


@dataclass(frozen=True)
class Work:
    """Lines that are glued with one preparation. `damages` are the places they belong to; `step` is the planned step that spreads.

    `warmed` is the step that warms their wood first, where one does.
    """

    step: PlannedStep
    damages: tuple[str, ...]
    lines: tuple[Line, ...]
    square_min: float
    warmed: PlannedStep | None = None

    @property
    def one_by_one(self) -> bool:
        """Whether each line is spread, pressed home and let go before the next, so that nothing stands on a clock."""
        return not any(line.spread_min for line in self.lines)


def sub_frames(piece: Piece) -> Mapping[str, str]:
    """The sub-frame of each part, by the joint map alone; a part that joins sub-frames has none, and so has a piece of one frame.

    A part whose joints all lead into one frame belongs to it; a part that leads into two joins them.
    """
    home = {part: part for part in piece.parts}

    def root(part: str) -> str:
        while home[part] != part:
            part = home[part]
        return part

    leads: dict[str, set[str]] = {}
    for joint in piece.joints:
        leads.setdefault(joint.joins[1], set()).add(joint.joins[0])
    waiting, changed = dict(leads), True
    while changed:
        changed = False
        for part in list(waiting):
            into = {root(other) for other in waiting[part] if other != part}
            if len(into) == 1:
                home[root(part)] = into.pop()
                del waiting[part]
                changed = True
    frames = {part: root(part) for part in piece.parts if part not in waiting}
    bigger = {frame for frame in frames.values() if sum(other == frame for other in frames.values()) > 1}
    return {part: frame for part, frame in frames.items() if frame in bigger and len(bigger) > 1 and waiting}


def _minutes(steps: Sequence[PlannedStep], number: int) -> float:
    """Likely minutes of the bond with that number (0 first): the first in full, each further one by `then`."""
    return sum((planned.step.minutes if number == 0 else planned.step.then or planned.step.minutes)[1] for planned in steps)


def _line(piece: Piece, joint: Joint | None, name: str, spread: float, close: float, whole: bool) -> Line:
    if joint is None:
        return Line(name, spread, close, together="frame" if whole else "")
    part = piece.parts[joint.joins[1]]
    if EDGE_KINDS.intersection(joint.kind):
        length = part.length or part.section[1]
        return Line(name, spread, close, ceil(length / CLAMP_SPACING_MM) + 1, length * part.section[0])
    frame = sub_frames(piece).get(joint.joins[1], "")
    together = (frame or "frame") if whole else ""
    return Line(name, spread, close, 1, part.section[0] * part.section[1], frame if whole else "", together)


def _places(case: Case, piece: Piece, planned: PlannedStep) -> tuple[list[tuple[str, Joint | None]], bool]:
    """What each of the bonds of a step is called and which joint of the map it is; and whether they make up a whole frame."""
    damages = [case.damage(name) for name in planned.damages]
    if planned.count <= len(damages) or planned.step.per != "bond":
        return [_place(piece, damage) for damage in damages][: planned.count], False
    slack = [joint for joint in piece.joints if case.joints.get(joint.id) in words.SLACK_STATES]
    named: list[tuple[str, Joint | None]] = [(joint.id.replace("_", " "), joint) for joint in slack[: planned.count]]
    more: list[tuple[str, Joint | None]] = [(f"joint {number}", None) for number in range(len(named) + 1, planned.count + 1)]
    return named + more, True


def _place(piece: Piece, damage: Damage) -> tuple[str, Joint | None]:
    joint = piece.joint(damage.joint) if damage.joint else None
    # An id is somebody's text, of which only letters and figures pass.
    return " ".join(_NOT_A_WORD.sub(" ", damage.joint or damage.part or damage.id).split()), joint


def _clamps(piece: Piece, damage: Damage, step: Step) -> int:
    """Clamps on a part that is mended by itself: along the whole of a split, a pair on anything else, none where the step takes none."""
    if CLAMPS not in step.tools:
        return 0
    part = piece.parts.get(damage.part or "")
    length = part.length if part is not None and damage.kind == "split" else None
    return 2 if length is None else max(2, ceil(length / CLAMP_SPACING_MM))


def _one_by_one(places: Sequence[tuple[str, Joint | None]]) -> tuple[Line, ...]:
    return tuple(Line(name, 0.0, 0.0, 0) for name, _ in places)


def uses_glue(knowledge: Knowledge, step: Step) -> bool:
    """Whether a step uses the glue that is chosen for its place."""
    return any(knowledge.consumables[name].chosen == "adhesive" for name in step.uses)


def cures_alone(knowledge: Knowledge, step: Step) -> bool:
    """Whether a step glues something that cures by itself before the next is done; a first coat that only soaks in does not."""
    return step.wait_hours >= LEAST_CURE_H and uses_glue(knowledge, step)


def works(knowledge: Knowledge, case: Case, plan: Sequence[PlannedStep]) -> tuple[Work, ...]:
    """Every gluing of the plan, in its order: parts that are mended with a glue and a cure of their own, then the joints.

    On the clock of a joint stand its spreading and every later step of each bond up to the squaring; warming and wiping come before.
    A part that is mended has one step for it all, and all of that step counts. What is glued once for the whole piece, as blocks are,
    is put in one by one: it has a glue and a cure, and no clock.
    """
    piece = knowledge.pieces[case.piece]

    def glues(planned: PlannedStep) -> bool:
        return uses_glue(knowledge, planned.step)

    found = []
    for index, planned in enumerate(plan):
        step = planned.step
        if not glues(planned):
            continue
        closing: list[PlannedStep] = []
        square: list[PlannedStep] = []
        if step.phase == ASSEMBLY and not step.wait_hours:
            after = [o for o in plan[index + 1 :] if o.step.phase == ASSEMBLY and not glues(o) and not o.step.wait_hours]
            closing = [o for o in after if o.step.per == "bond" and set(o.damages) & set(planned.damages)]
            square = [o for o in after if o.step.per == "piece"]
        elif not cures_alone(knowledge, step):
            continue
        places, whole = _places(case, piece, planned)
        last = len(planned.damages) - 1
        lines = (
            _one_by_one(places)
            if step.per == "piece"
            else tuple(
                _line(piece, joint, name, _minutes([planned], number), _minutes(closing, number), whole)
                if step.phase == ASSEMBLY and step.per == "bond"
                else Line(
                    name,
                    _minutes([planned], number),
                    _minutes(closing, number),
                    _clamps(piece, case.damage(planned.damages[min(number, last)]), step),
                )
                for number, (name, joint) in enumerate(places)
            )
        )
        warm = [o for o in plan[:index] if o.step.warms_c is not None and set(o.damages) & set(planned.damages)]
        found.append(Work(planned, planned.damages, lines, _minutes(square, 0), warm[-1] if warm else None))
    return tuple(found)
