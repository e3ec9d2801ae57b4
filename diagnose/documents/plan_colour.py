"""The plan's section on colour and finish: the drops in their order, what each tells, trial, blotch, coats and waits, what never goes over what."""

from collections.abc import Iterable, Sequence

from diagnose.assess import Assessment
from diagnose.documents import md, say
from diagnose.planning.colour import build_days, drops, found, goes_over, staining, unmoved
from diagnose.rulebase.entries import Finish


def section(assessment: Assessment) -> str:
    """The section without its heading; empty where nothing is coloured or finished."""
    lays = {planned.step.lays for planned in assessment.plan} - {None}
    if not lays:
        return ""
    return md.join(*_which(assessment), *_colour(assessment), *_schedule(assessment))


def named_finishes(assessment: Assessment) -> tuple[Finish, ...]:
    """The finishes that the readings of the damages name; none where nobody has looked yet."""
    every = [finish for d in assessment.damages for finish in found(assessment.knowledge, d.facts.values)]
    return tuple({finish.id: finish for finish in every}.values())


def _which(assessment: Assessment) -> Iterable[str]:
    knowledge = assessment.knowledge
    yield md.heading("Which finish it is", 3)
    named = named_finishes(assessment)
    if named:
        yield f"By what was read it is {say.listed([f.name.lower() for f in named], 'or')}. The drops below prove it before anything is laid on."
    yield (
        "In a hidden place, with the owner's leave, in this order and no further than the first that tells. Painted, gilded, lacquered in the "
        "old way or signed work is not tested at all."
    )
    rows = [
        (
            str(drop.test.order), drop.test.name, f"{drop.test.seconds[0]:g} to {drop.test.seconds[1]:g} s", drop.test.do,
            say.listed([finish.name.lower() for finish in drop.tells], "or") or "–",
        )
        for drop in drops(knowledge)
    ]  # fmt: skip
    yield md.table(("order", "drop", "wipe after", "how", "moved first by it"), rows)
    yield f"Moved by none of them: {say.listed([finish.name.lower() for finish in unmoved(knowledge)], 'or')}."


def _colour(assessment: Assessment) -> Iterable[str]:
    wood = assessment.knowledge.woods.get(assessment.case.wood or "")
    yield md.heading("Colour", 3)
    if wood is None:
        yield "The wood is not named, so nothing is known of how it takes stain: the trial on its own scrap decides."
    yield md.bullets(f"{one.do} {one.why}" for one in staining(assessment.knowledge, wood))
    yield "Judge by the window and again under a warm lamp; stay a shade light. Write the recipe on the card: another part in this tone may be wanted."


def _schedule(assessment: Assessment) -> Iterable[str]:
    knowledge = assessment.knowledge
    shown: Sequence[Finish] = named_finishes(assessment) or tuple(knowledge.finishes.values())
    yield md.heading("Coats and waits", 3)
    yield "The label on the can wins over every figure here." + (
        "" if named_finishes(assessment) else " Take the line that the drops name."
    )
    head = ("finish", "coats", "next coat after", "hard after", "first coat to full use", "how", "never laid on")
    yield md.table(head, [_row(assessment, finish) for finish in shown])
    yield "Nothing is laid on wax, oil that is still wet, or a face that will be glued. The piece is not used, wrapped or stood on before it is hard."


def _row(assessment: Assessment, finish: Finish) -> tuple[str, ...]:
    return (
        finish.name,
        say.span(*finish.coats, ""),
        _recoat(finish),
        f"{say.span(finish.hard_h / 24, finish.hard_h / 24, 'days')}{_how_known(finish, 'hard_h')}",
        _days(finish),
        finish.build,
        _under(assessment, finish),
    )


def _under(assessment: Assessment, finish: Finish) -> str:
    """What it is never laid on, or what alone it may be laid on where that is shorter."""
    others = [one for one in assessment.knowledge.finishes.values() if one.id != finish.id]
    never = [one.name.lower() for one in others if not goes_over(finish, one)]
    may = [one.name.lower() for one in others if goes_over(finish, one)]
    if len(may) < len(never):
        return f"anything but {say.listed(may, 'or')}" if may else "anything but bare wood"
    return say.listed(never, "or") or "nothing named"


def _recoat(finish: Finish) -> str:
    told = say.span(*finish.recoat_h, "h")
    told = f"inside {finish.window_h:g} h, or {told} and rubbed dull" if finish.window_h is not None else told
    return told + _how_known(finish, "recoat_h")


def _days(finish: Finish) -> str:
    low, high = (round(days) for days in build_days(finish))
    return say.span(low, high, "days")


def _how_known(finish: Finish, figure: str) -> str:
    said = {"read": "", "read_second_hand": " (at second hand)", "memory": " (remembered)", "judgement": " (judgement)"}
    return said[finish.known_by[figure]]
