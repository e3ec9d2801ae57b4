"""From a case to facts: conditions in three values, gates, greyed readings, computed readings, what follows from the piece."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import chain, combinations, product
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose import words
from diagnose.case.case import Answer, Case, Damage, moving
from diagnose.reasoning.facts import (
    Facts,
    case_values,
    closed,
    facts_of,
    gate_open,
    holds,
    may_apply,
    open_signs,
    satisfied,
    sign_order,
)
from diagnose.rulebase.entries import Line, When
from diagnose.rulebase.entries.when import parse_when
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.load import load_rules
from diagnose.rulebase.store import load_knowledge
from tests.rulebase.small import Change, small_rules

REAL = load_knowledge()
KEYS, VALUES = ("a", "b", "c"), ("x", "y")
Held = dict[str, frozenset[str]]
NEVER = When()


# Three values.


def some(*values: str) -> frozenset[str]:
    return frozenset(values)


@pytest.mark.parametrize(
    ("line", "held", "expected"),
    [
        (Line("a", ("x",)), None, None),
        (Line("a", ("x",)), some(), False),
        (Line("a", ("x",)), some("y"), False),
        (Line("a", ("x", "y")), some("y"), True),
        (Line("a", ("x", "y"), every=True), None, None),
        (Line("a", ("x", "y"), every=True), some("y"), False),
        (Line("a", ("x", "y"), every=True), some("y", "x", "z"), True),
        (Line("a", ("x",), every=True), some(), False),
    ],
)
def test_a_line(line: Line, held: frozenset[str] | None, expected: bool | None) -> None:
    assert holds(line, {} if held is None else {"a": held}) is expected


YES, NO, UNKNOWN = {"a": some("x")}, {"a": some("y")}, dict[str, frozenset[str]]()


@pytest.mark.parametrize(
    ("when", "values", "expected"),
    [
        ({"a": "x", "b": "x"}, YES, None),
        ({"a": "x", "b": "x"}, NO, False),
        ({"a": "x", "b": "x"}, {**YES, "b": some("x")}, True),
        ({"any": [{"a": "x"}, {"b": "x"}]}, YES, True),
        ({"any": [{"a": "x"}, {"b": "x"}]}, NO, None),
        ({"any": [{"a": "x"}, {"b": "x"}]}, {**NO, "b": some()}, False),
        ({"any": [{"a": "x", "b": "x"}, {"c": "x"}]}, {**YES, "c": some("y")}, None),
        ({"a": "x", "any": [{"b": "x"}]}, {**NO, "b": some("x")}, False),
        ({"a": "x", "any": [{"b": "x"}]}, {"b": some("x")}, None),
        ({"a": "x", "any": [{"b": "x"}]}, {"b": some("y")}, False),
    ],
)
def test_a_condition(when: dict[str, object], values: Held, expected: bool | None) -> None:
    assert satisfied(parse_when(when), values) is expected


@pytest.mark.parametrize(
    ("unless", "values", "expected"),
    [
        ({"a": "x", "b": "x"}, YES, True),
        ({"a": "x", "b": "x"}, NO, None),
        ({"a": "x", "b": "x"}, {**NO, "b": some("y")}, False),
        ({"any": [{"a": "x", "b": "x"}]}, YES, None),
        ({"any": [{"a": "x", "b": "x"}]}, NO, False),
        ({"any": [{"a": "x", "b": "x"}, {"c": "x"}]}, {"c": some("x")}, True),
        ({"c": "x", "any": [{"a": "x"}]}, {"c": some("y"), **YES}, True),
    ],
)
def test_an_unless(unless: dict[str, object], values: Held, expected: bool | None) -> None:
    assert closed(parse_when(unless), values) is expected


def test_no_condition_always_holds_and_no_unless_ever_closes() -> None:
    assert satisfied(NEVER, {}) is True
    assert closed(NEVER, {}) is False
    assert may_apply(NEVER, NEVER, {})


def test_what_is_unknown_may_apply() -> None:
    when, unless = parse_when({"a": "x"}), parse_when({"b": "x"})
    assert may_apply(when, unless, {})
    assert may_apply(when, unless, {**YES, "b": some("y")})
    assert not may_apply(when, unless, NO)
    assert not may_apply(when, unless, {"b": some("x")})


lines = st.builds(
    Line,
    st.sampled_from(KEYS),
    st.lists(st.sampled_from(VALUES), min_size=1, max_size=2, unique=True).map(tuple),
    st.booleans(),
)
conditions = st.builds(
    When,
    st.lists(lines, max_size=3).map(tuple),
    st.lists(st.lists(lines, min_size=1, max_size=2).map(tuple), max_size=2).map(tuple),
)
SUBSETS = [frozenset(s) for s in chain.from_iterable(combinations(VALUES, size) for size in range(3))]


def worlds(values: Held) -> Iterator[Held]:
    """Every way in which what is unknown may turn out."""
    unknown = [key for key in KEYS if key not in values]
    for held in product(SUBSETS, repeat=len(unknown)):
        yield {**values, **dict(zip(unknown, held, strict=True))}


def line_is_true(line: Line, world: Held) -> bool:
    matches = [value in world[line.key] for value in line.values]
    return all(matches) if line.every else any(matches)


def is_true(when: When, world: Held) -> bool:
    branches = any(all(line_is_true(line, world) for line in branch) for branch in when.branches)
    return all(line_is_true(line, world) for line in when.lines) and (branches or not when.branches)


def closes(unless: When, world: Held) -> bool:
    branches = any(all(line_is_true(line, world) for line in branch) for branch in unless.branches)
    return branches or any(line_is_true(line, world) for line in unless.lines)


@settings(max_examples=300, deadline=None, derandomize=True)
@given(conditions, st.dictionaries(st.sampled_from(KEYS), st.sampled_from(SUBSETS)))
def test_a_verdict_holds_however_the_unknown_turns_out(condition: When, values: Held) -> None:
    when, unless = satisfied(condition, values), closed(condition, values)
    for world in worlds(values):
        assert satisfied(condition, world) is is_true(condition, world)
        assert closed(condition, world) is closes(condition, world)
        assert when in (None, is_true(condition, world))
        assert unless in (None, closes(condition, world))
    if len(values) == len(KEYS):
        assert when is not None
        assert unless is not None


def test_what_a_fact_may_be_answers_where_every_possibility_agrees() -> None:
    """The joint of the map is a tenon or dowels: it is not screwed, and whether it is dowels is open."""
    values = {"joint?": some("mortise_and_tenon", "dowel")}
    for wanted, expected in (
        (("dowel",), None),
        (("screwed", "bolted"), False),
        (("dowel", "mortise_and_tenon", "screwed"), True),
        (("dowel", "screwed"), None),
    ):
        verdicts = {holds(Line("joint", wanted), {"joint": some(one)}) for one in values["joint?"]}
        assert holds(Line("joint", wanted), values) is expected
        assert expected is None or verdicts == {expected}
    assert Facts(values, {}).tokens() == ()


# Gates and greyed readings, on the small rule base: faces_carry opens once break_path is read along the glue line.


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Knowledge:
    folder, _ = small_rules(tmp_path_factory.mktemp("small"))
    return load_rules(folder).knowledge()


def chair(kind: str = "loose", joints: dict[str, str] | None = None, **readings: Answer) -> tuple[Case, Damage]:
    damage = Damage(id="a", kind=kind, part="side_rail", readings=readings)
    return Case(piece="side_chair", joints=joints or {}, damages=(damage,)), damage


def facts(knowledge: Knowledge, kind: str = "loose", joints: dict[str, str] | None = None, **readings: Answer) -> Facts:
    return facts_of(knowledge, *chair(kind, joints, **readings))


ALONG, ACROSS = Answer(("along_glue_line",)), Answer(("across_part",))
FINISH, NONE_OF_THESE = Answer(("finish",)), Answer(())
CANNOT_TELL = Answer((), cannot_tell=True)


def test_a_gate_about_a_sign_must_be_answered_and_hold(small: Knowledge) -> None:
    sign = small.signs["faces_carry"]
    for held, is_open in ((None, False), (some(), False), (some("across_part"), False), (some("along_glue_line"), True)):
        values = {} if held is None else {"break_path": held}
        assert gate_open(sign, values) is is_open


def test_a_gate_about_the_case_may_be_unknown(small: Knowledge) -> None:
    sign = small.signs["break_path"]
    assert gate_open(sign, {})
    assert gate_open(sign, {"damage": some("split")})
    assert not gate_open(sign, {"damage": some("insect")})


def test_a_reading_behind_an_open_gate_counts(small: Knowledge) -> None:
    found = facts(small, break_path=ALONG, faces_carry=FINISH)
    assert found.values["faces_carry"] == some("finish")
    assert list(found.counted) == ["break_path", "faces_carry"]
    assert found.greyed == ()
    assert "faces_carry=finish" in found.tokens()


@pytest.mark.parametrize("gate", [None, ACROSS, CANNOT_TELL])
def test_a_reading_behind_a_closed_gate_is_greyed_and_not_counted(small: Knowledge, gate: Answer | None) -> None:
    found = facts(small, faces_carry=FINISH) if gate is None else facts(small, faces_carry=FINISH, break_path=gate)
    assert found.greyed == ("faces_carry",)
    assert "faces_carry" not in found.values
    assert "faces_carry" not in found.counted


def test_a_gate_closed_by_the_case_greys_all_that_hangs_on_it(small: Knowledge) -> None:
    found = facts(small, "insect", break_path=ALONG, faces_carry=FINISH)
    assert found.greyed == ("break_path", "faces_carry")
    assert found.counted == {}


def test_taking_the_answer_back_opens_the_reading_again(small: Knowledge) -> None:
    case, damage = chair(break_path=ACROSS, faces_carry=FINISH)
    assert facts_of(small, case, damage).greyed == ("faces_carry",)
    again = case.with_answer("a", "break_path", ALONG)
    assert facts_of(small, again, again.damage("a")).counted["faces_carry"] == FINISH
    gone = again.with_answer("a", "faces_carry", None)
    assert "faces_carry" not in facts_of(small, gone, gone.damage("a")).values


def test_an_unless_closes_a_sign(tmp_path: Path) -> None:
    change = Change(
        "signs/break.yaml", "look: Slide feeler leaves", "unless: {break_path: across_part}\n    look: Slide feeler leaves"
    )
    folder, _ = small_rules(tmp_path, change)
    knowledge = load_rules(folder).knowledge()
    gap = Answer(("snug",))
    assert facts(knowledge, joint_gap=gap).counted == {"joint_gap": gap}
    assert facts(knowledge, joint_gap=gap, break_path=ALONG).greyed == ()
    assert facts(knowledge, joint_gap=gap, break_path=ACROSS).greyed == ("joint_gap",)


def test_a_gate_of_branches(tmp_path: Path) -> None:
    change = Change(
        "signs/break.yaml",
        "look: Slide feeler leaves",
        "when: {any: [{creaks: yes, damage: loose}, {fell_over: yes}]}\n    look: Slide feeler leaves",
    )
    folder, _ = small_rules(tmp_path, change)
    knowledge = load_rules(folder).knowledge()
    gap, yes, no = Answer(("snug",)), Answer(("yes",)), Answer(("no",))
    assert facts(knowledge, joint_gap=gap).greyed == ("joint_gap",)
    assert facts(knowledge, joint_gap=gap, creaks=yes).greyed == ()
    assert facts(knowledge, "split", joint_gap=gap, creaks=yes).greyed == ("joint_gap",)
    assert facts(knowledge, joint_gap=gap, creaks=no, fell_over=yes).greyed == ()
    assert gate_open(knowledge.signs["joint_gap"], {"creaks": some("yes")}), "what the damage is may be unknown"


def test_none_of_these_is_known_and_empty(small: Knowledge) -> None:
    found = facts(small, break_path=ALONG, faces_carry=NONE_OF_THESE)
    assert found.values["faces_carry"] == some()
    assert found.counted["faces_carry"] == NONE_OF_THESE
    assert not any(token.startswith("faces_carry") for token in found.tokens())
    assert satisfied(parse_when({"faces_carry": "finish"}), found.values) is False
    assert closed(parse_when({"faces_carry": ["finish", "old_glue"]}), found.values) is False


def test_cannot_tell_is_unknown_and_counts_nowhere(small: Knowledge) -> None:
    found = facts(small, break_path=ALONG, faces_carry=CANNOT_TELL)
    assert "faces_carry" not in found.values
    assert "faces_carry" not in found.counted
    assert found.greyed == ()
    assert satisfied(parse_when({"faces_carry": "finish"}), found.values) is None


def test_open_signs_are_those_not_answered_nor_passed_over(small: Knowledge) -> None:
    case, damage = chair(break_path=ALONG, creaks=CANNOT_TELL)
    found = facts_of(small, case, damage)
    names = [sign.id for sign in open_signs(small, case, damage, found)]
    assert names == ["joint_gap", "faces_carry", "fell_over", "leaned_back", "refinished"]
    case, damage = chair("insect")
    names = [sign.id for sign in open_signs(small, case, damage, facts_of(small, case, damage))]
    assert "break_path" not in names
    assert "faces_carry" not in names


def test_an_answer_about_the_piece_counts_for_every_damage(small: Knowledge) -> None:
    yes = Answer(("yes",), by="owner")
    one, two = Damage(id="a", kind="loose"), Damage(id="b", kind="split", readings={"creaks": Answer(("no",))})
    case = Case(piece="side_chair", readings={"leaned_back": yes}, damages=(one, two))
    assert facts_of(small, case, one).counted == {"leaned_back": yes}
    assert set(facts_of(small, case, two).counted) == {"leaned_back", "creaks"}


def test_adding_a_reading_leaves_the_facts_as_they_were(small: Knowledge) -> None:
    found = facts(small, break_path=ALONG, faces_carry=FINISH)
    more = found.adding("faces_carry", "old_glue")
    assert more.values["faces_carry"] == some("finish", "old_glue")
    assert found.values["faces_carry"] == some("finish")
    assert found.adding("new", "x").values["new"] == some("x")


# Readings that are worked out.

BOTH = ("left_rail_to_back_leg", "right_rail_to_back_leg")


@pytest.mark.parametrize(
    ("states", "expected"),
    [
        ((None, None), None),
        (("tight", None), None),
        (("tight", "tight"), "none"),
        (("tight", "cannot_be_reached"), "none"),
        (("moves", "tight"), "one"),
        (("moves", "not_tried"), None),
        (("open", "broken"), "two"),
    ],
)
def test_the_joint_map_is_a_reading(small: Knowledge, states: tuple[str | None, ...], expected: str | None) -> None:
    joints = {joint: state for joint, state in zip(BOTH, states, strict=True) if state is not None}
    found = facts(small, joints=joints)
    if expected is None:
        assert "moving_joints" not in found.values
        assert "moving_joints" not in found.counted
    else:
        assert found.values["moving_joints"] == some(expected)
        assert found.counted["moving_joints"] == Answer((expected,), by="measured")


def test_three_that_move_are_enough_though_the_rest_was_not_tried() -> None:
    piece = REAL.pieces["side_chair"]
    names = [joint.id for joint in piece.joints]
    case = Case(piece="side_chair", joints=dict.fromkeys(names[:3], "moves"))
    assert moving(case, piece) == "three_or_more"
    assert moving(Case(piece="side_chair", joints=dict.fromkeys(names[:2], "moves")), piece) is None
    every = dict.fromkeys(names, "tight") | dict.fromkeys(names[:2], "open")
    assert moving(Case(piece="side_chair", joints=every), piece) == "two"


def test_what_the_case_states_wins_over_what_is_worked_out(small: Knowledge) -> None:
    damage = Damage(id="a", kind="loose", part="side_rail", facts={"moving_joints": "three_or_more", "joint": "screwed"})
    case = Case(piece="side_chair", joints=dict.fromkeys(BOTH, "tight"), damages=(damage,))
    found = facts_of(small, case, damage)
    assert found.counted["moving_joints"] == Answer(("three_or_more",), by="measured")
    assert found.values["joint"] == some("screwed")


def test_a_computed_reading_is_given_from_outside_and_never_from_an_answer(small: Knowledge) -> None:
    case, damage = chair(moving_joints=Answer(("two",)))
    assert "moving_joints" not in facts_of(small, case, damage).values
    name = next(sign.id for sign in REAL.signs.values() if sign.computed is not None and sign.computed.by == "strength_ratio")
    reading = next(iter(REAL.signs[name].readings))
    case = Case(piece="side_chair", damages=(Damage(id="a", kind="broken", readings={name: Answer((reading,))}),))
    assert name not in facts_of(REAL, case, case.damages[0]).values
    found = facts_of(REAL, case, case.damages[0], {name: reading})
    assert found.values[name] == some(reading)
    assert found.counted[name] == Answer((reading,), by="measured")


# What follows from the piece alone.


@pytest.mark.parametrize(
    ("piece", "carries", "expected"),
    [
        ("side_chair", "person", "somebody_falls"),
        ("stool", "person", "somebody_falls"),
        ("side_chair", "locates", "nuisance"),
        ("bar_stool", "locates", "nuisance"),
        ("table", "goods", "goods"),
    ],
)
def test_what_happens_if_it_goes(piece: str, carries: str, expected: str) -> None:
    kind = REAL.pieces[piece]
    part = next((name for name, part in kind.parts.items() if part.carries == carries), None)
    damage = Damage(id="a", kind="loose", part=part, facts={} if part else {"carries": carries})
    values = case_values(REAL, Case(piece=piece, damages=(damage,)), damage)
    assert values["carries"] == some(carries)
    assert values["consequence"] == some(expected)
    assert expected in words.CONSEQUENCES


def outcomes(knowledge: Knowledge, piece: str) -> dict[str, frozenset[str]]:
    """What happens if a part goes, by what the part carries."""
    found: dict[str, frozenset[str]] = {}
    for name, part in knowledge.pieces[piece].parts.items():
        damage = Damage(id="a", kind="loose", part=name)
        found[part.carries] = case_values(knowledge, Case(piece=piece, damages=(damage,)), damage)["consequence"]
    return found


def test_what_carries_a_person_standing_or_climbing_is_a_fall_from_height() -> None:
    stool = REAL.pieces["stool"].model_copy(update={"healthy_load": "a_person_standing_or_climbing"})
    climbed = replace(REAL, pieces={**REAL.pieces, "stool": stool})
    assert outcomes(climbed, "stool")["person"] == some("fall_from_height_or_child")
    assert outcomes(climbed, "stool")["locates"] == some("nuisance")
    assert outcomes(REAL, "stool")["person"] == some("somebody_falls")


def test_from_a_bar_stool_one_falls_from_a_height() -> None:
    assert outcomes(REAL, "bar_stool")["person"] == some("fall_from_height_or_child")


def test_without_a_part_the_gravest_is_taken() -> None:
    """A bar stool's part may carry somebody high up; of a joint that is told only its own parts count; a scratch lets nobody fall."""
    damage = Damage(id="a", kind="loose")
    values = case_values(REAL, Case(piece="bar_stool", damages=(damage,)), damage)
    assert values["consequence"] == {"fall_from_height_or_child"}
    assert "carries" not in values
    drawer = Damage(id="a", kind="loose", joint="drawer_bottoms_to_drawers")
    chest = case_values(REAL, Case(piece="chest_of_drawers", damages=(drawer,)), drawer)
    assert chest["consequence"] == {"goods"}
    scratch = Damage(id="a", kind="surface")
    assert case_values(REAL, Case(piece="bar_stool", damages=(scratch,)), scratch)["consequence"] == {"looks"}
    worn = Damage(id="a", kind="surface", part="leg")
    assert case_values(REAL, Case(piece="bar_stool", damages=(worn,)), worn)["consequence"] == {"looks"}


@pytest.mark.parametrize("consequence", list(words.CONSEQUENCES))
def test_a_stated_consequence_wins(consequence: str) -> None:
    part = next(name for name, part in REAL.pieces["bar_stool"].parts.items() if part.carries == "person")
    damage = Damage(id="a", kind="loose", part=part, facts={"consequence": consequence})
    assert case_values(REAL, Case(piece="bar_stool"), damage)["consequence"] == some(consequence)


def test_what_a_part_is_said_to_carry_decides_what_happens() -> None:
    part = next(name for name, part in REAL.pieces["bar_stool"].parts.items() if part.carries == "person")
    damage = Damage(id="a", kind="loose", part=part, facts={"carries": "shows"})
    assert case_values(REAL, Case(piece="bar_stool"), damage)["consequence"] == some("looks")


def test_the_wider_words_for_piece_and_wood_hold_as_well() -> None:
    wood = next(iter(REAL.woods.values()))
    damage = Damage(id="a", kind="loose")
    values = case_values(REAL, Case(piece="bar_stool", wood=wood.id), damage)
    assert values["piece"] == some("bar_stool", "stool")
    assert values["wood"] == some(wood.id, wood.group)
    assert values["damage"] == some("loose")


def test_every_gate_comes_after_the_signs_it_asks_about() -> None:
    order = sign_order(REAL)
    assert sorted(order) == sorted(REAL.signs)
    place = {name: index for index, name in enumerate(order)}
    gated = 0
    for sign in REAL.signs.values():
        for key in (sign.when.keys() | sign.unless.keys()) & set(REAL.signs):
            assert place[key] < place[sign.id]
            gated += 1
    assert gated > 10
