"""Nails, screws and lag screws pushed sideways. Handbook ch. 8, GTR-282 pp. 8-6 to 8-14 (read)."""

from __future__ import annotations

import math
from typing import Literal

from diagnose.mechanics.result import Figure, OutOfRange, interpolate, one_of, within
from diagnose.mechanics.wood import Kind

Fastener = Literal["nail", "wood-screw", "lag"]

K_TABLE_8_4: dict[Kind, tuple[tuple[float, float, dict[str, float]], ...]] = {
    "hardwood": (
        (0.33, 0.47, {"nail": 50.04, "wood-screw": 23.17, "lag": 26.34}),
        (0.48, 0.56, {"nail": 69.50, "wood-screw": 31.99, "lag": 29.51}),
        (0.57, 0.74, {"nail": 94.52, "wood-screw": 44.13, "lag": 34.13}),
    ),
    "softwood": (
        (0.29, 0.42, {"nail": 50.04, "wood-screw": 23.17, "lag": 23.30}),
        (0.43, 0.47, {"nail": 62.55, "wood-screw": 29.79, "lag": 26.34}),
        (0.48, 0.52, {"nail": 76.45, "wood-screw": 36.40, "lag": 29.51}),
    ),
}
"""K by gravity band, metric (Handbook Table 8-4)."""

LAG_SIDE_MEMBER_8_10 = (
    (2.0, 0.62), (2.5, 0.77), (3.0, 0.93), (3.5, 1.00), (4.0, 1.07), (4.5, 1.13), (5.0, 1.18), (5.5, 1.21), (6.0, 1.22),
    (6.5, 1.22),
)  # fmt: skip
LAG_ACROSS_GRAIN_8_11 = (
    (4.8, 1.00), (6.4, 0.97), (7.9, 0.85), (9.5, 0.76), (11.1, 0.70), (12.7, 0.65), (15.9, 0.60), (19.0, 0.55),
    (22.2, 0.52), (25.4, 0.50),
)  # fmt: skip
LAG_END_GRAIN = 2.0 / 3.0


def side_load(fastener: Fastener, gravity_12: float, diameter_mm: float, kind: Kind) -> Figure:
    """Sideways load at the proportional limit, N, side grain: K D^1.5 (nail) or K D^2 (screw, lag screw).

    G in the bands of Table 8-4 (softwood 0.29..0.52, hardwood 0.33..0.74), D 1..30 mm. Raises OutOfRange,
    MechanicsError. Source: Handbook Eq 8-2 (p. 8-6), 8-13, 8-15, Table 8-4 (read). A nail's ultimate is 3.5 (softwood)
    to 7 (hardwood) times this.

    >>> round(side_load("wood-screw", 0.63, 4.17, "hardwood").value)
    767
    """
    one_of("fastener", fastener, ("nail", "wood-screw", "lag"))
    one_of("kind", kind, ("softwood", "hardwood"))
    bands = K_TABLE_8_4[kind]
    within("gravity at 12 %", gravity_12, bands[0][0], bands[-1][1], "")
    within("diameter", diameter_mm, 1.0, 30.0, "mm")
    # between two bands the lower one is taken: safer
    k = next(values for low, _, values in reversed(bands) if gravity_12 >= low)[fastener]
    power = 1.5 if fastener == "nail" else 2.0
    return Figure(
        k * diameter_mm**power, "N", f"{k:g} D^{power:g}", "Wood Handbook Table 8-4, GTR-282 p. 8-6", "read",
        ("side grain, seasoned wood", "deep enough: nail 10-14 D, screw thread 7 D, lag 7-11 D"),
    )  # fmt: skip


def lag_side_factor(
    side_thickness_over_d: float, diameter_mm: float, across_grain: bool = False, end_grain: bool = False
) -> Figure:
    """Factor on a lag screw's sideways load for the thickness of the side piece, direction and end grain.

    Thickness/D 2..6.5 (Table 8-10), D 4.8..25.4 mm (Table 8-11, load across the grain), 2/3 in end grain (p. 8-14).
    Raises OutOfRange. Source: Handbook (read); end grain is counted on the across-grain load.

    >>> lag_side_factor(3.5, 9.5).value, lag_side_factor(3.5, 9.5, across_grain=True).value
    (1.0, 0.76)
    """
    within("side piece / diameter", side_thickness_over_d, 2.0, 6.5, "")
    within("diameter", diameter_mm, 4.8, 25.4, "mm")
    value = interpolate(LAG_SIDE_MEMBER_8_10, side_thickness_over_d)
    if across_grain or end_grain:
        value *= interpolate(LAG_ACROSS_GRAIN_8_11, diameter_mm)
    if end_grain:
        value *= LAG_END_GRAIN
    return Figure(value, "ratio", "table factors multiplied", "Wood Handbook Tables 8-10, 8-11, p. 8-14", "read")


def bearing_strength(gravity: float) -> Figure:
    """Dowel bearing strength, MPa: 114.5 G^1.84; G 0.25..0.90. Raises OutOfRange. Source: Handbook Eq 8-3, p. 8-7.

    >>> round(bearing_strength(0.5).value, 1)
    32.0
    """
    within("gravity", gravity, 0.25, 0.90, "")
    return Figure(114.5 * gravity**1.84, "MPa", "114.5 G^1.84", "Wood Handbook Eq 8-3, p. 8-7", "read")


def yield_load(
    fastener: Fastener, diameter_mm: float, side_mm: float, depth_mm: float, side_mpa: float, main_mpa: float,
    wire_mpa: float = 551.0,
) -> Figure:  # fmt: skip
    """Sideways yield load of a nail or screw, N: the least of the modes of Handbook Table 8-5.

    D 1..12 mm, side piece 1..100 mm, depth in the main piece 5..200 mm, bearing strengths 2..150 MPa, bending yield of
    the wire 300..1000 MPa. Raises OutOfRange (also for lag screws). Source: Handbook Table 8-5, p. 8-7 (read).

    >>> round(yield_load("nail", 3.33, 19, 40, 32.0, 32.0).value)
    843
    """
    if fastener == "lag":
        raise OutOfRange("the yield modes here are those of nails and screws; for lag screws use side_load")
    one_of("fastener", fastener, ("nail", "wood-screw"))
    within("diameter", diameter_mm, 1.0, 12.0, "mm")
    within("side piece", side_mm, 1.0, 100.0, "mm")
    within("depth in the main piece", depth_mm, 5.0, 200.0, "mm")
    within("bearing strength of the side piece", side_mpa, 2.0, 150.0, "MPa")
    within("bearing strength of the main piece", main_mpa, 2.0, 150.0, "MPa")
    within("bending yield of the wire", wire_mpa, 300.0, 1000.0, "MPa")
    d, ts, p, fem, fyb = diameter_mm, side_mm, depth_mm, main_mpa, wire_mpa
    re = main_mpa / side_mpa
    modes = {"Is": d * ts * side_mpa}
    bend = 2.0 * (1.0 + re) / re
    if fastener == "nail":
        k1 = -1.0 + math.sqrt(2.0 * (1.0 + re) + 2.0 * fyb * (1.0 + 2.0 * re) * d**2 / (3.0 * fem * p**2))
        k2 = -1.0 + math.sqrt(bend + 2.0 * fyb * (2.0 + re) * d**2 / (3.0 * fem * ts**2))
        modes["IIIm"] = k1 * d * p * fem / (1.0 + 2.0 * re)
        modes["IIIs"] = k2 * d * ts * fem / (2.0 + re)
        modes["IV"] = d**2 * math.sqrt(2.0 * fem * fyb / (3.0 * (1.0 + re)))
    else:
        k3 = -1.0 + math.sqrt(bend + fyb * (2.0 + re) * d**2 / (2.0 * fem * ts**2))
        modes["IIIs"] = k3 * d * ts * fem / (2.0 + re)
        modes["IV"] = d**2 * math.sqrt(1.75 * fem * fyb / (3.0 * (1.0 + re)))
    mode = min(modes, key=modes.__getitem__)
    return Figure(
        modes[mode], "N", f"mode {mode} of the yield model", "Wood Handbook Table 8-5, p. 8-7", "read",
        ("side grain", f"bending yield of the wire {fyb:g} MPa"),
    )  # fmt: skip
