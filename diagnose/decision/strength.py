"""Strength in the case: what each method leaves, as a share of what the part or joint had when it was made, by the same sums.

What was read becomes numbers through `means` of the readings; what was not is assumed, and said to be. The chance of failing by
strength follows from the share: a sound part fails with the shop's own share, strength and hardest load are lognormal.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import exp, log, sqrt
from statistics import NormalDist

from diagnose import words
from diagnose.case.case import Case, Damage
from diagnose.case.quantity import length_mm
from diagnose.decision.joint_strength import glued_again
from diagnose.mechanics.as_made_members import Key, Repair, broken_member_ratio
from diagnose.mechanics.endjoints import scarf_efficiency
from diagnose.mechanics.grain import slope_share
from diagnose.mechanics.result import Figure
from diagnose.reasoning.facts import Facts
from diagnose.rulebase.entries import Method, Piece, Sign
from diagnose.rulebase.knowledge import Knowledge

# Scatter of a joint's strength and of the hardest load within the horizon: judgement, as coefficients of variation.
STRENGTH_SCATTER = 0.35
LOAD_SCATTER = 0.25
# What is taken where nothing was read, on the safe side.
ASSUMED: dict[str, tuple[float, str]] = {
    "slope": (1 / 20, "slope of grain not read: 1 in 20 assumed"),
    "length_over_depth": (4.0, "length of the break not read: four times the thickness assumed"),
    "gap_mm": (0.1, "gap in the joint not measured: 0.1 mm assumed"),
    "section_left": (1.0, "holes in the section not read: full section assumed"),
    "joint_face_left": (1.0, "faces of the joint not looked at: whole assumed"),
    "clean_share": (1.0, "fit of the broken faces not tried: closing clean assumed"),
}
# The new work as the plan asks for it: slope of the new wood, and run of a splice over the thickness.
PLANNED: dict[str, float] = {"new_slope": 1 / 25, "splice_run": 12.0}
# Beyond these the sums have no meaning; what is halved or doubled to see what hangs on it stays inside.
BOUNDS: dict[str, tuple[float, float]] = {
    "slope": (0.0, 1 / 3),
    "length_over_depth": (0.5, 20.0),
    "gap_mm": (0.0, 10.0),
    "section_left": (0.05, 1.0),
    "joint_face_left": (0.05, 1.0),
    "clean_share": (0.05, 1.0),
    "new_slope": (0.0, 1 / 3),
    "splice_run": (5.0, 20.0),
}
KEY = Key(depth_share=0.6, thickness_share=1 / 3, reach_over_depth=2.0)
PATCHED_DEPTH = 0.4


@dataclass(frozen=True)
class Strength:
    """Strength after each method as a share of as made (None: nothing structural hangs on it), and the warnings of the figures.

    `read` holds the quantities that the case itself gave, `assumed` the note of each that had to be assumed, `used` every quantity
    that the sums asked for, with its number.
    """

    after: Mapping[str, float | None]
    warnings: Mapping[str, tuple[str, ...]]
    read: Mapping[str, float]
    assumed: Mapping[str, str]
    used: Mapping[str, float]


class _Read:
    """The quantities read from the case; remembers which were asked for and which had to be assumed."""

    def __init__(self, knowledge: Knowledge, facts: Facts, instead: Mapping[str, float]) -> None:
        self.known: dict[str, float] = {}
        self.assumed: dict[str, str] = {}
        self.used: dict[str, float] = {}
        self.instead = instead
        for name, answer in facts.counted.items():
            sign = knowledge.signs[name]
            for reading in answer.reads:
                for quantity, number in sign.readings[reading].means.items():
                    self._keep(quantity, _measured(sign, answer.measured, number))

    def _keep(self, quantity: str, number: float) -> None:
        # Where two readings speak of one quantity the weaker part of the evidence counts.
        worst = max if quantity in ("slope", "gap_mm") else min
        self.known[quantity] = worst(self.known[quantity], number) if quantity in self.known else number

    def __getitem__(self, quantity: str) -> float:
        number = PLANNED.get(quantity, self.known.get(quantity))
        if number is None:
            number, self.assumed[quantity] = ASSUMED[quantity]
        self.used[quantity] = self.instead.get(quantity, number)
        return self.used[quantity]


def _measured(sign: Sign, text: str, otherwise: float) -> float:
    if sign.measure is None or not text:
        return otherwise
    return length_mm(text) if sign.measure.unit == "mm" else otherwise


def _as_found(damage: Damage) -> float | None:
    if damage.kind in ("loose", "broken", "split"):
        return 0.0
    return None if damage.kind in ("fitting", "insect") else 1.0


@dataclass(frozen=True)
class _Place:
    """The place that is mended: where it is, what was measured there, and what was read."""

    piece: Piece
    damage: Damage
    joint_kind: str | None
    read: _Read


def _joint(place: _Place) -> Figure:
    gap, left = min(place.read["gap_mm"], BOUNDS["gap_mm"][1]), place.read["joint_face_left"]
    return glued_again(place.piece, place.damage.joint, place.joint_kind, place.damage.sizes, gap, left)


def _break(model: str, read: _Read) -> Figure:
    slope = read["slope"]
    if model in ("reglued_break", "keyed_break"):
        repair: Repair = "glued_break" if model == "reglued_break" else "keyed_break"
        run, clean, left = read["length_over_depth"], read["clean_share"], read["section_left"]
        figure = broken_member_ratio(repair, run, clean, slope, key=KEY if model == "keyed_break" else None)
        return replace(figure, value=figure.value * left**2)
    if model == "spliced_part":
        # At the place that broke: there the new wood's grain stands in for the old, so a splice can be stronger than made.
        scarf, new, old = scarf_efficiency(read["splice_run"]), slope_share(read["new_slope"]), slope_share(slope)
        return replace(scarf, value=scarf.value * new.value / old.value).warned(*old.warnings)
    if model == "patched_part":
        return broken_member_ratio(
            "patched", read["splice_run"], 1.0, slope, slope_new=read["new_slope"], renewed_share=PATCHED_DEPTH
        )
    return broken_member_ratio("new_part", PLANNED["splice_run"], 1.0, slope, slope_new=read["new_slope"])


def _after(model: str, place: _Place) -> tuple[float | None, tuple[str, ...]]:
    if model == "none":
        return None, ()
    if model == "as_found":
        return _as_found(place.damage), ()
    if model in ("rebuilt_joint", "doweled_joint"):
        return 1.0, ()
    figure = _joint(place) if model in ("reglued_joint", "blocks_added") else _break(model, place.read)
    return figure.value, figure.warnings


def strength_of(
    knowledge: Knowledge,
    case: Case,
    damage: Damage,
    facts: Facts,
    methods: Sequence[Method],
    instead: Mapping[str, float] | None = None,
) -> Strength:
    """What every method leaves, and the assumptions that were needed for it; numbers of `instead` take the place of what was read."""
    read = _Read(knowledge, facts, instead or {})
    kind = next(iter(facts.values.get("joint", ())), None)
    place = _Place(knowledge.pieces[case.piece], damage, kind, read)
    found = {method.id: _after(method.strength, place) for method in methods}
    return Strength(
        after={name: value for name, (value, _) in found.items()},
        warnings={name: warnings for name, (_, warnings) in found.items() if warnings},
        read=dict(read.known),
        assumed=dict(read.assumed),
        used=dict(read.used),
    )


SPREAD = sqrt(log(1 + STRENGTH_SCATTER**2) + log(1 + LOAD_SCATTER**2))


def _index(sound_part_fails: float) -> float:
    return -NormalDist().inv_cdf(min(max(sound_part_fails, 1e-6), 0.999))


def chance_of_failing(ratio: float | None, sound_part_fails: float) -> float:
    """P(strength < hardest load within the horizon) for a part of `ratio` times its strength as made.

    `sound_part_fails` is the share of sound parts that fail in that time. Lognormal strength and load with the scatters above.

    >>> round(chance_of_failing(1.0, 0.02), 3), round(chance_of_failing(0.5, 0.02), 2), chance_of_failing(None, 0.02)
    (0.02, 0.34, 0.0)
    """
    if ratio is None or sound_part_fails <= 0.0:
        return 0.0
    if ratio <= 0.0:
        return 1.0
    return NormalDist().cdf(-(_index(sound_part_fails) + log(ratio) / SPREAD))


def usual_load(sound_part_fails: float) -> float:
    """Mean of the hardest load, as a share of the mean strength as made, that lets this share of sound parts fail.

    >>> round(usual_load(0.02), 2)
    0.41
    """
    medians = exp(-_index(sound_part_fails) * SPREAD)
    return medians * sqrt((1 + LOAD_SCATTER**2) / (1 + STRENGTH_SCATTER**2))


def computed_readings(knowledge: Knowledge, case: Case, damage: Damage, facts: Facts) -> dict[str, str]:
    """The reading of the sign that compares a part's measured section with what is usual for its kind, if both are known."""
    sign = knowledge.computed_sign("strength_ratio")
    part = knowledge.pieces[case.piece].parts.get(damage.part or "")
    thickness, width = damage.sizes.get("thickness"), damage.sizes.get("width")
    if sign is None or part is None or thickness is None or width is None:
        return {}
    usual_thickness, usual_width = part.section
    share = width * thickness**2 / (usual_width * usual_thickness**2)
    reading = next(name for name, limit in words.STRENGTH_READINGS if share < limit)
    return {sign.id: reading}
