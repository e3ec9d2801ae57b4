"""Loads on seating: people, leaning back, sitting hard, scooting, arms; and those published test loads that were read.

Load tables of European and older international standards that were only remembered are left out on purpose.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from diagnose.mechanics.result import Figure, KnownBy, share, within

STANDARD_GRAVITY = 9.80665
DESIGN_USER_KG = 125.0
HEAVY_USER_KG = 150.0
SEAT_PEAK = 2.13
BACK_SHARE = 0.347
SEAT_RAIL_SHARE = 0.73
"""Share of the frame's moment that the two seat-rail joints carry where stretchers take the rest (read)."""

BODY_MASS_KG: dict[str, tuple[float, str]] = {
    "male_95th_2002": (115.0, "CAESAR 2002, used in a 2011 US office-chair standard"),
    "male_95th_2017": (125.0, "US health survey, used in the 2017 edition"),
    "european_chair_limit": (110.0, "EN 16139 and EN 1022, scope"),
}
"""Body masses (read)."""


@dataclass(frozen=True, slots=True)
class TestLoad:
    """A published test load: `value` in `unit`, what it is, its source and how it is known."""

    __test__ = False

    value: float
    unit: str
    what: str
    source: str
    known_by: KnownBy


_ISO3, _ISO4 = "ISO 7173:1989 §7.5-7.6", "ISO 7174-1:1988"
_X51 = "US office-chair standard, as restated in a textbook"

TEST_LOADS: dict[str, TestLoad] = {
    "seat_fatigue": TestLoad(950, "N", "seat, repeated, at most 40 a minute", _ISO3, "read"),
    "back_fatigue": TestLoad(330, "N", "back, repeated, rear feet stopped, seat loaded", _ISO3, "read"),
    "stability_seat": TestLoad(600, "N", "seat load for stability, 50 mm from the edge", _ISO4, "read"),
    "cycles_per_step": TestLoad(25_000, "cycles", "per load level, 20 a minute, then raised", "FNEW 83-269", "read"),
    "back_functional": TestLoad(667, "N", "back strength, functional", _X51, "read_second_hand"),
    "leg_functional": TestLoad(334, "N", "leg strength, 25 mm from its foot", _X51, "read_second_hand"),
    "arm_down": TestLoad(890, "N", "arm pressed down, functional", _X51, "read_second_hand"),
    "arm_out": TestLoad(445, "N", "arm pushed outwards, functional", _X51, "read_second_hand"),
    "domestic_seat": TestLoad(1300, "N", "domestic seat, static", "EN 12520, as quoted", "read_second_hand"),
}
"""Published test loads that were seen in a text. Offsets go with their edition: ISO 7174 50 mm, EN 1022 60 mm."""


def _weight(mass_kg: float) -> tuple[float, tuple[str, ...]]:
    return mass_kg * STANDARD_GRAVITY, within("body mass", mass_kg, 10.0, 250.0, "kg", tested=(40.0, 186.0))


def hard_sitting(mass_kg: float = DESIGN_USER_KG) -> tuple[Figure, Figure]:
    """Peak force on the seat and on the back when somebody drops into a chair, N: 2.13 and 0.347 times the weight.

    `mass_kg` 10..250. Raises OutOfRange. Source: sitting forces on stationary chairs, Ergonomics 2016, and its
    companion on back forces (read, abstracts; 20 people of 136 to 186 kg, so lighter people are an assumption).

    >>> [round(f.value) for f in hard_sitting(125)]
    [2611, 425]
    """
    weight, warnings = _weight(mass_kg)
    source = "Sitting forces on stationary chairs, Ergonomics 2016, abstract"
    notes = ("measured on people of 136 to 186 kg", "arms and cushion do not soften hard sitting")
    return (
        Figure(SEAT_PEAK * weight, "N", "2.13 m g", source, "read", notes, warnings),
        Figure(BACK_SHARE * weight, "N", "0.347 m g", source, "read", notes, warnings),
    )


@dataclass(frozen=True, slots=True)
class Leaning:
    """Moments of leaning back on one side frame, N·mm: in the post above the rail, at the rail's joint to the leg."""

    above: Figure
    joint: Figure


def leaning_back(back_force_n: float, back_height_mm: float, rail_height_mm: float, stretchers: bool = False) -> Leaning:
    """Moments in one side frame when the back is pushed and the rear feet are stopped.

    Above the rail F/2 (h_b - h_r); at the joint F/2 h_b, times 0.73 with stretchers. F on the whole chair 0..3000 N,
    h_b 200..1500, h_r 50..900 mm, h_b over h_r. Raises OutOfRange. Source: statics (floor holds F/2 at each rear foot);
    0.73 from Scots-pine chairs (read).

    >>> m = leaning_back(560, 750, 420); round(m.above.value / 1000, 1), round(m.joint.value / 1000, 1)
    (92.4, 210.0)
    """
    within("force on the back", back_force_n, 0.0, 3000.0, "N")
    within("height of the rail joint", rail_height_mm, 50.0, 900.0, "mm")
    within("height of the force", back_height_mm, max(200.0, rail_height_mm), 1500.0, "mm")
    half = back_force_n / 2.0
    part = SEAT_RAIL_SHARE if stretchers else 1.0
    notes = ("two side frames share evenly", "rear feet stopped on the floor")
    return Leaning(
        Figure(half * (back_height_mm - rail_height_mm), "N·mm", "F/2 (h_b - h_r)", "statics", "derived", notes),
        Figure(
            half * back_height_mm * part, "N·mm", "F/2 h_b" + (" x 0.73" if stretchers else ""), "statics", "derived",
            (*notes, "stretchers take 27 %" if stretchers else "no stretchers"),
        ),
    )  # fmt: skip


def balancing_back(
    mass_kg: float,
    rail_height_mm: float,
    cg_ahead_mm: float = 200.0,
    cg_height_mm: float = 700.0,
    back_arm_mm: float = 350.0,
    rake_deg: float = 0.0,
    dynamic: float = 1.0,
) -> Figure:
    """Moment at one back joint when somebody balances on the two rear legs, N·mm.

    [(W/2) l sin(t - a) + 0.15 W b] x dynamic; t = atan(x/z) from the centre of gravity (ahead x, high z), l rail
    height, a rake of the leg, b height of the back force (0.3 W) above the rail. Mass 10..250 kg, lengths 10..1500 mm,
    rake -15..30°, dynamic 1..3. Raises OutOfRange. Source: statics; 0.3 W and x, z are assumed.

    >>> round(balancing_back(100, 420).value / 1000)
    108
    """
    weight, warnings = _weight(mass_kg)
    for name, length in (
        ("height of the rail joint", rail_height_mm), ("centre of gravity ahead", cg_ahead_mm),
        ("height of the centre of gravity", cg_height_mm), ("height of the back force over the rail", back_arm_mm),
    ):  # fmt: skip
        within(name, length, 10.0, 1500.0, "mm")
    within("rake", rake_deg, -15.0, 30.0, "°")
    within("dynamic factor", dynamic, 1.0, 3.0, "")
    tilt = math.atan(cg_ahead_mm / cg_height_mm)
    below = weight / 2.0 * rail_height_mm * max(0.0, math.sin(tilt - math.radians(rake_deg)))
    above = 0.3 * weight / 2.0 * back_arm_mm
    return Figure(
        (below + above) * dynamic, "N·mm", "[(W/2) l sin(t - a) + 0.15 W b] x dynamic", "statics", "derived",
        ("sitter's weight on the two rear legs alone", "three tenths of the weight leans on the back", "no stretchers",
         f"dynamic factor {dynamic:g}"), warnings,
    )  # fmt: skip


def scooting(mass_kg: float, friction: float, rail_height_mm: float, legs_sharing: int = 2) -> Figure:
    """Moment at the top of one leg when somebody seated drags the chair sideways, N·mm: mu W h/n.

    Mass 10..250 kg, friction 0.1..1.0, h height of the rail joint 50..900 mm, n legs that take it 1..4 (pinned at the
    floor). Raises OutOfRange. Source: statics; that most legs break this way is field experience (read at second hand).

    >>> round(scooting(100, 0.4, 420).value / 1000, 1)
    82.4
    """
    weight, warnings = _weight(mass_kg)
    within("friction", friction, 0.1, 1.0, "")
    within("height of the rail joint", rail_height_mm, 50.0, 900.0, "mm")
    within("legs sharing", legs_sharing, 1, 4, "")
    return Figure(
        friction * weight * rail_height_mm / legs_sharing, "N·mm", "mu W h/n", "statics", "derived",
        ("no stretchers", f"friction {friction:g} on the floor (judgement)", f"{legs_sharing} legs share"), warnings,
    )  # fmt: skip


def arm_moment(force_n: float, height_mm: float, joints: int = 2) -> Figure:
    """Moment at each joint of an arm's posts pushed outwards, N·mm: F h/n; F 0..2000 N, h 20..600 mm, n 1..4.

    Raises OutOfRange. Source: statics; see TEST_LOADS for published arm loads (read at second hand).

    >>> arm_moment(445, 220).value
    48950.0
    """
    within("force on the arm", force_n, 0.0, 2000.0, "N")
    within("height of the arm over the seat rail", height_mm, 20.0, 600.0, "mm")
    within("joints sharing", joints, 1, 4, "")
    return Figure(force_n * height_mm / joints, "N·mm", "F h/n", "statics", "derived", (f"{joints} joints share",))


def racking(push_n: float, height_mm: float, legs: int = 4, one_stopped: bool = False) -> Figure:
    """Moment at each leg-to-apron joint of a table pushed sideways, N·mm: H h/legs, or H h if one leg alone is stopped.

    H 0..3000 N, h 50..1200 mm from floor to mid-apron, legs 1..8. Raises OutOfRange. Source: statics.

    >>> racking(300, 680).value, racking(300, 680, one_stopped=True).value
    (51000.0, 204000.0)
    """
    within("push", push_n, 0.0, 3000.0, "N")
    within("height of the apron", height_mm, 50.0, 1200.0, "mm")
    within("legs", legs, 1, 8, "")
    sharing = 1 if one_stopped else legs
    return Figure(
        push_n * height_mm / sharing, "N·mm", "H h" if one_stopped else "H h/legs", "statics", "derived",
        ("feet free to turn on the floor", "one leg stopped" if one_stopped else "all legs slide together"),
    )  # fmt: skip


def frame_share(moment: Figure, part: float = SEAT_RAIL_SHARE) -> Figure:
    """A frame's moment that reaches the seat-rail joints where stretchers help: `part` (0..1) of `moment`.

    Raises OutOfRange. Source: Scots-pine side chairs, finite elements, front to back (read).

    >>> frame_share(racking(300, 680)).value
    37230.0
    """
    share("share", part)
    note = f"stretchers take {1 - part:.0%} (one study of pine chairs)"
    return Figure(
        moment.value * part, moment.unit, f"{part:g} x ({moment.formula})", moment.source + "; chair frames study",
        "derived", (*moment.assumptions, note), moment.warnings, moment.range,
    )  # fmt: skip
