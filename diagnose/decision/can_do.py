"""What this shop can do: a method for which it lacks a machine or a skill is another workshop's, and is referred there."""

from dataclasses import replace

from diagnose.planning.compose import ANY_PLAN
from diagnose.rulebase.entries import Method
from diagnose.rulebase.fault import nearest
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop

REFERRED = "refer_to_specialist"
ELSEWHERE = "workshop"
# How a method begins when it is told to an owner, and how when the work is another workshop's.
WE_WOULD = "We would "
THEY_WOULD = "We would have another workshop do this, which has what it needs: "


def within_reach(knowledge: Knowledge, shop: Shop) -> Knowledge:
    """The rule base as this shop can work by it: what needs more than the shop has is referred, with the reason."""
    if shop.can_do is None:
        return knowledge
    methods = {name: _as_we_can(knowledge, shop, method) for name, method in knowledge.methods.items()}
    return replace(knowledge, methods=methods)


def _as_we_can(knowledge: Knowledge, shop: Shop, method: Method) -> Method:
    missing = [need.replace("_", " ") for need in shop.lacks(method.needs)]
    if not missing or method.by != "us":
        return method
    wanted = " and ".join(missing)
    return method.model_copy(
        update={
            "name": f"{method.name} (by another workshop: it needs {wanted}, which we do not have)",
            "owner": f"{THEY_WOULD}{method.owner.removeprefix(WE_WOULD)}",
            "decision": REFERRED,
            "by": ELSEWHERE,
            "steps": tuple(name for name in method.steps if knowledge.steps[name].phase in ANY_PLAN),
        }
    )


def unknown_abilities(knowledge: Knowledge, shop: Shop) -> tuple[str, ...]:
    """What the shop says it can do and no method asks for, each with the nearest word that one does."""
    needed = {need for method in knowledge.methods.values() for need in method.needs}
    return tuple(
        f"can_do of the shop names {word}, which no method needs; {nearest(word, needed)}"
        for word in shop.can_do or ()
        if word not in needed
    )
