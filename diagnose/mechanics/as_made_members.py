"""As made against as it is, and as mended: parts of solid wood in bending. The same sum twice, divided."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from diagnose.mechanics.endjoints import scarf_efficiency
from diagnose.mechanics.grain import slope_share
from diagnose.mechanics.hardstops import KEY_UNDER, LEAST_SECTION, SHORT_GRAIN_UNDER
from diagnose.mechanics.result import Figure, MechanicsError, one_of, share, within

Repair = Literal["glued_break", "keyed_break", "spliced", "new_part", "patched"]
REPAIRS: tuple[Repair, ...] = ("glued_break", "keyed_break", "spliced", "new_part", "patched")

GLUE_OVER_BENDING = 0.04
"""Cross-grain glue strength S/3 over bending strength: S/MOR is near 0.12 in the Handbook's common furniture woods."""


def member_ratio(
    slope_made: float,
    slope_now: float,
    section_share_left: float,
    lost: Literal["depth", "width"] = "depth",
    *,
    strength_made_mpa: float = 1.0,
    strength_now_mpa: float = 1.0,
) -> Figure:
    """Bending strength of a part now over its strength as made.

    k(slope now)/k(slope made) x section x wood: slopes 0..10 rise per run (`grain.slope_share`), `section_share_left`
    0..1 of the depth in the direction of bending (modulus falls with its square; the safer reading) or of the `width`
    (in proportion), strengths of the straight-grained wood then and now 1..300 MPa. Raises OutOfRange, MechanicsError.
    Source: Handbook Eq 9-13 and p. 5-29 (read), combined.

    >>> member_ratio(0.0, 0.0, 0.5).value, member_ratio(0.0, 0.0, 0.5, "width").value
    (0.25, 0.5)
    >>> round(member_ratio(1 / 20, 1 / 10, 1.0).value, 3)
    0.849
    """
    one_of("lost", lost, ("depth", "width"))
    share("section left", section_share_left)
    within("strength as made", strength_made_mpa, 1.0, 300.0, "MPa")
    within("strength now", strength_now_mpa, 1.0, 300.0, "MPa")
    then, now = slope_share(slope_made), slope_share(slope_now)
    section = section_share_left**2 if lost == "depth" else section_share_left
    value = now.value / then.value * section * strength_now_mpa / strength_made_mpa
    warnings = ("less than half of the section is left",) if section_share_left < LEAST_SECTION else ()
    return Figure(
        value, "ratio", "k(now)/k(made) x section x wood", then.source + "; Eq 9-13", "derived",
        (*now.assumptions, f"the loss is of {lost}"), warnings, then.range,
    ).warned(*then.warnings, *now.warnings)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Key:
    """A tenon, slip or let-in key across a break: its depth and thickness as shares of the section, how far it reaches
    into sound wood on each side in depths of the part, and the part's width / depth."""

    depth_share: float
    thickness_share: float
    reach_over_depth: float
    width_over_depth: float = 1.0


def key_share(key: Key) -> Figure:
    """Share of the straight solid section's bending strength a straight-grained key carries alone.

    The smaller of its section t d^2 and its hold, 2 (0.04) r d sqrt(r^2 + d^2)/(w): d depth share, t thickness share
    0..1, r reach 0.1..6, w width/depth 0.2..5. Raises OutOfRange. Source: section moduli; two glued cheeks in elastic
    torsion at S/3.

    >>> round(key_share(Key(0.6, 1 / 3, 2.0)).value, 3), round(key_share(Key(0.6, 1 / 3, 0.5)).value, 3)
    (0.12, 0.019)
    """
    share("depth of the key", key.depth_share)
    share("thickness of the key", key.thickness_share)
    within("reach of the key / depth", key.reach_over_depth, 0.1, 6.0, "")
    within("width / depth of the part", key.width_over_depth, 0.2, 5.0, "")
    section = key.thickness_share * key.depth_share**2
    r, d = key.reach_over_depth, key.depth_share
    hold = 2.0 * GLUE_OVER_BENDING * r * d * math.hypot(r, d) / key.width_over_depth
    governs = "its section" if section <= hold else "the glue that holds it"
    return Figure(
        min(section, hold), "ratio", "min(t d^2, 2 x 0.04 r d sqrt(r^2 + d^2)/w)", "section moduli; elastic torsion",
        "derived", ("key straight-grained, of the same wood, both cheeks glued", f"{governs} governs"),
    )  # fmt: skip


def broken_member_ratio(
    repair: Repair,
    ratio_length_to_depth: float,
    clean_area_share: float,
    slope: float | None,
    *,
    slope_new: float | None = None,
    key: Key | None = None,
    renewed_share: float = 0.0,
    section_share_left: float = 1.0,
) -> Figure:
    """Bending strength of a broken part after a repair over its strength as made.

    k is the grain's share (`grain.slope_share`) at `slope` as made (0..10; None: the break followed the grain,
    1/ratio), e the scarf's share at `ratio_length_to_depth` (0..50: break, scarf or the patch's tapered ends), c
    `clean_area_share` 0..1, kn the new wood's grain at `slope_new` (None: as made).

    glued_break  min(1, e/k) c
    keyed_break  min(1, min(1, e/k) c (1 - t d^2) + key/k), `key` needed, see `key_share`
    spliced      min(1, e kn/k) c
    new_part     kn/k x `section_share_left` squared (1 unless the new part is thinner), not held at 1
    patched      (1-p)^2 + [1 - (1-p)^2] min(1, e kn/k) c, p `renewed_share` of the depth cut away and let in, 0..1

    Raises OutOfRange, MechanicsError. Source: scarf shares (derived compromise), Handbook p. 5-29 and Eq 9-13 (read).
    Hard stops are not in the number: ask `hardstops.hard_stops` too; the figure warns of them.

    >>> broken_member_ratio("spliced", 12, 1.0, 0.0).value, broken_member_ratio("spliced", 12, 0.5, 0.0).value
    (0.9, 0.45)
    >>> broken_member_ratio("glued_break", 10, 1.0, None).value
    1.0
    """
    one_of("repair", repair, REPAIRS)
    share("clean area", clean_area_share)
    share("renewed part of the depth", renewed_share)
    within("section of the new part / old", section_share_left, 0.1, 2.0, "")
    scarf = scarf_efficiency(ratio_length_to_depth)
    ran = slope is None
    if slope is None:
        within("length of the break / depth", ratio_length_to_depth, 0.1, 50.0, "")
        slope = 1.0 / ratio_length_to_depth
    made = slope_share(slope)
    new = made if slope_new is None else slope_share(slope_new)
    warnings: tuple[str, ...] = made.warnings + (new.warnings if repair not in ("glued_break", "keyed_break") else ())
    k, kn, e, c = made.value, new.value, scarf.value, clean_area_share
    if repair == "glued_break":
        value, formula = min(1.0, e / k) * c, "min(1, e/k) c"
        warnings += _short(ratio_length_to_depth)
    elif repair == "keyed_break":
        if key is None:
            raise MechanicsError("a keyed break wants the sizes of its key: depth, thickness, reach")
        alone = key_share(key)
        left = 1.0 - key.thickness_share * key.depth_share**2
        value = min(1.0, min(1.0, e / k) * c * left + alone.value / k)
        formula = "min(1, min(1, e/k) c (1-t d^2) + key/k)"
        warnings += (f"if the glued faces part first the key alone holds {alone.value / k:.2f} of as made",)
    elif repair == "spliced":
        value, formula = min(1.0, e * kn / k) * c, "min(1, e kn/k) c"
    elif repair == "new_part":
        value, formula = kn / k * section_share_left**2, "kn/k x section"
        warnings += ("the new part's grain is taken as the old part's: give its slope",) if slope_new is None else ()
    else:
        kept = (1.0 - renewed_share) ** 2
        value, formula = kept + (1.0 - kept) * min(1.0, e * kn / k) * c, "(1-p)^2 + [1-(1-p)^2] min(1, e kn/k) c"
    if repair != "new_part":
        warnings += scarf.warnings
    notes = scarf.assumptions if repair != "new_part" else ()
    notes += ("the break followed the grain: slope = 1/ratio",) if ran else ()
    return Figure(
        value, "ratio", formula, "scarf shares; Wood Handbook p. 5-29, Eq 9-13", "derived", (*made.assumptions, *notes),
        tuple(dict.fromkeys(warnings)), "breaks and scarfs 4 to 20 times the depth",
    )  # fmt: skip


def _short(ratio: float) -> tuple[str, ...]:
    if ratio < SHORT_GRAIN_UNDER:
        return ("shorter than four times the thickness: never glued alone, whatever the number says",)
    return ("four to eight times the thickness: wants a key",) if ratio < KEY_UNDER else ()
