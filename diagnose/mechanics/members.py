"""Beams: bending, shear, sag, torsion, size, taper. Handbook ch. 9 (GTR-282), read unless said otherwise."""

from __future__ import annotations

import math

from diagnose.mechanics.result import Figure, interpolate, one_of, within

CASES_9_1: dict[str, tuple[float, float]] = {
    "uniform_simple": (5 / 384, 1 / 8),
    "uniform_clamped": (1 / 384, 1 / 8),
    "centre_simple": (1 / 48, 1 / 4),
    "centre_clamped": (1 / 192, 1 / 4),
    "cantilever_uniform": (1 / 8, 1 / 2),
    "cantilever_end": (1 / 3, 1.0),
}
"""k_b and k_s of Handbook Table 9-1 (read): load and support of a beam."""

LARGEST_MOMENT: dict[str, float] = {
    "uniform_simple": 1 / 8, "uniform_clamped": 1 / 12, "centre_simple": 1 / 4, "centre_clamped": 1 / 8,
    "cantilever_uniform": 1 / 2, "cantilever_end": 1.0,
}  # fmt: skip
"""Largest moment / (W L) for the same cases (statics)."""


SAINT_VENANT_ALPHA = (
    (1.0, 0.208), (1.5, 0.231), (2.0, 0.246), (3.0, 0.267), (4.0, 0.282), (6.0, 0.299), (10.0, 0.312), (1e3, 1 / 3),
)  # fmt: skip
"""(long side / short side, alpha) of the twisted rectangle; ends 0.208 and 1/3 as the Handbook's curve."""


def section_modulus(width_mm: float, depth_mm: float) -> Figure:
    """Section modulus of a rectangle, mm3: b h^2/6; width and depth 0.5..2000 mm. Raises OutOfRange.

    Source: Handbook Eq 9-13, p. 9-7 (read).

    >>> section_modulus(20, 60).value
    12000.0
    """
    within("width", width_mm, 0.5, 2000.0, "mm")
    within("depth", depth_mm, 0.5, 2000.0, "mm")
    return Figure(width_mm * depth_mm**2 / 6.0, "mm3", "b h^2/6", "Wood Handbook Eq 9-13, p. 9-7", "read")


def round_section_modulus(diameter_mm: float) -> Figure:
    """Section modulus of a circle, mm3: pi d^3/32; diameter 1..500 mm. Raises OutOfRange.

    Source: Handbook Eq 9-13, p. 9-7 (read).

    >>> round(round_section_modulus(20).value, 1)
    785.4
    """
    within("diameter", diameter_mm, 1.0, 500.0, "mm")
    return Figure(math.pi * diameter_mm**3 / 32.0, "mm3", "pi d^3/32", "Wood Handbook Eq 9-13, p. 9-7", "read")


def bending_moment_capacity(mor_mpa: float, modulus_mm3: float) -> Figure:
    """Moment a section breaks at, N·mm: MOR times section modulus; MOR 1..300 MPa, modulus 1..1e8 mm3.

    Raises OutOfRange. Source: Handbook Eq 9-13 (read). MOR of the wood as it is: grain, moisture, damage counted.

    >>> bending_moment_capacity(100.0, 12000.0).value
    1200000.0
    """
    within("bending strength", mor_mpa, 1.0, 300.0, "MPa")
    within("section modulus", modulus_mm3, 1.0, 1e8, "mm3")
    return Figure(mor_mpa * modulus_mm3, "N·mm", "M = MOR S", "Wood Handbook Eq 9-13, p. 9-7", "read")


def shear_stress(force_n: float, area_mm2: float, shape: str = "rectangle") -> Figure:
    """Largest shear stress in a beam, MPa: k V/A with k 3/2 (rectangle) or 4/3 (circle); V 0..1e6 N, A 1..1e6 mm2.

    Raises OutOfRange, MechanicsError. Source: Handbook Eq 9-14, p. 9-8 (read).

    >>> shear_stress(1000, 1000).value
    1.5
    """
    one_of("shape", shape, ("rectangle", "circle"))
    within("shear force", force_n, 0.0, 1e6, "N")
    within("area", area_mm2, 1.0, 1e6, "mm2")
    k = 1.5 if shape == "rectangle" else 4.0 / 3.0
    return Figure(k * force_n / area_mm2, "MPa", "k V/A", "Wood Handbook Eq 9-14, p. 9-8", "read")


def torsion_stress(torque_nmm: float, long_side_mm: float, short_side_mm: float) -> Figure:
    """Largest shear stress in a twisted rectangle, MPa: T/(alpha h b^2), h >= b.

    alpha 0.208 (square) to 1/3 (thin strip), between by Saint-Venant's table; T 0..1e8 N·mm, sides 1..500 mm. Raises
    OutOfRange. Source: Saint-Venant's torsion; a printed reading of Handbook Eq 9-24 divides where it must multiply.

    >>> round(torsion_stress(10000, 20, 20).value, 2)
    6.01
    """
    within("torque", torque_nmm, 0.0, 1e8, "N·mm")
    within("short side", short_side_mm, 1.0, 500.0, "mm")
    within("long side", long_side_mm, short_side_mm, 500.0, "mm")
    alpha = interpolate(SAINT_VENANT_ALPHA, long_side_mm / short_side_mm)
    return Figure(
        torque_nmm / (alpha * long_side_mm * short_side_mm**2), "MPa", "T/(alpha h b^2)", "Saint-Venant torsion",
        "derived", ("shear strength in torsion taken as that along the grain (Handbook ch. 5)",),
    )  # fmt: skip


def sag(load_n: float, span_mm: float, width_mm: float, depth_mm: float, moe_mpa: float, case: str = "uniform_simple") -> Figure:
    """Sag of a beam under a total load, mm, bending and shear together, soon after loading.

    k_b W L^3/(E I) + k_s W L/(G A'); W `load_n` 0..1e5 N, L `span_mm` 50..6000 mm, section 1..1000 mm, E true modulus
    500..40,000 MPa; G = E/16, A' = 5/6 b h; `case` one of CASES_9_1. Raises OutOfRange, MechanicsError.
    Source: Handbook Eq 9-2 and Table 9-1, G from p. 9-5 (read).

    >>> round(sag(400, 900, 250, 19, 11000).value, 2)
    2.43
    """
    one_of("case", case, tuple(CASES_9_1))
    within("load", load_n, 0.0, 1e5, "N")
    within("span", span_mm, 50.0, 6000.0, "mm")
    within("width", width_mm, 1.0, 1000.0, "mm")
    within("depth", depth_mm, 1.0, 1000.0, "mm")
    within("modulus of elasticity", moe_mpa, 500.0, 40_000.0, "MPa")
    k_b, k_s = CASES_9_1[case]
    inertia = width_mm * depth_mm**3 / 12.0
    value = k_b * load_n * span_mm**3 / (moe_mpa * inertia)
    value += k_s * load_n * span_mm / (moe_mpa / 16.0 * 5.0 / 6.0 * width_mm * depth_mm)
    return Figure(
        value, "mm", "k_b W L^3/(E I) + k_s W L/(G A')", "Wood Handbook Eq 9-2, Table 9-1", "read",
        ("G taken as E/16", "solid wood, straight grain, load not yet long in place"), (), "sag small beside the span",
    )  # fmt: skip


def size_effect(tested_mpa: float, depth_mm: float, span_mm: float, load_apart_share: float) -> Figure:
    """Bending strength of a beam of another size than the test piece, MPa.

    R1 = R2 [36125/(h L (1 + m a/L))]^(1/m), m = 18, mm; R2 from a 50 mm square beam on 710 mm, centre load;
    h 5..1000 mm, L 50..20,000 mm, a/L `load_apart_share` 0..1 (distance between loads). Raises OutOfRange.
    Source: Handbook Eq 9-18, p. 9-10 (read; prints 7,330 for 10,000 lbf/in2, 10 in, 18 ft, a/L = 1/3).

    >>> round(size_effect(10_000, 254, 5486.4, 1 / 3).value, -1)
    7330.0
    """
    within("tested strength", tested_mpa, 1e-6, 1e6, "")
    within("depth", depth_mm, 5.0, 1000.0, "mm")
    within("span", span_mm, 50.0, 20_000.0, "mm")
    within("loads apart / span", load_apart_share, 0.0, 1.0, "")
    value = tested_mpa * (36_125.0 / (depth_mm * span_mm * (1.0 + 18.0 * load_apart_share))) ** (1.0 / 18.0)
    return Figure(
        value, "as given", "R2 [36125/(h L (1 + 18 a/L))]^(1/18)", "Wood Handbook Eq 9-18, p. 9-10", "read", (),
        () if value <= tested_mpa else ("smaller than the test piece: the gain in strength is best left uncounted",),
    )  # fmt: skip


def taper_stresses(moment_nmm: float, width_mm: float, depth_mm: float, slope: float) -> tuple[Figure, Figure, Figure]:
    """Stresses where a tapered cut crosses the grain, MPa: along, shear, across the grain.

    f_x = 3M/(2 b h^2), f_xy = f_x tan t, f_y = f_x tan^2 t; M 0..1e8 N·mm, b and h (depth at the support end) 1..1000
    mm, slope 0..1. Raises OutOfRange. Source: Handbook Eq 9-15/9-16, p. 9-9 (read; prints 375, 37.5, 3.75 per unit).

    >>> [round(f.value, 7) for f in taper_stresses(1e6, 100, 200, 0.1)]
    [0.375, 0.0375, 0.00375]
    """
    within("moment", moment_nmm, 0.0, 1e8, "N·mm")
    within("width", width_mm, 1.0, 1000.0, "mm")
    within("depth", depth_mm, 1.0, 1000.0, "mm")
    within("slope of the cut", slope, 0.0, 1.0, "(rise per run)")
    along = 3.0 * moment_nmm / (2.0 * width_mm * depth_mm**2)
    source = "Wood Handbook Eq 9-15, 9-16, p. 9-9"
    return (
        Figure(along, "MPa", "3M/(2 b h^2)", source, "read"),
        Figure(along * slope, "MPa", "f_x tan t", source, "read"),
        Figure(along * slope**2, "MPa", "f_x tan^2 t", source, "read"),
    )
