"""Glues: working time, cold, clamp pressure and force, gaps, water. By family; the label on the bottle always wins."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from diagnose.mechanics.result import Figure, KnownBy, MechanicsError, NotApplicable, one_of, within

PSI_TO_MPA = 6.894757e-3


@dataclass(frozen=True, slots=True)
class Glue:
    """One family: minutes of working time and in clamps (low, high) and how each is known, lowest temperature (°C), gap
    limit (mm), water class, whether it sets by mixing two parts, whether it may carry load."""

    working_min: tuple[float, float]
    working_by: KnownBy
    clamp_min: tuple[float, float]
    clamp_by: KnownBy
    coldest_c: float | None
    coldest_by: KnownBy
    gap_mm: float
    water: str
    two_part: bool = False
    structural: bool = True


_R2: KnownBy = "read_second_hand"
_M: KnownBy = "memory"

GLUES: dict[str, Glue] = {
    "hot-hide": Glue((1, 10), _R2, (10, 90), _R2, 21, _M, 0.15, "as D1"),
    "liquid-hide": Glue((10, 10), _R2, (720, 720), _R2, 10, _M, 0.15, "as D1"),
    "fish-glue": Glue((15, 30), _R2, (120, 240), _R2, 12, _M, 0.15, "as D1"),
    "casein-glue": Glue((15, 45), _R2, (120, 480), _R2, 4, _M, 0.4, "moderate (Handbook)"),
    "white-pva": Glue((5, 30), _R2, (20, 90), _R2, 10, "read", 0.15, "D1-D2"),
    "yellow-pva": Glue((5, 5), _R2, (30, 60), _R2, 10, _M, 0.15, "D2"),
    "crosslinking-pva": Glue((5, 5), _R2, (60, 60), _R2, 10, _M, 0.2, "D3"),
    "fast-epoxy": Glue((2, 6), _M, (15, 60), _M, 13, _R2, 0.5, "above D4", two_part=True),
    "slow-epoxy": Glue((30, 120), _M, (360, 2880), _M, 15, _R2, 0.5, "above D4", two_part=True),
    "foaming-polyurethane": Glue((10, 30), _M, (240, 240), _R2, 7, _M, 0.2, "D4"),
    "instant-glue": Glue((0.5, 5), _R2, (0.033, 240), _R2, 5, _M, 0.05, "not rated"),
    "urea-one-part": Glue((20, 20), _R2, (720, 720), _R2, 21, "read", 0.13, "C2-C3"),
    "urea-two-part": Glue((15, 15), _R2, (180, 180), _R2, 21, _M, 0.13, "C2-C3", two_part=True),
    "resorcinol-glue": Glue((15, 15), _R2, (600, 600), _R2, 21, _M, 0.25, "above D4", two_part=True),
    "contact-glue": Glue((5, 60), _R2, (0, 0), _R2, 18, _M, 0.0, "not rated", structural=False),
    "hot-melt": Glue((0.2, 1), _M, (0.5, 2), _M, 15, _M, 1.0, "as D1", structural=False),
}
"""Times are range hints from trade tables; gap limits and water classes are remembered (Handbook words where said)."""

_TABLE = "trade tables of glue properties"


def glue(family: str) -> Glue:
    """The family's figures. Raises MechanicsError naming the families.

    Source: trade tables of glue properties; each field says in GLUES how it is known.

    >>> glue("white-pva").working_min
    (5, 30)
    """
    one_of("glue", family, tuple(GLUES))
    return GLUES[family]


def working_time(family: str, temperature_c: float | None = None, at_25_min: float | None = None) -> Figure:
    """Minutes of working time, the low end of the family's range or `at_25_min` from the label, at the wood's
    temperature.

    t = t_25 2^((25 - T)/10) for two-part chemical cures only, T 5..40 °C; without a temperature the plain figure.
    Raises OutOfRange, MechanicsError; NotApplicable for glues that set by losing water or otherwise. Source: doubling
    rule (trade pages); 30 min at 25 °C is 60 at 15 and 15 at 35.

    >>> [working_time("slow-epoxy", t, at_25_min=30).value for t in (15, 25, 35)]
    [60.0, 30.0, 15.0]
    """
    data = glue(family)
    base = data.working_min[0] if at_25_min is None else at_25_min
    within("working time at 25 °C", base, 0.01, 1440.0, "min")
    known = data.working_by if at_25_min is None else "judgement"
    if temperature_c is None:
        return Figure(base, "min", "low end of the range", _TABLE, known, ("about 21 °C, ordinary humidity",))
    if not data.two_part:
        raise NotApplicable(
            f"{family} does not set by a two-part reaction: the doubling rule does not hold for it; use its label"
        )
    within("temperature of the wood", temperature_c, 5.0, 40.0, "°C")
    warnings: tuple[str, ...] = ()
    if data.coldest_c is not None and temperature_c < data.coldest_c:
        warnings = (f"colder than {data.coldest_c:g} °C: it may never cure fully",)
    return Figure(
        base * 2.0 ** ((25.0 - temperature_c) / 10.0), "min", "t_25 2^((25 - T)/10)", "doubling rule, trade pages",
        known if known == "memory" else "read_second_hand", ("two-part chemical cure", "a mass in the pot; a thin film"
         " changes less"), warnings, "5 to 40 °C",
    )  # fmt: skip


def too_cold(family: str, temperature_c: float) -> str | None:
    """A sentence if the wood is too cold for the glue, else None; -20..60 °C. Raises OutOfRange, MechanicsError.

    Source: GLUES (read for one-part urea, white PVA and epoxy; else remembered, and then the sentence says so).

    >>> too_cold("urea-one-part", 18)
    'urea-one-part wants at least 21 °C; the wood has 18 °C'
    """
    data = glue(family)
    within("temperature of the wood", temperature_c, -20.0, 60.0, "°C")
    if data.coldest_c is None or temperature_c >= data.coldest_c:
        return None
    hint = " (remembered limit)" if data.coldest_by == "memory" else ""
    return f"{family} wants at least {data.coldest_c:g} °C{hint}; the wood has {temperature_c:g} °C"


PRESSURE_PSI: dict[str, tuple[float, float]] = {"soft": (100, 150), "medium": (150, 200), "hard": (200, 300)}
"""Clamp pressure by hardness of the wood (a glue maker's guide; 300 is called suspiciously high elsewhere)."""

Hardness = Literal["soft", "medium", "hard"]


def hardness_of(gravity_12: float) -> Hardness:
    """Class of a wood for clamp pressure by gravity at 12 % (0.2..1.2): soft under 0.45, hard from 0.60 (judgement).

    Raises OutOfRange. Source: common practice.

    >>> hardness_of(0.42), hardness_of(0.50), hardness_of(0.63)
    ('soft', 'medium', 'hard')
    """
    within("gravity at 12 %", gravity_12, 0.2, 1.2, "")
    return "soft" if gravity_12 < 0.45 else "medium" if gravity_12 < 0.60 else "hard"


def clamp_pressure(hardness: Hardness) -> Figure:
    """Clamp pressure for water-based wood glues, MPa: middle of the range for soft, medium or hard wood.

    Raises MechanicsError. Source: a glue maker's guide (trade). Epoxy wants contact only; rubbed hide glue a hand.

    >>> round(clamp_pressure("medium").value, 3)
    1.207
    """
    one_of("hardness", hardness, ("soft", "medium", "hard"))
    low, high = PRESSURE_PSI[hardness]
    return Figure(
        (low + high) / 2.0 * PSI_TO_MPA, "MPa", f"middle of {low:g} to {high:g} lbf/in2", "trade guide to gluing",
        "read_second_hand", ("flat fitted faces", "not epoxy, not a rubbed joint"),
        ("about 300 lbf/in2 has been called starving",) if hardness == "hard" else (),
    )  # fmt: skip


def clamp_force(
    joint_area_mm2: float, pressure_mpa: float, joints: int = 1, arranged: Literal["series", "parallel"] = "series"
) -> Figure:
    """Force all clamps must give together, N: pressure times area of one joint; joints side by side add, in a row do
    not.

    Area 1..5e6 mm2, pressure 0.001..3 MPa, joints 1..50. Raises OutOfRange, MechanicsError. Source: series rule, a wood
    scientist's column (read at second hand): 1 x 10 in at 100 lbf/in2 is 1,000 lbf for two or ten staves.

    >>> round(clamp_force(10 * 645.16, 100 * 0.006894757, joints=9).value / 4.448222)
    1000
    """
    one_of("arrangement", arranged, ("series", "parallel"))
    within("area of one joint", joint_area_mm2, 1.0, 5e6, "mm2")
    within("pressure", pressure_mpa, 0.001, 3.0, "MPa")
    within("joints", joints, 1, 50, "")
    times = joints if arranged == "parallel" else 1
    return Figure(
        joint_area_mm2 * pressure_mpa * times, "N", "p A" if times == 1 else "p A n", "series rule, trade column",
        "read_second_hand", ("the force spreads evenly: clamps 200 to 300 mm apart, 40 to 50 mm from the ends",),
    )  # fmt: skip


def press_pressure(ram_pressure_mpa: float, ram_area_mm2: float, work_area_mm2: float) -> Figure:
    """Pressure on the work under a press, MPa: p_ram A_ram/A_work; pressures 0..50 MPa, areas 1..1e8 mm2.

    Raises OutOfRange. Source: balance of forces, trade column (60 in2 ram on 120 in2 of work gives half).

    >>> press_pressure(1.0, 60 * 645.16, 120 * 645.16).value
    0.5
    """
    within("ram pressure", ram_pressure_mpa, 0.0, 50.0, "MPa")
    within("ram area", ram_area_mm2, 1.0, 1e8, "mm2")
    within("area of the work", work_area_mm2, 1.0, 1e8, "mm2")
    return Figure(ram_pressure_mpa * ram_area_mm2 / work_area_mm2, "MPa", "p_ram A_ram/A_work", "statics", "derived")


IDEAL_GAP_MM = (0.05, 0.15)
"""Best thickness of the glue line for most wood glues (read, a wood scientist's columns)."""


def gap_limit(family: str) -> Figure:
    """Widest gap the glue is said to bridge with strength, mm. Raises MechanicsError. Remembered: never gates.

    Source: trade experience; best thickness of line from a wood scientist's columns (read).

    >>> gap_limit("yellow-pva").value, gap_limit("yellow-pva").known_by
    (0.15, 'memory')
    """
    return Figure(
        glue(family).gap_mm, "mm", "limit of the family", "trade experience, as remembered", "memory",
        ("no filler mixed in", "best is 0.05 to 0.15 mm for most wood glues (read)"),
    )  # fmt: skip


def water_class(family: str) -> str:
    """Water class (EN 204 D1-D4, EN 12765 C1-C4 or words), remembered save casein. Raises MechanicsError.

    Source: usual assignment of families to EN 204 and EN 12765; the Handbook's words for casein (read).

    >>> water_class("foaming-polyurethane")
    'D4'
    """
    return glue(family).water


def latest_closing(spread_start_min: float, limit_min: float) -> Figure:
    """Minute by which the last clamp should be on: start + 0.8 of the limit; start 0..1e4, limit 0.1..1e4 min.

    Raises OutOfRange. Judgement: a fifth is kept in hand.

    >>> latest_closing(5, 20).value
    21.0
    """
    within("start of spreading", spread_start_min, 0.0, 1e4, "min")
    within("limit", limit_min, 0.1, 1e4, "min")
    return Figure(spread_start_min + 0.8 * limit_min, "min", "start + 0.8 limit", "common practice", "judgement")


def families_for(gap_mm: float, structural: bool = True) -> tuple[str, ...]:
    """Families whose (remembered) gap limit reaches `gap_mm` (0..5), best filling last. Raises OutOfRange,
    MechanicsError when none does.

    Source: the remembered gap limits in GLUES; the label wins.

    >>> families_for(0.45)
    ('fast-epoxy', 'slow-epoxy')
    """
    within("gap", gap_mm, 0.0, 5.0, "mm")
    found = [name for name, data in GLUES.items() if data.gap_mm >= gap_mm and (data.structural or not structural)]
    if not found:
        raise MechanicsError(f"no glue bridges {gap_mm:g} mm with strength; build the fit up with wood (limit 0.5 mm)")
    return tuple(sorted(found, key=lambda name: GLUES[name].gap_mm))
