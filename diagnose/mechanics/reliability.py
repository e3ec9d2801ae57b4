"""Chance that a load exceeds a strength, wear by repeated loads, and one-sided limits from a sample of tests."""

from __future__ import annotations

import math
from statistics import NormalDist

from diagnose.mechanics.result import Figure, MechanicsError, interpolate, one_of, within

_NORMAL = NormalDist()

COV_WOOD: dict[str, float] = {
    "moe": 0.22, "mor": 0.16, "compression_par": 0.18, "compression_perp": 0.28, "shear_par": 0.14, "tension_par": 0.25,
    "hardness": 0.20, "gravity": 0.10,
}  # fmt: skip
"""Coefficients of variation of clear wood (Handbook Table 5-6, as remembered)."""


def safety_index(strength_mean: float, strength_cov: float, load_mean: float, load_cov: float) -> Figure:
    """Distance between load and strength in standard deviations, both lognormal, from means and COVs, exact form.

    beta = ln[(mR/mS) sqrt((1+vS^2)/(1+vR^2))] / sqrt(ln[(1+vR^2)(1+vS^2)]). Means in one unit, 1e-9..1e12; COVs
    0..1.5, not both 0. The load is the hardest expected within the horizon. Raises OutOfRange. Source: structural
    reliability, two lognormal variables.

    >>> round(safety_index(204, 0.35, 160, 0.25).value, 3)
    0.513
    """
    within("mean strength", strength_mean, 1e-9, 1e12, "")
    within("mean load", load_mean, 1e-9, 1e12, "")
    within("COV of the strength", strength_cov, 0.0, 1.5, "")
    within("COV of the load", load_cov, 0.0, 1.5, "")
    spread = math.log((1.0 + strength_cov**2) * (1.0 + load_cov**2))
    if spread == 0.0:
        within("COV of strength and load together", spread, 1e-9, 3.0, "")
    r, s = 1.0 + strength_cov**2, 1.0 + load_cov**2
    value = math.log(strength_mean / load_mean * math.sqrt(s / r)) / math.sqrt(spread)
    return Figure(
        value, "standard deviations", "ln[(mR/mS) sqrt((1+vS^2)/(1+vR^2))]/sqrt(ln[(1+vR^2)(1+vS^2)])",
        "two lognormal variables, exact form", "derived", ("load and strength independent", "both lognormal"),
    )  # fmt: skip


def chance_of_failing(strength_mean: float, strength_cov: float, load_mean: float, load_cov: float) -> Figure:
    """Chance that the hardest load within the horizon exceeds the strength: Phi(-beta) of `safety_index`.

    Ranges, what it raises (Raises OutOfRange) and source as there.

    >>> round(chance_of_failing(204, 0.35, 160, 0.25).value, 2)
    0.3
    """
    index = safety_index(strength_mean, strength_cov, load_mean, load_cov)
    return Figure(_NORMAL.cdf(-index.value), "probability", "Phi(-beta)", index.source, "derived", index.assumptions)


DOWEL_FATIGUE: tuple[tuple[float, float], ...] = (
    (40, 131_253), (50, 78_122), (60, 31_617), (70, 11_023), (80, 4_161), (90, 329),
)  # fmt: skip
"""Two-pin dowel joints in pine plywood: load as per cent of static strength -> mean cycles to failure (read)."""

_FATIGUE_SOURCE = "Bending fatigue life of two-pin dowel joints in pine plywood, Forest Products Journal c. 2003"


def cycles_to_failure(level_pct: float) -> Figure:
    """Mean number of cycles a two-pin dowel joint stands at a load of `level_pct` of its static strength (10..100 %).

    N = 10^((142.92 - level)/18.936), fitted to six published means, tested 40..90 %. Raises OutOfRange.
    Source: DOWEL_FATIGUE, a Forest Products Journal paper of about 2003. Lives of single
    joints scatter widely; at 90 % the fit lies above the mean.

    >>> round(cycles_to_failure(60).value, -2)
    23900.0
    """
    warnings = within("load level", level_pct, 10.0, 100.0, "% of static strength", tested=(40.0, 90.0))
    return Figure(
        10.0 ** ((142.92 - level_pct) / 18.936), "cycles", "10^((142.92 - level)/18.936)", _FATIGUE_SOURCE, "derived",
        ("plywood members, one-sided constant load", "line through six means, off by up to 6 points of level"),
        warnings, "40 to 90 % of static strength",
    )  # fmt: skip


def miner_sum(steps: tuple[tuple[float, float], ...]) -> Figure:
    """Share of a dowel joint's life used up by (level %, cycles) steps, Palmgren-Miner: sum n/N; 1 or more is failure.

    Levels 10..100 %, cycles 0..1e9, at least one step. Raises OutOfRange, MechanicsError. Source: as above, which found
    the rule to work for stepped loads (read).

    >>> round(miner_sum(((30, 25_000), (35, 25_000), (40, 25_000))).value, 3)
    0.169
    """
    if not steps:
        raise MechanicsError("no load step was given; each step is a level in % and a number of cycles")
    total, warnings = 0.0, ()  # type: float, tuple[str, ...]
    for level, count in steps:
        within("cycles", count, 0.0, 1e9, "")
        life = cycles_to_failure(level)
        total += count / life.value
        warnings += life.warnings
    return Figure(
        total, "share of life", "sum n/N", _FATIGUE_SOURCE, "derived", ("plywood members, one-sided load",),
        tuple(dict.fromkeys(warnings)), "40 to 90 % of static strength",
    )  # fmt: skip


def level_of_stepped_test(start_pct: float, step_pct: float, cycles_per_step: float = 25_000) -> Figure:
    """Load level (% of static) of the step in which a joint fails when the load is raised after each block of cycles.

    start 10..100, step 1..50 %, cycles 1..1e6. Raises OutOfRange. Source: Miner on the fit above; the schedule of
    25,000 cycles a step is a published seat-frame test (read).

    >>> level_of_stepped_test(30, 5).value
    55.0
    """
    within("first level", start_pct, 10.0, 100.0, "%")
    within("step", step_pct, 1.0, 50.0, "%")
    within("cycles per step", cycles_per_step, 1.0, 1e6, "")
    level, steps = start_pct, ()  # type: float, tuple[tuple[float, float], ...]
    while True:
        steps = (*steps, (level, cycles_per_step))
        used = miner_sum(steps)
        if used.value >= 1.0 or level + step_pct > 100.0:
            return Figure(
                float(level), "% of static strength", "first step with sum n/N >= 1", used.source, "derived",
                used.assumptions, used.warnings, used.range,
            )  # fmt: skip
        level += step_pct


COMPOSITE_SLOPE: dict[str, float] = {"plywood": 0.05, "osb": 0.07, "particleboard": 0.09}


def composite_fatigue_share(board: str, cycles: float) -> Figure:
    """Share of bending strength a board member stands for `cycles` (1..1e7): 1 - H log10 N.

    H 0.05 plywood, 0.07 OSB, 0.09 particleboard. Raises OutOfRange, MechanicsError. Source: Fatigue performance of
    wood-based composites, Forest Products Journal c. 2005 (read; it prints 75, 70, 55 % at 25,000 cycles).

    >>> round(composite_fatigue_share("osb", 25_000).value, 2)
    0.69
    """
    one_of("board", board, tuple(COMPOSITE_SLOPE))
    within("cycles", cycles, 1.0, 1e7, "")
    return Figure(
        1.0 - COMPOSITE_SLOPE[board] * math.log10(cycles), "ratio", f"1 - {COMPOSITE_SLOPE[board]:g} log10 N",
        "Forest Products Journal c. 2005", "read", ("printed values at 25,000 cycles differ by up to 5 points",),
    )  # fmt: skip


CYCLIC_OVER_STATIC: dict[str, float] = {"rectangular": 0.565, "round": 0.668, "diamond": 0.692}
"""Load side chairs passed in cyclic tests over static strength, by shape of tenon (Technical Note, read)."""


def _noncentral_t_cdf(t: float, nu: int, delta: float) -> float:
    """P(T <= t) of the noncentral t distribution: the mean of Phi(t s - delta) over s = sqrt(chi2/nu), by Simpson."""
    spread = 1.0 / math.sqrt(2.0 * nu)
    low, high, n = max(1e-9, 1.0 - 9.0 * spread), 1.0 + 9.0 * spread, 800
    log_c = math.log(2.0) + nu / 2.0 * math.log(nu / 2.0) - math.lgamma(nu / 2.0)
    total = 0.0
    for i in range(n + 1):
        s = low + (high - low) * i / n
        weight = 1.0 if i in (0, n) else 4.0 if i % 2 else 2.0
        total += weight * math.exp(log_c + (nu - 1) * math.log(s) - nu * s * s / 2.0) * _NORMAL.cdf(t * s - delta)
    return total * (high - low) / n / 3.0


def tolerance_factor(n: int, confidence: float, proportion: float) -> Figure:
    """k such that mean - k sd lies below a `proportion` of all pieces with a `confidence`, normal scatter, n tests.

    n 3..5000, confidence and proportion 0.5..0.999. Exact: noncentral t with n-1 degrees of freedom over sqrt(n), by
    bisection. Raises OutOfRange. Source: one-sided normal tolerance limits; check n 10, 95 % / 90 % -> 2.355.

    >>> round(tolerance_factor(10, 0.95, 0.90).value, 3)
    2.355
    """
    within("number of tests", n, 3, 5000, "")
    within("confidence", confidence, 0.5, 0.999, "")
    within("proportion", proportion, 0.5, 0.999, "")
    delta = _NORMAL.inv_cdf(proportion) * math.sqrt(n)
    low, high = -1.0, 60.0
    for _ in range(50):
        middle = (low + high) / 2.0
        below = _noncentral_t_cdf(middle * math.sqrt(n), n - 1, delta) < confidence
        low, high = (middle, high) if below else (low, middle)
    return Figure(
        (low + high) / 2.0, "standard deviations", "noncentral t quantile / sqrt(n)", "normal tolerance limits",
        "derived", ("normal scatter",),
    )  # fmt: skip


def lower_tolerance_limit(mean: float, sd: float, n: int, confidence: float, proportion: float) -> Figure:
    """Strength that a `proportion` of all joints exceeds with a `confidence`: mean - k sd, in the unit of `mean`.

    mean 1e-9..1e12, sd 0..mean, others as for `tolerance_factor`. Raises OutOfRange. Source: as there; BioResources
    11(3) 7162 prints 318 for red oak tenons (353, 48, 215 tests, 75 % / 75 %).

    >>> round(lower_tolerance_limit(353, 48, 215, 0.75, 0.75).value)
    318
    """
    within("mean", mean, 1e-9, 1e12, "")
    within("standard deviation", sd, 0.0, mean, "")
    k = tolerance_factor(n, confidence, proportion)
    return Figure(mean - k.value * sd, "as given", "mean - k sd", k.source, "derived", k.assumptions)


EVERYDAY_SHARE = 0.45
"""Share of mean strength left for everyday loads: 0.75 (tolerance limit) x 0.60 (repeated load); derived, a caution."""


def fatigue_share_at(cycles: float) -> Figure:
    """Load level, as a share of static strength, a two-pin dowel joint stands for `cycles` (329..131,253): from the
    published means themselves, straight lines on log cycles. Raises OutOfRange. Source: as for `cycles_to_failure`.

    >>> round(fatigue_share_at(31_617).value, 3)
    0.6
    """
    within("cycles", cycles, 329.0, 131_253.0, "")
    points = tuple((math.log10(count), level / 100.0) for level, count in reversed(DOWEL_FATIGUE))
    return Figure(
        interpolate(points, math.log10(cycles)), "ratio", "between the published means", _FATIGUE_SOURCE, "read",
        ("plywood members, one-sided constant load",), (), "329 to 131,253 cycles",
    )  # fmt: skip
