"""What a changed answer changed: two plans held against each other, step by step, as they are worded."""

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

# So much of the words must be the same for two steps of one phase to be one step that changed.
ALIKE = 0.5


@dataclass(frozen=True)
class Worded:
    """A step as it stands in a plan: its phase and its words, the number left out."""

    phase: str
    text: str

    @property
    def action(self) -> str:
        """Its first line: what is done."""
        return self.text.split("\n", 1)[0]


@dataclass(frozen=True)
class Changes:
    """Steps that came, that went, and that are worded anew (old and new); all others are the same word for word."""

    added: tuple[Worded, ...]
    gone: tuple[Worded, ...]
    changed: tuple[tuple[Worded, Worded], ...]
    same: int

    @property
    def none(self) -> bool:
        """Whether both plans have the same steps in the same words."""
        return not (self.added or self.gone or self.changed)


def _alike(old: Worded, new: Worded) -> float:
    if old.phase != new.phase:
        return 0.0
    return SequenceMatcher(None, old.action.split(), new.action.split(), autojunk=False).ratio()


def since(old: Sequence[Worded], new: Sequence[Worded]) -> Changes:
    """What is different in `new`; a step that reads the same in both is the same wherever it stands.

    >>> one, two, three = Worded("Glue", "Spread the glue thin."), Worded("Glue", "Spread the glue thick."), Worded("Cure", "Wait.")
    >>> changes = since([one, three], [two, three])
    >>> changes.changed == ((one, two),), changes.same
    (True, 1)
    """
    left, came = list(old), []
    for step in new:
        if step in left:
            left.remove(step)
        else:
            came.append(step)
    pairs = sorted(
        ((_alike(before, after), -i, -j) for i, before in enumerate(left) for j, after in enumerate(came)), reverse=True
    )
    paired: dict[int, int] = {}
    for alike, i, j in pairs:
        if alike >= ALIKE and -i not in paired and -j not in paired.values():
            paired[-i] = -j
    return Changes(
        added=tuple(step for j, step in enumerate(came) if j not in paired.values()),
        gone=tuple(step for i, step in enumerate(left) if i not in paired),
        changed=tuple((left[i], came[j]) for i, j in sorted(paired.items(), key=lambda item: item[1])),
        same=len(new) - len(came),
    )
