"""What a changed answer changed: two plans held against each other, step by step, as they are worded."""

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

# So much of the words must be the same for two steps of one phase to be one step that changed.
ALIKE = 0.5
APART = 2


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


@dataclass(frozen=True)
class Swap:
    """Words that stand in place of others; either may be empty."""

    was: str
    now: str


def swaps(old: str, new: str) -> tuple[Swap, ...]:
    """The words in which two texts differ, each with the word before it, where there is one.

    >>> swaps("Wait for the white glue, 24 h.", "Wait for the slow glue, 24 h.")
    (Swap(was='the white', now='the slow'),)
    """
    before, after = old.split(), new.split()
    spans: list[tuple[int, int, int, int]] = []
    for kind, a, b, c, d in SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if kind == "equal":
            continue
        # A word or two that both have in between belong to one change of words and not to two.
        near = bool(spans) and a - spans[-1][1] <= APART
        first = spans.pop() if near else (a, b, c, d)
        spans.append((first[0], b, first[2], d))
    return tuple(_swap(before, after, span) for span in spans)


def _swap(before: Sequence[str], after: Sequence[str], span: tuple[int, int, int, int]) -> Swap:
    a, b, c, d = span
    lead = 1 if a < b and c < d and a and c else 0
    return Swap(" ".join(before[a - lead : b]), " ".join(after[c - lead : d]))


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
