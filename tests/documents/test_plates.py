"""The plates of the field guide: every one draws, is well-formed, the same twice, unlike every other, and stays on its sheet."""

import ast
import re
import xml.etree.ElementTree as ET
from functools import cache
from inspect import signature
from pathlib import Path
from random import Random

import pytest

from diagnose import house, words
from diagnose.documents.plates import FAMILIES, canvas, chosen, shapes, svg
from diagnose.documents.plates.tidy import tidied
from diagnose.rulebase.entries import Plate
from diagnose.rulebase.load import KINDS, load_rules

SVG = "{http://www.w3.org/2000/svg}"
MOST_BYTES = 12_000


@cache
def plates() -> dict[str, Plate]:
    """Read without a check of the whole rule base, so that a fault elsewhere does not hide the drawings."""
    loaded = load_rules(house.rules_folder())
    assert [str(fault) for fault in loaded.faults if "/plates/" in fault.mark.file] == []
    return dict(loaded.found["plates"])


def plate(**said: object) -> Plate:
    entry = {"id": "a-plate", "draw": "crack", "caption": "What to look at.", "alt": "A drawing.", "sources": ["common_practice"]}
    return Plate.model_validate(entry | said)


def test_plates_are_a_kind_of_entry_and_there_are_many() -> None:
    assert KINDS["plates"] is Plate
    assert len(plates()) >= 45


@pytest.mark.parametrize("plate_id", sorted(plates()))
def test_a_plate_draws_well_formed_the_same_twice_and_small(plate_id: str) -> None:
    entry = plates()[plate_id]
    drawn = svg(entry)
    assert drawn == svg(entry)
    assert len(drawn.encode()) <= MOST_BYTES
    root = ET.fromstring(drawn)
    assert root.tag == f"{SVG}svg"
    assert root.get("viewBox") == "0 0 320 240"
    assert root.get("role") == "img"
    title = root[0]
    assert (title.tag, title.text) == (f"{SVG}title", entry.caption)
    assert len(root.findall(f".//{SVG}path")) >= 3, "a drawing, not an empty sheet"


@pytest.mark.parametrize("plate_id", sorted(plates()))
def test_the_words_of_a_plate_are_few_and_stay_on_the_sheet(plate_id: str) -> None:
    labels = ET.fromstring(svg(plates()[plate_id])).findall(f".//{SVG}text")
    assert len(labels) <= 3
    for text in labels:
        said = text.text or ""
        assert 1 <= len(said.split()) <= 3
        x, y = float(text.get("x") or 0), float(text.get("y") or 0)
        # Three fifths of the size a letter is wider than the mean of any plain face.
        wide = 0.6 * canvas.TEXT_SIZE * len(said)
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[text.get("text-anchor") or "start"]
        assert left >= 0, said
        assert left + wide <= canvas.WIDTH, said
        assert canvas.TEXT_SIZE * 0.8 <= y <= canvas.HEIGHT, said


@pytest.mark.parametrize("plate_id", sorted(plates()))
def test_every_shape_that_is_clipped_by_is_there_once(plate_id: str) -> None:
    drawn = svg(plates()[plate_id])
    ids = [element.get("id") for element in ET.fromstring(drawn).iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    assert set(re.findall(r"(?:url\(|href=\")#([^)\"]*)[)\"]", drawn)) == set(ids), "each name is there and is used"


def test_what_is_said_twice_is_written_once_and_nothing_is_lost() -> None:
    shape = shapes.rect(0, 0, 40, 30)
    lines = [canvas.path(shapes.poly([(0, y), (40, y + 3)], closed=False)) for y in (4, 9, 14)]
    body = (
        canvas.clip(shape, lines[0]) + canvas.clip(shape, lines[1]) + lines[2] + canvas.path(shapes.poly(shape), fill="#000000")
    )
    text = tidied(body)
    assert text.count("<clipPath") == 1
    assert text.count(shapes.poly(shape)) == 1, "what is clipped by and filled is written once"
    assert len(re.findall(r"M0 \d+l40 3", text)) == 3
    assert text.index("M0 4l40 3") < text.index("M0 9l40 3") < text.index("M0 14l40 3") < text.index('fill="#000000"')
    assert text.count("clip-path=") == 1, "two drawings with one shape before them are clipped together"
    faint = canvas.path("M0 0h4", opacity=0.5)
    assert tidied(faint + faint) == faint + faint, "two faint lines over each other are darker than one"


def test_no_two_plates_are_the_same_drawing() -> None:
    """Compared without what their ids alone make different: words and jitter."""
    same = {"id": "one", "caption": "The same.", "alt": "The same."}
    drawn: dict[str, str] = {}
    for entry in plates().values():
        text = svg(entry.model_copy(update=same))
        assert text not in drawn, f"{entry.id} is drawn like {drawn.get(text)}"
        drawn[text] = entry.id


def test_jitter_comes_from_the_id_alone() -> None:
    first, second = svg(plate(id="one")), svg(plate(id="two"))
    assert first.replace("one-", "two-") != second
    assert svg(plate(id="one")) == first


@pytest.mark.parametrize("plate_id", sorted(plates()))
def test_the_words_for_the_blind_and_under_the_drawing_say_something(plate_id: str) -> None:
    entry = plates()[plate_id]
    for text in (entry.caption, entry.alt):
        assert text.endswith(".")
        assert text[0].isupper()
        assert 20 <= len(text) <= 220
    assert entry.caption != entry.alt


def test_the_families_of_the_language_are_those_that_are_drawn() -> None:
    assert set(FAMILIES) == set(words.PLATE_FAMILIES)
    assert len(words.PLATE_FAMILIES) == len(set(words.PLATE_FAMILIES))
    assert {entry.draw for entry in plates().values()} == set(FAMILIES), "a family that no plate uses is dead"


@pytest.mark.parametrize("name", sorted(FAMILIES))
def test_a_family_draws_with_its_defaults_and_every_parameter_has_a_plain_type(name: str) -> None:
    assert "<path" in FAMILIES[name](Random(1))
    _, *parameters = signature(FAMILIES[name]).parameters.values()
    for parameter in parameters:
        assert type(parameter.default) in (bool, float, str), parameter.name


def test_no_family_draws_by_a_chance_of_its_own() -> None:
    """A generator made elsewhere than from the id of the plate would draw another picture each time."""
    folder = Path(canvas.__file__).parent
    made = [
        (path.name, node.lineno)
        for path in sorted(folder.glob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name | ast.Attribute)
        if (node.func.id if isinstance(node.func, ast.Name) else node.func.attr) in ("Random", "SystemRandom", "seed")
    ]
    assert [name for name, _ in made] == ["__init__.py"]


@pytest.mark.parametrize(
    ("said", "message"),
    [
        ({"with": {"depht": "0.5"}}, "plate a-plate: crack has no depht; did you mean depth?"),
        ({"with": {"inside": "dirty"}}, "plate a-plate: inside: dirty is not known; did you mean dirt?"),
        ({"with": {"depth": "2"}}, "plate a-plate: depth: 2 is outside 0 to 1"),
        ({"with": {"depth": "deep"}}, "plate a-plate: depth is a number, not deep"),
        ({"with": {"finished": "1"}}, "plate a-plate: finished is yes or no, not 1.0"),
        ({"with": {"inside": "yes"}}, "plate a-plate: inside is a word, not True"),
    ],
)
def test_a_wrong_parameter_is_one_line_that_names_the_plate(said: dict[str, object], message: str) -> None:
    with pytest.raises(ValueError, match=re.escape(message)) as caught:
        svg(plate(**said))
    assert "\n" not in str(caught.value)


def test_an_unknown_family_is_a_fault_of_form_with_the_nearest_name() -> None:
    with pytest.raises(ValueError, match=r"crak is not a family of drawings; did you mean crack\?"):
        plate(draw="crak")


@pytest.mark.parametrize("wrong", ["Break", "break_along", "break--along", "-break", "break-", "9-break", ""])
def test_the_id_of_a_plate(wrong: str) -> None:
    with pytest.raises(ValueError, match="is not the id of a plate"):
        plate(id=wrong)
    assert plate(id="break-along-2").id == "break-along-2"


def test_words_are_escaped() -> None:
    root = ET.fromstring(svg(plate(caption="Under <3 mm & more.")))
    assert root[0].text == "Under <3 mm & more."
    assert "a &lt; b" in canvas.label("a < b", (160, 100))


def test_a_label_that_is_too_long_or_off_the_sheet_is_refused() -> None:
    with pytest.raises(ValueError, match="more than 3 words"):
        canvas.label("one two three four", (160, 100))
    for at in ((10.0, 100.0), (300.0, 100.0), (160.0, 5.0), (160.0, 239.0)):
        with pytest.raises(ValueError, match="does not fit"):
            canvas.label("a label", at)


def test_steps_do_not_add_up_errors() -> None:
    """Path data steps from point to point; after a thousand steps of a third of a unit it must still be where it should."""
    points = [(i / 3, -i / 7) for i in range(1000)]
    numbers = [float(text) for text in re.findall(r"-?\d*\.?\d+", shapes.poly(points, closed=False))]
    assert sum(numbers[0::2]) == pytest.approx(points[-1][0], abs=0.26)
    assert sum(numbers[1::2]) == pytest.approx(points[-1][1], abs=0.26)


def test_a_torn_edge_keeps_its_ends_and_its_depth() -> None:
    edge = shapes.ragged((0, 0), (0, 80), Random(3), depth=10)
    assert (edge[0], edge[-1]) == ((0, 0), (0, 80))
    assert max(abs(x) for x, _ in edge) <= 5
    assert [y for _, y in edge] == sorted(y for _, y in edge)
    assert chosen.within("depth", 1, 0, 1) == 1
