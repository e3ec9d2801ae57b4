"""Quantities as people write them: `1 1/2 in`, `3/8"`, `0.4 mm`, `40 N·m`, `68 F`, `45 %`; SI inside.

A bare number is refused wherever a unit is wanted: 3 might be millimetres or inches, and the difference is a leg.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction


class BadQuantity(ValueError):
    """Text that is no quantity of the wanted kind; the message says what is allowed."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of quantity: its name, SI unit, units with factor (and offset) to SI, an example, and whether it may be
    negative."""

    name: str
    si: str
    units: dict[str, tuple[Fraction, Fraction]]
    example: str
    signed: bool = False


def _scaled(units: dict[str, str]) -> dict[str, tuple[Fraction, Fraction]]:
    """Factors as exact fractions, each for one or more spellings parted by spaces (`_` stands for a space in one)."""
    return {name.replace("_", " "): (Fraction(factor), Fraction(0)) for names, factor in units.items() for name in names.split()}


_LBF_IN, _LBF_FT = "0.1129848290276167", "1.3558179483314004"

KINDS: dict[str, Kind] = {
    "length": Kind("length", "mm", _scaled({
        "mm": "1", "cm": "10", "m": "1000", "in inch inches \" ″ ”": "25.4", "ft foot feet ' ′ ’": "304.8",
    }), '12 mm, 1 1/2 in, 3/8", 2 ft 3 in'),
    "area": Kind("area", "mm2", _scaled({
        "mm2 mm²": "1", "cm2 cm²": "100", "m2 m²": "1000000", "in2 in² sq_in": "645.16", "ft2 ft² sq_ft": "92903.04",
    }), "20 cm2, 10 in2"),
    "force": Kind("force", "N", _scaled({
        "N": "1", "kN": "1000", "lbf lb lbs": "4.4482216152605", "kgf": "9.80665",
    }), "300 N, 75 lbf"),
    "moment": Kind("moment", "N·mm", _scaled({
        "N·mm N_mm N*mm Nmm": "1", "N·m N_m N*m Nm": "1000",
        "lbf·in lbf_in lbf-in lb·in lb-in lb_in in-lb in_lb": str(1000 * Fraction(_LBF_IN)),
        "lbf·ft lbf_ft lbf-ft lb·ft lb-ft lb_ft ft-lb ft_lb": str(1000 * Fraction(_LBF_FT)),
    }), "40 N·m, 350 lb-in"),
    "stress": Kind("stress", "MPa", _scaled({
        "MPa N/mm2 N/mm²": "1", "kPa": "1/1000", "GPa": "1000", "psi lbf/in2 lbf/in²": "0.006894757293168361",
    }), "12 MPa, 1780 psi"),
    "mass": Kind("mass", "kg", _scaled({"kg": "1", "g": "1/1000", "lb lbs": "0.45359237"}), "80 kg, 176 lb"),
    "temperature": Kind("temperature", "°C", _scaled({"°C C": "1"}) | {
        unit: (Fraction(5, 9), Fraction(-160, 9)) for unit in ("°F", "F")
    }, "20 °C, 68 F", signed=True),
    "percent": Kind("percent", "%", _scaled({"% percent per_cent": "1"}), "45 %"),
    "time": Kind("time", "min", _scaled({
        "s sec": "1/60", "min minutes": "1", "h hours": "60", "days": "1440",
    }), "20 min, 12 h"),
    "volume": Kind("volume", "l", _scaled({"l": "1", "cm3 cm³": "1/1000", "ft3 ft³": "28.316846592"}), "40 l, 3.2 ft3"),
    "angle": Kind("angle", "°", _scaled({"° deg degrees": "1"}), "8 deg"),
}  # fmt: skip

LARGEST = 1e12

_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3",
}  # fmt: skip
_NUMBER = r"(?:\d+(?:\s+|-)\d+/\d+|\d+/\d+|\d+\.?\d*(?:[eE][+-]?\d{1,3})?|\.\d+)"
_ONE = re.compile(rf"\s*([+-]?)\s*({_NUMBER})\s*([^\d\s+.-][^\d]*?[23²³]?)?\s*$")
_FEET_INCHES = re.compile(rf"\s*(\d+)\s*(?:ft|foot|feet|'|′|’)\s*({_NUMBER})\s*(?:in|inch|inches|\"|″|”)\s*$")


def _number(text: str) -> Fraction:
    """`1 1/2`, `3/8`, `0.4` as a number; raises BadQuantity for a zero denominator."""
    parts = re.split(r"\s+|(?<=\d)-(?=\d)", text) if "/" in text else [text]
    try:
        return sum((Fraction(part) for part in parts), Fraction(0))
    except ZeroDivisionError:
        raise BadQuantity(f"{text!r} divides by zero") from None


def _allowed(kind: Kind) -> str:
    firsts: dict[Fraction, str] = {}
    for unit, (factor, _) in kind.units.items():
        firsts.setdefault(factor, unit)
    return f"write a {kind.name} like {kind.example} (units: {', '.join(firsts.values())})"


def parse(text: str, kind: str) -> float:
    """A quantity in the SI unit of its kind (a key of KINDS).

    Whole, decimal and mixed numbers; a unit is a must. Raises BadQuantity saying what is allowed; ValueError for a kind
    that does not exist. Signs only for temperatures.

    >>> parse("1 1/2 in", "length"), round(parse("68 F", "temperature"), 9), parse("40 N·m", "moment")
    (38.1, 20.0, 40000.0)
    >>> parse("3", "length")
    Traceback (most recent call last):
    diagnose.case.quantity.BadQuantity: '3' has no unit; write a length like 12 mm, 1 1/2 in, 3/8", 2 ft 3 in
    """
    if kind not in KINDS:
        raise ValueError(f"kind {kind!r} is not known; allowed: {', '.join(KINDS)}")
    wanted = KINDS[kind]
    plain = text
    for sign, fraction in _VULGAR.items():
        plain = plain.replace(sign, " " + fraction)
    plain = plain.replace("−", "-").replace("⁄", "/").strip()
    if kind == "length" and (both := _FEET_INCHES.match(plain)):
        return float(Fraction(both[1]) * Fraction("304.8") + _number(both[2]) * Fraction("25.4"))
    found = _ONE.match(plain)
    if found is None:
        comma = "; write a point, not a comma, for decimals" if re.search(r"\d,\d", plain) else ""
        raise BadQuantity(f"{text!r} is not a quantity{comma}; {_allowed(wanted)}")
    sign, number, unit = found[1], found[2], (found[3] or "").strip()
    if not unit:
        raise BadQuantity(f"{text!r} has no unit; write a {wanted.name} like {wanted.example}")
    key = _unit(unit, wanted)
    if key is None:
        raise BadQuantity(f"{text!r}: {unit!r} is no unit of {wanted.name}; {_allowed(wanted)}")
    if sign == "-" and not wanted.signed:
        raise BadQuantity(f"{text!r} is negative; a {wanted.name} is 0 or more")
    factor, offset = wanted.units[key]
    value = (-1 if sign == "-" else 1) * _number(number) * factor + offset
    if abs(value) > LARGEST:
        raise BadQuantity(f"{text!r} is too large to be a {wanted.name}")
    return float(value)


def _unit(unit: str, kind: Kind) -> str | None:
    """The unit as the kind spells it; case is forgiven where nothing else is meant by it."""
    if unit in kind.units:
        return unit
    same = [name for name in kind.units if name.lower() == unit.lower().rstrip(".")]
    return same[0] if len(same) == 1 else None


def length_mm(text: str) -> float:
    """A length in mm. Raises BadQuantity.

    >>> length_mm('3/8"'), length_mm("0.4 mm")
    (9.525, 0.4)
    """
    return parse(text, "length")


def slope(text: str) -> float:
    """A slope of grain or a scarf as rise per run: `1:10`, `1 in 10`, `8 deg`, `straight`; raises BadQuantity.

    >>> slope("1 in 10"), round(slope("45 deg"), 12), slope("straight")
    (0.1, 1.0, 0.0)
    """
    plain = text.strip().lower()
    if plain in ("straight", "0"):
        return 0.0
    found = re.fullmatch(rf"({_NUMBER})\s*(?::|in)\s*({_NUMBER})", plain)
    if found and _number(found[2]) > 0:
        return float(_number(found[1]) / _number(found[2]))
    if re.search(r"(°|deg|degrees)$", plain):
        angle = parse(plain, "angle")
        if angle < 90:
            return math.tan(math.radians(angle))
    raise BadQuantity(f"{text!r} is no slope; write it like 1:10, 1 in 10, 8 deg or straight")


def run(text: str) -> float:
    """Length over depth of a scarf or break: `8:1`, `1:8`, or plain `8`; raises BadQuantity.

    >>> run("8:1"), run("1:8"), run("8")
    (8.0, 8.0, 8.0)
    """
    plain = text.strip().lower()
    found = re.fullmatch(rf"({_NUMBER})\s*(?::|in)\s*({_NUMBER})", plain)
    if found:
        a, b = _number(found[1]), _number(found[2])
        if min(a, b) > 0:
            return float(max(a, b) / min(a, b))
    elif re.fullmatch(_NUMBER, plain):
        return float(_number(plain))
    raise BadQuantity(f"{text!r} is no length over depth; write it like 8:1 or 8")
