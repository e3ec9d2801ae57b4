"""How broken faces meet when they are pressed together by hand: a bar with a slanting break, pushed from both ends."""

from dataclasses import dataclass
from random import Random

from diagnose.documents.plates.canvas import arrow, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, moved, poly, smooth
from diagnose.documents.plates.stuff import shadow, void
from diagnose.documents.plates.wood import torn, wood

LEFT, RIGHT, TOP, BOTTOM = 50.0, 270.0, 74.0, 162.0
EDGE: list[Point] = [(116, TOP), (130, 90), (138, 98), (152, 112), (158, 122), (176, 138), (182, 148), (200, BOTTOM)]


@dataclass(frozen=True)
class Meeting:
    """How far apart the halves stay, how much the right one is off, and the words beside it."""

    apart: float = 0.0
    off: float = 0.0
    chips: bool = False
    matted: bool = False
    says: str = ""
    at: Point = (160, 200)
    to: Point = (166, 130)


MEETINGS = {
    "clean": Meeting(says="hardly seen"),
    "step": Meeting(apart=2.5, off=9, says="small step", to=(203, 166)),
    "gap": Meeting(apart=24, says="stays open"),
    "chips": Meeting(chips=True, says="bits missing", to=(146, 104)),
    "matted": Meeting(apart=30, matted=True, says="crushed fibres"),
}


def _chips() -> str:
    chips: list[list[Point]] = [
        [(112, TOP - 1), (132, TOP - 1), (138, 86), (130, 91), (120, 82)],
        [(140, 98), (150, 94), (162, 108), (158, 121), (147, 112)],
        [(172, 136), (178, 130), (192, 142), (194, 154), (182, 148)],
    ]
    return "".join(void(chip) for chip in chips)


def _mat(left: list[Point], right: list[Point], rng: Random) -> str:
    drawn = path(poly([*left, *reversed(right)]), fill="#d8b98a", line="none")
    curls = ""
    for (ax, ay), (bx, by) in zip(left, right, strict=True):
        for i in range(3):
            y = ay + i * 4.5 - 4
            curls += smooth(
                [(ax + (bx - ax) * k / 5, y + (by - ay) * k / 5 + (5 if k % 2 else -5) * rng.uniform(0.5, 1)) for k in range(6)]
            )
    return drawn + path(curls, line="#7a4d22", width=1.3) + torn(left, rng, 12, 0, 35, 12) + torn(right, rng, 12, 180, 35, 12)


def faces_meet(rng: Random, *, how: str = "clean") -> str:
    """Two halves of a broken bar pressed together; `how` they meet is one of MEETINGS."""
    meeting = chosen("how", how, MEETINGS)
    half = meeting.apart / 2
    left, right = moved(EDGE, -half), moved(EDGE, half, meeting.off)
    left_half = [(LEFT, TOP), *left, (LEFT, BOTTOM)]
    right_half = [(RIGHT, TOP + meeting.off), *right, (RIGHT, BOTTOM + meeting.off)]
    drawn = shadow(left_half) + shadow(right_half)
    if meeting.matted:
        drawn += _mat(left, right, rng)
    elif meeting.apart:
        drawn += void([*left, *reversed(right)])
    # Halves that close are one piece of wood to the eye: the same grain runs through both.
    if meeting.apart or meeting.off:
        drawn += wood(left_half, rng) + wood(right_half, rng)
    else:
        drawn += wood([(LEFT, TOP), (RIGHT, TOP), (RIGHT, BOTTOM), (LEFT, BOTTOM)], rng)
        drawn += path(poly(EDGE, closed=False), width=1.1 if not meeting.chips else 1.5)
    if meeting.chips:
        drawn += _chips()
    push = arrow((12, 118), (44, 118)) + arrow((308, 118 + meeting.off), (276, 118 + meeting.off))
    return drawn + push + label(meeting.says, meeting.at, meeting.to)
