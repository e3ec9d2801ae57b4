"""Prices: every setting of the shop counts as its unit says, nothing is a constant of a method, and sums by hand come out."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from types import MappingProxyType

import pytest

from diagnose.assess import Assessment, assess
from diagnose.case.case import Answer, Case, Damage, our_term
from diagnose.decision.cost import Price, of_a_set, price_of, tight_joints_parted, trades_of
from diagnose.decision.told_price import tight_together
from diagnose.planning.compose import PlannedStep, Wish
from diagnose.reasoning.deduce import Deduction
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import OUTSIDE, Shop

TODAY = date(2026, 3, 2)
FREE = Shop(minimum_charge=0.0)


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load_knowledge()


def chair(damage: Damage, joints: Mapping[str, str] = MappingProxyType({}), /, *, count: int = 1, **readings: str) -> Case:
    return Case(
        "side_chair",
        value=800.0,
        count=count,
        joints=joints,
        readings={name: Answer((reading,)) for name, reading in readings.items()},
        damages=(damage,),
    )


LOOSE = Damage("a", "loose", part="side_rail", joint="left_side_rail_to_back_leg", facts={"joint": "dowel"})


def got(knowledge: Knowledge, case: Case, **settings: object) -> Assessment:
    return assess(case, knowledge, Shop.model_validate(settings), TODAY)


def price(knowledge: Knowledge, case: Case, **settings: object) -> Price:
    found = got(knowledge, case, **settings).price
    assert found is not None
    return found


# By hand.


def one_step(knowledge: Knowledge, uses: bool) -> PlannedStep:
    step = next(s for s in knowledge.steps.values() if bool(s.uses) is uses and s.trade == "us" and s.per == "piece")
    return PlannedStep(step, 1, ("a",), ())


def test_minutes_materials_and_outside_work_by_hand(knowledge: Knowledge) -> None:
    planned = one_step(knowledge, uses=True)
    shop = Shop(minimum_charge=0, rate_per_hour=90, handling_share=0.2)
    bought = [sum(q * knowledge.consumables[n].price[i] for n, q in planned.step.uses.items()) for i in range(3)]
    caner = [1.2 * OUTSIDE["caner"][i] for i in range(3)]
    plain = price_of(knowledge, shop, [planned])
    sent = price_of(knowledge, shop, [planned], ["caner"])
    for index, name in enumerate(("low", "likely", "high")):
        assert getattr(plain, name) == pytest.approx(planned.step.minutes[index] * 1.5 + bought[index])
        assert getattr(sent, name) == pytest.approx(getattr(plain, name) + caner[index])


def test_a_trade_that_two_ask_for_is_paid_once(knowledge: Knowledge) -> None:
    covers = [PlannedStep(s, 1, ("a",), ()) for s in knowledge.steps.values() if s.trade == "upholsterer"]
    assert len(covers) >= 2
    assert trades_of(covers, ["upholsterer", "us"]) == ("upholsterer",)
    work = price_of(knowledge, FREE, covers)
    ours = [replace(c, step=c.step.model_copy(update={"trade": "us"})) for c in covers]
    assert work.likely == pytest.approx(price_of(knowledge, FREE, ours).likely + 1.1 * OUTSIDE["upholsterer"][1])


def test_six_of_a_set_cost_about_seven_tenths_of_six_single_ones(knowledge: Knowledge) -> None:
    """Judgement of the trade: six chairs cost 70 to 75 % of six singles. 1 + 5 × .67 = 4.35 of 6 is 72.5 %."""
    assert of_a_set((10.0, 20.0, 40.0), 1, 0.67) == (10.0, 20.0, 40.0)
    assert 0.70 <= of_a_set((60.0, 60.0, 60.0), 6, Shop().further_piece_share)[0] / 360.0 <= 0.75
    planned = one_step(knowledge, uses=True)
    one, six = (price_of(knowledge, FREE, [planned], pieces=n) for n in (1, 6))
    work = one.minutes[1]
    bought = one.likely - work
    assert six.likely == pytest.approx(4.35 * work + 6 * bought)
    two, three = (price_of(knowledge, FREE, [planned], pieces=n) for n in (2, 3))
    assert three.likely - two.likely == pytest.approx(six.likely / 1 - price_of(knowledge, FREE, [planned], pieces=5).likely)


def test_a_tight_joint_that_is_parted_may_be_hurt(knowledge: Knowledge) -> None:
    """Two joints at one chance in ten and 45 minutes: 9 minutes are likely, at 60 an hour 9."""
    planned = one_step(knowledge, uses=False)
    shop = Shop(minimum_charge=0, tight_joint_hurt_share=0.1, hurt_joint_minutes=(20, 45, 120))
    safe, risky = price_of(knowledge, shop, [planned]), price_of(knowledge, shop, [planned], tight=2.0)
    assert [risky.low - safe.low, risky.likely - safe.likely, risky.high - safe.high] == pytest.approx([4.0, 9.0, 24.0])


def test_which_tight_joints_are_parted(knowledge: Knowledge) -> None:
    """A side rail has two ends and the chair two side rails: all four tight and one of them the damage leaves 3 ends for 2 rails."""
    opens = next(m for m in knowledge.methods.values() if m.strength == "doweled_joint" and m.extent == "joint")
    leaves = next(m for m in knowledge.methods.values() if m.decision == "no_structural_work")
    tight = {joint.id: "tight" for joint in knowledge.pieces["side_chair"].joints}
    assert tight_joints_parted(knowledge, chair(LOOSE, tight), LOOSE, opens) == pytest.approx(1.5)
    assert tight_joints_parted(knowledge, chair(LOOSE, {}), LOOSE, opens) == 0.0
    assert tight_joints_parted(knowledge, chair(LOOSE, tight), LOOSE, leaves) == 0.0


def test_tight_joints_of_one_part_are_parted_once_in_whatever_order(knowledge: Knowledge) -> None:
    """Two damages on one rail, of which one is opened and the other left alone."""
    opens, leaves = knowledge.methods["open_clean_reglue_joint"], knowledge.methods["leave_and_look_again"]
    tight = {joint.id: "tight" for joint in knowledge.pieces["side_chair"].joints}
    nothing = Deduction((), (), ())
    wishes = [Wish(LOOSE, opens, nothing), Wish(replace(LOOSE, id="b", kind="split"), leaves, nothing)]
    for ordered in (wishes, wishes[::-1]):
        assert tight_together(knowledge, chair(LOOSE, tight), ordered) == pytest.approx(1.5)
    whole = next(m for m in knowledge.methods.values() if m.extent == "whole_frame" and m.decision == "reglue")
    slack = {**tight, "left_side_rail_to_back_leg": "moves", "front_rail_to_left_front_leg": "open"}
    rails = {"side_rail", "front_rail"}
    joints = knowledge.pieces["side_chair"].joints
    expected = sum(j.joins[1] in rails and slack[j.id] == "tight" for j in joints) - 0
    assert tight_joints_parted(knowledge, chair(LOOSE, slack), LOOSE, whole) == expected == 4


@pytest.mark.parametrize(("to", "told"), [(0, (61.2, 82.6, 131.1)), (1, (61, 83, 132)), (5, (60, 85, 135)), (10, (60, 80, 140))])
def test_rounding_widens_the_range_and_never_narrows_it(to: float, told: tuple[float, float, float]) -> None:
    rounded = Price(61.2, 82.6, 131.1).rounded(to)
    assert (rounded.low, rounded.likely, rounded.high) == pytest.approx(told)


def test_a_round_figure_stays() -> None:
    assert Price(60.0, 85.0, 130.0).rounded(5) == Price(60, 85, 130)


# Through the whole assessment.


@pytest.mark.parametrize(
    ("setting", "dearer"),
    [
        ("rate_per_hour", 120.0),
        ("minimum_charge", 5000.0),
        ("tight_joint_hurt_share", 1.0),
        ("hurt_joint_minutes", (500.0, 600.0, 700.0)),
        ("prices", dict.fromkeys(["wood_glue", "white_glue", "pva_glue", "abrasive_sheet"], (50.0, 60.0, 70.0))),
    ],
)
def test_a_dearer_setting_makes_a_dearer_job(knowledge: Knowledge, setting: str, dearer: object) -> None:
    tight = {joint.id: "tight" for joint in knowledge.pieces["side_chair"].joints} | {LOOSE.joint or "": "moves"}
    case = chair(LOOSE, tight, rack_test="one_joint_moves")
    if setting == "prices":
        dearer = dict.fromkeys(knowledge.consumables, (50.0, 60.0, 70.0))
    assert price(knowledge, case, **{setting: dearer}).expected > price(knowledge, case).expected


def test_handling_makes_outside_work_dearer_and_ours_not(knowledge: Knowledge) -> None:
    case = chair(LOOSE, rack_test="one_joint_moves")
    for method in knowledge.methods.values():
        costs = []
        for share in (0.0, 0.5):
            option = [o for o in got(knowledge, case, handling_share=share).damages[0].decision.options if o.method == method.id]
            costs += [o.price.expected for o in option]
        outside = method.by != "us" or any(knowledge.steps[step].trade != "us" for step in method.steps)
        if costs:
            assert (costs[1] > costs[0]) is outside, method.id


def test_no_price_is_a_constant_of_a_method(knowledge: Knowledge) -> None:
    """Every option that takes minutes costs more at a higher rate, and less with fewer minutes in its steps."""
    case = chair(LOOSE, rack_test="one_joint_moves")
    short = {name: s.model_copy(update={"minutes": tuple(m / 2 for m in s.minutes)}) for name, s in knowledge.steps.items()}
    shop = {"minimum_charge": 0.0, "rate_per_hour": 60.0}
    now = {o.method: o.price for o in got(knowledge, case, **shop).damages[0].decision.options}
    dear = {o.method: o.price for o in got(knowledge, case, **{**shop, "rate_per_hour": 90.0}).damages[0].decision.options}
    quick = {o.method: o.price for o in got(replace(knowledge, steps=short), case, **shop).damages[0].decision.options}
    assert len(now) > 8
    for name, of_now in now.items():
        assert dear[name].likely - of_now.likely == pytest.approx(0.5 * of_now.minutes[1]), name
        assert quick[name].likely < of_now.likely, name


def test_each_of_a_set_is_told_with_the_whole(knowledge: Knowledge) -> None:
    six = got(knowledge, chair(LOOSE, count=6, rack_test="one_joint_moves"))
    assert six.told.of_set is not None
    assert six.price is not None
    assert six.price.likely * 3 < six.told.of_set.likely < six.price.likely * 6
    assert got(knowledge, chair(LOOSE, rack_test="one_joint_moves")).told.of_set is None


# What the shop can do.


def test_what_we_cannot_do_is_referred_with_the_reason(knowledge: Knowledge) -> None:
    broken = Damage("a", "broken", part="stretcher", facts={"joint": "none"}, readings={"grain_slope": Answer(("short_grain",))})
    able = got(knowledge, chair(broken, rack_test="rigid"))
    without = got(knowledge, chair(broken, rack_test="rigid"), can_do=["morticing"])
    needy = {m.id for m in knowledge.methods.values() if set(m.needs) - {"morticing"}}
    seen = {o.method for o in able.damages[0].decision.options} & needy
    assert seen
    for option in without.damages[0].decision.options:
        method = without.knowledge.methods[option.method]
        if option.method in seen:
            assert option.decision == method.decision == "refer_to_specialist"
            assert method.by == "workshop"
            assert "which we do not have" in method.name
            assert all(
                need.replace("_", " ") in method.name for need in set(knowledge.methods[option.method].needs) - {"morticing"}
            )
            assert (
                option.strength_ratio
                == next(o for o in able.damages[0].decision.options if o.method == option.method).strength_ratio
            )
        else:
            assert method == knowledge.methods[option.method]


def test_a_shop_that_names_everything_needed_is_as_one_that_names_nothing(knowledge: Knowledge) -> None:
    needs = sorted({need for method in knowledge.methods.values() for need in method.needs})
    case = chair(LOOSE, rack_test="one_joint_moves")
    named, silent = got(knowledge, case, can_do=needs), got(knowledge, case)
    assert named.damages[0].decision == silent.damages[0].decision
    assert named.knowledge.methods == silent.knowledge.methods


def test_an_ability_that_nothing_asks_for_is_named(knowledge: Knowledge) -> None:
    found = got(knowledge, chair(LOOSE), can_do=["lath"])
    assert any("lath, which no method needs; did you mean lathe?" in text for text in found.assumptions)


def test_being_without_a_machine_never_lets_a_weak_repair_through(knowledge: Knowledge) -> None:
    """Another workshop's repair is held to the same strength as ours."""
    broken = Damage(
        "a", "broken", part="back_leg", facts={"joint": "none"}, readings={"break_length_ratio": Answer(("under_four",))}
    )
    for can_do in ([], ["bandsaw"], ["morticing"]):
        able, without = (got(knowledge, chair(broken), **more) for more in ({}, {"can_do": can_do}))
        barred = {o.method for o in able.damages[0].decision.options if o.verdict == "ruled_out"}
        still = {o.method for o in without.damages[0].decision.options if o.verdict == "ruled_out"}
        assert {m for m in barred if knowledge.methods[m].end_use == "as_before"} <= still


# What may be said of the price.


def test_no_price_before_the_rack_test(knowledge: Knowledge) -> None:
    for kind, part in (("side_chair", "side_rail"), ("stool", "stretcher"), ("table", "apron")):
        if part not in knowledge.pieces[kind].parts:
            continue
        damage = Damage("a", "loose", part=part)
        untried = assess(Case(kind, value=800.0, damages=(damage,)), knowledge, Shop(), TODAY)
        assert untried.price is None
        assert untried.told.not_yet
        tried = Case(kind, value=800.0, damages=(damage,), readings={"rack_test": Answer(("one_joint_moves",))})
        assert assess(tried, knowledge, Shop(), TODAY).price is not None
        cannot = Case(kind, value=800.0, damages=(damage,), readings={"rack_test": Answer((), cannot_tell=True)})
        assert assess(cannot, knowledge, Shop(), TODAY).price is None


@pytest.mark.parametrize(
    "reading", [("paint_and_age", "paint_old_or_unknown"), ("smell_and_wet", "wet_now"), ("wood_damp", "over_twenty")]
)
def test_no_price_for_wet_wood_or_untested_old_paint(knowledge: Knowledge, reading: tuple[str, str]) -> None:
    tried = chair(LOOSE, rack_test="one_joint_moves")
    found = got(knowledge, replace(tried, readings={**tried.readings, reading[0]: Answer((reading[1],))}))
    assert found.price is None
    assert found.told.cover is None
    assert found.told.not_yet


@pytest.mark.parametrize(("over", "trade"), [("cover_tacked_over", "upholsterer"), ("cane_or_rush_over_rails", "caner")])
def test_a_covered_joint_has_two_prices(knowledge: Knowledge, over: str, trade: str) -> None:
    bare = got(
        knowledge, chair(replace(LOOSE, readings={"what_covers_joint": Answer(("open_joint",))}), rack_test="one_joint_moves")
    )
    covered = got(knowledge, chair(replace(LOOSE, readings={"what_covers_joint": Answer((over,))}), rack_test="one_joint_moves"))
    assert bare.told.cover is None
    assert covered.price is not None
    assert covered.told.cover is not None
    assert covered.told.cover.likely >= OUTSIDE[trade][1]
    steps = {planned.step.trade for planned in covered.plan}
    assert steps == {"us", trade}
    whole = next(o for o in covered.damages[0].decision.options if o.method == covered.damages[0].decision.method)
    assert covered.price.likely + covered.told.cover.likely == pytest.approx(whole.price.likely, abs=1.5)


def test_what_opening_will_settle_is_told_with_its_range(knowledge: Knowledge) -> None:
    found = [
        got(knowledge, chair(replace(LOOSE, readings=readings), rack_test="one_joint_moves"))
        for readings in (
            {"how_it_failed": Answer(("got_looser",), by="owner")},
            {"moves_how": Answer(("slides_in_and_out",)), "same_fault_elsewhere": Answer(("nowhere_else",))},
            {"moves_how": Answer(("rocks_at_shoulder",))},
        )
    ]
    spans = [one for one in found if one.told.before_opening is not None]
    assert spans
    for one in spans:
        assert one.price is not None
        assert one.told.before_opening is not None
        assert one.told.before_opening.low <= one.price.low
        assert one.told.before_opening.high >= one.price.high
        assert one.told.before_opening.width > one.price.width or one.told.before_opening.width == pytest.approx(one.price.width)
        assert all(knowledge.signs[name].station == "inside_joint" for name in one.told.settles)
        assert one.told.settles


# Our own earlier repair.


@pytest.mark.parametrize(
    ("repaired", "term"),
    [("2024-03-02", "within"), ("2024-03-01", "past"), ("2026-03-02", "within"), ("2020-01-01", "past"), ("2026-03-03", None)],
)
def test_a_term_of_two_years_ends_on_its_day(repaired: str, term: str | None) -> None:
    assert our_term(date.fromisoformat(repaired), TODAY, 24) == term


@pytest.mark.parametrize(
    ("repaired", "held", "finding"),
    [
        (date(2025, 3, 2), "let_go_again", "covered_by_our_term"),
        (date(2020, 3, 2), "let_go_again", "our_term_has_run_out"),
        (date(2025, 3, 2), "held_broke_elsewhere", "not_on_our_repair"),
        (date(2025, 3, 2), "held_wood_broke_beside", "look_closer_before_terms"),
        (date(2025, 3, 2), None, "look_closer_before_terms"),
    ],
)
def test_covered_or_not_only_where_it_is_plain(knowledge: Knowledge, repaired: date, held: str | None, finding: str) -> None:
    answers = {"hands_before": Answer(("this_shop",))} | ({"earlier_repair_holds": Answer((held,))} if held else {})
    found = got(knowledge, chair(replace(LOOSE, repaired=repaired, readings=answers), rack_test="one_joint_moves"))
    verdicts = {"covered_by_our_term", "our_term_has_run_out", "not_on_our_repair", "look_closer_before_terms"}
    assert set(found.findings) & verdicts == {finding}
    covered = finding == "covered_by_our_term"
    assert found.told.on_us == (("a",) if covered else ())
    assert (found.price is None) is covered


def test_a_repair_in_the_future_is_named_and_left_out(knowledge: Knowledge) -> None:
    found = got(knowledge, chair(replace(LOOSE, repaired=date(2027, 1, 1)), rack_test="one_joint_moves"))
    assert any("2027-01-01" in text and "left out of account" in text for text in found.assumptions)
    assert "our_term" not in found.damages[0].facts.values
