"""The rules made ready: in strata, and with what hangs on what, worked out once."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from diagnose import words
from diagnose.rulebase.entries import Rule
from diagnose.rulebase.knowledge import Knowledge


def concludes(rule: Rule) -> frozenset[str]:
    """The findings a rule gives."""
    return frozenset(effect.target for effect in rule.then if effect.kind == "finding")


def _asks_findings(rule: Rule, side: str) -> frozenset[str]:
    condition = rule.when if side == "when" else rule.unless
    return frozenset(value for line in condition.all_lines() if line.key == words.FINDING for value in line.values)


def strata(rules: tuple[Rule, ...]) -> tuple[tuple[Rule, ...], ...]:
    """Rules in strata: what a rule's `unless` asks of findings is settled in a stratum below it.

    Raises ValueError when a finding hangs on its own absence.
    """
    level = dict.fromkeys((rule.id for rule in rules), 0)
    givers: dict[str, list[str]] = {}
    for rule in rules:
        for finding in concludes(rule):
            givers.setdefault(finding, []).append(rule.id)
    for _ in range(len(rules) + 1):
        changed = False
        for rule in rules:
            need = level[rule.id]
            for finding in _asks_findings(rule, "when"):
                need = max([need, *(level[giver] for giver in givers.get(finding, ()))])
            for finding in _asks_findings(rule, "unless"):
                need = max([need, *(level[giver] + 1 for giver in givers.get(finding, ()))])
            if need != level[rule.id]:
                level[rule.id], changed = need, True
        if not changed:
            top = max(level.values(), default=0)
            return tuple(tuple(rule for rule in rules if level[rule.id] == height) for height in range(top + 1))
    raise ValueError("a finding hangs on its own absence: " + ", ".join(r.id for r in rules if level[r.id] > len(rules) // 2))


@dataclass(frozen=True, eq=False)
class Rulebook:
    """All rules of a rule base; two books are the same only if they are one object."""

    rules: tuple[Rule, ...]

    @cached_property
    def by_id(self) -> dict[str, Rule]:
        """Every rule by its id."""
        return {rule.id: rule for rule in self.rules}

    @cached_property
    def given(self) -> dict[str, frozenset[str]]:
        """The findings that each rule gives."""
        return {rule.id: concludes(rule) for rule in self.rules}

    @cached_property
    def strata(self) -> tuple[tuple[Rule, ...], ...]:
        """The rules in strata."""
        return strata(self.rules)

    @cached_property
    def _hanging(self) -> dict[str, frozenset[str]]:
        direct: dict[str, set[str]] = {}
        for rule in self.rules:
            for key in rule.when.keys() | rule.unless.keys():
                direct.setdefault(key, set()).add(rule.id)
        askers: dict[str, set[str]] = {}
        for rule in self.rules:
            for finding in _asks_findings(rule, "when") | _asks_findings(rule, "unless"):
                askers.setdefault(finding, set()).add(rule.id)
        return {key: frozenset(self._closure(found, askers)) for key, found in direct.items()}

    def _closure(self, found: Iterable[str], askers: dict[str, set[str]]) -> set[str]:
        known = set(found)
        waiting = list(known)
        while waiting:
            for finding in concludes(self.by_id[waiting.pop()]):
                new = askers.get(finding, set()) - known
                known |= new
                waiting.extend(new)
        return known

    def hang_on(self, key: str) -> frozenset[str]:
        """The rules whose firing can depend on a fact, directly or through findings."""
        return self._hanging.get(key, frozenset())

    @cached_property
    def _naming(self) -> dict[tuple[str, str], tuple[Rule, ...]]:
        found: dict[tuple[str, str], dict[str, Rule]] = {}
        for rule in self.rules:
            for line in (*rule.when.all_lines(), *rule.unless.all_lines()):
                for value in line.values:
                    found.setdefault((line.key, value), {})[rule.id] = rule
        return {fact: tuple(rules.values()) for fact, rules in found.items()}

    def that_name(self, key: str, value: str) -> tuple[Rule, ...]:
        """The rules that ask about this very value of a fact."""
        return self._naming.get((key, value), ())

    @cached_property
    def _strata_hanging(self) -> dict[str, tuple[tuple[Rule, ...], ...]]:
        return {
            key: tuple(part for stratum in self.strata if (part := tuple(rule for rule in stratum if rule.id in names)))
            for key, names in self._hanging.items()
        }

    def strata_that_hang_on(self, key: str) -> tuple[tuple[Rule, ...], ...]:
        """The same rules in their strata."""
        return self._strata_hanging.get(key, ())


_kept: dict[str, Rulebook] = {}


def rulebook_of(knowledge: Knowledge) -> Rulebook:
    """The rulebook of a rule base, made once."""
    if knowledge.version not in _kept:
        _kept[knowledge.version] = Rulebook(tuple(knowledge.logic.values()))
    return _kept[knowledge.version]
