"""The box on the first page: what is unsafe now, and what must not be done to it meanwhile."""

from diagnose import words
from diagnose.assess import Assessment, DamageAssessment
from diagnose.documents import md, say
from diagnose.documents.letters.place import wrong_there

# Damages whose faces came apart: the best witness of what happened, and the glue's only ground. With fittings they are those that let
# somebody fall while the piece is used on.
PARTED = frozenset({"loose", "broken", "split"})
GIVES_WAY = PARTED | {"fitting"}
LEAVE_ALONE = "Put no glue, tape, nail or filler in it, and keep every splinter in an envelope."


def unsafe_now(assessment: Assessment) -> str:
    """The box; empty where nothing is unsafe."""
    lines = [*_not_to_be_used(assessment)]
    lines += [finding.owner for name in assessment.findings if (finding := assessment.knowledge.findings[name]).heard == "now"]
    return md.box("Please note now", list(dict.fromkeys(lines))) if lines else ""


def is_unsafe(assessment: Assessment) -> bool:
    """Whether somebody could fall if it is used as it is."""
    return any(_gives_way(assessment, damage) for damage in assessment.damages)


def _consequence(damage: DamageAssessment) -> str | None:
    return damage.situation.consequence


def _gives_way(assessment: Assessment, damage: DamageAssessment) -> bool:
    if _consequence(damage) not in words.NOT_FOR_MONEY or damage.damage.kind not in GIVES_WAY:
        return False
    # What was tried, needs no work and is used as before is not called unsafe in the same letter.
    sound = damage.decision.decision == "no_structural_work" and damage.decision.end_use == "as_before"
    return not sound or assessment.price is None


def _not_to_be_used(assessment: Assessment) -> list[str]:
    unsafe = [damage for damage in assessment.damages if _gives_way(assessment, damage)]
    if not unsafe:
        return []
    order = list(words.CONSEQUENCES)
    gravest = max((c for damage in unsafe if (c := _consequence(damage)) is not None), key=order.index)
    wrong = say.listed(list(dict.fromkeys(wrong_there(damage.damage) for damage in unsafe)))
    lines = [f"Please do not use it as it is: {wrong}, and {words.CONSEQUENCES[gravest]}."]
    return [*lines, LEAVE_ALONE] if any(damage.damage.kind in PARTED for damage in unsafe) else lines
