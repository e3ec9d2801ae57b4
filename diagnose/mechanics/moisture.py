"""Moisture: what wood comes to in a room and how far it moves."""

from __future__ import annotations

import math
from typing import Literal

from diagnose.mechanics.result import Figure, OutOfRange, within

FIBRE_SATURATION = 30.0
"""% MC above which wood no longer swells, where nothing better is known (Handbook ch. 4, read)."""

COEFFICIENT_TESTED = (6.0, 14.0)
"""% MC between which the coefficients of Table 13-5 are meant to be used (read)."""

_C = {
    "W": (349.0, 1.29, 0.0135),
    "K": (0.805, 0.000736, -0.00000273),
    "K1": (6.27, -0.00938, -0.000303),
    "K2": (1.91, 0.0407, -0.000293),
}


def emc(relative_humidity_pct: float, temperature_c: float) -> Figure:
    """Moisture content wood comes to in still air, % MC.

    1800/W [Kh/(1-Kh) + (K1 K h + 2 K1 K2 K^2 h^2)/(1 + K1 K h + K1 K2 K^2 h^2)], h humidity as a share;
    W, K, K1, K2 quadratics of T in °C. Humidity 0..99 %, tested 5..95; T -40..150 °C, tested -1.1..132.2. Raises
    OutOfRange. Source: Handbook Eq 4-5, GTR-282 p. 4-3 (read). Absorbing and drying wood differ by 1 to 4 points.

    >>> [round(emc(rh, 21.1).value, 1) for rh in (30, 50, 65)]
    [6.2, 9.2, 12.0]
    """
    warnings = within("relative humidity", relative_humidity_pct, 0.0, 99.0, "%", tested=(5.0, 95.0))
    warnings += within("temperature", temperature_c, -40.0, 150.0, "°C", tested=(-1.1, 132.2))
    w, k, k1, k2 = (a + b * temperature_c + c * temperature_c**2 for a, b, c in _C.values())
    kh = k * relative_humidity_pct / 100.0
    wet = k1 * kh + k1 * k2 * kh**2
    value = 1800.0 / w * (kh / (1.0 - kh) + (wet + k1 * k2 * kh**2) / (1.0 + wet))
    return Figure(
        value, "% MC", "1800/W [Kh/(1-Kh) + (K1 Kh + 2 K1 K2 (Kh)^2)/(1 + K1 Kh + K1 K2 (Kh)^2)]",
        "Wood Handbook Eq 4-5, GTR-282 p. 4-3", "read",
        ("derived for spruce; other woods and drying against wetting differ by 1 to 4 points",), warnings,
        "5 to 95 % humidity, -1 to 132 °C",
    )  # fmt: skip


def meter_correction(temperature_c: float, calibrated_c: float = 20.0) -> Figure:
    """Points of % MC to add to a resistance meter's reading in wood at `temperature_c` (-20..60 °C).

    0.5 point per 5.6 °C: added in wood colder than the calibration temperature, taken off in warmer. Raises OutOfRange.
    Source: Handbook GTR-282 p. 13-3 (read).

    >>> meter_correction(8.8, 20).value
    1.0
    """
    within("temperature of the wood", temperature_c, -20.0, 60.0, "°C")
    within("calibration temperature", calibrated_c, 0.0, 40.0, "°C")
    value = round(0.5 * (calibrated_c - temperature_c) / 5.6, 12)
    return Figure(
        value, "points of % MC", "0.5 (T_cal - T)/5.6", "Wood Handbook GTR-282 p. 13-3", "read",
        ("resistance meter; not for veneer, near metal or salts, or under 6 % MC",),
    )  # fmt: skip


def shrinkage_to(total_pct: float, moisture_pct: float, saturation_pct: float = FIBRE_SATURATION) -> Figure:
    """Shrinkage from green to a moisture content, per cent of the green size.

    S_x = S_0 (1 - x/M_fs); S_0 `total_pct` 0..25 %, x 0..M_fs % MC, M_fs 18..35. Raises OutOfRange.
    Source: Handbook Eq 4-9, GTR-282 p. 4-10 (read).

    >>> shrinkage_to(7.8, 15).value
    3.9
    """
    within("total shrinkage", total_pct, 0.0, 25.0, "%")
    within("fibre saturation", saturation_pct, 18.0, 35.0, "% MC")
    within("moisture content", moisture_pct, 0.0, saturation_pct, "% MC")
    value = total_pct * (1.0 - moisture_pct / saturation_pct)
    return Figure(value, "%", "S_x = S_0 (1 - x/M_fs)", "Wood Handbook Eq 4-9, GTR-282 p. 4-10", "read")


def coefficient_from_shrinkage(total_pct: float, saturation_pct: float = FIBRE_SATURATION) -> Figure:
    """Change of size per 1 % MC, on the size at 10 % MC, from total shrinkage green to oven-dry (0.5..25 %).

    C = (S/(100 F)) / (1 - (S/100)(F-10)/F); F 18..35 % MC (22 for redwood, western redcedar, northern white-cedar).
    Raises OutOfRange. Source: derived; it gives the printed pair of Table 13-5 for 27 of 34 species, group rows differ.

    >>> round(coefficient_from_shrinkage(3.7).value, 5), round(coefficient_from_shrinkage(7.1).value, 5)
    (0.00126, 0.00248)
    """
    within("total shrinkage", total_pct, 0.5, 25.0, "%")
    within("fibre saturation", saturation_pct, 18.0, 35.0, "% MC")
    s = total_pct / 100.0
    value = (s / saturation_pct) / (1.0 - s * (saturation_pct - 10.0) / saturation_pct)
    return Figure(
        value, "per % MC", "C = (S/(100 F)) / (1 - (S/100)(F-10)/F)",
        "derived from Wood Handbook Eq 4-9; checked against Table 13-5", "derived",
    )  # fmt: skip


def movement(size_mm: float, coefficient: float, from_pct: float, to_pct: float) -> Figure:
    """Change of a size across the grain between two moisture contents, mm; plus swells, minus shrinks.

    dD = D C (M2 - M1); D `size_mm` 0.1..5000 mm, C 0.0001..0.01 per % MC (tangential for flat-sawn width, radial for
    quarter-sawn), M 0..30 % MC, meant for 6..14. Raises OutOfRange. Source: Handbook ch. 13 Eq 13-2 with Table 13-5.

    >>> round(movement(203.2, 0.0026, 6, 12).value / 25.4, 4)
    0.1248
    """
    within("size", size_mm, 0.1, 5000.0, "mm")
    within("coefficient", coefficient, 0.0001, 0.01, "per % MC")
    warnings: tuple[str, ...] = ()
    for moisture in (from_pct, to_pct):
        warnings += within("moisture content", moisture, 0.0, FIBRE_SATURATION, "% MC", tested=COEFFICIENT_TESTED)
    return Figure(
        size_mm * coefficient * (to_pct - from_pct), "mm", "dD = D C (M2 - M1)",
        "Wood Handbook ch. 13 with Table 13-5", "read",
        ("free to move, moisture even through the thickness", "a straight line between the two moisture contents"),
        warnings, "6 to 14 % MC",
    )  # fmt: skip


def lumber_size(size_mm: float, from_pct: float, to_pct: float, face: Literal["width", "thickness"]) -> Figure:
    """Size of softwood lumber at another moisture content, mm, by the lumber equations (not redwood or cedars).

    d2 = d1 (1 - S2/100)/(1 - S1/100), S = 6.031 - 0.215 M for width, 5.062 - 0.181 M for thickness; 8..19 % MC.
    Raises OutOfRange. Source: Green 1989, FPL-RP-489 (read).

    >>> round(lumber_size(336.55, 19, 10, "width").value / 25.4, 2)
    12.99
    """
    within("size", size_mm, 1.0, 1000.0, "mm")
    a, b = (6.031, 0.215) if face == "width" else (5.062, 0.181)
    shrunk = []
    for moisture in (from_pct, to_pct):
        within("moisture content", moisture, 8.0, 19.0, "% MC")
        shrunk.append(1.0 - (a - b * moisture) / 100.0)
    return Figure(
        size_mm * shrunk[1] / shrunk[0], "mm", "d2 = d1 (1 - S2/100)/(1 - S1/100)", "FPL-RP-489 (1989)", "read",
        ("shrinking starts at 28 % MC",), (), "8 to 19 % MC; softwood lumber, not redwood or cedars",
    )  # fmt: skip


PLYWOOD_COEFFICIENT = 0.0002
"""Change of plywood in its plane per 1 % MC (Handbook ch. 12, read)."""


def season_swing(dry: tuple[float, float], damp: tuple[float, float]) -> tuple[Figure, Figure]:
    """Moisture contents in the dry and the damp season from (humidity %, temperature °C) pairs; ranges as for `emc`.

    Raises OutOfRange when the season called dry is the damper. Source: `emc` twice; each season
    long enough to come to balance.

    >>> [round(f.value, 1) for f in season_swing((30, 21.1), (65, 21.1))]
    [6.2, 12.0]
    """
    low, high = emc(*dry), emc(*damp)
    if low.value > high.value:
        raise OutOfRange(f"the dry season gives {low.value:.1f} % MC, the damp one {high.value:.1f}; change them round")
    note = "each season lasts long enough for the wood to come to balance; finish slows it"
    return low.assuming(note), high.assuming(note)


def wood_moisture_by_month(mean_pct: float, half_swing_pct: float, driest_month: int = 2) -> tuple[tuple[int, float], ...]:
    """Moisture content month by month as a smooth wave, for the picture of a year: (month 1..12, % MC).

    mean - half_swing cos(2 pi (m - driest)/12); 0..30 % MC throughout, month 1..12. Raises OutOfRange. Source: a sine
    wave, a picture of a swing, not a forecast.

    >>> [round(m, 1) for _, m in wood_moisture_by_month(9, 3)][:3]
    [6.4, 6.0, 6.4]
    """
    within("driest month", driest_month, 1, 12, "")
    within("half of the yearly swing", half_swing_pct, 0.0, 12.0, "% MC")
    within("mean moisture content", mean_pct, half_swing_pct, FIBRE_SATURATION - half_swing_pct, "% MC")
    return tuple(
        (month, mean_pct - half_swing_pct * math.cos(2 * math.pi * (month - driest_month) / 12)) for month in range(1, 13)
    )
