"""The estimate, before opening: one letter for the whole piece, and the order of its parts."""

from diagnose.assess import Assessment
from diagnose.documents import md
from diagnose.documents.letters.also_known import also_known
from diagnose.documents.letters.answer import NO_PRICE, answer
from diagnose.documents.letters.asked import asked
from diagnose.documents.letters.care import care
from diagnose.documents.letters.frame import head, small_print
from diagnose.documents.letters.money import money, term, when
from diagnose.documents.letters.nothing_wrong import nothing_wrong
from diagnose.documents.letters.other_trades import other_trades
from diagnose.documents.letters.other_ways import other_ways
from diagnose.documents.letters.told_and_found import told_and_found
from diagnose.documents.letters.unknown_yet import unknown_yet
from diagnose.documents.letters.unsafe_now import unsafe_now
from diagnose.documents.letters.used_afterwards import used_afterwards
from diagnose.documents.letters.why import why
from diagnose.documents.letters.without_price import without_price
from diagnose.documents.letters.work import what_stays
from diagnose.documents.letters.worth import worth


def estimate(assessment: Assessment) -> str:
    """The estimate, before opening: one letter for the whole piece, as Markdown; where nothing can be priced, why not."""
    if assessment.triage in NO_PRICE or (assessment.damages and assessment.price is None):
        return without_price(assessment)
    if not assessment.damages:
        return nothing_wrong(assessment)
    return md.join(
        head(assessment, "Estimate for your"),
        answer(assessment),
        unsafe_now(assessment),
        md.heading("What you told us, and what we found", 2),
        told_and_found(assessment),
        md.heading("Why it happened", 2),
        why(assessment),
        also_known(assessment),
        what_stays(assessment),
        md.heading("Other ways", 2),
        other_ways(assessment),
        md.heading("What we cannot know yet", 2),
        unknown_yet(assessment),
        md.heading("Using it afterwards", 2),
        used_afterwards(assessment),
        other_trades(assessment),
        md.heading("When", 2),
        when(assessment),
        md.heading("Money", 2),
        money(assessment),
        md.heading("What we stand for", 2),
        term(assessment),
        care(assessment),
        worth(assessment),
        md.heading("What we ask of you", 2),
        asked(assessment),
        small_print(assessment),
    )
