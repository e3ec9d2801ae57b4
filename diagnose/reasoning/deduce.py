"""From facts to findings: rules fire, findings are asserted back, every firing is kept as a trace.

Contract: `deduce(rules, facts) -> Deduction`. The matching is done by durable-rules where its compiled part can be loaded
(`engine`), otherwise by the plain evaluator at the foot of this file, with a notice. Both give the same firings; the plain
one is the oracle in tests and the one that looks a step ahead in the interview.

`unless` needs a closed world. Rules are laid in strata: a rule whose `unless` asks about a finding waits until no rule of the
strata below can fire any more. In each stratum what is not known counts as not so.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from diagnose import words
from diagnose.reasoning.facts import Facts, Values, certain, closed, holds, satisfied
from diagnose.reasoning.rulebook import Rulebook, concludes
from diagnose.rulebase.entries import Effect, Rule


@dataclass(frozen=True)
class Trace:
    """One firing: the rule, and the facts that made it fire."""

    rule: str
    because_of: tuple[str, ...]


@dataclass(frozen=True)
class Deduction:
    """What the rules conclude."""

    traces: tuple[Trace, ...]
    findings: tuple[str, ...]
    effects: tuple[tuple[str, Effect], ...]

    def targets(self, kind: str) -> tuple[str, ...]:
        """The targets of every effect of one kind, each once, in the order of the rules."""
        return tuple(dict.fromkeys(effect.target for _, effect in self.effects if effect.kind == kind))

    def rules_for(self, kind: str, target: str) -> tuple[str, ...]:
        """The rules that had that effect."""
        return tuple(rule for rule, effect in self.effects if effect.kind == kind and effect.target == target)

    def triage(self) -> words.Triage:
        """The gravest triage of all rules that fired; take in where none says anything."""
        return max(
            (words.Triage(target) for target in self.targets("triage")),
            key=lambda t: t.gravity,
            default=words.Triage.TAKE_IN,
        )


def support(rule: Rule, values: Values) -> tuple[str, ...]:
    """The facts that make a rule's `when` hold, as tokens."""
    lines = list(rule.when.lines)
    for branch in rule.when.branches:
        if all(holds(line, values) for line in branch):
            lines.extend(branch)
            break
    return tuple(f"{line.key}={value}" for line in lines for value in line.values if value in values.get(line.key, frozenset()))


def deduction(book: Rulebook, fired: Iterable[str], facts: Facts) -> Deduction:
    """The Deduction of a set of firings, in the order of the rule base, whichever engine found them."""
    names = set(fired)
    active = [rule for rule in book.rules if rule.id in names]
    findings = tuple(dict.fromkeys(finding for rule in active for finding in sorted(concludes(rule))))
    values = {**facts.values, words.FINDING: frozenset(findings)}
    return Deduction(
        traces=tuple(Trace(rule.id, support(rule, values)) for rule in active),
        findings=findings,
        effects=tuple((rule.id, effect) for rule in active for effect in rule.then),
    )


def fires(rule: Rule, values: Values) -> bool:
    """Whether a rule fires on these values, in a closed world."""
    for line in rule.when.lines:  # most rules fall at their first lines, and this is asked thousands of times a question
        if not holds(line, values):
            return False
    return satisfied(rule.when, values) is True and closed(rule.unless, values) is not True


def _settle(book: Rulebook, strata: Iterable[Sequence[Rule]], values: Values, fired: set[str]) -> frozenset[str]:
    findings = set().union(*(book.given[name] for name in fired))
    known: dict[str, frozenset[str]] = {**certain(values), words.FINDING: frozenset(findings)}
    for stratum in strata:
        waiting: Sequence[Rule] = stratum
        while new := [rule for rule in waiting if fires(rule, known)]:
            fired.update(rule.id for rule in new)
            given = frozenset().union(*(book.given[rule.id] for rule in new))
            if given <= known[words.FINDING]:
                break
            waiting = [rule for rule in waiting if rule.id not in fired]
            known[words.FINDING] |= given
    return frozenset(fired)


def fired_plainly(book: Rulebook, values: Values) -> frozenset[str]:
    """The plain evaluator: every rule that fires, by going round each stratum until nothing new comes."""
    return _settle(book, book.strata, values, set())


def fired_if(book: Rulebook, values: Values, fired_now: frozenset[str], changed: str, value: str) -> frozenset[str]:
    """What fires once the fact `changed`, unknown until now, has become `value`, as `values` says.

    Where no rule that asks about this very value fires otherwise than before, nothing does; else the rules that can hang on the fact,
    directly or through findings, are tried again.
    """
    findings = frozenset().union(*(book.given[name] for name in fired_now))
    known = {**certain(values), words.FINDING: findings}
    if all(fires(rule, known) == (rule.id in fired_now) for rule in book.that_name(changed, value)):
        return fired_now
    return _settle(book, book.strata_that_hang_on(changed), values, set(fired_now - book.hang_on(changed)))


def deduce_plainly(book: Rulebook, facts: Facts) -> Deduction:
    """`deduce` by the plain evaluator."""
    return deduction(book, fired_plainly(book, facts.values), facts)


def deduce(book: Rulebook, facts: Facts) -> Deduction:
    """What the rules conclude from `facts`, by durable-rules, or plainly where it cannot be loaded."""
    from diagnose.reasoning import engine

    if engine.available():
        return deduction(book, engine.fired(book, facts), facts)
    return deduce_plainly(book, facts)
