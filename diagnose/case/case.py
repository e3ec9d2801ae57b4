"""A case: one piece, its joint map, its damages and everything that was answered about them. Frozen; written only by `file`."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from diagnose import words
from diagnose.rulebase.entries import Piece

SCHEMA = 1


@dataclass(frozen=True)
class Answer:
    """What was read on one sign. `reads` is empty when nothing of a tick-all list was seen, or when it cannot be told yet."""

    reads: tuple[str, ...]
    by: str = "seen"
    unsure: bool = False
    cannot_tell: bool = False
    measured: str = ""

    @property
    def off_by(self) -> str:
        """The word of the scale for how easily this answer may be wrong; the largest applies."""
        if self.unsure:
            return "unsure"
        return {"owner": "owner", "photograph": "photograph"}.get(self.by, "sure")


@dataclass(frozen=True)
class Damage:
    """One broken, loose or spoiled place. `facts` are facts stated outright; they win over what is worked out.

    `repaired` is the day on which this shop last mended the place or what lies beside it.
    """

    id: str
    kind: str
    part: str | None = None
    joint: str | None = None
    says: str = ""
    found_by: str = "owner"
    repaired: date | None = None
    facts: Mapping[str, str] = field(default_factory=dict)
    sizes: Mapping[str, float] = field(default_factory=dict)
    readings: Mapping[str, Answer] = field(default_factory=dict)


@dataclass(frozen=True)
class Case:
    """One piece on one sheet; `count` says how many alike are mended together with it, itself included."""

    piece: str
    number: str = ""
    taken_in: date | None = None
    owner: str = ""
    owner_says: str = ""
    called: str = ""
    wood: str | None = None
    value: float | None = None
    value_by: str = "owner"
    count: int = 1
    joints: Mapping[str, str] = field(default_factory=dict)
    readings: Mapping[str, Answer] = field(default_factory=dict)
    damages: tuple[Damage, ...] = ()

    def damage(self, damage_id: str) -> Damage:
        """The damage with that id; KeyError if there is none."""
        for damage in self.damages:
            if damage.id == damage_id:
                return damage
        raise KeyError(damage_id)

    def answers(self, damage: Damage) -> dict[str, Answer]:
        """Everything answered about `damage`: the answers of the piece and its own."""
        return {**self.readings, **damage.readings}

    def with_answer(self, damage_id: str | None, sign: str, answer: Answer | None) -> "Case":
        """The case with one answer set (or, with None, taken back); `damage_id` None means the piece."""

        def changed(readings: Mapping[str, Answer]) -> dict[str, Answer]:
            kept = {name: old for name, old in readings.items() if name != sign}
            return kept if answer is None else {**kept, sign: answer}

        if damage_id is None:
            return replace(self, readings=changed(self.readings))
        damages = tuple(
            replace(damage, readings=changed(damage.readings)) if damage.id == damage_id else damage for damage in self.damages
        )
        return replace(self, damages=damages)


def our_term(repaired: date, today: date, term_months: int) -> str | None:
    """Whether a repair of ours is still inside its term today, as a word; None for a repair that is dated after today.

    >>> our_term(date(2024, 3, 31), date(2026, 3, 2), 24), our_term(date(2024, 3, 1), date(2026, 3, 2), 24)
    ('within', 'past')
    """
    if repaired > today:
        return None
    months = (today.year - repaired.year) * 12 + today.month - repaired.month
    over = months > term_months or (months == term_months and today.day > repaired.day)
    return "past" if over else "within"


def moving(case: Case, piece: Piece) -> str | None:
    """How many joints move, by the joint map, as a word; None while too few were tried to say.

    Three or more is known as soon as three are found; fewer only when every joint of the map was tried or cannot be reached.
    """
    states = [case.joints.get(joint.id, "not_tried") for joint in piece.joints]
    count = sum(state in words.SLACK_STATES for state in states)
    if count >= len(words.COUNT_WORDS) - 1:
        return words.COUNT_WORDS[-1]
    if "not_tried" in states:
        return None
    return words.COUNT_WORDS[count]
