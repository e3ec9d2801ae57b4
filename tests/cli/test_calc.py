"""`diagnose calc`: every sub-command by hand, in metric and US units, as text and as JSON; bad input in one line."""

import json
import re
import subprocess
import sys

import pytest
from typer.testing import CliRunner

from diagnose.cli.calc import app
from diagnose.cli.calc_show import shown
from diagnose.mechanics.result import Figure

RUN = CliRunner()

# a call that works, and what its first number must be (value in the unit of the figure), worked out beside the command
CALLS: dict[str, tuple[list[str], float | None]] = {
    "woods": (["--find", "oak"], None),
    "wood": (["white oak"], 104.8),
    "unknown-wood": (["--kind", "hardwood", "--gravity", "0.6"], 93.57),
    "gravity": (["--green", "0.45"], 0.4846),
    "density": (["--gravity", "0.6"], 672),
    "warmth": (["--at", "50 C"], 0.8),
    "slope": (["--slope", "1:10"], 0.765),
    "runout": (["--face", "1 in 25", "--side", "3:100"], 0.05),
    "slope-of-break": (["--length", "4 in", "--thickness", "1 in"], 0.25),
    "steepest-slope": (["--keep", "90 %"], 0.05042),
    "hankinson": (["--along", "40", "--across", "8", "--angle", "90"], 8),
    "emc": (["--humidity", "50 %", "--temperature", "70 F"], 9.243),
    "meter": (["--wood-at", "14.4 C"], 0.5),
    "movement": (["beech", "--width", "12 in", "--dry-humidity", "30%", "--damp-humidity", "65%"], 6.18),
    "cross-grain": (["white oak", "--held", "breadboard", "--width", "600 mm", "--made-at", "12 %", "--now-at",
        "6 %"], -13.14),
    "oval-tenon": (["sugar maple", "--diameter", "1 in", "--turned-at", "12 %", "--now-at", "6 %"], 25.149),
    "dowel": (["--diameter", '3/8"', "--depth", "1 in", "--shear-member", "2330 psi", "--shear-dowel",
        "1880 psi"], 5697),
    "dowel-joint": (["--diameter", "10 mm", "--depth", "30 mm", "--shear-member", "12.3 MPa", "--shear-dowel", "13 MPa",
                     "--spacing", "32 mm", "--edge", "16 mm"], 242_560),
    "tenon": (["--length", "32 mm", "--height", "38 mm", "--rail-width", "2 1/2 in", "--shear", "12.3 MPa"], 316_588),
    "loose-tenon": (["--length-rail", "20 mm", "--length-post", "32 mm", "--height", "38 mm", "--rail-width", "63.5 mm",
                     "--shear", "12.3 MPa"], 197_868),
    "round-tenon": (["--diameter", "16 mm", "--depth", "25 mm", "--bending-strength", "100 MPa"], 40_212),
    "corner-block": (["--leg", "40 mm", "--height", "50 mm", "--shear", "12 MPa"], 8000),
    "gap": (["--gap", "0.010 in"], 0.783),
    "coverage": (["--clean", "0.5"], 0.5),
    "edge-joint": (["--length", "500 mm", "--thickness", "20 mm", "--shear", "10 MPa", "--tension-across",
        "5 MPa"], 100_000),
    "butt": (["--tension", "100 MPa"], 25),
    "scarf": (["--run", "8:1"], 0.8),
    "glue-area": (["--glued", "100 cm2", "--section", "10 cm2"], 1),
    "break": (["--run", "8", "--clean", "0.5"], 0.4),
    "wood-screw": (["--gravity", "0.63", "--shank", "4.17 mm", "--thread", "1 in"], 4550),
    "lag": (["--gravity", "0.63", "--shank", "1/4 in", "--thread", "30 mm"], 7525),
    "nail": (["--gravity", "0.63", "--diameter", "2.87 mm", "--depth", "25 mm"], 1223),
    "side-load": (["--fastener", "wood-screw", "--gravity", "0.63", "--diameter", "4.17 mm", "--kind", "hardwood"],
                  767.4),
    "pilot-hole": (["--root", "3 mm", "--kind", "softwood"], 2.1),
    "distance": (["--diameter", "8 mm", "--where", "end_tension_hardwood"], 40),
    "insert": ([], None),
    "notched-shear": (["--force", "1 kN", "--width", "20 mm", "--depth", "50 mm", "--left", "50 %"], 3),
    "sit": (["--mass", "125 kg"], 2611),
    "lean": (["--force", "560 N", "--at", "750 mm", "--rail", "420 mm"], 92_400),
    "balance": (["--mass", "100 kg", "--rail", "420 mm", "--rake", "7.8 deg"], 80_660),
    "scoot": (["--mass", "100 kg", "--rail", "420 mm"], 82_376),
    "arm": (["--force", "100 lbf", "--height", "220 mm"], 48_930),
    "racking": (["--push", "300 N", "--height", "680 mm"], 51_000),
    "test-loads": ([], None),
    "beam": (["--load", "400 N", "--span", "900 mm", "--width", "250 mm", "--depth", "19 mm", "--modulus",
        "11 GPa"], 2.432),
    "shelf": (["--span", "3 ft", "--depth", "10 in", "--thickness", "3/4 in", "--modulus", "11 GPa"], 333.6),
    "drawer": (["--volume", "1 ft3"], 37.81),
    "tip": (["--mass", "40 kg", "--behind", "220 mm", "--pull", "10 lbf", "--pull-height", "1 m"], 1.94),
    "tip-rule": (["--height", "30 in", "--mass", "50 lb", "--volume", "120 l"], None),
    "chance": (["--strength", "204", "--strength-cov", "0.35", "--load", "160", "--load-cov", "0.25"], 0.5135),
    "fatigue": (["--step", "30%x25000", "--step", "35%x25000"], 918_850),
    "stepped-test": (["--start", "30 %", "--step", "5 %"], 55),
    "board-fatigue": (["--board", "osb", "--cycles", "25000"], 0.692),
    "tolerance": (["--mean", "353", "--sd", "48", "--tests", "215", "--confidence", "75%", "--proportion",
        "75%"], 0.7272),
    "glues": ([], None),
    "working-time": (["slow-epoxy", "--at", "15 C", "--label-at-25", "30 min"], 60),
    "too-cold": (["urea-one-part", "--at", "64 F"], None),
    "clamp": (["--area", "10 in2", "--gravity", "0.63"], 1.7237),
    "press": (["--ram-pressure", "2 MPa", "--ram-area", "60 in2", "--work-area", "120 in2"], 1),
    "glue-gap": (["--gap", "0.45 mm"], 0.5),
    "latest-closing": (["--limit", "20 min", "--start", "5 min"], 21),
    "ratio-member": (["--made", "1:20", "--now", "1:10"], 0.849),
    "ratio-tenon": (["--length", "32 mm", "--height", "38 mm", "--rail-width", "63 mm", "--length-now", "16 mm"], 0.5),
    "ratio-dowel": (["--diameter", "10 mm", "--depth", "30 mm", "--spacing", "32 mm", "--edge", "14 mm", "--clean",
        "0.7"], 0.7),
    "ratio-round-tenon": (["--diameter", "16 mm", "--depth", "25 mm", "--diameter-now", "14 mm"], 0.875),
    "ratio-break": (["spliced", "--run", "12:1", "--slope", "straight"], 0.9),
    "stops": ([], None),
}  # fmt: skip


def _names() -> list[str]:
    text = RUN.invoke(app, ["--help"]).stdout
    return re.findall(r"^  ([a-z][a-z-]*)  ", text, re.MULTILINE)


def test_help_lists_them_all() -> None:
    assert set(_names()) == set(CALLS)


@pytest.mark.parametrize("name", CALLS)
def test_each_works_as_text_and_says_where_it_is_from(name: str) -> None:
    arguments, value = CALLS[name]
    done = RUN.invoke(app, [name, *arguments])
    assert done.exit_code == 0, done.output
    assert done.stderr == ""
    assert done.stdout.strip()
    if value is not None:
        assert done.stdout.count("  formula   ") == done.stdout.count("  source    ") >= 1
        assert done.stdout.count("  known     ") == done.stdout.count("  formula   ")


@pytest.mark.parametrize("name", CALLS)
def test_each_works_as_json_with_the_right_number(name: str) -> None:
    arguments, value = CALLS[name]
    done = RUN.invoke(app, [name, *arguments, "--json"])
    assert done.exit_code == 0, done.output
    got = json.loads(done.stdout)
    assert got["calc"] == name
    if value is None:
        assert got["notes"]
        return
    first = got["results"][0]
    assert first["value"] == pytest.approx(value, rel=2e-3)
    for key in (
        "label",
        "unit",
        "shown",
        "formula",
        "source",
        "known_by",
        "published",
        "assumptions",
        "warnings",
        "range",
    ):
        assert key in first
    for result in got["results"]:
        assert result["may_gate"] == (result["known_by"] != "memory")


@pytest.mark.parametrize("name", CALLS)
def test_help_of_each(name: str) -> None:
    done = RUN.invoke(app, [name, "--help"])
    assert done.exit_code == 0
    assert "--json" in done.stdout


def test_metric_and_inches_agree() -> None:
    metric = json.loads(RUN.invoke(app, ["tenon", "--length", "31.75 mm", "--height", "38.1 mm", "--rail-width",
        "63.5 mm",
                                         "--shear", "12.2726679 MPa", "--json"]).stdout)  # fmt: skip
    inches = json.loads(RUN.invoke(app, ["tenon", "--length", "1 1/4 in", "--height", '1 1/2"', "--rail-width",
                                         "2-1/2 in", "--shear", "1780 psi", "--json"]).stdout)  # fmt: skip
    assert metric["results"][0]["value"] == pytest.approx(inches["results"][0]["value"], rel=1e-7)


def test_pilot_hole_by_density_too() -> None:
    """3 mm root in oak of gravity 0.63: 90 % by kind of wood, and 90 % by the remembered rule by density."""
    text = RUN.invoke(app, ["pilot-hole", "--root", "3 mm", "--kind", "hardwood", "--gravity", "0.55"]).stdout
    assert "Hole: 2.7 mm" in text
    assert "By density (remembered rule): 2.1 mm" in text


def test_a_warning_is_printed_beside_its_number() -> None:
    text = RUN.invoke(app, ["tenon", "--length", "80 mm", "--height", "38 mm", "--rail-width", "63 mm", "--shear",
                            "12 MPa"]).stdout  # fmt: skip
    assert "WARNING   tenon length 80 mm lies outside the tested range 20 to 50 mm" in text


def test_remembered_figures_are_never_shown_as_published() -> None:
    text = RUN.invoke(app, ["dowel", *CALLS["dowel"][0]]).stdout
    assert "remembered, not seen: not a published figure" in text
    got = json.loads(RUN.invoke(app, ["dowel", *CALLS["dowel"][0], "--json"]).stdout)
    assert got["results"][0]["published"] is False
    listed = RUN.invoke(app, ["glues"]).stdout
    assert "* remembered, not a published figure" in listed


def test_a_hard_stop_outweighs_the_number() -> None:
    text = RUN.invoke(app, ["ratio-break", "glued_break", "--run", "3"]).stdout
    assert "not fit to carry load" in text
    assert "STOP: The break is shorter than four times" in text
    assert "as strong as made" not in text
    fine = RUN.invoke(app, ["ratio-break", "glued_break", "--run", "10"]).stdout
    assert "as strong as made, within a tenth" in fine
    key = RUN.invoke(app, ["ratio-break", "keyed_break", "--run", "5", "--key-depth", "0.6", "--clean", "0.9"]).stdout
    assert "STOP" not in key
    assert "key alone holds" in key
    half = RUN.invoke(app, ["ratio-member", "--left", "0.4"]).stdout
    assert "STOP: Less than half of the section" in half
    weak = RUN.invoke(app, ["ratio-tenon", *CALLS["ratio-tenon"][0]]).stdout
    assert "falls short of nine tenths" in weak


def test_other_turns_of_the_commands() -> None:
    assert "gravity taken" in RUN.invoke(app, ["unknown-wood", "--kind", "softwood", "--weight", "light"]).stdout.lower()
    at_8 = json.loads(RUN.invoke(app, ["wood", "white ash", "--at", "8 %", "--json"]).stdout)
    assert at_8["results"][0]["value"] == pytest.approx(15_400 * (15_400 / 9_500) ** (1 / 3) * 6.894757e-3, rel=1e-3)
    assert "does not speak" in RUN.invoke(app, ["tip-rule", "--height", "20 in", "--mass", "50 lb", "--volume", "120 l"]).stdout
    assert "may be used" in RUN.invoke(app, ["too-cold", "white-pva", "--at", "20 C"]).stdout
    assert "never cure" in RUN.invoke(app, ["working-time", "slow-epoxy", "--at", "10 C"]).stdout
    steep = RUN.invoke(app, ["slope", "--slope", "1:4"]).stdout
    assert "by the Handbook's table" not in steep
    assert "by the Handbook's table" in RUN.invoke(app, ["slope", "--slope", "1:5"]).stdout
    assert "WARNING" in steep
    quarter = ["movement", "beech", "--width", "12 in", "--dry-humidity", "30%", "--damp-humidity", "65%", "--cut"]
    assert "0.00190" in RUN.invoke(app, [*quarter, "quarter"]).stdout
    loose = ["cross-grain", "beech", "--held", "tenon", "--width", "40 mm", "--made-at", "12%", "--now-at", "6%"]
    assert "loosens" in RUN.invoke(app, loose).stdout


BAD: list[tuple[list[str], str]] = [
    (["tenon", "--length", "3"], "'3' has no unit; write a length"),
    (["tenon", "--length", "-3 mm"], "negative"),
    (["tenon", "--length", "3 m", "--height", "38 mm", "--rail-width", "63 mm", "--shear", "12 MPa"],
     "tenon length is 3000 mm; it must lie between 5 and 150 mm"),
    (["tenon", "--length", "0 mm", "--height", "38 mm", "--rail-width", "63 mm", "--shear", "12 MPa"],
        "between 5 and 150"),
    (["tenon", "--length", "30 mm"], "Missing option"),
    (["emc", "--humidity", "120 %", "--temperature", "20 C"],
        "relative humidity is 120 %; it must lie between 0 and 99"),
    (["emc", "--humidity", "50 mm", "--temperature", "20 C"], "'mm' is no unit of percent"),
    (["wood", "mahagony"], "nearest: mahogany, african_mahogany"),
    (["woods", "--find", "qqq"], "no wood holds"),
    (["wood", "rubberwood", "--at", "8 %"], "no green value"),
    (["slope", "--slope", "steep"], "like 1:10"),
    (["slope", "--slope", "1:10", "--of", "charm"], "allowed: bending"),
    (["break", "--run", "long", "--clean", "1"], "like 8:1"),
    (["break", "--run", "8", "--clean", "1.5"], "between 0 and 1"),
    (["fatigue", "--step", "hard"], "write it like 40%x25000"),
    (["working-time", "white-pva", "--at", "20 C"], "doubling rule does not hold"),
    (["working-time", "treacle"], "allowed: hot-hide"),
    (["ratio-break", "keyed_break", "--run", "5"], "sizes of its key"),
    (["glue-gap", "--gap", "2 mm"], "build the fit up"),
    (["nonsense"], "No such command 'nonsense'"),
    (["tenon", "--colour", "red"], "No such option"),
    (["side-load", "--fastener", "glue"], "'glue'"),
    (["chance", "--strength", "a lot"], "'--strength'"),
    (["beam", "--load", "1 N", "--span", "1 m", "--width", "1 m", "--depth", "2 cm", "--modulus", "9 GPa",
        "--case", "odd"],
     "allowed: uniform_simple"),
]  # fmt: skip


@pytest.mark.parametrize(("arguments", "message"), BAD)
def test_bad_input_is_one_line_on_stderr_and_exit_2(arguments: list[str], message: str) -> None:
    done = RUN.invoke(app, arguments)
    assert done.exit_code == 2
    assert done.stdout == ""
    assert message in done.stderr
    assert done.stderr.count("\n") == 1
    assert done.stderr.startswith("calc")
    assert "Traceback" not in done.stderr


def test_it_can_stand_in_another_app() -> None:
    code = (
        "import typer; from diagnose.cli.calc import app as calc; app = typer.Typer();\n"
        "app.add_typer(calc, name='calc'); app.command('other')(lambda: None); app()"
    )
    good = subprocess.run(
        [sys.executable, "-c", code, "calc", "butt", "--tension", "100 MPa"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert good.returncode == 0
    assert "At most: 25 MPa (3,626 lbf/in2)" in good.stdout
    bad = subprocess.run(
        [sys.executable, "-c", code, "calc", "butt", "--tension", "100"], capture_output=True, text=True, check=False
    )
    assert bad.returncode == 2
    assert bad.stderr.count("\n") == 1
    assert "has no unit" in bad.stderr


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (316_600.0, "N·mm", "316.6 N·m (2,802 lbf·in)"), (25.4, "mm", "25.4 mm (1 in)"), (0.0, "rise per run",
            "straight"),
        (0.1, "rise per run", "0.1 rise per run (1 in 10)"), (1234567.0, "cycles", "1.235e+06 cycles"),
        (0.00001, "probability", "1.000e-05 probability"), (40.0, "as given", "40"), (12_345.0, "cycles",
            "12,345 cycles"),
        (100.0, "N", "100 N (22.48 lbf)"), (0.0, "mm", "0 mm (0 in)"), (500.0, "kg/m3", "500 kg/m3 (31.21 lb/ft3)"),
    ],
)  # fmt: skip
def test_numbers_are_shown_plainly(value: float, unit: str, text: str) -> None:
    assert shown(Figure(value, unit, "", "", "derived")) == text
