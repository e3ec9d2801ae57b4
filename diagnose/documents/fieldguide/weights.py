"""What the rows of the engine say about each reading, in decibels, and how far apart they put two causes.

Everything here comes out of `reasoning.model`: the rows, the share of answers that are off, and the way a yes/no or a tick-all list
is read are those of the belief itself, for one cause acting alone against none at all.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from diagnose.reasoning.model import sign_rows
from diagnose.rulebase.entries import Cause, Sign
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.meeting import can_meet, wider_words
from diagnose.rulebase.rows import APART

Array = NDArray[np.float64]
# Weights below this say nothing that a person should turn a piece over for.
LEAST_DB = 1.0


@dataclass(frozen=True, eq=False)
class SignWeights:
    """One sign: `chance` (V, C+1) of each reading with no cause (first) and with each alone; `gap` (C, C) between causes, 0 to 1."""

    sign: Sign
    readings: tuple[str, ...]
    chance: Array
    gap: Array

    @property
    def decibels(self) -> Array:
        """(V, C): how much each reading raises the odds of each cause, 10·log10 of the likelihood ratio."""
        return np.asarray(10.0 * np.log10(self.chance[:, 1:] / self.chance[:, :1]))


@dataclass(frozen=True, eq=False)
class Weighed:
    """The weights of every sign for every cause; `meet` (C, C) says which causes can act in one place, `asked` (S, C) which signs there."""

    causes: tuple[Cause, ...]
    signs: Mapping[str, SignWeights]
    meet: NDArray[np.bool_]
    asked: NDArray[np.bool_]

    def place(self, cause: str) -> int:
        """The column of a cause."""
        return next(index for index, entry in enumerate(self.causes) if entry.id == cause)

    def of_reading(self, sign: str, reading: str) -> list[tuple[Cause, float]]:
        """Causes that this reading points to or away from, strongest first, those under LEAST_DB left out."""
        weights = self.signs[sign]
        row = weights.decibels[weights.readings.index(reading)]
        told = [(cause, float(row[index])) for index, cause in enumerate(self.causes) if abs(row[index]) >= LEAST_DB]
        return sorted(told, key=lambda item: (-item[1], item[0].name))

    def decibel(self, sign: str, reading: str, cause: str) -> float:
        """The weight of one reading for one cause."""
        weights = self.signs[sign]
        return float(weights.decibels[weights.readings.index(reading), self.place(cause)])

    def proving(self, cause: str, most: int = 5) -> list[tuple[Sign, int, int]]:
        """The signs that set a cause apart best from those that can act where it does: sign, from how many, of how many."""
        index = self.place(cause)
        others = self.meet[index].copy()
        others[index] = False
        found = []
        for row, weights in enumerate(self.signs.values()):
            if not self.asked[row, index] or weights.sign.computed is not None:
                continue
            gaps = weights.gap[index][others]
            found.append((float(gaps.mean()) if gaps.size else 0.0, weights.sign, int((gaps >= APART).sum())))
        found.sort(key=lambda item: (-item[0], item[1].id))
        return [(sign, apart, int(others.sum())) for mean, sign, apart in found[:most] if mean > 0.0]

    def nearest(self, cause: str, most: int = 3) -> list[tuple[Cause, Sign]]:
        """The causes that look most like this one where it can act, nearest first, each with the sign that tells the two apart best."""
        index = self.place(cause)
        gaps = np.stack([weights.gap[index] for weights in self.signs.values()])
        open_to_both = self.asked & self.asked[:, index][:, None]
        signs = [weights.sign for weights in self.signs.values()]
        speaks = np.array([[sign.id in entry.shows for entry in self.causes] for sign in signs])
        counted = open_to_both & (speaks | speaks[:, index][:, None])
        total = np.where(counted, gaps, 0.0).sum(axis=0) / np.maximum(counted.sum(axis=0), 1)
        near = [other for other in np.argsort(total, kind="stable") if other != index and self.meet[index, other]]
        return [
            (self.causes[other], signs[int(np.argmax(np.where(open_to_both[:, other], gaps[:, other], -1.0)))])
            for other in near[:most]
        ]

    def telling(self, sign: str, one: str, other: str) -> tuple[str, str]:
        """The reading of a sign that speaks most for `one` against `other`, and the one that speaks most the other way."""
        weights = self.signs[sign]
        more = weights.decibels[:, self.place(one)] - weights.decibels[:, self.place(other)]
        return weights.readings[int(np.argmax(more))], weights.readings[int(np.argmin(more))]


def _sign_weights(knowledge: Knowledge, sign: Sign, causes: Sequence[Cause]) -> SignWeights:
    rows = sign_rows(knowledge.scale, sign, causes)
    table = rows.shown_by(np.vstack([np.zeros((1, len(causes))), np.eye(len(causes))]))
    sure = knowledge.scale.off_by["sure"]
    if sign.kind == "tick_all":
        chance = table.off(table.like, sure).T
    else:
        chance = np.stack([table.likelihood((reading,), sure) for reading in rows.readings])
    shown = table.like[1:]
    gaps = np.abs(shown[:, None, :] - shown[None, :, :])
    if sign.kind == "yes_no":
        gap = gaps[:, :, rows.readings.index("yes")]
    else:
        gap = gaps.max(axis=2) if sign.kind == "tick_all" else gaps.sum(axis=2) / 2
    return SignWeights(sign, rows.readings, chance, gap)


def weigh(knowledge: Knowledge) -> Weighed:
    """The weights of a whole rule base."""
    causes = tuple(knowledge.causes.values())
    signs = {sign.id: _sign_weights(knowledge, sign, causes) for sign in knowledge.signs.values()}
    wider = wider_words(knowledge.pieces.values(), knowledge.woods.values())
    meet = np.array([[can_meet(a.when, b.when, wider) for b in causes] for a in causes], dtype=bool)
    asked = np.array([[can_meet(s.when, c.when, wider) for c in causes] for s in knowledge.signs.values()], dtype=bool)
    return Weighed(causes, signs, meet, asked)
