"""Bans: what the rules forbid, what is not strong enough for what hangs on it, and what rules would forbid if one more sign were seen."""

from collections.abc import Iterable, Mapping, Sequence

from diagnose import words
from diagnose.reasoning.deduce import Deduction
from diagnose.rulebase.entries import Effect, Method, Rule

FIT = 0.9
WEAK_TOGETHER = 0.5
# Where somebody could fall, a repair that more likely fails than holds is not offered while a better one is open (judgement).
MORE_LIKELY_FAILS = 0.5


def is_short(ratio: float | None, must_exceed: bool) -> bool:
    """Whether a repair leaves the part too weak: under .9 of as made, or not above 1 where it was made too weak."""
    if ratio is None:
        return False
    return ratio <= 1.0 if must_exceed else ratio < FIT - 1e-9


def forbidden(
    deduction: Deduction,
    methods: Sequence[Method],
    logic: Mapping[str, Rule],
    ratios: Mapping[str, float | None],
    must_exceed: bool,
) -> dict[str, str]:
    """Every method that a fired rule forbids, with the reason the rule gives.

    What is said of the method or its class tells more than what is said of any method of its strength, and so comes first.
    """
    reasons: dict[str, str] = {}
    for kind in ("forbid_method", "forbid_class", "forbid_whose"):
        for rule_id, effect in deduction.effects:
            if effect.kind != kind:
                continue
            for method in methods:
                if _hit(effect, method, ratios.get(method.id), must_exceed):
                    reasons.setdefault(method.id, logic[rule_id].because)
    return reasons


def _hit(effect: Effect, method: Method, ratio: float | None, must_exceed: bool) -> bool:
    if effect.kind == "forbid_method":
        return method.id == effect.target
    if effect.kind == "forbid_class":
        return method.decision == effect.target
    return ratio is not None and is_short(ratio, must_exceed) is (effect.target == "short")


def not_fit(
    methods: Sequence[Method], consequence: str | None, ratios: Mapping[str, float | None], must_exceed: bool
) -> dict[str, str]:
    """Where somebody could fall: methods that do not leave the part fit for use, whatever they cost."""
    if consequence not in words.NOT_FOR_MONEY:
        return {}
    reasons = {}
    for method in methods:
        if method.end_use in ("show_only", "not_to_be_used") or method.by != "us":
            continue
        ratio = ratios.get(method.id)
        if is_short(ratio, must_exceed):
            assert ratio is not None
            need = "more than it was made with, since it was made too weak" if must_exceed else f"at least {FIT:.0%}"
            reasons[method.id] = (
                f"it leaves about {ratio:.0%} of the strength it was made with and needs {need}: "
                f"{words.CONSEQUENCES[consequence]}"
            )
    return reasons


def likely_to_fail(fails: Mapping[str, float], consequence: str | None, serving: Iterable[str]) -> dict[str, str]:
    """Where somebody could fall: methods that more likely fail again than hold, while another among `serving` holds.

    `fails` is P(again) of each method still open; `serving` those that put the part back into use.
    """
    if consequence not in words.NOT_FOR_MONEY:
        return {}
    in_use = [name for name in serving if name in fails]
    if not any(fails[name] <= MORE_LIKELY_FAILS for name in in_use):
        return {}
    outcome = words.CONSEQUENCES[consequence]
    return {
        name: f"it leaves what made it fail, so that it more likely fails again than holds, and {outcome}"
        for name in in_use
        if fails[name] > MORE_LIKELY_FAILS
    }
