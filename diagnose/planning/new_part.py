"""The new part or the piece let in: which wood, how large a blank, how its grain may lie.

Strength comes first: a wood is offered only where it bends no less than 0.9 of the old one, the line that every repair is held to.
Then figure (pores, texture, colour), weight and movement, for the eye and for the joint.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from diagnose import words
from diagnose.case.case import Case
from diagnose.mechanics.grain import slope_share
from diagnose.mechanics.moisture import movement
from diagnose.planning.compose import PlannedStep
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.woods import Wood

# Nothing shorter goes by hand over a machine (trade pages say 250 to 300 mm; the longer is taken).
SHORTEST_OVER_MACHINE_MM = 300.0
AS_STRONG = 0.9
# Straight-grained wood leaves so much of its strength unused that a gentle slope does not weaken the part below 0.9 of the old one.
SLOPES = (1 / 25, 1 / 20, 1 / 15, 1 / 12, 1 / 10)
# Indoors the wood of a year swings by about five points; a difference under a fifth is not seen in a joint (judgement).
SWING_PCT = (6.0, 11.0)
LIKE, NEAR = 0.12, 0.3
MOST_OFFERED = 4
MOST_APART = 2


@dataclass(frozen=True)
class Match:
    """A wood beside the old one: bending strength and weight as shares of it, the difference in movement of 100 mm in mm, and what speaks.

    `apart` counts the differences, the pores and the kind of wood twice, for neither stain nor skill hides them; `too_weak` rules it out
    where the part carries anything.
    """

    wood: Wood
    strength: float
    weight: float
    moves_more_mm: float
    speaks_for: tuple[str, ...]
    against: tuple[str, ...]
    apart: int
    too_weak: bool


@dataclass(frozen=True)
class Blank:
    """One piece of new wood: what it is for, finished and rough size (thickness, width, length in mm; None: taken from its bed).

    `at_least` is the length a piece let in must have. `held` is the length it is kept at until it is cut to length last.
    """

    step: PlannedStep
    damage: str
    part: str | None
    kind: str
    finished: tuple[float, float, float | None] | None
    rough: tuple[float, float, float | None] | None
    at_least: float | None
    held: float | None
    measured: bool


def _close(share: float, within: float) -> bool:
    return abs(share - 1.0) <= within


def compare(old: Wood, new: Wood) -> Match:
    """One wood beside the old one.

    >>> from diagnose.rulebase.woods import load_woods
    >>> woods = load_woods()
    >>> round(compare(woods["white_oak"], woods["white_ash"]).strength, 2)
    1.01
    """
    strength = new.strength("mor").value / old.strength("mor").value
    weight = new.gravity_12 / old.gravity_12
    moves = abs(movement(100.0, new.coef_t, *SWING_PCT).value) - abs(movement(100.0, old.coef_t, *SWING_PCT).value)
    looks: list[tuple[bool, int, str, str]] = [
        (old.pores == new.pores, 2, "the same pores", "other pores, which show under any finish"),
        (old.texture == new.texture, 1, "the same texture", f"{new.texture} where the old one is {old.texture}"),
        (old.colour == new.colour, 1, "a like colour", f"{new.colour} where the old one is {old.colour}"),
        (_close(weight, LIKE), 1, "a like weight", f"{'heavier' if weight > 1 else 'lighter'} ({weight:.0%} of the old)"),
        (
            _close(new.coef_t / old.coef_t, NEAR),
            1,
            "moves alike",
            f"moves {abs(moves):.1f} mm {'more' if moves > 0 else 'less'} in 100 mm through a year",
        ),
        ((old.group == "softwood") == (new.group == "softwood"), 2, "", "a softwood beside a hardwood"),
        (new.bonding != "with_difficulty", 1, "", "hard to glue"),
    ]
    return Match(
        wood=new,
        strength=strength,
        weight=weight,
        moves_more_mm=moves,
        speaks_for=tuple(merit for alike, _, merit, _ in looks if alike and merit),
        against=tuple(fault for alike, _, _, fault in looks if not alike),
        apart=sum(counts for alike, counts, _, _ in looks if not alike),
        too_weak=strength < AS_STRONG,
    )


def matches(woods: Iterable[Wood], old: Wood, carries: bool) -> tuple[Match, ...]:
    """Every other wood, best first: strong enough, least apart, then nearest in strength and weight.

    The same kind of wood, of like growth and age, is always better than the first of these.
    """
    found = [compare(old, wood) for wood in woods if wood.id != old.id]
    return tuple(
        sorted(
            found,
            key=lambda m: (carries and m.too_weak, m.apart, abs(m.strength - 1.0) + abs(m.weight - 1.0), m.wood.id),
        )
    )


def offered(found: Sequence[Match], carries: bool) -> tuple[Match, ...]:
    """The few that will do: strong enough, and no more against them than two differences that stain and skill can hide."""
    return tuple(m for m in found if not (carries and m.too_weak) and m.apart <= MOST_APART)[:MOST_OFFERED]


def to_avoid(found: Sequence[Match], old: Wood) -> tuple[Match, ...]:
    """The woods most easily taken for a match and yet too weak: alike in pores and colour."""
    alike = [m for m in found if m.too_weak and m.wood.pores == old.pores and m.wood.colour == old.colour]
    return tuple(sorted(alike, key=lambda m: (m.apart, m.strength, m.wood.id))[:MOST_OFFERED])


def steepest_run(strength: float = 1.0) -> int | None:
    """The steepest slope of grain allowed in a new part, as a run to a rise of 1; None where even 1 in 25 is too steep.

    `strength` is the new wood's as a share of the old one's (over 0). The slope may cost no more than brings it to 0.9 of the old;
    never steeper than 1 in 10. Source: `mechanics.grain.slope_share`.

    >>> steepest_run(1.0), steepest_run(1.2), steepest_run(0.9)
    (20, 10, None)
    """
    kept = [slope for slope in SLOPES if strength * slope_share(slope).value >= AS_STRONG - 1e-9]
    return round(1 / max(kept)) if kept else None


def blanks(knowledge: Knowledge, case: Case, plan: Sequence[PlannedStep]) -> tuple[Blank, ...]:
    """Every blank that the plan asks for, one for each damage; a part shaped in two steps has one blank."""
    found: dict[tuple[str, str], Blank] = {}
    for planned in plan:
        wood = planned.step.new_wood
        if wood is None:
            continue
        for name in planned.damages:
            damage = case.damage(name)
            key = (name, wood.kind if wood.kind == "part" else planned.step.id)
            if key not in found:
                sizes = _sizes(knowledge, case, damage.part, damage.sizes)
                found[key] = _blank(planned, name, damage.part, sizes)
    return tuple(found.values())


def _sizes(
    knowledge: Knowledge, case: Case, part_id: str | None, measured: Mapping[str, float]
) -> tuple[tuple[float, float, float | None], bool] | None:
    """Thickness, width and length of a part in mm, and whether all of them were measured; None for a part nobody knows."""
    part = knowledge.pieces[case.piece].parts.get(part_id or "")
    usual = {} if part is None else dict(zip(words.PART_SIZES, (*part.section, part.length), strict=True))
    known = {name: measured.get(name, usual.get(name)) for name in words.PART_SIZES}
    thickness, width, length = (known[name] for name in words.PART_SIZES)
    if thickness is None or width is None:
        return None
    return (thickness, width, length), all(name in measured for name in words.PART_SIZES)


def _blank(
    planned: PlannedStep, damage: str, part: str | None, sizes: tuple[tuple[float, float, float | None], bool] | None
) -> Blank:
    wood = planned.step.new_wood
    assert wood is not None
    if sizes is None:
        return Blank(planned, damage, part, wood.kind, None, None, None, None, False)
    (thickness, width, length), measured = sizes
    at_least = None if wood.long is None else wood.long * thickness
    if wood.kind == "let_in":
        kept = max((at_least or 0.0) + wood.over[2], SHORTEST_OVER_MACHINE_MM)
        return Blank(planned, damage, part, wood.kind, None, None, at_least, kept, measured)
    rough_length = None if length is None else length + wood.over[2]
    rough = (thickness + wood.over[0], width + wood.over[1], rough_length)
    held = None if rough_length is None else max(rough_length, SHORTEST_OVER_MACHINE_MM)
    return Blank(planned, damage, part, wood.kind, (thickness, width, length), rough, at_least, held, measured)
