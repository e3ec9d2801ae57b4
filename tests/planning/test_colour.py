"""Colour and finish: the drops in their order, waits as printed, what never goes over what, blotch by the wood."""

import pytest

from diagnose.planning.colour import build_days, drops, found, goes_over, staining, unmoved
from diagnose.rulebase.store import load_knowledge

KNOWLEDGE = load_knowledge()
FINISHES = KNOWLEDGE.finishes


def said(wood: str | None) -> str:
    named = KNOWLEDGE.woods[wood] if wood else None
    return " ".join(one.do + one.why for one in staining(KNOWLEDGE, named))


def test_the_gentlest_drop_comes_first_and_each_is_tried_once() -> None:
    """Order of the published spot tests: white spirit (for wax), alcohol, lacquer thinner; five to ten seconds, then wipe."""
    order = drops(KNOWLEDGE)
    assert [drop.test.uses for drop in order] == ["white_spirit", "spirit_alcohol", "lacquer_thinner"]
    assert [drop.test.order for drop in order] == [1, 2, 3]
    assert all(drop.test.seconds == (5, 10) for drop in order)


@pytest.mark.parametrize(
    ("finish", "drop"),
    [("wax", 0), ("shellac", 1), ("lacquer", 2), ("water_borne", 2), ("oil_varnish", None), ("reactive", None)],
)
def test_each_finish_is_moved_by_the_drop_that_is_printed_for_it(finish: str, drop: int | None) -> None:
    """Magazine article on naming finishes for repair (read): wax, shellac, lacquer; varnish and reactive finishes by none."""
    for index, one in enumerate(drops(KNOWLEDGE)):
        assert (FINISHES[finish] in one.tells) is (index == drop)
    assert (FINISHES[finish] in unmoved(KNOWLEDGE)) is (drop is None)


@pytest.mark.parametrize(
    ("finish", "recoat", "hard_days"),
    [
        ("shellac", (0.5, 2), None),  # 30 min for early coats, 2 h later
        ("lacquer", (0.5, 1), 7),  # 30 min, by the other table 1 h; about a week
        ("oil_varnish", (24, 24), 30),
        ("water_borne", (2, 8), 20),
        ("drying_oil", (6, 24), None),  # 6 to 8 h, raw oil 24 h
        ("fast_oil_polyurethane", (72, 72), None),  # inside 2 h, or after 72 h
    ],
)
def test_recoat_and_hardening_are_as_printed(finish: str, recoat: tuple[float, float], hard_days: float | None) -> None:
    """Two published tables of drying times, as the reference folder gives them (§4.3); the can always wins."""
    one = FINISHES[finish]
    assert one.recoat_h == recoat
    assert one.known_by["recoat_h"] in ("read", "read_second_hand")
    assert hard_days is None or (one.hard_h == hard_days * 24 and one.known_by["hard_h"] == "read")
    assert finish != "fast_oil_polyurethane" or one.window_h == 2


def test_every_figure_of_every_finish_says_how_it_is_known() -> None:
    assert len(FINISHES) >= 12
    for finish in FINISHES.values():
        figures = {"spot_test", "coats", "recoat_h", "hard_h", "never_over"} | ({"window_h"} if finish.window_h else set())
        assert set(finish.known_by) == figures, finish.id
        low, high = build_days(finish)
        assert 0 < finish.hard_h / 24 <= low <= high


def test_nothing_goes_over_wax_and_lacquer_not_over_oil_varnish() -> None:
    for finish in FINISHES.values():
        if finish.id != "wax":
            assert not goes_over(finish, FINISHES["wax"]), finish.id
    assert not goes_over(FINISHES["lacquer"], FINISHES["oil_varnish"])
    assert goes_over(FINISHES["shellac"], FINISHES["lacquer"])
    assert all(other in FINISHES for finish in FINISHES.values() for other in finish.never_over)


def test_a_reading_names_the_finish_and_none_names_none() -> None:
    named = found(KNOWLEDGE, {"finish_kind": frozenset({"spirit_finish"})})
    assert FINISHES["shellac"] in named
    assert FINISHES["lacquer"] not in named
    assert found(KNOWLEDGE, {}) == ()
    readings = set(KNOWLEDGE.signs["finish_kind"].readings)
    assert all(found(KNOWLEDGE, {"finish_kind": frozenset({reading})}) for reading in readings)


@pytest.mark.parametrize("wood", ["eastern_white_pine", "yellow_poplar", "red_alder", "aspen"])
def test_a_wood_that_takes_stain_badly_gets_a_gel_stain(wood: str) -> None:
    """Flexner 2004: pine, poplar, alder and aspen are the worst; a gel stain works better than a conditioner."""
    assert KNOWLEDGE.woods[wood].blotch == "high"
    assert "gel stain" in said(wood)
    assert "180 and end grain to 220" in said(wood)


@pytest.mark.parametrize("wood", ["red_oak", "white_ash", "white_oak"])
def test_an_open_pored_wood_shows_its_figure_through_stain(wood: str) -> None:
    assert "shows its figure through stain" in said(wood)
    assert "gel stain" not in said(wood)


def test_every_wood_and_no_wood_at_all_begin_with_scrap() -> None:
    for wood in [None, *KNOWLEDGE.woods]:
        assert "offcut of the same wood" in said(wood), wood
    assert len(staining(KNOWLEDGE, None)) == 1
