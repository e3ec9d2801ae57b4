"""Which causes are open for a damage, with which odds, and the model built of them (kept, since it is asked for often)."""

from collections.abc import Sequence
from dataclasses import replace

from diagnose.reasoning.facts import Facts, Values, may_apply, satisfied
from diagnose.reasoning.model import MOST_CAUSES, Model, build_model
from diagnose.rulebase.entries import Cause, When
from diagnose.rulebase.knowledge import Knowledge

_NEVER_CLOSED = When()


def open_causes(knowledge: Knowledge, values: Values, only: Sequence[str] = ()) -> tuple[Cause, ...]:
    """Causes that may act here; gates of causes ask about the case alone. `only` narrows them, as a story may."""
    return tuple(
        cause
        for cause in knowledge.causes.values()
        if may_apply(cause.when, _NEVER_CLOSED, values) and (not only or cause.id in only)
    )


def odds_of(knowledge: Knowledge, cause: Cause, values: Values) -> float:
    """The relative odds of a cause here: the first `except` that holds, or `happens`."""
    for other in cause.exceptions:
        if satisfied(other.when, values) is True:
            return knowledge.scale.happens[other.happens]
    return knowledge.scale.happens[cause.happens]


_kept: dict[tuple[str, tuple[tuple[str, float], ...], tuple[str, ...]], Model] = {}
_MOST_KEPT = 8


def likeliest(
    causes: Sequence[Cause], odds: Sequence[float], most: int = MOST_CAUSES
) -> tuple[list[Cause], list[float], tuple[str, ...]]:
    """The `most` causes with the highest odds, in the order given, with those odds; and the names of the rest.

    Where neither part nor joint is known yet, more causes may stand open than the sums carry.
    """
    order = sorted(range(len(causes)), key=lambda place: (-odds[place], place))
    kept, rest = sorted(order[:most]), sorted(order[most:])
    return [causes[i] for i in kept], [odds[i] for i in kept], tuple(causes[i].id for i in rest)


def model_for(knowledge: Knowledge, facts: Facts, only: Sequence[str] = ()) -> Model:
    """The model of the damage with these facts."""
    stand_open = open_causes(knowledge, facts.values, only)
    causes, odds, rest = likeliest(stand_open, [odds_of(knowledge, cause, facts.values) for cause in stand_open])
    key = (knowledge.version, tuple((cause.id, o) for cause, o in zip(causes, odds, strict=True)), rest)
    model = _kept.get(key)
    if model is None:
        model = replace(build_model(knowledge.scale, causes, odds, tuple(knowledge.signs.values())), left_out=rest)
        if len(_kept) >= _MOST_KEPT:
            _kept.pop(next(iter(_kept)))
        _kept[key] = model
    return model
