"""The printed tables of joint means and of ratios hold what they say."""

import pytest

from diagnose.rulebase.store import load_knowledge
from tests.benchmarks.joint_means import main, table
from tests.benchmarks.ratios import UNTESTED, ratios


def test_the_calibrated_joints_lie_close_and_on_the_low_side() -> None:
    lines = {line.what: line for line in table()}
    assert lines["tenon, red oak"].ratio == pytest.approx(0.90, abs=0.01)
    assert 0.85 <= lines["tenon, white oak"].ratio <= 1.05
    assert lines["two dowels, beech, lowest bond"].ratio < 1, "the lowest bond must not overrate"


def test_the_tables_print_every_line(capsys: pytest.CaptureFixture[str]) -> None:
    main()
    means, shares = capsys.readouterr().out.split("\n\n")
    for line in table():
        assert line.what in means
    assert means.count("\n") == len(table())
    rows = ratios(load_knowledge())
    for row, printed in zip(rows, shares.splitlines()[1:], strict=False):
        assert printed.startswith(row.what)
        assert row.source in printed
        assert (f"ABOVE: {row.said}" in printed) is row.promises_more
        assert (f"below: {row.said}" in printed) is row.promises_less
    assert shares.count("\n") == len(rows) + len(UNTESTED) + 1
