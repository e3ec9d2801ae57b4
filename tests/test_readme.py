"""What the README shows is what the program says, and its commands are the ones that CI runs."""

from pathlib import Path

from tests.readme_examples import README, ROOT, example, renewed


def test_the_examples_in_the_readme_are_current() -> None:
    text = README.read_text(encoding="utf-8")
    assert renewed(text) == text, "write them anew with: python -m tests.readme_examples"


def test_the_three_examples_show_what_they_are_meant_to() -> None:
    slack, leg, table = example("slack_chair"), example("broken_back_leg"), example("rocking_table")
    assert len(slack.damages) == 2
    assert slack.damages[0].decision.extent == "whole_frame"
    cheap = {o.decision: o for o in reversed(leg.damages[0].decision.options)}
    assert cheap["reglue"].verdict == "ruled_out"
    assert cheap["reglue"].price.likely < leg.damages[0].decision.options[0].price.likely
    assert table.piece_decision == "no_structural_work"


def test_ci_takes_its_commands_from_the_readme() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "## Test" in script
    assert Path(ROOT / ".ci" / "run").stat().st_mode & 0o100
