"""Several causes of one yes/no sign: the leaky noisy-OR, and explaining away.

Sources: the standard leaky noisy-OR of Henrion (1989), with the leak apart as Díez (1993) writes it,
P(seen) = 1 − (1−leak)·∏(1−p); its table for a leak of .1 and strengths .8 and .6 is .1, .82, .64, .928. Explaining away
is Pearl's (1988): with a common effect seen, proof of one cause makes the other less likely; with the effect surely
absent the causes stay as they were to each other. pyAgrum builds both forms of the gate and stands beside ours.
"""

import warnings
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.case.case import Answer
from diagnose.reasoning.believe import Belief, answer_tables, believe
from diagnose.reasoning.model import Model, build_model
from diagnose.rulebase.entries import Scale, Sign
from tests import worked

with warnings.catch_warnings():
    # Its compiled part warns while it is loaded, and cannot stand that the warning is made an error.
    warnings.simplefilter("ignore")
    import pyagrum

agrum: Any = pyagrum
LEAK, STRONG, WEAK = 0.1, 0.8, 0.6
# Which of the two causes act, and the chance that the sign is seen.
TABLE = {(): 0.1, ("heat",): 0.82, ("damp",): 0.64, ("heat", "damp"): 0.928}
PROOF = 0.97


def scale_of(leak: float, first: float, second: float, off: float = 0.0) -> Scale:
    """A scale whose words are the numbers of the test; sure answers are off with `off`."""
    return worked.SCALE.model_copy(
        update={
            "words": {"leak": leak, "first": first, "second": second, "proof": PROOF, "rarely": 0.05, "sometimes": 0.3},
            "happens": {"regular": 0.06, "common": 0.15},
            "off_by": {"sure": off, "owner": 0.1, "photograph": 0.1, "unsure": 0.4},
        }
    )


def signs(kind: str) -> tuple[Sign, ...]:
    """The common effect, and a sign that only the first cause shows."""
    if kind == "yes_no":
        effect = worked.sign("effect", kind, {"yes": {"background": "leak"}, "no": {}})
    else:
        effect = worked.sign("effect", kind, {"yes": {"background": "leak"}, "other": {"background": "rarely"}})
    return effect, worked.sign("only_heat", "yes_no", {"yes": {"background": "rarely"}, "no": {}})


def model_of(scale: Scale, kind: str = "yes_no") -> Model:
    """Two causes of one effect, the first with a sign of its own; every set of them listed."""
    causes = (
        worked.cause("heat", "regular", "sometimes", {"effect": {"yes": "first"}, "only_heat": {"yes": "proof"}}),
        worked.cause("damp", "common", "sometimes", {"effect": {"yes": "second"}}),
    )
    return build_model(scale, causes, [scale.happens[cause.happens] for cause in causes], signs(kind))


def index(model: Model, acting: tuple[str, ...]) -> int:
    """Where the set of exactly these causes stands."""
    wanted = [float(name in acting) for name in model.names]
    (found,) = [i for i, row in enumerate(model.members) if row.tolist() == wanted]
    return found


def belief_of(scale: Scale, **answers: str) -> Belief:
    """The belief after sure answers."""
    model = model_of(scale)
    return believe(model, answer_tables(scale, model, {name: Answer((reads,)) for name, reads in answers.items()}))


@pytest.mark.parametrize("kind", ["yes_no", "tick_all"])
@pytest.mark.parametrize(("acting", "seen"), TABLE.items())
def test_the_published_table(kind: str, acting: tuple[str, ...], seen: float) -> None:
    model = model_of(scale_of(LEAK, STRONG, WEAK), kind)
    sign = model.tables["effect"]
    assert sign.like[index(model, acting), sign.readings.index("yes")] == pytest.approx(seen, abs=1e-12)


@pytest.mark.parametrize(("acting", "seen"), TABLE.items())
def test_what_an_answer_says_of_the_published_table(acting: tuple[str, ...], seen: float) -> None:
    """The answer itself: exact when it cannot be off; off with .4 it is as likely either way: .6·p + .2."""
    scale = scale_of(LEAK, STRONG, WEAK)
    model = model_of(scale)
    for unsure, of in ((False, seen), (True, 0.6 * seen + 0.2)):
        for reads, share in (("yes", of), ("no", 1.0 - of)):
            like = answer_tables(scale, model, {"effect": Answer((reads,), unsure=unsure)})["effect"]
            assert like[index(model, acting)] == pytest.approx(share, abs=1e-12)


def outside(build: str) -> dict[tuple[str, ...], float]:
    """The table of one of pyAgrum's two gates with the same leak and strengths."""
    net = agrum.BayesNet()
    for name in ("heat", "damp"):
        net.add(agrum.LabelizedVariable(name, "", 2))
    getattr(net, build)(agrum.LabelizedVariable("effect", "", 2), LEAK)
    net.addWeightedArc("heat", "effect", STRONG)
    net.addWeightedArc("damp", "effect", WEAK)
    found = {}
    for acting in TABLE:
        state = {name: int(name in acting) for name in ("heat", "damp")}
        found[acting] = float(net.cpt("effect")[{**state, "effect": 1}])
    return found


def test_an_outside_engine_gives_the_published_table() -> None:
    assert outside("addNoisyORNet") == pytest.approx(TABLE, abs=1e-12)


def test_the_other_form_of_the_gate_is_not_ours() -> None:
    """Henrion's own form counts the leak into each strength: one cause alone then shows just its word, .8, not .82."""
    other = outside("addNoisyORCompound")
    assert other["heat",] == pytest.approx(STRONG, abs=1e-12)
    assert other["heat", "damp"] == pytest.approx(1.0 - (1.0 - STRONG) * (1.0 - WEAK) / (1.0 - LEAK), abs=1e-12)
    model = model_of(scale_of(LEAK, STRONG, WEAK))
    sign = model.tables["effect"]
    assert sign.like[index(model, ("heat",)), sign.readings.index("yes")] > other["heat",] + 0.01


def test_a_cause_that_does_not_speak_does_not_matter() -> None:
    model = model_of(scale_of(LEAK, STRONG, WEAK))
    sign = model.tables["only_heat"]
    yes = sign.like[:, sign.readings.index("yes")]
    assert yes[index(model, ("damp",))] == yes[index(model, ())] == pytest.approx(0.05, abs=1e-12)
    assert yes[index(model, ("heat", "damp"))] == yes[index(model, ("heat",))] == pytest.approx(1 - 0.95 * 0.03, abs=1e-12)


def test_explaining_away_number_by_number() -> None:
    """Two causes with odds 6 to 15 (.171, .429 of .60), effect seen, then proof of the first.

    "Something else" weighs .05/.95 × (.171429 + .428571 + .073469) = .035446. Times the table: .003545, .140571,
    .274286, .068180; the second is in .342465 of .486581. Proof shows with .05 without the first cause and
    1 − .95 × .03 = .9715 with it: .000177, .136565, .013714, .066237; the second is in .079951 of .216693.
    """
    odds_a, odds_b = 0.6 * 6 / 21, 0.6 * 15 / 21
    none = 0.05 / 0.95 * (odds_a + odds_b + odds_a * odds_b)
    weights = {
        (): none * 0.1,
        ("heat",): odds_a * 0.82,
        ("damp",): odds_b * 0.64,
        ("heat", "damp"): odds_a * odds_b * 0.928,
    }
    before = (weights["damp",] + weights["heat", "damp"]) / sum(weights.values())
    proof = {acting: weight * (0.9715 if "heat" in acting else 0.05) for acting, weight in weights.items()}
    after = (proof["damp",] + proof["heat", "damp"]) / sum(proof.values())
    assert before == pytest.approx(0.7038, abs=5e-5)
    assert after == pytest.approx(0.3690, abs=5e-5)
    scale = scale_of(LEAK, STRONG, WEAK)
    assert belief_of(scale, effect="yes").causes["damp"] == pytest.approx(before, abs=1e-12)
    assert belief_of(scale, effect="yes", only_heat="yes").causes["damp"] == pytest.approx(after, abs=1e-12)


SHARE = st.floats(0.02, 0.98)


@settings(derandomize=True, deadline=None, max_examples=300)
@given(leak=SHARE, first=SHARE, second=SHARE, off=st.sampled_from([0.0, 0.02, 0.1, 0.4]))
def test_proof_of_one_cause_lowers_the_other(leak: float, first: float, second: float, off: float) -> None:
    """Whatever the strengths, and though every answer may be off; and proof of absence raises the other."""
    scale = scale_of(leak, first, second, off)
    effect = belief_of(scale, effect="yes").causes
    proof = belief_of(scale, effect="yes", only_heat="yes").causes
    absent = belief_of(scale, effect="yes", only_heat="no").causes
    assert proof["heat"] > effect["heat"] > absent["heat"]
    assert proof["damp"] < effect["damp"] < absent["damp"]


def ties(belief: Belief) -> float:
    """How far two causes hang together: P(both)·P(neither) over P(only a)·P(only b)."""
    share = {acting: belief.posterior[index(belief.model, acting)] for acting in TABLE}
    return float(share["heat", "damp"] * share[()] / (share["heat",] * share["damp",]))


@settings(derandomize=True, deadline=None, max_examples=300)
@given(leak=SHARE, first=SHARE, second=SHARE)
def test_only_the_effect_seen_ties_the_causes(leak: float, first: float, second: float) -> None:
    """Surely absent it leaves their tie as it was, seen it makes one speak against the other (Pearl)."""
    scale = scale_of(leak, first, second)
    before = ties(belief_of(scale))
    assert ties(belief_of(scale, effect="no")) == pytest.approx(before, rel=1e-9)
    assert ties(belief_of(scale, only_heat="yes")) == pytest.approx(before, rel=1e-9)
    assert ties(belief_of(scale, effect="yes")) < before * (1 - 1e-6)


@settings(derandomize=True, deadline=None, max_examples=100)
@given(leak=SHARE, strengths=st.lists(SHARE, min_size=1, max_size=6))
def test_more_causes_show_more_and_never_less_than_one_alone(leak: float, strengths: list[float]) -> None:
    """Every set of up to six causes against the plain product, and rising with every cause that joins."""
    words = {"leak": leak, "sometimes": 0.3, **{f"w{'x' * n}": p for n, p in enumerate(strengths)}}
    scale = worked.SCALE.model_copy(update={"words": words, "happens": {"regular": 0.06}})
    causes = [worked.cause(f"c{n}", "regular", "sometimes", {"effect": {"yes": f"w{'x' * n}"}}) for n in range(len(strengths))]
    effect = worked.sign("effect", "yes_no", {"yes": {"background": "leak"}, "no": {}})
    model = build_model(scale, causes, [0.06] * len(causes), [effect], largest=len(causes))
    yes = model.tables["effect"].like[:, 0]
    seen = {frozenset(np.flatnonzero(row).tolist()): float(p) for row, p in zip(model.members, yes, strict=True)}
    assert len(seen) == 2 ** len(strengths)
    for acting, share in seen.items():
        missed = 1.0 - leak
        for number in acting:
            missed *= 1.0 - strengths[number]
        assert share == pytest.approx(1.0 - missed, abs=1e-12)
        assert all(seen[acting - {number}] < share for number in acting)
