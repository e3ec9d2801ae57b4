"""The words of one row add up to more than certainty.

A choose-one or measured sign has one reading, so what a cause shows on it can add up to 1 at most.
"""

from collections.abc import Iterator

from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded

CODE = "row-too-full"


def check(loaded: Loaded) -> Iterator[Fault]:
    """Every row that sums to more than 1."""
    assert loaded.scale is not None
    for cause in loaded.found["causes"].values():
        for sign_id, said in cause.shows.items():
            if loaded.found["signs"][sign_id].kind in ("yes_no", "tick_all"):
                continue
            total = sum(loaded.scale.words[word] for word in said.values())
            if total > 1 + 1e-9:
                mark = loaded.key_mark("causes", cause.id, "shows", sign_id)
                message = f"the words of {sign_id} add up to {total:.2f}"
                yield Fault(mark, CODE, message, "take a weaker word for one of them")
