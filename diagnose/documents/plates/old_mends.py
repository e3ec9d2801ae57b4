"""A leg and its rail from the front, with what an earlier repairer left at their joint."""

from random import Random

from diagnose.documents.plates.canvas import PAPER, clip, label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Point, disc, moved, poly, rect, smooth
from diagnose.documents.plates.stuff import GLUE, GLUE_LINE, VOID, crack, glue_line, hatch, metal, scratches, screw_head, shadow
from diagnose.documents.plates.wood import TONES, outline, torn_face, wood

LEG, RAIL = rect(44, 10, 66, 220), rect(110, 58, 202, 84)


def _joint(rng: Random, rail: str = "old") -> str:
    drawn = shadow(LEG) + shadow(RAIL)
    drawn += wood(RAIL, rng, 0, "mid" if rail == "old" else "light", 8 if rail == "old" else 18) + wood(LEG, rng, 90, "dark", 8)
    return drawn


def _nails(rng: Random) -> str:
    drawn = _joint(rng)
    for y, tip in ((74.0, 82.0), (126.0, 118.0)):
        # The head and a little of the shank stand out of the leg; the rest is hidden in the wood.
        drawn += metal(rect(30, y - 4, 14, 8)) + metal(rect(24, y - 11, 6, 22))
        hidden = [(44.0, y - 4), (196.0, tip - 3), (212.0, tip), (196.0, tip + 3), (44.0, y + 4)]
        drawn += path(poly(hidden, closed=False), line=PAPER, width=3, opacity=0.6) + path(
            poly(hidden, closed=False), width=1.6, dash="5 4"
        )
    drawn += crack([(44, 100), (56, 96), (62, 72), (60, 44)], 5, rng)
    return drawn + screw_head((80, 100), 13) + label("nails", (250, 196), (204, 122)) + label("screw", (190, 34), (84, 92))


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
        drawn += path(disc(at, 9), fill=TONES["light"][0], width=1.8) + path(
            poly([(at[0] - 6, at[1]), (at[0] + 6, at[1])], closed=False)
        )
    return drawn + label("fitted patch", (220, 184), (206, 112)) + label("wooden pins", (200, 32), (86, 78))


def _renewed(rng: Random) -> str:
    # The old leg is dark, with bruised edges, dents and scratches that run every way.
    left = [(44.0, 40.0), (47.0, 47.0), (44.0, 56.0), (44.0, 168.0), (48.0, 176.0), (44.0, 188.0)]
    worn = [
        (50.0, 10.0),
        (104.0, 10.0),
        (110.0, 16.0),
        (110.0, 172.0),
        (106.0, 180.0),
        (110.0, 190.0),
        (110.0, 222.0),
        (103.0, 230.0),
    ]
    shape = [*worn, (49.0, 230.0), (44.0, 224.0), *reversed(left), (44.0, 16.0)]
    drawn = shadow(LEG) + shadow(RAIL) + wood(RAIL, rng, 0, "light", 18) + outline(RAIL, 2.4)
    drawn += wood(shape, rng, 90, "dark", 8, outline=False) + path(poly(shape), fill="#2a1a10", line="none", opacity=0.45)
    marks = ((58, 44), (96, 30), (70, 96), (92, 150), (60, 204), (84, 196))
    drawn += path("".join(disc((x, y), 5, 3) for x, y in marks), fill="#24170b", line="#b48a55", width=1) + outline(shape, 2)
    drawn += scratches((((54, 70), (92, 58)), ((100, 108), (64, 132)), ((56, 154), (78, 182)), ((98, 212), (66, 220))), 2.2)
    return drawn + label("new part", (220, 184), (200, 136)) + label("old part", (180, 32), (100, 44))


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
