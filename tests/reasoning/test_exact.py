"""The belief is exact: it equals, to 1e-9, what an outside engine infers (pyAgrum, lazy propagation in a network).

The network shares nothing with the program. It is written from the design and filled from the words as they stand in
YAML: causes are independent nodes with odds to one, a node counts how many of them act, and soft evidence on that node
sets the share of "something else" and forbids sets that are too large. Choose-one and measured signs are the mean of
the rows of the causes that act and speak; yes/no and tick-all signs are pyAgrum's own noisy-OR with the leak apart.
Every answer is a node of its own below its sign, off with the chance of whoever gives it.

48 random networks (2 to 8 causes, every kind of sign, random words and answers), every set compared; the same with sets
cut at three; and eight causes with eight signs of the rule base as delivered.
"""

import itertools
import math
import random
import warnings
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import yaml

from diagnose import house
from diagnose.case.case import Answer, Case, Damage
from diagnose.reasoning.believe import answer_tables, believe
from diagnose.reasoning.context import odds_of, open_causes
from diagnose.reasoning.facts import facts_of
from diagnose.reasoning.model import Model, build_model
from diagnose.rulebase.entries import Cause, Scale, Sign
from diagnose.rulebase.store import load_knowledge
from tests import worked

with warnings.catch_warnings():
    # Its compiled part warns while it is loaded, and cannot stand that the warning is made an error.
    warnings.simplefilter("ignore")
    import pyagrum

agrum: Any = pyagrum
Raw = Mapping[str, Any]
CLOSE = 1e-9
SEEDS = range(48)
KINDS = ("choose_one", "measure", "yes_no", "tick_all")
SPEAKER_IS_OFF = {"seen": "sure", "measured": "sure", "owner": "owner", "photograph": "photograph"}


# ---- the outside reckoning, from the words alone


@dataclass(frozen=True)
class Words:
    """The numbers of the scale that the belief uses, as text or figures from YAML."""

    words: Mapping[str, float]
    off_by: Mapping[str, float]
    together: float
    something_else: float

    @classmethod
    def read(cls, raw: Raw) -> "Words":
        """From the mapping under `scale`."""
        words = {word: float(number) for word, number in raw["words"].items()}
        off_by = {word: float(number) for word, number in raw["off_by"].items()}
        return cls(words, off_by, float(raw["together"]), float(raw["something_else"]))


def usual_shares(words: Words, sign: Raw) -> list[float]:
    """Background of a sign with one reading, in the order of its readings, summing to 1."""
    said = [reading.get("background") for reading in sign["readings"].values()]
    if not any(said):
        return [1.0 / len(said)] * len(said)
    weights = [words.words[word] for word in said]
    return [weight / sum(weights) for weight in weights]


def shares_of(words: Words, sign: Raw, said: Mapping[str, str]) -> list[float]:
    """The row of a cause: its words, and what they leave over spread by the background; if all are said, scaled."""
    usual = usual_shares(words, sign)
    readings = list(sign["readings"])
    if set(said) == set(readings):
        total = sum(words.words[word] for word in said.values())
        return [words.words[said[reading]] / total for reading in readings]
    left = 1.0 - sum(words.words[word] for word in said.values())
    unsaid = sum(share for reading, share in zip(readings, usual, strict=True) if reading not in said)
    return [
        words.words[said[reading]] if reading in said else left * share / unsaid
        for reading, share in zip(readings, usual, strict=True)
    ]


def off(words: Words, answer: Answer) -> float:
    """How often such an answer is off: the largest that applies."""
    chance = words.off_by[SPEAKER_IS_OFF[answer.by]]
    return max(chance, words.off_by["unsure"]) if answer.unsure else chance


def elementary(odds: list[float], largest: int) -> float:
    """The sum over all sets of 1 to `largest` causes of the products of their odds."""
    return sum(math.prod(chosen) for size in range(1, largest + 1) for chosen in itertools.combinations(odds, size))


class Network:
    """The network of one context with one list of answers."""

    def __init__(
        self, words: Words, signs: Mapping[str, Raw], causes: Mapping[str, Raw], relative: list[float], largest: int
    ) -> None:
        self.words, self.signs, self.causes, self.names = words, signs, causes, list(causes)
        self.net = agrum.BayesNet()
        self.evidence: dict[str, Any] = {}
        odds = [words.together * odd / sum(relative) for odd in relative]
        for name, odd in zip(self.names, odds, strict=True):
            self.net.add(agrum.LabelizedVariable(name, "", 2))
            self.net.cpt(name).fillWith([1.0 / (1.0 + odd), odd / (1.0 + odd)])
        count = len(self.names)
        self.node("how_many", count + 1, self.names, lambda acting: [float(n == len(acting)) for n in range(count + 1)])
        none = words.something_else / (1.0 - words.something_else) * elementary(odds, largest)
        soft = [none, *(1.0 if size <= largest else 0.0 for size in range(1, count + 1))]
        self.evidence["how_many"] = [share / max(soft) for share in soft]

    def node(self, name: str, size: int, parents: list[str], table: Any) -> None:
        """A node whose distribution `table` gives for the list of those parents that act."""
        self.net.add(agrum.LabelizedVariable(name, "", size))
        for parent in parents:
            self.net.addArc(parent, name)
        flat: list[float] = []  # as the engine reads it: the node itself changes fastest, then its first parent
        for states in itertools.product((0, 1), repeat=len(parents)):
            flat.extend(table([parent for parent, state in zip(reversed(parents), states, strict=True) if state]))
        self.net.cpt(name).fillWith(flat)

    def below(self, name: str, parent: str, size: int, u: float) -> None:
        """An answer: as its sign is, or off and then any reading alike."""
        self.net.add(agrum.LabelizedVariable(name, "", size))
        self.net.addArc(parent, name)
        for true, given in itertools.product(range(size), repeat=2):
            self.net.cpt(name)[{parent: true, name: given}] = (1.0 - u) * (true == given) + u / size

    def one_reading(self, sign_id: str) -> str:
        """A sign with one reading: the mean of the rows of those that act and speak, or the background."""
        sign = self.signs[sign_id]
        usual = usual_shares(self.words, sign)
        rows = {
            name: shares_of(self.words, sign, cause["shows"][sign_id])
            for name, cause in self.causes.items()
            if sign_id in cause["shows"]
        }
        if sign.get("counts") == "half":
            rows = {n: [(a + b) / 2 for a, b in zip(row, usual, strict=True)] for n, row in rows.items()}

        def table(acting: list[str]) -> list[float]:
            said = [rows[name] for name in acting]
            return [sum(column) / len(said) for column in zip(*said, strict=True)] if said else usual

        self.node(sign_id, len(usual), list(rows), table)
        return sign_id

    def seen_or_not(self, sign_id: str, reading: str) -> str:
        """One yes/no: the engine's noisy-OR with the leak apart; a sign that counts half: half that, half leak."""
        sign = self.signs[sign_id]
        leak = self.words.words[sign["readings"][reading]["background"]]
        name = f"{sign_id}:{reading}"
        self.net.addNoisyORNet(agrum.LabelizedVariable(name, "", 2), leak)
        for cause_id, cause in self.causes.items():
            word = cause["shows"].get(sign_id, {}).get(reading)
            if word:
                self.net.addWeightedArc(cause_id, name, self.words.words[word])
        if sign.get("counts") != "half":
            return name
        half = f"{name}:half"
        self.net.add(agrum.LabelizedVariable(half, "", 2))
        self.net.addArc(name, half)
        for seen in (0, 1):
            share = 0.5 * seen + 0.5 * leak
            self.net.cpt(half)[{name: seen, half: 0}] = 1.0 - share
            self.net.cpt(half)[{name: seen, half: 1}] = share
        return half

    def answer(self, sign_id: str, answer: Answer) -> None:
        """An answer as evidence."""
        sign, u = self.signs[sign_id], off(self.words, answer)
        if sign["kind"] in ("choose_one", "measure"):
            size = len(sign["readings"])
            self.below(f"{sign_id}:answer", self.one_reading(sign_id), size, u)
            (reading,) = answer.reads
            self.evidence[f"{sign_id}:answer"] = list(sign["readings"]).index(reading)
            return
        for reading in ["yes"] if sign["kind"] == "yes_no" else sign["readings"]:
            self.below(f"{sign_id}:{reading}:answer", self.seen_or_not(sign_id, reading), 2, u)
            self.evidence[f"{sign_id}:{reading}:answer"] = int(reading in answer.reads)

    def infer(self, answers: Mapping[str, Answer]) -> tuple[dict[frozenset[str], float], dict[str, float]]:
        """P(set) for every subset of the causes, and P(cause), from the engine's joint and single posteriors."""
        replaced = {s for name in answers for s in self.signs[name].get("computed", {}).get("from", [])}
        for sign_id, answer in answers.items():
            if sign_id not in replaced:
                self.answer(sign_id, answer)
        engine = agrum.LazyPropagation(self.net)
        engine.addJointTarget(set(self.names))
        for name in self.names:
            engine.addTarget(name)
        engine.setEvidence(self.evidence)
        engine.makeInference()
        joint = engine.jointPosterior(set(self.names))
        table, order = joint.toarray(), tuple(reversed(joint.names))
        sets = {
            frozenset(n for n, state in zip(order, states, strict=True) if state): float(table[states])
            for states in itertools.product((0, 1), repeat=len(self.names))
        }
        return sets, {name: float(engine.posterior(name)[1]) for name in self.names}


def assert_agrees(scale: Scale, model: Model, answers: Mapping[str, Answer], network: Network) -> None:
    """Every set, every cause and "something else" as the network has them, and no set left out that is possible."""
    belief = believe(model, answer_tables(scale, model, answers))
    sets, causes = network.infer(answers)
    listed = [frozenset(n for n, m in zip(model.names, row, strict=True) if m) for row in model.members]
    assert len(set(listed)) == len(listed) == model.sets
    for chosen, share in zip(listed, belief.posterior, strict=True):
        assert share == pytest.approx(sets[chosen], abs=CLOSE), sorted(chosen)
    assert sum(sets[chosen] for chosen in sets if chosen not in set(listed)) == pytest.approx(0.0, abs=CLOSE)
    for name, share in belief.causes.items():
        assert share == pytest.approx(causes[name], abs=CLOSE), name
    assert belief.something_else == pytest.approx(sets[frozenset()], abs=CLOSE)


# ---- random networks


@dataclass(frozen=True)
class Drawn:
    """A context drawn at random, as it would stand in YAML, and two lists of answers."""

    signs: dict[str, dict[str, Any]]
    causes: dict[str, dict[str, Any]]
    answers: tuple[dict[str, Answer], ...]


LIKELY = ("nearly_always", "usually", "often", "sometimes", "seldom", "hardly_ever", "never")


def _sign(rng: random.Random, sign_id: str, kind: str) -> dict[str, Any]:
    names = ["yes", "no"] if kind == "yes_no" else [f"r{n}" for n in range(rng.randint(2, 5))]
    silent = kind in ("choose_one", "measure") and rng.random() < 0.25
    readings: dict[str, Any] = {name: {} if silent else {"background": rng.choice(LIKELY)} for name in names}
    entry: dict[str, Any] = {
        "id": sign_id, "kind": kind, "of": rng.choice(["damage", "piece"]), "ask": "Which?", "look": "Look at it.",
        "station": "break", "effort": "look", "readings": readings, "sources": ["common_practice"],
        "counts": rng.choice(["full", "full", "half"]),
    }  # fmt: skip
    if kind == "yes_no":
        readings["no"] = {}
    if kind == "measure":
        for step, reading in enumerate(readings.values(), start=1):
            reading["upto"] = step
        entry["measure"] = {"unit": "mm", "from": 0, "to": len(names)}
    return entry


def _said(rng: random.Random, sign: Raw) -> dict[str, str]:
    """Words of one cause on one sign; where one reading is given they add up to 1 at most; all may be named."""
    if sign["kind"] == "yes_no":
        return {"yes": rng.choice(LIKELY)}
    names = list(sign["readings"])
    if sign["kind"] == "tick_all":
        return {name: rng.choice(LIKELY) for name in rng.sample(names, rng.randint(1, len(names)))}
    said: dict[str, str] = {}
    for name in rng.sample(names, rng.randint(1, len(names))):
        word = rng.choice(LIKELY)
        if sum(worked.SCALE.words[w] for w in (*said.values(), word)) <= 1.0:
            said[name] = word
    return said


def _answer(rng: random.Random, sign: Raw) -> Answer:
    by, unsure = rng.choice(list(SPEAKER_IS_OFF)), rng.random() < 0.3
    if sign["kind"] == "tick_all":
        return Answer(tuple(name for name in sign["readings"] if rng.random() < 0.4), by, unsure)
    return Answer((rng.choice(list(sign["readings"])),), by, unsure)


def draw(seed: int) -> Drawn:
    """The context of a seed: 2 to 8 causes, the four kinds of sign, some more, and one worked out of two others."""
    rng = random.Random(seed)
    kinds = [*KINDS, *rng.choices(KINDS, k=rng.randint(0, 3))]
    signs = {f"s{n}": _sign(rng, f"s{n}", kind) for n, kind in enumerate(kinds)}
    worked_out = _sign(rng, "computed", "choose_one")
    for key in ("ask", "look", "station", "effort"):
        del worked_out[key]
    worked_out["computed"] = {"by": "strength_ratio", "from": rng.sample(list(signs), 2)}
    signs["computed"] = worked_out
    causes: dict[str, dict[str, Any]] = {}
    voices = {sign_id: rng.choice([0.15, 0.6, 0.9]) for sign_id in signs}
    for number in range(rng.randint(2, 8) if seed % 4 else 8):
        shows = {sign_id: _said(rng, sign) for sign_id, sign in signs.items() if rng.random() < voices[sign_id]}
        shows = {sign_id: said for sign_id, said in shows.items() if said} or {"s0": _said(rng, signs["s0"])}
        happens = rng.choice(list(worked.SCALE.happens))
        causes[f"c{number}"] = {
            "id": f"c{number}", "name": "So it was", "family": "bond", "role": "made_in", "happens": happens,
            "returns": "usually", "shows": shows, "explains": "It let go.", "owner": "It let go.",
            "sources": ["common_practice"], "reaches": rng.choice(["damage", "piece"]),
        }  # fmt: skip
    many = {sign_id: _answer(rng, sign) for sign_id, sign in signs.items()}
    asked = [sign_id for sign_id in signs if sign_id != "computed" and rng.random() < 0.6]
    some = {sign_id: _answer(rng, signs[sign_id]) for sign_id in asked}
    return Drawn(signs, causes, (many, some))


def model_of(drawn: Drawn, largest: int) -> Model:
    """The program's model of a drawn context."""
    causes = [Cause.model_validate(cause) for cause in drawn.causes.values()]
    odds = [worked.SCALE.happens[cause.happens] for cause in causes]
    return build_model(worked.SCALE, causes, odds, [Sign.model_validate(s) for s in drawn.signs.values()], largest)


def network_of(drawn: Drawn, largest: int) -> Network:
    """The outside network of a drawn context."""
    relative = [float(worked.SCALE.happens[cause["happens"]]) for cause in drawn.causes.values()]
    words = Words.read(worked.SCALE.model_dump(exclude={"sources"}))
    return Network(words, drawn.signs, drawn.causes, relative, largest)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_set_of_a_random_network(seed: int) -> None:
    drawn = draw(seed)
    count = len(drawn.causes)
    model = model_of(drawn, largest=count)
    assert model.sets == 2**count
    for answers in drawn.answers:
        assert_agrees(worked.SCALE, model, answers, network_of(drawn, largest=count))


@pytest.mark.parametrize("seed", [seed for seed in SEEDS if len(draw(seed).causes) > 4][:12])
def test_cut_at_three_the_rest_share_what_is_left(seed: int) -> None:
    """The list to three is the exact belief of a world in which no more than three act."""
    drawn = draw(seed)
    model = model_of(drawn, largest=3)
    assert model.sets < 2 ** len(drawn.causes)
    assert_agrees(worked.SCALE, model, drawn.answers[0], network_of(drawn, largest=3))


def test_without_an_answer_it_is_the_prior() -> None:
    drawn = draw(0)
    model = model_of(drawn, largest=8)
    assert_agrees(worked.SCALE, model, {}, network_of(drawn, largest=8))
    assert model.prior[0] == pytest.approx(worked.SCALE.something_else, abs=1e-15)


def test_the_draws_hold_every_kind_in_every_way() -> None:
    """Every kind, whole and half, answered by everybody, sure and unsure; computed signs beside what they come from."""
    seen: Counter[str] = Counter()
    for drawn, answers in ((d, answers) for d in map(draw, SEEDS) for answers in d.answers):
        behind = drawn.signs["computed"]["computed"]["from"] if "computed" in answers else []
        for sign_id, answer in answers.items():
            sign = drawn.signs[sign_id]
            rows = [cause["shows"][sign_id] for cause in drawn.causes.values() if sign_id in cause["shows"]]
            one_reading = sign["kind"] in ("choose_one", "measure")
            seen[f"{sign['kind']} {sign['counts']}"] += 1
            seen[f"{answer.by} {answer.unsure}"] += 1
            seen[f"{sign['kind']} {min(len(rows), 3)} speak"] += 1
            seen["none ticked"] += sign["kind"] == "tick_all" and not answer.reads
            seen["computed"] += sign_id == "computed"
            seen["behind a computed one"] += sign_id in behind
            seen["every reading said"] += one_reading and any(len(row) == len(sign["readings"]) for row in rows)
            seen["background silent"] += not any("background" in reading for reading in sign["readings"].values())
    wanted = [f"{kind} {counts}" for kind in KINDS for counts in ("full", "half")]
    wanted += [f"{by} {unsure}" for by in SPEAKER_IS_OFF for unsure in (False, True)]
    wanted += [f"{kind} {speaking} speak" for kind in KINDS for speaking in range(4)]
    wanted += ["none ticked", "computed", "behind a computed one", "every reading said", "background silent"]
    assert [what for what in wanted if seen[what] < 3] == []


def test_the_answers_behind_a_computed_one_are_not_counted_beside_it() -> None:
    for seed in SEEDS:
        drawn = draw(seed)
        model = model_of(drawn, largest=3)
        behind = drawn.signs["computed"]["computed"]["from"]
        without = {name: answer for name, answer in drawn.answers[0].items() if name not in behind}
        both = believe(model, answer_tables(worked.SCALE, model, drawn.answers[0])).posterior
        alone = believe(model, answer_tables(worked.SCALE, model, without)).posterior
        assert both.tolist() == alone.tolist()


# ---- a slice of the rule base


def _plain(path: Path) -> Any:
    """A file as plain text values, read by PyYAML alone."""
    return yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)


def _entries(kind: str) -> dict[str, Any]:
    """Every sign or cause as it stands in the rules folder, by its id."""
    files = sorted((house.rules_folder() / kind).glob("*.yaml"))
    return {entry["id"]: entry for path in files for entry in _plain(path).get(kind, [])}


def _holds(when: Mapping[str, Any], facts: Mapping[str, frozenset[str]]) -> bool:
    """Whether a condition on case facts holds: a list means any of them, `all` every one, `any` one of its mappings."""
    for key, value in when.items():
        held = facts.get(key, frozenset())
        if key == "any":
            holds = any(_holds(branch, facts) for branch in value)
        elif isinstance(value, dict):
            holds = held >= set(value["all"])
        else:
            holds = not held.isdisjoint([value] if isinstance(value, str) else value)
        if not holds:
            return False
    return True


def _raw_odds(cause: Raw, facts: Mapping[str, frozenset[str]], happens: Mapping[str, str]) -> float:
    for other in cause.get("except", []):
        if _holds(other["when"], facts):
            return float(happens[other["happens"]])
    return float(happens[cause["happens"]])


@pytest.mark.parametrize("damage_kind", ["loose", "broken", "split"])
@pytest.mark.parametrize("draw_number", range(4))
def test_a_slice_of_the_rule_base(damage_kind: str, draw_number: int) -> None:
    """Eight causes open at one damage and eight signs, one of every kind first and then those most of them speak to."""
    knowledge = load_knowledge()
    rng = random.Random(f"{damage_kind} {draw_number}")
    # A joint of one kind only, so that every case fact is certain and the reading of `except` below is plain.
    places = [(piece.id, joint) for piece in knowledge.pieces.values() for joint in piece.joints if len(joint.kind) == 1]
    piece_id, joint = rng.choice(sorted(places, key=lambda place: (place[0], place[1].id)))
    case = Case(piece_id, damages=(Damage("a", damage_kind, part=joint.joins[0], joint=joint.id),))
    facts = facts_of(knowledge, case, case.damages[0])
    causes = rng.sample(open_causes(knowledge, facts.values), 8)
    speaking = {s: sum(s in cause.shows for cause in causes) for s in knowledge.signs}
    by_voices = sorted(knowledge.signs, key=lambda s: (-speaking[s], s))
    chosen = [next(s for s in by_voices if knowledge.signs[s].kind == kind) for kind in KINDS]
    chosen += [next(s for s in by_voices if knowledge.signs[s].counts == "half" and s not in chosen)]
    chosen += [s for s in by_voices if s not in chosen][: 8 - len(chosen)]

    raw_scale = _plain(house.rules_folder() / "scale.yaml")["scale"]
    raw_signs, raw_causes = _entries("signs"), _entries("causes")
    signs = {sign_id: raw_signs[sign_id] for sign_id in chosen}
    shown = {cause.id: raw_causes[cause.id] for cause in causes}
    relative = [_raw_odds(raw, facts.values, raw_scale["happens"]) for raw in shown.values()]
    network = Network(Words.read(raw_scale), signs, shown, relative, largest=8)

    model = build_model(
        knowledge.scale,
        causes,
        [odds_of(knowledge, cause, facts.values) for cause in causes],
        [knowledge.signs[sign_id] for sign_id in chosen],
        largest=8,
    )
    assert sum(speaking[s] > 1 for s in chosen) >= 3, "several causes should speak to the same signs"
    assert_agrees(knowledge.scale, model, {sign_id: _answer(rng, sign) for sign_id, sign in signs.items()}, network)
