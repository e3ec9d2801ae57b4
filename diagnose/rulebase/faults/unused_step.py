"""A step that no method takes and no rule requires."""

from collections.abc import Iterator

from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded

CODE = "unused-step"


def check(loaded: Loaded) -> Iterator[Fault]:
    """Steps that can never stand in a plan."""
    used = {step for method in loaded.found["methods"].values() for step in method.steps}
    used |= {e.target for rule in loaded.found["logic"].values() for e in rule.then if e.kind == "require"}
    for step_id in loaded.found["steps"]:
        if step_id not in used:
            yield Fault(loaded.mark("steps", step_id), CODE, f"no method takes {step_id} and no rule requires it")
