"""Plates that are named and not drawn, and plates that are drawn and not named."""

from pathlib import Path

from diagnose.rulebase.faults import missing_plate
from diagnose.rulebase.load import load_rules
from tests.rulebase.small import Change, small_rules

SIGNS = "signs/break.yaml"
NAMED = Change(SIGNS, "say: Straight across the part", "say: Straight across the part\n        plate: ‸break-across-part")
PLATES = """\
plates:
  - id: {id}
    draw: broken_part
    caption: What to look at.
    alt: A bar broken across.
    sources: [common_practice]
"""


def test_a_plate_that_nobody_drew_is_a_fault_at_its_line_with_the_nearest(tmp_path: Path) -> None:
    drawn = Change("plates/breaks.yaml", "", PLATES.format(id="break-across-parts"))
    folder, place = small_rules(tmp_path, NAMED, drawn)
    missing, unused = missing_plate.check(load_rules(folder))
    assert (missing.mark, missing.code, missing.severity) == (place, "missing-plate", "error")
    assert missing.message == "break-across-part is not a plate"
    assert missing.hint == "did you mean break-across-parts?"
    assert (unused.mark.file, unused.mark.line) == ("rules/plates/breaks.yaml", 2)
    assert unused.message == "unused plate: no reading names break-across-parts"


def test_no_plate_named_and_none_drawn_or_each_in_its_place_is_no_fault(tmp_path: Path) -> None:
    folder, _ = small_rules(tmp_path / "none")
    assert list(missing_plate.check(load_rules(folder))) == []
    folder, _ = small_rules(tmp_path / "both", NAMED, Change("plates/breaks.yaml", "", PLATES.format(id="break-across-part")))
    loaded = load_rules(folder)
    assert loaded.faults == []
    assert list(missing_plate.check(loaded)) == []


def test_a_plate_of_an_unknown_family_is_a_fault_of_form_at_its_line(tmp_path: Path) -> None:
    text = PLATES.format(id="break-across-part").replace("draw: broken_part", "draw: ‸broken_parts")
    folder, place = small_rules(tmp_path, Change("plates/breaks.yaml", "", text))
    (fault,) = load_rules(folder).faults
    assert (fault.mark, fault.code) == (place, "form")
    assert "broken_parts is not a family of drawings; did you mean broken_part?" in fault.message
