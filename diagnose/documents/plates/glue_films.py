"""How old glue has turned out on two faces that have come apart."""

import math
from random import Random

from diagnose.documents.plates.canvas import clip, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.face_pair import (
    FACES,
    HIGH,
    LEFT_FACE,
    LEFT_X,
    RIGHT_X,
    TOP,
    WIDE,
    blob,
    facing,
    slabs,
)
from diagnose.documents.plates.shapes import Point, Points, arc, bounds, moved, number, poly, rect, smooth
from diagnose.documents.plates.stuff import GLUE, GLUE_LINE, hatch, metal, old_glue, powder
from diagnose.documents.plates.wood import outline, wood

PALE, DARK_GLUE = "#f7f2e4", "#8a4d10"


def _hardly_any(rng: Random) -> str:
    d = ""
    for x, y in ((40, 40), (96, 70), (60, 128), (118, 160), (34, 176), (104, 28)):
        d += smooth([(x, y), (x + rng.uniform(-2, 2), y + 9), (x + rng.uniform(-2, 2), y + 17)])
    other = "".join(smooth(facing([(x, y), (x + 1, y + 8)])) for x, y in ((70, 50), (110, 120), (44, 150)))
    return path(d + other, line=GLUE_LINE, width=3.4, round_ends=True) + label("almost bare", (160, 231), (112, 140))


def _corner_and_size(face: Points) -> tuple[float, float, float, float]:
    left, top, right, bottom = bounds(face)
    return left, top, right - left, bottom - top


def _backwards(shape: Points) -> Points:
    """The shape against the clock, as a rectangle is not."""
    turns = sum(ax * by - bx * ay for (ax, ay), (bx, by) in zip(shape, [*shape[1:], shape[0]], strict=True))
    return list(reversed(shape)) if turns > 0 else shape


def _thin(rng: Random) -> str:
    """A film so thin that the grain shows through it, with gaps; its lattice is faint and wide."""
    gaps = [blob(x, y, rx, ry, rng) for x, y, rx, ry in ((52, 54, 30, 24), (108, 104, 28, 36), (50, 156, 30, 26))]
    drawn = ""
    for face, bare in ((LEFT_FACE, gaps), (facing(LEFT_FACE), [facing(gap) for gap in gaps])):
        # A gap runs the other way round than the face, so that it stays open.
        film = poly(rect(*_corner_and_size(face))) + "".join(poly(_backwards(gap)) for gap in bare)
        drawn += path(film, fill=GLUE, line="none", opacity=0.45) + path("".join(map(poly, bare)), line=GLUE_LINE, width=1.6)
        drawn += clip(film, hatch(face, 35, 17, GLUE_LINE, 0.6) + hatch(face, -35, 17, GLUE_LINE, 0.6)) + outline(face, 2)
    return drawn + label("thin film", (80, 231), (38, 112)) + label("bare", (240, 231), (270, 166))


def _thick(rng: Random) -> str:
    """A layer that stands above the wood and has a side of its own."""
    drawn = ""
    for x in (LEFT_X, RIGHT_X):
        sheet, side = rect(x + 10, TOP + 8, WIDE - 20, HIGH - 38), rect(x + 10, TOP + HIGH - 30, WIDE - 20, 18)
        drawn += path(poly(moved(sheet, 6, 24)), fill="#9c7a4a", line="none") + old_glue(sheet)
        drawn += path(poly(side), fill=DARK_GLUE, width=1.8) + outline(sheet, 2)
        gleam = smooth([(x + 24, TOP + 120), (x + 34, TOP + 60), (x + 70, TOP + 26)])
        drawn += path(gleam, line="#fff4d4", width=8, round_ends=True)
    return drawn + label("thick layer", (160, 231), (100, TOP + HIGH - 20))


def _one_face(rng: Random) -> str:
    return old_glue(LEFT_FACE) + label("glue", (80, 231), (80, 190)) + label("bare", (240, 231), (240, 190))


def _brush(rng: Random) -> str:
    """A skin with fine ridges that sway together, and a frayed end where the bristles left it."""
    skins, ridges = "", ""
    for face in FACES:
        x = face[0][0]
        fringe = [(x + WIDE - 6.6 * k, TOP + HIGH - (8 if k % 2 else 34) + rng.uniform(-5, 5)) for k in range(21)]
        skins += poly([(x, TOP), (x + WIDE, TOP), *fringe])
        for k in range(1, 14):
            middle = x + 9.4 * k
            sway = [(middle + 6 * math.sin(y / 26), y) for y in (TOP + 2, TOP + 40, TOP + 78, TOP + 116, TOP + 146)]
            ridges += smooth([*sway, (middle, TOP + HIGH - 30 + rng.uniform(-6, 4))])
    drawn = path(skins, fill=GLUE, line=GLUE_LINE, width=2) + path(ridges, line=GLUE_LINE, width=2.2, round_ends=True)
    return drawn + label("brush marks", (160, 231), (118, 160))


def _lattice(face: Points, ground: str, colour: str, spacing: float) -> str:
    """Glue that is no longer amber: its lattice in another colour."""
    return path(poly(face), fill=ground, line="none") + hatch(face, 35, spacing, colour, 1) + hatch(face, -35, spacing, colour, 1)


def _cracks(x: float, y: float, rng: Random, reach: float) -> str:
    """A star of cracks round a point."""
    d = ""
    for t in (0.3, 1.6, 2.7, 3.9, 5.1):
        bend = (x + reach * 0.5 * math.cos(t) + rng.uniform(-4, 4), y + reach * 0.5 * math.sin(t))
        d += poly([(x, y), bend, (x + reach * math.cos(t + 0.2), y + reach * math.sin(t + 0.2))], closed=False)
    return d


def _chalky(rng: Random) -> str:
    """White and dull, the lattice faded, full of fine cracks, and crumbs that fall off."""
    drawn = ""
    for face in FACES:
        left, top, right, bottom = bounds(face)
        d = "".join(
            f"M{number(rng.uniform(left + 4, right - 4))} {number(rng.uniform(top + 4, bottom - 4))}h.1" for _ in range(50)
        )
        drawn += _lattice(face, PALE, "#c9b78d", 16)
        bare = blob((left + right) / 2, 74, 26, 30, rng)
        cracks = _cracks(left + 34, 150, rng, 30) + _cracks(left + 100, 132, rng, 26)
        drawn += path(d, line="#8c8068", width=2.4, round_ends=True) + path(cracks, line="#6f6552", width=1.8)
        drawn += wood(bare, rng, 90, "light", 15) + outline(face, 2)
    return drawn + powder((64, 230), rng, 86, 30, 40) + powder((256, 230), rng, 86, 30, 40) + label("white crumbs", (160, 231))


def _rubbery(rng: Random) -> str:
    """Strings that pull from face to face, wide where they leave the glue and thin in the middle."""
    strings = ""
    for y in (50, 82, 114, 146):
        sag = rng.uniform(4, 12)
        line = [(118.0, y), (140.0, y + sag * 0.6), (160.0, y + sag), (180.0, y + sag * 0.6), (202.0, y)]
        wide = (13, 5, 2.6, 5, 13)
        upper = [(x, py - w) for (x, py), w in zip(line, wide, strict=True)]
        lower = [(x, py + w) for (x, py), w in zip(line, wide, strict=True)]
        # Two curves as one outline: the second goes on where the first ends.
        strings += smooth([*upper, *reversed(lower)], closed=True)
    drawn = path(strings, fill=GLUE, line=GLUE_LINE, width=2)
    drawn += "".join(old_glue(blob(x, TOP + 88, 50, 78, rng)) for x in (LEFT_X + 66, RIGHT_X + 66))
    return drawn + label("strings", (160, 231), (160, 160))


def _glassy(rng: Random) -> str:
    """Brown, shining like glass; where the knife has been it has burst into powder."""
    drawn = ""
    for face in FACES:
        x = face[0][0]
        shine = poly([(x + 14, TOP + 70), (x + 60, TOP + 12), (x + 78, TOP + 12), (x + 14, TOP + 94)])
        shine += poly([(x + 86, TOP + 12), (x + 96, TOP + 12), (x + 14, TOP + 114), (x + 14, TOP + 102)])
        drawn += _lattice(face, DARK_GLUE, "#4a2604", 9) + path(shine, fill="#f7e3bd", line="none") + outline(face, 2)
    bare = blob(228, 128, 34, 26, rng)
    cracks = _cracks(196, 150, rng, 34) + _cracks(268, 100, rng, 30)
    drawn += wood(bare, rng, 90, "light", 11) + path(cracks, line="#f7e3bd", width=1.6)
    blade: list[Point] = [(222, 132), (250, 96), (311, 44), (311, 68), (266, 108)]
    drawn += powder((224, 156), rng, 70, 24, 60) + metal(blade, [(240, 116), (302, 62)])
    return drawn + label("powder", (160, 231), (214, 152))


def _foam(rng: Random) -> str:
    drawn = ""
    for face in FACES:
        left, top, right, bottom = bounds(face)
        bubbles, y, row = "", top + 16, 0
        while y < bottom - 8:
            x = left + (30 if row % 2 else 18)
            while x < right - 14:
                r = rng.choice((4.0, 7.5, 11.0))
                bubbles += f"M{number(x - r)} {number(y)}a{number(r)} {number(r)} 0 1 0 {number(2 * r)} 0"
                bubbles += f"a{number(r)} {number(r)} 0 1 0 {number(-2 * r)} 0"
                x += 24
            y, row = y + 21, row + 1
        drawn += path(poly(face), fill=GLUE, line="none") + path(bubbles, fill="#fff3cf", line=GLUE_LINE, width=1.8)
        drawn += outline(face, 2)
    return drawn + label("bubbles", (160, 231), (124, 184))


def _hard_clear(rng: Random) -> str:
    """A clear coat like ice: the grain shows through, and drops of it hang over the edge."""
    drawn = ""
    foot = TOP + HIGH - 8
    for x in (LEFT_X, RIGHT_X):
        coat: list[Point] = [(x + 8, TOP + 8), (x + WIDE - 8, TOP + 8), (x + WIDE - 8, foot)]
        for px, long in ((104.0, 26.0), (66.0, 16.0), (30.0, 22.0)):
            coat += [(x + px + 9, foot), *arc((x + px, foot + long - 8), 9, 9, 0, -180, 8), (x + px - 9, foot)]
        coat += [(x + 8, foot)]
        drawn += path(poly(coat), fill="#ccd3d6", line="none", opacity=0.7) + path(poly(coat), line="#4c5154", width=2.4)
        gleam = poly([(x + 22, 116), (x + 82, 30)], closed=False) + poly([(x + 42, 120), (x + 100, 38)], closed=False)
        drawn += path(gleam, line="#ffffff", width=8, round_ends=True)
    return drawn + label("clear, hard", (160, 232))


LOOKS = {
    "hardly_any": _hardly_any,
    "thin": _thin,
    "thick": _thick,
    "one_face": _one_face,
    "brush_marks": _brush,
    "chalk": _chalky,
    "strings": _rubbery,
    "glass": _glassy,
    "bubbles": _foam,
    "clear": _hard_clear,
}


# Looks that leave no bare wood to be seen.
COVER_ALL = ("chalk", "glass", "bubbles")


def glue_films(rng: Random, *, look: str = "thin") -> str:
    """Two faces opened like a book and the old glue on them; its `look` is one of LOOKS."""
    draw = chosen("look", look, LOOKS)
    return slabs(rng, look not in COVER_ALL) + draw(rng)
