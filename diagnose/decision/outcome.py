"""How likely each method fails again, given each set of causes."""

from collections.abc import Sequence

import numpy as np

from diagnose import words
from diagnose.reasoning.model import Array
from diagnose.rulebase.entries import BY_STRENGTH, Cause, Method, Scale


def share_left(scale: Scale, method: Method, cause: Cause) -> float:
    """The share of a cause that is left after a method: a cause of its own wins over its family; not named = not treated (1)."""
    word = method.treats.get(cause.id, method.treats.get(cause.family))
    return 1.0 if word is None else scale.treats[word]


def left_over(scale: Scale, method: Method, causes: Sequence[Cause]) -> Array:
    """For every cause the chance that it brings the damage back within the horizon after this method, shape (C,).

    A cause that returns by strength is answered by the strength of the repaired part alone and counts 0 here.
    """
    return np.array(
        [
            0.0 if cause.returns == BY_STRENGTH else scale.words[cause.returns] * share_left(scale, method, cause)
            for cause in causes
        ],
        dtype=np.float64,
    )


def else_left(scale: Scale, method: Method) -> float:
    """The same for "something else", which has a return of its own."""
    word = method.treats.get(words.SOMETHING_ELSE)
    return scale.words[scale.something_else_returns] * (1.0 if word is None else scale.treats[word])


def fails_again(members: Array, left: Array, left_of_else: float, by_strength: float) -> Array:
    """P(again | method, set) = 1 − (1 − P_strength)·∏(1 − left over), shape (S,). The first set is "something else"."""
    held = np.exp(members @ np.log1p(-np.minimum(left, 1.0 - 1e-15)))
    held[0] = 1.0 - left_of_else
    return np.asarray(1.0 - (1.0 - by_strength) * held)


def nothing_left_to_fail(method: Method) -> bool:
    """A piece that is not to be used can no longer fail in use."""
    return method.end_use == "not_to_be_used"


def outcome(scale: Scale, method: Method, causes: Sequence[Cause], members: Array, by_strength: float) -> Array:
    """P(again | method, set) for one method of the rule base."""
    if nothing_left_to_fail(method):
        return np.zeros(members.shape[0])
    return fails_again(members, left_over(scale, method, causes), else_left(scale, method), by_strength)
