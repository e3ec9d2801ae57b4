"""The advised work: what of it can be seen afterwards, and what kind of work it is, which other parts of a letter hang on."""

from diagnose import words
from diagnose.assess import Assessment, DamageAssessment
from diagnose.decision.can_do import REFERRED
from diagnose.documents import md
from diagnose.documents.letters.place import headed
from diagnose.planning.compose import ANY_PLAN
from diagnose.rulebase.entries import Method

OPENING = frozenset({"take_apart", "glue"})
USES = tuple(words.END_USES)


def method_of(assessment: Assessment, damage: DamageAssessment) -> Method:
    """The method that is advised for a damage."""
    return assessment.knowledge.methods[damage.decision.method]


def opens(assessment: Assessment) -> bool:
    """Whether something is taken apart or glued, so that more may come to light."""
    return any(planned.step.phase in OPENING for planned in assessment.plan)


def works(assessment: Assessment) -> bool:
    """Whether anything is done to the piece itself."""
    return any(planned.step.phase not in ANY_PLAN for planned in assessment.plan)


def sent_on(assessment: Assessment) -> bool:
    """Whether all of it goes to others, who name their own price: what we do is to send it there."""
    return bool(assessment.damages) and all(
        d.decision.decision == REFERRED and d.decision.by not in words.WORKSHOPS for d in assessment.damages
    )


def use_left(assessment: Assessment) -> str:
    """The least use that any of the advised ways leaves."""
    return max((d.decision.end_use for d in assessment.damages), key=USES.index, default=USES[0])


def advised_ways(assessment: Assessment) -> list[tuple[str, str]]:
    """What we would do, each way once, behind its place where the damages ask for different things."""
    several = len({d.decision.method for d in assessment.damages}) > 1
    return list(dict.fromkeys((headed(d.damage, several), method_of(assessment, d).owner) for d in assessment.damages))


def what_stays(assessment: Assessment) -> str:
    """What can be seen afterwards and what of the old piece is lost, damage by damage, with its heading."""
    heading = (
        "What becomes of it" if use_left(assessment) in words.GIVEN_UP else "What you will see of the work, and what is lost"
    )
    several = len({method_of(assessment, d).stays_visible for d in assessment.damages}) > 1
    lines = [f"{headed(d.damage, several)}{method_of(assessment, d).stays_visible}" for d in assessment.damages]
    return md.join(md.heading(heading, 2), md.bullets(dict.fromkeys(lines)))
