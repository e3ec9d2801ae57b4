"""A damage as a letter speaks of it: where it is, and what is wrong there as part of a sentence."""

from diagnose.case.case import Case, Damage
from diagnose.damage_words import DAMAGE_WORDS
from diagnose.documents import say


def wrong_there(damage: Damage) -> str:
    """What is wrong and where, as part of a sentence.

    >>> wrong_there(Damage("a", "split", part="back_leg")), wrong_there(Damage("a", "broken"))
    ('the back leg is split or cracked', 'it is broken')
    >>> wrong_there(Damage("a", "loose", joint="top_to_apron"))
    'the joint top to apron is loose'
    """
    where = f"the {say.plain(damage.part)}" if damage.part else f"the joint {say.plain(damage.joint)}" if damage.joint else "it"
    return f"{where} {DAMAGE_WORDS[damage.kind].wrong}"


def it_or_one(case: Case) -> str:
    """The piece as an object, where of a set the price of one is told."""
    return "one of them" if case.count > 1 else "it"


def headed(damage: Damage, several: bool) -> str:
    """The beginning of a line about one damage; nothing where the piece has only one."""
    return f"{say.first_up(say.place_of(damage))}: " if several else ""
