"""What others do: who they are, who pays them, and that a cover may not survive being taken off."""

from diagnose import words
from diagnose.assess import Assessment
from diagnose.decision.can_do import REFERRED
from diagnose.documents import md

# What others take off may not go on again.
COVERED = frozenset({"caner", "upholsterer"})
LOST = " What covers it now may not survive being taken off."


def other_trades(assessment: Assessment) -> str:
    """The section with its heading; empty where we do all of it."""
    lines = [*_in_our_place(assessment), *_of_the_cover(assessment)]
    lines += _asked_besides(assessment)
    return md.join(md.heading("What others do", 2), md.bullets(lines)) if lines else ""


def asked_first(assessment: Assessment) -> str:
    """The same where no price is told yet: only who else has to be asked."""
    lines = _asked_besides(assessment)
    return md.join(md.heading("What others do", 2), md.bullets(lines)) if lines else ""


def _asked_besides(assessment: Assessment) -> list[str]:
    return [f"To be asked as well: {'; '.join(assessment.refer_to)}."] if assessment.refer_to else []


def _in_our_place(assessment: Assessment) -> list[str]:
    lines = []
    for by, decision in dict.fromkeys((d.decision.by, d.decision.decision) for d in assessment.damages if d.decision.by != "us"):
        who, lost = words.BYS[by], LOST if by in COVERED else ""
        if decision == REFERRED and by not in words.WORKSHOPS:
            lines.append(f"The work is done by {who}, at a price of their own; you know it before anything is done.{lost}")
        else:
            lines.append(
                f"Part of it is done by {who}. Their price is in the range above, is paid through us, and is only a guess until they "
                f"have seen it.{lost}"
            )
    return lines


def _of_the_cover(assessment: Assessment) -> list[str]:
    if assessment.told.cover is None:
        return []
    trades = sorted({planned.step.trade for planned in assessment.plan} - {"us"})
    return [
        f"What covers it is taken off and renewed by {words.BYS[trade]}. That price is told apart above, is paid through us, and is only "
        f"a guess until they have seen it.{LOST}"
        for trade in trades
    ]
