"""The durable-rules adapter against the plain evaluator, on rules made at random and on the rule base itself."""

import random
import subprocess
import sys
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.reasoning import engine
from diagnose.reasoning.deduce import deduce, deduce_plainly, fired_if, fired_plainly
from diagnose.reasoning.facts import Facts
from diagnose.reasoning.rulebook import Rulebook, rulebook_of, strata
from diagnose.rulebase.entries import Line, Rule
from diagnose.rulebase.store import load_knowledge

KEYS = ("a", "b", "c")
VALUES = ("x", "y", "z")
FINDINGS = ("f0", "f1", "f2", "f3")


def rule(rule_id: str, when: object, unless: object, *findings: str) -> Rule:
    data: dict[str, object] = {
        "id": rule_id, "protects": "bond", "when": when, "because": "So it is.", "sources": ["common_practice"],
        "then": [{"finding": finding} for finding in findings],
    }  # fmt: skip
    if unless:
        data["unless"] = unless
    return Rule.model_validate(data)


values = st.one_of(
    st.sampled_from(VALUES),
    st.lists(st.sampled_from(VALUES), min_size=1, max_size=2, unique=True),
    st.lists(st.sampled_from(VALUES), min_size=1, max_size=2, unique=True).map(lambda items: {"all": items}),
)
lines = st.dictionaries(st.sampled_from(KEYS), values, min_size=1, max_size=2)


@st.composite
def conditions(draw: st.DrawFn, level: int) -> dict[str, object]:
    found: dict[str, object] = dict(draw(lines))
    if draw(st.booleans()):
        found["any"] = draw(st.lists(lines, min_size=1, max_size=2))
    if level > 0 and draw(st.booleans()):
        found["finding"] = f"f{draw(st.integers(0, level - 1))}"
    return found


@st.composite
def rule_sets(draw: st.DrawFn) -> tuple[Rule, ...]:
    made = []
    for level in range(4):
        for number in range(draw(st.integers(1, 2))):
            unless = draw(st.one_of(st.none(), conditions(level)))
            made.append(rule(f"r{level}_{number}", draw(conditions(level)), unless, FINDINGS[level]))
    return tuple(made)


facts = st.dictionaries(st.sampled_from(KEYS), st.sets(st.sampled_from(VALUES)).map(frozenset))


@settings(max_examples=150, deadline=None, derandomize=True)
@given(rule_sets(), facts)
def test_random_rules_fire_alike(rules: tuple[Rule, ...], held: dict[str, frozenset[str]]) -> None:
    assert engine.available(), engine.notice()
    book = Rulebook(rules)
    now = fired_plainly(book, held)
    assert engine.fired(book, Facts(held, {})) == now
    for key in (key for key in KEYS if key not in held):
        changed = {**held, key: frozenset({"x"})}
        assert fired_if(book, changed, now, key, "x") == fired_plainly(book, changed)


def test_one_fact_may_meet_several_conditions_of_a_rule() -> None:
    book = Rulebook((rule("twice", {"a": ["x", "y"], "any": [{"a": "x", "b": "x"}, {"a": "x", "c": "x"}]}, None, "f0"),))
    held = {"a": frozenset({"x"}), "c": frozenset({"x"})}
    assert engine.fired(book, Facts(held, {})) == {"twice"} == fired_plainly(book, held)


def test_unless_waits_for_the_findings_below_it() -> None:
    rules = (
        rule("late", {"a": "x"}, {"finding": "f0"}, "f1"),
        rule("early", {"b": "x"}, None, "f0"),
    )
    assert [[r.id for r in stratum] for stratum in strata(rules)] == [["early"], ["late"]]
    both = {"a": frozenset({"x"}), "b": frozenset({"x"})}
    book = Rulebook(rules)
    assert engine.fired(book, Facts(both, {})) == {"early"}
    assert engine.fired(book, Facts({"a": frozenset({"x"})}, {})) == {"late"}


def test_more_tokens_than_one_ruleset_can_hold_and_findings_go_from_one_share_to_the_next() -> None:
    """With 512 tokens in one ruleset the engine never came back."""
    chain = (
        rule("first", {"finding": "f1", "a": ["x", "y"]}, None, "f2"),
        *(rule(f"r{number}", {f"k{number}": "x"}, {f"k{number}": "y"}, "f0") for number in range(350)),
        rule("last", {"b": "x"}, None, "f1"),
        rule("unless_first", {"c": "x"}, {"finding": "f2"}, "f3"),
    )
    book = Rulebook(chain)
    assert len({token for r in chain for clause in engine.clauses(r) for token in clause}) > 700
    for held, wanted in (
        ({"a": {"y"}, "b": {"x"}, "c": {"x"}, "k7": {"x"}, "k349": {"x"}}, {"first", "last", "r7", "r349"}),
        ({"a": {"y"}, "c": {"x"}, "k7": {"x", "y"}}, {"unless_first"}),
        ({}, set()),
    ):
        facts = {key: frozenset(values) for key, values in held.items()}
        assert engine.fired(book, Facts(facts, {})) == wanted == fired_plainly(book, facts)


def test_a_finding_that_hangs_on_its_own_absence_is_refused() -> None:
    with pytest.raises(ValueError, match="its own absence"):
        strata((rule("knot", {"a": "x"}, {"finding": "f0"}, "f0"),))


@cache
def every_line() -> tuple[Line, ...]:
    return tuple(line for r in load_knowledge().logic.values() for line in (*r.when.all_lines(), *r.unless.all_lines()))


def random_facts(seed: int) -> Facts:
    rng = random.Random(seed)
    held: dict[str, frozenset[str]] = {}
    for line in rng.sample(every_line(), 14):
        if line.key != "finding":
            held[line.key] = frozenset(rng.sample(line.values, rng.randint(1, len(line.values)) if line.every else 1))
    return Facts(held, {})


def test_five_hundred_cases_of_the_rule_base_deduce_alike() -> None:
    knowledge = load_knowledge()
    book = rulebook_of(knowledge)
    fired_at_all = set()
    for seed in range(500):
        case = random_facts(seed)
        by_engine = deduce(book, case)
        assert by_engine == deduce_plainly(book, case), seed
        fired_at_all |= {trace.rule for trace in by_engine.traces}
    assert len(fired_at_all) > len(book.rules) // 2


def test_without_the_extension_the_plain_evaluator_stands_in_with_a_notice() -> None:
    script = """
import sys
sys.modules["durable_rules_engine"] = None
from diagnose.reasoning import engine
from diagnose.reasoning.deduce import deduce, deduce_plainly
from diagnose.reasoning.rulebook import rulebook_of
from diagnose.rulebase.store import load_knowledge
from tests.reasoning.test_engine import random_facts
assert not engine.available()
assert "stands in" in engine.notice() and "README" in engine.notice()
book = rulebook_of(load_knowledge())
for seed in range(500):
    case = random_facts(seed)
    assert deduce(book, case) == deduce_plainly(book, case)
print("plain", len(book.rules))
"""
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("plain")
