"""Every argument's range: its ends are accepted, a hair beyond is refused with a message that names the range."""

import math
from collections.abc import Callable
from typing import Any

import pytest

from diagnose.mechanics import (
    adhesives,
    as_made,
    casework,
    crossgrain,
    endjoints,
    fasteners,
    fit,
    grain,
    hardstops,
    joints,
    lateral,
    loads,
    members,
    moisture,
    reliability,
    wood,
)  # fmt: skip
from diagnose.mechanics.result import OutOfRange

_PULL = joints.dowel_withdrawal_by_area(10, 30)
_DOWEL = as_made.DowelSizes
_INF = math.inf

# function, arguments that work, then (argument, lowest, highest); an end of None is not tried
Case = tuple[Callable[..., Any], dict[str, Any], list[tuple[str, float | None, float | None]]]
G, D, L = ("gravity_12", 0.20, 1.10), 1.0, 30.0
CASES: list[Case] = [
    (wood.strength_at_moisture, {"at_12": 100, "green": 60, "moisture_pct": 10, "mp_pct": 25},
     [("moisture_pct", 0, 200), ("mp_pct", 18, 30), ("at_12", 1e-9, 1e9), ("green", 1e-9, 1e9)]),
    (wood.gravity_at_moisture, {"green_gravity": 0.5, "moisture_pct": 12},
     [("green_gravity", 0.1, 1.1), ("moisture_pct", 0, 30)]),
    (wood.density, {"gravity": 0.5, "moisture_pct": 12}, [("gravity", 0.05, 1.4), ("moisture_pct", 0, 300)]),
    (wood.highest_moisture, {"green_gravity": 0.5}, [("green_gravity", 0.1, 1.3)]),
    (wood.true_stiffness, {"moe_mpa": 9000}, [("moe_mpa", 500, 40_000)]),
    (wood.property_by_gravity, {"prop": "mor", "gravity_12": 0.5, "kind": "softwood"}, [("gravity_12", 0.20, 1.1)]),
    (wood.property_by_gravity_older, {"prop": "mor", "gravity_12": 0.5}, [("gravity_12", 0.20, 1.1)]),
    (wood.warmth_factor, {"prop": "bending", "temperature_c": 30}, [("temperature_c", 20, 50)]),
    (wood.long_load_share, {"seconds": 1e4}, [("seconds", 450, 30 * 3.156e7)]),
    (grain.hankinson, {"along": 40, "across": 4, "angle_deg": 10, "n": 2},
     [("along", 1e-9, 1e9), ("across", 1e-9, 1e9), ("angle_deg", 0, 90), ("n", 1, 3)]),
    (grain.slope_share, {"slope": 0.1}, [("slope", 0, 10)]),
    (grain.runout, {"slope_a": 0.1, "slope_b": 0.1}, [("slope_a", 0, 10), ("slope_b", 0, 10)]),
    (grain.slope_of_break, {"length_along_mm": 100, "thickness_mm": 20},
     [("length_along_mm", 1, 2000), ("thickness_mm", 1, 300)]),
    (grain.steepest_slope, {"share_wanted": 0.5}, [("share_wanted", 0.15, 1)]),
    (moisture.emc, {"relative_humidity_pct": 50, "temperature_c": 20},
     [("relative_humidity_pct", 0, 99), ("temperature_c", -40, 150)]),
    (moisture.meter_correction, {"temperature_c": 20, "calibrated_c": 20},
     [("temperature_c", -20, 60), ("calibrated_c", 0, 40)]),
    (moisture.shrinkage_to, {"total_pct": 8, "moisture_pct": 10, "saturation_pct": 30},
     [("total_pct", 0, 25), ("moisture_pct", 0, 30), ("saturation_pct", 18, 35)]),
    (moisture.coefficient_from_shrinkage, {"total_pct": 8, "saturation_pct": 30},
     [("total_pct", 0.5, 25), ("saturation_pct", 18, 35)]),
    (moisture.movement, {"size_mm": 100, "coefficient": 0.002, "from_pct": 8, "to_pct": 12},
     [("size_mm", 0.1, 5000), ("coefficient", 0.0001, 0.01), ("from_pct", 0, 30), ("to_pct", 0, 30)]),
    (moisture.lumber_size, {"size_mm": 100, "from_pct": 12, "to_pct": 15, "face": "width"},
     [("size_mm", 1, 1000), ("from_pct", 8, 19), ("to_pct", 8, 19)]),
    (moisture.wood_moisture_by_month, {"mean_pct": 9, "half_swing_pct": 2, "driest_month": 2},
     [("driest_month", 1, 12), ("half_swing_pct", 0, None), ("mean_pct", 2, 28)]),
    (moisture.wood_moisture_by_month, {"mean_pct": 15, "half_swing_pct": 2}, [("half_swing_pct", 0, 12)]),
    (crossgrain.oval_tenon, {"diameter_mm": 20, "coefficient_r": 0.002, "coefficient_t": 0.003, "from_pct": 8,
                             "to_pct": 12},
     [("diameter_mm", 3, 100)]),
    (crossgrain.split_stretch, {"width_mm": 400, "tension_perp_mpa": 5, "moe_mpa": 10_000},
     [("width_mm", 1, 5000), ("tension_perp_mpa", 0.5, 15), ("moe_mpa", 2000, 30_000)]),
    (crossgrain.cross_grain, {"across": "panel", "width_mm": 400, "coefficient": 0.003, "from_pct": 8, "to_pct": 12,
                              "clearance_mm": 1}, [("clearance_mm", 0, 100)]),
    (members.section_modulus, {"width_mm": 20, "depth_mm": 20}, [("width_mm", 0.5, 2000), ("depth_mm", 0.5, 2000)]),
    (members.round_section_modulus, {"diameter_mm": 20}, [("diameter_mm", 1, 500)]),
    (members.bending_moment_capacity, {"mor_mpa": 90, "modulus_mm3": 1000},
     [("mor_mpa", 1, 300), ("modulus_mm3", 1, 1e8)]),
    (members.shear_stress, {"force_n": 100, "area_mm2": 100}, [("force_n", 0, 1e6), ("area_mm2", 1, 1e6)]),
    (members.torsion_stress, {"torque_nmm": 100, "long_side_mm": 30, "short_side_mm": 20},
     [("torque_nmm", 0, 1e8), ("long_side_mm", 20, 500), ("short_side_mm", 1, 30)]),
    (members.sag, {"load_n": 300, "span_mm": 900, "width_mm": 200, "depth_mm": 20, "moe_mpa": 9000},
     [("load_n", 0, 1e5), ("span_mm", 50, 6000), ("width_mm", 1, 1000), ("depth_mm", 1, 1000),
      ("moe_mpa", 500, 40_000)]),
    (members.size_effect, {"tested_mpa": 90, "depth_mm": 50, "span_mm": 700, "load_apart_share": 0},
     [("tested_mpa", 1e-6, 1e6), ("depth_mm", 5, 1000), ("span_mm", 50, 20_000), ("load_apart_share", 0, 1)]),
    (members.taper_stresses, {"moment_nmm": 1000, "width_mm": 50, "depth_mm": 50, "slope": 0.1},
     [("moment_nmm", 0, 1e8), ("width_mm", 1, 1000), ("depth_mm", 1, 1000), ("slope", 0, 1)]),
    (fit.gap_factor, {"gap_mm": 0.1}, [("gap_mm", 0, 10)]),
    (fit.coverage_factor, {"clean_share": 0.5}, [("clean_share", 0, 1)]),
    (joints.dowel_withdrawal, {"diameter_mm": 10, "depth_mm": 30, "shear_member_mpa": 12, "shear_dowel_mpa": 13, "a": 1,
                               "b": 1, "c": 1},
     [("diameter_mm", 3, 25), ("depth_mm", 5, 100), ("shear_member_mpa", 2, 25), ("shear_dowel_mpa", 2, 25),
      ("a", 0.1, 1.2), ("b", 0.1, 1.2), ("c", 0.1, 1.2)]),
    (joints.dowel_withdrawal_by_area, {"diameter_mm": 10, "depth_mm": 30, "bond_mpa": 3},
     [("diameter_mm", 3, 60), ("depth_mm", 2, 150), ("bond_mpa", 0.5, 10)]),
    (joints.dowel_tension, {"diameter_mm": 10, "tension_mpa": 90}, [("diameter_mm", 3, 60), ("tension_mpa", 5, 250)]),
    (joints.two_dowel_moment, {"withdrawal": _PULL, "spacing_mm": 32, "edge_mm": 14},
     [("spacing_mm", 5, 200), ("edge_mm", 0, 100)]),
    (joints.dowels_out_of_plane, {"withdrawal": _PULL, "count": 2, "rail_thickness_mm": 22},
     [("count", 1, 8), ("rail_thickness_mm", 8, 80)]),
    (joints.tenon_moment, {"length_mm": 30, "height_mm": 38, "rail_width_mm": 250, "shear_mpa": 12},
     [("length_mm", 5, 150), ("height_mm", 5, 200), ("rail_width_mm", 38, 300), ("shear_mpa", 2, 25)]),
    (joints.glue_torsion, {"length_mm": 30, "height_mm": 38, "bond_mpa": 4},
     [("length_mm", 1, 300), ("height_mm", 1, 300), ("bond_mpa", 0.2, 25)]),
    (joints.loose_tenon_moment, {"length_rail_mm": 30, "length_post_mm": 30, "height_mm": 38, "rail_width_mm": 60,
                                 "shear_mpa": 12}, [("length_rail_mm", 5, 150), ("length_post_mm", 5, 150)]),
    (joints.round_tenon_moment, {"diameter_mm": 16, "mor_mpa": 90}, [("diameter_mm", 3, 60), ("mor_mpa", 10, 250)]),
    (joints.corner_block, {"leg_mm": 40, "height_mm": 50, "shear_mpa": 12, "clean_share": 1},
     [("leg_mm", 5, 150), ("height_mm", 5, 150), ("shear_mpa", 2, 25), ("clean_share", 0, 1)]),
    (endjoints.end_grain_butt, {"tension_mpa": 80}, [("tension_mpa", 5, 250)]),
    (endjoints.scarf_efficiency, {"run": 8}, [("run", 0, 50)]),
    (endjoints.scarf_glue_shear, {"stress_mpa": 80, "run": 8}, [("stress_mpa", 0, 300), ("run", 0.5, 50)]),
    (endjoints.glue_area_share, {"glued_area_mm2": 1000, "section_mm2": 1000},
     [("glued_area_mm2", 1, 1e7), ("section_mm2", 1, 1e7)]),
    (endjoints.edge_joint_shear, {"length_mm": 400, "thickness_mm": 20, "shear_mpa": 12, "clean_share": 1},
     [("length_mm", 5, 5000), ("thickness_mm", 1, 200), ("shear_mpa", 2, 25), ("clean_share", 0, 1)]),
    (endjoints.edge_joint_moment, {"length_mm": 400, "thickness_mm": 20, "tension_perp_mpa": 5, "clean_share": 1},
     [("length_mm", 5, 5000), ("thickness_mm", 1, 200), ("tension_perp_mpa", 0.5, 15), ("clean_share", 0, 1)]),
    (endjoints.glued_break, {"run": 8, "clean_share": 1}, [("run", 0, 50), ("clean_share", 0, 1)]),
    (fasteners.screw_withdrawal, {"gravity_12": 0.5, "shank_mm": 4, "thread_depth_mm": 25},
     [G, ("shank_mm", D, L), ("thread_depth_mm", 3, 300)]),
    (fasteners.lag_withdrawal, {"gravity_12": 0.5, "shank_mm": 6, "thread_depth_mm": 25},
     [G, ("shank_mm", D, L), ("thread_depth_mm", 3, 300)]),
    (fasteners.nail_withdrawal, {"gravity_12": 0.5, "diameter_mm": 3, "depth_mm": 25},
     [G, ("diameter_mm", D, L), ("depth_mm", 3, 300)]),
    (fasteners.ring_nail_withdrawal, {"gravity": 0.5, "root_mm": 3, "depth_mm": 25},
     [("gravity", 0.20, 1.10), ("root_mm", D, L), ("depth_mm", 3, 300)]),
    (fasteners.drift_bolt_withdrawal, {"gravity_12": 0.5, "diameter_mm": 3, "depth_mm": 25},
     [G, ("diameter_mm", D, L), ("depth_mm", 3, 300)]),
    (fasteners.screw_allowable_per_inch, {"gravity": 0.5, "shank_in": 0.2},
     [("gravity", 0.20, 1.10), ("shank_in", 0.05, 1)]),
    (fasteners.nail_allowable_per_inch, {"gravity": 0.5, "diameter_in": 0.2},
     [("gravity", 0.20, 1.10), ("diameter_in", 0.05, 1)]),
    (fasteners.lag_allowable, {"gravity": 0.5, "diameter_in": 0.5, "penetration_in": 2},
     [("gravity", 0.20, 1.10), ("diameter_in", 0.1, 1.5), ("penetration_in", 0.1, 20)]),
    (fasteners.pilot_hole, {"root_mm": 3, "kind": "softwood"}, [("root_mm", 1, 15)]),
    (fasteners.pilot_hole_by_density, {"root_mm": 3, "gravity_12": 0.5}, [("root_mm", 1, 15), G]),
    (fasteners.edge_or_end, {"where": "edge_along", "diameter_mm": 8}, [("diameter_mm", 1, 30)]),
    (lateral.side_load, {"fastener": "nail", "gravity_12": 0.5, "diameter_mm": 3, "kind": "hardwood"},
     [("gravity_12", 0.33, 0.74), ("diameter_mm", 1, 30)]),
    (lateral.side_load, {"fastener": "nail", "gravity_12": 0.5, "diameter_mm": 3, "kind": "softwood"},
     [("gravity_12", 0.29, 0.52)]),
    (lateral.lag_side_factor, {"side_thickness_over_d": 3, "diameter_mm": 9},
     [("side_thickness_over_d", 2, 6.5), ("diameter_mm", 4.8, 25.4)]),
    (lateral.bearing_strength, {"gravity": 0.5}, [("gravity", 0.25, 0.90)]),
    (lateral.yield_load, {"fastener": "nail", "diameter_mm": 3, "side_mm": 19, "depth_mm": 40, "side_mpa": 30,
                          "main_mpa": 30, "wire_mpa": 551},
     [("diameter_mm", 1, 12), ("side_mm", 1, 100), ("depth_mm", 5, 200), ("side_mpa", 2, 150), ("main_mpa", 2, 150),
      ("wire_mpa", 300, 1000)]),
    (loads.hard_sitting, {"mass_kg": 80}, [("mass_kg", 10, 250)]),
    (loads.leaning_back, {"back_force_n": 400, "back_height_mm": 900, "rail_height_mm": 420},
     [("back_force_n", 0, 3000), ("back_height_mm", 420, 1500), ("rail_height_mm", 50, 900)]),
    (loads.leaning_back, {"back_force_n": 400, "back_height_mm": 900, "rail_height_mm": 100},
     [("back_height_mm", 200, 1500)]),
    (loads.balancing_back, {"mass_kg": 80, "rail_height_mm": 420, "cg_ahead_mm": 200, "cg_height_mm": 700,
                            "back_arm_mm": 350, "rake_deg": 0, "dynamic": 1},
     [("mass_kg", 10, 250), ("rail_height_mm", 10, 1500), ("cg_ahead_mm", 10, 1500), ("cg_height_mm", 10, 1500),
      ("back_arm_mm", 10, 1500), ("rake_deg", -15, 30), ("dynamic", 1, 3)]),
    (loads.scooting, {"mass_kg": 80, "friction": 0.4, "rail_height_mm": 420, "legs_sharing": 2},
     [("mass_kg", 10, 250), ("friction", 0.1, 1), ("rail_height_mm", 50, 900), ("legs_sharing", 1, 4)]),
    (loads.arm_moment, {"force_n": 400, "height_mm": 200, "joints": 2},
     [("force_n", 0, 2000), ("height_mm", 20, 600), ("joints", 1, 4)]),
    (loads.racking, {"push_n": 400, "height_mm": 650, "legs": 4},
     [("push_n", 0, 3000), ("height_mm", 50, 1200), ("legs", 1, 8)]),
    (loads.frame_share, {"moment": _PULL, "part": 0.5}, [("part", 0, 1)]),
    (casework.shelf_load, {"kind": "kitchen", "span_mm": 900, "depth_mm": 300},
     [("span_mm", 50, 6000), ("depth_mm", 50, 1000)]),
    (casework.drawer_load, {"volume_litres": 40, "lb_per_cubic_foot": 8.5},
     [("volume_litres", 1, 500), ("lb_per_cubic_foot", 1, 60)]),
    (casework.tipping, {"mass_kg": 40, "cg_behind_front_mm": 200, "pull_n": 50, "pull_height_mm": 1000,
                        "edge_load_n": 50, "edge_reach_mm": 300},
     [("mass_kg", 1, 500), ("cg_behind_front_mm", 1, 1000), ("pull_n", 0, 2000), ("pull_height_mm", 0, 2500),
      ("edge_load_n", 0, 2000), ("edge_reach_mm", 0, 1000)]),
    (casework.tip_rule_applies, {"height_mm": 900, "mass_kg": 40, "volume_litres": 100},
     [("height_mm", 1, 4000), ("mass_kg", 0.1, 1000), ("volume_litres", 0, 5000)]),
    (reliability.safety_index, {"strength_mean": 2, "strength_cov": 0.3, "load_mean": 1, "load_cov": 0.2},
     [("strength_mean", 1e-9, 1e12), ("load_mean", 1e-9, 1e12), ("strength_cov", 0, 1.5), ("load_cov", 0, 1.5)]),
    (reliability.cycles_to_failure, {"level_pct": 50}, [("level_pct", 10, 100)]),
    (reliability.level_of_stepped_test, {"start_pct": 50, "step_pct": 10, "cycles_per_step": 1e4},
     [("start_pct", 10, 100), ("step_pct", 1, 50), ("cycles_per_step", 1, 1e6)]),
    (reliability.composite_fatigue_share, {"board": "osb", "cycles": 1e4}, [("cycles", 1, 1e7)]),
    (reliability.fatigue_share_at, {"cycles": 1e4}, [("cycles", 329, 131_253)]),
    (reliability.tolerance_factor, {"n": 10, "confidence": 0.9, "proportion": 0.9},
     [("n", 3, 5000), ("confidence", 0.5, 0.999), ("proportion", 0.5, 0.999)]),
    (reliability.lower_tolerance_limit, {"mean": 100, "sd": 10, "n": 10, "confidence": 0.9, "proportion": 0.9},
     [("mean", 10, 1e12), ("sd", 0, 100)]),
    (adhesives.working_time, {"family": "slow-epoxy", "temperature_c": 20, "at_25_min": 30},
     [("temperature_c", 5, 40), ("at_25_min", 0.01, 1440)]),
    (adhesives.too_cold, {"family": "slow-epoxy", "temperature_c": 20}, [("temperature_c", -20, 60)]),
    (adhesives.hardness_of, {"gravity_12": 0.5}, [("gravity_12", 0.2, 1.2)]),
    (adhesives.clamp_force, {"joint_area_mm2": 1000, "pressure_mpa": 1, "joints": 2},
     [("joint_area_mm2", 1, 5e6), ("pressure_mpa", 0.001, 3), ("joints", 1, 50)]),
    (adhesives.press_pressure, {"ram_pressure_mpa": 1, "ram_area_mm2": 100, "work_area_mm2": 100},
     [("ram_pressure_mpa", 0, 50), ("ram_area_mm2", 1, 1e8), ("work_area_mm2", 1, 1e8)]),
    (adhesives.latest_closing, {"spread_start_min": 0, "limit_min": 10},
     [("spread_start_min", 0, 1e4), ("limit_min", 0.1, 1e4)]),
    (adhesives.families_for, {"gap_mm": 0.1}, [("gap_mm", 0, None)]),
    (hardstops.wants_key, {"break_length_over_thickness": 5}, [("break_length_over_thickness", 0, 100)]),
    (lambda **k: hardstops.hard_stops(hardstops.Conditions(**k)),
     {"break_length_over_thickness": 5, "section_share_left": 1},
     [("break_length_over_thickness", 0, 100), ("section_share_left", 0, 1)]),
    (as_made.member_ratio, {"slope_made": 0.1, "slope_now": 0.1, "section_share_left": 1, "strength_made_mpa": 90,
                            "strength_now_mpa": 90},
     [("slope_made", 0, 10), ("slope_now", 0, 10), ("section_share_left", 0, 1), ("strength_made_mpa", 1, 300),
      ("strength_now_mpa", 1, 300)]),
    (lambda **k: as_made.key_share(as_made.Key(**k)),
     {"depth_share": 0.5, "thickness_share": 0.3, "reach_over_depth": 1, "width_over_depth": 1},
     [("depth_share", 0, 1), ("thickness_share", 0, 1), ("reach_over_depth", 0.1, 6), ("width_over_depth", 0.2, 5)]),
    (as_made.broken_member_ratio, {"repair": "patched", "ratio_length_to_depth": 8, "clean_area_share": 1, "slope": 0.1,
                                   "slope_new": 0.1, "renewed_share": 0.2, "section_share_left": 1},
     [("ratio_length_to_depth", 0, 50), ("clean_area_share", 0, 1), ("slope", 0, 10), ("slope_new", 0, 10),
      ("renewed_share", 0, 1), ("section_share_left", 0.1, 2)]),
    (as_made.broken_member_ratio, {"repair": "glued_break", "ratio_length_to_depth": 8, "clean_area_share": 1,
                                   "slope": None}, [("ratio_length_to_depth", 0.1, 50)]),
    (lambda **k: as_made.joint_moment("dowel", 12, _DOWEL(**k)),
     {"diameter_mm": 10, "depth_mm": 30, "spacing_mm": 32, "edge_mm": 14, "pulling": 1},
     [("diameter_mm", 3, 60), ("depth_mm", 2, 150), ("spacing_mm", 5, 200), ("edge_mm", 0, 100), ("pulling", 1, 6)]),
    (lambda **k: as_made.joint_moment("screwed", 12, as_made.ScrewSizes(**k)),
     {"shank_mm": 4, "thread_depth_mm": 25, "arm_mm": 30, "gravity_12": 0.5, "count": 1},
     [("arm_mm", 1, 500), ("count", 1, 40), G]),
    (lambda **k: as_made.joint_moment("bolted", 12, as_made.BoltSizes(**k)),
     {"bearing_mm2": 300, "arm_mm": 30, "compression_perp_mpa": 7, "count": 1},
     [("bearing_mm2", 10, 5000), ("arm_mm", 1, 500), ("compression_perp_mpa", 0.5, 40), ("count", 1, 20)]),
    (lambda **k: as_made.joint_moment("round_tenon", sizes=as_made.RoundTenonSizes(16, 25), **k), {"shear_mpa": 12},
     [("shear_mpa", 2, 25)]),
    (as_made.with_blocks, {"ratio": _PULL, "kind": "mortise_and_tenon", "sizes_made": as_made.TenonSizes(30, 38, 55),
                           "leg_mm": 40, "height_mm": 50, "blocks": 1, "shear_mpa": 12, "clean_share": 1},
     [("leg_mm", 5, 150), ("height_mm", 5, 150), ("blocks", 1, 4), ("shear_mpa", 2, 25), ("clean_share", 0, 1)]),
]  # fmt: skip

FLAT = [
    pytest.param(function, base, name, low, high, id=f"{getattr(function, '__name__', 'sum')}-{name}-{i}")
    for i, (function, base, ranges) in enumerate(CASES)
    for name, low, high in ranges
]


def _beyond(value: float, direction: int) -> float:
    return math.nextafter(value, direction * math.inf)


@pytest.mark.parametrize(("function", "base", "name", "low", "high"), FLAT)
def test_range(function: Callable[..., Any], base: dict[str, Any], name: str, low: float | None, high: float | None) -> None:
    function(**base)
    for end, direction in ((low, -1), (high, 1)):
        if end is None:
            continue
        function(**{**base, name: end})
        with pytest.raises(OutOfRange, match=r"must lie between .* and "):
            function(**{**base, name: _beyond(end, direction)})
    for nonsense in (math.nan, _INF, -_INF):
        with pytest.raises(OutOfRange):
            function(**{**base, name: nonsense})


# where a sum was tested: inside no warning of range, a hair beyond one
TESTED: list[tuple[Callable[..., Any], dict[str, Any], str, float, float]] = [
    (wood.strength_at_moisture, {"at_12": 100, "green": 60, "moisture_pct": 10}, "moisture_pct", 4, 200),
    (wood.property_by_gravity, {"prop": "mor", "gravity_12": 0.5, "kind": "softwood"}, "gravity_12", 0.30, 0.85),
    (moisture.emc, {"relative_humidity_pct": 50, "temperature_c": 20}, "relative_humidity_pct", 5, 95),
    (moisture.emc, {"relative_humidity_pct": 50, "temperature_c": 20}, "temperature_c", -1.1, 132.2),
    (moisture.movement, {"size_mm": 9, "coefficient": 0.002, "from_pct": 8, "to_pct": 12}, "to_pct", 6, 14),
    (joints.dowel_withdrawal, {"diameter_mm": 10, "depth_mm": 30, "shear_member_mpa": 13, "shear_dowel_mpa": 13},
     "diameter_mm", 6.35, 12.7),
    (joints.dowel_withdrawal, {"diameter_mm": 10, "depth_mm": 30, "shear_member_mpa": 13, "shear_dowel_mpa": 13},
     "depth_mm", 12.7, 38.1),
    (joints.dowel_withdrawal_by_area, {"diameter_mm": 10, "depth_mm": 30, "bond_mpa": 3}, "diameter_mm", 6, 16),
    (joints.dowel_withdrawal_by_area, {"diameter_mm": 10, "depth_mm": 30, "bond_mpa": 3}, "bond_mpa", 3.0, 8.6),
    (joints.tenon_moment, {"length_mm": 30, "height_mm": 38, "rail_width_mm": 60, "shear_mpa": 12},
     "length_mm", 20, 50),
    (joints.tenon_moment, {"length_mm": 30, "height_mm": 38, "rail_width_mm": 60, "shear_mpa": 12},
     "height_mm", 25, 50),
    (fasteners.screw_withdrawal, {"gravity_12": 0.5, "shank_mm": 4, "thread_depth_mm": 9}, "gravity_12", 0.29, 0.75),
    (fasteners.screw_withdrawal, {"gravity_12": 0.5, "shank_mm": 4, "thread_depth_mm": 9}, "shank_mm", 2.84, 9.45),
    (endjoints.scarf_efficiency, {"run": 8}, "run", 4, 20),
    (reliability.cycles_to_failure, {"level_pct": 50}, "level_pct", 40, 90),
    (loads.scooting, {"mass_kg": 80, "friction": 0.4, "rail_height_mm": 420}, "mass_kg", 40, 186),
]  # fmt: skip


@pytest.mark.parametrize(("function", "base", "name", "low", "high"), TESTED)
def test_a_warning_travels_with_a_number_outside_the_tests(
    function: Callable[..., Any], base: dict[str, Any], name: str, low: float, high: float
) -> None:
    for end, direction in ((low, -1), (high, 1)):
        assert not function(**{**base, name: end}).warnings
        try:
            beyond = function(**{**base, name: _beyond(end, direction)})
        except OutOfRange:
            continue
        assert any("outside the tested range" in w for w in beyond.warnings)


def test_every_public_sum_stands_in_the_table() -> None:
    """A new sum without its ranges here is noticed."""
    tried = {getattr(function, "__name__", "") for function, _, _ in CASES}
    inside = {"hard_stops", "key_share", "joint_moment", "joint_ratio", "unknown_wood", "miner_sum", "shelf_sag",
              "arm_moment", "chance_of_failing", "season_swing", "slope_share_by_table", "gravity_of_class", "glue",
              "gap_limit", "water_class", "clamp_pressure", "insert_guidance", "tightest"}  # fmt: skip
    for module in (adhesives, as_made, casework, crossgrain, endjoints, fasteners, fit, grain, hardstops, joints,
                   lateral, loads, members, moisture, reliability, wood):  # fmt: skip
        for name, thing in vars(module).items():
            if callable(thing) and getattr(thing, "__module__", "") == module.__name__ and name[0].islower():
                assert name in tried | inside, f"{module.__name__}.{name}"
