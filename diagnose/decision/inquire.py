"""What is worth asking next: the value of an answer for the decision and for naming the cause, per minute it takes.

value(x) = Δ min_m E[cost] + w·Δ max_c P(c), costs and list of methods held as they are now, so that no answer has a negative
value and none more than perfect information. Bans are apart: a sign that can still forbid the advised method comes first.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from diagnose.reasoning.model import Array, Model, SignTable


@dataclass(frozen=True)
class Worth:
    """What an answer is worth, in the shop's currency: for the decision, and for naming the cause."""

    decision: float
    naming: float

    @property
    def total(self) -> float:
        """Both together."""
        return self.decision + self.naming


@dataclass(frozen=True)
class Branch:
    """What follows if a sign is answered in one way: its chance, the costs of all methods, the surest cause."""

    reads: tuple[str, ...]
    chance: float
    costs: Array
    causes: Array


def branches(table: SignTable, members: Array, posterior: Array, costs: Array, u: float) -> tuple[Branch, ...]:
    """Every possible answer to a sign and what would follow; `costs` is (methods, S)."""
    answers, likes = table.outcomes(u)
    found = []
    for reads, like in zip(answers, likes, strict=True):
        joint = posterior * like
        chance = float(joint.sum())
        if chance > 0:
            found.append(Branch(reads, chance, costs @ joint / chance, joint @ members / chance))
    return tuple(found)


def _weighted(members: Array, posterior: Array, costs: Array) -> Array:
    """What every answer's likelihood is multiplied with, once for all signs: costs and members of each set by its probability."""
    return np.concatenate([costs, members.T]) * posterior


def _worth(likes: Array, weighted: Array, methods: int, wrong_reason: float) -> Worth:
    """The worth of a sign whose answers have these likelihoods, (answers, S)."""
    after = likes @ weighted.T
    now = weighted.sum(axis=1)
    decision = float(now[:methods].min() - after[:, :methods].min(axis=1).sum()) if methods else 0.0
    naming = float(after[:, methods:].max(axis=1).sum() - now[methods:].max()) if weighted.shape[0] > methods else 0.0
    return Worth(_clean(decision), wrong_reason * _clean(naming))


def worth(table: SignTable, members: Array, posterior: Array, costs: Array, wrong_reason: float, u: float) -> Worth:
    """The value of asking one sign now. `wrong_reason` is what a wrong cause in the letter costs."""
    _, likes = table.outcomes(u)
    return _worth(likes, _weighted(members, posterior, costs), costs.shape[0], wrong_reason)


def _clean(value: float) -> float:
    """Rounding noise below 0 is 0; a real negative value would be a fault and stays visible."""
    return 0.0 if -1e-9 < value < 1e-9 else value


def perfect(members: Array, posterior: Array, costs: Array, wrong_reason: float) -> Worth:
    """The value of knowing the set of causes for certain: the roof over every sign's worth."""
    decision = float((costs @ posterior).min() - costs.min(axis=0) @ posterior) if costs.shape[0] else 0.0
    named = float(members.max(axis=1) @ posterior) if members.shape[1] else 0.0
    best = float((posterior @ members).max()) if members.shape[1] else 0.0
    return Worth(decision, wrong_reason * (named - best))


@dataclass(frozen=True)
class Question:
    """A sign that could be asked: what its answer is worth, its minutes with turning the piece, and why it comes where it does."""

    sign: str
    value: float
    minutes: float
    reason: str = "value"
    chance: float = 0.0

    @property
    def per_minute(self) -> float:
        """Worth per minute."""
        return self.value / self.minutes if self.minutes > 0 else self.value


def worth_of_all(
    model: Model,
    posterior: Array,
    costs: Array,
    wrong_reason: float,
    off_by: Mapping[str, float],
    signs: Iterable[str],
) -> dict[str, Worth]:
    """The worth of every sign of `signs` that the model knows; `off_by` gives how easily each answer is wrong."""
    weighted = _weighted(model.members, posterior, costs)
    return {name: _worth(model.tables[name].outcomes(off_by[name])[1], weighted, costs.shape[0], wrong_reason) for name in signs}


def reading_chances(table: SignTable, posterior: Array) -> dict[str, float]:
    """How likely each single reading is to be seen now."""
    shares = dict(zip(table.readings, (float(x) for x in np.asarray(posterior @ table.like)), strict=True))
    return {"yes": shares["yes"], "no": 1.0 - shares["yes"]} if table.sign.kind == "yes_no" else shares
