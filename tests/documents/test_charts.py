"""Pictures: well-formed, the same bytes for the same input, readable without colour or eyes, warnings carried along."""

import builtins
import re
import xml.dom.minidom
from collections.abc import Callable
from typing import Any

import pytest

from diagnose.documents import charts
from diagnose.documents.charts import PicturesMissing, overlap_chart, slope_chart, year_chart
from diagnose.mechanics.result import MechanicsError, OutOfRange

PICTURES: dict[str, Callable[[], str]] = {
    "slope": lambda: slope_chart("bending", 1 / 8),
    "slope, nothing marked": slope_chart,
    "year": lambda: year_chart("White oak", 600, 0.00365, 9, 2.5),
    "overlap": lambda: overlap_chart(204, 0.35, 160, 0.25),
}


@pytest.mark.parametrize("name", PICTURES)
def test_well_formed_accessible_and_the_same_twice(name: str) -> None:
    svg = PICTURES[name]()
    assert svg == PICTURES[name]()
    assert svg.startswith("<svg")
    root = xml.dom.minidom.parseString(svg).documentElement
    assert root is not None
    assert root.getAttribute("role") == "img"
    title, description = root.getElementsByTagName("title")[0], root.getElementsByTagName("desc")[0]
    assert root.getAttribute("aria-labelledby").split() == [title.getAttribute("id"), description.getAttribute("id")]
    assert title.firstChild is not None
    assert len(description.firstChild.nodeValue or "") > 60  # type: ignore[union-attr]
    assert not re.search(r"20\d\d-\d\d-\d\d", svg), "no date"
    assert "<metadata" not in svg


@pytest.mark.parametrize("name", PICTURES)
def test_only_greys(name: str) -> None:
    for colour in re.findall(r"#([0-9a-fA-F]{6})\b", PICTURES[name]()):
        assert colour[0:2] == colour[2:4] == colour[4:6], f"#{colour} is a colour"


def test_two_pictures_in_a_page_keep_apart() -> None:
    first, second = slope_chart("bending", 0.1), slope_chart("bending", 0.12)
    ids = [set(re.findall(r'id="(chart-[^"]+)"', svg)) for svg in (first, second)]
    assert len(ids[0]) == len(ids[1]) == 2
    assert not ids[0] & ids[1]


def test_the_slope_picture_says_its_numbers_and_doubts() -> None:
    text = slope_chart("bending", 1 / 10)
    assert "Marked: 77 % at a slope of 0.100" in text
    assert "not tested" not in re.findall(r"<desc.*?</desc>", text, re.DOTALL)[0]
    steep = slope_chart("bending", 0.3)
    assert "not tested" in steep
    assert "stroke-dasharray" in steep
    assert "Remembered figures, not published ones" in slope_chart("tension")
    assert "Remembered" not in slope_chart("compression")


def test_the_year_picture_says_its_numbers_and_doubts() -> None:
    text = year_chart("White oak", 600, 0.00365, 9, 2.5)
    assert "-5.5 mm in Feb, +5.5 mm in Aug, 10.9 mm in all, between 6.5 and 11.5 % moisture" in text
    assert "tested range" not in text
    far = year_chart("White oak", 600, 0.00365, 14, 4)
    assert "tested range 6 to 14 % MC" in far
    assert "outside the range the coefficients are meant for" in far
    still = year_chart("White oak", 600, 0.00365, 9, 0)
    assert "0.0 mm in all" in still


def test_names_cannot_carry_markup() -> None:
    text = year_chart("<script>alert(1)</script> & co", 600, 0.00365, 9, 2)
    assert "<script>" not in text
    assert xml.dom.minidom.parseString(text)


def test_the_overlap_picture_says_its_numbers() -> None:
    text = overlap_chart(204, 0.35, 160, 0.25)
    assert "Chance that the load exceeds the strength: 30.4 % (not the hatched area itself)" in text
    assert "under 0.1 %" in overlap_chart(900, 0.1, 100, 0.1)
    assert "<pattern" in text, "the overlap is hatched, so that it shows without colour"


@pytest.mark.parametrize(
    "call",
    [
        lambda: slope_chart("bending", 0.5), lambda: slope_chart("bending", -0.1),
        lambda: year_chart("oak", 600, 0.00365, 29, 2.5), lambda: year_chart("oak", -1, 0.00365, 9, 2.5),
        lambda: overlap_chart(0, 0.3, 1, 0.3), lambda: overlap_chart(1, 0, 1, 0.3), lambda: overlap_chart(1, 0.3, 1, 2),
        lambda: overlap_chart(1, 0.3, -1, 0.3),
    ],
)  # fmt: skip
def test_bad_input_names_the_range(call: Callable[[], str]) -> None:
    with pytest.raises(OutOfRange, match="must lie between"):
        call()


def test_unknown_property() -> None:
    with pytest.raises(MechanicsError, match="allowed: bending"):
        slope_chart("charm")


def test_without_the_library_it_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    real = builtins.__import__

    def refuse(name: str, *rest: Any, **more: Any) -> Any:
        if name.startswith("matplotlib"):
            raise ImportError(name)
        return real(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", refuse)
    with pytest.raises(PicturesMissing, match=r"furniture-diagnose\[pictures\]"):
        slope_chart()


def test_importing_the_module_does_not_import_the_library() -> None:
    import subprocess
    import sys

    code = "import sys, diagnose.documents.charts; sys.exit('matplotlib' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
    assert charts.MONTHS[1] == "Feb"
