"""Boards, tables, beds and cases that no longer hold their line, from the front."""

from random import Random

from diagnose.documents.plates.canvas import INK, arrow, label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, Points, band, disc, poly, rect
from diagnose.documents.plates.stuff import crack, metal, shadow, void
from diagnose.documents.plates.wood import end_grain, wood, wood_following


def _hanging(left: Point, right: Point, sag: float) -> list[Point]:
    count = 12
    return [
        (left[0] + (right[0] - left[0]) * i / count, left[1] + sag * 4 * (i / count) * (1 - i / count)) for i in range(count + 1)
    ]


def _straight(a: Point, b: Point) -> str:
    return path(poly([a, b], closed=False), width=2.2, dash="9 5")


def _shelf(rng: Random) -> str:
    course = _hanging((34, 90), (286, 90), 40)
    drawn = wood(rect(14, 30, 20, 196), rng, 90, "dark") + wood(rect(286, 30, 20, 196), rng, 90, "dark")
    drawn += wood_following(band(course, 20), course, rng, 12, "light", 6) + _straight((36, 80), (284, 80))
    books = "".join(wood(rect(90, 204 - 17 * i, 120 + 12 * (i % 2), 16), rng, 0, "grey", 40) for i in range(3))
    return drawn + books + arrow((160, 82), (160, 118), 3) + label("empty", (160, 66)) + label("load off", (250, 196))


def _leg(x: float, rng: Random) -> str:
    return wood(rect(x, 80, 18, 146), rng, 90, "dark", 6)


def _opened(rng: Random) -> str:
    drawn = _leg(34, rng) + _leg(268, rng)
    left, right = [(14.0, 74.0), (158.0, 112.0)], [(162.0, 112.0), (306.0, 74.0)]
    for course in (left, right):
        drawn += wood_following(band([(x, y + 22) for x, y in course], 16), course, rng, 40, "dark", 6)
        drawn += wood_following(band(course, 22), course, rng, 14, "light", 6)
    return drawn + _straight((14, 62), (306, 62)) + arrow((160, 64), (160, 100), 3.4) + ring_round((160, 116), 40, 34)


def _step(rng: Random) -> str:
    drawn = _leg(34, rng) + _leg(268, rng) + wood(rect(30, 120, 260, 18), rng, 0, "dark", 6)
    for x, y in ((14, 70), (112, 94), (210, 70)):
        drawn += shadow(rect(x, y, 96, 24), 2, 3) + wood(rect(x, y, 96, 24), rng, 0, "light", 6)
    drawn += _straight((14, 60), (306, 60))
    return drawn + ring_round((111, 92), 26, 34) + ring_round((209, 92), 26, 34) + label("step", (160, 196), (118, 94))


def _bed(rng: Random, rails: tuple[float, float], slat: Points) -> str:
    """A bed cut across: two side rails as end grain, each with a ledge inside, and a slat between them."""
    drawn = ""
    for x, inside in ((rails[0], 26.0), (rails[1], -22.0)):
        drawn += end_grain(rect(x, 74, 26, 104), rng, (x + 13, 260), "mid", 7, rays=False)
        drawn += end_grain(rect(x + inside, 140, 22, 24), rng, (x + inside + 11, 200), "dark", 5, rays=False)
    return drawn + wood_following(band(slat, 14), slat, rng, 9, "light", 5) + path("M8 226h304", width=3)


def _spread(rng: Random) -> str:
    drawn = _bed(rng, (36, 258), [(81, 133), (239, 133)])
    ghost = "".join(path(poly(rect(x, 74, 26, 104)), width=1.6, dash="6 4") for x in (62, 232))
    return drawn + ghost + arrow((80, 54), (30, 54), 4.2) + arrow((240, 54), (290, 54), 4.2) + label("rails spread", (160, 30))


def _dropped(rng: Random) -> str:
    drawn = _bed(rng, (36, 258), [(62, 133), (226, 214)])
    return drawn + ring_round((236, 176), 34, 56) + arrow((200, 140), (200, 186), 4) + label("slat off ledge", (160, 40))


def _racked(rng: Random) -> str:
    def at(x: float, y: float) -> Point:
        return (x + (222 - y) * 0.24, y)

    def part(x: float, y: float, wide: float, high: float) -> list[Point]:
        return [at(x, y), at(x + wide, y), at(x + wide, y + high), at(x, y + high)]

    drawn = path(poly(rect(40, 26, 190, 196)), width=2, dash="7 5") + void(part(40, 26, 190, 196))
    drawn += wood(part(50, 36, 170, 176), rng, 76, "grey", 14)
    for y in (26, 86, 146, 206):
        drawn += wood(part(40, y, 190, 16), rng, 0, "light", 6)
    drawn += wood(part(40, 26, 15, 196), rng, 76, "mid", 6) + wood(part(215, 26, 15, 196), rng, 76, "mid", 6)
    return drawn + arrow((30, 34), (82, 34), 4.6) + path("M8 224h304", width=3)


def _castor(rng: Random) -> str:
    leg: Points = [(104, 12), (216, 12), (202, 160), (118, 160)]
    drawn = (
        shadow(leg)
        + wood(leg, rng, 90, "light", 9)
        + void(rect(146, 88, 28, 72))
        + metal(rect(152, 94, 16, 74), [(157, 98), (157, 156)])
    )
    drawn += path(disc((160, 202), 26), fill="#5a4a3a", width=2) + path(disc((160, 202), 17), width=1.6, line="#e6c491")
    drawn += metal([(124, 161), (196, 161), (196, 169), (170, 171), (168, 206), (160, 212), (152, 206), (150, 171), (124, 169)])
    drawn += path(disc((160, 202), 4), fill=INK)
    drawn += crack([(174, 150), (188, 112), (184, 76), (194, 28)], 13, rng)
    drawn += crack([(148, 100), (140, 80), (142, 62)], 6, rng)
    return drawn + ring_round((184, 96), 36, 72) + label("socket", (54, 128), (148, 126)) + label("split", (266, 80), (186, 90))


SHOWN = {
    "shelf_set": _shelf,
    "opened_sags": _opened,
    "leaf_step": _step,
    "rails_apart": _spread,
    "slat_off": _dropped,
    "racked_case": _racked,
    "castor": _castor,
}


def out_of_line(rng: Random, *, shown: str = "shelf_set") -> str:
    """A part that hangs, leans, spreads or splits; `shown` is one of SHOWN."""
    return chosen("shown", shown, SHOWN)(rng)
