"""Published mean strengths of joints beside the model, and published ratios beside ours.

`python -m tests.benchmarks.joint_means` prints both tables, however they come out. Where the abstract gives no sizes, common ones
are assumed and said. The ratios and their sources are in `ratios`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from diagnose.mechanics import endjoints, joints
from diagnose.mechanics.published import BY_ID, efficiency
from diagnose.mechanics.reliability import level_of_stepped_test
from diagnose.rulebase.store import load_knowledge
from tests.benchmarks.ratios import print_ratios

RED_OAK, WHITE_OAK, BEECH, BIRCH = 12.3, 13.8, 13.9, 13.0
"""Shear along the grain, MPa (Handbook Table 5-3b: 1780, 2000, 2010 and 1880 lbf/in2)."""


@dataclass(frozen=True)
class Line:
    """One comparison: what, predicted, measured, unit, what was assumed."""

    what: str
    predicted: float
    measured: float
    unit: str
    note: str

    @property
    def ratio(self) -> float:
        """Predicted over measured."""
        return self.predicted / self.measured


def _dowels(shear: float, formula: bool) -> float:
    pull = joints.dowel_withdrawal(10, 30, shear, BEECH) if formula else joints.dowel_withdrawal_by_area(10, 30)
    return joints.two_dowel_moment(pull, 32, 14).value / 1000


def table() -> list[Line]:
    """Every published mean that a model can be set beside, in the order printed."""

    def tenon(shear: float) -> float:
        return joints.tenon_moment(32, 38, 63.5, shear).value / 1000

    def mean(id: str) -> float:
        return BY_ID[id].mean

    wall = math.pi * 8 * 20
    by_formula = joints.dowel_withdrawal(8, 20, BEECH, BEECH).value / wall
    assumed = "sizes not in the abstract"
    return [
        Line("tenon, red oak", tenon(RED_OAK), mean("tenon_red_oak"), "N·m", "sizes as published"),
        Line("tenon, white oak", tenon(WHITE_OAK), mean("tenon_white_oak"), "N·m", "sizes as published"),
        Line("tenon, beech", joints.tenon_moment(30, 38, 50, BEECH).value / 1000, mean("tenon_beech"), "N·m",
             f"{assumed}: 30 x 38 mm, rail 50 mm taken"),
        Line("two dowels, beech, formula", _dowels(BEECH, True), mean("dowel_beech"), "N·m",
             f"{assumed}: 10 x 30 mm, 32 apart taken; remembered formula"),
        Line("two dowels, beech, lowest bond", _dowels(BEECH, False), mean("dowel_beech"), "N·m",
             f"{assumed}: the same, 3.0 MPa"),
        Line("dowel pulled, dry", by_formula, mean("dowel_pull_dry"), "MPa", "8 x 20 mm taken; best of the test"),
        Line("dowel pulled, grooved", by_formula, mean("dowel_pull_grooved"), "MPa", "8 x 20 mm taken; lower group"),
        Line("dowel pulled, 85 % humidity", by_formula, mean("dowel_pull_damp"), "MPa", "8 x 20 mm taken; worst"),
        Line("corner block, beech", joints.corner_block(40, 50, BEECH).value, mean("block_beech"), "N",
             "block 40 x 50 mm taken; bound of the block, frame force measured"),
        Line("finger joint, best, share of solid", endjoints.scarf_efficiency(8).value,
             efficiency("finger_best", "finger_solid"), "ratio", "scarf 1:8 set beside it"),
        Line("stepped test, share of static", level_of_stepped_test(30, 5).value / 100 - 0.05, 0.565, "ratio",
             "last level passed; side chairs with rectangular tenons"),
    ]  # fmt: skip


def main() -> None:
    """Prints the means, then the ratios."""
    print(f"{'joint':36} {'predicted':>10} {'measured':>10} {'':5} {'pred/meas':>9}  note")
    for line in table():
        print(f"{line.what:36} {line.predicted:10.4g} {line.measured:10.4g} {line.unit:5} {line.ratio:9.2f}  {line.note}")
    print()
    print_ratios(load_knowledge())


if __name__ == "__main__":
    main()
