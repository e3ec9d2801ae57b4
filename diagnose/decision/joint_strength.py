"""A joint of the case glued again, as a share of what it had when it was made.

The same sum is done twice, on the sizes of the joint map and on what was measured, and divided.
"""

from collections.abc import Mapping

from diagnose.mechanics.as_made import DowelSizes, JointKind, RoundTenonSizes, Sizes, TenonSizes, joint_ratio
from diagnose.mechanics.fit import coverage_factor, gap_factor
from diagnose.mechanics.result import Figure
from diagnose.rulebase.entries import Joint, Piece

# Dowels of a rail stand at a quarter of its width from either edge, where nothing else is known (judgement).
DOWEL_EDGE = 0.25
# A part wider than a rail holds a row of dowels; two of them are taken, no further apart than in a wide rail (judgement).
WIDEST_DOWELLED_MM = 200.0
KINDS: dict[str, JointKind] = {"mortise_and_tenon": "mortise_and_tenon", "round_tenon": "round_tenon", "dowel": "dowel"}


def sizes_of(kind: str, joint: Joint, rail_width_mm: float, measured: Mapping[str, float]) -> Sizes | None:
    """The sizes of a joint of the map with what was measured put in their place; None where the map has none for this kind."""
    size = {**joint.size, **{name: value for name, value in measured.items() if name in joint.size}}
    if kind == "mortise_and_tenon" and {"tenon_length", "tenon_height"} <= size.keys():
        return TenonSizes(size["tenon_length"], size["tenon_height"], max(rail_width_mm, size["tenon_height"]))
    if kind == "round_tenon" and {"diameter", "depth"} <= size.keys():
        return RoundTenonSizes(size["diameter"], size["depth"])
    if kind == "dowel" and {"diameter", "depth"} <= size.keys():
        width = min(rail_width_mm, WIDEST_DOWELLED_MM)
        edge = DOWEL_EDGE * width
        return DowelSizes(size["diameter"], size["depth"], width - 2 * edge, edge)
    return None


def glued_again(
    piece: Piece, joint_id: str | None, kind: str | None, measured: Mapping[str, float], gap_mm: float, face_left: float
) -> Figure:
    """Strength of the joint after cleaning and gluing, of as made.

    `measured` sizes in mm stand for what there is now, the joint map for what was made; `gap_mm` as it will be glued; `face_left` the
    share of its glued face that is sound. Without sizes only gap and face count. Raises OutOfRange for impossible sizes.
    """
    joint = piece.joint(joint_id) if joint_id else None
    if joint is not None and kind in KINDS:
        rail = min(piece.parts[part].section[1] for part in joint.joins)
        made, now = sizes_of(kind, joint, rail, {}), sizes_of(kind, joint, rail, measured)
        if made is not None and now is not None:
            return joint_ratio(KINDS[kind], made, now, gap_mm, face_left)
    fit, cover = gap_factor(gap_mm), coverage_factor(face_left)
    return Figure(
        fit.value * cover.value, "ratio", "gap factor x clean share", fit.source, "derived", (), fit.warnings, fit.range
    )
