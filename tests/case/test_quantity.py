"""Quantities as people write them: read and refused."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.case.quantity import KINDS, BadQuantity, length_mm, parse, run, slope

LAW = settings(deadline=None, derandomize=True, max_examples=150)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("12 mm", 12), ("12mm", 12), ("0.4 mm", 0.4), (".4 mm", 0.4), ("3.5 cm", 35), ("1.2 m", 1200), ("1 in", 25.4),
        ("1 1/2 in", 38.1), ("1-1/2 in", 38.1), ('1 1/2"', 38.1), ('3/8"', 9.525), ("3/8 inch", 9.525), ("1½ in", 38.1),
        ("½ in", 12.7), ("¾″", 19.05), ("2 ft", 609.6), ("2 ft 3 in", 685.8), ("2' 3\"", 685.8), ("2'3 1/2\"", 698.5),
        ("5 IN", 127), ("12 MM", 12), ("  7 mm  ", 7), ("+7 mm", 7), ("1e2 mm", 100), ("2 inches", 50.8), ("0 mm", 0),
    ],
)  # fmt: skip
def test_lengths(text: str, mm: float) -> None:
    assert length_mm(text) == pytest.approx(mm, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("300 N", "force", 300), ("1.3 kN", "force", 1300), ("75 lbf", "force", 333.6166), ("1 kgf", "force", 9.80665),
        ("40 N·m", "moment", 40_000), ("40 Nm", "moment", 40_000), ("40 N m", "moment", 40_000),
        ("40 N*m", "moment", 40_000), ("500 N·mm", "moment", 500), ("1000 lb-in", "moment", 112_984.83),
        ("10 ft-lb", "moment", 13_558.179), ("12 MPa", "stress", 12), ("12 N/mm2", "stress", 12),
        ("1780 psi", "stress", 12.272668), ("11 GPa", "stress", 11_000), ("700 kPa", "stress", 0.7),
        ("80 kg", "mass", 80), ("253 lb", "mass", 114.758870), ("500 g", "mass", 0.5), ("68 F", "temperature", 20),
        ("68 °F", "temperature", 20), ("20 °C", "temperature", 20), ("-4 F", "temperature", -20),
        ("−10 C", "temperature", -10), ("45 %", "percent", 45), ("45%", "percent", 45), ("45 per cent", "percent", 45),
        ("20 min", "time", 20), ("30 s", "time", 0.5), ("12 h", "time", 720), ("2 days", "time", 2880),
        ("20 cm2", "area", 2000), ("10 in²", "area", 6451.6), ("10 sq in", "area", 6451.6),
        ("3.2 ft3", "volume", 90.6139),
        ("40 l", "volume", 40), ("40 L", "volume", 40), ("8 deg", "angle", 8), ("8°", "angle", 8),
    ],
)  # fmt: skip
def test_other_kinds(text: str, kind: str, value: float) -> None:
    assert parse(text, kind) == pytest.approx(value, rel=1e-6)


@pytest.mark.parametrize("text", ["3", "1 1/2", "0.4", "3/8", ".5", "1e3"])
def test_a_bare_number_is_refused(text: str) -> None:
    with pytest.raises(BadQuantity, match="has no unit; write a length like 12 mm"):
        length_mm(text)


@pytest.mark.parametrize(
    ("text", "kind", "message"),
    [
        ("", "length", "is not a quantity"), ("mm", "length", "is not a quantity"), ("abc", "length", "not a quantity"),
        ("3 parsec", "length", "'parsec' is no unit of length.*units: mm, cm, m, in, ft"),
        ("3 kg", "length", "'kg' is no unit of length"), ("-3 mm", "length", "negative; a length is 0 or more"),
        ("-5 %", "percent", "negative"), ("1,5 mm", "length", "a point, not a comma"),
        ("1/0 in", "length", "divides by zero"),
        ("3 mm mm", "length", "no unit"), ("3 4 mm", "length", "is not a quantity"),
        ("inf mm", "length", "not a quantity"),
        ("nan mm", "length", "not a quantity"), ("9e15 mm", "length", "too large"),
        ("3 C", "length", "no unit of length"),
        ("1e999 mm", "length", "too large"), ("1e9999 mm", "length", "quantity"), ("5 ft 3 in 2", "length",
            "quantity"), ("68", "temperature", "20 °C, 68 F"),
        ("3 mm\nrm", "length", "no unit|not a quantity"), ("３ mm\x00", "length", "no unit|not a quantity"),
    ],
)  # fmt: skip
def test_refused_with_what_is_allowed(text: str, kind: str, message: str) -> None:
    with pytest.raises(BadQuantity, match=message):
        parse(text, kind)


def test_unknown_kinds() -> None:
    with pytest.raises(ValueError, match="allowed: length, area"):
        parse("3 mm", "colour")


def show(value: float, kind: str, unit: str) -> str:
    """An SI value written in a unit of its kind, as the reader must give it back."""
    factor, offset = KINDS[kind].units[unit]
    return f"{(value - float(offset)) / float(factor):.12g} {unit}"


@given(st.sampled_from(sorted(KINDS)), st.floats(0, 1e6), st.data())
@LAW
def test_written_in_any_unit_and_read_back(kind: str, value: float, data: st.DataObject) -> None:
    unit = data.draw(st.sampled_from(sorted(KINDS[kind].units)))
    assert parse(show(value, kind, unit), kind) == pytest.approx(value, rel=1e-10, abs=1e-7)


@given(st.floats(-200, 400))
@LAW
def test_temperatures_below_nothing_come_back(celsius: float) -> None:
    for unit in ("°C", "F"):
        assert parse(show(celsius, "temperature", unit), "temperature") == pytest.approx(celsius, abs=1e-8)


@given(st.integers(0, 200), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
@LAW
def test_fractions_of_an_inch_are_exact(whole: int, top: int, bottom: int) -> None:
    text = f"{whole} {top}/{bottom} in" if whole else f"{top}/{bottom} in"
    assert length_mm(text) == pytest.approx((whole + top / bottom) * 25.4, rel=1e-15)


@given(st.text(max_size=20))
@LAW
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    for kind in KINDS:
        try:
            value = parse(text, kind)
        except BadQuantity:
            continue
        assert math.isfinite(value)
        assert value >= 0 or KINDS[kind].signed


@pytest.mark.parametrize(
    ("text", "value"),
    [("1:10", 0.1), ("1 in 10", 0.1), ("1in10", 0.1), ("2:25", 0.08), ("straight", 0), ("0", 0), ("45 deg", 1),
     ("45°", 1), ("Straight", 0)],
)  # fmt: skip
def test_slopes(text: str, value: float) -> None:
    assert slope(text) == pytest.approx(value)


@pytest.mark.parametrize("text", ["", "steep", "1:0", "10", "90 deg", "1/10 mm", "-1:10", "1 in"])
def test_bad_slopes(text: str) -> None:
    with pytest.raises(BadQuantity, match="like 1:10"):
        slope(text)


@pytest.mark.parametrize(("text", "value"), [("8:1", 8), ("1:8", 8), ("1 in 8", 8), ("8", 8), ("4.5", 4.5), ("0", 0)])
def test_runs(text: str, value: float) -> None:
    assert run(text) == pytest.approx(value)


@pytest.mark.parametrize("text", ["", "long", "8:0", "8 mm", "-8"])
def test_bad_runs(text: str) -> None:
    with pytest.raises(BadQuantity, match="like 8:1"):
        run(text)
