"""What the advice hangs on: halving and doubling an input does what the sums say, by hand where that is short."""

from dataclasses import replace
from datetime import date

import pytest

from diagnose.assess import DamageAssessment, assess
from diagnose.case.case import Answer, Case, Damage
from diagnose.decision.advise import Decision, Situation
from diagnose.decision.sensitivity import SETTINGS_SAY, SHOWN, STRENGTH_SAYS, Influence, sensitivity
from diagnose.decision.strength import ASSUMED, BOUNDS, PLANNED
from diagnose.documents.charts import tornado_chart
from diagnose.documents.diagnosis import diagnosis
from diagnose.mechanics.result import MechanicsError
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop

TODAY = date(2026, 3, 2)
CENT = 1e-6


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load_knowledge()


def broken(value: float = 700.0) -> Case:
    readings = {
        "grain_slope": Answer(("slight",)),
        "break_fits_back": Answer(("closes_clean",)),
        "break_length_ratio": Answer(("eight_to_twelve",)),
        "dirt_in_crack": Answer(("fresh_clean",)),
    }
    damage = Damage("a", "broken", part="back_leg", facts={"joint": "none"}, readings=readings)
    return Case("side_chair", value=value, damages=(damage,), readings={"rack_test": Answer(("rigid",))})


def loose() -> Case:
    readings = {
        "glue_face_state": Answer(("one_old_glue",)),
        "mortise_wall": Answer(("whole",)),
        "moves_how": Answer(("slides_in_and_out",)),
        "wood_on_glue_face": Answer(("hardly_any",)),
    }
    damage = Damage(
        "a",
        "loose",
        part="side_rail",
        joint="left_side_rail_to_back_leg",
        facts={"joint": "mortise_and_tenon"},
        readings=readings,
    )
    return Case("side_chair", value=700.0, damages=(damage,), readings={"rack_test": Answer(("one_joint_moves",))})


def first(knowledge: Knowledge, case: Case, shop: Shop | None = None) -> DamageAssessment:
    return assess(case, knowledge, shop or Shop(), TODAY).damages[0]


def named(damage: DamageAssessment) -> dict[str, Influence]:
    return {influence.name: influence for influence in sensitivity(damage.situation, damage.decision).influences}


def lead(damage: DamageAssessment, advised: str, runner: str) -> float:
    cost = {option.method: option.cost for option in damage.decision.options}
    return cost[runner] - cost[advised]


def test_there_is_a_word_for_every_quantity_and_a_bound() -> None:
    assert set(STRENGTH_SAYS) == set(ASSUMED) | set(PLANNED) == set(BOUNDS)
    assert set(SETTINGS_SAY) <= set(Shop.model_fields)


@pytest.mark.parametrize("case", [broken(), loose()], ids=["broken", "loose"])
def test_each_setting_moves_the_lead_as_a_shop_with_that_setting_would(knowledge: Knowledge, case: Case) -> None:
    """The outside check: the whole assessment done again, for a shop or a piece that has the other number."""
    damage = first(knowledge, case)
    found = sensitivity(damage.situation, damage.decision)
    assert found.runner_up is not None
    assert found.lead == pytest.approx(lead(damage, found.advised, found.runner_up))
    compared = 0
    for influence in found.influences:
        setting = next((name for name, says in SETTINGS_SAY.items() if says == influence.name), None)
        for side in (influence.low, influence.high):
            if setting is not None:
                again = first(knowledge, case, Shop.model_validate({setting: side.number}))
            elif influence.name == "value of the piece":
                again = first(knowledge, replace(case, value=side.number))
            else:
                continue
            best = again.decision.method
            assert side.instead == (None if best == found.advised else best), influence.name
            if side.lead is not None:
                assert side.lead == pytest.approx(lead(again, found.advised, found.runner_up), abs=CENT), influence.name
            compared += 1
    assert compared >= 8


def test_the_minutes_and_the_chance_by_hand(knowledge: Knowledge) -> None:
    """Doubling the advised method's minutes adds (low + 4·likely + high)/6 of them at the rate to its cost; doubling P(again) adds
    P(again) × (redo + share × value)."""
    damage = first(knowledge, broken())
    found = sensitivity(damage.situation, damage.decision)
    advised = damage.decision.options[0]
    name = knowledge.methods[advised.method].name
    by_name = named(damage)
    low, likely, high = advised.price.minutes
    more = (low + 4 * likely + high) / 6 / 60 * Shop().rate_per_hour
    assert by_name[f"minutes: {name}"].high.lead == pytest.approx(found.lead - more)
    again = advised.fails_again * (Shop().failing_again_costs + Shop().failing_again_share * 700.0)
    assert by_name[f"chance that it fails again: {name}"].high.lead == pytest.approx(found.lead - again)
    assert by_name[f"chance that it fails again: {name}"].low.lead == pytest.approx(found.lead + again / 2)


def test_the_most_influential_come_first_and_ten_are_shown(knowledge: Knowledge) -> None:
    damage = first(knowledge, broken())
    found = sensitivity(damage.situation, damage.decision)
    swings = [influence.swing(found.lead) for influence in found.influences]
    assert swings == sorted(swings, reverse=True)
    assert len(found.leading) == SHOWN < len(found.influences)
    assert found.leading == found.influences[:SHOWN]


def test_an_assumed_gap_of_twice_the_size_rules_out_a_plain_reglue(knowledge: Knowledge) -> None:
    """0.1 mm is as tight as made; 0.2 mm leaves 1 − (0.21/0.12) × 0.07 = .88 of it, under .9 where somebody falls."""
    case = loose()
    damage = first(knowledge, case)
    assert "gap_mm" in damage.strength.assumed
    assert knowledge.methods[damage.decision.method].strength == "reglued_joint"
    gap = named(damage)[STRENGTH_SAYS["gap_mm"]]
    assert gap.assumed
    assert (gap.number, gap.low.number, gap.high.number) == (0.1, 0.05, 0.2)
    assert gap.low.instead is None
    assert gap.high.lead is None
    assert gap.high.instead not in (None, damage.decision.method)
    text = diagnosis(assess(case, knowledge, Shop(), TODAY))
    assert "0.1 mm assumed (doubled, the advice would be: " in text


def test_a_share_is_never_taken_above_one(knowledge: Knowledge) -> None:
    face = {i.name: i for i in sensitivity(*_of(first(knowledge, loose()))).strength}[STRENGTH_SAYS["joint_face_left"]]
    assert (face.number, face.low.number, face.high.number) == (1.0, 0.5, 1.0)
    assert face.high.instead is None


def _of(damage: DamageAssessment) -> tuple[Situation, Decision]:
    return damage.situation, damage.decision


def test_a_measured_tenon_hangs_on_the_size_it_is_assumed_to_have_had(knowledge: Knowledge) -> None:
    case = loose()
    whole = replace(case, damages=(replace(case.damages[0], sizes={"tenon_length": 30.0}),))
    influences = named(first(knowledge, whole))
    size = next(influence for name, influence in influences.items() if name.startswith("tenon length as made"))
    assert size.assumed
    assert size.high.lead is None, "had it been made twice as long, half of it would be left"
    assert size.low.lead is not None


def test_the_table_stands_in_the_explained_diagnosis_only(knowledge: Knowledge) -> None:
    got = assess(broken(), knowledge, Shop(), TODAY)
    assert "What the advice hangs on" in diagnosis(got, explain=True)
    assert "What the advice hangs on" not in diagnosis(got)


def test_the_tornado_says_every_bar_in_words() -> None:
    chart = tornado_chart([("value of the piece", 12.0, 90.0), ("gap in the joint, mm", 40.0, None)], 40.0, "EUR")
    assert chart.startswith("<svg")
    assert "value of the piece: halved 12, doubled 90." in chart
    assert "gap in the joint, mm: halved 40, doubled ruled out." in chart
    assert chart == tornado_chart([("value of the piece", 12.0, 90.0), ("gap in the joint, mm", 40.0, None)], 40.0, "EUR")
    with pytest.raises(MechanicsError):
        tornado_chart([], 0.0, "EUR")
