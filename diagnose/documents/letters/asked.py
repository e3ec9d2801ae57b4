"""What we ask of the owner: one of a few answers to tick, what we may do on the way, and a signature."""

from diagnose.assess import Assessment
from diagnose.decision.whole_piece import RETIRED
from diagnose.documents import md
from diagnose.documents.letters import prices
from diagnose.documents.letters.frame import SIGN_HERE
from diagnose.documents.letters.unsafe_now import is_unsafe
from diagnose.documents.letters.work import sent_on, works

NOT_YET = "Not yet. Please ring me again on: ______________"
OTHER_WAY = "Yes, but in this other way: ______________"
TRY_THE_FINISH = "You may try the finish in a hidden place; it can leave a small mark."
KEEP_PHOTOGRAPHS = "You may keep photographs for your records."
TRIES_THE_FINISH = frozenset({"clean", "mask_and_colour", "clean_off", "match_colour", "finish"})
LEAVES_OLD_PARTS = frozenset(
    {"replace_part", "splice_or_patch_part", "reglue_with_reinforcement", "tighten_or_refit_hardware", "release_restraint"}
)


def no_thanks(assessment: Assessment) -> str:
    """The no, and that it goes home unsafe where it does."""
    return f"No, thank you. {fetched(assessment)}"


def fetched(assessment: Assessment) -> str:
    """That the piece is fetched as it is, and what the owner then knows."""
    return "I fetch it as it is" + (" and know that it is not to be used." if is_unsafe(assessment) else ".")


def asked(assessment: Assessment) -> str:
    """The answers, what we may do, and the line to sign on."""
    return md.join(
        "Please tick one:",
        md.ticks([*_yes(assessment), OTHER_WAY, no_thanks(assessment), NOT_YET]),
        "And what you agree to:",
        md.ticks(_may_we(assessment)),
        SIGN_HERE,
    )


def _yes(assessment: Assessment) -> list[str]:
    shop, of_set = assessment.shop, assessment.told.of_set
    limit = shop.money(prices.limit(assessment))
    if sent_on(assessment):
        return ["Yes, please tell them about it, and tell me what they would charge before anything is done."]
    if assessment.piece_decision == RETIRED:
        most = shop.money(assessment.price.high) if assessment.price is not None else limit
        return [f"Yes, please give it up as you advise, for {most} at the most.", "Yes, but please mend it all the same."]
    if of_set is None:
        return [f"Yes, please do what you advise, up to {limit}."]
    all_of_them = shop.money(prices.limit_of(of_set))
    return [
        f"Yes, please do what you advise for all {assessment.case.count}, up to {all_of_them} together.",
        f"Yes, please do what you advise, for this one only, up to {limit}.",
    ]


def _may_we(assessment: Assessment) -> list[str]:
    phases = {planned.step.phase for planned in assessment.plan}
    lines = []
    if assessment.told.cover is not None and not sent_on(assessment):
        lines.append("You may lift the cover; it may not go back as it was.")
    if phases & TRIES_THE_FINISH:
        lines.append(TRY_THE_FINISH)
    if works(assessment) and any(d.decision.decision in LEAVES_OLD_PARTS for d in assessment.damages):
        lines.append("Please give me back the old parts.")
    return [*lines, KEEP_PHOTOGRAPHS]
