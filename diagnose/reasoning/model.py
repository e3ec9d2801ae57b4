"""The belief model of one damage in one context: sets of causes, their prior, and what each set shows on each sign.

Shapes: S sets (the first is "something else", holding no cause), C causes, V readings of a sign.

What a set shows on a sign is worked out when it is first asked for: an interview asks about all signs only for the few sets that carry
the belief, and about all sets only for the few signs that were answered.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from diagnose.rulebase.entries import Cause, Scale, Sign
from diagnose.rulebase.rows import background, row

Array = NDArray[np.float64]
LARGEST_SET = 3
MOST_CAUSES = 40


@dataclass(frozen=True)
class SignTable:
    """What each set shows on one sign.

    `like` is (S, V): for choose-one and measured signs a distribution over the readings; for yes/no and tick-all signs the
    probability of "seen" for each reading, each reading a yes/no of its own (V is then 2 in the error model).
    """

    sign: Sign
    readings: tuple[str, ...]
    like: Array
    _outcomes: dict[float, tuple[tuple[tuple[str, ...], ...], Array]] = field(default_factory=dict, repr=False, compare=False)

    @property
    def each_alone(self) -> bool:
        """Whether every reading is a yes/no of its own."""
        return self.sign.kind in ("yes_no", "tick_all")

    def off(self, share: Array, u: float) -> Array:
        """P(reading) when the answer is off with chance `u`: (1−u)·p + u/V."""
        choices = 2 if self.each_alone else len(self.readings)
        return (1.0 - u) * share + u / choices

    def likelihood(self, reads: Sequence[str], u: float) -> Array:
        """P(this answer | set) for every set, shape (S,)."""
        if not self.each_alone:
            (reading,) = reads
            return self.off(self.like[:, self.readings.index(reading)], u)
        if self.sign.kind == "yes_no":
            yes = self.off(self.like[:, self.readings.index("yes")], u)
            return yes if reads == ("yes",) or list(reads) == ["yes"] else 1.0 - yes
        result = np.ones(self.like.shape[0])
        for index, reading in enumerate(self.readings):
            seen = self.off(self.like[:, index], u)
            result *= seen if reading in reads else 1.0 - seen
        return result

    def outcomes(self, u: float) -> tuple[tuple[tuple[str, ...], ...], Array]:
        """Every possible answer, and P(answer | set) as (answers, S). Worked out once for each `u`."""
        if u not in self._outcomes:
            self._outcomes[u] = self._work_out(u)
        return self._outcomes[u]

    def _work_out(self, u: float) -> tuple[tuple[tuple[str, ...], ...], Array]:
        if not self.each_alone:
            return tuple((reading,) for reading in self.readings), self.off(self.like, u).T
        if self.sign.kind == "yes_no":
            yes = self.off(self.like[:, self.readings.index("yes")], u)
            return (("yes",), ("no",)), np.stack([yes, 1.0 - yes])
        answers: list[tuple[str, ...]] = [()]
        table = np.ones((1, self.like.shape[0]))
        for index, reading in enumerate(self.readings):
            seen = self.off(self.like[:, index], u)
            answers = answers + [(*answer, reading) for answer in answers]
            table = np.concatenate([table * (1.0 - seen), table * seen])
        return tuple(answers), table


@dataclass(frozen=True, eq=False)
class SignRows:
    """What every cause shows on one sign: `rows` (C, V), which causes speak to it (C,), and the background (V,)."""

    sign: Sign
    readings: tuple[str, ...]
    usual: Array
    rows: Array
    speaks: Array

    def shown_by(self, members: Array) -> SignTable:
        """What every set of `members` (S, C) shows.

        Choose-one and measured: the mean of the rows of those causes of the set that speak to it, the background where none does.
        Yes/no and tick-all: leaky noisy-OR, P(seen) = 1 − (1−leak)·∏(1−p), the leak apart. `counts: half` moves half-way to the
        background.
        """
        if self.sign.kind in ("yes_no", "tick_all"):
            quiet = np.exp(members @ np.log1p(-np.minimum(self.rows, 1.0 - 1e-15)))
            like = 1.0 - (1.0 - self.usual) * quiet
        else:
            speaking = members @ self.speaks
            like = (members @ self.rows) / np.maximum(speaking, 1.0)[:, None]
            like[speaking == 0] = self.usual
        if self.sign.counts == "half":
            like = 0.5 * like + 0.5 * self.usual
        return SignTable(self.sign, self.readings, like)


class Tables(Mapping[str, SignTable]):
    """The table of every sign for some sets, each made when first asked for."""

    def __init__(self, rows: Mapping[str, SignRows], members: Array) -> None:
        self._rows, self._members = rows, members
        self._made: dict[str, SignTable] = {}

    def __getitem__(self, sign: str) -> SignTable:
        if sign not in self._made:
            self._made[sign] = self._rows[sign].shown_by(self._members)
        return self._made[sign]

    def __contains__(self, sign: object) -> bool:
        return sign in self._rows

    def __iter__(self) -> Iterator[str]:
        return iter(self._rows)

    def __len__(self) -> int:
        return len(self._rows)


@dataclass(frozen=True)
class Model:
    """One context: the open causes with their odds, every set of up to three, and the signs' tables.

    `left_out` are causes that stand open too, but are rarer than the sums have room for.
    """

    causes: tuple[Cause, ...]
    names: tuple[str, ...]
    odds: Array
    members: Array
    prior: Array
    rows: Mapping[str, SignRows]
    tables: Mapping[str, SignTable]
    piece_wide: Array
    left_out: tuple[str, ...] = ()

    @property
    def sets(self) -> int:
        """How many sets are listed."""
        return int(self.members.shape[0])

    def narrowed(self, keep: NDArray[np.intp]) -> "Model":
        """The same context with only the sets of these places in the list, "something else" (place 0) among them."""
        members = self.members[keep]
        return replace(self, members=members, prior=self.prior[keep], tables=Tables(self.rows, members))


def scaled_odds(odds: Sequence[float], together: float) -> Array:
    """Relative odds scaled so that they sum to `together`.

    >>> scaled_odds([0.06, 0.06, 0.03], 0.6).round(2).tolist()
    [0.24, 0.24, 0.12]
    """
    raw = np.asarray(odds, dtype=np.float64)
    return raw * (together / raw.sum()) if raw.size else raw


@lru_cache(maxsize=16)
def list_sets(count: int, largest: int = LARGEST_SET) -> Array:
    """Membership (S, C) of "something else" (an empty row) and every set of 1..largest of `count` causes. Not to be written to."""
    blocks = [np.zeros((1, count))]
    for size in range(1, largest + 1):
        chosen = np.array(list(combinations(range(count), size)), dtype=np.intp).reshape(-1, size)
        block = np.zeros((len(chosen), count))
        block[np.arange(len(chosen))[:, None], chosen] = 1.0
        blocks.append(block)
    members = np.concatenate(blocks)
    members.setflags(write=False)
    return members


def set_prior(members: Array, odds: Array, something_else: float) -> Array:
    """P(set) before any answer: the product of the odds, with "something else" set at its share and the rest sharing what is left."""
    weights = np.exp(members @ np.log(odds)) if odds.size else np.ones(1)
    if members.shape[0] == 1:
        return np.ones(1)
    weights[0] = 0.0
    prior = weights * ((1.0 - something_else) / weights.sum())
    prior[0] = something_else
    return np.asarray(prior)


def sign_rows(scale: Scale, sign: Sign, causes: Sequence[Cause]) -> SignRows:
    """The rows of a sign as numbers."""
    usual = background(scale, sign)
    readings = tuple(sign.readings)
    rows = np.zeros((len(causes), len(readings)))
    speaks = np.zeros(len(causes))
    for index, cause in enumerate(causes):
        said = row(scale, sign, cause, usual)
        if said is not None:
            rows[index] = [said[reading] for reading in readings]
            speaks[index] = 1.0
    return SignRows(sign, readings, np.array([usual[reading] for reading in readings]), rows, speaks)


def build_model(
    scale: Scale, causes: Sequence[Cause], odds: Sequence[float], signs: Sequence[Sign], largest: int = LARGEST_SET
) -> Model:
    """The model of a context from its open causes (with their relative odds) and the signs that may be answered.

    Raises ValueError when more causes are open than the list of sets carries.
    """
    if len(causes) > MOST_CAUSES:
        raise ValueError(f"{len(causes)} causes are open at once; the sums carry {MOST_CAUSES}")
    members = list_sets(len(causes), largest)
    shares = scaled_odds(odds, scale.together)
    rows = {sign.id: sign_rows(scale, sign, causes) for sign in signs}
    return Model(
        causes=tuple(causes),
        names=tuple(cause.id for cause in causes),
        odds=shares,
        members=members,
        prior=set_prior(members, shares, scale.something_else),
        rows=rows,
        tables=Tables(rows, members),
        piece_wide=np.array([cause.reaches == "piece" for cause in causes], dtype=bool),
    )
