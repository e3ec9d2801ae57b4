"""As made against as is and as mended: sound chairs are fit, weak ones are not, and each ratio follows its formula."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.mechanics import as_made, grain
from diagnose.mechanics.as_made import (
    BoltSizes,
    Conditions,
    DowelSizes,
    EdgeSizes,
    JointKind,
    Key,
    LooseTenonSizes,
    RoundTenonSizes,
    ScrewSizes,
    Sizes,
    TenonSizes,
    broken_member_ratio,
    hard_stops,
    joint_moment,
    joint_ratio,
    key_share,
    member_ratio,
    with_blocks,
)  # fmt: skip
from diagnose.mechanics.result import MechanicsError, NoSoundFormula, OutOfRange

PROPERTY = settings(deadline=None, derandomize=True, max_examples=60)

HEALTHY: dict[JointKind, Sizes] = {
    "mortise_and_tenon": TenonSizes(30, 38, 55),
    "dowel": DowelSizes(9.5, 25, 32, 14),
    "round_tenon": RoundTenonSizes(16, 25),
    "loose_tenon": LooseTenonSizes(25, 25, 40, 55),
    "edge_joint": EdgeSizes(420, 22, 5.5),
    "screwed": ScrewSizes(4.5, 25, 30, 0.6, count=2),
    "bolted": BoltSizes(300, 30, 7.0, count=2),
}
LENGTH_FIELD = {
    "mortise_and_tenon": "length_mm", "dowel": "depth_mm", "round_tenon": "depth_mm", "edge_joint": "length_mm",
    "screwed": "thread_depth_mm",
}  # fmt: skip
KINDS: list[JointKind] = list(HEALTHY)


@pytest.mark.parametrize("kind", KINDS)
def test_a_healthy_joint_of_every_kind_is_fit(kind: JointKind) -> None:
    figure = joint_ratio(kind, HEALTHY[kind], HEALTHY[kind], gap_mm=0.1)
    assert figure.value == pytest.approx(1.0)
    assert figure.value >= as_made.FIT_SHARE
    assert figure.unit == "ratio"
    assert figure.may_gate
    assert hard_stops(Conditions()) == ()


def test_every_kind_is_covered() -> None:
    assert set(HEALTHY) == set(as_made.SIZES_OF)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("share", [0.5, 0.8])
def test_clean_area_lost_is_strength_lost(kind: JointKind, share: float) -> None:
    figure = joint_ratio(kind, HEALTHY[kind], HEALTHY[kind], coverage_share=share)
    assert figure.value == pytest.approx(share)
    assert figure.value < as_made.FIT_SHARE


@pytest.mark.parametrize("kind", LENGTH_FIELD)
def test_half_the_length_is_half_the_strength(kind: JointKind) -> None:
    made = HEALTHY[kind]
    field = LENGTH_FIELD[kind]
    now = replace(made, **{field: getattr(made, field) / 2})
    assert joint_ratio(kind, made, now).value == pytest.approx(0.5)


def test_the_shorter_end_of_a_loose_tenon_governs() -> None:
    made = LooseTenonSizes(25, 25, 40, 55)
    assert joint_ratio("loose_tenon", made, LooseTenonSizes(12.5, 25, 40, 55)).value == pytest.approx(0.5)
    assert joint_ratio("loose_tenon", made, LooseTenonSizes(25, 12.5, 40, 55)).value == pytest.approx(0.5)
    assert joint_ratio("loose_tenon", made, LooseTenonSizes(25, 40, 40, 55)).value == pytest.approx(1.0)


def test_joint_moments_by_hand() -> None:
    """Each sum worked here apart from the module, in N·mm (N where drawn out or sheared)."""
    tau = 12.0 / 3
    assert joint_moment("mortise_and_tenon", 12, TenonSizes(30, 38, 55)).value == pytest.approx(30 * 38 * tau * 55)
    open_tenon = joint_moment("mortise_and_tenon", 12, TenonSizes(30, 38, 55, tight_shoulder=False))
    assert open_tenon.value == pytest.approx(tau * 30 * 38 * math.hypot(30, 38) / 3)
    dowels = joint_moment("dowel", 12, DowelSizes(10, 25, 32, 14, pulling=2))
    assert dowels.value == pytest.approx(2 * math.pi * 10 * 25 * tau * (32 + 7))
    open_dowels = joint_moment("dowel", 12, DowelSizes(10, 25, 32, 14, tight_shoulder=False))
    assert open_dowels.value == pytest.approx(math.pi * 10 * 25 * tau * 32)
    rung = joint_moment("round_tenon", 12, RoundTenonSizes(16, 25))
    assert (rung.value, rung.unit) == (pytest.approx(math.pi * 16 * 25 * tau), "N")
    assert joint_moment("edge_joint", 12, EdgeSizes(400, 20, 5)).value == pytest.approx(5 * 400 * 400 / 6)
    sheared = joint_moment("edge_joint", 12, EdgeSizes(400, 20))
    assert (sheared.value, sheared.unit) == (pytest.approx(400 * 20 * 12), "N")
    screws = joint_moment("screwed", 12, ScrewSizes(4.5, 25, 30, 0.6, count=2))
    assert screws.value == pytest.approx(2 * 108.25 * 0.36 * 4.5 * 25 * 30)
    assert joint_moment("bolted", 12, BoltSizes(300, 30, 7, count=2)).value == pytest.approx(2 * 300 * 7 * 30)
    assert joint_moment("bolted", 12, BoltSizes(300, 30, 7)).warnings
    end = joint_moment("screwed", 12, ScrewSizes(4.5, 25, 30, 0.6, end_grain=True))
    assert end.value == pytest.approx(0.6 * screws.value / 2)
    assert end.known_by == "derived"


def test_a_gap_counts_for_glue_and_not_for_screws() -> None:
    tenon, screw = HEALTHY["mortise_and_tenon"], HEALTHY["screwed"]
    loose = joint_ratio("mortise_and_tenon", tenon, tenon, gap_mm=0.25)
    assert loose.value == pytest.approx(0.79)
    assert loose.value < as_made.FIT_SHARE
    assert not loose.warnings
    wide = joint_ratio("mortise_and_tenon", tenon, tenon, gap_mm=0.4)
    assert any("wider than any tested" in w for w in wide.warnings)
    drawn = joint_ratio("screwed", screw, screw, gap_mm=0.4)
    assert drawn.value == pytest.approx(1.0)
    assert any("gap" in a for a in drawn.assumptions)
    assert not drawn.warnings


def test_a_filled_gap_rests_on_memory_and_never_gates() -> None:
    tenon = HEALTHY["mortise_and_tenon"]
    filled = joint_ratio("mortise_and_tenon", tenon, tenon, gap_mm=0.4, gap_filling=True)
    assert filled.value == pytest.approx(1.0)
    assert not filled.may_gate
    assert not filled.published
    too_wide = joint_ratio("mortise_and_tenon", tenon, tenon, gap_mm=0.8, gap_filling=True)
    assert too_wide.value == pytest.approx(0.3)
    assert too_wide.warnings


def test_another_kind_in_its_place() -> None:
    """Two dowels for a tenon: weaker, as in tests of T-joints (154 against 204 N·m in beech)."""
    tenon, dowels = HEALTHY["mortise_and_tenon"], DowelSizes(10, 30, 25, 14)
    swapped = joint_ratio("mortise_and_tenon", tenon, dowels, kind_now="dowel")
    expected = math.pi * 10 * 30 * (25 + 7) / (30 * 38 * 55)
    assert swapped.value == pytest.approx(expected)
    assert 0.3 < swapped.value < as_made.FIT_SHARE
    with pytest.raises(MechanicsError, match="not to be compared"):
        joint_ratio("mortise_and_tenon", tenon, RoundTenonSizes(16, 25), kind_now="round_tenon")


def test_other_wood_now() -> None:
    tenon = HEALTHY["mortise_and_tenon"]
    assert joint_ratio("mortise_and_tenon", tenon, tenon, shear_mpa=12, shear_now_mpa=9).value == pytest.approx(0.75)


def test_a_better_joint_is_not_held_at_one() -> None:
    tenon = TenonSizes(20, 38, 55)
    assert joint_ratio("mortise_and_tenon", tenon, replace(tenon, length_mm=30)).value == pytest.approx(1.5)


def test_an_open_shoulder_is_not_fit() -> None:
    for kind in ("mortise_and_tenon", "loose_tenon", "dowel"):
        made = HEALTHY[kind]
        assert isinstance(made, TenonSizes | LooseTenonSizes | DowelSizes)
        now = replace(made, tight_shoulder=False)
        assert joint_ratio(kind, made, now).value < as_made.FIT_SHARE


def test_blocks_add_and_say_so() -> None:
    made = HEALTHY["mortise_and_tenon"]
    base = joint_ratio("mortise_and_tenon", made, made, coverage_share=0.6)
    one = with_blocks(base, "mortise_and_tenon", made, 40, 50, shear_mpa=12)
    expected = 4 * 40 * 50 * math.hypot(40, 50) / 6 / (30 * 38 * 4 * 55)
    assert one.value == pytest.approx(base.value + expected)
    two = with_blocks(base, "mortise_and_tenon", made, 40, 50, blocks=2, shear_mpa=12, clean_share=0.5)
    assert two.value == pytest.approx(one.value)
    assert any("upper bound" in w for w in one.warnings)
    with pytest.raises(MechanicsError, match="moments only"):
        with_blocks(base, "round_tenon", HEALTHY["round_tenon"], 40, 50)


def test_wrong_kinds_and_sizes_are_named() -> None:
    with pytest.raises(NoSoundFormula, match="mortise_and_tenon, dowel"):
        joint_moment("dovetail", 12, TenonSizes(30, 38, 55))  # type: ignore[arg-type]
    with pytest.raises(MechanicsError, match="wants TenonSizes, not DowelSizes"):
        joint_moment("mortise_and_tenon", 12, DowelSizes(10, 30, 32, 14))


# --- members ----------------------------------------------------------------------------------------------------------


def test_member_ratio_follows_its_formula() -> None:
    k = grain.slope_share
    assert member_ratio(0, 0, 1).value == 1
    assert member_ratio(0, 0, 0.5).value == pytest.approx(0.25)
    assert member_ratio(0, 0, 0.5, "width").value == pytest.approx(0.5)
    assert member_ratio(1 / 20, 1 / 10, 0.9).value == pytest.approx(k(0.1).value / k(0.05).value * 0.81)
    assert member_ratio(0, 0, 1, strength_made_mpa=100, strength_now_mpa=80).value == pytest.approx(0.8)
    assert member_ratio(0, 0, 0.49).warnings
    assert not member_ratio(0, 0, 0.5).warnings
    assert member_ratio(0.3, 0, 1).warnings
    assert member_ratio(0, 0.3, 1).warnings
    assert member_ratio(1 / 10, 1 / 10, 1).value >= as_made.FIT_SHARE
    assert member_ratio(1 / 20, 1 / 8, 1).value < as_made.FIT_SHARE


def test_glued_break() -> None:
    e, k = 0.85, grain.slope_share(0.05).value
    assert broken_member_ratio("glued_break", 10, 1, 0.05).value == pytest.approx(e / k)
    assert broken_member_ratio("glued_break", 10, 0.5, 0.05).value == pytest.approx(e / k / 2)
    assert broken_member_ratio("glued_break", 10, 1, 0.2).value == 1.0  # never over as made
    followed = broken_member_ratio("glued_break", 10, 0.7, None)
    assert followed.value == pytest.approx(0.7)
    assert any("followed the grain" in a for a in followed.assumptions)
    assert broken_member_ratio("glued_break", 10, 1, 0.0).value < as_made.FIT_SHARE
    assert broken_member_ratio("glued_break", 10, 0.85, None).value < as_made.FIT_SHARE


def test_short_breaks_are_warned_of_and_stopped() -> None:
    for ratio, words, stopped in ((3.9, "never glued alone", True), (4.0, "wants a key", False), (8.0, "", False)):
        figure = broken_member_ratio("glued_break", ratio, 1, None)
        assert any(words in w for w in figure.warnings) == bool(words)
        assert bool(hard_stops(Conditions(break_length_over_thickness=ratio))) == stopped
        assert as_made.wants_key(ratio) == (ratio < 8)
    assert not any("key" in w for w in broken_member_ratio("glued_break", 9, 1, None).warnings)


def test_keyed_break() -> None:
    key = Key(0.6, 1 / 3, 2.0)
    k = grain.slope_share(1 / 6).value
    e = 0.70
    section = 0.36 / 3
    assert key_share(key).value == pytest.approx(section)
    got = broken_member_ratio("keyed_break", 6, 0.5, 1 / 6, key=key)
    assert got.value == pytest.approx(min(1, e / k) * 0.5 * (1 - section) + section / k)
    assert got.value > broken_member_ratio("glued_break", 6, 0.5, 1 / 6).value
    assert any("key alone holds" in w for w in got.warnings)
    assert broken_member_ratio("keyed_break", 6, 1, 1 / 6, key=key).value == pytest.approx(1.0)
    with pytest.raises(MechanicsError, match="depth, thickness, reach"):
        broken_member_ratio("keyed_break", 6, 0.5, 1 / 6)


def test_a_short_key_is_held_by_its_glue_only() -> None:
    assert key_share(Key(0.6, 1 / 3, 0.5)).value == pytest.approx(2 * 0.04 * 0.5 * 0.6 * math.hypot(0.5, 0.6))
    assert key_share(Key(0.6, 1 / 3, 0.5, 2.0)).value == pytest.approx(0.04 * 0.5 * 0.6 * math.hypot(0.5, 0.6))
    assert "glue" in key_share(Key(0.6, 1 / 3, 0.5)).assumptions[-1]
    assert "section" in key_share(Key(0.6, 1 / 3, 2.0)).assumptions[-1]


def test_splices_and_new_parts() -> None:
    assert broken_member_ratio("spliced", 12, 1, 0.0).value == pytest.approx(0.90)
    assert broken_member_ratio("spliced", 8, 1, 0.0).value == pytest.approx(0.80)
    assert broken_member_ratio("spliced", 12, 0.5, 0.0).value == pytest.approx(0.45)
    k, kn = grain.slope_share(0.1).value, grain.slope_share(0.05).value
    assert broken_member_ratio("spliced", 4, 1, 0.1, slope_new=0.05).value == pytest.approx(0.6 * kn / k)
    assert broken_member_ratio("spliced", 12, 1, 0.1, slope_new=0.0).value == 1.0
    new = broken_member_ratio("new_part", 0, 1, 0.0, slope_new=1 / 6)
    assert new.value == pytest.approx(grain.slope_share(1 / 6).value)
    assert new.value < as_made.FIT_SHARE
    better = broken_member_ratio("new_part", 0, 1, 0.1, slope_new=0.0)
    assert better.value == pytest.approx(1 / k)
    assert not better.warnings
    thinner = broken_member_ratio("new_part", 0, 1, 0.1, slope_new=0.1, section_share_left=0.9)
    assert thinner.value == pytest.approx(0.81)
    assert broken_member_ratio("new_part", 0, 1, 0.1).warnings


def test_patches() -> None:
    assert broken_member_ratio("patched", 8, 1, 0.0, renewed_share=0.0).value == 1
    assert broken_member_ratio("patched", 8, 1, 0.0, renewed_share=0.2).value == pytest.approx(0.64 + 0.36 * 0.8)
    assert broken_member_ratio("patched", 0, 1, 0.0, renewed_share=0.2).value == pytest.approx(0.64 + 0.36 * 0.25)
    assert broken_member_ratio("patched", 8, 0.5, 0.0, renewed_share=1).value == pytest.approx(0.4)
    k, kn = grain.slope_share(0.1).value, grain.slope_share(0.2).value
    steep = broken_member_ratio("patched", 8, 1, 0.1, slope_new=0.2, renewed_share=1)
    assert steep.value == pytest.approx(0.8 * kn / k)


def test_warnings_of_scarf_and_grain_travel() -> None:
    assert any("tested range" in w for w in broken_member_ratio("spliced", 3, 1, 0.0).warnings)
    assert any("1 in 5" in w for w in broken_member_ratio("spliced", 8, 1, 0.5).warnings)
    assert any("1 in 5" in w for w in broken_member_ratio("new_part", 8, 1, 0.0, slope_new=0.5).warnings)
    assert not broken_member_ratio("glued_break", 8, 1, 0.1, slope_new=0.5).warnings
    assert not broken_member_ratio("new_part", 1, 1, 0.1, slope_new=0.1).warnings


def test_unknown_repair_is_named() -> None:
    with pytest.raises(MechanicsError, match="glued_break, keyed_break"):
        broken_member_ratio("welded", 8, 1, 0.0)  # type: ignore[arg-type]
    with pytest.raises(OutOfRange):
        broken_member_ratio("glued_break", 0, 1, None)


@given(st.floats(1, 40), st.floats(0, 1), st.floats(0, 1), st.floats(0, 1.5), st.sampled_from(as_made.REPAIRS[:3]))
@PROPERTY
def test_more_clean_area_is_never_weaker(run: float, a: float, b: float, slope: float, repair: as_made.Repair) -> None:
    less, more = sorted((a, b))
    key = Key(0.5, 0.3, 1.5)
    low = broken_member_ratio(repair, run, less, slope, key=key)
    high = broken_member_ratio(repair, run, more, slope, key=key)
    assert 0 <= low.value <= high.value + 1e-12
    assert high.value <= 1 + 1e-12


@given(st.floats(5, 70), st.floats(10, 100), st.floats(0.1, 2), st.floats(0, 1))
@PROPERTY
def test_ratio_scales_with_length_and_area(length: float, height: float, times: float, cover: float) -> None:
    made = TenonSizes(length, height, 120)
    now = TenonSizes(min(150.0, max(5.0, length * times)), height, 120)
    got = joint_ratio("mortise_and_tenon", made, now, coverage_share=cover).value
    assert got == pytest.approx(now.length_mm / made.length_mm * cover, abs=1e-12)


# --- hard stops -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("conditions", "stop"),
    [
        (Conditions(break_length_over_thickness=3.99), "short-grain-glued-alone"),
        (Conditions(section_share_left=0.49), "under-half-the-section"),
        (Conditions(wood="brash"), "unsound-wood"),
        (Conditions(wood="rotten"), "unsound-wood"),
        (Conditions(wood="eaten"), "unsound-wood"),
        (Conditions(bits_missing=True), "bits-missing"),
        (Conditions(end_grain_butt=True), "end-grain-butt"),
        (Conditions(faces_hold_glue=False), "faces-hold-no-glue"),
        (Conditions(board_crumbles=True), "crumbling-board"),
        (Conditions(bracket_for_joint=True), "bracket-for-joint"),
    ],
)
def test_each_condition_stops_alone_and_only_under_load(conditions: Conditions, stop: str) -> None:
    assert [s.id for s in hard_stops(conditions)] == [stop]
    assert hard_stops(replace(conditions, carries_load=False)) == ()
    found = next(s for s in as_made.HARD_STOPS if s.id == stop)
    assert found.say.endswith(".")
    assert found.because.endswith(".")
    assert found.source


def test_renewing_the_wood_lifts_the_stops_of_the_old_wood() -> None:
    bad = Conditions(break_length_over_thickness=2, section_share_left=0.3, wood="rotten", bits_missing=True, end_grain_butt=True)
    assert len(hard_stops(bad)) == 5
    assert [s.id for s in hard_stops(replace(bad, renewed=True))] == ["end-grain-butt"]
    assert "short-grain-glued-alone" not in [s.id for s in hard_stops(replace(bad, keyed=True))]
    assert hard_stops(Conditions(section_share_left=0.5, break_length_over_thickness=4.0)) == ()


def test_all_stops_in_their_order_and_unknown_wood_named() -> None:
    everything = Conditions(1, False, False, 0.1, "eaten", True, True, True, False, True, True)
    assert hard_stops(everything) == as_made.HARD_STOPS
    with pytest.raises(MechanicsError, match="sound, brash, rotten, eaten"):
        hard_stops(Conditions(wood="wet"))  # type: ignore[arg-type]
    assert {s.known_by for s in as_made.HARD_STOPS} == {"judgement", "read"}
