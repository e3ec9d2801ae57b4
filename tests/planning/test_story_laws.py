"""What the plan of every story, and of two stories of one piece together, keeps to: faults that an apprentice at the bench would fall over."""

import re
from collections.abc import Iterable, Sequence

import pytest

from diagnose.documents import plan_glue, plan_lists, plan_time
from diagnose.documents.plan import plan as written
from diagnose.documents.plan_steps import told_steps
from diagnose.mechanics.adhesives import working_time
from diagnose.planning.clock import Glue
from diagnose.planning.compose import PlannedStep
from diagnose.planning.gluing import Gluing
from diagnose.reasoning.facts import closed, satisfied
from diagnose.rulebase.entries import Adhesive, Step
from tests.planning.story_plans import KNOWLEDGE, StoryPlan, story_plans

PLANS = story_plans()
# Glue for the open air in a cold shop is where a gluing most often cannot be done: those pieces are in for certain.
COLD = story_plans(4.0, 40) + story_plans(8.0, 40) + story_plans(4.0, 40, "outdoor")


def uses_glue(step: Step) -> bool:
    return any(KNOWLEDGE.consumables[name].chosen == "adhesive" for name in step.uses)


def closes(step: Step) -> bool:
    """Whether a step closes a glue line of the piece; blocks that are rubbed in by the piece are left out."""
    return uses_glue(step) and (step.phase == "glue" or step.wait_hours >= 1) and step.per != "piece"


def label_hours(adhesive: Adhesive, wood_c: float) -> float:
    """The oracle: hours to full strength by the label, twice as long for every ten degrees that a glue of two parts is colder than it."""
    if not adhesive.two_part or not 5 <= wood_c < adhesive.temp_c:
        return adhesive.full_cure_h
    return (
        adhesive.full_cure_h
        * working_time("slow-epoxy", wood_c, 1.0).value
        / working_time("slow-epoxy", adhesive.temp_c, 1.0).value
    )


def later(plan: Sequence[PlannedStep], index: int) -> Iterable[PlannedStep]:
    return plan[index + 1 :]


# Waiting comes from the glue.


def until_loaded(found: StoryPlan, at: int, damages: set[str]) -> float | None:
    """Hours waited from the step at `at` to the end of the cure behind it, at the same damages; None where no cure follows."""
    cure = next((i for i, p in enumerate(found.plan) if i > at and p.step.phase == "cure" and damages <= set(p.damages)), None)
    if cure is None:
        return None
    return sum(found.waits[i] for i in range(at, cure + 1) if damages & set(found.plan[i].damages))


@pytest.mark.parametrize("plans", [PLANS, COLD], ids=["warm", "cold"])
def test_what_was_glued_has_the_full_time_of_its_glue_before_it_is_loaded(plans: tuple[StoryPlan, ...]) -> None:
    checked = 0
    for found in plans:
        for gluing in found.gluings:
            if gluing.best is None:
                continue
            at, need = found.number(gluing), label_hours(gluing.best.adhesive, gluing.demand.wood_c)
            waited = until_loaded(found, at, set(gluing.work.damages))
            if waited is None:
                assert found.waits[at] >= need - 1e-6, (found.name, found.ids[at])
            else:
                assert waited >= need - 1e-6, (found.name, found.ids[at])
                if not gluing.work.step.step.wait_hours:
                    assert waited >= 24
            checked += 1
    assert checked > 20


@pytest.mark.parametrize("plans", [PLANS, COLD], ids=["warm", "cold"])
def test_what_was_glued_is_out_of_its_clamps_and_a_day_old_before_it_is_worked(plans: tuple[StoryPlan, ...]) -> None:
    checked = 0
    for found in plans:
        for gluing in found.gluings:
            if gluing.best is None or not gluing.work.step.step.wait_hours:
                continue
            adhesive = gluing.best.adhesive
            slower = label_hours(adhesive, gluing.demand.wood_c) / adhesive.full_cure_h
            least = min(adhesive.full_cure_h, max(24.0, adhesive.clamp_min[1] / 60)) * slower
            assert found.waits[found.number(gluing)] >= least - 1e-6, found.name
            checked += 1
    assert checked > 20


def test_nothing_is_waited_for_twice() -> None:
    """Where everything was glued on its own, the cure at the end waits for what the slowest glue still lacks, a day at the least, or not at all."""
    seen = over = 0
    for found in PLANS:
        alone = [gluing for gluing in found.gluings if gluing.work.step.step.wait_hours and gluing.best is not None]
        cures = [index for index, planned in enumerate(found.plan) if planned.step.phase == "cure"]
        if not alone or len(alone) != len(found.gluings) or len(cures) != 1:
            continue
        lacks = []
        for gluing in alone:
            assert gluing.best is not None
            at, mine = found.number(gluing), set(gluing.work.damages)
            if at < cures[0]:
                waited = sum(found.waits[i] for i in range(at, cures[0]) if mine & set(found.plan[i].damages))
                lacks.append(label_hours(gluing.best.adhesive, gluing.demand.wood_c) - waited)
        if lacks:
            left = max(lacks)
            assert found.waits[cures[0]] == pytest.approx(max(left, 24.0) if left > 1e-6 else 0.0), found.name
            seen += 1
            over += left <= 1e-6
    assert over > len(PLANS) // 20
    assert seen >= over


def test_the_clock_the_step_and_the_calendar_wait_for_the_same_hours() -> None:
    for found in PLANS:
        text = plan_glue.section(found.assessment, found.gluings)
        told = told_steps(found.assessment, found.gluings)
        said = [float(hours) for hours in re.findall(r"no load for \*\*(\d+) h\*\*", text)]
        usable = [gluing for gluing in found.gluings if gluing.best is not None]
        assert len(said) == len(usable), found.name
        for hours, gluing in zip(said, usable, strict=True):
            assert gluing.best is not None
            assert hours == pytest.approx(label_hours(gluing.best.adhesive, gluing.demand.wood_c), abs=1.0), found.name
        got = plan_time.when(found.assessment)
        waited = sum(bar.days for bar in got.bars if bar.kind == "wait")
        assert waited <= sum(found.waits) / 24 + 1e-6, found.name
        assert sum("; then wait" in step.worded.action for step in told) == sum(hours > 0 for hours in found.waits), found.name


def test_no_step_tells_to_do_before_its_own_wait_what_belongs_behind_it() -> None:
    for step in KNOWLEDGE.steps.values():
        if step.wait_hours >= 1 and uses_glue(step):
            assert not re.search(
                r"after (full )?cure|after the cure|when the glue is hard|glue has had its full time,", step.do
            ), step.id


def test_what_is_closed_in_several_goes_says_so_and_stands_in_its_clamps_in_between() -> None:
    seen = 0
    for found in PLANS:
        for gluing in found.gluings:
            if gluing.schedule is None or gluing.best is None or len(gluing.schedule.closings) < 2:
                continue
            at = found.number(gluing)
            told = told_steps(found.assessment, found.gluings)[at].worded.text
            assert f"Done in {len(gluing.schedule.closings)} closings" in told
            cure = next(i for i, p in enumerate(found.plan) if i > at and p.step.phase == "cure")
            clamped = gluing.best.adhesive.clamp_min[1] / 60 * (len(gluing.schedule.closings) - 1)
            assert sum(found.waits[at:cure]) >= clamped - 1e-6, found.name
            seen += 1
    assert seen


# The calendar begins when the piece comes in.


def test_drying_and_watching_begin_on_the_day_it_comes_in_and_wait_for_no_turn() -> None:
    seen = 0
    for found in PLANS:
        first = next((i for i, p in enumerate(found.plan) if p.step.phase not in ("record", "isolate", "agree")), None)
        if first is None or found.plan[first].step.phase != "dry_or_treat":
            continue
        got = plan_time.when(found.assessment)
        assert not [b for b in got.bars if b.kind == "queue" and b.start < sum(x.days for x in got.bars[:1])], found.name
        seen += 1
    assert seen


def test_bars_follow_one_another_and_every_step_stands_in_one() -> None:
    for found in PLANS:
        got = plan_time.when(found.assessment)
        at = 0.0
        for bar in (bar for bar in got.bars if bar.kind != "buy"):
            assert bar.start >= at - 1e-9, found.name
            at = bar.end
        covered = sorted(n for bar in got.bars if bar.steps and bar.kind == "work" for n in range(bar.steps[0], bar.steps[1] + 1))
        assert covered == list(range(1, len(found.plan) + 1)), found.name


# The order of the work.


def test_the_glue_is_tried_and_the_wood_is_measured_before_every_gluing() -> None:
    for found in PLANS:
        for gluing in found.gluings:
            if set(gluing.work.damages) <= shown(found):
                continue
            at = found.number(gluing)
            tried = [p for p in found.plan[:at] if uses_glue(p.step) and "thermometer" in p.step.tools]
            for damage in gluing.work.damages:
                assert any(damage in p.damages for p in tried), (found.name, found.ids[at], damage)


def shown(found: StoryPlan) -> set[str]:
    """The damages that are only put together to be looked at."""
    return {d.damage.id for d in found.assessment.damages if d.decision.end_use == "show_only"}


# Glued on bare wood that nobody sees, or cut back to bare wood behind it.
UNSEEN = frozenset(
    {"plug_holes", "plug_screw_hole", "fit_insert", "build_up_tenon_faces", "glue_running_strip", "build_up_chewed_rail"}
)


def test_the_finish_is_masked_before_a_gluing_or_taped_where_it_is_cut_flush_behind_it() -> None:
    for found in PLANS:
        for index, planned in enumerate(found.plan):
            if (
                not closes(planned.step)
                or planned.step.id in UNSEEN
                or {"masking_tape", "release_paper"} & set(planned.step.uses)
            ):
                continue
            for damage in planned.damages:
                masked = any("masked" in p.step.readies for i, p in found.steps_of(damage) if i < index)
                taped = any("masking_tape" in p.step.uses for i, p in found.steps_of(damage) if i > index)
                assert masked or taped, (found.name, planned.step.id, damage)


def test_everything_is_open_before_its_glue_faces_are_cleaned() -> None:
    for found in PLANS:
        for index, planned in enumerate(found.plan):
            if planned.step.phase == "clean" and "bare" in planned.step.readies:
                for damage in planned.damages:
                    opening = [p.step.id for i, p in found.steps_of(damage) if i > index and p.step.phase == "take_apart"]
                    assert not opening, (found.name, planned.step.id, opening)


BACK = {
    "take_door_off": {"hang_and_set_gap"},
    "take_top_off": {"refit_top"},
    "take_back_off": {"put_back_on"},
    "drawers_out_and_numbered": {"drawers_back"},
    "glass_and_stone_off": {"glass_and_stone_back"},
    "lift_cover": {"cover_back", "send_cover_out"},
    "take_off_corner_blocks": {"refit_blocks"},
    "take_end_or_batten_off": {"put_end_back_to_slide"},
    "take_out_cane_spline": {"fit_pressed_cane"},
    "cut_woven_seat_off": {"send_cover_out"},
    "undo_fixings": {
        "refit_fittings", "fittings_back_on_finish", "refit_top", "drive_next_screw_up", "fit_bed_irons", "set_slides", "fit_castor_again",
        "fit_runner", "put_end_back_to_slide", "fit_new_board", "lay_slats", "screw_plate_over_hole", "fit_metal_slides",
    },
}  # fmt: skip


def test_whatever_is_taken_off_comes_back_later() -> None:
    for found in PLANS:
        for off, back in BACK.items():
            if off in found.ids:
                at = found.ids.index(off)
                assert back & set(found.ids[at + 1 :]), (found.name, off)


BEFORE = [
    ("cut_woven_seat_off", "part_joint"),
    ("scrape_glue_off_face", "level_patch_by_hand"),
    ("drawers_out_and_numbered", "set_up_on_pads"),
    ("glass_and_stone_off", "set_up_on_pads"),
    ("fit_new_hinge", "hang_and_set_gap"),
    ("put_back_on", "set_catch_and_stops"),
    ("put_back_on", "check_level"),
    ("build_in_right_order", "set_catch_and_stops"),
    ("fit_castor_again", "check_level"),
    ("add_support", "check_level"),
    ("let_in_metal_plate", "check_level"),
    ("brush_on_borate", "watch_for_new_frass"),
    ("seal_bare_edges", "batten_to_hold_flat"),
    ("seal_bare_edges", "fit_new_board"),
    ("drill_for_board_fitting", "fittings_back_on_finish"),
    ("finish_all_over", "fittings_back_on_finish"),
    ("start_wedge", "close_joint"),
    ("stand_to_air", "wipe_off_mould"),
    ("spot_test_finish", "draw_white_mark"),
    ("spot_test_finish", "strip_finish"),
    ("pack_for_journey", "hand_over_with_card"),
    ("drawers_back", "prove_as_used"),
]


def test_steps_that_hang_on_each_other_stand_in_their_order_whatever_else_is_done() -> None:
    met = set()
    for found in PLANS:
        for one, other in BEFORE:
            if one in found.ids and other in found.ids:
                assert found.ids.index(one) < found.ids.index(other), (found.name, one, other)
                met.add((one, other))
    assert len(met) > len(BEFORE) // 3


def test_a_trial_of_the_finish_has_leave_and_comes_before_anything_is_laid_on() -> None:
    for found in PLANS:
        for index, planned in enumerate(found.plan):
            if planned.step.id == "spot_test_finish":
                assert "agree_spot_tests" in found.ids[:index], found.name
            if planned.step.lays != "finish":
                continue
            for damage in planned.damages:
                before = {p.step.id for i, p in found.steps_of(damage) if i < index}
                assert before & {"spot_test_finish", "sand_to_bright_wood"}, (found.name, planned.step.id)


def test_colour_is_never_left_without_a_finish_over_it() -> None:
    for found in PLANS:
        for index, planned in enumerate(found.plan):
            if planned.step.lays != "colour" or "filler_stick" in planned.step.uses:
                continue
            for damage in planned.damages:
                assert any(p.step.lays == "finish" for i, p in found.steps_of(damage) if i > index), (found.name, planned.step.id)


def test_oily_rags_are_laid_out_where_there_are_any_and_only_there() -> None:
    for found in PLANS:
        oily = [i for i, p in enumerate(found.plan) if "oily_rags" in p.step.hazards and p.step.id != "lay_out_oily_rags"]
        if oily:
            assert "lay_out_oily_rags" in found.ids[oily[-1] :], found.name
        elif any("oily_rags" in hazard for hazard in KNOWLEDGE.steps["lay_out_oily_rags"].hazards):
            assert "lay_out_oily_rags" not in found.ids or not set(found.ids) & {"match_colour", "build_finish_locally"}, (
                found.name
            )


def test_no_step_belongs_to_another_kind_of_piece() -> None:
    for found in PLANS:
        facts = {d.damage.id: d.facts.values for d in found.assessment.damages}
        for planned in found.plan:
            for name in planned.damages:
                assert satisfied(planned.step.where, facts[name]) is not False, (found.name, planned.step.id)
                assert closed(planned.step.unless, facts[name]) is not True, (found.name, planned.step.id)


# Glue.


def test_out_of_doors_no_glue_is_taken_that_wet_weather_loosens() -> None:
    seen = 0
    for found in PLANS:
        outdoors = KNOWLEDGE.pieces[found.assessment.case.piece].group == "outdoor"
        for gluing in found.gluings if outdoors else ():
            assert gluing.best is None or gluing.best.adhesive.water_class in ("D3", "D4", "above D4", "C2-C3"), found.name
            seen += 1
    assert seen


def test_a_filled_glue_is_taken_only_for_a_gap_that_the_same_glue_unfilled_would_not_bridge() -> None:
    for found in (*PLANS, *COLD):
        for gluing in found.gluings:
            best = gluing.best
            if best is None or best.adhesive.gap_max_mm <= 0.5:
                continue
            assert gluing.demand.gap_mm > 0.5 or best.doubts or best.adhesive.methods, (found.name, best.adhesive.id)


def test_a_mended_part_has_clamps_along_its_whole_split_and_none_where_its_step_takes_none() -> None:
    splits = 0
    for found in PLANS:
        for gluing in found.gluings:
            step = gluing.work.step.step
            if step.phase == "glue":
                continue
            for line, name in zip(gluing.work.lines, gluing.work.damages, strict=False):
                assert (line.clamps > 0) == ("clamps" in step.tools), (found.name, step.id)
                damage = found.assessment.case.damage(name)
                part = KNOWLEDGE.pieces[found.assessment.case.piece].parts.get(damage.part or "")
                if line.clamps and damage.kind == "split" and part is not None and part.length:
                    assert part.length / line.clamps <= 300, "a hand and a half apart"
                    splits += 1
            text = plan_glue.section(found.assessment, (gluing,))
            assert ("draw up its clamps" in text) == any(line.clamps for line in gluing.work.lines) or gluing.schedule is None
    assert splits


def test_wood_that_the_plan_warms_is_reckoned_warm() -> None:
    seen = 0
    for found in PLANS:
        for gluing in found.gluings:
            if gluing.work.warmed is None or gluing.best is None:
                continue
            assert found.ids.index(gluing.work.warmed.step.id) < found.number(gluing)
            assert gluing.demand.wood_c >= (gluing.work.warmed.step.warms_c or 0) > 20
            assert not any("wants wood of" in doubt for doubt in gluing.best.doubts), found.name
            seen += 1
    assert seen


def stop_lines(text: str) -> str:
    return text.partition("> **Stop before you start**")[2].partition("\n## ")[0]


def test_a_gluing_that_cannot_be_done_as_it_stands_is_named_in_the_box_and_on_its_line() -> None:
    seen = 0
    for found in (*PLANS, *COLD):
        bad = [gluing for gluing in found.gluings if not fits(gluing)]
        if not bad:
            continue
        text, told = written(found.assessment), told_steps(found.assessment, found.gluings)
        for gluing in bad:
            assert plan_glue.title(found.assessment, gluing) in stop_lines(text), found.name
            assert "**Stop: " in told[found.number(gluing)].worded.text, found.name
            seen += 1
        assert sum("**Stop: " in step.worded.text for step in told) == len(bad)
    assert seen


def fits(gluing: Gluing) -> bool:
    return gluing.best is not None and gluing.schedule is not None and gluing.schedule.fits


def test_a_cold_shop_is_told_so_before_anything_else() -> None:
    glued = [found for found in COLD if found.gluings]
    assert glued
    for found in glued:
        assert "too cold to glue with confidence" in stop_lines(written(found.assessment)), found.name


def test_whatever_is_mended_is_reckoned_from_its_first_touch_of_glue() -> None:
    """All minutes of a step that glues a part belong to the clock: nothing is fitted, drilled or pared in it."""
    for step in KNOWLEDGE.steps.values():
        if closes(step) and step.phase == "mend_parts":
            assert not re.search(r"\b(drill|bore|saw|plane|pare|size the|chisel)\b", step.do, re.IGNORECASE), step.id
            assert Glue("any", step.minutes[1]).open_min <= 15, (step.id, "longer than a glue of the trade stays open")


# Lists.


def one_form(tool: str) -> str:
    return " ".join(word.removesuffix("s") for word in tool.split())


def test_a_tool_has_one_name_and_is_nothing_that_is_used_up_or_worn() -> None:
    tools = {tool for step in KNOWLEDGE.steps.values() for tool in step.tools}
    forms: dict[str, str] = {}
    for tool in sorted(tools):
        assert forms.setdefault(one_form(tool), tool) == tool, (tool, forms[one_form(tool)])
        assert "mask" not in tool, tool
    bought = {thing.name.lower() for thing in KNOWLEDGE.consumables.values()}
    assert not tools & (
        bought | {"cloth", "gloves", "nitrile gloves", "tape", "daylight", "washers", "release paper", "paste wax"}
    )


def test_everything_a_step_takes_lies_ready_and_so_does_what_is_breathed_through() -> None:
    for found in PLANS[::5]:
        ready = plan_lists.lay_ready(found.assessment, found.gluings)
        text = written(found.assessment)
        for planned in found.plan:
            assert all(tool in ready for tool in planned.step.tools), (found.name, planned.step.id)
            assert all(KNOWLEDGE.consumables[name].name in ready for name in planned.step.uses), (found.name, planned.step.id)
        worn = re.findall(r"Breathe through: ([^.]*)\.", text)
        assert all(f"To breathe through: {mask}" in ready for mask in worn), found.name


# What one chair, table or chest can take at the most: judgement of the bench.
MOST_OF = {
    "masking_tape": 40, "wood_glue": 350, "cloth": 45, "gloves": 20, "abrasive_sheet": 20, "spirit_alcohol": 250, "white_spirit": 400,
    "tack": 130, "screw": 90, "matching_wood": 3, "veneer_slip": 14, "release_paper": 8, "tie_on_label": 15, "finish": 900, "stain": 250,
}  # fmt: skip


def test_no_list_asks_for_more_than_one_piece_can_take() -> None:
    for found in PLANS:
        amounts: dict[str, float] = {}
        for planned in found.plan:
            for name, quantity in planned.step.uses.items():
                amounts[name] = amounts.get(name, 0.0) + quantity * planned.count
        for name, most in MOST_OF.items():
            assert amounts.get(name, 0.0) <= most, (found.name, name, amounts[name])


def test_new_wood_is_bought_once_for_each_damage() -> None:
    for found in PLANS:
        bought = sum(p.step.uses.get("matching_wood", 0) * p.count for p in found.plan)
        assert bought <= sum(
            len(p.damages) for p in found.plan if p.step.id in ("choose_matching_wood", "batten_to_hold_flat")
        ), found.name
