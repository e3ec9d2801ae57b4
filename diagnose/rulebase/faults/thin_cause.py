"""A cause speaks to fewer than eight signs, or to fewer than three that can be answered at the counter.

Thin rows leave the belief flat, whatever the mathematics.
"""

from collections.abc import Iterator

from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded

CODE = "thin-cause"
MIN_SIGNS = 8
MIN_COUNTER = 3
COUNTER_EFFORTS = ("ask", "look")


def check(loaded: Loaded) -> Iterator[Fault]:
    """Causes with thin rows (a warning)."""
    signs = loaded.found["signs"]
    for cause in loaded.found["causes"].values():
        counter = [s for s in cause.shows if signs[s].effort in COUNTER_EFFORTS and signs[s].station != "inside_joint"]
        if len(cause.shows) < MIN_SIGNS or len(counter) < MIN_COUNTER:
            message = f"{cause.id} speaks to {len(cause.shows)} signs, {len(counter)} of them by asking or looking"
            mark = loaded.mark("causes", cause.id, "shows")
            yield Fault(mark, CODE, message, f"at least {MIN_SIGNS} and {MIN_COUNTER}", severity="warning")
