"""A damage as a letter speaks of it: where it is, and what is wrong there as part of a sentence."""

from diagnose.case.case import Damage
from diagnose.documents import say

# What is wrong, after "the leg": one for every kind of damage.
WRONG = {
    "loose": "is loose",
    "broken": "is broken",
    "split": "is split or cracked",
    "rocks": "rocks on its feet",
    "fitting": "has a screw, bolt or fitting that does not hold",
    "surface": "is damaged on its surface",
    "insect": "has insect holes or rot",
    "sticks": "sticks or will not close",
    "warped": "is bent, cupped or twisted",
    "swollen": "is swollen or crumbling",
}


def wrong_there(damage: Damage) -> str:
    """What is wrong and where, as part of a sentence.

    >>> wrong_there(Damage("a", "split", part="back_leg")), wrong_there(Damage("a", "broken"))
    ('the back leg is split or cracked', 'it is broken')
    """
    where = f"the {say.plain(damage.part)}" if damage.part else f"the joint {say.plain(damage.joint)}" if damage.joint else "it"
    return f"{where} {WRONG[damage.kind]}"


def headed(damage: Damage, several: bool) -> str:
    """The beginning of a line about one damage; nothing where the piece has only one."""
    return f"{say.first_up(say.place_of(damage))}: " if several else ""
