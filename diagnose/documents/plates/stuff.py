"""What is not wood: glue, finish, gap, dirt, metal, shade. Each has a pattern of its own, so that it reads without colour."""

import math
from collections.abc import Callable, Iterable
from random import Random

from diagnose.documents.plates.canvas import INK, PAPER, clip, path
from diagnose.documents.plates.shapes import Point, Points, band, beside, bounds, disc, number, poly

GLUE, GLUE_LINE = "#e3a02f", "#7a4608"
FILM, FILM_LINE = "#b4c6d6", "#46596b"
VOID = "#2a2019"
METAL, METAL_LINE = "#c2cad2", "#3f4952"
SHADE = "#5b4632"


def hatch(shape: Points, angle: float = 60.0, spacing: float = 5.0, colour: str = SHADE, width: float = 0.8) -> str:
    """Even straight lines inside a shape: shade on a side that turns away. Two angles, one over the other, make it darker."""
    left, top, right, bottom = bounds(shape)
    cx, cy = (left + right) / 2, (top + bottom) / 2
    half = math.hypot(right - left, bottom - top) / 2
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    # One broad broken line across: its dashes are the strokes, and the file says them all in a few signs.
    across = poly([(cx - sin * half, cy - cos * half), (cx + sin * half, cy + cos * half)], closed=False)
    dash = f"{number(width)} {number(spacing - width)}"
    return clip(shape, path(across, line=colour, width=round(2 * half), dash=dash))


def shadow(shape: Points, dx: float = 5.0, dy: float = 6.0) -> str:
    """The shadow that a part throws on the sheet; draw it before the part."""
    return path(poly([(x + dx, y + dy) for x, y in shape]), fill="#e3d9c3", line="none")


def void(shape: Points, line: bool = True) -> str:
    """A hole or an open gap: dark."""
    return path(poly(shape), fill=VOID, line=INK if line else "none", width=1)


def old_glue(shape: Points, outline: bool = True) -> str:
    """Old glue lying on a face: amber with a lattice."""
    edge = path(poly(shape), line=GLUE_LINE, width=1.2) if outline else ""
    lines = hatch(shape, 35, 7, GLUE_LINE, 1) + hatch(shape, -35, 7, GLUE_LINE, 1)
    return path(poly(shape), fill=GLUE, line="none") + lines + edge


def glue_line(line: Points, width: float = 8.0) -> str:
    """A glued joint seen at its edge: an amber band with even bars across."""
    bars = path(poly(line, closed=False), line=GLUE_LINE, width=width, dash="0 2.3 1.5 2.2")
    return path(poly(band(line, width)), fill=GLUE, line=GLUE_LINE, width=1.3) + bars


def film(line: Points, width: float = 7.0) -> str:
    """A finish seen at its edge: a bluish film above a line that runs from left to right, with a sheen, and dotted along its skin."""
    edge = [*beside(line, width), *reversed(line)]
    skin, sheen = poly(beside(line, width), closed=False), poly(beside(line, width * 0.55), closed=False)
    return (
        path(poly(edge), fill=FILM, line=FILM_LINE, width=0.8)
        + path(sheen, line="#ffffff", width=1.6)
        + path(skin, line=FILM_LINE, width=2.4, dash="0.1 4.5", round_ends=True)
    )


def film_face(shape: Points) -> str:
    """A finish seen from above: a bluish film with a dotted edge and two slanting strokes of sheen."""
    left, top, right, bottom = bounds(shape)
    w, h = right - left, bottom - top
    strokes = "".join(
        poly([(left + w * s, bottom - h * 0.15), (left + w * s + h * 0.45, top + h * 0.15)], closed=False)
        for s in (0.18, 0.26, 0.62)
    )
    return (
        path(poly(shape), fill=FILM, line="none")
        + clip(shape, path(strokes, line="#ffffff", width=3.2))
        + path(poly(shape), line=FILM_LINE, width=2.6, dash="0.1 5", round_ends=True)
    )


def metal(shape: Points, sheen: Points = ()) -> str:
    """Cool grey with a line of sheen (given as points)."""
    light = path(poly(sheen, closed=False), line="#ffffff", width=2.2, round_ends=True) if sheen else ""
    return path(poly(shape), fill=METAL, line=METAL_LINE, width=1.5) + light


def strewn(
    shape: Points, rng: Random, room: float, mark: Callable[[float, float], str], ground: str, line: str, width: float
) -> str:
    """A shape of one ground with small marks strewn over it by chance, one to so much `room`."""
    left, top, right, bottom = bounds(shape)
    count = int((right - left) * (bottom - top) / room) + 4
    d = "".join(mark(rng.uniform(left, right), rng.uniform(top, bottom)) for _ in range(count))
    return path(poly(shape), fill=ground, line="none") + clip(shape, path(d, line=line, width=width)) + path(poly(shape), width=2)


def _shank(head: Point, tip: Point) -> tuple[float, Callable[[float, float], Point]]:
    """The length from head to tip, and the point so far down it and so far to its side."""
    length = math.hypot(tip[0] - head[0], tip[1] - head[1])
    ux, uy = (tip[0] - head[0]) / length, (tip[1] - head[1]) / length
    return length, lambda down, across: (head[0] + ux * down - uy * across, head[1] + uy * down + ux * across)


def screw(head: Point, tip: Point, width: float = 9.0) -> str:
    """A wood screw from the side: countersunk head, shank, slanting threads, point."""
    length, at = _shank(head, tip)
    h, r = width, width * 0.36
    body = [at(0, h), at(0, -h), at(h * 0.8, -r), at(length - h, -r), at(length, 0), at(length - h, r), at(h * 0.8, r)]
    threads, down = "", h * 2.2
    while down < length - h * 0.4:
        wide = r * 1.5 if down < length - h else r * 0.8
        threads += poly([at(down - 1.6, wide), at(down + 1.6, -wide)], closed=False)
        down += 4.2
    return metal(body, [at(h * 0.9, r * 0.3), at(length - h, r * 0.3)]) + path(threads, line=METAL_LINE, width=1.6)


def nail(head: Point, tip: Point, width: float = 5.0) -> str:
    """A nail from the side: flat head, smooth shank, point."""
    length, at = _shank(head, tip)
    h, r = width, width * 0.4
    body = [
        at(0, h),
        at(0, -h),
        at(2.5, -h),
        at(2.5, -r),
        at(length - h, -r),
        at(length, 0),
        at(length - h, r),
        at(2.5, r),
        at(2.5, h),
    ]
    return metal(body, [at(4, 0), at(length - h, 0)])


def screw_head(centre: Point, radius: float = 9.0, turn: float = 35.0) -> str:
    """The head of a slotted screw from above, its slot turned by `turn` degrees."""
    t = math.radians(turn)
    dx, dy = radius * 0.85 * math.cos(t), -radius * 0.85 * math.sin(t)
    slot = poly([(centre[0] - dx, centre[1] - dy), (centre[0] + dx, centre[1] + dy)], closed=False)
    return path(disc(centre, radius), fill=METAL, line=METAL_LINE, width=1.5) + path(slot, line=METAL_LINE, width=3)


def dirt(shape: Points, rng: Random, dense: float = 1.0) -> str:
    """Dirt or dust lying on or in something: dark specks of uneven size over a brown ground."""
    left, top, right, bottom = bounds(shape)
    count = min(90, int(dense * (right - left) * (bottom - top) / 30) + 6)
    small, large = "", ""
    for _ in range(count):
        x, y = rng.uniform(left, right), rng.uniform(top, bottom)
        if rng.random() < 0.3:
            large += f"M{number(x)} {number(y)}h.1"
        else:
            small += f"M{number(x)} {number(y)}h.1"
    specks = path(small, line="#1d140d", width=2, round_ends=True) + path(large, line="#1d140d", width=3.4, round_ends=True)
    return path(poly(shape), fill="#94795a", line="none") + clip(shape, specks)


def powder(at: Point, rng: Random, width: float = 60.0, height: float = 16.0, count: int = 70) -> str:
    """A small heap of dust or crumbs with its foot at `at`: pale, with fine specks."""
    x, y = at
    heap = [
        (x - width / 2, y),
        (x - width / 4, y - height * 0.6),
        (x, y - height),
        (x + width / 4, y - height * 0.55),
        (x + width / 2, y),
    ]
    d = "".join(
        f"M{number(x + rng.uniform(-0.5, 0.5) * width)} {number(y - height * rng.random() ** 2)}h.1" for _ in range(count)
    )
    return path(poly(heap), fill="#f2dfb6", line="#8a5a2c", width=0.8) + path(d, line="#8a5a2c", width=1.5, round_ends=True)


def scratches(lines: Iterable[tuple[Point, Point]], wide: float = 2.6) -> str:
    """Scratches, each from where it begins to where it runs out: thin dark furrows, widest near their beginning, with a pale lip."""
    furrows, lips = "", ""
    for a, b in lines:
        length = math.hypot(b[0] - a[0], b[1] - a[1])
        nx, ny = -(b[1] - a[1]) / length * wide / 2, (b[0] - a[0]) / length * wide / 2
        x, y = a[0] + (b[0] - a[0]) * 0.3, a[1] + (b[1] - a[1]) * 0.3
        furrows += poly([a, (x - nx, y - ny), b, (x + nx, y + ny)])
        lips += poly([(x + 2 * nx, y + 2 * ny), (b[0] + nx, b[1] + ny)], closed=False)
    return path(lips, line="#fff6df", width=1.2, round_ends=True) + path(furrows, fill="#3f2411", line="none")


def rubbed(shape: Points, rng: Random, angle: float = 0.0) -> str:
    """Wood rubbed bare: pale, with fine broken strokes the way it was rubbed, at `angle` degrees, no two alike."""
    left, top, right, bottom = bounds(shape)
    cx, cy, half = (left + right) / 2, (top + bottom) / 2, math.hypot(right - left, bottom - top) / 2
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    reach = (abs(right - left) * abs(sin) + abs(bottom - top) * abs(cos)) / 2
    strokes, v = "", -reach + 1.5
    while v < reach:
        u = -half + rng.uniform(0, 14)
        while u < half:
            far = u + rng.uniform(6, 26)
            strokes += poly([(cx + s * cos + v * sin, cy - s * sin + v * cos) for s in (u, far)], closed=False)
            u = far + rng.uniform(5, 16)
        v += rng.uniform(2.6, 4.4)
    pale = path(poly(shape), fill="#fffaf0", line="none")
    return pale + clip(shape, path(strokes, line="#8a5a2c", width=1.1)) + path(poly(shape), width=1.6)


def crack(line: Points, widest: float, rng: Random, narrow_end: float = 0.6) -> str:
    """An open crack along a line of points: `widest` where it begins, thin where it ends."""
    count = len(line)
    widths = [widest + (narrow_end - widest) * i / (count - 1) for i in range(count)]
    upper = [p for i, w in enumerate(widths) for p in (beside(line, w / 2 + rng.uniform(-0.25, 0.25) * min(w, 2))[i],)]
    lower = [p for i, w in enumerate(widths) for p in (beside(line, -w / 2 + rng.uniform(-0.25, 0.25) * min(w, 2))[i],)]
    edge = [*upper, *reversed(lower)]
    return path(poly(edge), line=PAPER, width=2.6, opacity=0.6) + path(poly(edge), fill=VOID, line=VOID, width=0.8)
