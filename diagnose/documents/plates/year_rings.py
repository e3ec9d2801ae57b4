"""The end of a part as the lens shows it: how wide the rings are, how they stand, and where the heart lies."""

import math
from random import Random

from diagnose.documents.plates.canvas import INK, clip, dimension, label, path
from diagnose.documents.plates.chosen import chosen, within
from diagnose.documents.plates.shapes import Point, Points, bounds, disc, number, poly, rect
from diagnose.documents.plates.slab import face_behind, lying_back
from diagnose.documents.plates.stuff import shadow
from diagnose.documents.plates.wood import OUTLINE, TONES, wood

# Form of the piece: its end (left, top, width, height) and how its face runs back.
FORMS: dict[str, tuple[tuple[float, float, float, float], Point]] = {
    "squared": ((22, 56, 222, 132), (54, -40)),
    "flat": ((14, 122, 252, 62), (42, -88)),
}
# Where the heart of the stem lies, as shares of the width and height of the end.
HEARTS: dict[str, Point] = {"far": (0.16, 2.9), "inside": (0.5, 0.5), "below": (0.5, 2.4), "beside": (-4.2, 0.5)}
GROUND, LINE = TONES["light"][0], "#80532a"


def _dashes(radius: float, filled: float, gap: float) -> str:
    return f' stroke-dasharray="{filled:g} {number(gap)}" stroke-linecap="round"' if radius > 0 else ""


def _ring(heart: Point, radius: float, wide: float, extra: str = "", colour: str = LINE, opacity: float = 1.0) -> str:
    size = f'cx="{number(heart[0])}" cy="{number(heart[1])}" r="{number(radius)}"'
    faint = f' opacity="{opacity:g}"' if opacity != 1 else ""
    return f'<circle {size} stroke="{colour}" stroke-width="{number(wide)}"{extra}{faint}/>'


def _plain(heart: Point, radius: float, spacing: float) -> str:
    return _ring(heart, radius, 1.8)


def _pored(heart: Point, radius: float, spacing: float) -> str:
    """A ring of open pores: a row of holes at its beginning."""
    return _ring(heart, radius, 3.4, _dashes(radius, 0.1, 5.4), "#3d2614")


def _banded(heart: Point, radius: float, spacing: float) -> str:
    """A wide ring of softwood: it darkens slowly and ends sharply."""
    shares = ((0.42, 0.16, 0.3), (0.3, 0.14, 0.55), (0.14, 0.16, 1.0))
    return "".join(_ring(heart, radius - spacing * off, spacing * w, "", "#a8713d", dark) for off, w, dark in shares)


MARKS = {"plain": _plain, "pored": _pored, "banded": _banded}


def _rings(end: Points, heart: Point, spacing: float, mark: str, rng: Random) -> str:
    left, top, right, bottom = bounds(end)
    corners = [(x, y) for x in (left, right) for y in (top, bottom)]
    far = max(math.hypot(x - heart[0], y - heart[1]) for x, y in corners)
    gap_x, gap_y = max(left - heart[0], 0, heart[0] - right), max(top - heart[1], 0, heart[1] - bottom)
    draw = chosen("mark", mark, MARKS)
    found, radius = [], math.hypot(gap_x, gap_y) + spacing * 0.7
    while radius < far + spacing:
        found.append(draw(heart, radius, spacing))
        radius += spacing * rng.uniform(0.93, 1.07)
    return path(poly(end), fill=GROUND, line="none") + clip(end, *found) + path(poly(end), width=OUTLINE)


def year_rings(
    rng: Random, *, form: str = "squared", heart: str = "far", spacing: float = 20.0, mark: str = "plain", scale: bool = False
) -> str:
    """The end of a part with its year rings.

    `form`: squared or flat (FORMS); `heart`: where the rings have their centre (HEARTS); `spacing` of the rings, 4 to 80 units, of which 80 are
    10 mm; `mark`: how a ring is drawn (MARKS); `scale`: a measure of 10 mm below.
    """
    (x, y, width, height), back = chosen("form", form, FORMS)
    across, down = chosen("heart", heart, HEARTS)
    at = (x + width * across, y + height * down)
    end = rect(x, y, width, height)
    angle = lying_back(back)
    drawn = shadow(end) + wood(face_behind([(x, y), (x + width, y)], back), rng, angle, "mid", 10)
    drawn += wood(face_behind([(x + width, y + height), (x + width, y)], back), rng, angle, "dark", 10)
    drawn += _rings(end, at, within("spacing", spacing, 4, 80), mark, rng)
    if heart == "inside":
        drawn += path(disc(at, 5.5), fill=INK) + label("heart", (x + width * 0.5, y - 22), at)
    return drawn + (dimension((x, y + height + 17), (x + 80, y + height + 17), "10 mm", 15) if scale else "")
