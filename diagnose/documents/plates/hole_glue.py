"""A hole cut open from above, the part drawn out of it, and where the glue sat on both."""

from random import Random

from diagnose.documents.plates.canvas import dimension, label, path
from diagnose.documents.plates.chosen import chosen, within
from diagnose.documents.plates.shapes import Point, poly, rect
from diagnose.documents.plates.stuff import VOID, glue_line, old_glue, shadow
from diagnose.documents.plates.wood import outline, wood

LEFT, RIGHT, TOP, BOTTOM = 40.0, 280.0, 116.0, 230.0
HOLE_LEFT, HOLE_RIGHT = 126.0, 194.0
PART_LEFT, PART_RIGHT, TIP = 130.0, 190.0, 100.0
WIDE = 11.0


def _walls(floor: float) -> str:
    inside = WIDE / 2
    lines: list[list[Point]] = [
        [(HOLE_LEFT + inside, TOP), (HOLE_LEFT + inside, floor)],
        [(HOLE_RIGHT - inside, TOP), (HOLE_RIGHT - inside, floor)],
        [(PART_LEFT, 24), (PART_LEFT, TIP)],
        [(PART_RIGHT, 24), (PART_RIGHT, TIP)],
    ]
    return "".join(glue_line(line, WIDE) for line in lines)


def _tip(floor: float) -> str:
    cap: list[Point] = [
        (PART_LEFT - 3, TIP - 12),
        (PART_RIGHT + 3, TIP - 12),
        (PART_RIGHT + 2, TIP + 6),
        (PART_LEFT - 2, TIP + 6),
    ]
    left = old_glue(rect(HOLE_LEFT + 8, floor - 7, HOLE_RIGHT - HOLE_LEFT - 16, 7))
    return old_glue(cap) + left + label("only the tip", (250, 74), (PART_RIGHT, TIP - 2))


def _pool(floor: float) -> str:
    level = floor - 40
    pool: list[Point] = [
        (HOLE_LEFT, level - 8),
        (HOLE_LEFT + 8, level - 2),
        (HOLE_LEFT + 20, level),
        (HOLE_RIGHT - 20, level),
        (HOLE_RIGHT - 8, level - 2),
        (HOLE_RIGHT, level - 8),
        (HOLE_RIGHT, floor),
        (HOLE_LEFT, floor),
    ]
    return old_glue(pool) + label("pool", (258, 98), (HOLE_RIGHT - 10, level + 8))


def _mouth(floor: float) -> str:
    inside = WIDE / 2
    drawn = ""
    for x in (HOLE_LEFT + inside, HOLE_RIGHT - inside):
        drawn += glue_line([(x, TOP), (x, TOP + 20)], WIDE)
    for x in (PART_LEFT, PART_RIGHT):
        drawn += glue_line([(x, 24), (x, 44)], WIDE)
    return drawn + label("glue", (250, 84), (HOLE_RIGHT - 4, TOP + 6)) + label("bare", (84, 84), (HOLE_LEFT, TOP + 54))


def _nothing(floor: float) -> str:
    """The hole is measured against the part."""
    thick = dimension((PART_LEFT, 44), (PART_RIGHT, 44), "thickness", 16)
    deep = path(poly([(216, TOP), (216, floor)], closed=False) + poly([(210, TOP), (222, TOP)], closed=False), width=1.6)
    return (
        thick
        + deep
        + path(poly([(210, floor), (222, floor)], closed=False), width=1.6)
        + label("depth", (250, 98), (216, TOP + 8))
    )


PLACES = {"walls": _walls, "tip": _tip, "pool": _pool, "mouth": _mouth, "nothing": _nothing}


def hole_glue(rng: Random, *, glue: str = "walls", depth: float = 1.0) -> str:
    """A hole cut open and its part above it; `glue` is one of PLACES, `depth` of the hole 0.1 to 1."""
    draw = chosen("glue", glue, PLACES)
    floor = TOP + 90 * within("depth", depth, 0.1, 1)
    block: list[Point] = [
        (LEFT, TOP),
        (HOLE_LEFT, TOP),
        (HOLE_LEFT, floor),
        (HOLE_RIGHT, floor),
        (HOLE_RIGHT, TOP),
        (RIGHT, TOP),
        (RIGHT, BOTTOM),
        (LEFT, BOTTOM),
    ]
    hole = rect(HOLE_LEFT, TOP, HOLE_RIGHT - HOLE_LEFT, floor - TOP)
    part: list[Point] = [(PART_LEFT, 8), (PART_LEFT, TIP), (PART_RIGHT, TIP), (PART_RIGHT, 8)]
    drawn = (
        shadow(block) + wood(block, rng, 0, "mid", 9, outline=False) + path(poly(hole), fill=VOID, line="none") + outline(block)
    )
    drawn += wood(part, rng, 90, "light", 9, outline=False) + path(poly(part, closed=False), width=1.8)
    return drawn + draw(floor)
