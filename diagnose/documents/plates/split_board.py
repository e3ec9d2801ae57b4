"""Where a split runs in a board or in boards glued edge to edge, seen from the end and from above."""

from random import Random

from diagnose.documents.plates.canvas import label
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, rect
from diagnose.documents.plates.slab import slab
from diagnose.documents.plates.stuff import crack, glue_line, screw_head, shadow, void

X, Y, WIDE, HIGH = 14.0, 168.0, 232.0, 46.0
BACK: Point = (58.0, -132.0)
JOINT = 130.0


def _at(x: float, share: float) -> Point:
    """The place on the face above `x`, a share of the way to its rear edge."""
    return x + BACK[0] * share, Y + BACK[1] * share


def _one(rng: Random) -> str:
    return shadow(rect(X, Y, WIDE, HIGH)) + slab(X, Y, WIDE, HIGH, rng, BACK, "mid", None, 9, 13)


def _two(rng: Random) -> str:
    """Two boards, their rings opposed, so that the joint shows."""
    left = slab(X, Y, JOINT - X, HIGH, rng, BACK, "mid", (72, Y + 150), 9, 13, side=False)
    right = slab(JOINT, Y, X + WIDE - JOINT, HIGH, rng, BACK, "light", (200, Y - 110), 9, 13)
    return shadow(rect(X, Y, WIDE, HIGH)) + left + right


def _run(x: float, wide: float, rng: Random, ragged: float, ends: float = 1.0, narrow: float = 1.0) -> str:
    """A split along the face from the front to a share of its depth, `ragged` units to either side, and down through the end."""
    count = 9
    line = [_at(x + rng.uniform(-ragged, ragged), ends * i / count) for i in range(count + 1)]
    left = [(px - wide / 2 * (1 + (narrow - 1) * i / count), py) for i, (px, py) in enumerate(line)]
    right = [(px + wide / 2 * (1 + (narrow - 1) * i / count), py) for i, (px, py) in enumerate(line)]
    front = [line[0], (x + rng.uniform(-ragged, ragged), Y + HIGH * 0.4), (x - ragged * 0.6, Y + HIGH * 0.7), (x, Y + HIGH + 1)]
    return void([*left, *reversed(right)], line=False) + crack(front, wide, rng, wide * 0.8)


def _joint_line() -> str:
    return glue_line([_at(JOINT, 0), _at(JOINT, 1)], 6) + glue_line([(JOINT, Y), (JOINT, Y + HIGH)], 6)


def _on_joint(rng: Random) -> str:
    return _two(rng) + _run(JOINT, 13, rng, 0) + label("on the joint", (64, 26), _at(JOINT, 0.7))


def _beside_joint(rng: Random) -> str:
    drawn = _two(rng) + _joint_line() + _run(JOINT - 24, 11, rng, 4)
    return drawn + label("joint holds", (246, 26), _at(JOINT, 0.94)) + label("split", (64, 26), _at(JOINT - 24, 0.72))


def _whole(rng: Random) -> str:
    return _one(rng) + _run(JOINT, 12, rng, 6)


def _from_end(rng: Random) -> str:
    return _one(rng) + _run(JOINT, 24, rng, 1.5, 0.62, 0.06)


def _fixings(rng: Random) -> str:
    heads = "".join(screw_head(_at(JOINT, share), 12 - 3 * share) for share in (0.1, 0.36, 0.62, 0.88))
    return _one(rng) + _run(JOINT, 9, rng, 3) + heads


PLACES = {
    "on_joint": _on_joint,
    "beside_joint": _beside_joint,
    "whole_wood": _whole,
    "from_end": _from_end,
    "along_screws": _fixings,
}


def split_board(rng: Random, *, place: str = "whole_wood") -> str:
    """A board, or two glued at their edges, with a split; `place` says where it runs: one of PLACES."""
    return chosen("place", place, PLACES)(rng)
