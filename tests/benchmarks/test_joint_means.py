"""The printed table of predicted and measured joint means holds what it says."""

import pytest

from tests.benchmarks.joint_means import main, table


def test_the_calibrated_joints_lie_close_and_on_the_low_side() -> None:
    lines = {line.what: line for line in table()}
    assert lines["tenon, red oak"].ratio == pytest.approx(0.90, abs=0.01)
    assert 0.85 <= lines["tenon, white oak"].ratio <= 1.05
    assert lines["two dowels, beech, lowest bond"].ratio < 1, "the lowest bond must not overrate"


def test_the_table_prints_every_line(capsys: pytest.CaptureFixture[str]) -> None:
    main()
    out = capsys.readouterr().out
    for line in table():
        assert line.what in out
    assert out.count("\n") == len(table()) + 1
