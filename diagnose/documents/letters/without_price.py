"""The letter about a piece that we decline, refer, do not let in, only dry, cannot price yet or mend at no charge: no price in it."""

from diagnose import words
from diagnose.assess import Assessment
from diagnose.documents import md
from diagnose.documents.letters.also_known import also_known
from diagnose.documents.letters.answer import REFUSED, answer
from diagnose.documents.letters.asked import fetched, no_thanks
from diagnose.documents.letters.frame import SIGN_HERE, head, small_print
from diagnose.documents.letters.other_trades import asked_first
from diagnose.documents.letters.told_and_found import told_and_found
from diagnose.documents.letters.unsafe_now import is_unsafe, unsafe_now
from diagnose.documents.letters.used_afterwards import used_afterwards
from diagnose.documents.letters.why import why
from diagnose.documents.letters.work import what_stays
from diagnose.documents.letters.worth import worth

DONE = md.heading("What we do to it", 2)
BAGGED = "in a closed bag"


def without_price(assessment: Assessment) -> str:
    """The answer, what is unsafe, what was done to it (mostly nothing), and the few things that can be answered."""
    refused = assessment.triage in REFUSED
    reasons = [] if refused or not assessment.damages else [md.heading("Why it happened", 2), why(assessment)]
    done, ticks = _refused(assessment) if refused else _on_us(assessment) if assessment.told.on_us else _for_now(assessment)
    return md.join(
        head(assessment, "About your"),
        answer(assessment),
        unsafe_now(assessment),
        md.heading("What you told us, and what we found", 2),
        told_and_found(assessment),
        *reasons,
        also_known(assessment),
        done,
        "" if refused else asked_first(assessment),
        worth(assessment),
        md.heading("What we ask of you", 2),
        md.ticks(ticks),
        SIGN_HERE,
        small_print(assessment),
    )


def _refused(assessment: Assessment) -> tuple[str, list[str]]:
    done = "Nothing: we have done no work on it and we do none."
    if assessment.triage is words.Triage.STAYS_OUT:
        # What lives in a cover is told in the box already.
        done += (
            ""
            if BAGGED in unsafe_now(assessment)
            else f" Until it has been treated, please keep it {BAGGED}, away from your other things."
        )
    elif is_unsafe(assessment) or assessment.triage is words.Triage.DECLINE:
        done += " It carries a tag that says why, and this letter goes with it."
    ring = "Please ring me about who can help." if assessment.refer_to else "Please ring me about it."
    return md.join(DONE, done), [fetched(assessment), ring]


def _on_us(assessment: Assessment) -> tuple[str, list[str]]:
    """What our own earlier work is mended by, at no charge."""
    used = md.join(md.heading("Using it afterwards", 2), used_afterwards(assessment))
    return md.join(what_stays(assessment), used), ["Yes, please mend it again.", no_thanks(assessment)]


def _for_now(assessment: Assessment) -> tuple[str, list[str]]:
    """What is done while no price is told, and the yes that the owner can give to it."""
    fee = assessment.shop.money(assessment.shop.look_see_fee)
    looking = f"If you then say no, we charge {fee} for looking; if you say yes, there is nothing to pay for that."
    if assessment.triage is words.Triage.DRY_ONLY:
        done = f"Nothing yet. We take it in to dry, which takes weeks; then we look at it again and write to you with a price. {looking}"
        return md.join(DONE, done), ["Yes, please take it in to dry, and write to me with a price.", no_thanks(assessment)]
    done = f"Nothing yet. We settle what is still open, then we write to you with a price. {looking}"
    return md.join(DONE, done), ["Yes, please look at it further, and write to me with a price.", no_thanks(assessment)]
