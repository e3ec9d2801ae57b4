"""A rule can never fire, or says two things that cannot both be done.

It can never fire when its `unless` closes on what its `when` demands, or when it waits for a finding that no rule
gives. It contradicts itself when it forbids a method of a class that it also forbids as a whole (said twice), or when
two rules with the same conditions give different triage.
"""

from collections.abc import Iterator

from diagnose import words
from diagnose.rulebase.entries import Line, Rule
from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded

CODE = "contradiction"


def _follows(line: Line, demanded: Line) -> bool:
    """Whether `line` holds wherever `demanded` does."""
    if line.key != demanded.key:
        return False
    asked, held = set(line.values), set(demanded.values)
    if demanded.every:
        return asked <= held if line.every else bool(asked & held)
    return held <= asked if not line.every or len(asked) == 1 else False


def _closed_by_itself(rule: Rule) -> bool:
    def demanded(line: Line) -> bool:
        return any(_follows(line, other) for other in rule.when.lines)

    return any(demanded(line) for line in rule.unless.lines) or any(
        all(demanded(line) for line in branch) for branch in rule.unless.branches
    )


def _never_given(rule: Rule, given: set[str]) -> list[str]:
    return [
        value
        for line in rule.when.lines
        if line.key == words.FINDING and (line.every or not given & set(line.values))
        for value in line.values
        if value not in given
    ]


def check(loaded: Loaded) -> Iterator[Fault]:
    """Rules that are void or that clash."""
    methods = loaded.found["methods"]
    by_condition: dict[tuple[object, object], Rule] = {}
    effects = [effect for rule in loaded.found["logic"].values() for effect in rule.then]
    given = {effect.target for effect in effects if effect.kind == "finding"}
    for rule in loaded.found["logic"].values():
        if _closed_by_itself(rule):
            mark = loaded.key_mark("logic", rule.id, "unless")
            yield Fault(mark, CODE, f"{rule.id} can never fire: unless closes on what when demands")
        for finding in _never_given(rule, given):
            mark = loaded.key_mark("logic", rule.id, "when", words.FINDING)
            yield Fault(mark, CODE, f"{rule.id} can never fire: no rule gives the finding {finding}")
        classes = {effect.target for effect in rule.then if effect.kind == "forbid_class"}
        for index, effect in enumerate(rule.then):
            if effect.kind == "forbid_method" and methods[effect.target].decision in classes:
                mark = loaded.mark("logic", rule.id, "then", index)
                yield Fault(mark, CODE, f"{effect.target} is forbidden twice", "its class is forbidden already")
        key = (rule.when, rule.unless)
        other = by_condition.setdefault(key, rule)
        triage = {effect.target for effect in (*rule.then, *other.then) if effect.kind == "triage"}
        if other is not rule and len(triage) > 1:
            mark = loaded.mark("logic", rule.id)
            yield Fault(mark, CODE, f"{rule.id} and {other.id} give different triage for the same facts")
