"""One file a fault: its docstring is its page; CODE names it; check() yields it with its place."""

from diagnose.rulebase.faults import (
    circle,
    contradiction,
    inseparable,
    missing_plate,
    near_copy,
    remembered_safety,
    row_too_full,
    rule_size,
    rule_without_story,
    thin_cause,
    unknown_fact,
    unknown_id,
    unknown_word,
    untreated_cause,
    unused_step,
)

# References first: a later check may rely on them.
FIRST = (unknown_id, unknown_word, unknown_fact, missing_plate)
THEN = (
    row_too_full,
    circle,
    contradiction,
    rule_size,
    rule_without_story,
    remembered_safety,
    untreated_cause,
    unused_step,
    thin_cause,
    inseparable,
    near_copy,
)
ALL = FIRST + THEN
