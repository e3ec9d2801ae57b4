"""Printed worked examples and table values that were read: wood, moisture, grain, members; source beside each.

Handbook = Wood Handbook FPL-GTR-282 (2021) or FPL-GTR-190 (2010).
"""

import math

import pytest

from diagnose.mechanics import (
    grain,
    members,
    moisture,
    wood,
)  # fmt: skip

# Handbook Table 4-2: °C, humidity %, printed % MC
EMC_CELLS = [
    (21.1, 5, 1.3), (21.1, 30, 6.2), (21.1, 40, 7.7), (21.1, 50, 9.2), (21.1, 65, 12.0), (21.1, 75, 14.4),
    (21.1, 85, 17.9), (21.1, 95, 23.9), (-1.1, 75, 14.9), (-1.1, 95, 24.3), (37.8, 50, 8.7), (37.8, 90, 19.5),
]  # fmt: skip


@pytest.mark.parametrize(("celsius", "humidity", "printed"), EMC_CELLS)
def test_emc_table_4_2(celsius: float, humidity: float, printed: float) -> None:
    figure = moisture.emc(humidity, celsius)
    assert figure.value == pytest.approx(printed, abs=0.06)
    assert figure.warnings == ()
    assert figure.known_by == "read"


# what the equation itself gives, to three places (worked out beside the table)
@pytest.mark.parametrize(
    ("celsius", "humidity", "equation"),
    [(21.1, 5, 1.298), (21.1, 30, 6.170), (21.1, 85, 17.952), (-1.1, 95, 24.332), (37.8, 90, 19.476)],
)
def test_emc_equation_4_5(celsius: float, humidity: float, equation: float) -> None:
    assert moisture.emc(humidity, celsius).value == pytest.approx(equation, abs=0.0006)


@pytest.mark.parametrize("celsius", [-1.1, 10.0, 21.1, 37.8, 60.0])
@pytest.mark.parametrize("humidity", [10, 35, 60, 90])
def test_emc_agrees_with_its_fahrenheit_form(celsius: float, humidity: float) -> None:
    """Eq 4-5 with the constants printed for °F, worked here apart."""
    t, h = celsius * 9 / 5 + 32, humidity / 100
    w = 330 + 0.452 * t + 0.00415 * t * t
    k = 0.791 + 0.000463 * t - 0.000000844 * t * t
    k1 = 6.34 + 0.000775 * t - 0.0000935 * t * t
    k2 = 1.09 + 0.0284 * t - 0.0000904 * t * t
    top = k1 * k * h + 2 * k1 * k2 * k**2 * h**2
    expected = 1800 / w * (k * h / (1 - k * h) + top / (1 + k1 * k * h + k1 * k2 * k**2 * h**2))
    assert moisture.emc(humidity, celsius).value == pytest.approx(expected, abs=0.05)


@pytest.mark.parametrize(("humidity", "rule"), [(30, 6), (50, 9), (65, 12), (80, 16)])
def test_emc_against_the_trade_rule(humidity: float, rule: float) -> None:
    """Wengert, trade column: 30 % is 6, 50 % is 9, 65 % is 12, 80 % is 16."""
    assert moisture.emc(humidity, 21.1).value == pytest.approx(rule, abs=0.3)


def test_emc_old_laboratory_point() -> None:
    """FPL R1903-7 (1951): 70 F, 59 % -> 10.9 (a scan; the equation gives 10.78)."""
    assert moisture.emc(59, 21.1).value == pytest.approx(10.9, abs=0.15)


def test_white_ash_at_8_pct() -> None:
    """Handbook p. 5-34: 103,000 and 66,000 kPa, Mp 24 -> 119,500 kPa at 8 %."""
    assert wood.strength_at_moisture(103_000, 66_000, 8, 24).value == pytest.approx(119_500, rel=0.001)
    assert wood.strength_at_moisture(106_000, 66_000, 8, 24).value == pytest.approx(124_134, rel=0.0001)


@pytest.mark.parametrize(("gravity", "at", "printed"), [(0.60, 12, 672), (0.40, 100, 800)])
def test_density_table_4_6a(gravity: float, at: float, printed: float) -> None:
    assert wood.density(gravity, at).value == pytest.approx(printed, abs=0.5)


@pytest.mark.parametrize(("green", "printed"), [(0.55, 0.60), (0.51, 0.55)])
def test_gravity_eq_4_13_white_ash_and_walnut(green: float, printed: float) -> None:
    assert wood.gravity_at_moisture(green).value == pytest.approx(printed, abs=0.006)


@pytest.mark.parametrize(("green", "at_12"), [(0.45, 0.485), (0.42, 0.450), (0.55, 0.603), (0.46, 0.496)])
def test_gravity_eq_4_13_imported_woods(green: float, at_12: float) -> None:
    assert wood.gravity_at_moisture(green, 12).value == pytest.approx(at_12, abs=0.0005)


@pytest.mark.parametrize(("gravity", "printed", "off"), [(0.30, 267, 2), (0.90, 44, 2.5)])
def test_highest_moisture_eq_4_3(gravity: float, printed: float, off: float) -> None:
    assert wood.highest_moisture(gravity).value == pytest.approx(printed, abs=off)


@pytest.mark.parametrize(("prop", "left"), [("bending", 0.80), ("moe", 0.93), ("compression_par", 0.75), ("tension_par", 0.96)])
def test_warmth_table_5_15(prop: str, left: float) -> None:
    assert wood.warmth_factor(prop, 50).value == pytest.approx(left)
    assert wood.warmth_factor(prop, 35).value == pytest.approx((1 + left) / 2)
    assert wood.warmth_factor(prop, 20).value == 1.0


def test_ten_years_share() -> None:
    """Handbook ch. 5: about 60 % or less after ten years; the remembered curve must not contradict it."""
    assert wood.TEN_YEAR_SHARE == 0.60
    assert wood.long_load_share(10 * 3.156e7).value == pytest.approx(0.621, abs=0.001)


def test_alder_board() -> None:
    """Magazine 2021: 8 in, 0.0026, 6 points -> 0.1248 in."""
    assert moisture.movement(8 * 25.4, 0.0026, 6, 12).value / 25.4 == pytest.approx(0.1248, abs=1e-4)


def test_mesquite_floor() -> None:
    """Flooring sheet quoting the Handbook 1987: 5 in, 0.00129, 3 points -> 0.019 in."""
    assert moisture.movement(5 * 25.4, 0.00129, 9, 6).value / 25.4 == pytest.approx(-0.019, abs=5e-4)


def test_lumber_by_the_equations() -> None:
    """Course problem on FPL-RP-489: 13.25 in at 19 % -> 13.02 in at 10 % (the equations give 12.989)."""
    got = moisture.lumber_size(13.25 * 25.4, 19, 10, "width").value / 25.4
    assert got == pytest.approx(13.02, abs=0.035)
    assert got == pytest.approx(12.989, abs=0.0005)
    expected = 100 * (1 - (5.062 - 0.181 * 10) / 100) / (1 - (5.062 - 0.181 * 19) / 100)
    assert moisture.lumber_size(100, 19, 10, "thickness").value == pytest.approx(expected)


def test_lumber_by_the_simple_rule() -> None:
    """Same page: 0.2 % per 1 % MC, 13.25 in, 9 points -> 0.2385 in."""
    assert moisture.movement(13.25 * 25.4, 0.002, 10, 19).value / 25.4 == pytest.approx(0.2385, abs=1e-4)


@pytest.mark.parametrize(("shrink", "printed"), [(3.7, 0.00126), (7.1, 0.00248), (5.5, 0.00190), (11.9, 0.00431)])
def test_coefficient_from_shrinkage(shrink: float, printed: float) -> None:
    """GTR-190 Tables 4-3 and 13-5: black cherry and American beech."""
    assert moisture.coefficient_from_shrinkage(shrink).value == pytest.approx(printed, abs=1e-5)


def test_meter_correction_p_13_3() -> None:
    """0.5 point per 5.6 °C: added below, taken off above the calibration temperature."""
    assert moisture.meter_correction(20 - 5.6).value == pytest.approx(0.5)
    assert moisture.meter_correction(25.6, 20).value == pytest.approx(-0.5)


# p. 5-29: curves that test values lie very close to, worked out at five slopes
@pytest.mark.parametrize(
    ("prop", "q", "n", "values"),
    [
        ("bending", 0.10, 1.5, (92.7, 90.1, 85.6, 76.5, 54.4)),
        ("impact", 0.05, 1.5, (86.3, 81.9, 74.6, 61.7, 36.9)),
        ("compression", 0.10, 2.5, (99.9, 99.8, 99.4, 98.1, 89.1)),
    ],
)
def test_slope_curves_p_5_29(prop: str, q: float, n: float, values: tuple[float, ...]) -> None:
    assert (grain.CURVES[prop].q, grain.CURVES[prop].n, grain.CURVES[prop].known_by) == (q, n, "read")
    for run, value in zip((25, 20, 15, 10, 5), values, strict=True):
        figure = grain.slope_share(1 / run, prop)
        assert 100 * figure.value == pytest.approx(value, abs=0.06)
        assert figure.warnings == ()


def test_curve_fitted_to_table_5_12() -> None:
    """q = 0.07, n = 1.75 lies within 0.8 points of the bending column (derived)."""
    for run, fitted in ((25, 0.953), (20, 0.932), (15, 0.892), (10, 0.804), (5, 0.558)):
        got = grain.hankinson(1.0, 0.07, math.degrees(math.atan(1 / run)), 1.75).value
        assert got == pytest.approx(fitted, abs=0.0006)
        assert got == pytest.approx(grain.slope_share_by_table(1 / run).value, abs=0.009)


def test_safer_of_curve_and_table_is_used_for_bending_and_impact() -> None:
    for prop in ("bending", "impact", "compression"):
        for slope, printed in grain.TABLE_5_12[prop]:
            if slope > 0 and not (prop == "impact" and slope == 0.2):  # there they agree to a point
                assert grain.slope_share(slope, prop).value <= printed + 1e-9


def test_size_effect_eq_9_18() -> None:
    """Handbook p. 9-10: 10,000 lbf/in2, 10 in deep, 18 ft, a/L 1/3 -> 7,330."""
    assert members.size_effect(10_000, 254, 216 * 25.4, 1 / 3).value == pytest.approx(7330, rel=0.001)


def test_taper_eq_9_16() -> None:
    """Handbook p. 9-9: b 0.1 m, h 0.2 m, slope 0.1, 1 N·m -> 375, 37.5, 3.75 Pa."""
    got = [figure.value * 1e6 for figure in members.taper_stresses(1000, 100, 200, 0.1)]
    assert got == pytest.approx([375, 37.5, 3.75], rel=1e-4)


@pytest.mark.parametrize(
    ("case", "kb", "ks"),
    [
        ("uniform_simple", 0.0130208, 0.125), ("uniform_clamped", 0.00260417, 0.125),
        ("centre_simple", 0.0208333, 0.25), ("centre_clamped", 0.00520833, 0.25), ("cantilever_uniform", 0.125, 0.5),
        ("cantilever_end", 0.333333, 1.0),
    ],
)  # fmt: skip
def test_sag_table_9_1(case: str, kb: float, ks: float) -> None:
    """Printed k_b, k_s, put together here apart from the function: bending and shear."""
    w, length, b, h, e = 400.0, 900.0, 250.0, 19.0, 11_000.0
    expected = kb * w * length**3 / (e * b * h**3 / 12) + ks * w * length / (e / 16 * 5 / 6 * b * h)
    assert members.sag(w, length, b, h, e, case).value == pytest.approx(expected, rel=1e-5)


def test_saint_venant_square_and_strip() -> None:
    """0.208 for a square, 1/3 for a thin strip; never the division by 3.0-4.8 of one retyped copy."""
    assert members.torsion_stress(1000, 10, 10).value == pytest.approx(1000 / (0.208 * 1000))
    assert members.torsion_stress(1000, 500, 1).value == pytest.approx(1000 / (0.3227 * 500), rel=0.01)
