"""Ways that are set aside before costs are compared."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnose import words
from diagnose.assess import Assessment, assess
from diagnose.case.case import Answer, Case, Damage
from diagnose.case.told import case_of
from diagnose.decision.advise import costs_less_below
from diagnose.decision.ban import likely_to_fail, makes_whole, worth_unsaid
from diagnose.decision.decide import Line
from diagnose.decision.undecided import Undecided
from diagnose.decision.whole_piece import RETIRED
from diagnose.rulebase.knowledge import ToldStory
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop

KNOWLEDGE = load_knowledge()
TODAY = date(2026, 3, 2)
MONEY = st.floats(0, 2000)
SLOPES = st.floats(0, 0.99)


def _line(name: str, at_zero: float, slope: float) -> Line:
    return Line(name, at_zero, slope)


def test_break_even_by_hand() -> None:
    """Given up: 40 + 1 V. Mended: 140 + 0.2 V, or 240 + 0 V. Equal at (140 - 40) / 0.8 = 125 and at (240 - 40) / 1 = 200.

    Below 125 giving it up is cheaper than both.
    """
    found = worth_unsaid([_line("give_up", 40, 1)], [_line("glue", 140, 0.2), _line("renew", 240, 0)])
    assert found == pytest.approx({"give_up": 125.0})
    assert costs_less_below(Shop(), found["give_up"]) == "; below about EUR 125 this costs less than mending it"


def test_nothing_is_left_to_the_owner_where_nothing_mends_it() -> None:
    """With no way to mend it there is nothing to choose between."""
    assert worth_unsaid([_line("give_up", 40, 1)], []) == {}


def test_where_mending_is_cheaper_at_any_value_no_figure_is_told() -> None:
    """A mend for 30 against paper work for 40."""
    assert worth_unsaid([_line("give_up", 40, 1)], [_line("glue", 30, 0.2)]) == {"give_up": 0.0}
    assert costs_less_below(Shop(), 0.0) == ""


@given(paper=MONEY, mends=st.lists(st.tuples(MONEY, SLOPES), min_size=1, max_size=4))
def test_below_the_figure_giving_up_is_the_cheapest_and_above_it_is_not(paper: float, mends: list[tuple[float, float]]) -> None:
    """The figure is the corner of the lower envelope."""
    give_up, lines = _line("give_up", paper, 1.0), [_line(str(i), *m) for i, m in enumerate(mends)]
    corner = worth_unsaid([give_up], lines)["give_up"]
    if corner == 0.0:
        assert min(line.at(0.0) for line in lines) <= give_up.at(0.0)
        return
    assert all(give_up.at(corner * 0.9) <= line.at(corner * 0.9) + 1e-6 for line in lines)
    assert any(give_up.at(corner * 1.1) >= line.at(corner * 1.1) - 1e-6 for line in lines)


@pytest.mark.parametrize("told", KNOWLEDGE.stories[::9], ids=lambda told: told.story.name)
def test_no_piece_is_given_up_for_its_cost_while_nobody_said_what_it_is_worth(told: ToldStory) -> None:
    """Over stories without a value: where a way of ours holds with an even chance, the piece is not retired for money."""
    case = replace(case_of(told.story, KNOWLEDGE), value=None)
    try:
        got = assess(case, KNOWLEDGE, Shop(), TODAY)
    except Undecided:
        return
    for damage in got.damages:
        options = damage.decision.options
        holding = [
            o
            for o in options
            if o.verdict not in words.SET_ASIDE
            and o.chance_it_holds >= 0.5
            and o.decision != RETIRED
            and makes_whole(KNOWLEDGE.methods[o.method])
        ]
        if holding:
            assert damage.decision.decision != RETIRED
            assert all(o.verdict in words.SET_ASIDE for o in options if o.decision == RETIRED)


GREY = Damage(
    "slats",
    "surface",
    part="slat",
    readings={"rot_look": Answer(("grey_weathered",)), "probe": Answer(("firm",)), "crack_depth": Answer(("surface_check",))},
)
LOOSE = Damage("rail", "loose", part="side_rail", joint="left_side_rail_to_back_leg", facts={"joint": "mortise_and_tenon"})


def _outdoor_chair(value: float, *damages: Damage) -> Assessment:
    readings = {"where_it_lived": Answer(("outdoors",), by="owner")}
    return assess(Case("garden_chair", value=value, readings=readings, damages=damages), KNOWLEDGE, Shop(), TODAY)


@pytest.mark.parametrize("value", [1.0, 60.0, 150.0, 3000.0])
def test_a_piece_whose_surface_alone_is_spoiled_is_never_given_up_for_money(value: float) -> None:
    """It can be used as it is, whatever a new coat costs; a fall in price of the piece makes giving it up no better."""
    options = _outdoor_chair(value, GREY).damages[0].decision.options
    assert options[0].decision != RETIRED
    given_up = [o for o in options if o.decision == RETIRED]
    assert given_up
    assert {o.verdict for o in given_up} == {words.Verdict.OWNERS_TO_SAY}
    assert {o.cheaper_below for o in given_up} == {0.0}


def test_a_spoiled_surface_does_not_tip_a_piece_that_is_worth_mending() -> None:
    """The value between which mending the joint alone pays is the same with and without the grey slats."""
    for value in (150.0, 260.0, 320.0, 400.0, 900.0):
        joint_alone = _outdoor_chair(value, LOOSE).damages[0].decision.decision == RETIRED
        both = [d.decision.decision == RETIRED for d in _outdoor_chair(value, GREY, LOOSE).damages]
        assert len(set(both)) == 1, value
        assert both[1] is joint_alone or not both[1], value


def test_what_another_trade_mends_is_not_given_up_on_our_guess_of_their_price() -> None:
    """Springs off in a sofa worth less than an upholsterer may ask; the upholsterer says what it costs, and its owner what it is worth."""
    webbing = Damage("seat", "loose", part="webbing")
    seen = {"seat_suspension": Answer(("spring_or_clip_off",)), "rack_test": Answer(("rigid",))}
    case = Case("sofa", value=300.0, readings=seen, damages=(webbing,))
    decision = assess(case, KNOWLEDGE, Shop(), TODAY).damages[0].decision
    assert decision.by not in words.WORKSHOPS
    assert decision.decision != RETIRED
    assert all(o.verdict is words.Verdict.OWNERS_TO_SAY for o in decision.options if o.decision == RETIRED)


@pytest.mark.parametrize(("lasting", "ruled_out"), [(0.4, {"patch"}), (0.6, set())])
def test_what_more_likely_fails_goes_only_while_something_holds(lasting: float, ruled_out: set[str]) -> None:
    """Whoever does the lasting work: a patch with a chance of .7 of failing goes when an upholsterer's work fails with .4."""
    assert set(likely_to_fail({"patch": 0.7, "theirs": lasting}, None, ["patch", "theirs"])) - {"theirs"} == ruled_out
