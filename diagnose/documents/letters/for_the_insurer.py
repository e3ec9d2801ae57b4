"""The paper for an insurer or remover: what was reported, what was seen, how the two fit, and what mending costs. No blame, no valuation."""

from diagnose.assess import Assessment, DamageAssessment
from diagnose.decision.next_signs import AT_THE_DOOR
from diagnose.decision.whole_piece import RETIRED
from diagnose.documents import md, say
from diagnose.documents.letters import prices
from diagnose.documents.letters.answer import NO_PRICE, answer, to_mend_it
from diagnose.documents.letters.frame import SIGN_HERE, head, small_print
from diagnose.documents.letters.place import headed, it_or_one, wrong_there
from diagnose.documents.letters.told_and_found import TELLING_DB, answered, everything_told_and_found
from diagnose.documents.letters.why import why
from diagnose.documents.letters.work import advised_ways, what_stays
from diagnose.documents.letters.worth import valued_by

MOST_SPEAKING = 4


def for_the_insurer(assessment: Assessment) -> str:
    """The paper as Markdown."""
    damages = assessment.case.damages
    return md.join(
        head(assessment, "Report on the"),
        f"**{say.first_up(say.listed([wrong_there(d) for d in damages]))}.**" if damages else "**We found no damage.**",
        "This paper says what was reported to us and what we saw. Who or what is to answer for it is not for us to say, and we are not "
        "valuers.",
        md.heading("Reported, and seen", 2),
        everything_told_and_found(assessment),
        *([md.heading("How it came about, as far as it shows", 2), why(assessment), _fits(assessment)] if damages else []),
        md.heading("What mending costs", 2),
        _cost(assessment),
        what_stays(assessment) if damages else "",
        md.heading("Value", 2),
        _value(assessment),
        md.heading("Enclosed", 2),
        md.ticks(["Photographs, number: ______", "Parts kept here until this is settled: ______________"]),
        SIGN_HERE,
        small_print(assessment),
    )


def _fits(assessment: Assessment) -> str:
    several = len(assessment.damages) > 1
    told = [line for damage in assessment.damages for line in _of(assessment, damage, several)]
    return md.bullets(dict.fromkeys(told))


def _of(assessment: Assessment, damage: DamageAssessment, several: bool) -> list[str]:
    """What speaks for and against the likeliest reason, each answer once, the weightiest first."""
    leading = say.leading_causes(damage)[0][0]
    ranked = sorted(damage.weights.items(), key=lambda item: (-abs(item[1].get(leading, 0.0)), item[0]))
    speaking = [
        (sign, db[leading])
        for sign, db in ranked
        # What is looked at before hands go on a piece is asked for the sake of those hands; an insurer wants what was seen at the damage.
        if abs(db.get(leading, 0.0)) >= TELLING_DB and assessment.knowledge.signs[sign].station != AT_THE_DOOR
    ]
    lines = []
    for said, wanted in (("This fits", 1), ("This does not fit so well", -1)):
        named = [answered(assessment, damage.damage, sign) for sign, db in speaking if db * wanted > 0]
        told = [line for line in named if line][:MOST_SPEAKING]
        if told:
            lines.append(f"{headed(damage.damage, several)}{said}: {' '.join(told)}")
    return lines


def _cost(assessment: Assessment) -> str:
    price = assessment.price
    if assessment.triage in NO_PRICE or price is None or not assessment.damages:
        return answer(assessment) if assessment.damages or assessment.triage in NO_PRICE else "Nothing needs mending."
    ways = [f"{place}{way}" for place, way in advised_ways(assessment)]
    if assessment.piece_decision == RETIRED:
        return md.join(_beyond(assessment), md.bullets(ways), f"Of that alone: {prices.told(assessment.shop, price)}")
    return md.join(md.bullets(ways), f"{prices.told(assessment.shop, price)} Tax and terms stand in our estimate.")


def _beyond(assessment: Assessment) -> str:
    likely = to_mend_it(assessment)
    if likely is None:
        return "There is no repair that we could answer for. What we advise is this:"
    return (
        f"To mend {it_or_one(assessment.case)} safely would cost about {assessment.shop.money(likely)}. Going by the figures alone we "
        "advise this instead:"
    )


def _value(assessment: Assessment) -> str:
    case = assessment.case
    if case.value is None:
        return "Nobody has told us a value."
    return f"{assessment.shop.money(case.value)}, as {valued_by(case, owner='its owner')} told us."
