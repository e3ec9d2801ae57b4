"""Laws of members, joints and fits: order, scale, and what each rests on."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.mechanics import (
    endjoints,
    fasteners,
    fit,
    joints,
    lateral,
    members,
)  # fmt: skip
from diagnose.mechanics.result import (
    KNOWN_BY_ORDER,
    KnownBy,
    MechanicsError,
    OutOfRange,
)  # fmt: skip

LAW = settings(deadline=None, derandomize=True, max_examples=60)
KNOWN: tuple[KnownBy, ...] = KNOWN_BY_ORDER


@given(st.floats(1, 100), st.floats(1, 100))
@LAW
def test_sections(b: float, h: float) -> None:
    assert members.section_modulus(b, h).value == pytest.approx(b * h * h / 6)
    assert members.round_section_modulus(b).value == pytest.approx(math.pi * b**3 / 32)
    assert members.shear_stress(600, b * h).value == pytest.approx(900 / (b * h))
    assert members.shear_stress(600, b * h, "circle").value == pytest.approx(800 / (b * h))


def test_bending_capacity_and_moment_cases() -> None:
    assert members.bending_moment_capacity(80, 1000).value == 80_000
    assert set(members.LARGEST_MOMENT) == set(members.CASES_9_1)
    assert members.LARGEST_MOMENT["uniform_simple"] == 1 / 8
    assert members.LARGEST_MOMENT["uniform_clamped"] == 1 / 12
    assert members.LARGEST_MOMENT["centre_simple"] == 1 / 4
    assert members.LARGEST_MOMENT["cantilever_uniform"] == 1 / 2
    assert members.size_effect(100, 20, 300, 0).warnings
    assert not members.size_effect(100, 254, 5000, 0.3).warnings


@given(st.floats(6.35, 12.7), st.floats(13, 38), st.floats(12.6, 20))
@LAW
def test_dowel_forms(d: float, depth: float, s: float) -> None:
    expected = 1.1904 * d * depth**0.89 * 1.95 * s
    assert joints.dowel_withdrawal(d, depth, s, s).value == pytest.approx(expected)
    assert joints.dowel_withdrawal(d, depth, s, s, 0.9, 0.8, 0.7).value == pytest.approx(expected * 0.9 * 0.8 * 0.7)
    assert joints.dowel_withdrawal_by_area(d, depth, 4).value == pytest.approx(math.pi * d * depth * 4)
    assert joints.dowel_tension(d, 90).value == pytest.approx(math.pi * d * d / 4 * 90)
    assert joints.round_tenon_moment(d, 90).value == pytest.approx(90 * math.pi * d**3 / 32)


def test_joints_say_what_they_rest_on() -> None:
    area = joints.dowel_withdrawal_by_area(10, 30)
    assert area.value == pytest.approx(math.pi * 300 * 3.0)
    assert joints.two_dowel_moment(area, 32, 16).known_by == "memory"
    assert joints.two_dowel_moment(area, 32, 16, tight_shoulder=False).known_by == "derived"
    assert joints.two_dowel_moment(area, 32, 16).value == pytest.approx(area.value * 40)
    assert joints.dowels_out_of_plane(area, 2, 22).value == pytest.approx(0.8 * 2 * area.value * 11)
    assert joints.dowels_out_of_plane(area, 2, 22).known_by == "derived"
    assert joints.dowel_withdrawal_by_area(10, 30, 2.0).warnings
    assert joints.dowel_withdrawal_by_area(25, 30, 4.0).warnings
    assert joints.tenon_moment(60, 38, 63, 12).warnings
    assert joints.tenon_moment(30, 60, 63, 12).warnings
    open_tenon = joints.tenon_moment(60, 38, 63, 12, tight_shoulder=False)
    assert open_tenon.warnings
    assert open_tenon.value == pytest.approx(4 * 60 * 38 * math.hypot(60, 38) / 3)
    assert joints.loose_tenon_moment(20, 32, 38, 63.5, 12.3, False).value == pytest.approx(4.1 * 20 * 38 * math.hypot(20, 38) / 3)
    assert joints.corner_block(40, 50, 12, 0.5).value == pytest.approx(4000)


def test_weakest_way_to_fail() -> None:
    small, large = joints.round_tenon_moment(12, 100), joints.tenon_moment(60, 38, 63, 12)
    got = joints.tightest(large, small)
    assert got.value == small.value
    assert set(large.warnings) <= set(got.warnings)
    with pytest.raises(MechanicsError, match="no capacity"):
        joints.tightest()
    with pytest.raises(OutOfRange, match="different units"):
        joints.tightest(small, joints.dowel_tension(8, 100))


@given(st.floats(0, 10), st.floats(0, 10))
@LAW
def test_wider_gaps_are_never_stronger(a: float, b: float) -> None:
    close, wide = sorted((a, b))
    assert fit.gap_factor(wide).value <= fit.gap_factor(close).value
    assert 0.3 <= fit.gap_factor(wide).value <= 1
    assert bool(fit.gap_factor(wide).warnings) == (wide > 0.25)


def test_gap_filling_up_to_its_remembered_limit() -> None:
    assert fit.gap_factor(0.5, gap_filling=True).value == 1
    assert fit.gap_factor(0.5, gap_filling=True).known_by == "memory"
    assert not fit.gap_factor(0.5, gap_filling=True).warnings
    assert fit.gap_factor(0.51, gap_filling=True).value == fit.gap_factor(0.51).value
    assert fit.gap_factor(0.51, gap_filling=True).warnings
    assert fit.gap_factor(0.13, gap_filling=True).known_by == "read_second_hand"
    assert fit.gap_factor(0.13).value == 1
    assert fit.gap_factor(0.14).value < 1


@given(st.floats(0, 50), st.floats(0, 50), st.floats(0, 1))
@LAW
def test_flatter_scarfs_are_never_weaker(a: float, b: float, clean: float) -> None:
    steep, flat = sorted((a, b))
    assert 0.25 <= endjoints.scarf_efficiency(steep).value <= endjoints.scarf_efficiency(flat).value <= 0.95
    assert endjoints.glued_break(flat, clean).value == pytest.approx(endjoints.scarf_efficiency(flat).value * clean)


def test_end_and_edge_joints() -> None:
    assert endjoints.edge_joint_shear(500, 20, 10, 0.5).value == pytest.approx(50_000)
    assert endjoints.edge_joint_moment(600, 20, 4, 0.5).value == pytest.approx(80_000)
    assert any("never glued alone" in w for w in endjoints.glued_break(3.99, 1).warnings)
    assert any("wants a key" in w for w in endjoints.glued_break(4, 1).warnings)
    assert endjoints.glued_break(8, 1).warnings == ()
    assert endjoints.end_grain_butt(100).warnings


@given(st.floats(0.3, 0.75), st.floats(2.9, 9), st.floats(5, 100), st.floats(1.01, 2))
@LAW
def test_withdrawal_grows_with_all_it_should(g: float, d: float, depth: float, more: float) -> None:
    for sum_ in (fasteners.screw_withdrawal, fasteners.lag_withdrawal, fasteners.nail_withdrawal):
        base = sum_(g, d, depth).value
        assert sum_(g, d, depth * more).value == pytest.approx(base * more)
        assert sum_(g * 1.01, d, depth).value > base
        assert sum_(g, d * 1.1, depth).value > base


def test_fastener_warnings_and_places() -> None:
    assert fasteners.screw_withdrawal(0.28, 4, 25).warnings
    assert fasteners.screw_withdrawal(0.76, 4, 25).warnings
    assert fasteners.screw_withdrawal(0.5, 12, 25).warnings
    assert fasteners.edge_or_end("end_tension_softwood", 10).value == 70
    assert fasteners.edge_or_end("end_tension_softwood", 10).known_by == "read_second_hand"
    assert fasteners.edge_or_end("edge_unloaded", 10).value == 15
    assert fasteners.edge_or_end("edge_unloaded", 10).known_by == "memory"
    assert {w: fasteners.edge_or_end(w, 1).value for w in fasteners.EDGE_END} == {
        "along_grain_spacing": 4, "end_tension_softwood": 7, "end_tension_hardwood": 5, "end_compression": 4,
        "end_across": 4, "edge_along": 1.5, "edge_loaded": 4, "edge_unloaded": 1.5, "row_spacing": 1.5,
    }  # fmt: skip
    for gravity, part in ((0.5, 0.0), (0.51, 0.7), (0.6, 0.7), (0.61, 0.9)):
        assert fasteners.pilot_hole_by_density(2, gravity).value == pytest.approx(2 * part)


def test_inserts_get_words_and_no_number() -> None:
    said = " ".join(advice.say for advice in fasteners.insert_guidance())
    assert "No sound formula" in said
    assert "scrap of the same wood" in said
    assert "split" in said
    assert all(advice.known_by == "judgement" for advice in fasteners.insert_guidance())


def test_yield_modes_are_for_nails_and_screws() -> None:
    with pytest.raises(OutOfRange, match="use side_load"):
        lateral.yield_load("lag", 6, 19, 40, 30, 30)
    with pytest.raises(MechanicsError, match="allowed: nail, wood-screw"):
        lateral.yield_load("staple", 3, 19, 40, 30, 30)  # type: ignore[arg-type]
    for gravity, k in ((0.475, 23.17), (0.565, 31.99)):
        assert lateral.side_load("wood-screw", gravity, 1.0, "hardwood").value == k, "between two bands the lower"
