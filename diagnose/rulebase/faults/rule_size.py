"""A rule, or the whole set of rules, is larger than the rule engine carries.

Twelve conditions a rule and four hundred rules are the limits the engine was measured to.
"""

from collections.abc import Iterator

from diagnose.rulebase.entries.when import MAX_CONDITIONS
from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded

CODE = "rule-size"
MAX_RULES = 400


def check(loaded: Loaded) -> Iterator[Fault]:
    """Rules with too many conditions, and too many rules."""
    rules = list(loaded.found["logic"].values())
    for rule in rules:
        count = rule.when.conditions() + sum(1 if line.every else len(line.values) for line in rule.unless.all_lines())
        if count > MAX_CONDITIONS:
            mark = loaded.mark("logic", rule.id)
            message = f"{rule.id} has {count} conditions, more than {MAX_CONDITIONS}"
            yield Fault(mark, CODE, message, "make two rules of it")
    if len(rules) > MAX_RULES:
        mark = loaded.mark("logic", rules[MAX_RULES].id)
        yield Fault(mark, CODE, f"there are {len(rules)} rules, more than {MAX_RULES}")
