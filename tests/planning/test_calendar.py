"""The calendar: queue, orders, work at the shop's hours, waits in their order, other trades, to a week."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from diagnose import words
from diagnose.documents.plan_time import bars_svg
from diagnose.planning.calendar import Bar, calendar
from diagnose.planning.compose import PlannedStep
from diagnose.rulebase.entries import Step
from diagnose.shop import OUTSIDE_WEEKS, Shop

TODAY = date(2026, 3, 2)
LAW = settings(max_examples=120, deadline=None, derandomize=True)


def planned(minutes: float, wait: str = "0 min", phase: str = "clean", trade: str = "us", **more: Any) -> PlannedStep:
    data = {
        "id": "s", "phase": phase, "per": "piece", "do": "Do it.", "why": "So.", "minutes": [minutes] * 3, "wait": wait,
        "trade": trade, "undo": "yes", "sources": ["common_practice"], **more,
    }  # fmt: skip
    return PlannedStep(Step.model_validate(data), 1, ("a",), ("m",))


def test_a_week_by_hand() -> None:
    """25 hours a week: 300 min are 5 h, 1.4 days; with a day of glue and two weeks of queue it is day 16.4, so the 17th."""
    plan = [planned(180, "24 h", "mend_parts"), planned(120, phase="prove")]
    got = calendar(TODAY, plan, 2, 25, {})
    assert [(bar.kind, round(bar.days, 2), bar.steps) for bar in got.bars] == [
        ("queue", 14.0, None), ("work", 0.84, (1, 1)), ("wait", 1.0, (1, 1)), ("work", 0.56, (2, 2)),
    ]  # fmt: skip
    assert got.ready == TODAY + timedelta(days=17)


def test_orders_run_beside_the_queue_and_only_what_is_longer_counts() -> None:
    plan = [planned(60)]
    assert calendar(TODAY, plan, 3, 25, {}, to_get={1: 10}).ready == calendar(TODAY, plan, 3, 25, {}).ready
    late = calendar(TODAY, plan, 1, 25, {}, to_get={1: 20})
    assert late.ready == TODAY + timedelta(days=21)
    assert any("parts on order" in line for line in late.depends_on)


def test_a_cover_goes_out_once_and_only_after_the_frame_is_proved() -> None:
    plan = [
        planned(30, phase="take_apart", trade="upholsterer"),
        planned(60, "24 h", "cure"),
        planned(5, phase="prove_bare"),
        planned(30, "28 d", "cover_back", "upholsterer"),
        planned(5, phase="prove"),
    ]
    got = calendar(TODAY, plan, 0, 25, {"upholsterer": (2.0, 6.0)})
    (out,) = [bar for bar in got.bars if bar.kind == "outside"]
    assert (out.days, out.steps) == (42.0, (4, 4))
    assert out.start >= max(bar.end for bar in got.bars if bar.steps and bar.steps[1] <= 3)
    assert f"{words.BYS['upholsterer']}, 2 to 6 weeks" in got.depends_on


def test_who_mends_it_in_our_place_has_it_last() -> None:
    got = calendar(TODAY, [planned(10)], 1, 25, {"conservator": (4.0, 16.0)}, ("conservator",))
    assert got.bars[-1].kind == "outside"
    assert got.ready == TODAY + timedelta(days=7 + 16 * 7 + 1)


def test_the_glue_may_want_a_longer_cure_than_the_step() -> None:
    plan = [planned(10, "24 h", "cure"), planned(10, phase="prove")]
    day, week = calendar(TODAY, plan, 0, 25, {}), calendar(TODAY, plan, 0, 25, {}, waits=[168, 0])
    assert week.ready - day.ready == timedelta(days=6)


def of(damage: str, planned_step: PlannedStep) -> PlannedStep:
    return replace(planned_step, damages=(damage,))


def test_while_one_part_cures_the_work_goes_on_at_another_and_the_frame_waits_for_both() -> None:
    one, other = of("a", planned(60, "24 h", "mend_parts")), of("b", planned(60, "24 h", "mend_parts"))
    both = replace(planned(60, phase="fit_dry"), damages=("a", "b"))
    beside = calendar(TODAY, [one, other, both], 0, 25, {})
    assert [(bar.kind, bar.steps) for bar in beside.bars] == [("work", (1, 2)), ("wait", (2, 2)), ("work", (3, 3))]
    same = calendar(TODAY, [one, of("a", other), both], 0, 25, {})
    assert sum(bar.days for bar in same.bars) - sum(bar.days for bar in beside.bars) == pytest.approx(1.0)


def test_a_step_that_comes_after_another_waits_for_it_in_any_damage() -> None:
    first = of("a", planned(60, "24 h", "mend_parts"))
    after = of("b", planned(60, phase="make_part", after=["s"]))
    free = of("b", planned(60, phase="make_part"))
    assert [bar.kind for bar in calendar(TODAY, [first, after], 0, 25, {}).bars] == ["work", "wait", "work"]
    assert [bar.kind for bar in calendar(TODAY, [first, free], 0, 25, {}).bars] == ["work", "wait"]


def test_what_dries_or_lies_beside_new_wood_does_so_while_it_waits_for_its_turn() -> None:
    dry, bench = planned(30, "28 d", "dry_or_treat"), planned(60, phase="clean")
    got = calendar(TODAY, [dry, bench], 3, 25, {})
    assert [(bar.kind, bar.steps) for bar in got.bars] == [("work", (1, 1)), ("queue", None), ("wait", (1, 1)), ("work", (2, 2))]
    assert got.ready == TODAY + timedelta(days=29)
    assert calendar(TODAY, [dry, bench], 6, 25, {}).ready == TODAY + timedelta(days=43), "the longer of the two"


def test_new_wood_lies_beside_the_old_only_when_it_is_here() -> None:
    plan = [
        planned(10, phase="agree", id="choose"),
        planned(5, "14 d", "agree", id="condition", after=["choose"]),
        planned(60, phase="make_part"),
    ]
    assert calendar(TODAY, plan, 1, 25, {}, to_get={1: 14}).ready == TODAY + timedelta(days=29)
    assert calendar(TODAY, plan, 1, 25, {}).ready == TODAY + timedelta(days=15)


def test_what_never_comes_to_the_bench_waits_for_no_turn() -> None:
    watch = [planned(10, phase="record"), planned(10, "120 d", "dry_or_treat"), planned(5, phase="hand_over")]
    got = calendar(TODAY, watch, 8, 25, {})
    assert "queue" not in {bar.kind for bar in got.bars}
    assert got.ready == TODAY + timedelta(days=121)
    assert not any("booked" in line for line in got.depends_on)


@LAW
@given(
    st.lists(st.tuples(st.floats(1, 400), st.sampled_from(["0 min", "2 h", "24 h", "14 d"])), min_size=1, max_size=12),
    st.floats(0, 8),
    st.floats(5, 40),
)
def test_bars_follow_each_other_without_gaps_and_add_up(steps: list[tuple[float, str]], weeks: float, hours: float) -> None:
    plan = [planned(minutes, wait) for minutes, wait in steps]
    got = calendar(TODAY, plan, weeks, hours, {})
    at = 0.0
    for bar in got.bars:
        assert bar.start == pytest.approx(at)
        at = bar.end
    worked = sum(bar.days for bar in got.bars if bar.kind == "work")
    assert worked == pytest.approx(sum(m for m, _ in steps) / 60 / hours * 7)
    assert 0 <= (got.ready - TODAY).days - at < 1 + 1e-6
    later = calendar(TODAY, [*plan, planned(60)], weeks, hours, {})
    assert later.ready >= got.ready
    assert calendar(TODAY, plan, weeks + 1, hours, {}).ready >= got.ready
    assert calendar(TODAY, plan, weeks, hours * 2, {}).ready <= got.ready


def test_waiting_for_an_offer_is_not_called_drying() -> None:
    plan = [planned(10, "48 h", "mend_parts"), planned(10, "21 d", "hand_over"), planned(5, phase="hand_over")]
    told = calendar(TODAY, plan, 0, 25, {}).depends_on
    assert "about 2 days of waiting while it dries, hardens or is watched" in told
    assert "about 3 weeks until others have sent their offer" in told
    only = calendar(TODAY, plan[1:], 0, 25, {}).depends_on
    assert not any("dries" in line for line in only)


def test_a_set_takes_its_own_minutes() -> None:
    plan = [planned(100), planned(100)]
    one, four = calendar(TODAY, plan, 0, 10, {}, minutes=200), calendar(TODAY, plan, 0, 10, {}, minutes=600)
    assert sum(bar.days for bar in four.bars) == pytest.approx(3 * sum(bar.days for bar in one.bars))


def test_the_shop_says_the_weeks_of_one_trade_and_keeps_the_others() -> None:
    shop = Shop.model_validate({"outside_weeks": {"caner": [1, 2]}})
    assert shop.outside_weeks == {**OUTSIDE_WEEKS, "caner": (1.0, 2.0)}
    for wrong in ({"baker": [1, 2]}, {"caner": [3, 2]}, {"caner": [-1, 2]}):
        with pytest.raises(ValidationError):
            Shop.model_validate({"outside_weeks": wrong})


def test_the_bars_are_drawn_in_words_and_told_apart_without_colour() -> None:
    bars = [Bar("queue", "other work", 0, 7), Bar("wait", "Cure <b>", 7, 1, (3, 3)), Bar("outside", "a caner", 8, 14, (4, 4))]
    svg = bars_svg(bars, TODAY)
    assert svg == bars_svg(bars, TODAY)
    assert svg.startswith("<svg")
    assert "<title>" in svg
    assert "<b>" not in svg
    assert svg.count("<rect") == 1 + len(bars)
    assert {'fill="#ddd"', 'fill="url(#wait)"', 'fill="url(#outside)"'} <= {
        part for part in svg.split() if part.startswith("fill=")
    }
    assert "Cure &lt;b&gt;, step 3" in svg
    assert "2 Mar" in svg
