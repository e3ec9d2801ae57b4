"""The flat side of a tenon from above, with what lies on it, and a small window scraped bare."""

from random import Random

from diagnose.documents.plates.canvas import arrow, clip, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, poly, ragged, rect, smooth
from diagnose.documents.plates.stuff import dirt, film_face, hatch, old_glue, powder, shadow
from diagnose.documents.plates.wood import grain, outline, wood

CHEEK = rect(16, 52, 190, 136)
BODY = rect(206, 24, 98, 192)
WINDOW = rect(66, 92, 70, 56)


def _window(rng: Random) -> str:
    return wood(WINDOW, rng, 0, "light", 9) + outline(WINDOW, 2)


def _finish(rng: Random) -> str:
    drawn = film_face(CHEEK) + film_face(BODY) + path(poly(CHEEK) + poly(BODY), width=1.8)
    return drawn + _window(rng) + powder((102, 178), rng, 84, 26, 60) + label("finish", (60, 30), (60, 62))


def _one_glue(rng: Random) -> str:
    return old_glue(CHEEK) + outline(CHEEK, 2) + _window(rng) + label("old glue", (70, 30), (70, 62))


def _two_glues(rng: Random) -> str:
    upper: list[Point] = [(16, 52), *ragged((96, 52), (140, 188), rng, 22, 14), (16, 188)]
    over = path(poly(upper), fill="#fbf3dc", line="none") + hatch(upper, 90, 7, "#b99a55", 1.4) + path(poly(upper), width=2.4)
    drawn = old_glue(CHEEK) + path(poly([(x + 7, y + 4) for x, y in upper]), fill="#7a4608", line="none", opacity=0.5)
    drawn = clip(CHEEK, drawn, over) + outline(CHEEK, 2)
    return drawn + label("newer glue", (70, 34), (60, 66)) + label("older glue", (150, 212), (172, 160))


def _dirt(rng: Random) -> str:
    halves = dirt(rect(16, 52, 95, 136), rng, 2) + dirt(rect(110, 52, 96, 136), rng, 2)
    return halves + outline(CHEEK, 2) + _window(rng) + label("dirt", (70, 34), (70, 62))


def _sparkle(x: float, y: float, size: float) -> str:
    """A star with four points: it shines."""
    inner = size * 0.22
    star = [(x, y - size), (x + inner, y - inner), (x + size, y), (x + inner, y + inner)]
    return path(poly([*star, *[(2 * x - px, 2 * y - py) for px, py in star]]), fill="#ffffff", width=1.2)


def _polished(rng: Random) -> str:
    """The place where the parts have rubbed to and fro: dark, with a sheen."""
    place = [(28.0, 84.0), *ragged((60, 70), (176, 66), rng, 7, 24), (196.0, 84.0), (198.0, 150.0)]
    place += [*ragged((176, 172), (54, 174), rng, 7, 24), (26.0, 156.0)]
    d = smooth(place, closed=True)
    dark = path(d, fill="#7d4e27", line="#3f2411", width=1.8) + clip(d, grain(CHEEK, rng, 0, 12, "#4a2b13"))
    gleam = path(smooth([(40, 98), (110, 90), (186, 98)]), line="#e9c596", width=9, round_ends=True)
    stars = _sparkle(76, 120, 20) + _sparkle(150, 142, 14)
    rub = arrow((46, 206), (176, 206), 3, both=True)
    return dark + gleam + stars + outline(CHEEK, 2) + rub + label("dark, shiny", (80, 34), (70, 74))


STUFFS = {
    "film": _finish,
    "one_glue": _one_glue,
    "second_glue": _two_glues,
    "dirt": _dirt,
    "rubbed": _polished,
}


def joint_face(rng: Random, *, lies: str = "one_glue") -> str:
    """The flat side of a tenon, its part to the right; what `lies` on it is one of STUFFS."""
    draw = chosen("lies", lies, STUFFS)
    drawn = shadow(CHEEK) + shadow(BODY) + wood(CHEEK, rng, 0, "light", 9) + wood(BODY, rng, 0, "mid", 9)
    return drawn + draw(rng)
