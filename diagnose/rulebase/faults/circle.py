"""Things wait for each other in a circle.

Steps by `after`, the gates of signs, or a rule whose `unless` asks about a finding that follows from the rule itself.
"""

from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter

from diagnose import words
from diagnose.rulebase.entries import When
from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded

CODE = "circle"


def _circle(graph: dict[str, set[str]]) -> list[str]:
    try:
        TopologicalSorter({name: sorted(others) for name, others in graph.items()}).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []


def _findings(condition: When) -> set[str]:
    return {value for line in condition.all_lines() if line.key == words.FINDING for value in line.values}


def _absences(loaded: Loaded) -> Iterator[Fault]:
    """Rules whose `unless` asks about a finding that follows, by whatever way, from the rule itself."""
    rules = list(loaded.found["logic"].values())
    gives = {rule.id: {effect.target for effect in rule.then if effect.kind == "finding"} for rule in rules}
    asks = {rule.id: _findings(rule.when) | _findings(rule.unless) for rule in rules}
    for rule in (rule for rule in rules if rule.unless):
        follows = set(gives[rule.id])
        while True:
            hang = [r for r in rules if asks[r.id] & follows]
            more = {finding for r in hang for finding in gives[r.id]} - follows
            if not more:
                break
            follows |= more
        for finding in sorted(_findings(rule.unless) & follows):
            mark = loaded.key_mark("logic", rule.id, "unless", words.FINDING)
            yield Fault(mark, CODE, f"{rule.id} hangs on the absence of {finding}, which follows from it")


def check(loaded: Loaded) -> Iterator[Fault]:
    """At most one circle of each kind, named in full, and every rule that waits for its own absence."""
    yield from _absences(loaded)
    steps = {step.id: set(step.after) for step in loaded.found["steps"].values()}
    signs = {
        sign.id: (sign.when.keys() | sign.unless.keys()) & set(loaded.found["signs"]) for sign in loaded.found["signs"].values()
    }
    for kind, graph, path in (("steps", steps, "after"), ("signs", signs, "when")):
        names = _circle(graph)
        if names:
            mark = loaded.mark(kind, names[0], path)
            yield Fault(mark, CODE, f"a circle: {' → '.join(names)}", "take one of these links out")
