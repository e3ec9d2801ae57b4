"""Forms that stand on a frame of legs and rails: chairs, stools, benches and tables, each told by the parameters of its frame."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from diagnose.documents.plates.shapes import Point
from diagnose.documents.plates.solids import Mark, Place, Solid, bar, block, flat, profile, round_mark

Solids = tuple[Solid, ...]


@dataclass(frozen=True)
class Frame:
    """Four legs and what joins them: width and depth over the legs, and the thickness of a leg."""

    wide: float
    deep: float
    leg: float

    def legs(self, before: float, behind: float, low: float = 0.0) -> Solids:
        """The legs: the height of the front and of the back ones, and where they begin."""
        far, right = self.deep - self.leg, self.wide - self.leg
        return tuple(
            block(x, y, low, self.leg, self.leg, high - low) for y, high in ((far, behind), (0.0, before)) for x in (0.0, right)
        )

    def across(self, z: float, high: float, thick: float, far: bool = False, maybe: bool = False) -> Solid:
        """A bar between the two front legs, or between the back ones."""
        y = (self.deep - self.leg if far else 0.0) + (self.leg - thick) / 2
        return replace(block(self.leg, y, z, self.wide - 2 * self.leg, thick, high), maybe=maybe)

    def sides(self, z: float, high: float, thick: float, maybe: bool = False) -> Solids:
        """A bar from front to back on either side."""
        x, far = (self.leg - thick) / 2, self.wide - (self.leg + thick) / 2
        return tuple(replace(block(at, self.leg, z, thick, self.deep - 2 * self.leg, high), maybe=maybe) for at in (x, far))

    def ring(self, z: float, high: float, thick: float, maybe: bool = False) -> Solids:
        """Bars all round."""
        return (
            self.across(z, high, thick, True, maybe),
            *self.sides(z, high, thick, maybe),
            self.across(z, high, thick, False, maybe),
        )

    def between(self, y: float, z: float, high: float, thick: float, maybe: bool = False) -> Solid:
        """A bar from the bar of one side to that of the other."""
        x = (self.leg + thick) / 2
        return replace(block(x, y, z, self.wide - 2 * x, thick, high), maybe=maybe)

    def arms(self, z: float, wide: float = 6.0, over: float = 3.0, thick: float = 3.0) -> Solids:
        """An arm on either side, from the back legs to a little before the front ones."""
        x = (self.leg - wide) / 2
        long = self.deep - self.leg + over
        return tuple(block(at, -over, z, wide, long, thick) for at in (x, self.wide - wide - x))

    def posts(self, y: float, low: float, high: float, thick: float) -> Solids:
        """A short post on the bar of either side."""
        x = (self.leg - thick) / 2
        return tuple(block(at, y, low, thick, thick, high - low) for at in (x, self.wide - thick - x))


def _upright(xs: Iterable[float], wide: float, y: float, low: float, high: float, thick: float = 2.0) -> Solids:
    return tuple(block(x - wide / 2, y, low, wide, thick, high - low) for x in xs)


def _even(first: float, last: float, count: int) -> list[float]:
    return [first + (last - first) * i / (count - 1) for i in range(count)]


_CHAIR = Frame(64, 56, 5)


def chair(
    frame: Frame = _CHAIR,
    seat: float = 46.0,
    back: float = 98.0,
    rail: float = 7.0,
    splats: int = 1,
    arms: float = 0.0,
    stretchers: float = 14.0,
    cross: bool = True,
    posts: bool = True,
    before: float = 0.0,
    low: float = 0.0,
) -> Solids:
    """A chair on a frame: the heights of seat, back and arms, how many splats, whether the arms stand on posts of their own."""
    far = frame.deep - frame.leg
    wide = 18.0 if splats == 1 else 7.0
    inner = frame.leg + wide
    drawn = [
        *frame.legs(before or seat, back, low),
        *frame.ring(seat - rail, rail, 3),
        frame.across(back - 9, 8, 3, far=True),
        *_upright([frame.wide / 2] if splats == 1 else _even(inner, frame.wide - inner, splats), wide, far + 1.5, seat, back - 9),
    ]
    if stretchers:
        drawn += frame.sides(stretchers, 4, 3)
    if stretchers and cross:
        drawn.append(frame.between(frame.deep * 0.5, stretchers + 0.5, 3, 3))
    if arms:
        drawn += frame.arms(arms)
    if arms and posts:
        drawn += frame.posts(frame.leg + 5, seat, arms, 4)
    return tuple(drawn)


def _rockers(frame: Frame, thick: float = 4.0) -> Solids:
    """Two bent runners under the legs."""

    def foot(y: float) -> float:
        return 11 * ((y - 0.44 * frame.deep) / frame.deep) ** 2

    ys = _even(-0.42 * frame.deep, 1.38 * frame.deep, 13)
    outline: list[Point] = [*((y, foot(y)) for y in ys), *((y, foot(y) + 5) for y in reversed(ys))]
    return tuple(profile(outline, x + (frame.leg - thick) / 2, thick) for x in (0.0, frame.wide - frame.leg))


def rocking_chair() -> Solids:
    """A chair with arms on two rockers; its front legs go up to the arms."""
    frame = replace(_CHAIR, deep=52)
    sat = chair(frame, splats=3, arms=68, before=68, posts=False, cross=False, stretchers=20, low=6.0)
    return (*sat, *_rockers(frame))


def slat_back_chair() -> Solids:
    """A chair of round posts and rungs, with slats across its back."""
    frame, far = replace(_CHAIR, leg=4.5), True
    return (
        *frame.legs(50, 100),
        *frame.ring(42, 4, 3.4),
        *(frame.across(z, 8 if z == 90 else 7, 1.6, far) for z in (60, 75, 90)),
        *(one for z in (27, 13) for one in frame.sides(z, 3, 3)),
        frame.across(20, 3, 3, far),
        *(frame.across(z, 3, 3) for z in (23, 9)),
    )


def spindle_chair() -> Solids:
    """A chair whose legs and back stand in a thick seat; the ends of the legs show in its top."""
    wide, deep, top = 60.0, 52.0, 46.0
    legs = {(x, y): (wide / 2 + x * 19, 26 + y * 16) for x in (-1, 1) for y in (-1, 1)}

    def low(x: int, y: int, z: float) -> Place:
        """Where a splayed leg is at a height."""
        ax, ay = legs[(x, y)]
        out = (42 - z) / 42
        return ax + x * 7 * out, ay + y * 8 * out, z

    seat = block(2, 0, 42, wide - 4, deep, 4)
    ends = tuple(round_mark(x, y, top, 2.3) for x, y in legs.values())
    posts = tuple(bar((wide / 2 + x * 24, deep - 5, top), (wide / 2 + x * 26, deep, 92), 3.4) for x in (-1, 1))
    sticks = tuple(bar((x, deep - 5, top), (x, deep, 92), 1.6) for x in _even(13, wide - 13, 6))
    return (
        *(bar(low(x, y, 0), low(x, y, 42), 4) for y in (1, -1) for x in (-1, 1)),
        *(bar(low(x, -1, 17), low(x, 1, 17), 3) for x in (-1, 1)),
        bar((low(-1, -1, 17)[0], 26, 17), (low(1, -1, 17)[0], 26, 17), 3),
        replace(seat, marks=ends),
        *posts,
        *sticks,
        block(0, deep - 1.5, 92, wide, 3, 8),
    )


def folding_chair() -> Solids:
    """Two crossed pairs of legs, a seat of slats that hangs between them, and a bar across the back."""
    wide = 52.0

    def strip(a: Point, b: Point, x: float, thick: float = 2.6) -> Solid:
        return bar((x, *a), (x, *b), thick, 5)

    long, short, rail = ((0.0, 0.0), (40.0, 98.0)), ((38.0, 0.0), (-19.0, 43.0)), ((-24.0, 42.0), (19.5, 42.0))
    return (
        *(strip(*short, x) for x in (4.5, wide - 4.5)),
        *(strip(*rail, x) for x in (7.4, wide - 7.4)),
        *(strip(*long, x) for x in (1.5, wide - 1.5)),
        *(block(5, y, 44.6, wide - 10, 4.6, 1.6) for y in _even(-24, 12, 6)),
        block(3, 35.5, 88, wide - 6, 3, 9, lean=(0, 3.6)),
        bar((5.9, 30.4, 6), (wide - 5.9, 30.4, 6), 3),
        bar((2.9, 4.1, 10), (wide - 2.9, 4.1, 10), 3),
    )


def stool(high: float, seat: float, rows: tuple[float, ...]) -> Solids:
    """Four legs with rows of rungs at the heights given; the seat is lifted off."""
    frame = Frame(46, 38, 4.4)
    return (
        *frame.legs(high, high),
        *(one for z in rows for one in frame.ring(z, 3, 3)),
        block(-3, -3, seat, 52, 44, 4),
    )


def _lifted(frame: Frame, z: float, over: float, boards: tuple[float, ...] = (), thick: float = 3.0) -> Solid:
    """A top lifted off its frame, with the lines of its boards (as shares of its depth)."""
    wide, deep = frame.wide + 2 * over, frame.deep + 2 * over
    lines = tuple(
        Mark(((-over, y, z + thick), (wide - over, y, z + thick)), closed=False)
        for y in (deep * share - over for share in boards)
    )
    return replace(block(-over, -over, z, wide, deep, thick), marks=lines)


def table(
    frame: Frame,
    high: float,
    rail: float,
    lift: float,
    low: float = 0.0,
    cross: bool = False,
    maybe: bool = False,
    over: float = 6.0,
) -> Solids:
    """A top on a frame: the height of the legs, of the rails and of the lift, and stretchers at the height `low`."""
    drawn = [*frame.legs(high, high), *frame.ring(high - rail, rail, 3), _lifted(frame, high + lift, over, (0.36, 0.68))]
    if low:
        drawn += frame.sides(low, 4, 3, maybe)
    if cross:
        drawn.append(frame.between(frame.deep / 2, low + 0.5, 3, 3, maybe))
    return tuple(drawn)


def gate_table() -> Solids:
    """A table with a leaf on either side, both up on their gates, and the whole top lifted off."""
    frame = Frame(70, 46, 5)
    high, top = 64.0, 86.0
    gates = [
        one
        for x, swung in ((-0.5, -36.0), (70.5, 36.0))
        for one in (
            *(bar((x, 20, z), (x + swung * 0.94, 13, z), 3, 4) for z in (54, 14)),
            block(x + swung - 2.2, 10, 0, 4.4, 4.4, high),
        )
    ]

    def board(x: float, wide: float, *hinges: float) -> Solid:
        z = top + 3
        line = Mark(((x, 22, z), (x + wide, 22, z)), closed=False)
        leaves = tuple(flat(at - 3, y, 6, 5, z) for at in hinges for y in (6, 35))
        return replace(block(x, -4, top, wide, 54, 3), marks=(line, *leaves))

    return (
        *frame.legs(high, high),
        *frame.ring(high - 11, 11, 3),
        *gates,
        board(-37, 36),
        board(71, 36),
        board(0, 70, -0.5, 70.5),
    )


def pillar_table() -> Solids:
    """A round pillar on three feet, with a block under the lifted top."""
    top = tuple((46 * x, 46 * y, 92.0) for x, y in _ROUND)
    board = tuple(Mark(((-x, y, 95.0), (x, y, 95.0)), closed=False) for x, y in ((43.2, -15.0), (43.2, 15.0)))
    feet = ((-34.0, -16.0), (34.0, -16.0), (6.0, 38.0))
    return (
        *(bar((x * 0.1, y * 0.1, 17), (x, y, 3), 5, 7) for x, y in (feet[2], feet[0], feet[1])),
        block(-4.5, -4.5, 8, 9, 9, 58),
        block(-20, -5, 66, 40, 10, 5),
        replace(Solid(top, (0, 0, 3.0)), marks=board),
    )


_ROUND: tuple[Point, ...] = tuple(
    (x, y)
    for x, y in (
        (1, 0), (0.924, 0.383), (0.707, 0.707), (0.383, 0.924), (0, 1), (-0.383, 0.924), (-0.707, 0.707), (-0.924, 0.383),
        (-1, 0), (-0.924, -0.383), (-0.707, -0.707), (-0.383, -0.924), (0, -1), (0.383, -0.924), (0.707, -0.707), (0.924, -0.383),
    )
)  # fmt: skip


def slide_table() -> Solids:
    """A table drawn apart on its slides, a leaf lying between the halves of the top, all lifted off."""
    frame = Frame(92, 46, 5)
    high, top = 60.0, 84.0
    slides = tuple(block(x, y, high - 4, long, 3, 3) for y in (13, 27) for x, long in ((8.0, 46.0), (40.0, 44.0)))
    halves = tuple(
        replace(block(x, -5, top, 36, 56, 3), marks=(Mark(((x, 23, top + 3), (x + 36, 23, top + 3)), closed=False),))
        for x in (-8, 64)
    )
    leaf = replace(block(33, -5, top, 26, 56, 3), marks=(Mark(((33, 23, top + 3), (59, 23, top + 3)), closed=False),))
    pins = tuple(bar((x, y, top + 1.5), (x + 5, y, top + 1.5), 1.8) for y in (6, 40) for x in (28, 59))
    moved = tuple(slide.moved(0, 3.2) for slide in slides[1::2])
    return (*frame.legs(high, high), *frame.ring(high - 10, 10, 3), *slides[::2], *moved, *halves, leaf, *pins)


def slatted_table() -> Solids:
    """A table for out of doors: slats on battens between two end pieces, lifted off."""
    frame = Frame(96, 48, 5)
    high, top = 60.0, 82.0
    battens = tuple(block(x, 4, high - 4, 5, 40, 3) for x in (20, 45.5, 71))
    slats = tuple(block(0, y, top, 96, 6.6, 2.4) for y in _even(-5, 46.4, 7))
    ends = tuple(block(x, -5, top, 6.5, 58, 2.4) for x in (-7, 96.5))
    return (*frame.legs(high, high), *frame.ring(high - 9, 9, 3), *battens, *frame.sides(15, 5, 3), *slats, *ends)


def _webbing(frame: Frame, z: float, count: int, rows: int) -> Solids:
    """Bands across a seat, from rail to rail."""
    low, high = frame.leg / 2, frame.wide - frame.leg / 2
    along = tuple(block(x - 2, 2, z, 4, frame.deep - 5, 0.3) for x in _even(low + 9, high - 9, count))
    return (*along, *(block(low, y - 2, z + 0.3, high - low, 4, 0.3) for y in _even(14, frame.deep - 14, rows)))


def padded_seat(frame: Frame, middle: bool = False) -> Solids:
    """The bare frame of an upholstered seat: arms on posts, thin rails to tack the cover to, and webbing."""
    seat, arms, back, far = 32.0, 56.0, 84.0, frame.deep - frame.leg
    drawn = [
        *frame.legs(seat, back),
        *frame.ring(seat - 9, 9, 3.4),
        *_webbing(frame, seat, 6 if middle else 4, 3),
        frame.across(back - 8, 8, 3.4, far=True),
        frame.across(seat + 9, 4, 2, far=True),
        *frame.arms(arms, 5.5, 2),
        *frame.posts(2, seat, arms, 4),
    ]
    x = (frame.leg - 2) / 2
    drawn += [block(at, 6, seat + 9, 2, far - 6, 4) for at in (x, frame.wide - 2 - x)]
    if middle:
        centre = frame.wide / 2
        drawn += [block(centre - 1.7, frame.leg, seat - 8, 3.4, frame.deep - 2 * frame.leg, 7)]
        drawn += [block(centre - 2.4, y, 0, 4.8, frame.leg, seat - 9) for y in (far, 0.0)]
    return tuple(drawn)


def slatted_seat(frame: Frame, backs: int, middle: bool = False) -> Solids:
    """A seat for out of doors: slats for seat and back, front legs that go up to broad arms."""
    seat, arms, back, far = 42.0, 66.0, 96.0, frame.deep - frame.leg
    first = frame.leg + (9 if middle else 6)
    drawn = [
        *frame.legs(arms, back),
        *frame.ring(seat - 7, 7, 3),
        *(block(1, y, seat, frame.wide - 2, 4.6, 1.6) for y in _even(frame.leg + 1, far - 6, 5)),
        frame.across(back - 9, 8, 3, far=True),
        *_upright(_even(first, frame.wide - first, backs), 4, far + 2, seat, back - 9, 1.6),
        *frame.arms(arms, 7, 4, 2.6),
        *frame.sides(14, 4, 3),
    ]
    if middle:
        drawn += [block(frame.wide / 2 - 2, 0.5, 0, 4, 4, seat - 7)]
    return tuple(drawn)
