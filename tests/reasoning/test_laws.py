"""Laws of the belief, on the rule base as delivered and on the worked case, over the fixed list of sets of up to three.

No outside figures are needed: the laws are those of probability itself (Kolmogorov; the mean of the posteriors over the
answers to a question not yet asked is the present belief), and those the design sets: order means nothing, "can't tell"
leaves the belief alone to the last bit, a damage about which nothing is known says nothing of another, and causes that
reach the whole piece tie its damages together. The tie is held against a plain sum over pairs of sets.
"""

import itertools
import math
import random
import shutil
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields, replace
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from diagnose import house, words
from diagnose.assess import Assessment, assess
from diagnose.case.case import Answer, Case, Damage
from diagnose.decision.strength import computed_readings
from diagnose.reasoning.believe import Belief, answer_tables, believe, heard
from diagnose.reasoning.context import model_for
from diagnose.reasoning.facts import facts_of, open_signs
from diagnose.reasoning.model import LARGEST_SET, Array, Model, build_model
from diagnose.rulebase.entries import Sign
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.load import load_rules
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop
from tests import worked

TODAY = date(2026, 3, 2)
SHOP = Shop()
ORDER = 1e-12
MEAN = 1e-9


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    """The rule base as delivered."""
    return load_knowledge()


def random_answer(rng: random.Random, sign: Sign) -> Answer:
    """Any reading of a sign, from anybody, sure or not."""
    by, unsure = rng.choice(list(words.SPEAKERS)), rng.random() < 0.2
    if sign.kind == "tick_all":
        return Answer(tuple(name for name in sign.readings if rng.random() < 0.3), by, unsure)
    return Answer((rng.choice(list(sign.readings)),), by, unsure)


def answer_at_random(knowledge: Knowledge, rng: random.Random, case: Case, damage_id: str, most: int) -> Case:
    """The case with up to `most` more answers about a damage, each to a question whose gate stands open by then."""
    for _ in range(rng.randint(0, most)):
        damage = case.damage(damage_id)
        able = open_signs(knowledge, case, damage, facts_of(knowledge, case, damage))
        if not able:
            break
        sign = rng.choice(able)
        case = case.with_answer(None if sign.of == "piece" else damage_id, sign.id, random_answer(rng, sign))
    return case


def random_case(knowledge: Knowledge, rng: random.Random, damages: int = 1, most: int = 14) -> Case:
    """A case of any piece, damages of any kind anywhere on it, its joint map partly filled, and answers at random."""
    piece = knowledge.pieces[rng.choice(sorted(knowledge.pieces))]
    places = [(joint.id, part) for joint in piece.joints for part in joint.joins]
    found = []
    for number in range(damages):
        joint, part = rng.choice(places)
        named = rng.random()
        found.append(
            Damage(
                "abc"[number],
                rng.choice(sorted(words.DAMAGES)),
                part=part if named < 0.9 else None,
                joint=joint if named > 0.2 else None,
            )
        )
    states = list(words.JOINT_STATES)
    case = Case(
        piece=piece.id,
        wood=rng.choice([None, *sorted(knowledge.woods)]),
        value=rng.choice([None, 40.0, 400.0, 4000.0]),
        joints={joint.id: rng.choice(states) for joint in piece.joints if rng.random() < rng.choice([0.0, 0.5, 1.0])},
        damages=tuple(found),
    )
    for damage in found:
        case = answer_at_random(knowledge, rng, case, damage.id, most)
    return case


def beliefs(knowledge: Knowledge, case: Case, only: Sequence[str] = ()) -> dict[str, Belief]:
    """The belief of every damage, without the decision that `assess` goes on to make (the two are compared below)."""
    found = {}
    for damage in case.damages:
        computed = computed_readings(knowledge, case, damage, facts_of(knowledge, case, damage))
        facts = facts_of(knowledge, case, damage, computed)
        model = model_for(knowledge, facts, only)
        found[damage.id] = (model, answer_tables(knowledge.scale, model, facts.counted))
    own = {
        name: (model, {sign: like for sign, like in tables.items() if knowledge.signs[sign].of == "damage"})
        for name, (model, tables) in found.items()
    }
    return {
        name: believe(model, tables, heard(model, [said for other, said in own.items() if other != name]))
        for name, (model, tables) in found.items()
    }


def by_set(belief: Belief) -> dict[frozenset[str], float]:
    """P(set) by the names in it."""
    names = np.array(belief.model.names)
    sets = (frozenset(names[row > 0].tolist()) for row in belief.model.members)
    return dict(zip(sets, belief.posterior.tolist(), strict=True))


def assert_same(one: Mapping[frozenset[str], float], other: Mapping[frozenset[str], float]) -> None:
    """The same sets, with the same probabilities to 1e-12."""
    assert one.keys() == other.keys()
    assert max(abs(one[chosen] - other[chosen]) for chosen in one) <= ORDER


# ---- probabilities are probabilities


def assert_probabilities(belief: Belief) -> None:
    """Finite, in [0, 1], summing to 1; at most three causes at once."""
    assert np.isfinite(belief.posterior).all()
    assert (belief.posterior >= 0).all()
    assert belief.posterior.sum() == pytest.approx(1.0, abs=1e-12)
    assert belief.model.members.sum(axis=1).max(initial=0) <= LARGEST_SET
    for share in (*belief.causes.values(), belief.something_else):
        assert 0.0 <= share <= 1.0 + 1e-12
    least = 1.0 - belief.something_else
    assert least - 1e-9 <= sum(belief.causes.values()) <= LARGEST_SET * least + 1e-9


def assert_tables(model: Model) -> None:
    """What every set shows: one reading shares out 1 whatever the error, every yes/no lies in [0, 1]."""
    for table in model.tables.values():
        assert np.isfinite(table.like).all()
        assert (table.like >= 0).all()
        assert (table.like <= 1 + 1e-12).all()
        if not table.each_alone:
            assert np.allclose(table.like.sum(axis=1), 1.0, rtol=0, atol=1e-12)
        for error in (0.02, 0.1, 0.4):
            answers, likes = table.outcomes(error)
            assert len(set(answers)) == len(answers)
            assert np.allclose(likes.sum(axis=0), 1.0, rtol=0, atol=1e-12), table.sign.id


@pytest.mark.parametrize("seed", range(40))
def test_probabilities_of_random_cases(knowledge: Knowledge, seed: int) -> None:
    rng = random.Random(f"probabilities {seed}")
    case = random_case(knowledge, rng, damages=1 + seed % 2, most=25)
    for damage in assess(case, knowledge, SHOP, TODAY).damages:
        assert_probabilities(damage.belief)
        for option in damage.decision.options:
            assert 0.0 <= option.fails_again <= 1.0 + 1e-12
            assert math.isfinite(option.cost)
        for weights in damage.weights.values():
            assert all(math.isfinite(weight) for weight in weights.values())
        assert damage.conflict is None or 0.0 < damage.conflict.bits < math.inf
        for question in damage.questions.ranked:
            assert question.value >= 0.0
            assert 0.0 <= question.chance <= 1.0
        shown = damage.belief.explanations(4)
        assert [share for _, share in shown] == sorted((share for _, share in shown), reverse=True)


@pytest.mark.parametrize("seed", range(6))
def test_the_beliefs_held_to_these_laws_are_those_of_an_assessment(knowledge: Knowledge, seed: int) -> None:
    case = random_case(knowledge, random.Random(f"assessed {seed}"), damages=1 + seed % 3)
    assessed = {d.damage.id: d.belief.posterior.tolist() for d in assess(case, knowledge, SHOP, TODAY).damages}
    assert assessed == {name: belief.posterior.tolist() for name, belief in beliefs(knowledge, case).items()}


def test_what_is_shown_shares_out_one(knowledge: Knowledge) -> None:
    seen = set()
    for kind in words.DAMAGES:
        case = Case(sorted(knowledge.pieces)[0], damages=(Damage("a", kind),))
        model = model_for(knowledge, facts_of(knowledge, case, case.damages[0]))
        if not model.causes:
            continue  # nothing known can cause this kind of damage on such a piece: it is something else for certain
        seen |= {table.sign.kind for table in model.tables.values()}
        assert_tables(model)
        assert model.prior.sum() == pytest.approx(1.0, abs=1e-12)
        assert model.prior[0] == pytest.approx(knowledge.scale.something_else, abs=1e-15)
        assert model.odds.sum() == pytest.approx(knowledge.scale.together, abs=1e-12)
    assert seen == {"choose_one", "measure", "yes_no", "tick_all"}


def worked_answers() -> Iterator[dict[str, Answer]]:
    """Every way to answer the worked case: a reading, some ticks or nothing for each sign; sure or unsure."""
    ways: list[list[tuple[str, ...] | None]] = []
    for sign in worked.SIGNS:
        single: list[tuple[str, ...] | None] = [None, *((reading,) for reading in sign.readings)]
        if sign.kind == "tick_all":
            single += [(), tuple(sign.readings)]
        ways.append(single)
    for chosen, unsure in itertools.product(itertools.product(*ways), (False, True)):
        named = zip(worked.SIGNS, chosen, strict=True)
        yield {sign.id: Answer(reads, unsure=unsure) for sign, reads in named if reads is not None}


def test_probabilities_of_every_answer_to_the_worked_case() -> None:
    model = worked.model()
    assert_tables(model)
    count = 0
    for answers in worked_answers():
        assert_probabilities(believe(model, answer_tables(worked.SCALE, model, answers)))
        count += 1
    assert count == 2 * 4 * 5 * 4 * 3 * 5


# ---- order means nothing


def shuffled(knowledge: Knowledge, rng: random.Random) -> Knowledge:
    """The same rule base with its entries in another order; another version, since rulebooks are kept by it."""
    mixed: dict[str, Any] = {}
    for field in fields(knowledge):
        entries = getattr(knowledge, field.name)
        if isinstance(entries, Mapping):
            names = list(entries)
            rng.shuffle(names)
            mixed[field.name] = {name: entries[name] for name in names}
    return replace(knowledge, version=f"{knowledge.version}-{rng.random()}", **mixed)


def turned(readings: Mapping[str, Answer], rng: random.Random) -> dict[str, Answer]:
    """The same answers, given in another order."""
    names = list(readings)
    rng.shuffle(names)
    return {name: readings[name] for name in names}


def assert_same_assessment(one: Assessment, other: Assessment) -> None:
    """Belief, costs, verdicts, findings, triage and the worth of every question agree, whatever order they come in."""
    assert one.triage == other.triage
    assert set(one.findings) == set(other.findings)
    assert set(one.cautions) == set(other.cautions)
    assert one.piece_decision == other.piece_decision
    there = {damage.damage.id: damage for damage in other.damages}
    assert len(there) == len(one.damages)
    for here in one.damages:
        that = there[here.damage.id]
        assert_same(by_set(here.belief), by_set(that.belief))
        assert here.belief.causes == pytest.approx(that.belief.causes, abs=ORDER)
        assert here.decision.method == that.decision.method
        options = {o.method: o for o in that.decision.options}
        assert {o.method for o in here.decision.options} == options.keys()
        for option in here.decision.options:
            assert option.verdict == options[option.method].verdict
            assert option.cost == pytest.approx(options[option.method].cost, rel=ORDER)
        assert set(here.decision.provided_that) == set(that.decision.provided_that)
        assert here.decision.settled == that.decision.settled
        assert here.questions.stop == that.questions.stop
        asked = {q.sign: (q.value, q.minutes, q.chance) for q in that.questions.ranked}
        assert {q.sign for q in here.questions.ranked} == asked.keys()
        for question in here.questions.ranked:
            now = (question.value, question.minutes, question.chance)
            assert now == pytest.approx(asked[question.sign], abs=1e-9), question.sign
        reasons = {q.sign: q.reason for q in that.questions.ranked}
        assert {q.sign: q.reason for q in here.questions.ranked} == reasons
        # Hazards are looked for in the order in which the rule base names them; all others by what they are worth.
        later = [q.sign for q in that.questions.ranked if q.reason != "hazard"]
        assert [q.sign for q in here.questions.ranked if q.reason != "hazard"] == later
        assert here.weights.keys() == that.weights.keys()
        for sign, weights in here.weights.items():
            assert weights == pytest.approx(that.weights[sign], abs=1e-9)


@pytest.mark.parametrize("seed", range(12))
def test_order_of_entries(knowledge: Knowledge, seed: int) -> None:
    rng = random.Random(f"entries {seed}")
    case = random_case(knowledge, rng, damages=1 + seed % 2)
    mixed = shuffled(knowledge, rng)
    assert list(mixed.causes) != list(knowledge.causes)
    assert_same_assessment(assess(case, knowledge, SHOP, TODAY), assess(case, mixed, SHOP, TODAY))


def test_order_of_files(knowledge: Knowledge, tmp_path: Path) -> None:
    """The files of every folder renamed so that they are read in the opposite order."""
    copy = tmp_path / "rules"
    shutil.copytree(house.rules_folder(), copy)
    for folder in (path for path in copy.iterdir() if path.is_dir() and path.name != "materials"):
        files = sorted(path for path in folder.glob("*.yaml") if not path.name.endswith(".cases.yaml"))
        for rank, path in enumerate(reversed(files)):
            path.rename(path.with_name(f"{rank:02}_{path.name}"))
    loaded = load_rules(copy)
    assert loaded.faults == []
    other = loaded.knowledge()
    assert list(other.causes) != list(knowledge.causes)
    assert other.causes == knowledge.causes
    rng = random.Random("files")
    for number in range(6):
        case = random_case(knowledge, rng, damages=1 + number % 2)
        assert_same_assessment(assess(case, knowledge, SHOP, TODAY), assess(case, other, SHOP, TODAY))


@pytest.mark.parametrize("seed", range(12))
def test_order_of_answers_and_damages(knowledge: Knowledge, seed: int) -> None:
    rng = random.Random(f"answers {seed}")
    case = random_case(knowledge, rng, damages=2 + seed % 2, most=8)
    damages = [replace(damage, readings=turned(damage.readings, rng)) for damage in case.damages]
    other = replace(case, readings=turned(case.readings, rng), damages=tuple(reversed(damages)))
    assert_same_assessment(assess(case, knowledge, SHOP, TODAY), assess(other, knowledge, SHOP, TODAY))


@pytest.mark.parametrize("seed", range(10))
def test_order_in_the_worked_case(seed: int) -> None:
    rng = random.Random(seed)
    causes = rng.sample(list(zip(worked.CAUSES, worked.ODDS, strict=True)), len(worked.CAUSES))
    signs = rng.sample(worked.SIGNS, len(worked.SIGNS))
    other = build_model(worked.SCALE, [cause for cause, _ in causes], [odd for _, odd in causes], signs)
    model = worked.model()
    plain = believe(model, answer_tables(worked.SCALE, model, worked.ANSWERS))
    mixed = believe(other, answer_tables(worked.SCALE, other, turned(worked.ANSWERS, rng)))
    assert other.names != model.names or seed == 0
    assert_same(by_set(plain), by_set(mixed))
    assert plain.causes == pytest.approx(mixed.causes, abs=ORDER)


# ---- what is not known leaves the belief alone


@pytest.mark.parametrize("seed", range(12))
def test_cannot_tell_changes_nothing(knowledge: Knowledge, seed: int) -> None:
    """Said of one open question, and then of all of them: the same posterior to the last bit, for every damage."""
    rng = random.Random(f"cannot tell {seed}")
    case = random_case(knowledge, rng, damages=1 + seed % 2, most=8)
    before = {name: belief.posterior.tolist() for name, belief in beliefs(knowledge, case).items()}
    damage = case.damages[0]
    able = open_signs(knowledge, case, damage, facts_of(knowledge, case, damage))
    assert able
    said = case
    for number, sign in enumerate(rng.sample(able, len(able))):
        where = None if sign.of == "piece" else damage.id
        nothing = Answer((), by=rng.choice(list(words.SPEAKERS)), unsure=rng.random() < 0.5, cannot_tell=True)
        said = said.with_answer(where, sign.id, nothing)
        if number == 0:
            after = {name: belief.posterior.tolist() for name, belief in beliefs(knowledge, said).items()}
            assert after == before, sign.id
    after = {name: belief.posterior.tolist() for name, belief in beliefs(knowledge, said).items()}
    assert after == before


def assert_mean_is_now(belief: Belief, scale_error: float, sign_id: str) -> None:
    """Over all answers to a question not yet asked, weighed by chance, the posteriors average to the belief now."""
    model = belief.model
    answers, _ = model.tables[sign_id].outcomes(scale_error)
    mean, chances = np.zeros(model.sets), 0.0
    for reads in answers:
        like = model.tables[sign_id].likelihood(reads, scale_error)
        chance = float(belief.posterior @ like)
        then = believe(model, {**belief.answered, sign_id: like}, belief.message)
        mean += chance * then.posterior
        chances += chance
    assert chances == pytest.approx(1.0, abs=MEAN)
    assert np.abs(mean - belief.posterior).max() <= MEAN


@pytest.mark.parametrize("seed", range(10))
def test_the_mean_over_the_answers_is_the_present_belief(knowledge: Knowledge, seed: int) -> None:
    rng = random.Random(f"mean {seed}")
    case = random_case(knowledge, rng, damages=1 + seed % 2, most=8)
    for belief in beliefs(knowledge, case).values():
        unasked = sorted(set(belief.model.tables) - set(belief.answered))
        assert unasked
        for sign_id in rng.sample(unasked, min(12, len(unasked))):
            assert_mean_is_now(belief, knowledge.scale.off_by[rng.choice(["sure", "owner", "unsure"])], sign_id)


def test_the_mean_over_the_answers_of_every_kind_of_sign(knowledge: Knowledge) -> None:
    case = random_case(knowledge, random.Random("kinds"), most=6)
    (belief,) = beliefs(knowledge, case).values()
    unasked = {name: table for name, table in belief.model.tables.items() if name not in belief.answered}
    kinds = {table.sign.kind: sign_id for sign_id, table in unasked.items()}
    assert len(kinds) == 4
    for sign_id in kinds.values():
        assert_mean_is_now(belief, knowledge.scale.off_by["sure"], sign_id)


def test_the_mean_over_the_answers_in_the_worked_case() -> None:
    model = worked.model()
    for count, answers in enumerate(worked_answers()):
        unasked = [sign.id for sign in worked.SIGNS if sign.id not in answers]
        if count % 29 or not unasked:
            continue
        belief = believe(model, answer_tables(worked.SCALE, model, answers))
        for sign_id in unasked:
            assert_mean_is_now(belief, 0.02, sign_id)


# ---- several damages


@pytest.mark.parametrize("seed", range(12))
def test_a_damage_about_which_nothing_is_known_says_nothing(knowledge: Knowledge, seed: int) -> None:
    """Answers about the piece and one damage: another, bare or answered "can't tell", moves the first not at all."""
    rng = random.Random(f"bare {seed}")
    case = random_case(knowledge, rng, damages=1, most=10)
    first = case.damages[0]
    kind = rng.choice(["loose", first.kind])
    bare = replace(first, id="b", kind=kind, readings={})
    alone = beliefs(knowledge, case)[first.id].posterior.tolist()
    both = replace(case, damages=(first, bare))
    assert beliefs(knowledge, both)[first.id].posterior.tolist() == alone
    able = [s for s in open_signs(knowledge, both, bare, facts_of(knowledge, both, bare)) if s.of == "damage"]
    for sign in rng.sample(able, min(4, len(able))):
        both = both.with_answer("b", sign.id, Answer((), cannot_tell=True))
    assert able
    assert beliefs(knowledge, both)[first.id].posterior.tolist() == alone


def reaching(knowledge: Knowledge) -> list[str]:
    """Causes that reach the whole piece."""
    return [cause.id for cause in knowledge.causes.values() if cause.reaches == "piece"]


def two(knowledge: Knowledge, first: str, second: str) -> Case:
    """Damages a and b of these kinds at two joints of one piece."""
    for piece in sorted(knowledge.pieces.values(), key=lambda piece: piece.id):
        if len(piece.joints) > 1:
            one, other = piece.joints[:2]
            here = Damage("a", first, part=one.joins[0], joint=one.id)
            there = Damage("b", second, part=other.joins[0], joint=other.id)
            return Case(piece.id, damages=(here, there))
    raise AssertionError("no piece has two joints")


def readings_of_a(knowledge: Knowledge, case: Case) -> list[tuple[Sign, Case]]:
    """Every single reading that could be given now on damage a, and the case with it."""
    damage = case.damage("a")
    signs = open_signs(knowledge, case, damage, facts_of(knowledge, case, damage))
    return [
        (sign, case.with_answer("a", sign.id, Answer((reading,))))
        for sign in signs
        if sign.of == "damage"
        for reading in sign.readings
    ]


@pytest.mark.parametrize("kind", ["loose", "rocks", "split"])
def test_causes_that_reach_the_piece_tie_two_damages(knowledge: Knowledge, kind: str) -> None:
    """Two damages of one kind: what speaks on one for a piece-wide cause raises it in the other, and the other way round."""
    case = two(knowledge, kind, kind)
    before = beliefs(knowledge, case)
    wide = [name for name in reaching(knowledge) if name in before["a"].model.names and name in before["b"].model.names]
    speaking = [
        (sign, told)
        for sign, told in readings_of_a(knowledge, case)
        if any(sign.id in knowledge.causes[cause].shows for cause in wide)
    ]
    raised: set[str] = set()
    lowered: set[str] = set()
    for sign, told in random.Random(kind).sample(speaking, min(40, len(speaking))):
        after = beliefs(knowledge, told)
        for cause in (name for name in wide if sign.id in knowledge.causes[name].shows):
            here = after["a"].causes[cause] - before["a"].causes[cause]
            there = after["b"].causes[cause] - before["b"].causes[cause]
            if abs(here) > 0.01:
                assert there * here > 0, (cause, told.damages[0].readings)
                assert abs(there) > 1e-4, (cause, told.damages[0].readings)
                (raised if here > 0 else lowered).add(cause)
    assert raised == set(wide)
    assert lowered


def test_the_tie_between_damages_of_different_kinds(knowledge: Knowledge) -> None:
    """Where two damages share just one piece-wide cause, every reading on the one moves it the same way in the other,
    though other piece-wide causes stand open at the one alone."""
    kinds, tried = list(words.DAMAGES), 0
    for first, second in itertools.permutations(kinds, 2):
        case = two(knowledge, first, second)
        before = beliefs(knowledge, case)
        shared = [n for n in reaching(knowledge) if n in before["a"].model.names and n in before["b"].model.names]
        if len(shared) != 1:
            continue
        (cause,) = shared
        able = readings_of_a(knowledge, case)
        for _, told in random.Random(f"{first} {second}").sample(able, min(12, len(able))):
            after = beliefs(knowledge, told)
            here = after["a"].causes[cause] - before["a"].causes[cause]
            there = after["b"].causes[cause] - before["b"].causes[cause]
            if abs(here) > 1e-3:
                assert there * here > 0, (first, second, cause, told.damages[0].readings, here, there)
                tried += 1
    assert tried >= 10


def test_the_mean_over_the_answers_on_another_damage(knowledge: Knowledge) -> None:
    """Two damages alike: what may be read on the one averages, in the other too, to what is believed now."""
    case = two(knowledge, "loose", "loose")
    case = replace(case, damages=(case.damages[0], replace(case.damages[0], id="b")))
    before = beliefs(knowledge, case)
    model = before["a"].model
    assert model.names == before["b"].model.names
    tried = 0
    for sign in open_signs(knowledge, case, case.damage("a"), facts_of(knowledge, case, case.damage("a"))):
        if sign.of != "damage" or sign.kind == "tick_all":
            continue
        table = model.tables[sign.id]
        mean = np.zeros(model.sets)
        for reading in sign.readings:
            like = table.likelihood((reading,), knowledge.scale.off_by["sure"])
            then = believe(model, {}, heard(model, [(model, {sign.id: like})]))
            mean += float(before["a"].posterior @ like) * then.posterior
        assert np.abs(mean - before["b"].posterior).max() <= MEAN, sign.id
        tried += 1
    assert tried > 10


def test_causes_that_reach_one_damage_tie_nothing(knowledge: Knowledge) -> None:
    """With only causes of one damage open, whatever is read on the other moves nothing."""
    case = two(knowledge, "loose", "loose")
    local = [cause.id for cause in knowledge.causes.values() if cause.reaches == "damage"]
    before = beliefs(knowledge, case, only=local)["b"].posterior.tolist()
    rng = random.Random("local")
    answered = answer_at_random(knowledge, rng, case, "a", 0)
    damage = case.damage("a")
    signs = [s for s in open_signs(knowledge, case, damage, facts_of(knowledge, case, damage)) if s.of == "damage"]
    for sign in rng.sample(signs, 8):
        answered = answered.with_answer("a", sign.id, random_answer(rng, sign))
    found = beliefs(knowledge, answered, only=local)
    assert found["a"].answered
    assert found["b"].posterior.tolist() == before


def test_the_tie_holds_where_only_piece_wide_causes_are_open(knowledge: Knowledge) -> None:
    """Narrowed to causes that reach the piece, as a story may: what speaks for one raises it in the other damage."""
    only = reaching(knowledge)
    case = two(knowledge, "loose", "loose")
    before = beliefs(knowledge, case, only=only)
    raised = 0
    for sign, told in readings_of_a(knowledge, case):
        after = beliefs(knowledge, told, only=only)
        for cause in (name for name in before["a"].model.names if sign.id in knowledge.causes[name].shows):
            if after["a"].causes[cause] > before["a"].causes[cause] + 0.02:
                assert after["b"].causes[cause] > before["b"].causes[cause], (cause, told.damages[0].readings)
                raised += 1
    assert raised > 0


# ---- the tie, pair by pair

WIDE = frozenset({"gap_too_wide", "overload"})


def tied_model(names: Sequence[str]) -> Model:
    """The worked case with some of its causes, two of which reach the whole piece."""
    chosen = [
        cause.model_copy(update={"reaches": "piece"}) if cause.id in WIDE else cause
        for cause in worked.CAUSES
        if cause.id in names
    ]
    return build_model(worked.SCALE, chosen, [worked.SCALE.happens[c.happens] for c in chosen], worked.SIGNS)


def sets_of(model: Model) -> list[frozenset[str]]:
    """The listed sets by the names in them."""
    return [frozenset(n for n, m in zip(model.names, row, strict=True) if m) for row in model.members]


def pair_by_pair(first: Model, mine: Array, second: Model, theirs: Array) -> dict[frozenset[str], float]:
    """The belief of the first damage by summing over every pair of sets that agree on the piece-wide causes both know.

    Given those causes the damages have nothing more to do with each other: a set of the first weighs its prior, its own
    likelihood, and the mean of the second's likelihood over the second's sets that agree with it, by their prior there.
    """
    shared = WIDE & set(first.names) & set(second.names)
    weights = {}
    for chosen, prior, like in zip(sets_of(first), first.prior, mine, strict=True):
        agreeing = [
            (there, told)
            for other, there, told in zip(sets_of(second), second.prior, theirs, strict=True)
            if other & shared == chosen & shared
        ]
        said = sum(there * told for there, told in agreeing) / sum(there for there, _ in agreeing)
        weights[chosen] = float(prior * like * said)
    total = sum(weights.values())
    return {chosen: weight / total for chosen, weight in weights.items()}


@pytest.mark.parametrize("known", [(2, 2), (1, 2), (2, 1)], ids=["both alike", "first knows one", "second knows one"])
def test_the_tie_is_the_sum_over_pairs_of_sets(known: tuple[int, int]) -> None:
    """Ten draws of causes and answers each; the two damages know the same piece-wide causes, or one knows fewer."""
    rng = random.Random(f"pairs {known}")
    local = sorted(set(worked.NAMES) - WIDE)
    moved = 0
    for _ in range(10):
        wide = rng.sample(sorted(WIDE), 2)
        models = [tied_model([*rng.sample(local, rng.randint(2, 4)), *wide[:count]]) for count in known]
        tables = []
        for model in models:
            signs = rng.sample(worked.SIGNS, rng.randint(2, 5))
            tables.append(answer_tables(worked.SCALE, model, {sign.id: random_answer(rng, sign) for sign in signs}))
        first, second = models
        mine, theirs = (np.prod(list(table.values()), axis=0) for table in tables)
        got = believe(first, tables[0], heard(first, [(second, tables[1])]))
        assert_same(by_set(got), pair_by_pair(first, mine, second, theirs))
        moved += abs(got.posterior - believe(first, tables[0]).posterior).max() > 1e-3
    assert moved >= 5
