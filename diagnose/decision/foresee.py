"""Looking one answer ahead: which readings of which open signs would forbid the advised method or raise the triage.

Only signs that some rule with such an effect can hang on (through findings too) are tried; the plain evaluator does the trying.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from diagnose import words
from diagnose.reasoning.deduce import fired_if, fired_plainly
from diagnose.reasoning.facts import Facts
from diagnose.reasoning.rulebook import Rulebook, concludes
from diagnose.rulebase.entries import Effect, Sign

# What is less likely than this neither holds up the advice nor rules anything out; it is named beside it.
LIKELY_ENOUGH = 0.02
GRAVE = frozenset({"forbid_method", "forbid_class", "forbid_whose", "triage"})


@dataclass(frozen=True)
class Gate:
    """If `sign` reads `reading`, then the advised method is forbidden (or the triage becomes graver)."""

    sign: str
    reading: str
    forbids: bool
    raises_triage: bool


@lru_cache(maxsize=8)
def grave_readings(book: Rulebook) -> frozenset[tuple[str, str]]:
    """Every (fact, value) on which a ban or a triage can hang, directly or through findings."""
    rules = book.rules
    wanted: set[str] = set()
    while True:
        found = set(wanted)
        for rule in rules:
            if any(effect.kind in GRAVE for effect in rule.then) or concludes(rule) & wanted:
                for line in (*rule.when.all_lines(), *rule.unless.all_lines()):
                    if line.key == words.FINDING:
                        found.update(line.values)
        if found == wanted:
            break
        wanted = found
    readings: set[tuple[str, str]] = set()
    for rule in rules:
        if any(effect.kind in GRAVE for effect in rule.then) or concludes(rule) & wanted:
            readings.update((line.key, value) for line in rule.when.all_lines() for value in line.values)
    return frozenset(readings)


def _effects(book: Rulebook, fired: Iterable[str]) -> list[Effect]:
    return [effect for name in fired for effect in book.by_id[name].then if effect.kind in GRAVE]


def _gravity(effects: Iterable[Effect]) -> int:
    return max((words.Triage(effect.target).gravity for effect in effects if effect.kind == "triage"), default=0)


RulesOut = Callable[[Sequence[Effect], Facts, bool], bool]


def gates(
    book: Rulebook, facts: Facts, signs: Iterable[Sign], rules_out: RulesOut, asked_by_method: frozenset[str]
) -> tuple[Gate, ...]:
    """Every single reading of these signs that would rule the advised method out or raise the triage.

    `rules_out` says whether effects and facts rule it out: by name, by class, by its own gate (which asks about `asked_by_method`), or
    because too little strength would be left (it hears whether the reading bears on strength at all).
    """
    grave = grave_readings(book)
    now = fired_plainly(book, facts.values)
    gravity = _gravity(_effects(book, now))
    found = []
    for sign in signs:
        for name, reading in sign.readings.items():
            beside_rules = bool(reading.means) or sign.id in asked_by_method
            by_rule = (sign.id, name) in grave
            if not by_rule and not beside_rules:
                continue
            seen = facts.adding(sign.id, name)
            fired = fired_if(book, seen.values, now, sign.id, name) if by_rule else now
            if fired == now and not beside_rules:
                continue
            then = _effects(book, fired)
            forbids = rules_out(then, seen, bool(reading.means))
            raises = _gravity(then) > gravity
            if forbids or raises:
                found.append(Gate(sign.id, name, forbids, raises))
    return tuple(found)


@dataclass(frozen=True)
class Danger:
    """What a rule of safety would forbid if a sign that could not be told read its worst."""

    sign: str
    rule: str
    effect: Effect


def untold_dangers(
    book: Rulebook, facts: Facts, signs: Iterable[Sign], chances: Mapping[str, Mapping[str, float]]
) -> tuple[Danger, ...]:
    """ "Can't tell" on a sign of safety counts as the dangerous reading, for the ban only; readings hardly possible are left out."""
    grave = grave_readings(book)
    now = fired_plainly(book, facts.values)
    found = []
    for sign in signs:
        for reading in sign.readings:
            if (sign.id, reading) not in grave or chances.get(sign.id, {}).get(reading, 0.0) < LIKELY_ENOUGH:
                continue
            then = fired_if(book, facts.adding(sign.id, reading).values, now, sign.id, reading)
            for name in sorted(then - now):
                rule = book.by_id[name]
                if rule.protects == "safety":
                    found += [Danger(sign.id, name, effect) for effect in rule.then if effect.kind in GRAVE]
    return tuple(found)


def chance(gates_of_sign: Iterable[Gate], chances: Mapping[str, float], tick_all: bool) -> float:
    """The chance that one of these readings is seen; of a tick-all sign any one will do."""
    shares = [chances.get(gate.reading, 0.0) for gate in gates_of_sign]
    if not tick_all:
        return min(1.0, sum(shares))
    missed = 1.0
    for share in shares:
        missed *= 1.0 - share
    return 1.0 - missed
