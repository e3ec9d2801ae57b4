"""Laws of loads, chances, wear and glue."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.mechanics import (
    adhesives,
    casework,
    loads,
    members,
    reliability,
)  # fmt: skip
from diagnose.mechanics.result import (
    KNOWN_BY_ORDER,
    KnownBy,
    MechanicsError,
    NotApplicable,
    OutOfRange,
)  # fmt: skip

LAW = settings(deadline=None, derandomize=True, max_examples=60)
KNOWN: tuple[KnownBy, ...] = KNOWN_BY_ORDER


@given(st.floats(40, 186), st.floats(0.1, 1), st.floats(200, 600), st.integers(1, 4))
@LAW
def test_scooting_and_others_are_their_statics(mass: float, mu: float, h: float, legs: int) -> None:
    assert loads.scooting(mass, mu, h, legs).value == pytest.approx(mu * mass * 9.80665 * h / legs)
    assert loads.scooting(mass, mu, h, legs).warnings == ()
    assert loads.arm_moment(mass, h, legs).value == pytest.approx(mass * h / legs)
    assert loads.racking(mass, h, legs).value == pytest.approx(mass * h / legs)
    assert loads.racking(mass, h, legs, one_stopped=True).value == pytest.approx(mass * h)
    half = loads.frame_share(loads.racking(mass, h, legs), 0.5)
    assert half.value == pytest.approx(mass * h / legs / 2)


def test_loads_default_and_warn() -> None:
    assert loads.hard_sitting()[0].value == pytest.approx(2.13 * 125 * 9.80665)
    assert loads.hard_sitting(30)[0].warnings
    assert loads.hard_sitting(200)[1].warnings
    assert loads.HEAVY_USER_KG == 150
    assert loads.frame_share(loads.racking(100, 100)).value == pytest.approx(0.73 * 2500)
    steep = loads.balancing_back(100, 420, rake_deg=30)
    assert steep.value == pytest.approx(0.15 * 980.665 * 350)  # a leg raked past the tilt adds nothing


def test_balancing_by_hand() -> None:
    tilt = math.atan(180 / 650)
    weight = 90 * 9.80665
    expected = (weight / 2 * 400 * math.sin(tilt - math.radians(5)) + 0.15 * weight * 300) * 1.5
    got = loads.balancing_back(90, 400, 180, 650, 300, 5, 1.5)
    assert got.value == pytest.approx(expected)


def test_shelves_and_drawers() -> None:
    assert casework.shelf_load("books", 1000, 250).value == casework.shelf_load("books", 1000, 300).value
    assert casework.shelf_load("kitchen", 1000, 600).value == pytest.approx(2 * casework.shelf_load("kitchen", 1000, 300).value)
    now = members.sag(300, 900, 250, 19, 11_000).value
    assert casework.shelf_sag(300, 900, 250, 19, 11_000).value == pytest.approx(2 * now)
    clamped = casework.shelf_sag(300, 900, 250, 19, 11_000, clamped=True).value
    assert clamped == pytest.approx(2 * members.sag(300, 900, 250, 19, 11_000, "uniform_clamped").value)
    assert not casework.shelf_sag(300, 900, 250, 19, 11_000).warnings
    assert casework.shelf_sag(400, 900, 250, 19, 11_000).warnings  # 4.9 mm on 4.5
    assert casework.drawer_load(28.316847).value == pytest.approx(8.5 * 4.448222)
    assert casework.SAG_LIMITS["eye"][0] == 1 / 384


def test_tipping() -> None:
    got = casework.tipping(40, 220, 44.5, 1000, 267, 300)
    assert got.value == pytest.approx(40 * 9.80665 * 220 / (44_500 + 80_100))
    assert got.warnings
    assert not casework.tipping(40, 220, 44.5, 1000).warnings
    with pytest.raises(OutOfRange, match="tipping moment"):
        casework.tipping(40, 220)


@given(st.floats(1, 500), st.floats(0.05, 0.6), st.floats(1, 500), st.floats(0.05, 0.6))
@LAW
def test_chance_is_a_probability_and_rises_with_load(r: float, vr: float, s: float, vs: float) -> None:
    chance = reliability.chance_of_failing(r, vr, s, vs).value
    assert 0 <= chance <= 1
    assert reliability.chance_of_failing(r, vr, s * 1.1, vs).value >= chance
    assert reliability.chance_of_failing(r * 7, vr, s * 7, vs).value == pytest.approx(chance, abs=1e-9)
    # against the lognormal's own parameters, worked the long way round
    zr, zs = math.sqrt(math.log(1 + vr**2)), math.sqrt(math.log(1 + vs**2))
    mr, ms = math.log(r) - zr**2 / 2, math.log(s) - zs**2 / 2
    assert reliability.safety_index(r, vr, s, vs).value == pytest.approx((mr - ms) / math.hypot(zr, zs), abs=1e-9)


def test_no_scatter_at_all_is_refused() -> None:
    with pytest.raises(OutOfRange, match="together"):
        reliability.safety_index(2, 0, 1, 0)
    assert reliability.safety_index(2, 0.1, 1, 0).value > 0


def test_wear() -> None:
    assert reliability.cycles_to_failure(39).warnings
    assert not reliability.cycles_to_failure(40).warnings
    assert reliability.cycles_to_failure(91).warnings
    assert reliability.miner_sum(((50, 0), (50, 1e9))).value > 1
    for cycles in (-1, math.nextafter(1e9, math.inf), math.inf):
        with pytest.raises(OutOfRange, match="cycles is"):
            reliability.miner_sum(((50, cycles),))
    with pytest.raises(MechanicsError, match="no load step"):
        reliability.miner_sum(())
    twice = reliability.miner_sum(((50, 1000), (50, 1000), (60, 500)))
    expected = 2000 / reliability.cycles_to_failure(50).value + 500 / reliability.cycles_to_failure(60).value
    assert twice.value == pytest.approx(expected)
    assert reliability.miner_sum(((30, 10), (30, 10))).warnings == reliability.cycles_to_failure(30).warnings
    assert reliability.level_of_stepped_test(90, 20).value == 90
    assert reliability.level_of_stepped_test(10, 50, 1).value == 60
    assert reliability.fatigue_share_at(math.sqrt(31_617 * 11_023)).value == pytest.approx(0.65)
    assert pytest.approx(0.75 * 0.60) == reliability.EVERYDAY_SHARE
    assert reliability.CYCLIC_OVER_STATIC == {"rectangular": 0.565, "round": 0.668, "diamond": 0.692}


@given(st.integers(5, 100), st.floats(0.6, 0.95), st.floats(0.6, 0.95))
@settings(deadline=None, derandomize=True, max_examples=12)
def test_tolerance_factor_against_scipy(n: int, confidence: float, proportion: float) -> None:
    stats = pytest.importorskip("scipy.stats")
    expected = stats.nct.ppf(confidence, n - 1, stats.norm.ppf(proportion) * math.sqrt(n)) / math.sqrt(n)
    assert reliability.tolerance_factor(n, confidence, proportion).value == pytest.approx(expected, abs=2e-5)


def test_glue_kinds_and_cold() -> None:
    for family in ("white-pva", "hot-hide", "foaming-polyurethane", "instant-glue"):
        with pytest.raises(NotApplicable, match="doubling rule"):
            adhesives.working_time(family, 20)
    assert adhesives.working_time("white-pva").value == 5
    assert adhesives.working_time("slow-epoxy").known_by == "memory"
    assert adhesives.working_time("slow-epoxy", 25).known_by == "memory"
    assert adhesives.working_time("urea-two-part", 25).known_by == "read_second_hand"
    assert adhesives.working_time("slow-epoxy", 25, 40).known_by == "read_second_hand"
    assert adhesives.working_time("white-pva", at_25_min=9).known_by == "judgement"
    assert "remembered" in (adhesives.too_cold("yellow-pva", 5) or "")
    assert "remembered" not in (adhesives.too_cold("urea-one-part", 5) or "remembered")
    with pytest.raises(MechanicsError, match="white-pva"):
        adhesives.glue("treacle")


def test_pressure_and_closing() -> None:
    assert [adhesives.hardness_of(g) for g in (0.449, 0.45, 0.599, 0.6)] == ["soft", "medium", "medium", "hard"]
    assert adhesives.clamp_pressure("hard").warnings
    assert not adhesives.clamp_pressure("soft").warnings
    assert adhesives.clamp_force(1000, 1, 3, "parallel").value == 3000
    assert adhesives.clamp_force(1000, 1, 3).value == 1000
    assert adhesives.latest_closing(2, 10).value == 10
    assert not adhesives.gap_limit("slow-epoxy").may_gate
    assert adhesives.families_for(0.6, structural=False) == ("hot-melt",)
    assert "hot-melt" not in adhesives.families_for(0.0)
    assert adhesives.families_for(0.0)[0] == "instant-glue"
    with pytest.raises(MechanicsError, match="build the fit up"):
        adhesives.families_for(0.6)
    assert adhesives.water_class("yellow-pva") == "D2"
    assert adhesives.IDEAL_GAP_MM == (0.05, 0.15)
