"""The slip for somebody who rings or sends pictures: whether to bring it, what not to do to it meanwhile, and what to bring."""

from diagnose import words
from diagnose.assess import Assessment
from diagnose.documents import md, say
from diagnose.documents.letters import prices
from diagnose.documents.letters.answer import REFUSED, answer
from diagnose.documents.letters.frame import head, small_print
from diagnose.documents.letters.unsafe_now import LEAVE_ALONE, unsafe_now

BRING = {
    words.Triage.TAKE_IN: "Please bring it.",
    words.Triage.ISOLATE: "Please ring before you bring it, so that we can keep it apart from other work.",
    words.Triage.DRY_ONLY: "Please bring it soon: it has to dry here first, and slowly.",
}
# Damages whose parted faces are the best witness of what happened, and the glue's only ground.
PARTED = frozenset({"broken", "split", "loose"})
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
        "Take out or tie shut whatever slides or swings. Lay a blanket round it, lift it by what is sound and low down, and lay nothing "
        "on top of it.",
        small_print(assessment),
    )


def _price(assessment: Assessment) -> str:
    if assessment.price is None or assessment.triage is words.Triage.DRY_ONLY:
        return "We name no price before we have had it in our hands."
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
    close = [f"Close, with a lamp from one side and a coin or a rule beside it: {place}" for place in places]
    return ["The whole piece from the front and from one side", "Underneath and behind", *close, "Any label, stamp or number"]


def _to_bring(assessment: Assessment) -> list[str]:
    lines = ["Every part that came off, however small", "Keys, shelves, screws and fittings that belong to it"]
    if assessment.case.count > 1:
        lines.append(f"All {assessment.case.count} of them: a set is looked at and priced together")
    elif _kinds(assessment) & LOST_SHAPE:
        lines.append("One like it, if you have one: it shows us the shape of the part")
    return [*lines, "What you know of it: how old, who mended it before, when, and with what"]
