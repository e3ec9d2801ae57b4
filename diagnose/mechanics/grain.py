"""Slope of grain: what it costs, property by property, and how to measure it.

A slope is rise across per run along: 1 in 10 is 0.1, the tangent of the angle; straight grain is 0.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from diagnose.mechanics.result import Figure, KnownBy, interpolate, one_of, within


@dataclass(frozen=True, slots=True)
class Curve:
    """Hankinson constants of one property: `q` = across / along, exponent `n`, and how they are known."""

    q: float
    n: float
    known_by: KnownBy
    source: str


_TEXT = "Wood Handbook FPL-GTR-190 p. 5-29"
_LIST = "Wood Handbook p. 5-28 (lower ends of the ranges), as remembered"

CURVES: dict[str, Curve] = {
    "bending": Curve(0.10, 1.5, "read", _TEXT),
    "impact": Curve(0.05, 1.5, "read", _TEXT),
    "compression": Curve(0.10, 2.5, "read", _TEXT),
    "tension": Curve(0.04, 1.5, "memory", _LIST),
    "stiffness": Curve(0.04, 2.0, "memory", _LIST),
    "toughness": Curve(0.06, 1.5, "memory", _LIST),
}
"""The first three are the curves the Handbook names as lying very close to the test values (read)."""

TABLE_5_12: dict[str, tuple[tuple[float, float], ...]] = {
    "bending": ((0.0, 1.0), (1 / 25, 0.96), (1 / 20, 0.93), (1 / 15, 0.89), (1 / 10, 0.81), (1 / 5, 0.55)),
    "impact": ((0.0, 1.0), (1 / 25, 0.95), (1 / 20, 0.90), (1 / 15, 0.81), (1 / 10, 0.62), (1 / 5, 0.36)),
    "compression": ((0.0, 1.0), (1 / 25, 1.00), (1 / 20, 1.00), (1 / 15, 1.00), (1 / 10, 0.99), (1 / 5, 0.93)),
}
"""Handbook Table 5-12 (FPL-GTR-190, read): share of straight-grained strength left at a slope, from tests."""

STEEPEST_TESTED = 1 / 5
GUESSED_FROM = "steeper than 1 in 5, the steepest slope of the Handbook's table: the curve is carried on, not tested"


def hankinson(along: float, across: float, angle_deg: float, n: float = 2.0) -> Figure:
    """Strength at an angle to the grain, in the unit of `along` and `across`.

    N = P Q / (P sin^n t + Q cos^n t); P `along` and Q `across` > 0, t `angle_deg` 0..90°, n 1..3. Raises OutOfRange.
    Source: Handbook Eq 5-2; as Eq 8-16 with n = 2 for bearing (read, GTR-282 p. 8-13).

    >>> hankinson(40.0, 8.0, 0.0).value, hankinson(40.0, 8.0, 90.0).value
    (40.0, 8.0)
    """
    within("strength along the grain", along, 1e-9, 1e9, "")
    within("strength across the grain", across, 1e-9, 1e9, "")
    within("angle", angle_deg, 0.0, 90.0, "°")
    within("exponent n", n, 1.0, 3.0, "")
    t = math.radians(angle_deg)
    # cos(90°) is not quite 0 in floating point; the ends of the curve are exact by definition
    sin_n, cos_n = (1.0, 0.0) if angle_deg == 90.0 else (math.sin(t) ** n, math.cos(t) ** n)
    value = along * across / (along * sin_n + across * cos_n)
    return Figure(
        value, "as given", "N = P Q / (P sin^n t + Q cos^n t)", "Wood Handbook Eq 5-2 and Eq 8-16", "read", (), (),
        "0 to 90°",
    )  # fmt: skip


def slope_share(slope: float, prop: str = "bending") -> Figure:
    """Share of straight-grained strength left at a slope of grain, by the Handbook's own curve.

    q/(sin^n t + q cos^n t), t = atan(slope), slope 0..10 (rise per run), tested to 1/5; `prop` one of CURVES.
    Raises OutOfRange, MechanicsError. Source: Handbook p. 5-29 (read) for bending, impact and compression; the others
    use the lower ends of remembered ranges and are marked so. The curve lies up to 4.5 points below the table in
    bending, 8.7 in impact; a ratio of two slopes is closer (`tests/benchmarks/joint_means.py`).

    >>> [round(100 * slope_share(1 / run).value, 1) for run in (25, 20, 15, 10, 5)]
    [92.7, 90.1, 85.6, 76.5, 54.4]
    """
    one_of("property", prop, tuple(CURVES))
    within("slope of grain", slope, 0.0, 10.0, "(rise per run)")
    curve = CURVES[prop]
    # with n over 2 the formula rises a hair above 1 at slopes under 1 in 100: no grain is stronger than straight grain
    value = min(1.0, hankinson(1.0, curve.q, math.degrees(math.atan(slope)), curve.n).value)
    warnings = (GUESSED_FROM,) if slope > STEEPEST_TESTED + 1e-9 else ()
    return Figure(
        value, "ratio", f"q/(sin^n t + q cos^n t), q = {curve.q:g}, n = {curve.n:g}, t = atan(slope)", curve.source,
        curve.known_by, ("clear wood; knots not counted (no printed factor is known)",), warnings,
        "slopes up to 1 in 5",
    )  # fmt: skip


def slope_share_by_table(slope: float, prop: str = "bending") -> Figure:
    """The same from the Handbook's Table 5-12, straight lines between; slope 0..1/5.

    Raises OutOfRange beyond the table, MechanicsError. Source: that table (read). Shown beside the curve, which carries
    on where the table ends.

    >>> slope_share_by_table(1 / 10, "impact").value
    0.62
    """
    one_of("property", prop, tuple(TABLE_5_12))
    within("slope of grain", slope, 0.0, 0.2 + 1e-9, "(rise per run)")
    return Figure(
        interpolate(TABLE_5_12[prop], slope), "ratio", "table, straight lines between",
        "Wood Handbook FPL-GTR-190 Table 5-12", "read", (), (), "slopes up to 1 in 5",
    )  # fmt: skip


def runout(slope_a: float, slope_b: float) -> Figure:
    """True slope of grain from the slopes seen on two faces at right angles, added as the sides of a triangle.

    tan t = sqrt(a^2 + b^2), a and b 0..10. Raises OutOfRange. Source: geometry (the grain direction is one line in
    space, its two shadows the slopes on the faces). Follow the pores, not the figure.

    >>> round(runout(0.03, 0.04).value, 10)
    0.05
    """
    within("slope on the first face", slope_a, 0.0, 10.0, "(rise per run)")
    within("slope on the second face", slope_b, 0.0, 10.0, "(rise per run)")
    return Figure(
        math.hypot(slope_a, slope_b), "rise per run", "sqrt(a^2 + b^2)", "geometry", "derived",
        ("the two faces meet at a right angle", "both were read at the place of the break"),
    )  # fmt: skip


def slope_of_break(length_along_mm: float, thickness_mm: float) -> Figure:
    """Slope of grain a broken part had, from a break that followed the grain: thickness / length of the break.

    `length_along_mm` 1..2000 mm, `thickness_mm` 1..300 mm. Raises OutOfRange. Source: geometry.

    >>> slope_of_break(100, 20).value
    0.2
    """
    within("length of the break", length_along_mm, 1.0, 2000.0, "mm")
    within("thickness", thickness_mm, 1.0, 300.0, "mm")
    return Figure(
        thickness_mm / length_along_mm, "rise per run", "thickness / length of the break", "geometry", "derived",
        ("the break followed the grain right through the part",),
    )  # fmt: skip


def steepest_slope(share_wanted: float, prop: str = "bending") -> Figure:
    """The steepest slope of grain a new part may have to keep `share_wanted` (0.15..1) of straight-grained strength.

    The curve of `slope_share` solved for the slope (bisection). Raises OutOfRange, MechanicsError. Source: as
    there.

    >>> round(1 / steepest_slope(0.9).value)
    20
    """
    within("share of strength wanted", share_wanted, 0.15, 1.0, "")
    low, high = 0.0, 10.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if slope_share(middle, prop).value >= share_wanted else (low, middle)
    base = slope_share(low, prop)
    return Figure(
        low, "rise per run", "slope at which " + base.formula + " reaches the share", base.source, base.known_by,
        base.assumptions, base.warnings, base.range,
    )  # fmt: skip
