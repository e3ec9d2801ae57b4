"""A rule can never fire, or says two things that cannot both be done.

It can never fire when its `unless` closes on what its `when` demands. It contradicts itself when it forbids a method of a class
that it also forbids as a whole (said twice), or when two rules with the same conditions give different triage.
"""

from collections.abc import Iterator

from diagnose.rulebase.entries import Rule
from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded

CODE = "contradiction"


def _closed_by_itself(rule: Rule) -> bool:
    demanded = {line.key: set(line.values) for line in rule.when.lines}
    for line in rule.unless.lines:
        wanted = demanded.get(line.key)
        if wanted is not None and wanted <= set(line.values) and not line.every:
            return True
    return False


def check(loaded: Loaded) -> Iterator[Fault]:
    """Rules that are void or that clash."""
    methods = loaded.found["methods"]
    by_condition: dict[tuple[object, object], Rule] = {}
    for rule in loaded.found["logic"].values():
        if _closed_by_itself(rule):
            mark = loaded.key_mark("logic", rule.id, "unless")
            yield Fault(mark, CODE, f"{rule.id} can never fire: unless closes on what when demands")
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
