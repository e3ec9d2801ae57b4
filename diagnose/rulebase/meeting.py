"""Whether two conditions can hold in one place: where a cause may act, and where a sign can be asked."""

from collections.abc import Iterable, Mapping

from diagnose.rulebase.entries import Line, Piece, When
from diagnose.rulebase.woods import Wood

# For the facts that have wider words: what each word stands for.
Wider = Mapping[str, Mapping[str, frozenset[str]]]


def wider_words(pieces: Iterable[Piece], woods: Iterable[Wood]) -> Wider:
    """The kinds of piece and the woods that each word names: a group stands for all that is in it."""
    found: dict[str, dict[str, frozenset[str]]] = {"piece": {}, "wood": {}}
    for fact, entries in (("piece", pieces), ("wood", woods)):
        for entry in entries:
            for word in (entry.id, entry.group):
                found[fact][word] = found[fact].get(word, frozenset()) | {entry.id}
    return found


def _meant(line: Line, wider: Wider) -> frozenset[str]:
    named = wider.get(line.key, {})
    return frozenset().union(*(named.get(value, frozenset({value})) for value in line.values))


def can_meet(one: When, other: When, wider: Wider) -> bool:
    """Whether two conditions can hold together, by their plain lines."""
    mine = {line.key: _meant(line, wider) for line in one.lines}
    return all(line.key not in mine or mine[line.key] & _meant(line, wider) for line in other.lines)
