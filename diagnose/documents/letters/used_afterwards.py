"""What the piece may be used for afterwards, and what not; and how strong the mended place is beside the rest."""

from diagnose import words
from diagnose.assess import Assessment, DamageAssessment
from diagnose.decision.ban import FIT
from diagnose.documents.letters.work import method_of, sent_on, use_left, works

STRONGER = 1.05
# How a mended place holds, the weakest first, before "it was made".
HOLDS = ("be a little weaker than", "hold as well as it did when", "hold better than it did when")
# Until when a use holds that is not for good.
UNTIL = {
    "look_again": " That is so until we have looked at it again.",
    "middle_season": " That is so until it is mended, between the heating and the damp months.",
    "when_dry": " That is so until it is dry and mended.",
}


def used_afterwards(assessment: Assessment) -> str:
    """The use that is left, in the words of the piece."""
    if sent_on(assessment):
        return "What it may be used for afterwards is for them to say."
    use = use_left(assessment)
    if use in words.GIVEN_UP:
        return _not_used(assessment, use)
    piece = assessment.knowledge.pieces[assessment.case.piece]
    whole, gently = words.USE_OF[piece.healthy_load]
    if use == "lighter":
        return f"{piece.use_gently or gently}{_until(assessment, use)}"
    return f"{piece.use or whole}{_strength(assessment)}"


def _until(assessment: Assessment, use: str) -> str:
    timings = [method_of(assessment, d).timing for d in assessment.damages if d.decision.end_use == use]
    return UNTIL.get(timings[0], "")


def _not_used(assessment: Assessment, use: str) -> str:
    if use == "show_only":
        return "It can be looked at, but nobody may use it or load it. It gets a tag that says so."
    if _until(assessment, use):
        return "It is not used until we have looked at it again. It gets a tag that says so."
    return "It is then not used any more, and it gets a tag that says so."


def _strength(assessment: Assessment) -> str:
    """How the mended places compare with what was made, the weakest of them told; nothing where strength does not come into it."""
    held = [told for damage in assessment.damages if (told := _held(damage)) is not None]
    if not held or not works(assessment):
        return ""
    weakest = next(told for told in HOLDS if told in held)
    return f" What we mend will {weakest} it was made. Other parts are as old as they were."


def _held(damage: DamageAssessment) -> str | None:
    advised = next(option for option in damage.decision.options if option.method == damage.decision.method)
    if advised.strength_ratio is None:
        return None
    weaker, as_made, better = HOLDS
    # What was made too weak is mended only by a way that leaves it stronger.
    if advised.strength_ratio >= STRONGER or (damage.situation.must_exceed and advised.strength_ratio > 1.0):
        return better
    return as_made if advised.strength_ratio >= FIT else weaker
