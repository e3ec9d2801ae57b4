"""What lies over the joints of a seat or a top: a loose seat, a tacked cover, weaving, glass or stone."""

from random import Random

from diagnose.documents.plates.canvas import arrow, clip, label, path
from diagnose.documents.plates.chosen import chosen
from diagnose.documents.plates.shapes import Points, number, poly, rect, smooth
from diagnose.documents.plates.stuff import METAL_LINE, VOID, hatch, shadow
from diagnose.documents.plates.wood import OUTLINE, wood

LEGS = (rect(30, 112, 34, 114), rect(256, 112, 34, 114))
RAIL = rect(64, 118, 192, 48)
CLOTH = "#9aa58f"


def _frame(rng: Random, legs_only: bool = False) -> str:
    drawn = "".join(shadow(leg) + wood(leg, rng, 90, "dark", 8) for leg in LEGS)
    return drawn + ("" if legs_only else wood(RAIL, rng, 0, "mid", 9))


def _cloth(d: str, shape: Points) -> str:
    """Fabric: a greenish ground with a small check."""
    ground = path(d, fill=CLOTH, line="none")
    return ground + clip(d, hatch(shape, 45, 8, "#4d5a45", 1), hatch(shape, -45, 8, "#4d5a45", 1)) + path(d, width=2)


def _drop_in(rng: Random) -> str:
    # The padded seat is lifted out: its own frame shows under the cloth.
    pad = smooth([(66, 74), (72, 48), (120, 36), (200, 36), (248, 48), (254, 74)]) + "Z"
    drawn = _frame(rng) + path(poly(rect(64, 112, 192, 10)), fill=VOID) + wood(rect(70, 72, 180, 14), rng, 0, "light", 6)
    drawn += _cloth(pad, rect(60, 30, 200, 50))
    return drawn + arrow((34, 100), (34, 54), 4) + arrow((286, 100), (286, 54), 4)


def _tacked(rng: Random) -> str:
    cover = smooth([(28, 150), (28, 112), (60, 82), (160, 70), (260, 82), (292, 112), (292, 150)]) + "Z"
    drawn = _frame(rng) + _cloth(cover, rect(20, 60, 280, 100))
    heads = ""
    for x in range(40, 290, 20):
        heads += f'<circle cx="{x}" cy="146" r="5.5" fill="#c2cad2" stroke="{METAL_LINE}" stroke-width="1.5"/>'
    hidden = path(poly([*LEGS[0][:2], (64, 148), (30, 148)]), width=1.6, dash="5 4")
    hidden += path(poly([(256, 112), (290, 112), (290, 148), (256, 148)]), width=1.6, dash="5 4")
    return drawn + hidden + heads + label("tacks", (160, 192), (160, 150))


def _woven(rng: Random) -> str:
    drawn = _frame(rng, legs_only=True)
    rolls = ""
    for i in range(17):
        x = 66 + 11.2 * i
        rolls += poly(rect(x, 108, 11.2, 62))
    drawn += path(rolls, fill="#e3cf93", line="#6b5320", width=1.6)
    strokes = "".join(f"M{number(68 + 11.2 * i)} 128l7 -6M{number(68 + 11.2 * i)} 156l7 -6" for i in range(17))
    # Behind the rail the strands of the seat run towards its middle from all four sides.
    seat: Points = [(66, 108), (254, 108), (226, 58), (94, 58)]
    rows = "".join(poly([(66 + 11.7 * i, 108 - 3.3 * i), (254 - 11.7 * i, 108 - 3.3 * i)], closed=False) for i in range(1, 8))
    rows += "".join(poly([(94 + 8 * i, 58 + 3.3 * i), (226 - 8 * i, 58 + 3.3 * i)], closed=False) for i in range(1, 8))
    for a, b, way in ((66, 94, 1), (254, 226, -1)):
        for i in range(1, 7):
            near, far = (a + way * 13.4 * i, 108 - 3.6 * i), (b + way * 9.4 * i, 58 + 3.6 * i)
            rows += poly([near, far], closed=False)
    drawn += path(poly(seat), fill="#e3cf93", width=2) + path(rows, line="#6b5320", width=1.5)
    drawn += path(strokes, line="#6b5320", width=1.2)
    return drawn + label("wound round rail", (160, 200), (160, 150))


def _plate_over(rng: Random) -> str:
    slab = [(12.0, 96.0), (308.0, 96.0), (308.0, 116.0), (12.0, 116.0)]
    top = [(12.0, 96.0), (52.0, 56.0), (276.0, 56.0), (308.0, 96.0)]
    drawn = (
        _frame(rng) + shadow(slab) + path(poly(top), fill="#e6e8ea", width=OUTLINE) + path(poly(slab), fill="#c9ced3", width=2)
    )
    veins = smooth([(60, 92), (104, 82), (126, 66), (170, 60)]) + smooth([(150, 94), (190, 84), (228, 80), (262, 62)])
    veins += smooth([(104, 82), (150, 80), (190, 84)])
    drawn += clip(top, path(veins, line="#6c747b", width=2.4))
    shine = poly([(96, 112), (104, 100)], closed=False) + poly([(112, 112), (120, 100)], closed=False)
    return drawn + path(shine, line="#ffffff", width=3.4) + label("heavy slab", (160, 36), (190, 74))


COVERS = {"lifts_out": _drop_in, "tacked": _tacked, "woven": _woven, "slab": _plate_over}


def joint_cover(rng: Random, *, cover: str = "lifts_out") -> str:
    """A seat or top from the front, two legs and a rail; `cover` says what lies over the joints: one of COVERS."""
    return chosen("cover", cover, COVERS)(rng)
