"""The plan's section on new wood: which wood and which to leave, the blank, its grain, and what is proved before it is glued."""

from collections.abc import Iterable, Sequence

from diagnose.assess import Assessment
from diagnose.documents import md, say
from diagnose.mechanics.grain import slope_share
from diagnose.planning.new_part import (
    SHORTEST_OVER_MACHINE_MM,
    SWING_PCT,
    Blank,
    Match,
    blanks,
    matches,
    offered,
    steepest_run,
    to_avoid,
)


def section(assessment: Assessment) -> str:
    """The section without its heading; empty where the plan makes nothing new."""
    needed = blanks(assessment.knowledge, assessment.case, assessment.plan)
    if not needed:
        return ""
    piece = assessment.knowledge.pieces[assessment.case.piece]
    carries = any(piece.parts[one.part].carries in ("person", "goods") for one in needed if one.part in piece.parts)
    return md.join(*_wood(assessment, carries), *_sizes(assessment, needed), *_grain(), _proved())


def _wood(assessment: Assessment, carries: bool) -> Iterable[str]:
    yield md.heading("Which wood", 3)
    knowledge = assessment.knowledge
    old = knowledge.woods.get(assessment.case.wood or "")
    if old is None:
        yield (
            "**The wood is not named, so no other can be matched to it.** The way out: shave end grain clean on a hidden face and look through "
            "the lens for open rings or even pores, weigh a loose part in the hand against offcuts, compare wetted colour, and ask somebody "
            "who sells timber. Until then the new wood may only come from a spare part of the same piece."
        )
        return
    ranked = matches(knowledge.woods.values(), old, carries)
    few, poor = offered(ranked, carries), to_avoid(ranked, old)
    yield (
        f"Best is **{old.name.lower()}** itself, of like weight and ring width, old wood before new; wet both to compare them."
        + (f" Steepest grain 1 in {steepest_run()}." if carries else "")
    )
    if few:
        yield "Where that cannot be had, in this order (figures are averages of clear wood; colour of heartwood is remembered, so look):"
        yield md.table(("wood", "bends", "weighs", "steepest grain", "for it", "against it"), [_row(m, carries) for m in few])
    else:
        yield (
            f"**No other wood of the table matches {old.name.lower()} in figure and strength.** The way out: only the same wood, from a spare "
            "part or a dealer in old timber; where it cannot be had, ask the owner whether a part that is seen to be new is welcome."
        )
    if carries and poor:
        names = [f"{m.wood.name.lower()} ({m.strength:.0%})" for m in poor]
        yield f"Leave alone what looks like it and is too weak: {say.listed(names)} of its bending strength."
    yield (
        "Whatever the kind: no knot, no brash or eaten wood, no sapwood in a part that carries, and nothing wetter than the old part. Wood "
        "that is listed by law comes with its papers or not at all."
    )


def _row(match: Match, carries: bool) -> tuple[str, ...]:
    run = steepest_run(match.strength)
    grain = (f"1 in {run}" if run else "dead straight") if carries else "–"
    return (
        match.wood.name, f"{match.strength:.0%} of the old", f"{match.weight:.0%}", grain,
        "; ".join(match.speaks_for) or "–", "; ".join(match.against) or "–",
    )  # fmt: skip


def _sizes(assessment: Assessment, needed: Sequence[Blank]) -> Iterable[str]:
    yield md.heading("The blank", 3)
    rows = []
    for one in needed:
        number = next(i for i, planned in enumerate(assessment.plan, start=1) if planned is one.step)
        place = say.place_of(assessment.case.damage(one.damage))
        rows.append((str(number), f"{place}: {'the whole part' if one.kind == 'part' else 'let in'}", *_size(one)))
    yield md.table(("step", "for", "finished", "saw it to", "kept long until the end"), rows)
    if any(not one.measured for one in needed):
        yield "Sizes are those usual for this kind of piece until the part itself is measured: measure first, then saw."
    yield (
        f"Cut to length last. Nothing shorter than {SHORTEST_OVER_MACHINE_MM:.0f} mm goes by hand over or through a machine: leave the blank "
        "that long, or work it by hand in a vice or jig."
    )


def _size(one: Blank) -> tuple[str, str, str]:
    held = f"{one.held:.0f} mm or more" if one.held else "long"
    if one.finished is None or one.rough is None:
        least = f"at least {one.at_least:.0f} mm long, both slopes in it" if one.at_least else "taken from its bed"
        over = one.step.step.new_wood
        assert over is not None
        return least, f"{over.over[0]:g} mm thicker and {over.over[1]:g} mm wider than its bed", held
    return _mm(one.finished), _mm(one.rough), held


def _mm(size: tuple[float, float, float | None]) -> str:
    thickness, width, length = size
    return f"{thickness:g} × {width:g} × {f'{length:g}' if length is not None else 'length measured'} mm"


def _grain() -> Iterable[str]:
    yield md.heading("Its grain", 3)
    run = steepest_run()
    kept = slope_share(1 / run) if run else slope_share(0.0)
    yield md.bullets(
        [
            f"In a part that carries, wood of the old strength may have grain no steeper than 1 in {run}, which leaves {kept.value:.0%} of its "
            "bending strength; where the part is bent, the grain runs with the bend.",
            "Read it on two faces at right angles, by the pores and not by the figure; the two slopes add as the sides of a triangle.",
            "A let-in piece has its grain along that of the old wood; only a key runs across a split.",
            "Rings lie as in the old part, so that both move the same way.",
        ]
    )


def _proved() -> str:
    return md.join(
        md.heading("Before it is glued", 3),
        md.ticks(
            [
                "Shape, angles and holes come from the old part held together dry, and are checked in the frame set square.",
                "Holes at an angle are drilled with the part clamped dry and level; hole, insert and screw are tried in scrap of the same wood first.",
                "Metal is searched for before any tool meets old wood.",
                "Edges are eased with 120 grit and show edges go on finer, until they feel like the old ones; edges at the joint stay sharp.",
                "Faces to be glued are bare: they are masked before any stain, wax or finish comes near.",
                f"It lies beside the old part until both read the same within two points ({SWING_PCT[0]:g} to 8 per cent for heated rooms).",
            ]
        ),
    )
