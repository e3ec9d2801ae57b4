"""Published mean strengths of joints, to set beside the models. Read in abstracts; `None` where not given there."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Tested:
    """One published test: mean (unit), standard deviation, number of pieces, sizes in words, source; all read."""

    id: str
    what: str
    unit: str
    mean: float
    sd: float | None
    n: int | None
    source: str


_B11 = "BioResources 11(3) 7162-7171 (2016), abstract"
_B19 = "BioResources 19(3) 6120-6141 (2024), abstract"
_K12 = "Kamperidou and Vasileiou 2012, Drvna industrija, abstract"

TESTS: tuple[Tested, ...] = (
    Tested("tenon_red_oak", "tenon 32 x 38 x 9.5 mm, rail 22.2 x 63.5 mm", "N·m", 353, 48, 215, _B11),
    Tested("tenon_white_oak", "tenon 32 x 38 x 9.5 mm, rail 22.2 x 63.5 mm", "N·m", 358, 62, 140, _B11),
    Tested("tenon_beech", "tenon T-joint, beech, sizes not in the abstract", "N·m", 204, None, None, _B19),
    Tested("dowel_beech", "dowel T-joint, beech, sizes not in the abstract", "N·m", 154, None, None, _B19),
    Tested("dowel_pull_dry", "8 mm spiral dowel conditioned at 25 % humidity", "MPa", 8.6, None, None,
           "BioResources 15(1) 1665-1677 (2020), abstract"),
    Tested("dowel_pull_damp", "8 mm plain beech dowel at 85 % humidity", "MPa", 3.0, None, None,
           "BioResources 15(1) 1665-1677 (2020), abstract"),
    Tested("dowel_pull_grooved", "single-grooved spiral dowels", "MPa", 4.9, None, None,
           "BioResources 13(3) 5179-5192 (2018), abstract"),
    Tested("block_beech", "middle joint with corner block, bending force, beech", "N", 1881.8, None, None, _K12),
    Tested("block_poplar", "middle joint with corner block, bending force, poplar", "N", 1237.6, None, None, _K12),
    Tested("finger_worst", "finger joint, Hungarian oak, bending strength", "MPa", 52.9, None, None,
           "Vassiliou, Karastergiou, Barboutis"),
    Tested("finger_best", "finger joint, Hungarian oak, bending strength", "MPa", 112.1, None, None,
           "Vassiliou, Karastergiou, Barboutis"),
    Tested("finger_solid", "the same oak, solid", "MPa", 129.5, None, None, "Vassiliou, Karastergiou, Barboutis"),
    Tested("two_bolts", "two through-bolts with dowel-nuts, 6 in rail, plywood or OSB, largest", "N·m", 1037, None,
           None, "Withdrawal and bending strength of dowel-nuts in plywood and OSB, abstract"),
)  # fmt: skip

BY_ID: dict[str, Tested] = {test.id: test for test in TESTS}


def efficiency(joint_id: str, solid_id: str) -> float:
    """Mean strength of a tested joint over that of the solid wood, both by id in TESTS. Raises KeyError.

    >>> round(efficiency("finger_worst", "finger_solid"), 3), round(efficiency("finger_best", "finger_solid"), 3)
    (0.408, 0.866)
    """
    return BY_ID[joint_id].mean / BY_ID[solid_id].mean
