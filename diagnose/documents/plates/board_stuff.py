"""What boards are made of, as their edges show it: chips, felted fibre and plies."""

from random import Random

from diagnose.documents.plates.canvas import INK, clip, path
from diagnose.documents.plates.shapes import Points, bounds, number, poly, rect, turned
from diagnose.documents.plates.wood import OUTLINE, wood

CHIP_GROUND, CHIP_LINE = "#d8bd8f", "#6d4a26"
FELT, FELT_LINE = "#b58d5e", "#6a4a2c"


def chips(shape: Points, rng: Random, size: float = 18.0, outline: bool = True) -> str:
    """Particleboard: splinters of wood of every size and direction, pressed together; the size of the large ones in units."""
    left, top, right, bottom = bounds(shape)
    found = {"#efd9ab": "", "#b98f58": ""}
    y = top + size * 0.3
    while y < bottom + size * 0.3:
        x = left + rng.uniform(-0.5, 0.5) * size
        while x < right + size / 2:
            long, thick = size * rng.uniform(0.45, 0.8), size * rng.uniform(0.14, 0.3)
            chip = turned(rect(x - long, y - thick, 2 * long, 2 * thick), (x, y), rng.gauss(0, 22))
            found[rng.choice(list(found))] += poly(chip)
            x += size * rng.uniform(1.0, 1.7)
        y += size * 0.56
    inner = "".join(path(d, fill=fill, line=CHIP_LINE, width=0.8) for fill, d in found.items())
    edge = path(poly(shape), width=OUTLINE) if outline else ""
    return path(poly(shape), fill=CHIP_GROUND, line="none") + clip(shape, inner) + edge


def felt(shape: Points, rng: Random) -> str:
    """Fibreboard: an even felt of fibre with no grain at all."""
    left, top, right, bottom = bounds(shape)
    count = int((right - left) * (bottom - top) / 75)
    d = "".join(
        f"M{number(rng.uniform(left, right))} {number(rng.uniform(top, bottom))}"
        f"l{number(rng.uniform(-2.5, 2.5))} {number(rng.uniform(-2.5, 2.5))}"
        for _ in range(count)
    )
    return (
        path(poly(shape), fill=FELT, line="none")
        + clip(shape, path(d, line=FELT_LINE, width=0.9))
        + path(poly(shape), width=OUTLINE)
    )


def ply_end(shape: Points, rng: Random) -> str:
    """A ply whose fibres end towards the eye: a dark layer with dots in it."""
    left, top, right, bottom = bounds(shape)
    d, x = "", left + 3
    while x < right:
        d += f"M{number(x)} {number(rng.uniform(top + 3, bottom - 3))}h.1"
        x += rng.uniform(2.5, 5)
    ground = path(poly(shape), fill="#b07f4c", line="none")
    return ground + clip(shape, path(d, line=INK, width=2.2, round_ends=True)) + path(poly(shape), width=OUTLINE)


def plies(x: float, y: float, width: float, height: float, rng: Random, count: int = 5) -> str:
    """The edge of plywood: layers turned against each other, so that long grain and dotted ends take turns."""
    thick = height / count
    layers = [rect(x, y + thick * i, width, thick) for i in range(count)]
    return "".join(ply_end(layer, rng) if i % 2 else wood(layer, rng, 0, "light", 6) for i, layer in enumerate(layers))


def paper_face(shape: Points) -> str:
    """A printed or plastic skin on a board: plain and flat, with a few faint strokes."""
    return path(poly(shape), fill="#efe9dc", width=OUTLINE)
