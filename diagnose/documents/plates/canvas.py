"""The sheet: path, clip, label, arrow and page. Every function returns a piece of SVG as text; the same call gives the same text."""

import html
import math
from hashlib import sha256

from diagnose.documents.plates.shapes import Point, Points, number, poly
from diagnose.documents.plates.tidy import tidied

WIDTH, HEIGHT = 320, 240
INK, PAPER = "#33261b", "#fbf6ea"
# The one loud colour: it says where to look.
LOOK = "#b3261e"
TEXT_SIZE = 16
# The mean width of a letter of a plain sans serif face, as a share of its size; on the wide side.
LETTER = 0.56
EDGE = 3
MOST_WORDS = 3


def path(
    d: str,
    fill: str = "none",
    line: str = INK,
    width: float = 1.2,
    dash: str = "",
    opacity: float = 1.0,
    round_ends: bool = False,
) -> str:
    """A path of SVG; no line where `line` is "none". Unfilled is what the sheet has of itself."""
    text = f'<path d="{d}"'
    if fill != "none":
        text += f' fill="{fill}"'
    if line != "none":
        text += f' stroke="{line}" stroke-width="{number(width)}"'
    if dash:
        text += f' stroke-dasharray="{dash}"'
    if round_ends:
        text += ' stroke-linecap="round"'
    if opacity != 1:
        text += f' opacity="{opacity:g}"'
    return text + "/>"


def clip(shape: Points | str, *inner: str) -> str:
    """What is drawn in `inner`, shown only inside the shape (points, or path data)."""
    d = shape if isinstance(shape, str) else poly(shape)
    name = "c" + sha256(d.encode()).hexdigest()[:8]
    return f'<clipPath id="{name}"><path d="{d}"/></clipPath><g clip-path="url(#{name})">{"".join(inner)}</g>'


def _text(text: str, at: Point, anchor: str) -> str:
    x, y = at
    wide = LETTER * TEXT_SIZE * len(text)
    left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
    if len(text.split()) > MOST_WORDS:
        raise ValueError(f"the label {text!r} has more than {MOST_WORDS} words")
    if left < EDGE or left + wide > WIDTH - EDGE or not TEXT_SIZE <= y <= HEIGHT - EDGE:
        raise ValueError(f"the label {text!r} does not fit on the sheet at {number(x)}, {number(y)}")
    return (
        f'<text x="{number(x)}" y="{number(y)}" text-anchor="{anchor}" fill="{INK}" '
        f'stroke="{PAPER}" stroke-width="3" paint-order="stroke">{html.escape(text)}</text>'
    )


def label(text: str, at: Point, to: Point | None = None, anchor: str = "middle") -> str:
    """At most three short words with their baseline at `at`, and a leader line to the point that they name.

    Raises ValueError for more words, or where the text would leave the sheet.
    """
    words = _text(text, at, anchor)
    if to is None:
        return words
    wide = LETTER * TEXT_SIZE * len(text)
    left = at[0] - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
    # The leader leaves the words where they are nearest to the point.
    start = (min(max(to[0], left), left + wide), at[1] + 4 if to[1] > at[1] else at[1] - TEXT_SIZE + 1)
    if left < to[0] < left + wide:
        start = (to[0] if abs(to[0] - at[0]) < wide / 3 else start[0], start[1])
    dot = f'<circle cx="{number(to[0])}" cy="{number(to[1])}" r="2.2" fill="{INK}" stroke="{PAPER}" stroke-width="0.8"/>'
    halo = path(poly([start, to], closed=False), line=PAPER, width=3, opacity=0.8)
    return halo + path(poly([start, to], closed=False), width=1) + dot + words


def _head(tip: Point, towards: Point, size: float, colour: str) -> str:
    ux, uy = towards
    back = (tip[0] - ux * size, tip[1] - uy * size)
    wings = [tip, (back[0] - uy * size * 0.5, back[1] + ux * size * 0.5), (back[0] + uy * size * 0.5, back[1] - ux * size * 0.5)]
    return path(poly(wings), fill=colour, line="none")


def arrow(a: Point, b: Point, width: float = 2.4, colour: str = INK, both: bool = False) -> str:
    """A straight arrow from `a` to `b` for a movement or a push; heads at both ends if wanted."""
    length = math.hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    size = 4.2 * width
    start = (a[0] + ux * size * 0.8, a[1] + uy * size * 0.8) if both else a
    end = (b[0] - ux * size * 0.8, b[1] - uy * size * 0.8)
    line = poly([start, end], closed=False)
    heads = _head(b, (ux, uy), size, colour) + (_head(a, (-ux, -uy), size, colour) if both else "")
    return path(line, line=PAPER, width=width + 2.5) + path(line, line=colour, width=width) + heads


def turn_arrow(centre: Point, radius: float, start: float, end: float, width: float = 2.4, both: bool = False) -> str:
    """A bent arrow round `centre` from one angle to another, in degrees; 0 points right and 90 points up."""
    count = 14
    angles = [math.radians(start + (end - start) * i / count) for i in range(count + 1)]
    points = [(centre[0] + radius * math.cos(t), centre[1] - radius * math.sin(t)) for t in angles]
    sense = 1 if end > start else -1
    size = 4.2 * width
    line = poly(points[2:-2] if both else points[:-2], closed=False)
    drawn = path(line, line=PAPER, width=width + 2.5) + path(line, width=width)
    for angle, way in ((angles[-1], sense), (angles[0], -sense))[: 2 if both else 1]:
        tip = (centre[0] + radius * math.cos(angle), centre[1] - radius * math.sin(angle))
        drawn += _head(tip, (-math.sin(angle) * way, -math.cos(angle) * way), size, INK)
    return drawn


def dimension(a: Point, b: Point, text: str, away: float = 14.0) -> str:
    """A measure between two points: a line with a short bar at each end, and its words `away` from the middle (below it, if positive)."""
    length = math.hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    nx, ny = -(b[1] - a[1]) / length * 5, (b[0] - a[0]) / length * 5
    bars = "".join(poly([(x - nx, y - ny), (x + nx, y + ny)], closed=False) for x, y in (a, b))
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2 + away + (0 if away < 0 else 4))
    return path(poly([a, b], closed=False) + bars, width=1.4) + label(text, middle)


def ring_round(centre: Point, rx: float, ry: float | None = None) -> str:
    """A broken ring that says: look here."""
    size = f'cx="{number(centre[0])}" cy="{number(centre[1])}" rx="{number(rx)}" ry="{number(rx if ry is None else ry)}"'
    return (
        f'<ellipse {size} stroke="{PAPER}" stroke-width="4.5" opacity=".8"/>'
        f'<ellipse {size} stroke="{LOOK}" stroke-width="2.6" stroke-dasharray="8 4"/>'
    )


def page(title: str, body: str, size: tuple[int, int] = (WIDTH, HEIGHT)) -> str:
    """The whole drawing as a file, with a ground of its own, so that it can be read on a dark screen.

    A page that shows it says in its own words what is there for who cannot see it; the title is for the file alone.
    """
    width, height = size
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 {width} {height}" role="img">'
        f"<title>{html.escape(title, quote=False)}</title>"
        f'<rect width="{width}" height="{height}" rx="6" fill="{PAPER}"/>'
        f'<g fill="none" stroke-linejoin="round" font-family="Arial,sans-serif" font-size="{TEXT_SIZE}">'
        f"{tidied(body)}</g></svg>\n"
    )
