"""The slip for somebody who rings or sends pictures: whether to bring it, what not to do to it meanwhile, and what to bring."""

from diagnose import words
from diagnose.assess import Assessment
from diagnose.decision.whole_piece import RETIRED
from diagnose.documents import md, say
from diagnose.documents.letters import prices
from diagnose.documents.letters.answer import REFUSED, answer, to_mend_it
from diagnose.documents.letters.frame import head, small_print
from diagnose.documents.letters.unsafe_now import LEAVE_ALONE, PARTED, unsafe_now
from diagnose.documents.letters.work import sent_on

BRING = {
    words.Triage.TAKE_IN: "Please bring it.",
    words.Triage.ISOLATE: "Please ring before you bring it, so that we can keep it apart from other work.",
    words.Triage.DRY_ONLY: "Please bring it soon: it has to dry here first, and slowly.",
}
# Damages for which a sound sister shows what the part looked like.
LOST_SHAPE = frozenset({"broken", "split"})


def until_you_bring_it(assessment: Assessment) -> str:
    """The slip as Markdown; where the piece does not come in it says why, and what to keep from meanwhile."""
    if assessment.triage in REFUSED:
        return md.join(
            head(assessment, "About your"),
            answer(assessment),
            unsafe_now(assessment),
            md.heading("Until somebody has seen it", 2),
            md.bullets(_leave(assessment)),
            small_print(assessment),
        )
    because = " ".join(assessment.triage_because)
    return md.join(
        head(assessment, "Until you bring your"),
        f"**{BRING[assessment.triage]}** {because}".rstrip(),
        _price(assessment),
        unsafe_now(assessment),
        md.heading("Until then", 2),
        md.bullets(_leave(assessment)),
        md.heading("Pictures that help us", 2),
        md.ticks(_pictures(assessment)),
        md.heading("What to bring", 2),
        md.ticks(_to_bring(assessment)),
        md.heading("On the way", 2),
        f"{_shut(assessment)}Lay a blanket round it, lift it by what is sound and low down, and lay nothing on top of it.",
        small_print(assessment),
    )


def _price(assessment: Assessment) -> str:
    if assessment.price is None or assessment.triage is words.Triage.DRY_ONLY:
        return "We name no price before we have had it in our hands."
    if assessment.piece_decision == RETIRED:
        likely = to_mend_it(assessment)
        if likely is None:
            return "By what we know so far there may be no repair that we could answer for. We look at it with you when you bring it."
        return (
            f"By what we know so far mending it safely would cost about {assessment.shop.money(likely)}, which may be more than you want "
            "to spend on it. That is no offer: what decides it we see when we have it in our hands."
        )
    if sent_on(assessment):
        return "By what we know so far it is work for others, who name their own price. We see that when we have it in our hands."
    span = assessment.told.before_opening or assessment.price
    return (
        f"By what we know so far the work could cost from {prices.span(assessment.shop, span)}. That is no offer: what decides it we "
        "see when we have it in our hands."
    )


def _kinds(assessment: Assessment) -> frozenset[str]:
    return frozenset(damage.kind for damage in assessment.case.damages)


def _leave(assessment: Assessment) -> list[str]:
    box, kinds = unsafe_now(assessment), _kinds(assessment)
    lines = [LEAVE_ALONE] if kinds & PARTED and LEAVE_ALONE not in box else []
    if kinds & LOST_SHAPE:
        lines.append("Do not press the broken faces together to see whether they fit; each time a few more fibres break.")
    elif "loose" in kinds:
        lines.append("Do not pull the joint apart; what holds it now shows why it let go.")
    return [
        *lines,
        "Do not wash, wax or oil it.",
        "Keep it in a dry room, away from heaters, sun and damp, also if it is wet now.",
    ]


def _pictures(assessment: Assessment) -> list[str]:
    places = dict.fromkeys(say.place_of(damage) for damage in assessment.case.damages)
    close = [f"Close, with a lamp from one side and a coin or a rule beside it: {'; '.join(places)}"] if places else []
    return ["The whole piece from the front and from one side", "Underneath and behind", *close, "Any label, stamp or number"]


def _shut(assessment: Assessment) -> str:
    """What is taken out or tied shut before it is carried."""
    moving = assessment.knowledge.pieces[assessment.case.piece].moves
    return f"Take out or tie shut the {say.listed(moving)}. " if moving else ""


def _to_bring(assessment: Assessment) -> list[str]:
    belongs = say.listed([*assessment.knowledge.pieces[assessment.case.piece].comes_with, "screws", "fittings"])
    lines = ["Every part that came off, however small", f"{say.first_up(belongs)} that belong to it"]
    if assessment.case.count > 1:
        lines.append(f"All {assessment.case.count} of them: a set is looked at and priced together")
    elif _kinds(assessment) & LOST_SHAPE:
        lines.append("One like it, if you have one: it shows us the shape of the part")
    return [*lines, "What you know of it: how old, who mended it before, when, and with what"]
