"""The choice of glue: from the case, by the grounds of the rule base, and nothing forbidden is ever offered."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from diagnose.assess import Assessment, assess
from diagnose.case.case import Answer, Case
from diagnose.case.read import read_case
from diagnose.documents.plan import plan
from diagnose.documents.plan_glue import gluings_of
from diagnose.planning.adhesive import CLOSE_FIT_MM, Demand, Place, judge, rank
from diagnose.planning.gluing import Gluing
from diagnose.reasoning.facts import closed, satisfied
from diagnose.rulebase.entries import Adhesive
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop

KNOWLEDGE = load_knowledge()
EXAMPLES = Path(__file__).parent.parent.parent / "guide" / "examples"
CHAIR = read_case(EXAMPLES / "slack_chair.yaml", KNOWLEDGE)
ANIMAL = {"glue_face_state": Answer(("one_old_glue",)), "old_glue_kind": Answer(("animal",))}
UNKNOWN = {"glue_face_state": Answer(("one_old_glue",)), "old_glue_kind": Answer((), cannot_tell=True)}


def told(case: Case, **answers: Answer) -> Case:
    """The case with other answers about its slack frame."""
    for sign, answer in answers.items():
        case = case.with_answer("frame", sign, answer)
    return case


def gap(mm: float, reading: str) -> Answer:
    return Answer((reading,), "measured", measured=f"{mm:g} mm")


def assessed(case: Case, **shop: object) -> Assessment:
    return assess(case, KNOWLEDGE, Shop.model_validate(shop), date(2026, 3, 2))


def joints_of(assessment: Assessment) -> Gluing:
    """The gluing of the joints: the one that is squared."""
    (found,) = [gluing for gluing in gluings_of(assessment) if gluing.work.square_min]
    return found


def section(assessment: Assessment) -> str:
    return plan(assessment).partition("## Glue and clock")[2].partition("## Steps")[0]


def steps(assessment: Assessment) -> list[str]:
    return [planned.step.id for planned in assessment.plan]


def chosen(assessment: Assessment) -> str:
    best = joints_of(assessment).best
    assert best is not None
    return best.adhesive.id


# The data.


def test_the_base_holds_many_glues_and_says_how_each_figure_is_known() -> None:
    assert len(KNOWLEDGE.adhesives) >= 16
    figures = (
        "working_min",
        "clamp_min",
        "full_cure_h",
        "min_temp_c",
        "gap_max_mm",
        "water_class",
        "reversible",
        "bonds_over",
        "temp_c",
    )
    for adhesive in KNOWLEDGE.adhesives.values():
        assert set(adhesive.known_by) == set(figures), adhesive.id
        assert 0 < adhesive.working_min[0] <= adhesive.working_min[1]
        assert adhesive.clamp_min[0] <= adhesive.clamp_min[1]
        assert adhesive.grounds, adhesive.id


# Four changes of one answer each, with the reason in the plan.


def test_a_wider_gap_changes_the_steps_and_the_plan_says_why() -> None:
    close, slack = assessed(CHAIR), assessed(told(CHAIR, joint_gap=gap(0.8, "slack")))
    assert "a gap of 0.1 mm was found" in section(close)
    assert "0.8 mm was found" in section(slack)
    assert steps(close) != steps(slack), "the fit is built up in wood first"
    assert joints_of(slack).demand.gap_mm == CLOSE_FIT_MM


def test_oily_wood_changes_the_glue_and_the_plan_says_why() -> None:
    oak, teak = (assessed(replace(CHAIR, wood=wood)) for wood in ("white_oak", "teak"))
    assert chosen(oak) != chosen(teak)
    assert KNOWLEDGE.adhesives[chosen(teak)].two_part
    assert "holds on oily wood" in section(teak)
    assert "oily" not in section(oak)


def test_residue_that_nobody_knows_changes_the_glue_and_the_plan_says_why() -> None:
    hide, unknown = (assessed(told(CHAIR, **answers)) for answers in (ANIMAL, UNKNOWN))
    assert "animal" in KNOWLEDGE.adhesives[chosen(hide)].bonds_over
    assert "animal" not in KNOWLEDGE.adhesives[chosen(unknown)].bonds_over
    assert "old animal glue" in section(hide)
    refused = [ranked for ranked in joints_of(unknown).ranked if "animal" in ranked.adhesive.bonds_over]
    assert refused
    assert not any(ranked.usable for ranked in refused)
    assert "not known that the old glue here is animal" in section(unknown)


def test_a_cold_shop_changes_the_glue_and_the_plan_says_why_and_the_way_out() -> None:
    warm, cold = assessed(CHAIR, room_temperature_c=20), assessed(CHAIR, room_temperature_c=8)
    assert chosen(warm) != chosen(cold)
    assert "the wood has 8 °C" in section(cold)
    assert "With room and wood at 20 °C" in section(cold)
    assert "too cold" in section(cold)
    assert "too cold" not in section(warm)


def test_a_shop_at_four_degrees_is_told_so_with_the_way_out() -> None:
    text = section(assessed(CHAIR, room_temperature_c=4))
    assert "**4 °C is too cold to glue with confidence.** The way out: warm room, wood and glue to 20 °C overnight" in text


@pytest.mark.parametrize("answers", [{}, ANIMAL, UNKNOWN])
@pytest.mark.parametrize("wood", ["white_oak", "teak", None])
@pytest.mark.parametrize("wood_c", [4, 8, 20, 30])
def test_nothing_that_a_ground_forbids_is_offered(answers: Mapping[str, Answer], wood: str | None, wood_c: float) -> None:
    for gluing in gluings_of(assessed(replace(told(CHAIR, **answers), wood=wood), room_temperature_c=wood_c)):
        for ranked in gluing.ranked:
            nevers = [ground for ground in ranked.adhesive.grounds if ground.says == "never"]
            forbidden = any(
                satisfied(ground.when, place.values) is True and closed(ground.unless, place.values) is not True
                for ground in nevers
                for place in gluing.demand.places
            )
            assert not (forbidden and ranked.usable)
        usable = [ranked.usable for ranked in gluing.ranked]
        assert usable == sorted(usable, reverse=True), "what is ruled out never stands before what is not"


def test_work_of_a_period_gets_nothing_that_cannot_be_undone() -> None:
    old = CHAIR.with_answer(None, "age_and_surface", Answer(("older_hand_made",)))
    for gluing in gluings_of(assessed(old)):
        offered = [ranked.adhesive for ranked in gluing.ranked if ranked.usable]
        assert offered
        assert all(adhesive.reversible for adhesive in offered)


# One glue and its demand.

METHOD = KNOWLEDGE.methods["open_clean_reglue_joint"]


def demand(**more: object) -> Demand:
    """A close joint of nothing in particular, five minutes' work in a warm shop."""
    return replace(Demand((Place("a", METHOD, {}, 0.1),), 0.1, "a gap of 0.1 mm was found", 5, 21), **more)  # type: ignore[arg-type]


def glue(**more: object) -> Adhesive:
    known = dict.fromkeys(("working_min", "min_temp_c", "gap_max_mm"), "read")
    entry = {
        "id": "a_glue", "name": "A glue", "working_min": [5, 10], "temp_c": 21, "clamp_min": [30, 60], "full_cure_h": 24,
        "min_temp_c": 10, "gap_max_mm": 0.15, "water_class": "D1", "reversible": ["heat"], "known_by": known,
        "sources": ["common_practice"],
    }  # fmt: skip
    return Adhesive.model_validate({**entry, **more})


def test_a_limit_that_was_read_rules_out_and_a_remembered_one_is_a_doubt() -> None:
    cold = demand(wood_c=8)
    assert judge(glue(), cold).ruled_out == ("wants wood of 10 °C or more, and the wood has 8 °C",)
    remembered = judge(glue(known_by={"min_temp_c": "memory"}), cold)
    assert remembered.usable
    assert len(remembered.doubts) == 1
    sure = glue(id="other", min_temp_c=5, clamp_min=[600, 900], hazards=["isocyanate"])
    assert [ranked.adhesive.id for ranked in rank([glue(known_by={"min_temp_c": "memory"}), sure], cold)] == ["other", "a_glue"]


@pytest.mark.parametrize(("minutes", "label", "usable"), [(5, None, True), (7.2, 8, True), (10, 10, True), (10.1, None, False)])
def test_between_the_low_and_the_high_figure_the_label_must_say_it(minutes: float, label: float | None, usable: bool) -> None:
    ranked = judge(glue(), demand(minutes=minutes))
    assert (ranked.label_min, ranked.usable) == (label, usable)
    if usable:
        assert ranked.glue().open_min == (label or 5)


def test_a_ground_counts_only_where_it_holds_and_nothing_lifts_it() -> None:
    ground = {"says": "never", "when": {"wood": "oily"}, "unless": {"wipe": "yes"}, "because": "no"}
    entry = glue(grounds=[ground])
    for values, usable in (({}, True), ({"wood": {"oily"}}, False), ({"wood": {"oily"}, "wipe": {"yes"}}, True)):
        frozen = {key: frozenset(held) for key, held in values.items()}
        assert judge(entry, demand(places=(Place("a", METHOD, frozen, None),))).usable is usable


def test_a_method_that_names_its_glue_gets_no_other() -> None:
    own = glue(id="own", methods=[METHOD.id], clamp_min=[600, 900])
    assert [ranked.adhesive.id for ranked in rank([glue(), own], demand()) if ranked.usable] == ["own"]
    other = replace(demand().places[0], method=METHOD.model_copy(update={"id": "another"}))
    assert [ranked.usable for ranked in rank([glue(), own], demand(places=(other,)))] == [True, True]


def test_a_gap_nobody_measured_is_held_to_a_close_fit() -> None:
    case = replace(CHAIR, damages=tuple(
        replace(d, readings={name: a for name, a in d.readings.items() if name != "joint_gap"}) for d in CHAIR.damages
    ))  # fmt: skip
    found = joints_of(assessed(case)).demand
    assert found.gap_mm == CLOSE_FIT_MM
    assert "not measured" in found.gap_because


def test_no_glue_left_is_said_with_the_way_out() -> None:
    forbidden = {"says": "never", "when": {"damage": ["loose", "split"]}, "because": "the rules forbid it here"}
    none_left = replace(KNOWLEDGE, adhesives={"a_glue": glue(grounds=[forbidden])})
    got = replace(assessed(CHAIR), knowledge=none_left)
    text = section(got)
    assert text.count("**No glue is left for this.**") == len(gluings_of(got)) == 3
    assert "the rules forbid it here" in text
    assert "plan again" in text


def test_too_few_clamps_are_said_with_the_way_out() -> None:
    text = section(assessed(CHAIR, clamps=2))
    assert "**No order:** what must be closed at once takes 3 clamps, and there are 2." in text
    assert "1 more clamp (" in text
