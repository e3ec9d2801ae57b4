"""The revised estimate, when it has been opened: what we expected beside what we found, and the question again."""

from diagnose.assess import Assessment, DamageAssessment
from diagnose.documents import md, say
from diagnose.documents.letters import prices
from diagnose.documents.letters.answer import NO_PRICE, answer
from diagnose.documents.letters.asked import asked
from diagnose.documents.letters.frame import NotThisForm, head, small_print
from diagnose.documents.letters.money import when
from diagnose.documents.letters.told_and_found import new_answers
from diagnose.documents.letters.unsafe_now import unsafe_now
from diagnose.documents.letters.why import why
from diagnose.documents.letters.without_price import without_price
from diagnose.documents.letters.work import method_of, what_stays

AS_EXPECTED = "As we expected."
NOT_KNOWN = "We did not know of it."


def revised(assessment: Assessment, before: Assessment) -> str:
    """The revised estimate as Markdown; `before` is the assessment on which the estimate was written.

    Raises NotThisForm where the two are not of one piece.
    """
    now, then = assessment.case, before.case
    if (now.number, now.piece) != (then.number, then.piece):
        raise NotThisForm(f"{then.number or 'without a number'}, {then.piece} is another piece than {now.number}, {now.piece}")
    if assessment.triage in NO_PRICE or not assessment.damages or assessment.price is None:
        return without_price(assessment)
    found = new_answers(assessment, before)
    return md.join(
        head(assessment, "Revised estimate for your"),
        answer(assessment),
        _difference(assessment, before),
        unsafe_now(assessment),
        md.heading("What we expected, and what we found", 2),
        md.table(("", "we expected", "we found"), _rows(assessment, before)),
        *(["*New since we wrote to you*", md.bullets(found)] if found else []),
        md.heading("Why it happened", 2),
        why(assessment),
        what_stays(assessment),
        md.heading("When", 2),
        when(assessment),
        md.heading("What we ask of you", 2),
        asked(assessment),
        small_print(assessment),
    )


def _difference(assessment: Assessment, before: Assessment) -> str:
    """Dearer, cheaper or the same, in one sentence."""
    price, old, money = assessment.price, before.price, assessment.shop.money
    if price is None or old is None:
        return "When we last wrote we could not name a price yet."
    if money(price.likely) == money(old.likely):
        return "That is the likely price we told you before; nothing is done beyond it without your yes."
    apart = money(abs(price.likely - old.likely))
    return f"That is likely {apart} {'more' if price.likely > old.likely else 'less'} than we told you before. We have stopped, and wait for your answer."


def _rows(assessment: Assessment, before: Assessment) -> list[tuple[str, str, str]]:
    """Damage by damage what is wrong, why and what is done about it, then the price; what is the same is not said again."""
    then = {damage.damage.id: damage for damage in before.damages}
    rows = []
    for damage in assessment.damages:
        old, place = then.get(damage.damage.id), say.first_up(say.place_of(damage.damage))
        rows.append((f"{place}: why", _reason(before, old), _reason(assessment, damage)))
        rows.append((f"{place}: the work", _work(before, old), _work(assessment, damage)))
    rows.append(("The price", _cost(before), _cost(assessment)))
    return [(what, expected, AS_EXPECTED if found == expected else found) for what, expected, found in rows]


def _reason(assessment: Assessment, damage: DamageAssessment | None) -> str:
    return assessment.knowledge.causes[say.leading_causes(damage)[0][0]].owner if damage is not None else NOT_KNOWN


def _work(assessment: Assessment, damage: DamageAssessment | None) -> str:
    return method_of(assessment, damage).owner if damage is not None else NOT_KNOWN


def _cost(assessment: Assessment) -> str:
    return prices.told(assessment.shop, assessment.price) if assessment.price is not None else "We could not name it yet."
