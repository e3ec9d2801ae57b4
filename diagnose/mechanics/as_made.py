"""As made against as it is: joints. The same sum is done twice and divided, so the errors of the sum cancel.

A ratio of 1 is as strong as it was made; from 0.9 it counts as fit (`FIT_SHARE`). The sums of solid parts and the hard
stops lie in `as_made_members` and `hardstops` and are offered from here too.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, TypeVar

from diagnose.mechanics import endjoints, fasteners, joints
from diagnose.mechanics.as_made_members import REPAIRS, Key, Repair, broken_member_ratio, key_share, member_ratio
from diagnose.mechanics.fit import coverage_factor, gap_factor
from diagnose.mechanics.hardstops import FIT_SHARE, HARD_STOPS, Conditions, HardStop, hard_stops, wants_key
from diagnose.mechanics.result import Figure, MechanicsError, NoSoundFormula, weakest, within

__all__ = [
    "FIT_SHARE", "GLUED", "HARD_STOPS", "REPAIRS", "SIZES_OF", "BoltSizes", "Conditions", "DowelSizes", "EdgeSizes",
    "HardStop", "JointKind", "Key", "LooseTenonSizes", "Repair", "RoundTenonSizes", "ScrewSizes", "Sizes", "TenonSizes",
    "broken_member_ratio", "hard_stops", "joint_moment", "joint_ratio", "key_share", "member_ratio", "wants_key",
    "with_blocks",
]  # fmt: skip

JointKind = Literal["mortise_and_tenon", "dowel", "round_tenon", "loose_tenon", "edge_joint", "screwed", "bolted"]


@dataclass(frozen=True, slots=True)
class TenonSizes:
    """Tenon: length in the wood, height, rail width (mm); whether the shoulder is tight all round."""

    length_mm: float
    height_mm: float
    rail_width_mm: float
    tight_shoulder: bool = True


@dataclass(frozen=True, slots=True)
class LooseTenonSizes:
    """Loose tenon: length in the rail and in the post, height, rail width (mm); tight shoulder."""

    length_rail_mm: float
    length_post_mm: float
    height_mm: float
    rail_width_mm: float
    tight_shoulder: bool = True


@dataclass(frozen=True, slots=True)
class DowelSizes:
    """Dowels: diameter, depth in the worse-held part, spacing of the two rows, distance of the pressed row from the
    rail's edge (mm); dowels in the pulling row; tight shoulder."""

    diameter_mm: float
    depth_mm: float
    spacing_mm: float
    edge_mm: float
    pulling: int = 1
    tight_shoulder: bool = True


@dataclass(frozen=True, slots=True)
class RoundTenonSizes:
    """Round tenon in a socket: diameter, depth (mm)."""

    diameter_mm: float
    depth_mm: float


@dataclass(frozen=True, slots=True)
class EdgeSizes:
    """Edge joint: length, thickness (mm); tension strength across the grain (MPa), or None for shear along the
    joint."""

    length_mm: float
    thickness_mm: float
    tension_perp_mpa: float | None = None


@dataclass(frozen=True, slots=True)
class ScrewSizes:
    """Screws: shank, thread in the wood, arm from the bearing edge (mm); gravity at 12 %; number; end grain or side."""

    shank_mm: float
    thread_depth_mm: float
    arm_mm: float
    gravity_12: float
    count: int = 1
    end_grain: bool = False


@dataclass(frozen=True, slots=True)
class BoltSizes:
    """Bolts: bearing area under washer or nut (mm2), arm from the bearing edge (mm), compression strength across the
    grain (MPa), number."""

    bearing_mm2: float
    arm_mm: float
    compression_perp_mpa: float
    count: int = 1


Sizes = TenonSizes | LooseTenonSizes | DowelSizes | RoundTenonSizes | EdgeSizes | ScrewSizes | BoltSizes

SIZES_OF: dict[JointKind, type] = {
    "mortise_and_tenon": TenonSizes, "dowel": DowelSizes, "round_tenon": RoundTenonSizes,
    "loose_tenon": LooseTenonSizes, "edge_joint": EdgeSizes, "screwed": ScrewSizes, "bolted": BoltSizes,
}  # fmt: skip

GLUED: tuple[JointKind, ...] = ("mortise_and_tenon", "dowel", "round_tenon", "loose_tenon", "edge_joint")

T = TypeVar("T")


def _as(kind: str, sizes: object, wanted: type[T]) -> T:
    if not isinstance(sizes, wanted):
        raise MechanicsError(f"a joint of kind {kind} wants {wanted.__name__}, not {type(sizes).__name__}")
    return sizes


def joint_moment(kind: JointKind, shear_mpa: float, sizes: Sizes) -> Figure:
    """What a sound joint of its kind stands, from the wood's shear strength (2..25 MPa) and its sizes.

    Tenons 2 L h (S/3) W/2, or glue in torsion with an open shoulder; dowels n pi D L (S/3) (d1 + d2/2), d1 alone with
    an open shoulder; round tenon its draw-out force pi D L (S/3) in N; edge joint f_perp L t^2/6, or L t S in N; screws
    n 108.25 G^2 D L arm; bolts n f_c,perp A arm (crushing under the washer). Moments in N·mm. Raises MechanicsError for
    a kind or sizes that do not go together, NoSoundFormula for kinds without one, OutOfRange. Sources: `joints`,
    `endjoints`, `fasteners`; no formula is published for bolted furniture joints: statics.

    >>> round(joint_moment("mortise_and_tenon", 12.3, TenonSizes(32, 38, 63.5)).value / 1000, 1)
    316.6
    """
    if kind not in SIZES_OF:
        known = ", ".join(SIZES_OF)
        raise NoSoundFormula(f"no sound formula is known for a joint of kind {kind!r}; there is one for {known}")
    within("shear strength", shear_mpa, 2.0, 25.0, "MPa")
    tau = shear_mpa * joints.CROSS_LAP
    note = "cross-grain glue strength S/3 (FPL Report 1522)"
    if kind == "mortise_and_tenon":
        t = _as(kind, sizes, TenonSizes)
        return joints.tenon_moment(t.length_mm, t.height_mm, t.rail_width_mm, shear_mpa, t.tight_shoulder)
    if kind == "loose_tenon":
        s = _as(kind, sizes, LooseTenonSizes)
        return joints.loose_tenon_moment(
            s.length_rail_mm, s.length_post_mm, s.height_mm, s.rail_width_mm, shear_mpa, s.tight_shoulder
        )
    if kind == "round_tenon":
        r = _as(kind, sizes, RoundTenonSizes)
        return joints.dowel_withdrawal_by_area(r.diameter_mm, r.depth_mm, tau).assuming(note, "pulled straight out")
    if kind == "dowel":
        return _dowels(_as(kind, sizes, DowelSizes), tau).assuming(note)
    if kind == "edge_joint":
        e = _as(kind, sizes, EdgeSizes)
        if e.tension_perp_mpa is None:
            return endjoints.edge_joint_shear(e.length_mm, e.thickness_mm, shear_mpa)
        return endjoints.edge_joint_moment(e.length_mm, e.thickness_mm, e.tension_perp_mpa)
    if kind == "screwed":
        return _screws(_as(kind, sizes, ScrewSizes))
    return _bolts(_as(kind, sizes, BoltSizes))


def _dowels(sizes: DowelSizes, tau_mpa: float) -> Figure:
    pull = joints.dowel_withdrawal_by_area(sizes.diameter_mm, sizes.depth_mm, tau_mpa)
    within("dowel spacing", sizes.spacing_mm, 5.0, 200.0, "mm")
    within("distance to the edge", sizes.edge_mm, 0.0, 100.0, "mm")
    within("dowels in the pulling row", sizes.pulling, 1, 6, "")
    arm = sizes.spacing_mm + (sizes.edge_mm / 2.0 if sizes.tight_shoulder else 0.0)
    bears = "shoulder bears halfway between lower dowel and edge" if sizes.tight_shoulder else "shoulder does not bear"
    return Figure(
        sizes.pulling * pull.value * arm, "N·mm", "n pi D L tau x arm", "statics; " + pull.source, "derived",
        (*pull.assumptions, bears), pull.warnings, pull.range,
    )  # fmt: skip


def _screws(sizes: ScrewSizes) -> Figure:
    pull = fasteners.screw_withdrawal(sizes.gravity_12, sizes.shank_mm, sizes.thread_depth_mm, sizes.end_grain)
    within("arm", sizes.arm_mm, 1.0, 500.0, "mm")
    within("number of screws", sizes.count, 1, 40, "")
    return Figure(
        sizes.count * pull.value * sizes.arm_mm, "N·mm", f"n x {pull.formula} x arm", "statics; " + pull.source,
        weakest("derived", pull.known_by), (*pull.assumptions, "screws share evenly"), pull.warnings, pull.range,
    )  # fmt: skip


def _bolts(sizes: BoltSizes) -> Figure:
    within("bearing area", sizes.bearing_mm2, 10.0, 5000.0, "mm2")
    within("arm", sizes.arm_mm, 1.0, 500.0, "mm")
    within("compression strength across the grain", sizes.compression_perp_mpa, 0.5, 40.0, "MPa")
    within("number of bolts", sizes.count, 1, 20, "")
    return Figure(
        sizes.count * sizes.bearing_mm2 * sizes.compression_perp_mpa * sizes.arm_mm, "N·mm", "n f_c,perp A x arm",
        "statics", "derived", ("wood crushes under washer or nut before the bolt gives", "bolt drawn tight"),
        ("no formula for bolted furniture joints is published: statics only",),
    )  # fmt: skip


def joint_ratio(
    kind: JointKind,
    sizes_made: Sizes,
    sizes_now: Sizes,
    gap_mm: float = 0.0,
    coverage_share: float = 1.0,
    *,
    kind_now: JointKind | None = None,
    shear_mpa: float = 10.0,
    shear_now_mpa: float | None = None,
    gap_filling: bool = False,
) -> Figure:
    """Strength of a joint now over its strength as made, by the same sum.

    [sum with sizes now x gap factor x clean share] / [sum with sizes as made, close and whole]. `gap_mm` 0..10 as it
    will be glued (counts for glued joints), `coverage_share` 0..1 of glued face (of thread or bearing for screws and
    bolts) that is clean and sound; `kind_now` where another kind of joint takes its place (both sums must give a
    moment, or both a force); shear strength 2..25 MPa, for now where the wood changed. Not held at 1: a better joint is
    stronger. Raises OutOfRange, MechanicsError, NoSoundFormula.
    Source: the sums of `joint_moment`, `fit.gap_factor`, `fit.coverage_factor`.

    >>> made = TenonSizes(32, 38, 63.5)
    >>> joint_ratio("mortise_and_tenon", made, made).value
    1.0
    >>> round(joint_ratio("mortise_and_tenon", made, TenonSizes(16, 38, 63.5), coverage_share=0.5).value, 6)
    0.25
    """
    then = joint_moment(kind, shear_mpa, sizes_made)
    now_kind = kind if kind_now is None else kind_now
    now = joint_moment(now_kind, shear_mpa if shear_now_mpa is None else shear_now_mpa, sizes_now)
    if then.unit != now.unit:
        raise MechanicsError(f"{kind} and {now_kind} are reckoned in {then.unit} and {now.unit}: not to be compared")
    fit = gap_factor(gap_mm, gap_filling)
    cover = coverage_factor(coverage_share)
    glued = now_kind in GLUED
    known = weakest("derived", then.known_by, now.known_by, *((fit.known_by,) if glued else ()))
    value = now.value * (fit.value if glued else 1.0) * cover.value / then.value
    notes: tuple[str, ...] = ("as made: close fit, whole glued face" if glued else "as made: thread and bearing whole",)
    notes += ("a gap does not count for screws and bolts: they are drawn up",) if not glued and gap_mm > 0 else ()
    result = Figure(
        value, "ratio", f"[{now.formula}] x gap factor x clean share / [{then.formula}]", now.source, known,
        (*notes, *now.assumptions, *(fit.assumptions if glued and gap_mm > 0 else ())), (), now.range,
    )  # fmt: skip
    return result.warned(*now.warnings, *then.warnings, *(fit.warnings if glued else ()))


def with_blocks(
    ratio: Figure, kind: JointKind, sizes_made: Sizes, leg_mm: float, height_mm: float, blocks: int = 1,
    *, shear_mpa: float = 10.0, clean_share: float = 1.0,
) -> Figure:  # fmt: skip
    """A joint's ratio with glued corner blocks added: each block's face on the rail adds its glue in torsion.

    ratio + n (S/3) a b sqrt(a^2+b^2)/6 x clean / as made; leg a 5..150 and height b 5..150 mm, blocks 1..4, shear
    2..25 MPa. The kind must be reckoned as a moment. Raises OutOfRange, MechanicsError. Source: elastic torsion of one
    glue line; no published formula, so it carries a warning; joint and blocks are taken to share.

    >>> made = TenonSizes(32, 38, 63.5); base = joint_ratio("mortise_and_tenon", made, made, coverage_share=0.5)
    >>> round(with_blocks(base, "mortise_and_tenon", made, 40, 50).value, 2)
    0.78
    """
    then = joint_moment(kind, shear_mpa, sizes_made)
    if then.unit != "N·mm":
        raise MechanicsError(f"{kind} is reckoned in {then.unit}; corner blocks are added to moments only")
    within("leg of the block", leg_mm, 5.0, 150.0, "mm")
    within("height of the block", height_mm, 5.0, 150.0, "mm")
    within("blocks", blocks, 1, 4, "")
    torsion = shear_mpa * joints.CROSS_LAP * leg_mm * height_mm * math.hypot(leg_mm, height_mm) / 6.0
    added = blocks * torsion * coverage_factor(clean_share).value / then.value
    return Figure(
        ratio.value + added, "ratio", ratio.formula + " + n (S/3) a b sqrt(a^2 + b^2)/6 x clean share / as made",
        ratio.source + "; elastic torsion of a glue line", weakest(ratio.known_by, "derived"),
        (*ratio.assumptions, "joint and blocks share the load"),
        (*ratio.warnings, "no published formula for corner blocks is known: their part is an upper bound"), ratio.range,
    )  # fmt: skip
