"""What the lines of a condition may ask for, and the values that each may have."""

from collections.abc import Iterable

from diagnose import words
from diagnose.rulebase.entries import Piece, Sign
from diagnose.rulebase.woods import Wood


def fact_values(
    pieces: Iterable[Piece], woods: Iterable[Wood], findings: Iterable[str], signs: Iterable[Sign]
) -> dict[str, frozenset[str]]:
    """Every fact of a case, every sign, and the findings, each with its values."""
    pieces, woods = tuple(pieces), tuple(woods)
    known: dict[str, Iterable[str]] = {
        "piece": [word for piece in pieces for word in (piece.id, piece.group)],
        "damage": words.DAMAGES,
        "joint": words.JOINT_KINDS,
        "part": [part for piece in pieces for part in piece.parts],
        "carries": words.CARRIES,
        "consequence": words.CONSEQUENCES,
        "moving_joints": words.COUNT_WORDS,
        "our_term": words.OUR_TERM,
        words.FINDING: findings,
        "wood": [word for wood in woods for word in (wood.id, wood.group)],
    }
    known.update({sign.id: sign.readings for sign in signs})
    return {name: frozenset(values) for name, values in known.items()}
