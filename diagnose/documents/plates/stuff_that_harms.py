"""Glass, old mirrors, old paint, grey linings, ivory and crumbling foam: what to know before hands go on the piece."""

from random import Random

from diagnose.documents.plates.canvas import INK, PAPER, arrow, clip, label, path, ring_round
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Points, disc, number, oval, poly, rect, smooth
from diagnose.documents.plates.stuff import hatch, shadow, void
from diagnose.documents.plates.wood import wood

PANE = rect(70, 40, 180, 160)


def _frame(rng: Random) -> str:
    outer = rect(40, 12, 240, 216)
    return shadow(outer) + wood(outer, rng, 90, "dark", 12)


def _glass(rng: Random) -> str:
    pane: Points = [(74, 52), (250, 40), (250, 194), (78, 200)]
    drawn = _frame(rng) + void(PANE) + path(poly(pane), fill="#dcebf0", width=1.6)
    drawn += path("M96 120L150 64M112 134L176 68", line="#ffffff", width=5)
    cracks = "M250 150L196 138L150 164L112 150L78 166M196 138L176 92L186 46M150 164L158 198M196 138L214 196"
    return drawn + path(cracks, width=2.6) + label("crack", (130, 104), (180, 114)) + label("loose", (160, 32), (110, 46))


def _mirror(rng: Random) -> str:
    drawn = _frame(rng) + path(poly(PANE), fill="#aab2b8", width=2)
    drawn += clip(PANE, path("M60 110L150 20M60 150L190 20M150 210L260 100", line="#dfe6ea", width=9))
    stain = [(70, 200), (70, 150), (92, 166), (112, 148), (140, 172), (168, 154), (196, 174), (226, 146), (250, 168), (250, 200)]
    specks = "".join(f"M{number(rng.uniform(76, 244))} {number(rng.uniform(120, 196))}h.1" for _ in range(60))
    drawn += path(smooth(stain) + "Z", fill="#5d646a", line="none") + path(specks, line=INK, width=4, round_ends=True)
    for x in (92, 116, 150, 178, 204, 232):
        drawn += path(disc((x, 203), 7, 6), fill="#f4f7f9", width=1.8)
    return drawn + ring_round((160, 196), 108, 26) + label("beads", (290, 160), (236, 198))


def _paint(rng: Random) -> str:
    """A chip in paint from above: each coat shows as a ring inside the last."""
    board = rect(12, 12, 296, 216)
    drawn = path(poly(board), fill="#d5dccb", width=1.6)
    coats = ("#f7f3e6", "#8c5a4a", "#c9b27a", "#4f6b63")
    for i, fill in enumerate(coats):
        shrink = 1 - 0.17 * i
        edge = [
            (160 + (x - 160) * shrink + rng.uniform(-6, 6), 124 + (y - 124) * shrink + rng.uniform(-5, 5))
            for x, y in oval((160, 124), 128, 92, 14)
        ]
        drawn += path(poly(edge), fill=fill, width=2)
        if i % 2:
            drawn += hatch(edge, 45 if i == 1 else -45, 6, INK, 0.9)
    bare = oval((160, 124), 48, 34, 12)
    return drawn + wood(bare, rng, 0, "light", 7) + label("many coats", (160, 34), (96, 70)) + label("wood", (160, 130))


def _lining(rng: Random) -> str:
    """A lamp in a case with a grey fibrous sheet behind it, one corner of it frayed."""
    sheet: Points = [(70, 30), (290, 30), (290, 172), (252, 180), (240, 192), (70, 192)]
    drawn = wood(rect(12, 12, 296, 216), rng, 0, "mid", 14) + shadow(sheet) + path(poly(sheet), fill="#b7b4ad", width=1.8)
    d = ""
    for _ in range(120):
        x, y = rng.uniform(74, 284), rng.uniform(34, 186)
        d += f"M{number(x)} {number(y)}q{number(rng.uniform(-7, 7))} {number(rng.uniform(-6, 6))} {number(rng.uniform(-13, 13))} {number(rng.uniform(-9, 9))}"
    drawn += clip(sheet, path(d, line="#5f5c56", width=1.3))
    fringe = "".join(
        f"M{number(246 + 4.4 * i)} {number(186 - 1.6 * i)}l{number(rng.uniform(3, 10))} {number(rng.uniform(12, 22))}"
        for i in range(10)
    )
    bulb = path(disc((128, 116), 28), fill="#fffbe0", width=2) + path(poly(rect(116, 142, 24, 62)), fill="#8f979e", width=1.8)
    rays = "M128 78V62M90 116H76M166 116H180M101 89L91 79M155 89L165 79"
    return (
        drawn
        + path(fringe, line="#5f5c56", width=1.6)
        + bulb
        + path(rays, width=2.6)
        + label("grey fibres", (226, 218), (250, 176))
    )


def _ivory(rng: Random) -> str:
    front = rect(12, 12, 296, 216)
    drawn = wood(front, rng, 0, "dark", 12)
    plate: Points = [(62, 60), (84, 84), (84, 150), (62, 178), (40, 150), (40, 84)]
    drawn += path(poly(plate), fill="#fffdf0", width=2) + void(oval((62, 106), 7)) + void(rect(58, 108, 8, 26))
    drawn += shadow(oval((138, 118), 30)) + path(disc((138, 118), 30), fill="#fffdf0", width=2)
    lens = oval((236, 104), 62)
    rays = path("M150 92L206 50M146 146L214 162", line=PAPER, width=2, dash="5 4")
    lines = hatch(lens, 36, 7, "#a89a72", 1.1) + hatch(lens, -36, 7, "#a89a72", 1.1)
    glint = path("M196 96C200 78 212 66 228 62", line="#ffffff", width=7, round_ends=True)
    rim = path(poly(lens), width=10) + path(poly(lens), line="#c2cad2", width=6)
    handle = path("M276 153L300 184", width=14) + path("M276 153L300 184", line="#5a4a3a", width=9)
    drawn += handle + rays + path(poly(lens), fill="#fffdf0", line="none") + lines + glint + rim
    return drawn + label("crossed lines", (200, 204), (220, 140)) + label("pale knob", (112, 44), (136, 92))


def _foam(rng: Random) -> str:
    cover = "M20 92C60 52 260 52 300 92V140C260 120 200 150 160 128C110 104 70 140 20 126Z"
    drawn = wood(rect(20, 176, 280, 26), rng, 0, "mid", 8)
    block = [
        (24, 176),
        (24, 104),
        (90, 80),
        (160, 76),
        (230, 80),
        (296, 104),
        (296, 176),
        (246, 176),
        (230, 148),
        (206, 166),
        (188, 176),
    ]
    drawn += path(poly(block), fill="#e3bd62", width=1.8)
    holes = "".join(
        path(poly(oval((rng.uniform(34, 286), rng.uniform(128, 166)), 5.5, 4.5, 10)), fill="#8a6420", line="none")
        for _ in range(34)
    )
    drawn += (
        clip(block, holes)
        + path(cover, fill="#a4a9b5", width=2)
        + path("M40 92C90 66 230 66 280 92", line=PAPER, width=2, dash="6 4")
    )
    for _ in range(26):
        x, y = rng.uniform(180, 262), rng.uniform(178, 226)
        drawn += path(
            poly([(x + rng.uniform(-7, 7), y - 5), (x + 6, y + rng.uniform(-2, 3)), (x - 5, y + 4)]), fill="#e3bd62", width=1
        )
    return (
        drawn
        + arrow((224, 152), (224, 206), 3.4)
        + label("crumbs fall", (104, 224), (186, 212))
        + label("cover", (160, 40), (160, 76))
    )


KINDS = {"glass": _glass, "mirror": _mirror, "paint": _paint, "lining": _lining, "ivory": _ivory, "foam": _foam}


def stuff_that_harms(rng: Random, *, kind: str = "glass") -> str:
    """One of KINDS, drawn large."""
    return chosen("kind", kind, KINDS)(rng)
