"""Where a break began: the same crack, widest at its start, in five places, and a broken ring round the start."""

from random import Random

from diagnose.documents.plates.canvas import label, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, arc, rect
from diagnose.documents.plates.stuff import crack, screw_head, shadow, void
from diagnose.documents.plates.wood import bar, wood

STARTS = "starts here"


def _at_joint(rng: Random) -> str:
    post, rail = rect(54, 12, 76, 216), rect(130, 112, 182, 70)
    drawn = shadow(post) + shadow(rail) + wood(post, rng, 90, "dark") + wood(rail, rng, 0, "light")
    drawn += crack([(127, 113), (118, 100), (112, 80), (108, 58), (106, 30)], 13, rng)
    return drawn + ring_round((124, 110), 26) + label(STARTS, (222, 70), (148, 100))


def _at_fixing(rng: Random) -> str:
    drawn = bar(14, 82, 270, 84, rng)
    drawn += crack([(130, 124), (170, 122), (210, 126), (258, 123)], 12, rng)
    drawn += crack([(130, 124), (104, 126), (76, 124)], 9, rng)
    return drawn + screw_head((130, 124), 15) + ring_round((130, 124), 28) + label(STARTS, (130, 206), (130, 153))


def _at_board_end(rng: Random) -> str:
    drawn = bar(10, 96, 246, 22, rng, back=(54.0, -66.0))
    drawn += crack([(283, 63), (240, 61), (190, 65), (130, 62)], 15, rng)
    drawn += void([(279, 67), (287, 57), (287, 79), (279, 89)])
    return drawn + ring_round((278, 68), 28) + label(STARTS, (232, 170), (272, 97))


def _at_bend(rng: Random) -> str:
    foot: Point = (60, 236)
    shape = [*arc(foot, 236, 200, 0, 90), *arc(foot, 148, 118, 90, 0)]
    drawn = shadow(shape) + wood(shape, rng, 0)
    drawn += crack([(233, 88), (220, 98), (206, 104), (192, 118), (180, 124)], 16, rng)
    return drawn + ring_round((228, 92), 26) + label(STARTS, (262, 36), (240, 66))


def _in_clear_length(rng: Random) -> str:
    rail = rect(50, 84, 220, 60)
    drawn = shadow(rail) + wood(rail, rng, 0, "light")
    for x in (14.0, 268.0):
        post = rect(x, 14, 38, 212)
        drawn += shadow(post) + wood(post, rng, 90, "dark")
    drawn += crack([(154, 145), (157, 132), (168, 124), (174, 112), (190, 104)], 14, rng)
    return drawn + ring_round((156, 140), 26) + label(STARTS, (160, 200), (157, 166))


PLACES = {
    "joint": _at_joint,
    "fixing": _at_fixing,
    "board_end": _at_board_end,
    "bend": _at_bend,
    "clear_length": _in_clear_length,
}


def break_begins(rng: Random, *, at: str = "clear_length") -> str:
    """A crack that begins at a joint, a fixing, the end of a board, a bend or in plain wood: `at` is one of PLACES."""
    return chosen("at", at, PLACES)(rng)
