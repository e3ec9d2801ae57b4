"""What each step asks its worker to wear and do: from its hazards, with the lightest thing to breathe through that keeps all of it out."""

from collections.abc import Iterable
from dataclasses import dataclass

from diagnose.rulebase.entries import Caution, Respirator
from diagnose.rulebase.knowledge import Knowledge


@dataclass(frozen=True)
class Protection:
    """The cautions of a step, in the order of its hazards, and the respirator for all of them together (None: none is needed)."""

    cautions: tuple[Caution, ...]
    respirator: Respirator | None


def respirator_for(knowledge: Knowledge, air: Iterable[str]) -> Respirator | None:
    """The lightest respirator that keeps out everything named; None for nothing. Raises ValueError where the rule base has none.

    >>> from diagnose.rulebase.store import load_knowledge
    >>> knowledge = load_knowledge()
    >>> respirator_for(knowledge, ["dust", "vapour"]).name
    'Half mask with organic-vapour cartridges and P100 pre-filters'
    """
    wanted = set(air)
    if not wanted:
        return None
    enough = [one for one in knowledge.respirators.values() if wanted <= set(one.against)]
    if not enough:
        raise ValueError(f"no respirator of the rule base keeps out {', '.join(sorted(wanted))} together: send that work out")
    return min(enough, key=lambda one: (one.rank, one.id))


def protection(knowledge: Knowledge, hazards: Iterable[str]) -> Protection:
    """What the hazards of one step ask for."""
    cautions = tuple(knowledge.cautions[name] for name in dict.fromkeys(hazards))
    return Protection(cautions, respirator_for(knowledge, (air for caution in cautions for air in caution.air)))
