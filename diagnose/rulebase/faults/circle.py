"""Things wait for each other in a circle: steps by `after`, or the gates of signs."""

from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter

from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded

CODE = "circle"


def _circle(graph: dict[str, set[str]]) -> list[str]:
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []


def check(loaded: Loaded) -> Iterator[Fault]:
    """At most one circle of each kind, named in full."""
    steps = {step.id: set(step.after) for step in loaded.found["steps"].values()}
    signs = {
        sign.id: (sign.when.keys() | sign.unless.keys()) & set(loaded.found["signs"])
        for sign in loaded.found["signs"].values()
    }
    for kind, graph, path in (("steps", steps, "after"), ("signs", signs, "when")):
        names = _circle(graph)
        if names:
            mark = loaded.mark(kind, names[0], path)
            yield Fault(mark, CODE, f"a circle: {' → '.join(names)}", "take one of these links out")
