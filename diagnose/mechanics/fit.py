"""How well a glued joint fits and how much of it is glued: factors on the strength of a good joint."""

from __future__ import annotations

from diagnose.mechanics.result import Figure, share, within

GAP_TIGHT_MM = 0.13
GAP_TESTED_MM = 0.25
SHARE_AT_TESTED = 0.79
FLOOR = 0.30
FILLED_LIMIT_MM = 0.5
"""Gap an unfilled gap-filling glue is said to bridge (remembered, never gates)."""


def gap_factor(gap_mm: float, gap_filling: bool = False) -> Figure:
    """Share of a close joint's strength left when the tenon or dowel stands in a gap, for PVA glue.

    1 up to 0.13 mm, 0.79 at 0.25 mm, straight on from there, never under 0.3. `gap_mm` 0..10 mm, tested to 0.25;
    `gap_filling` takes 1 up to 0.5 mm for a glue made to fill, on a remembered limit. Raises OutOfRange.
    Source: university tests of over 150 joints as quoted in a trade magazine (read at second hand).

    >>> gap_factor(0.1).value, gap_factor(0.25).value, round(gap_factor(0.4).value, 4), gap_factor(2).value
    (1.0, 0.79, 0.5275, 0.3)
    """
    within("gap", gap_mm, 0.0, 10.0, "mm")
    if gap_filling and gap_mm > GAP_TIGHT_MM:
        warnings = () if gap_mm <= FILLED_LIMIT_MM else (f"{gap_mm:g} mm is more than an unfilled glue bridges",)
        value = 1.0 if gap_mm <= FILLED_LIMIT_MM else gap_factor(gap_mm).value
        return Figure(
            value, "ratio", "1 up to 0.5 mm", "gap limit of unfilled epoxy, as remembered", "memory",
            ("glue made to fill gaps",), warnings, "gaps to 0.5 mm",
        )  # fmt: skip
    fall = (1.0 - SHARE_AT_TESTED) / (GAP_TESTED_MM - GAP_TIGHT_MM)
    value = 1.0 if gap_mm <= GAP_TIGHT_MM else max(FLOOR, 1.0 - fall * (gap_mm - GAP_TIGHT_MM))
    warnings = ()
    if gap_mm > GAP_TESTED_MM:
        warnings = (
            f"a gap of {gap_mm:g} mm is wider than any tested (0.25 mm): the line is carried on to a floor of 0.3;"
            " build the fit up before glue is trusted",
        )
    return Figure(
        round(value, 12), "ratio", "1 to 0.13 mm, 0.79 at 0.25 mm, straight on, not under 0.3",
        "university joint tests quoted in a trade magazine", "read_second_hand", ("PVA glue", "gap measured all round"),
        warnings, "gaps to 0.25 mm",
    )  # fmt: skip


def coverage_factor(clean_share: float) -> Figure:
    """Share of a joint's strength left when only part of its face is clean and glued: the same share (0..1).

    Raises OutOfRange. Source: dowel pull-out grows in step with glue area until the dowel itself governs (Crews 1959,
    read); for other faces the same is assumed. Bottom of a hole and end grain count as nothing.

    >>> coverage_factor(0.5).value
    0.5
    """
    share("clean glued share", clean_share)
    return Figure(
        clean_share, "ratio", "clean glued area / whole area", "Crews 1959, thesis, abstract", "derived",
        ("bond strength even over the glued part", "bare spots spread over the face, not all at the highly loaded end"),
    )  # fmt: skip
