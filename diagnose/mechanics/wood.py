"""Wood as a material: gravity and density, a property at a moisture content, an unknown wood, warmth, time under load.

Handbook = Forest Products Laboratory, Wood Handbook, FPL-GTR-282 (2021) or FPL-GTR-190 (2010).
"""

from __future__ import annotations

from typing import Literal

from diagnose.mechanics.result import Figure, KnownBy, NotApplicable, interpolate, one_of, within

PSI_TO_MPA = 6.894757e-3
LBF_TO_N = 4.448222

DEFAULT_MP = 25.0
"""Moisture content at which strength stops changing, % MC, where Handbook Table 5-13 names no other; its figures stand
with the woods."""

Kind = Literal["softwood", "hardwood"]

NOT_BY_MOISTURE = ("work_to_maximum_load", "impact", "tension_perp")
"""Properties Eq 5-3 must not be used for: they change erratically with moisture (Handbook p. 5-34)."""


def strength_at_moisture(
    at_12: float, green: float, moisture_pct: float, mp_pct: float = DEFAULT_MP, prop: str = "bending"
) -> Figure:
    """A strength or stiffness at a moisture content, from its values at 12 % and green.

    P = P12 (P12/Pg)^((12-M)/(Mp-12)); P12 `at_12` and Pg `green` in the same unit (> 0), M `moisture_pct` 0..200 % MC,
    Mp `mp_pct` 18..30 % MC. Above Mp the green value holds. Raises OutOfRange; NotApplicable for work to maximum load,
    impact and tension perpendicular. Source: Handbook Eq 5-3, p. 5-34 (read); white ash there: 119,500 kPa at 8 %.

    >>> round(strength_at_moisture(103.0, 66.0, 8.0, 24.0).value, 1)
    119.5
    """
    if prop in NOT_BY_MOISTURE:
        raise NotApplicable(f"Eq 5-3 does not hold for {prop}: it changes erratically with moisture")
    within("value at 12 %", at_12, 1e-9, 1e9, "")
    within("green value", green, 1e-9, 1e9, "")
    within("Mp", mp_pct, 18.0, 30.0, "% MC")
    warnings = within("moisture content", moisture_pct, 0.0, 200.0, "% MC", tested=(4.0, 200.0))
    known: KnownBy = "read"
    assumptions: tuple[str, ...] = ("about 21 °C; clear, straight-grained wood",)
    if moisture_pct >= mp_pct:
        value, known = green, "memory"
        assumptions += (f"above {mp_pct:g} % MC the green value is taken (remembered rule)",)
    else:
        value = at_12 * (at_12 / green) ** ((12.0 - moisture_pct) / (mp_pct - 12.0))
    return Figure(
        value, "as given", "P = P12 (P12/Pg)^((12-M)/(Mp-12))", "Wood Handbook Eq 5-3, p. 5-34", known,
        assumptions, warnings, "below fibre saturation; not for work to maximum load, impact, tension perpendicular",
    )  # fmt: skip


def gravity_at_moisture(green_gravity: float, moisture_pct: float = 12.0) -> Figure:
    """Specific gravity on the volume at a moisture content, from that on green volume.

    Gx = Gb / (1 - 0.265 Gb (1 - x/30)); Gb 0.1..1.1, x 0..30 % MC. Raises OutOfRange. Source: Handbook Eq 4-13,
    p. 4-12 (read). Needed for the imported woods of Table 5-5, which prints gravity on green volume only.

    >>> round(gravity_at_moisture(0.45).value, 3), round(gravity_at_moisture(0.55).value, 3)
    (0.485, 0.603)
    """
    within("green-volume gravity", green_gravity, 0.1, 1.1, "")
    within("moisture content", moisture_pct, 0.0, 30.0, "% MC")
    value = green_gravity / (1.0 - 0.265 * green_gravity * (1.0 - moisture_pct / 30.0))
    return Figure(
        value, "ratio", "Gx = Gb / (1 - 0.265 Gb (1 - x/30))", "Wood Handbook Eq 4-13, p. 4-12", "read",
        ("volumetric shrinkage 26.5 Gb per cent (Eq 4-12)", "fibre saturation at 30 % MC"), (), "0 to 30 % MC",
    )  # fmt: skip


def density(gravity: float, moisture_pct: float) -> Figure:
    """Density in kg/m3 of wood with specific gravity `gravity` (0.05..1.4, on the volume at that moisture content).

    rho = 1000 Gx (1 + x/100), x 0..300 % MC. Raises OutOfRange. Source: Handbook Eq 4-14, Table 4-6a (read).

    >>> density(0.60, 12).value, density(0.40, 100).value
    (672.0, 800.0)
    """
    within("specific gravity", gravity, 0.05, 1.4, "")
    within("moisture content", moisture_pct, 0.0, 300.0, "% MC")
    value = round(1000.0 * gravity * (1.0 + moisture_pct / 100.0), 9)
    return Figure(value, "kg/m3", "rho = 1000 Gx (1 + x/100)", "Wood Handbook Eq 4-14, p. 4-12", "read")


def highest_moisture(green_gravity: float) -> Figure:
    """The most water wood can hold, % MC, from gravity on green volume (0.1..1.3).

    M = 100 (1.54 - Gb)/(1.54 Gb). Raises OutOfRange. Source: Handbook Eq 4-3, p. 4-3 (read; prints 267 and 44 for 0.30
    and 0.90, the equation gives 268.4 and 46.2).

    >>> round(highest_moisture(0.30).value, 1)
    268.4
    """
    within("green-volume gravity", green_gravity, 0.1, 1.3, "")
    value = 100.0 * (1.54 - green_gravity) / (1.54 * green_gravity)
    return Figure(value, "% MC", "M = 100 (1.54 - Gb)/(1.54 Gb)", "Wood Handbook Eq 4-3, p. 4-3", "read")


def true_stiffness(moe_mpa: float) -> Figure:
    """Modulus of elasticity freed of shear deflection, MPa: the tabulated value (centre load, span/depth 14) plus 10 %.

    `moe_mpa` 500..40,000 MPa. Raises OutOfRange. Source: Handbook Table 5-3b footnote c (read).

    >>> round(true_stiffness(10000).value)
    11000
    """
    within("tabulated modulus", moe_mpa, 500.0, 40_000.0, "MPa")
    return Figure(1.1 * moe_mpa, "MPa", "E = 1.10 MOE", "Wood Handbook Table 5-3b, footnote c", "read")


# --- wood whose species is unknown ---------------------------------------------------------------------------------

_PSI, _MPSI, _LBF = PSI_TO_MPA, 1e6 * PSI_TO_MPA, LBF_TO_N

BY_GRAVITY_5_11B: dict[str, dict[str, tuple[float, float, float, float]]] = {
    "mor": {"softwood": (24760, 1.01, 0.087, _PSI), "hardwood": (24850, 1.13, 0.114, _PSI)},
    "moe": {"softwood": (2.97, 0.84, 0.136, _MPSI), "hardwood": (2.39, 0.70, 0.131, _MPSI)},
    "compression_par": {"softwood": (13590, 0.97, 0.058, _PSI), "hardwood": (11030, 0.89, 0.102, _PSI)},
    "compression_perp": {"softwood": (2390, 1.57, 0.114, _PSI), "hardwood": (3130, 2.09, 0.202, _PSI)},
    "shear_par": {"softwood": (2410, 0.85, 0.106, _PSI), "hardwood": (3170, 1.13, 0.120, _PSI)},
    "tension_perp": {"softwood": (870, 1.11, 0.168, _PSI), "hardwood": (1460, 1.30, 0.171, _PSI)},
    "hardness": {"softwood": (1930, 1.50, 0.082, _LBF), "hardwood": (3440, 2.09, 0.110, _LBF)},
}
"""Property = A G^B at 12 % MC: A (inch-pound), B, scatter about the line (1 sd, share), factor to MPa or N.
Handbook Table 5-11b, remembered; fitted against the 101 species rows read it lies within 2-3 per cent on every line."""

BY_GRAVITY_OLDER: dict[str, tuple[float, float, float]] = {
    "mor": (25700, 1.25, _PSI), "moe": (2.800, 1.0, _MPSI), "compression_par": (12200, 1.0, _PSI),
    "compression_perp": (4630, 2.25, _PSI), "hardness": (3770, 2.25, _LBF),
}  # fmt: skip
"""The older all-species lines at 12 % MC (read; TM 5-852-4 / AFM 88-19 Table 2-2)."""

GRAVITY_TESTED = (0.30, 0.85)

DENSITY_CLASSES = {"very_light": 0.35, "light": 0.42, "medium": 0.52, "heavy": 0.63, "very_heavy": 0.75}
"""Gravity at 12 % taken for a wood known only by the weight in the hand: the lower end of the class (judgement)."""


def property_by_gravity(prop: str, gravity_12: float, kind: Kind) -> Figure:
    """A property of an unknown wood from its gravity at 12 % MC, in MPa (hardness in N).

    A G^B with A, B by `prop` (keys of BY_GRAVITY_5_11B) and `kind`; G 0.20..1.1, tested 0.30..0.85. Raises OutOfRange,
    MechanicsError. Source: Handbook Table 5-11b, remembered, so it never gates and is not shown as published.

    >>> f = property_by_gravity("mor", 0.60, "hardwood"); round(f.value), f.known_by
    (96, 'memory')
    """
    one_of("property", prop, tuple(BY_GRAVITY_5_11B))
    one_of("kind", kind, ("softwood", "hardwood"))
    warnings = within("gravity at 12 %", gravity_12, 0.20, 1.1, "", tested=GRAVITY_TESTED)
    a, b, scatter, to_si = BY_GRAVITY_5_11B[prop][kind]
    return Figure(
        a * to_si * gravity_12**b, "N" if prop == "hardness" else "MPa", f"A G^B, B = {b:g}",
        "Wood Handbook Table 5-11b, as remembered", "memory",
        (f"species scatter about the line {scatter:.0%} (one standard deviation)", "12 % MC, clear straight grain"),
        warnings, "gravity 0.30 to 0.85",
    )  # fmt: skip


def property_by_gravity_older(prop: str, gravity_12: float) -> Figure:
    """The same from the older lines for all species together, in MPa (hardness in N); G 0.20..1.1, tested 0.30..0.85.

    Raises OutOfRange, MechanicsError. Source: TM 5-852-4 / AFM 88-19 Table 2-2 (read). Against the species rows it lies
    about 10 % high for bending and stiffness.

    >>> round(property_by_gravity_older("mor", 0.60).value, 1)
    93.6
    """
    one_of("property", prop, tuple(BY_GRAVITY_OLDER))
    warnings = within("gravity at 12 %", gravity_12, 0.20, 1.1, "", tested=GRAVITY_TESTED)
    a, b, to_si = BY_GRAVITY_OLDER[prop]
    return Figure(
        a * to_si * gravity_12**b, "N" if prop == "hardness" else "MPa", f"A G^B, B = {b:g}",
        "TM 5-852-4 / AFM 88-19 Table 2-2 (older Wood Handbook lines)", "read",
        ("all species on one line", "12 % MC, clear straight grain"), warnings, "gravity 0.30 to 0.85",
    )  # fmt: skip


def unknown_wood(prop: str, gravity_12: float, kind: Kind) -> Figure:
    """The safer (lower) of the two lines for a wood of unknown species; unit and ranges as there.

    Raises OutOfRange, MechanicsError. Source: `property_by_gravity` and `property_by_gravity_older`.

    >>> unknown_wood("mor", 0.60, "hardwood").known_by, unknown_wood("shear_par", 0.60, "hardwood").known_by
    ('read', 'memory')
    """
    by_table = property_by_gravity(prop, gravity_12, kind)
    if prop not in BY_GRAVITY_OLDER:
        return by_table
    older = property_by_gravity_older(prop, gravity_12)
    lower = older if older.value < by_table.value else by_table
    return lower.assuming("two sets of lines exist; the lower is taken")


def gravity_of_class(density_class: str) -> Figure:
    """Gravity at 12 % MC taken for a wood known only by its weight in the hand. Raises MechanicsError. Judgement.

    >>> gravity_of_class("medium").value
    0.52
    """
    one_of("density class", density_class, tuple(DENSITY_CLASSES))
    return Figure(DENSITY_CLASSES[density_class], "ratio", "lower end of the class", "common practice", "judgement")


# --- warmth and time -----------------------------------------------------------------------------------------------

WARMTH_5_15: dict[str, float] = {"moe": -0.07, "bending": -0.20, "compression_par": -0.25, "tension_par": -0.04}
"""Handbook Table 5-15 (read): reversible change at +50 °C against 20 °C, near 12 % MC, as a share."""


def warmth_factor(prop: str, temperature_c: float) -> Figure:
    """Share of the 20 °C property left at `temperature_c` (20..50 °C), wood near 12 % MC; straight line between.

    `prop` one of WARMTH_5_15. Raises OutOfRange, MechanicsError. Source: Handbook Table 5-15, p. 5-36 (read).

    >>> warmth_factor("bending", 50).value
    0.8
    """
    one_of("property", prop, tuple(WARMTH_5_15))
    within("temperature", temperature_c, 20.0, 50.0, "°C")
    value = interpolate(((20.0, 1.0), (50.0, 1.0 + WARMTH_5_15[prop])), temperature_c)
    return Figure(
        value, "ratio", "1 + change (T - 20)/30", "Wood Handbook Table 5-15, p. 5-36", "read",
        ("straight line between the two printed temperatures", "about 12 % MC"), (), "20 to 50 °C",
    )  # fmt: skip


TEN_YEAR_SHARE = 0.60
"""Share of short-term bending strength that about ten years of unbroken load leave (Handbook ch. 5, read)."""


def long_load_share(seconds: float) -> Figure:
    """Share of short-test bending strength a load of `seconds` (450 s .. 30 years) leaves.

    (108.4 t^-0.04635 + 18.3)/100: the Madison curve, remembered; it gives 62 % at ten years where the Handbook says
    about 60 % or less (read). Raises OutOfRange. Source: Wood 1951, FPL R1916.

    >>> round(long_load_share(450).value, 2), round(long_load_share(10 * 3.156e7).value, 2)
    (1.0, 0.62)
    """
    within("time under load", seconds, 450.0, 30 * 3.156e7, "s")
    return Figure(
        (108.4 * seconds**-0.04635 + 18.3) / 100.0, "ratio", "(108.4 t^-0.04635 + 18.3)/100",
        "Wood 1951, FPL R1916, as remembered", "memory", (), (), "7.5 minutes to 30 years",
    )  # fmt: skip
