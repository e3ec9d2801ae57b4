"""Joints between parts: dowels, tenons, loose and round tenons, corner blocks. Average strengths, not design loads.

Eckelman's dowel formula is remembered and marked so. The tenon model is plain statics, tied to one published test.
"""

from __future__ import annotations

import math

from diagnose.mechanics.result import Figure, MechanicsError, OutOfRange, share, weakest, within

CROSS_LAP = 1.0 / 3.0
"""Shear strength across the grain as a share of that along it (FPL Report 1522, read)."""

OUT_OF_PLANE_ALLOWANCE = 0.8
LOWEST_BOND_MPA = 3.0
HIGHEST_BOND_MPA = 8.6
"""Lowest and highest mean pull-out stress on a dowel's glued face in the tests read (BioResources 2018 and 2020)."""


def _shear(name: str, value: float) -> None:
    within(name, value, 2.0, 25.0, "MPa")


def dowel_withdrawal(
    diameter_mm: float, depth_mm: float, shear_member_mpa: float, shear_dowel_mpa: float, a: float = 1.0,
    b: float = 1.0, c: float = 1.0,
) -> Figure:  # fmt: skip
    """Force that draws one dowel out of side grain, N, close fit, fully glued.

    F = 1.1904 D L^0.89 (0.95 S1 + S2) a b c; D 3..25 mm, L 5..100 mm, S1 shear along the grain of the member, S2 of the
    dowel, 2..25 MPa; a glue, b clearance, c surface factors 0.1..1.2 (their published values are not known: leave 1).
    Tested about D 6.35..12.7, L 12.7..38 mm. Raises OutOfRange. Source: Eckelman 1969 as remembered; that the two shear
    strengths are added is read. Never gates.

    >>> round(dowel_withdrawal(10, 30, 12.3, 13.0).value)
    6064
    """
    warnings = within("dowel diameter", diameter_mm, 3.0, 25.0, "mm", tested=(6.35, 12.7))
    warnings += within("depth in the member", depth_mm, 5.0, 100.0, "mm", tested=(12.7, 38.1))
    _shear("shear strength of the member", shear_member_mpa)
    _shear("shear strength of the dowel", shear_dowel_mpa)
    for name, factor in (("a", a), ("b", b), ("c", c)):
        within(f"factor {name}", factor, 0.1, 1.2, "")
    if shear_member_mpa + shear_dowel_mpa < 25.0:
        warnings += ("the two shear strengths add up to less than 25 MPa: the formula is on the low side there",)
    value = 1.1904 * diameter_mm * depth_mm**0.89 * (0.95 * shear_member_mpa + shear_dowel_mpa) * a * b * c
    return Figure(
        value, "N", "1.1904 D L^0.89 (0.95 S1 + S2) a b c", "Eckelman 1969, coefficients as remembered", "memory",
        ("good joint: close fit, glue on both faces, 25-65 % humidity",), warnings, "D 6 to 13 mm, L 13 to 38 mm",
    )  # fmt: skip


def dowel_withdrawal_by_area(diameter_mm: float, depth_mm: float, bond_mpa: float = LOWEST_BOND_MPA) -> Figure:
    """Force that draws one dowel out, N, from its glued wall: pi D L times a bond stress.

    D 3..60 mm (round tenons too), L 2..150 mm, `bond_mpa` 0.5..10, read means 3.0..8.6. Raises OutOfRange. Source: load
    in step with glued area (Crews 1959, read); stresses from BioResources 13(3) 5179 and 15(1) 1665 (read).

    >>> round(dowel_withdrawal_by_area(8, 20, 3.0).value)
    1508
    """
    warnings = within("diameter", diameter_mm, 3.0, 60.0, "mm", tested=(6.0, 16.0))
    within("depth in the member", depth_mm, 2.0, 150.0, "mm")
    warnings += within("bond stress", bond_mpa, 0.5, 10.0, "MPa", tested=(LOWEST_BOND_MPA, HIGHEST_BOND_MPA))
    return Figure(
        math.pi * diameter_mm * depth_mm * bond_mpa, "N", "pi D L tau",
        "Crews 1959; BioResources 13(3) 5179 and 15(1) 1665", "derived",
        (f"bond stress {bond_mpa:g} MPa on the wall, nothing on the bottom",), warnings, "bond 3.0 to 8.6 MPa",
    )  # fmt: skip


def dowel_tension(diameter_mm: float, tension_mpa: float) -> Figure:
    """Force at which the dowel itself parts, N: pi D^2/4 times its tension strength (5..250 MPa); D 3..60 mm.

    Raises OutOfRange. Source: statics; bending strength is a low estimate of tension strength along the grain
    (Handbook, read).

    >>> round(dowel_tension(8, 100).value)
    5027
    """
    within("dowel diameter", diameter_mm, 3.0, 60.0, "mm")
    within("tension strength", tension_mpa, 5.0, 250.0, "MPa")
    return Figure(math.pi * diameter_mm**2 / 4.0 * tension_mpa, "N", "pi D^2/4 f_t", "statics; Wood Handbook p. 5-14", "derived")


def two_dowel_moment(withdrawal: Figure, spacing_mm: float, edge_mm: float, tight_shoulder: bool = True) -> Figure:
    """Moment in the plane of the frame that a joint of two dowels stands, N·mm.

    F (d1 + d2/2): `withdrawal` F of the dowel on the pulling side (N), d1 `spacing_mm` 5..200 between dowels, d2
    `edge_mm` 0..100 from the other dowel to the rail's edge; without a tight shoulder F d1. Raises OutOfRange.
    Source: Eckelman 1971 as remembered (tight shoulder); F d1 is statics.

    >>> f = two_dowel_moment(dowel_withdrawal(10, 30, 12.3, 13.0), 32, 16); round(f.value / 1000, 1)
    242.6
    """
    within("dowel spacing", spacing_mm, 5.0, 200.0, "mm")
    within("distance to the edge", edge_mm, 0.0, 100.0, "mm")
    arm = spacing_mm + edge_mm / 2.0 if tight_shoulder else float(spacing_mm)
    known = weakest(withdrawal.known_by, "memory" if tight_shoulder else "derived")
    return Figure(
        withdrawal.value * arm, "N·mm", "F (d1 + d2/2)" if tight_shoulder else "F d1",
        "Eckelman 1971 as remembered; " + withdrawal.source if tight_shoulder else "statics; " + withdrawal.source,
        known, (*withdrawal.assumptions, "shoulder tight" if tight_shoulder else "shoulder does not bear"),
        withdrawal.warnings, withdrawal.range,
    )  # fmt: skip


def dowels_out_of_plane(withdrawal: Figure, count: int, rail_thickness_mm: float) -> Figure:
    """Moment across the frame (rail bent sideways) that dowels on its centre line stand, N·mm.

    0.8 n F t/2; `count` n 1..8, t `rail_thickness_mm` 8..80 mm. Raises OutOfRange. Source: statics with an allowance of
    0.8 for the pressed zone; no published formula was seen.

    >>> round(dowels_out_of_plane(dowel_withdrawal_by_area(10, 30, 3.0), 2, 22).value / 1000, 1)
    49.8
    """
    within("number of dowels", count, 1, 8, "")
    within("rail thickness", rail_thickness_mm, 8.0, 80.0, "mm")
    return Figure(
        OUT_OF_PLANE_ALLOWANCE * count * withdrawal.value * rail_thickness_mm / 2.0, "N·mm", "0.8 n F t/2",
        "statics; " + withdrawal.source, weakest("derived", withdrawal.known_by),
        (*withdrawal.assumptions, "dowels on the centre line, sharing evenly"), withdrawal.warnings, withdrawal.range,
    )  # fmt: skip


def tenon_moment(
    length_mm: float, height_mm: float, rail_width_mm: float, shear_mpa: float, tight_shoulder: bool = True
) -> Figure:
    """Moment a glued mortise and tenon stands in the plane of the frame, N·mm.

    Tight shoulder: 2 L h (S/3) W/2, the two cheeks drawn out against the bearing edge; open shoulder: glue in torsion,
    (S/3) 2 L h sqrt(L^2+h^2)/6. L `length_mm` in the wood 5..150, h `height_mm` 5..200, W `rail_width_mm` h..300 mm,
    S shear along the grain 2..25 MPa. Raises OutOfRange. Source: statics; S/3 from FPL Report 1522 (read). One
    calibration: 317 against 353 N·m measured (red oak, BioResources 11(3) 7162).

    >>> round(tenon_moment(32, 38, 63.5, 12.3).value / 1000, 1)
    316.6
    """
    warnings = within("tenon length", length_mm, 5.0, 150.0, "mm", tested=(20.0, 50.0))
    warnings += within("tenon height", height_mm, 5.0, 200.0, "mm", tested=(25.0, 50.0))
    within("rail width", rail_width_mm, height_mm, 300.0, "mm")
    _shear("shear strength", shear_mpa)
    tau = CROSS_LAP * shear_mpa
    if not tight_shoulder:
        torsion = glue_torsion(length_mm, height_mm, tau)
        return torsion.warned(*warnings).assuming("cross-grain glue strength S/3 (FPL Report 1522)")
    return Figure(
        2.0 * length_mm * height_mm * tau * rail_width_mm / 2.0, "N·mm", "2 L h (S/3) W/2",
        "statics; S/3 from FPL Report 1522", "derived",
        (
            "both cheeks glued all over, close fit, tight shoulder",
            "end and edges of the tenon carry nothing",
            "checked against one published test only (317 predicted, 353 N·m measured)",
        ),
        warnings, "tenons 20 to 50 mm long",
    )  # fmt: skip


def glue_torsion(length_mm: float, height_mm: float, bond_mpa: float) -> Figure:
    """Moment two glued cheeks stand without help from a shoulder, N·mm: tau L h sqrt(L^2 + h^2)/3.

    L, h 1..300 mm, tau `bond_mpa` 0.2..25 MPa. Raises OutOfRange. Source: elastic torsion of two rectangular glue
    lines, shear at the corner governing (derived).

    >>> round(glue_torsion(30, 40, 4.0).value / 1000)
    80
    """
    within("tenon length", length_mm, 1.0, 300.0, "mm")
    within("tenon height", height_mm, 1.0, 300.0, "mm")
    within("bond strength", bond_mpa, 0.2, 25.0, "MPa")
    return Figure(
        bond_mpa * length_mm * height_mm * math.hypot(length_mm, height_mm) / 3.0, "N·mm", "tau L h sqrt(L^2 + h^2)/3",
        "elastic torsion of two glue lines", "derived", ("shoulder does not bear", "both cheeks glued all over"),
    )  # fmt: skip


def loose_tenon_moment(
    length_rail_mm: float, length_post_mm: float, height_mm: float, rail_width_mm: float, shear_mpa: float,
    tight_shoulder: bool = True,
) -> Figure:  # fmt: skip
    """Moment a loose tenon (spline) joint stands, N·mm: the tenon model with the shorter of its two ends.

    Arguments and ranges as for `tenon_moment`. Raises OutOfRange. Source: as there; tests put such joints between dowel
    and whole tenon (Aman, West, Cormier 2008, abstract, read), so the model may be high.

    >>> round(loose_tenon_moment(20, 32, 38, 63.5, 12.3).value / 1000, 1)
    197.9
    """
    within("tenon length in the rail", length_rail_mm, 5.0, 150.0, "mm")
    within("tenon length in the post", length_post_mm, 5.0, 150.0, "mm")
    shorter = min(length_rail_mm, length_post_mm)
    base = tenon_moment(shorter, height_mm, rail_width_mm, shear_mpa, tight_shoulder)
    return base.assuming(f"the shorter end, {shorter:g} mm, governs", "tests put loose tenons between dowels and whole tenons")


def round_tenon_moment(diameter_mm: float, mor_mpa: float) -> Figure:
    """Moment at which a round tenon without a shoulder breaks, N·mm: MOR pi d^3/32; d 3..60 mm, MOR 10..250 MPa.

    Raises OutOfRange. Source: Handbook Eq 9-13 (read) on the tenon's section; a shoulder adds to it.

    >>> round(round_tenon_moment(16, 100).value / 1000, 1)
    40.2
    """
    within("tenon diameter", diameter_mm, 3.0, 60.0, "mm")
    within("bending strength", mor_mpa, 10.0, 250.0, "MPa")
    return Figure(
        mor_mpa * math.pi * diameter_mm**3 / 32.0, "N·mm", "MOR pi d^3/32", "Wood Handbook Eq 9-13", "derived",
        ("no shoulder; glue holds it against drawing out only",),
    )  # fmt: skip


def corner_block(leg_mm: float, height_mm: float, shear_mpa: float, clean_share: float = 1.0) -> Figure:
    """Force one leg of a glued corner block can take along its rail, N: its glued face at S/3.

    `leg_mm` 5..150 along the rail, `height_mm` 5..150, S 2..25 MPa, `clean_share` 0..1. Raises OutOfRange. Source:
    statics with S/3 (FPL Report 1522); no formula is published. Tests of whole frames with blocks gave 1238 to 1882 N
    at the middle joint (Kamperidou and Vasileiou 2012, read): far under this bound, for the frame opens elsewhere
    first.

    >>> round(corner_block(40, 50, 12.0).value)
    8000
    """
    within("leg of the block", leg_mm, 5.0, 150.0, "mm")
    within("height of the block", height_mm, 5.0, 150.0, "mm")
    _shear("shear strength", shear_mpa)
    share("clean glued share", clean_share)
    return Figure(
        leg_mm * height_mm * CROSS_LAP * shear_mpa * clean_share, "N", "leg x height x S/3 x clean share",
        "statics; S/3 from FPL Report 1522", "derived", ("long-grain faces of block and rail meet closely",),
        ("an upper bound: no published formula for corner blocks is known",),
    )  # fmt: skip


def tightest(*figures: Figure) -> Figure:
    """The smallest of several capacities in one unit: the joint is as strong as its weakest way to fail.

    Raises MechanicsError for none, OutOfRange for mixed units. Source: a chain is as strong as its weakest link.

    >>> tightest(round_tenon_moment(16, 100), round_tenon_moment(12, 100)).value == round_tenon_moment(12, 100).value
    True
    """
    if not figures:
        raise MechanicsError("no capacity was given to choose from")
    if len({f.unit for f in figures}) > 1:
        raise OutOfRange("capacities in different units cannot be compared")
    smallest = min(figures, key=lambda f: f.value)
    return smallest.warned(*(w for f in figures for w in f.warnings))
