"""The receipt: what was taken in and with what, before anything is done to it; in two copies, filled in by hand where only eyes can say."""

from diagnose import words
from diagnose.assess import Assessment
from diagnose.documents import md, say
from diagnose.documents.letters.answer import REFUSED
from diagnose.documents.letters.asked import KEEP_PHOTOGRAPHS, TRY_THE_FINISH
from diagnose.documents.letters.frame import BLANK, NotThisForm, head, signed_by_both, small_print
from diagnose.documents.letters.money import storage
from diagnose.documents.letters.place import wrong_there
from diagnose.documents.letters.unsafe_now import unsafe_now

TAKEN = {
    words.Triage.TAKE_IN: "We have taken it in to look at it.",
    words.Triage.ISOLATE: "We have taken it in and keep it apart from other work.",
    words.Triage.DRY_ONLY: "We have taken it in to dry, and for nothing else yet.",
}


def receipt(assessment: Assessment) -> str:
    """The receipt as Markdown. Raises NotThisForm where the piece does not come in."""
    if assessment.triage in REFUSED:
        raise NotThisForm(f"the piece is not taken in ({words.TRIAGE_SAY[assessment.triage]}); the estimate says why")
    because = " ".join(assessment.triage_because)
    return md.join(
        head(assessment, "Receipt for your"),
        f"**{TAKEN[assessment.triage]}**{_when(assessment)} {because}".rstrip(),
        unsafe_now(assessment),
        md.heading("What it came in for", 2),
        md.bullets(_came_for(assessment)),
        md.heading("What came with it", 2),
        md.bullets(_came_with(assessment)),
        md.heading("Photographs taken", 2),
        md.ticks(_photographs(assessment)),
        md.heading("How it goes on", 2),
        md.bullets(_goes_on(assessment)),
        md.heading("What you agree to", 2),
        md.ticks(_agreed()),
        f"Somebody else who may say yes for you, with telephone: {BLANK}",
        signed_by_both(),
        small_print(assessment),
    )


def _when(assessment: Assessment) -> str:
    day = assessment.case.taken_in
    return f" It came in on {say.long_date(day)}." if day is not None and day != assessment.today else ""


def _came_for(assessment: Assessment) -> list[str]:
    case = assessment.case
    told = [f"You said: “{md.safe(text)}”" for text in (case.owner_says, *(d.says for d in case.damages)) if text]
    seen = [f"{say.first_up(wrong_there(d))}." for d in case.damages]
    return list(dict.fromkeys([*told, *seen])) or [f"You said: {BLANK}"]


def _came_with(assessment: Assessment) -> list[str]:
    case, shop = assessment.case, assessment.shop
    whose = "you put" if case.value_by == "owner" else f"{md.safe(case.value_by)} puts"
    value = (
        f"The value {whose} on it: {shop.money(case.value)}." if case.value is not None else f"The value you put on it: {BLANK}"
    )
    belongs = ", ".join(assessment.knowledge.pieces[case.piece].comes_with)
    alike = [f"Pieces alike, all taken in: {case.count}. Each part is marked with the number of its piece."]
    return [
        *(alike if case.count > 1 else []),
        f"Loose parts and splinters, counted with you: ______, in the tray with this number. Each has a label, "
        f"“{md.safe(case.number) or 'number'} · ___ of ___”.",
        f"What belongs to it{f' ({belongs})' if belongs else ''}: {BLANK}",
        f"Marks and damage that were there already: {BLANK}",
        f"{value} We are not valuers.",
    ]


def _photographs(assessment: Assessment) -> list[str]:
    places = dict.fromkeys(say.place_of(damage) for damage in assessment.case.damages)
    return [
        "Front and back",
        "Both sides",
        "Underneath",
        *(f"Close: {place}" for place in places),
        "Labels, stamps and old marks",
    ]


def _goes_on(assessment: Assessment) -> list[str]:
    shop = assessment.shop
    dries = assessment.triage is words.Triage.DRY_ONLY
    after = "It dries, which takes weeks. Then we look at it again" if dries else "We look at it"
    return [
        f"This paper names no price and is no yes to any work. {after} and write to you with a price.",
        f"If it has to be opened before we can say what it needs, we ask you first; if you then say no, looking costs "
        f"{shop.money(shop.look_see_fee)}, and it comes back as it is.",
        storage(shop),
        "It is given out against this paper.",
    ]


def _agreed() -> list[str]:
    return [
        "You may measure how damp the wood is; the pins of the meter can leave two small holes in a hidden place.",
        TRY_THE_FINISH,
        "You may lift a corner of whatever hides the damaged place, to see under it.",
        KEEP_PHOTOGRAPHS,
    ]
