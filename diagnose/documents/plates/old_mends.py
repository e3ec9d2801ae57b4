"""A leg and its rail from the front, with what an earlier repairer left at their joint."""

from random import Random

from diagnose.documents.plates.canvas import clip, label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, moved, oval, poly, rect, smooth
from diagnose.documents.plates.stuff import GLUE, GLUE_LINE, VOID, crack, glue_line, hatch, metal, nail, screw_head, shadow
from diagnose.documents.plates.wood import TONES, outline, torn_face, wood

LEG, RAIL = rect(44, 10, 66, 220), rect(110, 58, 202, 84)


def _joint(rng: Random, rail: str = "old") -> str:
    drawn = shadow(LEG) + shadow(RAIL)
    drawn += wood(RAIL, rng, 0, "mid" if rail == "old" else "light", 8 if rail == "old" else 18) + wood(LEG, rng, 90, "dark", 8)
    return drawn


def _nails(rng: Random) -> str:
    drawn = _joint(rng)
    for y, tip in ((76.0, 86.0), (124.0, 116.0)):
        drawn += nail((22, y), (60, (y + tip) / 2), 16) + path(
            poly([(60, (y + tip) / 2), (168, tip)], closed=False), width=1.8, dash="5 4"
        )
    return drawn + screw_head((78, 100), 13) + path(smooth([(60, 40), (70, 60), (64, 76)]), width=2)


def _bracket(rng: Random) -> str:
    plate: list[Point] = [(62, 34), (88, 34), (88, 112), (214, 112), (214, 138), (62, 138)]
    drawn = _joint(rng) + metal(plate, [(68, 42), (68, 130)])
    return drawn + "".join(
        screw_head(at, 9, turn) for at, turn in (((75, 50), 20), ((75, 86), 80), ((152, 125), 140), ((194, 125), 60))
    )


def _blob(points: list[Point], fill: str, line: str) -> str:
    return path(smooth(points, closed=True), fill=fill, line=line, width=1.6)


def _filler(rng: Random) -> str:
    lump: list[Point] = [
        (96, 48),
        (116, 44),
        (130, 58),
        (124, 84),
        (132, 108),
        (126, 138),
        (112, 152),
        (96, 144),
        (100, 118),
        (92, 92),
        (98, 70),
    ]
    drawn = _joint(rng) + _blob(lump, "#f3efe6", "#6d6558")
    dots = "".join(
        f"M{x + rng.uniform(-3, 3):.1f} {y + rng.uniform(-3, 3):.1f}h.1" for x in range(100, 124, 7) for y in range(54, 146, 9)
    )
    drawn += path(dots, line="#8d8577", width=1.8, round_ends=True) + crack(
        [(112, 60), (108, 88), (114, 116), (109, 140)], 3, rng
    )
    return drawn + label("smooth, no grain", (220, 184), (120, 116))


def _smears(rng: Random) -> str:
    drawn = _joint(rng) + glue_line([(110, 58), (110, 142)], 9)
    run: list[Point] = [(104, 140), (120, 138), (124, 164), (121, 190), (114, 196), (108, 186), (110, 160)]
    smear: list[Point] = [(112, 70), (150, 76), (186, 88), (190, 104), (150, 112), (116, 118)]
    thumb: list[Point] = [(58, 66), (90, 60), (100, 82), (88, 104), (62, 98)]
    for shape in (smear, thumb, run):
        drawn += _blob(shape, GLUE, GLUE_LINE) + clip(
            smooth(shape, closed=True), hatch(rect(40, 50, 160, 150), 35, 8, GLUE_LINE, 1)
        )
    return drawn + path(smooth([(116, 150), (118, 180)]), line="#ffffff", width=2.4, round_ends=True)


def _patch(rng: Random) -> str:
    diamond: list[Point] = [(150, 100), (196, 78), (248, 100), (196, 122)]
    drawn = _joint(rng) + wood(diamond, rng, 0, "light", 7) + outline(diamond, 2)
    for at in ((77.0, 80.0), (77.0, 120.0)):
        drawn += path(poly(oval(at, 9)), fill=TONES["light"][0], width=1.8) + path(
            poly([(at[0] - 6, at[1]), (at[0] + 6, at[1])], closed=False)
        )
    return drawn + label("fitted patch", (220, 184), (206, 112)) + label("wooden pins", (200, 32), (86, 78))


def _renewed(rng: Random) -> str:
    drawn = _joint(rng, "new") + hatch(LEG, 40, 9)
    dents = "".join(poly(oval((x, y), 4, 2.4, 9)) for x, y in ((58, 40), (92, 60), (66, 170), (96, 196), (56, 210)))
    drawn += path(dents, fill="#6d4221", line="none") + outline(LEG) + outline(RAIL, 2.4)
    return drawn + label("new part", (220, 184), (200, 136)) + label("old part", (180, 32), (100, 26))


# A bar with a slanting break that was once glued.
BREAK: list[Point] = [(112, 82), (136, 100), (160, 116), (186, 136), (208, 158)]


def _bar(rng: Random, left: list[Point], right: list[Point], apart: float) -> str:
    one = [(16.0, 82.0), *left, (16.0, 158.0)]
    other = moved([(304.0 - apart, 82.0), *right, (304.0 - apart, 158.0)], apart)
    return shadow(one) + shadow(other) + wood(one, rng) + wood(other, rng)


def _let_go(rng: Random) -> str:
    drawn = _bar(rng, BREAK, BREAK, 34) + glue_line(moved(BREAK, -4), 10) + glue_line(moved(BREAK, 38), 10)
    return (
        drawn
        + ring_round((177, 120), 84, 62)
        + label("old glue", (62, 208), (150, 116))
        + label("old glue", (258, 40), (188, 108))
    )


def _held(rng: Random) -> str:
    drawn = _bar(rng, BREAK, BREAK, 0) + glue_line(BREAK, 10)
    beside: list[Point] = [(206, 80), (214, 98), (228, 106), (234, 122), (250, 132), (254, 148), (268, 160)]
    gap = [*beside, *reversed(moved(beside, 24))]
    drawn += path(poly(gap), fill=VOID) + torn_face([*beside[:], *reversed(moved(beside, 8))], rng, 20)
    return (
        drawn
        + ring_round((246, 120), 54, 62)
        + label("old glue whole", (78, 208), (158, 116))
        + label("torn wood", (266, 36), (236, 104))
    )


LOOKS = {
    "nails": _nails,
    "angle_iron": _bracket,
    "filler": _filler,
    "smears": _smears,
    "patch": _patch,
    "new_part": _renewed,
    "let_go": _let_go,
    "held": _held,
}


def old_mends(rng: Random, *, left: str = "nails") -> str:
    """What earlier hands `left` at a joint, or what became of their glue in a broken bar: one of LOOKS."""
    return chosen("left", left, LOOKS)(rng)
