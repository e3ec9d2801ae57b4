"""A rule has no story where it fires, or none where it must not."""

from collections.abc import Iterator

from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded

CODE = "rule-without-story"


def check(loaded: Loaded) -> Iterator[Fault]:
    """Rules that no story proves."""
    fires = {rule for _, _, told in loaded.stories for rule in told.story.expect.rules}
    rests = {rule for _, _, told in loaded.stories for rule in told.story.never.rules}
    for rule_id in loaded.found["logic"]:
        for told, side in ((fires, "expect"), (rests, "never")):
            if rule_id not in told:
                what = "fires" if side == "expect" else "must not fire"
                hint = f"tell one beside it, with {side}: {{rules: [{rule_id}]}}"
                yield Fault(loaded.mark("logic", rule_id), CODE, f"no story tells where {rule_id} {what}", hint)
