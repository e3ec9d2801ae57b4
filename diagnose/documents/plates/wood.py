"""Wood as the plates draw it: grain, end grain, torn fibre, a knot, a squared bar. Each returns SVG as text."""

import math
from itertools import pairwise
from random import Random
from typing import Literal

from diagnose.documents.plates.canvas import INK, clip, path
from diagnose.documents.plates.shapes import Point, Points, beside, bounds, number, oval, poly, rect, smooth

Tone = Literal["light", "mid", "dark", "grey"]
# Face and grain line of each tone. Tones tell two parts apart; what a stuff is, its pattern tells.
TONES: dict[Tone, tuple[str, str]] = {
    "light": ("#f6e3bd", "#b48a55"),
    "mid": ("#e6c491", "#9a6d3c"),
    "dark": ("#c99b69", "#704823"),
    "grey": ("#cbbfac", "#7b6d5b"),
}
FIBRE, FIBRE_LINE = "#fff6df", "#8a5a2c"
OUTLINE = 1.6


def grain(
    shape: Points,
    rng: Random,
    angle: float = 0.0,
    spacing: float = 7.0,
    colour: str = TONES["mid"][1],
    knot: tuple[float, float, float] | None = None,
) -> str:
    """Grain lines inside a shape, rising to the right by `angle` degrees, and flowing round a `knot` (x, y, radius) if there is one."""
    left, top, right, bottom = bounds(shape)
    cx, cy = (left + right) / 2, (top + bottom) / 2
    half = math.hypot(right - left, bottom - top) / 2 + 4
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    # Only as far across the grain as the shape reaches.
    reach = max(abs((x - cx) * sin + (y - cy) * cos) for x, y in shape)
    lines, v = [], -reach + spacing * rng.uniform(0.3, 0.7)
    while v < reach:
        points = []
        count = 9 if knot else 4
        for i in range(count):
            u = -half + 2 * half * i / (count - 1)
            w = v + rng.uniform(-0.11, 0.11) * spacing
            x, y = cx + u * cos + w * sin, cy - u * sin + w * cos
            if knot is not None:
                y = _pushed(x, y, *knot)
            points.append((x, y))
        lines.append(smooth(points, grid=1))
        v += spacing * rng.uniform(0.75, 1.25)
    return clip(shape, path("".join(lines), line=colour, width=1))


def _pushed(x: float, y: float, kx: float, ky: float, radius: float) -> float:
    off, far = y - ky, abs(x - kx) / (2.2 * radius)
    return y + math.copysign(1.25 * radius * math.exp(-far * far) * math.exp(-abs(off) / (1.4 * radius)), off)


def wood(
    shape: Points,
    rng: Random,
    angle: float = 0.0,
    tone: Tone = "mid",
    spacing: float = 7.0,
    knot: tuple[float, float, float] | None = None,
    outline: bool = True,
) -> str:
    """A face of wood with its grain at `angle` degrees (0 along the sheet, 90 upright, positive rising to the right)."""
    face, line = TONES[tone]
    d = poly(shape)
    edge = path(d, width=OUTLINE) if outline else ""
    return path(d, fill=face, line="none") + grain(shape, rng, angle, spacing, line, knot) + edge


def wood_following(shape: Points, course: Points, rng: Random, reach: float, tone: Tone = "mid", spacing: float = 7.0) -> str:
    """A face of wood whose grain follows `course`, drawn to `reach` on either side of it."""
    face, line = TONES[tone]
    lines, off = [], -reach
    while off <= reach:
        lines.append(smooth([(x, y + rng.uniform(-0.6, 0.6)) for x, y in beside(course, off)], grid=1))
        off += spacing * rng.uniform(0.8, 1.2)
    d = poly(shape)
    return path(d, fill=face, line="none") + clip(shape, path("".join(lines), line=line, width=1)) + path(d, width=OUTLINE)


def end_grain(
    shape: Points, rng: Random, heart: Point, tone: Tone = "light", spacing: float = 6.0, rays: bool = True, outline: bool = True
) -> str:
    """The end of a piece: year rings round the `heart` of the stem, which may lie outside it, and fine rays across them."""
    face, line = TONES[tone]
    left, top, right, bottom = bounds(shape)
    corners = [(left, top), (right, top), (left, bottom), (right, bottom)]
    far = max(math.hypot(x - heart[0], y - heart[1]) for x, y in corners)
    inside = left < heart[0] < right and top < heart[1] < bottom
    near = 0.0 if inside else math.hypot(max(left - heart[0], 0, heart[0] - right), max(top - heart[1], 0, heart[1] - bottom))
    rings, radius = [], near + spacing * 0.5
    while radius < far:
        rings.append(f'<circle r="{number(radius)}"/>')
        radius += spacing * rng.uniform(0.85, 1.15)
    drawn = ""
    if rays:
        first = math.atan2((top + bottom) / 2 - heart[1], (left + right) / 2 - heart[0])
        turns = [rng.uniform(0, 2 * math.pi) if inside else first + rng.uniform(-0.9, 0.9) for _ in range(16)]
        ends = [((r0, r0 + spacing * 2.2), t) for t in turns for r0 in (rng.uniform(near, far),)]
        d = "".join(
            poly([(heart[0] + r * math.cos(t), heart[1] + r * math.sin(t)) for r in span], closed=False) for span, t in ends
        )
        drawn = path(d, line=line, width=0.7)
    d = poly(shape)
    place = f"translate({number(heart[0])} {number(heart[1])})"
    years = f'<g transform="{place}" stroke="{line}" stroke-width="1.3">{"".join(rings)}</g>'
    return path(d, fill=face, line="none") + clip(shape, years, drawn) + (path(d, width=OUTLINE) if outline else "")


def torn(line: Points, rng: Random, length: float = 10.0, angle: float = 0.0, spread: float = 12.0, step: float = 3.0) -> str:
    """Torn fibre: pale spikes that stand off a line of points towards `angle` degrees (0 right, 90 up)."""
    d = ""
    for (ax, ay), (bx, by) in pairwise(line):
        far = math.hypot(bx - ax, by - ay)
        count = max(1, round(far / step))
        for i in range(count):
            share = (i + rng.uniform(0.2, 0.8)) / count
            x, y = ax + (bx - ax) * share, ay + (by - ay) * share
            t = math.radians(angle + rng.uniform(-spread, spread))
            long = length * rng.uniform(0.35, 1.0)
            wx, wy = 1.3 * math.sin(t), 1.3 * math.cos(t)
            d += poly([(x - wx, y - wy), (x + long * math.cos(t), y - long * math.sin(t)), (x + wx, y + wy)])
    return path(d, fill=FIBRE, line=FIBRE_LINE, width=0.7)


def torn_face(shape: Points, rng: Random, angle: float = 0.0, step: float = 9.0, length: float = 12.0) -> str:
    """A face where wood has been torn off: pale ground with short fibres lying over it, all towards `angle` degrees."""
    left, top, right, bottom = bounds(shape)
    rows = []
    y = top + 2
    while y < bottom + step:
        x = left - rng.uniform(0, step)
        while x < right:
            t = math.radians(angle + rng.uniform(-14, 14))
            long = length * rng.uniform(0.5, 1.0)
            rows.append(poly([(x, y - 1.6), (x + long * math.cos(t), y - long * math.sin(t)), (x, y + 1.6)]))
            x += step * rng.uniform(0.7, 1.3)
        y += step * 0.55
    d = poly(shape)
    fibres = path("".join(rows), fill=FIBRE, line=FIBRE_LINE, width=0.7)
    return path(d, fill="#edd09c", line="none") + clip(shape, fibres) + path(d, width=OUTLINE)


def knot(centre: Point, radius: float, rng: Random) -> str:
    """A knot in a face: dark rings, slightly out of round. Give the same knot to the grain, so that it flows round it."""
    drawn = ""
    for share, fill in ((1.0, "#a8713d"), (0.72, "#8d5a2e"), (0.42, "#6d4221")):
        points = [
            (x + rng.uniform(-0.5, 0.5), y + rng.uniform(-0.5, 0.5))
            for x, y in oval(centre, radius * share, radius * share * 0.8, 12)
        ]
        drawn += path(smooth(points, closed=True), fill=fill, line="#4a2c14", width=1.1)
    return drawn


def bar(
    x: float,
    y: float,
    width: float,
    height: float,
    rng: Random,
    back: Point = (20.0, -13.0),
    tone: Tone = "mid",
    angle: float = 0.0,
    end: bool = True,
) -> str:
    """A squared bar seen a little from above and from the right: front face, top face, and its right end as end grain.

    `x`, `y` is the top left corner of the front face; `back` says how far the rear edge lies to the right and up.
    """
    bx, by = back
    top = [(x, y), (x + width, y), (x + width + bx, y + by), (x + bx, y + by)]
    side = [(x + width, y), (x + width + bx, y + by), (x + width + bx, y + by + height), (x + width, y + height)]
    lying = math.degrees(math.atan2(-by, bx)) if angle == 90 else 0.0
    drawn = wood(top, rng, lying, "light" if tone != "grey" else "grey", 6)
    ends = end_grain(side, rng, (x + width + bx * 0.3, y + height * 1.7), tone, 5, rays=False) if end else path(poly(side))
    return drawn + ends + wood(rect(x, y, width, height), rng, angle, tone)


def outline(shape: Points, width: float = OUTLINE) -> str:
    """Only the edge of a shape."""
    return path(poly(shape), line=INK, width=width)
