"""A step that no method takes, no rule requires and no step that is used needs."""

from collections.abc import Iterator

from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded

CODE = "unused-step"


def check(loaded: Loaded) -> Iterator[Fault]:
    """Steps that can never stand in a plan."""
    used = {step for method in loaded.found["methods"].values() for step in method.steps}
    used |= {e.target for rule in loaded.found["logic"].values() for e in rule.then if e.kind == "require"}
    steps = loaded.found["steps"]
    waiting = [name for name in used if name in steps]
    while waiting:
        more = set(steps[waiting.pop()].needs) - used
        used |= more
        waiting.extend(name for name in more if name in steps)
    for step_id in steps:
        if step_id not in used:
            yield Fault(loaded.mark("steps", step_id), CODE, f"no method takes {step_id} and no rule requires it")
