"""Shelves, drawers and tipping over."""

from __future__ import annotations

from diagnose.mechanics.loads import STANDARD_GRAVITY
from diagnose.mechanics.members import sag
from diagnose.mechanics.result import Figure, one_of, within

SHELF_LOADS: dict[str, tuple[float, str, str]] = {
    "books": (25 * 4.448222 / 304.8, "N per mm of shelf", "structural engineers' archive: 25 lb a running foot"),
    "kitchen": (15 * 4.448222 / 304.8**2, "N per mm2", "kitchen cabinet test summary: 15 lb a square foot"),
}
"""Usual shelf loads (read at second hand)."""

SAG_LIMITS: dict[str, tuple[float, str]] = {
    "office": (0.005, "EN 14073-3 as restated: half a per cent of the span"),
    "eye": (1 / 384, "1/32 in a foot, trade rule, remembered"),
}
CREEP = 2.0
"""Sag after long load / sag at once: creep about as much again (read at second hand)."""


def shelf_load(kind: str, span_mm: float, depth_mm: float) -> Figure:
    """Whole load of a shelf full of books, or of kitchen goods, N; span 50..6000, depth 50..1000 mm.

    Raises OutOfRange, MechanicsError. Source: SHELF_LOADS (read at second hand).

    >>> round(shelf_load("books", 900, 250).value), round(shelf_load("kitchen", 900, 300).value)
    (328, 194)
    """
    one_of("kind of load", kind, tuple(SHELF_LOADS))
    within("span", span_mm, 50.0, 6000.0, "mm")
    within("depth of the shelf", depth_mm, 50.0, 1000.0, "mm")
    rate, unit, source = SHELF_LOADS[kind]
    value = rate * span_mm * (1.0 if kind == "books" else depth_mm)
    return Figure(value, "N", f"{rate:.4g} {unit}", source, "read_second_hand", ("one row of books",))


def shelf_sag(
    load_n: float, span_mm: float, depth_mm: float, thickness_mm: float, moe_mpa: float, clamped: bool = False
) -> Figure:
    """Sag of a shelf evenly loaded for years, mm: twice the sag at once. Ranges as for `members.sag`.

    `depth_mm` front to back, `thickness_mm` of the shelf; `clamped` where both ends are held from turning (rare).
    Raises OutOfRange. Source: Handbook Eq 9-2 (read), creep read at second hand. Sagging over half a per cent of the
    span is warned of.

    >>> round(shelf_sag(328, 900, 250, 19, 11000).value, 1)
    4.0
    """
    base = sag(load_n, span_mm, depth_mm, thickness_mm, moe_mpa, "uniform_clamped" if clamped else "uniform_simple")
    value = CREEP * base.value
    limit, words = SAG_LIMITS["office"]
    over = (f"more than {limit:.1%} of the span ({words})",) if value > limit * span_mm else ()
    return Figure(
        value, "mm", "2 x [" + base.formula + "]", base.source + "; creep as much again", "read_second_hand",
        (*base.assumptions, "load stays for years"), base.warnings + over, base.range,
    )  # fmt: skip


def drawer_load(volume_litres: float, lb_per_cubic_foot: float = 8.5) -> Figure:
    """Weight of a full drawer's contents, N: volume times 8.5 lb a cubic foot; 1..500 l, 1..60 lb/ft3.

    Raises OutOfRange. Source: US clothing-storage rule, fill of the stability test (read at second hand).

    >>> round(drawer_load(40).value, 1)
    53.4
    """
    within("volume", volume_litres, 1.0, 500.0, "l")
    within("fill", lb_per_cubic_foot, 1.0, 60.0, "lb/ft3")
    value = volume_litres / 28.316847 * lb_per_cubic_foot * 4.448222
    return Figure(
        value, "N", "V x 8.5 lb/ft3", "16 CFR 1261 preamble (ASTM F2057-23), restated", "read_second_hand",
        ("clothes", "full to the rim"),
    )  # fmt: skip


def tipping(
    mass_kg: float,
    cg_behind_front_mm: float,
    pull_n: float = 0.0,
    pull_height_mm: float = 0.0,
    edge_load_n: float = 0.0,
    edge_reach_mm: float = 0.0,
) -> Figure:
    """Holding moment over tipping moment about the front feet; under 1 it goes over.

    m g x / (P h + Q r): mass 1..500 kg with its centre of gravity x 1..1000 mm behind the front feet, pull P 0..2000 N
    at h 0..2500 mm, load Q 0..2000 N on an open drawer r 0..1000 mm before the feet. Raises OutOfRange, also when
    nothing tips. Source: statics. The US rule's test: 60 lb on the open drawer's edge, 10 lbf pull up to 56 in (second
    hand).

    >>> round(tipping(40, 220, pull_n=44.5, pull_height_mm=1000).value, 2)
    1.94
    """
    within("mass", mass_kg, 1.0, 500.0, "kg")
    within("centre of gravity behind the front feet", cg_behind_front_mm, 1.0, 1000.0, "mm")
    within("pull", pull_n, 0.0, 2000.0, "N")
    within("height of the pull", pull_height_mm, 0.0, 2500.0, "mm")
    within("load on the open drawer", edge_load_n, 0.0, 2000.0, "N")
    within("reach of the open drawer", edge_reach_mm, 0.0, 1000.0, "mm")
    over = pull_n * pull_height_mm + edge_load_n * edge_reach_mm
    within("tipping moment", over, 1e-6, 1e9, "N·mm")
    value = mass_kg * STANDARD_GRAVITY * cg_behind_front_mm / over
    warnings = ("it goes over: fasten it to the wall",) if value < 1.0 else ()
    return Figure(
        value,
        "ratio",
        "m g x/(P h + Q r)",
        "statics",
        "derived",
        ("level hard floor", "drawers shut or as given"),
        warnings,
    )


def tip_rule_applies(height_mm: float, mass_kg: float, volume_litres: float) -> bool:
    """Whether the US clothing-storage rule (made after 1 Sept 2023) speaks to a piece: all of height >= 27 in, mass >=
    30 lb, closed volume >= 3.2 ft3. Height 1..4000 mm, mass 0.1..1000 kg, volume 0..5000 l. Raises OutOfRange. Source:
    16 CFR 1261, ASTM F2057-23 scope (read).

    >>> tip_rule_applies(700, 20, 100), tip_rule_applies(680, 20, 100)
    (True, False)
    """
    within("height", height_mm, 1.0, 4000.0, "mm")
    within("mass", mass_kg, 0.1, 1000.0, "kg")
    within("volume", volume_litres, 0.0, 5000.0, "l")
    return height_mm >= 685.8 and mass_kg >= 13.6078 and volume_litres >= 90.6139
