"""Nails, screws, lag screws drawn out of wood; pilot holes; distances; inserts (guidance only).

Ultimate test averages from Handbook ch. 8 (GTR-282), not design loads. G is gravity at 12 % MC: convert the imported
woods first (`wood.gravity_at_moisture`).
"""

from __future__ import annotations

from dataclasses import dataclass

from diagnose.mechanics.result import Figure, KnownBy, one_of, within
from diagnose.mechanics.wood import Kind

SCREW_SHANK_MM: dict[int, float] = {
    4: 2.84, 5: 3.18, 6: 3.51, 7: 3.84, 8: 4.17, 9: 4.50, 10: 4.83, 11: 5.16, 12: 5.49, 14: 6.15, 16: 6.81, 18: 7.47,
    20: 8.13, 24: 9.45,
}  # fmt: skip
"""Wood screw number -> shank diameter (Handbook Table 8-9, read)."""

NAIL_MM: dict[str, tuple[float, float]] = {
    "6d": (50.8, 2.87), "8d": (63.5, 3.33), "10d": (76.2, 3.76), "12d": (82.6, 3.76), "16d": (88.9, 4.11),
    "20d": (101.6, 4.88), "30d": (114.3, 5.26), "40d": (127.0, 5.72), "50d": (139.7, 6.20), "60d": (152.4, 6.65),
}  # fmt: skip
"""Common nail -> length, diameter (Handbook Table 8-1, read)."""

GRAVITY = (0.20, 1.10)
GRAVITY_TESTED = (0.29, 0.75)
SCREW_END_GRAIN = 0.60
LAG_END_GRAIN = 0.75


def _inputs(gravity: float, diameter_mm: float, depth_mm: float, what: str) -> tuple[str, ...]:
    warnings = within("gravity at 12 %", gravity, *GRAVITY, "", tested=GRAVITY_TESTED)
    within(f"{what} diameter", diameter_mm, 1.0, 30.0, "mm")
    within(f"{what} depth in the wood", depth_mm, 3.0, 300.0, "mm")
    return warnings


def screw_withdrawal(gravity_12: float, shank_mm: float, thread_depth_mm: float, end_grain: bool = False) -> Figure:
    """Force that draws a wood screw out, N (ultimate, test average).

    108.25 G^2 D L in side grain; 0.60 of it in end grain. G 0.20..1.10 (tested 0.29..0.75), D shank 1..30 mm (sizes of
    Table 8-9 are 2.84..9.45), L thread in the wood 3..300 mm. Raises OutOfRange. Source: Handbook Eq 8-10 (read). End
    grain: 0.75 remembered, 0.60 in an older trade table (read at second hand), not allowed at all by the design code:
    the safer number is taken and warned of.

    >>> round(screw_withdrawal(0.63, 4.17, 25).value), round(screw_withdrawal(0.63, 4.17, 25, end_grain=True).value)
    (4479, 2687)
    """
    warnings = _inputs(gravity_12, shank_mm, thread_depth_mm, "wood screw")
    warnings += within("screw shank", shank_mm, 1.0, 30.0, "mm", tested=(2.84, 9.45))
    value = 108.25 * gravity_12**2 * shank_mm * thread_depth_mm
    formula, known = "108.25 G^2 D L", "read"
    source = "Wood Handbook Eq 8-10, GTR-282 p. 8-10"
    if end_grain:
        value *= SCREW_END_GRAIN
        formula, known = "0.60 x 108.25 G^2 D L", "read_second_hand"
        source += "; end grain from an older trade table"
        warnings += ("screws in end grain hold unevenly and the design code does not let them be drawn on at all",)
    level: KnownBy = "read" if known == "read" else "read_second_hand"
    return Figure(
        value, "N", formula, source, level,
        ("seasoned wood", "lead hole 70 % (softwood) or 90 % (hardwood) of the root", "thread not stripped"), warnings,
        "screws no. 4 to 24",
    )  # fmt: skip


def lag_withdrawal(gravity_12: float, shank_mm: float, thread_depth_mm: float, end_grain: bool = False) -> Figure:
    """Force that draws a lag screw (or hanger bolt's wood thread) out, N (ultimate, test average).

    125.4 G^1.5 D^0.75 L in side grain; three quarters of it in end grain. Ranges as for screws. Raises OutOfRange.
    Source: Handbook Eq 8-14, p. 8-12, end grain p. 8-13 (read).

    >>> round(lag_withdrawal(0.63, 6.35, 30).value)
    7525
    """
    warnings = _inputs(gravity_12, shank_mm, thread_depth_mm, "lag screw")
    value = 125.4 * gravity_12**1.5 * shank_mm**0.75 * thread_depth_mm
    if end_grain:
        value *= LAG_END_GRAIN
        warnings += ("in end grain: three quarters of the side-grain figure",)
    return Figure(
        value, "N", ("0.75 x " if end_grain else "") + "125.4 G^1.5 D^0.75 L", "Wood Handbook Eq 8-14, GTR-282 p. 8-12",
        "read", ("seasoned wood", "proper lead hole", "thread not stripped"), warnings, "gravity 0.29 to 0.75",
    )  # fmt: skip


def nail_withdrawal(gravity_12: float, diameter_mm: float, depth_mm: float) -> Figure:
    """Force that draws a smooth nail out of side grain, N: 54.12 G^2.5 D L. Ranges as for screws. Raises OutOfRange.

    Source: Handbook Eq 8-1, p. 8-2 (read; a page that lost the superscript shows the exponent as 2).

    >>> round(nail_withdrawal(0.63, 2.87, 25).value)
    1223
    """
    warnings = _inputs(gravity_12, diameter_mm, depth_mm, "nail")
    return Figure(
        54.12 * gravity_12**2.5 * diameter_mm * depth_mm, "N", "54.12 G^2.5 D L", "Wood Handbook Eq 8-1, p. 8-2",
        "read", ("driven into seasoned wood, drawn at once",), warnings, "gravity 0.29 to 0.75",
    )  # fmt: skip


def ring_nail_withdrawal(gravity: float, root_mm: float, depth_mm: float) -> Figure:
    """Force that draws a ring-shanked nail out, N: 77.57 G^2 D L. Ranges as for screws. Raises OutOfRange.

    G on oven-dry weight and volume, D thread-root diameter. Source: Handbook Eq 8-2a, p. 8-4 (read).

    >>> round(ring_nail_withdrawal(0.5, 3.0, 30).value)
    1745
    """
    warnings = _inputs(gravity, root_mm, depth_mm, "nail")
    return Figure(
        77.57 * gravity**2 * root_mm * depth_mm, "N", "77.57 G^2 D L", "Wood Handbook Eq 8-2a, p. 8-4", "read",
        ("gravity on oven-dry volume",), warnings, "gravity 0.29 to 0.75",
    )  # fmt: skip


def drift_bolt_withdrawal(gravity_12: float, diameter_mm: float, depth_mm: float) -> Figure:
    """Force that draws a drift bolt or pin out of side grain, N: 45.51 G^2 D L. Ranges as for screws.

    Raises OutOfRange. Source: Handbook Eq 8-9, p. 8-10 (read); hole 3.2 mm under the bolt.

    >>> round(drift_bolt_withdrawal(0.5, 12, 100).value)
    13653
    """
    warnings = _inputs(gravity_12, diameter_mm, depth_mm, "bolt")
    return Figure(
        45.51 * gravity_12**2 * diameter_mm * depth_mm, "N", "45.51 G^2 D L", "Wood Handbook Eq 8-9, p. 8-10", "read",
        ("hole bored 3.2 mm smaller than the bolt",), warnings, "gravity 0.29 to 0.75",
    )  # fmt: skip


def screw_allowable_per_inch(gravity: float, shank_in: float) -> Figure:
    """Older design load of a wood screw, lbf per inch of thread: 2850 G^2 D (inch), for scale beside the ultimate.

    G 0.20..1.10, D 0.05..1 in. Raises OutOfRange. Source: older design code on a reference page (read at second hand).

    >>> round(screw_allowable_per_inch(0.45, 0.190).value)
    110
    """
    within("gravity", gravity, *GRAVITY, "")
    within("shank", shank_in, 0.05, 1.0, "in")
    return Figure(2850.0 * gravity**2 * shank_in, "lbf/in", "2850 G^2 D", "older design code, restated", "read_second_hand")


def nail_allowable_per_inch(gravity: float, diameter_in: float) -> Figure:
    """Older design load of a nail, lbf per inch: 1380 G^2.5 D (inch); ranges, source as for the screw.

    Raises OutOfRange.

    >>> round(nail_allowable_per_inch(0.45, 0.203).value)
    38
    """
    within("gravity", gravity, *GRAVITY, "")
    within("diameter", diameter_in, 0.05, 1.0, "in")
    return Figure(
        1380.0 * gravity**2.5 * diameter_in, "lbf/in", "1380 G^2.5 D", "older design code, restated", "read_second_hand"
    )


def lag_allowable(gravity: float, diameter_in: float, penetration_in: float) -> Figure:
    """Design load of a lag screw, N: 1800 G^1.5 D^0.75 lbf per inch of thread in the wood, tip left out.

    G 0.20..1.10, D 0.1..1.5 in, penetration 0.1..20 in. Raises OutOfRange. Source: design code, solved example E2.3.

    >>> round(lag_allowable(0.55, 0.5, 4.0 - 1.5 - 0.3125).value, 1)
    4247.9
    """
    within("gravity", gravity, *GRAVITY, "")
    within("diameter", diameter_in, 0.1, 1.5, "in")
    within("penetration", penetration_in, 0.1, 20.0, "in")
    return Figure(
        1800.0 * gravity**1.5 * diameter_in**0.75 * penetration_in * 4.4482216, "N", "1800 G^1.5 D^0.75 per inch",
        "design code for wood, solved example E2.3", "read_second_hand",
    )  # fmt: skip


def pilot_hole(root_mm: float, kind: Kind) -> Figure:
    """Lead hole for the thread of a wood screw, mm: 70 % of the root diameter in softwood, 90 % in hardwood.

    `root_mm` 1..15. Raises OutOfRange, MechanicsError. Source: Handbook p. 8-10 (read).

    >>> pilot_hole(3.0, "softwood").value, pilot_hole(3.0, "hardwood").value
    (2.1, 2.7)
    """
    one_of("kind", kind, ("softwood", "hardwood"))
    within("root diameter", root_mm, 1.0, 15.0, "mm")
    part = 0.70 if kind == "softwood" else 0.90
    return Figure(
        round(part * root_mm, 9), "mm", f"{part:g} x root diameter", "Wood Handbook p. 8-10", "read",
        ("try it in scrap of the same wood first",),
    )  # fmt: skip


def pilot_hole_by_density(root_mm: float, gravity_12: float) -> Figure:
    """The same by gravity: over 0.6 90 %, over 0.5 70 %, below no hole needed (0). `root_mm` 1..15, G 0.20..1.10.

    Raises OutOfRange. Source: design code 12.1.5 as remembered; the Handbook's rule by kind of wood is read.

    >>> [pilot_hole_by_density(3.0, g).value for g in (0.45, 0.55, 0.65)]
    [0.0, 2.1, 2.7]
    """
    within("root diameter", root_mm, 1.0, 15.0, "mm")
    within("gravity at 12 %", gravity_12, *GRAVITY, "")
    part = 0.90 if gravity_12 > 0.6 else 0.70 if gravity_12 > 0.5 else 0.0
    return Figure(
        round(part * root_mm, 9), "mm", f"{part:g} x root diameter", "design code 12.1.5, as remembered", "memory",
        ("withdrawal only", "near an end or edge bore anyway"),
    )  # fmt: skip


EDGE_END: dict[str, float] = {
    "along_grain_spacing": 4, "end_tension_softwood": 7, "end_tension_hardwood": 5, "end_compression": 4,
    "end_across": 4, "edge_along": 1.5, "edge_loaded": 4, "edge_unloaded": 1.5, "row_spacing": 1.5,
}  # fmt: skip
"""Bolts and lag screws at full capacity: distances in diameters (design code, as remembered)."""


def edge_or_end(where: str, diameter_mm: float) -> Figure:
    """Least spacing, end or edge distance of a bolt or lag screw, mm: a number of diameters by place (EDGE_END).

    `diameter_mm` 1..30. Raises OutOfRange, MechanicsError. Source: design code, remembered (4 D along the row and 7 D
    at an end in tension are read at second hand). For screws and nails no figure is published: enough not to split.

    >>> edge_or_end("end_tension_hardwood", 8).value
    40.0
    """
    one_of("place", where, tuple(EDGE_END))
    within("diameter", diameter_mm, 1.0, 30.0, "mm")
    known: KnownBy = "read_second_hand" if where in ("along_grain_spacing", "end_tension_softwood") else "memory"
    return Figure(
        float(EDGE_END[where] * diameter_mm), "mm", f"{EDGE_END[where]:g} D", "design code for bolts", known, (),
        ("for screws and nails no figure is published: bore, and keep far enough not to split",),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Guidance:
    """Advice where no sound sum is known: `say`, `source`, `known_by`."""

    say: str
    source: str
    known_by: KnownBy


def insert_guidance() -> tuple[Guidance, ...]:
    """What to do about a threaded insert: no sound formula for its hold is known, so nothing is computed.

    Source: common practice. Raises nothing.

    >>> insert_guidance()[0].say
    'No sound formula for the hold of threaded inserts is known: no number is given.'
    """
    practice = "common practice"
    return (
        Guidance("No sound formula for the hold of threaded inserts is known: no number is given.", practice,
                 "judgement"),
        Guidance("Try the insert in scrap of the same wood first, same grain, same distance to the edge.", practice,
                 "judgement"),
        Guidance("Start with the hole its maker names; open it by 0.2 mm at a time if the scrap starts to split or"
                 " the drive slot gives; smaller again if the insert turns with the bolt.", practice, "judgement"),
        Guidance("In end grain or crumbling board an insert is not to carry a person.", practice, "judgement"),
    )  # fmt: skip
