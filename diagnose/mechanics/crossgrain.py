"""Parts held across the grain: a round tenon gone oval; a panel, batten, breadboard end or tenon that cannot move."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from diagnose.mechanics.moisture import movement
from diagnose.mechanics.result import Figure, KnownBy, within


@dataclass(frozen=True, slots=True)
class Oval:
    """Diameters of a round tenon after a change of moisture: `widest`, `narrowest`, `out_of_round` (mm)."""

    widest: Figure
    narrowest: Figure
    out_of_round: Figure


def oval_tenon(diameter_mm: float, coefficient_r: float, coefficient_t: float, from_pct: float, to_pct: float) -> Oval:
    """What becomes of a tenon turned round at one moisture content when it comes to another.

    Each diameter moves by its own coefficient; the difference is the ovality. `diameter_mm` 3..100 mm; coefficients and
    moisture contents as for `movement`. Raises OutOfRange. Source: Handbook ch. 13 (read), taken on both diameters.

    >>> o = oval_tenon(25.0, 0.00165, 0.00353, 12.0, 6.0); round(o.out_of_round.value, 2), round(o.narrowest.value, 2)
    (0.28, 24.47)
    """
    within("tenon diameter", diameter_mm, 3.0, 100.0, "mm")
    radial = movement(diameter_mm, coefficient_r, from_pct, to_pct)
    tangential = movement(diameter_mm, coefficient_t, from_pct, to_pct)
    wide, narrow = sorted((diameter_mm + radial.value, diameter_mm + tangential.value), reverse=True)

    def figure(value: float, formula: str) -> Figure:
        notes = (*radial.assumptions, "turned round at the first moisture content")
        warnings = radial.warned(*tangential.warnings).warnings
        return Figure(value, "mm", formula, radial.source, "derived", notes, warnings)

    return Oval(
        figure(wide, "larger of D (1 + C dM)"),
        figure(narrow, "smaller of D (1 + C dM)"),
        figure(wide - narrow, "D |C_T - C_R| |dM|"),
    )


Across = Literal["fixing", "tenon", "panel", "breadboard"]
Outcome = Literal["free", "binds", "may split", "loosens"]

LOOSE_FROM_MM = 0.13
"""A glued fit stays within this gap (Purdue tests as quoted in a trade magazine, read at second hand)."""

ACROSS_OVER_ALONG = 0.05
"""Stiffness across the grain over stiffness along it, tangential, remembered (Handbook Table 5-1): never gates."""


@dataclass(frozen=True, slots=True)
class CrossGrain:
    """What a part held across the grain does: `moves` (mm, signed), `held` (mm kept back), `splits_at` (mm it stands,
    a remembered estimate, or None), `outcome` and the sentence `because`."""

    moves: Figure
    held: Figure
    splits_at: Figure | None
    outcome: Outcome
    because: str


def split_stretch(width_mm: float, tension_perp_mpa: float, moe_mpa: float) -> Figure:
    """How far wood held across the grain can be kept from shrinking before it splits, mm (an estimate).

    width f_perp/(0.05 E); width 1..5000 mm, f_perp 0.5..15 MPa, E 2000..30,000 MPa. Raises OutOfRange. Source: elastic
    strain. The 0.05 is remembered and slow drying lets wood give; so it never gates.

    >>> f = split_stretch(400, 5.5, 12500); round(f.value, 1), f.known_by
    (3.5, 'memory')
    """
    within("width", width_mm, 1.0, 5000.0, "mm")
    within("tension strength across the grain", tension_perp_mpa, 0.5, 15.0, "MPa")
    within("modulus of elasticity", moe_mpa, 2000.0, 30_000.0, "MPa")
    return Figure(
        width_mm * tension_perp_mpa / (ACROSS_OVER_ALONG * moe_mpa), "mm", "width f_perp/(0.05 E)",
        "elastic strain; stiffness ratio as remembered from Wood Handbook Table 5-1", "memory",
        ("quick change, no creep", "held evenly over the whole width"),
    )  # fmt: skip


def cross_grain(
    across: Across,
    width_mm: float,
    coefficient: float,
    from_pct: float,
    to_pct: float,
    clearance_mm: float = 0.0,
    tension_perp_mpa: float | None = None,
    moe_mpa: float | None = None,
) -> CrossGrain:
    """Whether a part that runs across the grain of another will split, bind or loosen between two moisture contents.

    `width_mm` is the size across the grain between the outermost holds; `clearance_mm` (0..100) what slots, groove or
    gap allow one way; 0.13 mm more or less counts as nothing. Swelling beyond it binds. Shrinking beyond it splits a
    wide part held at both sides (fixing, breadboard, panel glued or nailed in) and leaves a tenon slack. Raises
    OutOfRange. Source: movement by Handbook ch. 13 (read); the stretch at which it splits is remembered and only words
    the outcome.

    >>> cross_grain("breadboard", 600, 0.00365, 12, 6).outcome
    'may split'
    >>> cross_grain("breadboard", 600, 0.00365, 12, 6, clearance_mm=15).outcome
    'free'
    >>> cross_grain("panel", 400, 0.00365, 6, 12, clearance_mm=3).outcome
    'binds'
    >>> cross_grain("tenon", 38, 0.00365, 12, 6).outcome
    'loosens'
    """
    within("clearance", clearance_mm, 0.0, 100.0, "mm")
    moves = movement(width_mm, coefficient, from_pct, to_pct)
    over = max(0.0, abs(moves.value) - clearance_mm)
    known: KnownBy = "derived"
    held = Figure(over, "mm", "|movement| - clearance, not below 0", moves.source, known, moves.assumptions, moves.warnings)
    limit = None
    if tension_perp_mpa is not None and moe_mpa is not None:
        limit = split_stretch(width_mm, tension_perp_mpa, moe_mpa)
    outcome: Outcome = "free"
    because = f"it moves {moves.value:+.2f} mm and has {clearance_mm:g} mm"
    if across == "tenon":
        if moves.value < 0 and abs(moves.value) > LOOSE_FROM_MM:
            outcome, because = "loosens", f"the tenon shrinks {-moves.value:.2f} mm across and leaves its cheek or edge"
        elif moves.value > 0 and over > LOOSE_FROM_MM:
            outcome, because = "binds", f"the tenon swells {moves.value:.2f} mm, {over:.2f} mm more than it has"
    elif over > LOOSE_FROM_MM:
        outcome = "binds" if moves.value > 0 else "may split"
        because = f"{over:.2f} mm of movement is held back" + (
            f"; about {limit.value:.1f} mm is what such wood stands (remembered)" if limit and moves.value < 0 else ""
        )
    return CrossGrain(moves, held, limit, outcome, because)
