"""The answer first: what we advise and what it costs, in two lines; or why the piece is not taken on."""

from diagnose import words
from diagnose.assess import Assessment
from diagnose.decision.ban import MORE_LIKELY_FAILS
from diagnose.decision.decide import Option
from diagnose.decision.whole_piece import RETIRED
from diagnose.documents import md, say
from diagnose.documents.letters import prices
from diagnose.documents.letters.place import headed, it_or_one
from diagnose.documents.letters.work import method_of, sent_on
from diagnose.documents.letters.worth import valued_by

# At the door these leave nothing to price: the first three because we do not do it, the last because nothing is known of wet wood.
REFUSAL = {
    words.Triage.DECLINE: "We do not mend this back into use.",
    words.Triage.STAYS_OUT: "It cannot come into our workshop as it is.",
    words.Triage.REFER: "This is work for somebody else, and not for us.",
}
REFUSED = frozenset(REFUSAL)
NO_PRICE = REFUSED | {words.Triage.DRY_ONLY}
# Ways that mend nothing.
NO_MENDING = frozenset({RETIRED, "no_structural_work"})


def answer(assessment: Assessment) -> str:
    """What is advised and what it costs; or what stands against it."""
    if assessment.triage in REFUSED:
        helpers = f" Who can help: {'; '.join(assessment.refer_to)}." if assessment.refer_to else ""
        return f"**{REFUSAL[assessment.triage]}** {' '.join(assessment.triage_because)}{helpers}"
    if assessment.triage is words.Triage.DRY_ONLY:
        because = " ".join(assessment.triage_because)
        return f"**First it has to dry.** {because} We give a price when the wood is dry and steady."
    if assessment.price is None and assessment.told.on_us:
        return f"**There is nothing to pay.** {_advice(assessment)}"
    if assessment.price is None:
        return f"**We cannot name a price yet.** {' '.join(assessment.told.not_yet)}"
    if assessment.piece_decision == RETIRED:
        return _beyond(assessment)
    if sent_on(assessment):
        return md.join(
            f"**{_advice(assessment)}**",
            f"**What they charge is for them to say. We guess {prices.span(assessment.shop, assessment.price)}.**",
        )
    return md.join(
        f"**{_advice(assessment)}**",
        f"**{_told(assessment)}**{prices.ring_above(assessment)}{_by_others(assessment)}",
        _on_us(assessment),
        _above_worth(assessment),
        _of_the_set(assessment),
        _of_the_cover(assessment),
    )


def _above_worth(assessment: Assessment) -> str:
    """That the work costs more than the piece is worth, where that is so; whoever pays for it hears it before saying yes."""
    value, price = assessment.case.value, assessment.price
    if value is None or price is None or price.likely <= value:
        return ""
    as_it_is = all(damage.situation.takes_no_use for damage in assessment.damages)
    other = (
        "Only its looks suffer, so you can also use it as it is." if as_it_is else "What it is worth to you, only you can say."
    )
    return f"That is more than the {assessment.shop.money(value)} that {valued_by(assessment.case)} told us it is worth. {other}"


def _told(assessment: Assessment) -> str:
    assert assessment.price is not None
    return prices.told(assessment.shop, assessment.price)


def _advice(assessment: Assessment) -> str:
    """What we would do; with its place where several damages ask for different things."""
    damages = assessment.damages
    advised = {d.damage.id: method_of(assessment, d).owner for d in damages}
    if len(set(advised.values())) == 1:
        return next(iter(advised.values()))
    return " ".join(f"{headed(d.damage, True)}{say.first_down(advised[d.damage.id])}" for d in damages)


def _by_others(assessment: Assessment) -> str:
    return " Part of the work is done by others; see below." if any(d.decision.by != "us" for d in assessment.damages) else ""


def _on_us(assessment: Assessment) -> str:
    places = [say.place_of(d.damage) for d in assessment.damages if d.damage.id in assessment.told.on_us]
    return f"There is nothing to pay for what we mended before: {say.listed(places)}." if places else ""


def _of_the_set(assessment: Assessment) -> str:
    of_set, count = assessment.told.of_set, assessment.case.count
    if of_set is None:
        return ""
    shop = assessment.shop
    each = shop.money(of_set.likely / count)
    return f"**That is for one. All {count} of them together: {say.price_range(shop, of_set)}**, about {each} each."


def _of_the_cover(assessment: Assessment) -> str:
    cover = assessment.told.cover
    if cover is None:
        return ""
    return (
        f"**That is for our own work. What covers it has a price of its own: {say.price_range(assessment.shop, cover)}.** "
        "It is agreed when the cover has been lifted, and the old one may not go back."
    )


def _mending(options: tuple[Option, ...]) -> Option | None:
    return next(
        (
            option
            for option in options
            if option.verdict not in words.SET_ASIDE
            and option.decision not in NO_MENDING
            and option.fails_again <= MORE_LIKELY_FAILS
        ),
        None,
    )


def to_mend_it(assessment: Assessment) -> float | None:
    """What mending all that bears would likely cost, where giving the piece up is what we advise; None where no repair could be answered for."""
    # What only looks bad is no part of what it would take to use the piece again.
    bearing = [damage for damage in assessment.damages if damage.damage.kind not in words.ONLY_SEEN] or assessment.damages
    mended = [option for damage in bearing if (option := _mending(damage.decision.options)) is not None]
    return sum(option.price.likely for option in mended) if len(mended) == len(bearing) else None


def _beyond(assessment: Assessment) -> str:
    """Both ways, when the piece is past sensible repair; what it is worth is never ours to say."""
    shop, case = assessment.shop, assessment.case
    likely = to_mend_it(assessment)
    advice = md.join(f"**{_advice(assessment)}**", f"**{_told(assessment)}**")
    if likely is None:
        return md.join(advice, "There is no repair that we could answer for.")
    worth = f", and {valued_by(case)} told us that it is worth about {shop.money(case.value)}" if case.value is not None else ""
    cost = shop.money(likely)
    return md.join(
        f"**To mend {it_or_one(case)} safely would cost about {cost}{worth}.** What it is worth to you, only you can say; both ways "
        "stand below. Going by the figures alone:",
        advice,
    )
