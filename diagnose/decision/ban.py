"""Bans: what the rules forbid, what is not strong enough for what hangs on it, and what rules would forbid if one more sign were seen."""

from collections.abc import Iterable, Mapping, Sequence

from diagnose import words
from diagnose.decision.decide import Line
from diagnose.reasoning.deduce import Deduction
from diagnose.rulebase.entries import Effect, Method, Rule

FIT = 0.9
WEAK_TOGETHER = 0.5
# A repair that more likely fails than holds is not offered while a better one of ours is open (judgement).
MORE_LIKELY_FAILS = 0.5


def is_short(ratio: float | None, must_exceed: bool) -> bool:
    """Whether a repair leaves the part too weak: under .9 of as made, or not above 1 where it was made too weak."""
    if ratio is None:
        return False
    return ratio <= 1.0 if must_exceed else ratio < FIT - 1e-9


# From the most general ground of a ban to the one that says most about the method itself; a later one takes the earlier's place.
BY_STRENGTH = ("forbid_whose",)
BY_NAME = ("forbid_class", "forbid_method")


def forbidden(
    deduction: Deduction,
    methods: Sequence[Method],
    logic: Mapping[str, Rule],
    ratios: Mapping[str, float | None],
    must_exceed: bool,
    kinds: Sequence[str],
) -> dict[str, str]:
    """Every method that a fired rule forbids by an effect of these kinds, with the reason of the first such rule of the last kind."""
    reasons: dict[str, str] = {}
    for kind in kinds:
        found: dict[str, str] = {}
        for rule_id, effect in deduction.effects:
            if effect.kind == kind:
                for method in methods:
                    if hits(effect, method, ratios.get(method.id), must_exceed):
                        found.setdefault(method.id, logic[rule_id].because)
        reasons |= found
    return reasons


def hits(effect: Effect, method: Method, ratio: float | None, must_exceed: bool) -> bool:
    """Whether an effect forbids a method that leaves this share of the strength."""
    if effect.kind == "forbid_method":
        return method.id == effect.target
    if effect.kind == "forbid_class":
        return method.decision == effect.target
    if effect.kind != "forbid_whose":
        return False
    return ratio is not None and is_short(ratio, must_exceed) is (effect.target == "short")


def puts_back(method: Method) -> bool:
    """Whether a method puts the part back into use, in our shop or in another one."""
    return method.by in words.WORKSHOPS and method.end_use not in words.GIVEN_UP


def makes_whole(method: Method) -> bool:
    """Whether after a method somebody uses the piece again, whatever trade did the work."""
    return method.by in words.TRADES and method.end_use not in words.GIVEN_UP


def not_fit(
    methods: Sequence[Method], consequence: str | None, ratios: Mapping[str, float | None], must_exceed: bool
) -> dict[str, str]:
    """Where somebody could fall: methods that do not leave the part fit for use, whatever they cost."""
    if consequence not in words.NOT_FOR_MONEY:
        return {}
    reasons = {}
    for method in methods:
        if not puts_back(method):
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


def worth_unsaid(retiring: Sequence[Line], mending: Sequence[Line]) -> dict[str, float]:
    """Ways of giving a piece up of which nobody said what it is worth, while it can be mended: they are the owner's to choose.

    The lines are those of the expected cost in the value. Each way comes with the value below which it would cost less than the
    best way of mending; 0 where it never does.
    """
    found = {}
    for given_up in retiring:
        crossings = [
            (mend.at_zero - given_up.at_zero) / (given_up.slope - mend.slope) for mend in mending if given_up.slope > mend.slope
        ]
        if crossings:
            found[given_up.method] = max(0.0, min(crossings))
    return found


def likely_to_fail(fails: Mapping[str, float], consequence: str | None, repairs: Iterable[str]) -> dict[str, str]:
    """Repairs that more likely fail again than hold, while another one holds.

    `fails` is P(again) of each method still open; `repairs` those after which somebody uses the piece again, whoever does the work.
    While nothing holds with more than an even chance nothing is ruled out so: then it is too early to say.
    """
    still_open = [name for name in repairs if name in fails]
    if not any(fails[name] <= MORE_LIKELY_FAILS for name in still_open):
        return {}
    falls = f", and {words.CONSEQUENCES[consequence]}" if consequence in words.NOT_FOR_MONEY else ""
    because = f"it leaves what made it fail, so that it more likely fails again than holds{falls}"
    return {name: because for name in still_open if fails[name] > MORE_LIKELY_FAILS}
