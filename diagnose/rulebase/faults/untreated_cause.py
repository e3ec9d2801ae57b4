"""No method treats a cause, not even by advice."""

from collections.abc import Iterator

from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded

CODE = "untreated-cause"


def check(loaded: Loaded) -> Iterator[Fault]:
    """Causes that would be named and then left alone."""
    treated = {name for method in loaded.found["methods"].values() for name in method.treats}
    for cause in loaded.found["causes"].values():
        if cause.id not in treated and cause.family not in treated:
            mark = loaded.mark("causes", cause.id)
            yield Fault(mark, CODE, f"no method treats {cause.id}", "name it under treats of one")
