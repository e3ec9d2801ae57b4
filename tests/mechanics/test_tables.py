"""The tables themselves, cell by cell, so that a slip of a digit is noticed; and remembered lines against read species.

Handbook = Wood Handbook FPL-GTR-282 (2021). A remembered table is pinned as it is remembered; that proves nothing more.
"""

import math

import pytest

from diagnose.mechanics import (
    adhesives,
    casework,
    crossgrain,
    endjoints,
    fasteners,
    grain,
    hardstops,
    lateral,
    loads,
    members,
    moisture,
    published,
    reliability,
    wood,
)  # fmt: skip
from diagnose.rulebase.woods import load_woods


@pytest.mark.parametrize("kind", ["softwood", "hardwood"])
@pytest.mark.parametrize("prop", sorted(wood.BY_GRAVITY_5_11B))
def test_remembered_gravity_lines_fit_the_species_that_were_read(prop: str, kind: wood.Kind) -> None:
    """Mean of printed over line within 6 % and scatter under 1.7 times the table's, over the US species here."""
    ratios = [
        found.strength(prop).value / wood.property_by_gravity(prop, found.gravity_12, kind).value
        for found in load_woods().values()
        if found.kind == kind and "5-3b" in found.strength_source and not found.strength(prop).warnings
    ]
    assert len(ratios) >= 12
    mean = sum(ratios) / len(ratios)
    assert mean == pytest.approx(1.0, abs=0.06)
    scatter = math.sqrt(sum((r - mean) ** 2 for r in ratios) / len(ratios))
    assert scatter < 1.7 * wood.BY_GRAVITY_5_11B[prop][kind][2]


def test_gravity_lines_as_remembered() -> None:
    in_pounds = {
        prop: {kind: (a, b, sd) for kind, (a, b, sd, _) in kinds.items()} for prop, kinds in wood.BY_GRAVITY_5_11B.items()
    }
    assert in_pounds == {
        "mor": {"softwood": (24760, 1.01, 0.087), "hardwood": (24850, 1.13, 0.114)},
        "moe": {"softwood": (2.97, 0.84, 0.136), "hardwood": (2.39, 0.70, 0.131)},
        "compression_par": {"softwood": (13590, 0.97, 0.058), "hardwood": (11030, 0.89, 0.102)},
        "compression_perp": {"softwood": (2390, 1.57, 0.114), "hardwood": (3130, 2.09, 0.202)},
        "shear_par": {"softwood": (2410, 0.85, 0.106), "hardwood": (3170, 1.13, 0.120)},
        "tension_perp": {"softwood": (870, 1.11, 0.168), "hardwood": (1460, 1.30, 0.171)},
        "hardness": {"softwood": (1930, 1.50, 0.082), "hardwood": (3440, 2.09, 0.110)},
    }
    assert wood.property_by_gravity("hardness", 0.5, "softwood").value == pytest.approx(1930 * 0.5**1.5 * 4.448222)
    assert wood.property_by_gravity("moe", 0.5, "hardwood").value == pytest.approx(2.39e6 * 0.5**0.7 * 6.894757e-3)
    assert wood.GRAVITY_TESTED == (0.30, 0.85)


def test_grain_tables() -> None:
    """Table 5-12 (GTR-190, read); Hankinson constants, the first three read (p. 5-29)."""
    columns = {"bending": (96, 93, 89, 81, 55), "impact": (95, 90, 81, 62, 36), "compression": (100, 100, 100, 99, 93)}
    for prop, column in columns.items():
        assert grain.TABLE_5_12[prop][0] == (0.0, 1.0)
        slopes = [1 / slope for slope, _ in grain.TABLE_5_12[prop][1:]]
        assert slopes == pytest.approx([25, 20, 15, 10, 5])
        assert [100 * share for _, share in grain.TABLE_5_12[prop][1:]] == pytest.approx(list(column))
    assert {prop: (c.q, c.n) for prop, c in grain.CURVES.items()} == {
        "bending": (0.10, 1.5), "impact": (0.05, 1.5), "compression": (0.10, 2.5), "tension": (0.04, 1.5),
        "stiffness": (0.04, 2.0), "toughness": (0.06, 1.5),
    }  # fmt: skip


def test_fastener_sizes_tables_8_1_and_8_9() -> None:
    assert fasteners.SCREW_SHANK_MM == {
        4: 2.84, 5: 3.18, 6: 3.51, 7: 3.84, 8: 4.17, 9: 4.50, 10: 4.83, 11: 5.16, 12: 5.49, 14: 6.15, 16: 6.81,
        18: 7.47, 20: 8.13, 24: 9.45,
    }  # fmt: skip
    assert fasteners.NAIL_MM == {
        "6d": (50.8, 2.87), "8d": (63.5, 3.33), "10d": (76.2, 3.76), "12d": (82.6, 3.76), "16d": (88.9, 4.11),
        "20d": (101.6, 4.88), "30d": (114.3, 5.26), "40d": (127.0, 5.72), "50d": (139.7, 6.20), "60d": (152.4, 6.65),
    }  # fmt: skip


def test_glue_table() -> None:
    """Times read in trade tables or remembered (said beside each), coldest, gap limit, class, two parts, structural."""
    got = {
        name: (g.working_min, g.clamp_min, g.coldest_c, g.gap_mm, g.two_part, g.structural) for name, g in adhesives.GLUES.items()
    }
    assert got == {
        "hot-hide": ((1, 10), (10, 90), 21, 0.15, False, True),
        "liquid-hide": ((10, 10), (720, 720), 10, 0.15, False, True),
        "fish-glue": ((15, 30), (120, 240), 12, 0.15, False, True),
        "casein-glue": ((15, 45), (120, 480), 4, 0.4, False, True),
        "white-pva": ((5, 30), (20, 90), 10, 0.15, False, True),
        "yellow-pva": ((5, 5), (30, 60), 10, 0.15, False, True),
        "crosslinking-pva": ((5, 5), (60, 60), 10, 0.2, False, True),
        "fast-epoxy": ((2, 6), (15, 60), 13, 0.5, True, True),
        "slow-epoxy": ((30, 120), (360, 2880), 15, 0.5, True, True),
        "foaming-polyurethane": ((10, 30), (240, 240), 7, 0.2, False, True),
        "instant-glue": ((0.5, 5), (0.033, 240), 5, 0.05, False, True),
        "urea-one-part": ((20, 20), (720, 720), 21, 0.13, False, True),
        "urea-two-part": ((15, 15), (180, 180), 21, 0.13, True, True),
        "resorcinol-glue": ((15, 15), (600, 600), 21, 0.25, True, True),
        "contact-glue": ((5, 60), (0, 0), 18, 0.0, False, False),
        "hot-melt": ((0.2, 1), (0.5, 2), 15, 1.0, False, False),
    }
    remembered = {name for name, g in adhesives.GLUES.items() if g.working_by == "memory"}
    assert remembered == {"fast-epoxy", "slow-epoxy", "foaming-polyurethane", "hot-melt"}
    assert {name for name, g in adhesives.GLUES.items() if g.clamp_by == "memory"} == {
        "fast-epoxy",
        "slow-epoxy",
        "hot-melt",
    }
    assert adhesives.PRESSURE_PSI == {"soft": (100, 150), "medium": (150, 200), "hard": (200, 300)}


def test_scatter_table_5_6_as_remembered() -> None:
    assert reliability.COV_WOOD == {
        "moe": 0.22, "mor": 0.16, "compression_par": 0.18, "compression_perp": 0.28, "shear_par": 0.14,
        "tension_par": 0.25, "hardness": 0.20, "gravity": 0.10,
    }  # fmt: skip


def test_constants() -> None:
    assert endjoints.SCARF == ((0, 0.25), (4, 0.60), (5, 0.65), (8, 0.80), (10, 0.85), (12, 0.90), (20, 0.95))
    assert pytest.approx(2 / 3) == lateral.LAG_END_GRAIN
    assert (hardstops.FIT_SHARE, hardstops.SHORT_GRAIN_UNDER, hardstops.KEY_UNDER) == (0.9, 4, 8)
    assert (loads.SEAT_PEAK, loads.BACK_SHARE, loads.SEAT_RAIL_SHARE) == (2.13, 0.347, 0.73)
    assert moisture.PLYWOOD_COEFFICIENT == 0.0002
    assert moisture.COEFFICIENT_TESTED == (6, 14)
    assert casework.CREEP == 2
    assert members.SAINT_VENANT_ALPHA[2] == (2.0, 0.246)
    assert [a for _, a in members.SAINT_VENANT_ALPHA] == sorted(a for _, a in members.SAINT_VENANT_ALPHA)
    assert {t.id: t.mean for t in published.TESTS} == {
        "tenon_red_oak": 353, "tenon_white_oak": 358, "tenon_beech": 204, "dowel_beech": 154, "dowel_pull_dry": 8.6,
        "dowel_pull_damp": 3.0, "dowel_pull_grooved": 4.9, "block_beech": 1881.8, "block_poplar": 1237.6,
        "finger_worst": 52.9, "finger_best": 112.1, "finger_solid": 129.5, "two_bolts": 1037,
    }  # fmt: skip


def test_defaults_are_the_plain_case() -> None:
    assert loads.balancing_back(100, 420).value == loads.balancing_back(100, 420, 200, 700, 350, 0, 1).value
    assert loads.scooting(100, 0.4, 420).value == loads.scooting(100, 0.4, 420, 2).value
    assert loads.arm_moment(100, 200).value == loads.arm_moment(100, 200, 2).value
    assert loads.racking(100, 600).value == loads.racking(100, 600, 4).value
    assert casework.drawer_load(40).value == casework.drawer_load(40, 8.5).value
    assert casework.tipping(40, 200, 50, 900).value == casework.tipping(40, 200, 50, 900, 0, 0).value
    assert casework.tipping(40, 200, edge_load_n=50, edge_reach_mm=300).value == pytest.approx(40 * 9.80665 * 200 / 15_000)
    assert casework.tipping(1, 1, 0.001, 0.5).value > 1, "a hair of a pull is still a pull"
    assert moisture.meter_correction(10).value == moisture.meter_correction(10, 20).value
    assert moisture.wood_moisture_by_month(9, 2) == moisture.wood_moisture_by_month(9, 2, 2)
    assert moisture.shrinkage_to(8, 12).value == moisture.shrinkage_to(8, 12, 30).value
    assert moisture.coefficient_from_shrinkage(8).value == moisture.coefficient_from_shrinkage(8, 30).value
    assert wood.gravity_at_moisture(0.5).value == wood.gravity_at_moisture(0.5, 12).value
    assert wood.strength_at_moisture(100, 60, 8).value == wood.strength_at_moisture(100, 60, 8, 25).value
    assert reliability.level_of_stepped_test(30, 5).value == reliability.level_of_stepped_test(30, 5, 25_000).value
    assert lateral.yield_load("nail", 3, 19, 40, 30, 30).value == lateral.yield_load("nail", 3, 19, 40, 30, 30, 551).value
    assert crossgrain.cross_grain("panel", 400, 0.003, 6, 12).held.value == pytest.approx(7.2)
    assert crossgrain.cross_grain("tenon", 38, 0.00365, 6, 12, 0.5).outcome == "binds"
    assert adhesives.clamp_force(1000, 1, 5).value == adhesives.clamp_force(1000, 1).value
    assert adhesives.clamp_force(1000, 1, arranged="parallel").value == 1000
    assert "contact-glue" not in adhesives.families_for(0)
    assert hardstops.hard_stops(hardstops.Conditions(None, False, False, 1.0, "sound")) == ()
    assert reliability.lower_tolerance_limit(0.5, 0.1, 10, 0.75, 0.75).value < 0.5
    thin = 0.312 + (1 / 3 - 0.312) * (500 - 10) / (1000 - 10)
    assert members.torsion_stress(1000, 500, 1).value == pytest.approx(1000 / (thin * 500))
