"""Wood joined to wood along its length or edge: butt, scarf, splice, glued fracture, edge joint."""

from __future__ import annotations

import math

from diagnose.mechanics.result import Figure, interpolate, share, within

BUTT_SHARE = 0.25
"""Most an end-grain butt reaches of the tension strength along the grain (Handbook ch. 10, read)."""

SCARF = ((0.0, 0.25), (4.0, 0.60), (5.0, 0.65), (8.0, 0.80), (10.0, 0.85), (12.0, 0.90), (20.0, 0.95))
"""Length of the scarf / depth -> share of solid bending strength: a compromise between disagreeing sources."""

SCARF_NOTE = "1:4, 1:12 and 1:20 are read at second hand; the points between lean on remembered tests: no published table"


def end_grain_butt(tension_mpa: float) -> Figure:
    """The most an end-grain butt joint can reach, MPa: a quarter of the tension strength along the grain (5..250 MPa).

    Raises OutOfRange. Source: Handbook FPL-GTR-190 ch. 10 (read), which adds that ordinary work does not reach it.

    >>> end_grain_butt(100).value
    25.0
    """
    within("tension strength", tension_mpa, 5.0, 250.0, "MPa")
    return Figure(
        BUTT_SHARE * tension_mpa, "MPa", "0.25 f_t", "Wood Handbook FPL-GTR-190 ch. 10", "read", (),
        ("an end-grain butt is not fit for service; this is the best a special technique reaches",),
    )  # fmt: skip


def scarf_efficiency(run: float) -> Figure:
    """Share of solid bending strength a well-made scarf reaches; `run` = its length / depth of the part, 0..50.

    0.25 butt, 0.60 at 4, 0.65 at 5, 0.80 at 8, 0.85 at 10, 0.90 at 12, 0.95 from 20, straight lines between. Raises
    OutOfRange. Source: derived compromise. Wood Handbook ch. 10 (read): butt at most 0.25; 1:12 or flatter strongest;
    its edition of 1974, p. 10-7, has 90 % there (read at second hand). Sources put 0.65 at both 1:4 and 1:5; the safer
    is taken.

    >>> [scarf_efficiency(run).value for run in (0, 4, 8, 12, 30)]
    [0.25, 0.6, 0.8, 0.9, 0.95]
    """
    warnings = within("scarf length / depth", run, 0.0, 50.0, "", tested=(4.0, 20.0))
    return Figure(
        round(interpolate(SCARF, run), 12), "ratio", "points, straight lines between", "compromise of several sources",
        "derived", (SCARF_NOTE, "well made: flat fresh faces, no filler, long-grain wood either side"), warnings,
        "1:4 to 1:20",
    )  # fmt: skip


def scarf_glue_shear(stress_mpa: float, run: float) -> Figure:
    """Shear in the glue of a scarf, MPa, under a stress along the part: sigma sin t cos t, tan t = 1/run.

    `stress_mpa` 0..300, `run` 0.5..50. Raises OutOfRange. Source: statics. Compare with shear along the grain.

    >>> [round(scarf_glue_shear(1, run).value, 3) for run in (12, 10, 8, 5)]
    [0.083, 0.099, 0.123, 0.192]
    """
    within("stress", stress_mpa, 0.0, 300.0, "MPa")
    within("scarf length / depth", run, 0.5, 50.0, "")
    t = math.atan(1.0 / run)
    return Figure(stress_mpa * math.sin(t) * math.cos(t), "MPa", "sigma sin t cos t", "statics", "derived")


def glue_area_share(glued_area_mm2: float, section_mm2: float) -> Figure:
    """Glued area of an end joint over ten times the section: 1 or more meets the Handbook's rule.

    Areas 1..1e7 mm2. Raises OutOfRange. Source: Handbook ch. 10 (read): glue area at least 10 times the cross-section.

    >>> glue_area_share(10_000, 1000).value
    1.0
    """
    within("glued area", glued_area_mm2, 1.0, 1e7, "mm2")
    within("cross-section", section_mm2, 1.0, 1e7, "mm2")
    value = glued_area_mm2 / (10.0 * section_mm2)
    warnings = () if value >= 1.0 else ("less than ten times the section: the glue may part before the wood",)
    return Figure(value, "ratio", "A_glue/(10 A)", "Wood Handbook FPL-GTR-190 ch. 10", "read", (), warnings)


def edge_joint_shear(length_mm: float, thickness_mm: float, shear_mpa: float, clean_share: float = 1.0) -> Figure:
    """Shear force along an edge joint, N: its clean area at the shear strength of the wood.

    Length 5..5000, thickness 1..200 mm, S 2..25 MPa, `clean_share` 0..1. Raises OutOfRange. Source: Handbook ch. 10
    (read): an edge joint can equal solid wood in shear, tension across the grain and cleavage.

    >>> edge_joint_shear(500, 20, 10.0).value
    100000.0
    """
    within("length of the joint", length_mm, 5.0, 5000.0, "mm")
    within("thickness", thickness_mm, 1.0, 200.0, "mm")
    within("shear strength", shear_mpa, 2.0, 25.0, "MPa")
    share("clean glued share", clean_share)
    return Figure(
        length_mm * thickness_mm * shear_mpa * clean_share, "N", "L t S x clean share",
        "Wood Handbook FPL-GTR-190 ch. 10", "derived", ("long grain to long grain, as strong as the wood",),
    )  # fmt: skip


def edge_joint_moment(length_mm: float, thickness_mm: float, tension_perp_mpa: float, clean_share: float = 1.0) -> Figure:
    """Moment that opens an edge joint (a top or seat bent across its boards), N·mm: f_perp L t^2/6 x clean share.

    Length 5..5000, thickness 1..200 mm, f_perp 0.5..15 MPa, `clean_share` 0..1. Raises OutOfRange. Source: as above.

    >>> edge_joint_moment(400, 20, 5.0).value / 1000
    133.33333333333334
    """
    within("length of the joint", length_mm, 5.0, 5000.0, "mm")
    within("thickness", thickness_mm, 1.0, 200.0, "mm")
    within("tension strength across the grain", tension_perp_mpa, 0.5, 15.0, "MPa")
    share("clean glued share", clean_share)
    return Figure(
        tension_perp_mpa * length_mm * thickness_mm**2 / 6.0 * clean_share, "N·mm", "f_perp L t^2/6 x clean share",
        "Wood Handbook FPL-GTR-190 ch. 10", "derived", ("long grain to long grain, as strong as the wood",),
    )  # fmt: skip


def glued_break(run: float, clean_share: float) -> Figure:
    """Share of straight, solid bending strength that a glued fracture reaches: a scarf's share times the clean area.

    `run` = length of the break / thickness 0..50; `clean_share` of fresh, closed long-grain face 0..1. Raises
    OutOfRange. Under 4 never glue alone; 4 to 8 wants a key (judgement of the trade). Source:
    `scarf_efficiency`.

    >>> glued_break(8, 0.5).value
    0.4
    """
    base = scarf_efficiency(run)
    share("clean glued share", clean_share)
    warnings = base.warnings
    if run < 4:
        warnings += ("shorter than four times the thickness: never glued alone",)
    elif run < 8:
        warnings += ("four to eight times the thickness: wants a key",)
    return Figure(
        base.value * clean_share, "ratio", "scarf share x clean share", base.source, "derived",
        (*base.assumptions, "fresh, closed, nothing missing; end grain counts as nothing"), warnings, base.range,
    )  # fmt: skip
