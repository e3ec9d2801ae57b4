"""What every plan keeps to, whatever the case. Few cases by default; DIAGNOSE_PLAN_CASES sets how many (5000 for a proof)."""

import os
from collections.abc import Iterator
from functools import cache

import pytest

from diagnose import words
from diagnose.assess import Assessment, assess
from diagnose.decision.undecided import Undecided
from diagnose.documents import plan_glue
from diagnose.documents.plan import plan as written
from diagnose.documents.plan_steps import ToldStep, hazards_by_step, told_steps
from diagnose.planning.calendar import calendar
from diagnose.planning.compose import PlannedStep
from diagnose.planning.protection import protection
from diagnose.rulebase.entries import Step
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop
from tests.planning.random_cases import TODAY, RandomPlan, one_answer_changed, random_case, random_plan

KNOWLEDGE = load_knowledge()
CASES = int(os.environ.get("DIAGNOSE_PLAN_CASES", "300"))
CHANGES = max(20, CASES * 2 // 5) if "DIAGNOSE_PLAN_CASES" in os.environ else 40
BATCH = 100
BATCHES = [range(start, min(start + BATCH, CASES)) for start in range(0, CASES, BATCH)]
ORDER = {phase: index for index, phase in enumerate(words.PHASES)}


def glues(step: Step) -> bool:
    """Whether a step closes a glue line of the piece. A smear on scrap, stop blocks on waste and a first coat that soaks in close none."""
    uses = any(KNOWLEDGE.consumables[name].chosen == "adhesive" for name in step.uses)
    return uses and (step.phase == "glue" or step.wait_hours >= 1)


# Glue on an offcut, to see whether it is still good.
ON_SCRAP = frozenset({"try_the_glue"})


def puts_glue_on(step: Step) -> bool:
    """Whether a step brings glue on a face of the piece, a first coat that soaks in too; stop blocks on waste are part of a fit."""
    uses = any(KNOWLEDGE.consumables[name].chosen == "adhesive" for name in step.uses)
    return uses and step.phase != "rehearse" and "fit" not in step.readies and step.id not in ON_SCRAP


@cache
def _plan(seed: int) -> RandomPlan:
    return random_plan(KNOWLEDGE, seed)


def plans(seeds: range) -> Iterator[RandomPlan]:
    """Each plan is made once and held against every law."""
    yield from map(_plan, seeds)


def test_the_cases_reach_the_methods_that_glue_or_make_something() -> None:
    reached = {wish.method.id for found in plans(range(max(300, min(CASES, 1000)))) for wish in found.wishes}
    gluing = {m.id for m in KNOWLEDGE.methods.values() if any(glues(KNOWLEDGE.steps[name]) for name in m.steps)}
    assert len(reached & gluing) >= 0.75 * len(gluing), gluing - reached


def before(found: RandomPlan, index: int, damage: str) -> list[PlannedStep]:
    """The steps ahead of one that were asked for by a damage."""
    return [p for p in found.plan[:index] if damage in p.damages]


@pytest.mark.parametrize("seeds", BATCHES, ids=str)
def test_every_glued_face_is_bare_and_was_fitted_dry_before(seeds: range) -> None:
    seen = 0
    for found in plans(seeds):
        for index, planned in enumerate(found.plan):
            if not puts_glue_on(planned.step):
                continue
            for damage in planned.damages:
                done = {how for earlier in before(found, index, damage) for how in earlier.step.readies}
                assert {"bare", "fit"} <= done, (found.case.number, planned.step.id, damage, done)
                seen += 1
    assert seen > len(seeds) // 2


def ancestors(name: str) -> set[str]:
    """Every step that one waits for, directly or through others."""
    found: set[str] = set()
    waiting = [name]
    while waiting:
        more = set(KNOWLEDGE.steps[waiting.pop()].after) - found
        found |= more
        waiting.extend(more)
    return found


def test_what_a_step_needs_always_comes_before_it_or_is_its_own_check() -> None:
    """A needed step that comes after is one that closes the work it belongs to: it waits for the step itself."""
    for step in KNOWLEDGE.steps.values():
        for needed in step.needs:
            assert needed in ancestors(step.id) or step.id in ancestors(needed), (step.id, needed)


@pytest.mark.parametrize("seeds", BATCHES, ids=str)
def test_no_finish_comes_near_a_face_that_is_still_to_be_glued(seeds: range) -> None:
    for found in plans(seeds):
        for index, planned in enumerate(found.plan):
            if planned.step.lays is None:
                continue
            for later in found.plan[index + 1 :]:
                shared = set(later.damages) & set(planned.damages)
                if not puts_glue_on(later.step) or not shared:
                    continue
                for damage in shared:
                    done = {how for earlier in before(found, index, damage) for how in earlier.step.readies}
                    assert "masked" in done, (found.case.number, planned.step.id, later.step.id)


def loads(step: Step) -> bool:
    return step.phase == "prove"


@pytest.mark.parametrize("seeds", BATCHES, ids=str)
def test_nothing_is_loaded_before_its_glue_is_hard(seeds: range) -> None:
    for found in plans(seeds):
        for index, planned in enumerate(found.plan):
            if not loads(planned.step):
                continue
            assert not [p.step.id for p in found.plan[index + 1 :] if glues(p.step)], found.case.number
            for at, earlier in enumerate(found.plan[:index]):
                if glues(earlier.step):
                    waited = sum(p.step.wait_hours for p in found.plan[at:index])
                    assert waited >= 12, (found.case.number, earlier.step.id, waited)


@pytest.mark.parametrize("seeds", BATCHES, ids=str)
def test_a_mended_part_is_hard_and_shaped_before_the_frame_is_closed(seeds: range) -> None:
    for found in plans(seeds):
        assembled = [i for i, p in enumerate(found.plan) if glues(p.step) and p.step.phase == "glue"]
        mended = [i for i, p in enumerate(found.plan) if glues(p.step) and ORDER[p.step.phase] < ORDER["glue"]]
        if assembled and mended:
            assert max(mended) < min(assembled), found.case.number
            for index in mended:
                waited = sum(p.step.wait_hours for p in found.plan[index : min(assembled)])
                assert waited >= 12 or not found.plan[index].step.check, (found.case.number, found.plan[index].step.id)


@pytest.mark.parametrize("seeds", BATCHES, ids=str)
def test_every_hazard_has_its_word_on_the_line_and_something_to_breathe_through(seeds: range) -> None:
    for found in plans(seeds):
        for planned in found.plan:
            needed = protection(KNOWLEDGE, planned.step.hazards)
            assert all(caution.brief for caution in needed.cautions), planned.step.id
            air = {air for caution in needed.cautions for air in caution.air}
            assert (needed.respirator is None) == (not air)
            assert needed.respirator is None or air <= set(needed.respirator.against)


def test_steps_with_tools_that_cut_or_things_that_vapour_name_a_hazard() -> None:
    vapour = {"white_spirit", "spirit_alcohol", "lacquer_thinner", "solvent_for_oily_wood", "finish", "stain"}
    machines = ("lathe", "band saw", "router", "slotting machine")
    for step in KNOWLEDGE.steps.values():
        if vapour & set(step.uses):
            assert "solvent_vapour" in step.hazards or step.uses.keys() & {"spirit_alcohol"}, step.id
        if any(machine in tool for tool in step.tools for machine in machines):
            assert set(step.hazards) & {"machine_short_stock", "wood_dust"}, step.id
        if step.new_wood is not None:
            assert "machine_short_stock" in step.hazards, step.id
        if "abrasive_sheet" in step.uses:
            assert set(step.hazards) & {"wood_dust", "old_finish_dust", "solvent_vapour"}, step.id


@pytest.mark.parametrize("seeds", BATCHES, ids=str)
def test_square_or_flat_is_checked_inside_the_gluing(seeds: range) -> None:
    """Between the spreading and the cure, in the phase of the glue; what is only put together to be looked at is left out."""
    for found in plans(seeds):
        shown = {wish.damage.id for wish in found.wishes if wish.method.end_use == "show_only"}
        for index, planned in enumerate(found.plan):
            if (
                planned.step.phase != "glue"
                or not glues(planned.step)
                or planned.step.wait_hours
                or set(planned.damages) <= shown
            ):
                continue
            later = [p.step for p in found.plan[index + 1 :]]
            checks = [s for s in later if s.phase == "glue" and s.per == "piece" and s.check is not None and not s.wait_hours]
            assert checks, (found.case.number, planned.step.id)
            assert all(later.index(check) < [s.phase for s in later].index("cure") for check in checks)


@pytest.mark.parametrize("seeds", BATCHES, ids=str)
def test_metal_is_searched_for_before_a_tool_cuts_into_old_wood(seeds: range) -> None:
    """Where metal may hide, either it was searched for before, or the step holds until it was."""
    for found in plans(seeds):
        for index, planned in enumerate(found.plan):
            if "hidden_metal" in planned.step.hazards and planned.step.phase != "take_apart":
                searched = any(p.step.id == "search_for_metal" for p in found.plan[:index])
                held = planned.step.check is not None and planned.step.check.sign == "metal_in_wood"
                assert searched or held, (found.case.number, planned.step.id)


@pytest.mark.parametrize("seeds", BATCHES, ids=str)
def test_minutes_and_a_week_are_always_there(seeds: range) -> None:
    shop = Shop()
    for found in plans(seeds):
        trades = tuple(sorted({wish.method.by for wish in found.wishes} - {"us"}))
        got = calendar(TODAY, found.plan, shop.weeks_booked, shop.hours_a_week, shop.outside_weeks, trades)
        for planned in found.plan:
            low, likely, high = planned.minutes()
            assert 0 <= low <= likely <= high
            assert likely > 0, planned.step.id
        assert got.ready >= TODAY
        assert [bar.start for bar in got.bars if bar.kind != "buy"] == pytest.approx(
            [sum(b.days for b in got.bars[:i] if b.kind != "buy") for i, bar in enumerate(got.bars) if bar.kind != "buy"]
        )
        covered = sorted(n for bar in got.bars if bar.steps and bar.kind == "work" for n in range(bar.steps[0], bar.steps[1] + 1))
        assert covered == list(range(1, len(found.plan) + 1))


@pytest.mark.parametrize("seeds", BATCHES, ids=str)
def test_new_wood_is_copied_proved_and_eased(seeds: range) -> None:
    for found in plans(seeds):
        parts = [(i, p) for i, p in enumerate(found.plan) if p.step.new_wood is not None and p.step.new_wood.kind == "part"]
        for index, planned in parts:
            names = {p.step.id for p in found.plan[:index]}
            assert {"measure_from_sister", "copy_the_old_part"} <= names or planned.asked_by == (), found.case.number
            assert any(p.step.id == "ease_edges" for p in found.plan[index:]), found.case.number


# Whole assessments: the words of a step hang on its facts and on nothing else.


def assessed(seed: int, changed: int | None = None) -> Assessment | None:
    case = random_case(KNOWLEDGE, seed)
    if changed is not None:
        case = one_answer_changed(KNOWLEDGE, case, changed)
    try:
        return assess(case, KNOWLEDGE, Shop(), TODAY)
    except Undecided:
        return None


def told(assessment: Assessment) -> dict[str, ToldStep]:
    return {one.planned.step.id: one for one in told_steps(assessment, plan_glue.gluings_of(assessment))}


CHANGE_BATCHES = [range(start, min(start + BATCH, CHANGES)) for start in range(0, CHANGES, BATCH)]


@pytest.mark.parametrize("seeds", CHANGE_BATCHES, ids=str)
def test_a_step_whose_facts_are_unchanged_is_word_for_word_the_same(seeds: range) -> None:
    same = 0
    for seed in seeds:
        one, other = assessed(seed), assessed(seed, changed=seed)
        if one is None or other is None:
            continue
        old, new = told(one), told(other)
        for name in old.keys() & new.keys():
            if set(old[name].facts) == set(new[name].facts):
                assert old[name].worded == new[name].worded, (seed, name, old[name].facts)
                same += 1
    assert same > len(seeds)


@pytest.mark.parametrize("seed", range(0, CHANGES, max(1, CHANGES // 12)))
def test_the_written_plan_has_every_step_with_its_protection_and_its_week(seed: int) -> None:
    assessment = assessed(seed)
    if assessment is None or not assessment.plan:
        return
    text = written(assessment)
    assert "Ready in the week of" in text
    glue = plan_glue.gluings_of(assessment)
    for one, hazards in zip(told_steps(assessment, glue), hazards_by_step(assessment, glue), strict=True):
        assert ("    - Protect: " in one.worded.text) == bool(hazards)
        assert all(KNOWLEDGE.cautions[name].brief in one.worded.text for name in hazards)
        assert " min" in one.worded.action
        assert one.worded.text in text
