"""The hand-over: what was agreed and done, how it was tried, from when it may be used, and what it needs from now on."""

from collections.abc import Sequence

from diagnose import words
from diagnose.assess import Assessment
from diagnose.documents import md, plan_lists, say
from diagnose.documents.letters.answer import REFUSED
from diagnose.documents.letters.care import care
from diagnose.documents.letters.frame import BLANK, NotThisForm, head, signed_by_both, small_print
from diagnose.documents.letters.money import term
from diagnose.documents.letters.used_afterwards import used_afterwards
from diagnose.documents.letters.work import advised_ways, sent_on, works
from diagnose.documents.plan_glue import gluings_of
from diagnose.planning.gluing import Gluing

PROVED = frozenset({"prove", "prove_bare"})
# What would happen if it let go again, where a load is what proves it.
BEARS = (*words.NOT_FOR_MONEY, "goods")
# What slides or shuts is proved by doing it, and a surface by looking.
NOT_LOADED = words.ONLY_SEEN | {"sticks"}
COLOURED = frozenset({"mask_and_colour", "match_colour", "finish"})


def hand_over(assessment: Assessment) -> str:
    """The hand-over as Markdown. Raises NotThisForm where nothing is done to the piece by us."""
    if assessment.triage in REFUSED or not works(assessment) or sent_on(assessment):
        raise NotThisForm("we do no work on this piece, so there is none to hand over; the estimate says why")
    # A glue has to get hard, be it that of a joint or of a mended part.
    glue = gluings_of(assessment)
    return md.join(
        head(assessment, "Handing over your"),
        "**It is done.** Please look at it with us before you take it along.",
        md.heading("What was agreed, and done", 2),
        "We wrote to you:",
        md.bullets(f"{place}“{way}”" for place, way in advised_ways(assessment)),
        md.ticks(["Done as agreed.", f"Done otherwise, as we told you on ______________: {BLANK}"]),
        md.heading("How it was tried", 2),
        md.ticks(_tried(assessment)),
        md.heading("Using it", 2),
        used_afterwards(assessment),
        "**Not to be used before: day ______________, hour ________.**" if glue else "",
        care(assessment),
        md.heading("What we stand for", 2),
        term(assessment),
        md.heading("What we saw and left alone", 2),
        md.bullets(_left_alone(assessment)),
        _line_inside(assessment, glue),
        md.heading("Given back to you", 2),
        md.ticks(
            [
                "What came with it, as on the receipt.",
                "Old parts that were taken out, if any.",
                f"Paid: {assessment.shop.currency} ______________",
            ]
        ),
        signed_by_both(),
        small_print(assessment),
    )


def _tried(assessment: Assessment) -> list[str]:
    phases = {planned.step.phase for planned in assessment.plan}
    lines = []
    if phases & PROVED and any(d.situation.consequence in BEARS and d.damage.kind not in NOT_LOADED for d in assessment.damages):
        lines.append(
            f"Loaded with ________ for ________ minutes and pushed; nothing moved and nothing was heard. Tried by: {BLANK}"
        )
    moving = assessment.knowledge.pieces[assessment.case.piece].moves
    if moving:
        lines.append(f"The {say.listed(moving)} were tried together, full way and back.")
    lines.append("The mended place was looked at together.")
    return [*lines, "The colour was looked at by the window, together."] if phases & COLOURED else lines


def _left_alone(assessment: Assessment) -> list[str]:
    case = assessment.case
    tight = any(state == "tight" for state in case.joints.values())
    unseen = [say.plain(name) for name, state in case.joints.items() if state in ("not_tried", "cannot_reach")]
    lines = ["Joints that were tight were left as they are."] if tight else []
    if unseen:
        lines.append(f"These joints we could not try: {say.listed(unseen)}.")
    return [*lines, f"What we also saw: {BLANK}"]


def _line_inside(assessment: Assessment, glue: Sequence[Gluing]) -> str:
    line = plan_lists.line_inside(assessment, glue)
    return f"Inside it we leave a line for whoever mends it next: “{line}”." if line and glue else ""
