"""Several causes at once, exactly: from answers to the probability of every set of causes, and of every cause.

Damages of one piece are tied by the causes that reach the piece: each damage tells the others only what its own answers say of
those causes. Answers about the piece count once in the belief of each damage.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from diagnose.case.case import Answer
from diagnose.reasoning.model import Array, Model
from diagnose.rulebase.entries import Scale

TOO_SMALL_TO_COUNT = 1e-60
# What to ask next is reckoned over the sets that carry all of the belief but this share.
LEFT_OUT = 0.01


@dataclass(frozen=True)
class Belief:
    """The belief of one damage: P(set), and P(cause)."""

    model: Model
    posterior: Array
    answered: Mapping[str, Array]
    message: Array

    @cached_property
    def causes(self) -> dict[str, float]:
        """P(cause) for every open cause; they may add up to more than 1, since several can act at once."""
        totals = self.posterior @ self.model.members
        return dict(zip(self.model.names, (float(total) for total in totals), strict=True))

    @property
    def something_else(self) -> float:
        """P(none of the causes known here)."""
        return float(self.posterior[0])

    def leading(self) -> NDArray[np.intp]:
        """The places of the sets that carry all of the belief but LEFT_OUT, in order, "something else" among them.

        Sets as probable as the last that is needed come along, so that the order of the causes changes nothing.
        """
        falling = np.sort(self.posterior)[::-1]
        last = falling[np.searchsorted(np.cumsum(falling), 1.0 - LEFT_OUT)]
        return np.union1d(np.flatnonzero(self.posterior >= last * (1.0 - 1e-9)), [0])

    def narrowed(self, keep: NDArray[np.intp]) -> "Belief":
        """The belief if only the sets at these places were possible: a belief of its own, for which every law holds too."""
        return Belief(self.model.narrowed(keep), normalised(self.posterior[keep]), {}, self.message[keep])

    def explanations(self, most: int = 5) -> tuple[tuple[tuple[str, ...], float], ...]:
        """The most probable sets of causes, each with its probability; the empty set means something else."""
        order = np.argsort(-self.posterior, kind="stable")[:most]
        names = np.array(self.model.names)
        return tuple((tuple(names[self.model.members[i] > 0].tolist()), float(self.posterior[i])) for i in order)


def normalised(weights: Array) -> Array:
    """Weights as probabilities; an impossible answer (all weights 0) leaves them even."""
    total = weights.sum()
    # Sums with numbers near the smallest that a float can hold are slower a hundredfold, and such a set counts for nothing.
    weights = np.where(weights < TOO_SMALL_TO_COUNT * total, 0.0, weights)
    return weights / total if total > 0 else np.full(weights.shape, 1.0 / weights.size)


def answer_tables(scale: Scale, model: Model, answers: Mapping[str, Answer]) -> dict[str, Array]:
    """P(answer | set) of every answer that the model has a sign for.

    Answers that stand behind a computed reading are left out: the computed one stands in their place.
    """
    computed = (model.tables[name].sign.computed for name in answers if name in model.tables)
    replaced = {source for one in computed if one is not None for source in one.source_signs}
    return {
        name: model.tables[name].likelihood(answer.reads, scale.off_by[answer.off_by])
        for name, answer in sorted(answers.items())
        if name in model.tables and name not in replaced
    }


def product(tables: Mapping[str, Array], size: int) -> Array:
    """The product of the answers' likelihoods for every set."""
    result = np.ones(size)
    for table in tables.values():
        result = result * table
    return result


def _wide(model: Model) -> frozenset[str]:
    return frozenset(np.array(model.names)[model.piece_wide].tolist())


def _parts(model: Model, shared: frozenset[str]) -> list[frozenset[str]]:
    names = np.array(model.names)
    return [frozenset(names[row > 0].tolist()) & shared for row in model.members]


def message(model: Model, own: Mapping[str, Array], shared: frozenset[str]) -> dict[frozenset[str], float]:
    """What one damage's own answers say of the piece-wide causes that both know: P(answers | exactly these of `shared` act).

    Everything else of that damage, "something else" too, is summed out by its prior. With no answers every value is exactly 1, so a
    damage about which nothing is known moves nothing.
    """
    like = product(own, model.sets)
    sums: dict[frozenset[str], list[float]] = {}
    for part, weight, share in zip(_parts(model, shared), model.prior, like, strict=True):
        entry = sums.setdefault(part, [0.0, 0.0])
        entry[0] += weight * share
        entry[1] += weight
    return {part: top / bottom for part, (top, bottom) in sums.items()}


def heard(model: Model, others: Sequence[tuple[Model, Mapping[str, Array]]]) -> Array:
    """For every set of `model`, what the other damages say of its piece-wide causes, shape (S,)."""
    result = np.ones(model.sets)
    for other, own in others:
        shared = _wide(model) & _wide(other)
        if not own or not shared:
            continue
        says = message(other, own, shared)
        result = result * np.array([says[part] for part in _parts(model, shared)])
    return result


def believe(model: Model, answered: Mapping[str, Array], said_by_others: Array | None = None) -> Belief:
    """The posterior over sets: prior × likelihood of every answer × what the other damages say."""
    told = np.ones(model.sets) if said_by_others is None else said_by_others
    return Belief(model, normalised(model.prior * product(answered, model.sets) * told), answered, told)


def log_odds(probability: ArrayLike) -> Array:
    """10·log₁₀(p/(1−p)), in decibels, kept within ±120 dB; of one probability or of many.

    >>> float(log_odds(0.4657).round(2))
    -0.6
    """
    p = np.clip(probability, 1e-12, 1.0 - 1e-12)
    return np.asarray(10.0 * np.log10(p / (1.0 - p)))


def _left_out(tables: Mapping[str, Array], size: int) -> Iterator[tuple[str, Array]]:
    """For every answer, the product of all the others' likelihoods."""
    names = list(tables)
    before = [np.ones(size)]
    for name in names[:-1]:
        before.append(before[-1] * tables[name])
    after = np.ones(size)
    for name, product_before in zip(reversed(names), reversed(before), strict=False):
        yield name, product_before * after
        after = after * tables[name]


def decibels(belief: Belief) -> dict[str, dict[str, float]]:
    """For every answer, how far it moved each cause: the log-odds now minus the log-odds without that answer, in dB."""
    model = belief.model
    now = log_odds(np.array(list(belief.causes.values())))
    start = model.prior * belief.message
    found = {
        name: dict(zip(model.names, (now - log_odds(normalised(start * rest) @ model.members)).tolist(), strict=True))
        for name, rest in _left_out(belief.answered, model.sets)
    }
    return {name: found[name] for name in belief.answered}


@dataclass(frozen=True)
class Conflict:
    """The answers fit each other badly: by how many bits, and which recheck would resolve most."""

    bits: float
    recheck: str


def conflict(belief: Belief) -> Conflict | None:
    """Whether the answers together are less likely than as independent events at their marginals.

    bits = log₂(∏ P(answer) / P(all answers)); None when that is not above 0 or fewer than two answers stand.
    """
    model = belief.model
    prior = normalised(model.prior * belief.message)

    alone = {name: float(np.log2(prior @ table)) for name, table in belief.answered.items()}
    if len(alone) < 2:
        return None
    total = sum(alone.values())
    bits = total - float(np.log2(prior @ product(belief.answered, model.sets)))
    if bits <= 0:
        return None
    without = {name: total - alone[name] - float(np.log2(prior @ rest)) for name, rest in _left_out(belief.answered, model.sets)}
    return Conflict(bits, min(sorted(without), key=lambda sign: without[sign]))
