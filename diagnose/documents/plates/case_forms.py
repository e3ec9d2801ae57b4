"""Forms that are boxes: cases, chests, beds and frames. One function draws every case from its parameters."""

from dataclasses import dataclass, replace

from diagnose.documents.plates.solids import Mark, Place, Solid, block, flat, front, round_mark, side

Solids = tuple[Solid, ...]
THICK = 3.0


@dataclass(frozen=True)
class Bay:
    """One opening of a case, from its left to its right and from its foot to its top, and what is in it from below to above.

    `fill` says it: drawers, or one drawer taken out (void) or drawn `out` so far; a door shut or open; nothing, with shelves.
    """

    left: float
    right: float
    low: float
    high: float
    fill: tuple[str, ...]
    shelves: tuple[float, ...] = ()
    out: float = 24.0


def _drawer(x: float, z: float, wide: float, high: float, out: float, long: float) -> Solids:
    """A drawer drawn out by so much: its front, two sides, back and bottom."""
    y, wall = -out, high - 2.5
    return (
        block(x + 1, y + 2, z + 1.5, wide - 2, long - 2, 0.6),
        block(x + 1, y + 2, z + 0.5, 1.6, long - 2, wall),
        block(x + 2.6, y + long - 2, z + 0.5, wide - 5.2, 1.6, wall),
        block(x + wide - 2.6, y + 2, z + 0.5, 1.6, long - 2, wall),
        replace(block(x, y, z, wide, 2, high), marks=_knobs(x, y, z, wide, high)),
    )


def _knobs(x: float, y: float, z: float, wide: float, high: float) -> tuple[Mark, ...]:
    places = (0.5,) if wide < 40 else (0.25, 0.75)
    return tuple(front(x + wide * share - 1.2, z + high * 0.42 - 1.2, 2.4, 2.4, y, dark=True) for share in places)


def _framed(x: float, z: float, wide: float, high: float, y: float, rail: float) -> tuple[Mark, ...]:
    """Stiles, rails and a panel on a face that looks at us."""
    inner = front(x + rail, z + rail, wide - 2 * rail, high - 2 * rail, y)
    lines = [((at, y, z + up), (at, y, z + up + rail)) for up in (0.0, high - rail) for at in (x + rail, x + wide - rail)]
    return (inner, *(Mark(line, closed=False) for line in lines))


def _framed_side(y: float, z: float, deep: float, high: float, x: float, rail: float) -> tuple[Mark, ...]:
    """The same on a face that looks to our right."""
    inner = side(y + rail, z + rail, deep - 2 * rail, high - 2 * rail, x)
    lines = [((x, at, z + up), (x, at, z + up + rail)) for up in (0.0, high - rail) for at in (y + rail, y + deep - rail)]
    return (inner, *(Mark(line, closed=False) for line in lines))


def _door(x: float, z: float, wide: float, high: float, is_open: bool, rail: float) -> Solid:
    """A door, shut or swung out by a right angle about its left edge; of stiles, rails and a panel if `rail` is given."""
    if is_open:
        shown = _framed_side(-wide, z, wide, high, x + 2, rail) if rail else ()
        return replace(block(x, -wide, z, 2, wide, high), marks=shown)
    shown = _framed(x, z, wide, high, 0, rail) if rail else ()
    knob = front(x + 2, z + high / 2 - 1.5, 2.4, 2.4, 0, dark=True)
    return replace(block(x, 0, z, wide, 2, high), marks=(*shown, knob))


def _bay(bay: Bay, deep: float, rail: float, slides: bool) -> Solids:
    """What fills one opening; an open or empty one shows its dark inside."""
    wide, high = bay.right - bay.left, bay.high - bay.low
    each = (high - (len(bay.fill) - 1) * THICK * 0.6) / len(bay.fill)
    found: list[Solid] = [block(bay.left, 2, bay.low + high * share - 1, wide, deep - 4, 2) for share in bay.shelves]
    for place, fill in enumerate(bay.fill):
        z = bay.low + place * (each + THICK * 0.6)
        if place:
            found.append(block(bay.left, 0, z - THICK * 0.6, wide, 8, THICK * 0.6))
        if fill == "drawer":
            found.append(replace(block(bay.left, 0, z, wide, 2, each), marks=_knobs(bay.left, 0, z, wide, each)))
        elif fill == "out":
            drawer = _drawer(bay.left, z, wide, each, bay.out, 36)
            metal = side(3 - bay.out, z + each * 0.35, 22, 1.4, bay.right - 1)
            found += [*drawer[:3], replace(drawer[3], marks=(metal,) if slides else ()), drawer[4]]
        elif fill == "void":
            found += [block(x, 1, z, 3, deep - 4, 2) for x in (bay.left, bay.right - 3)]
        elif fill in ("door", "door_open"):
            found.append(_door(bay.left, z, wide, each, fill == "door_open", rail))
    return tuple(found)


def _plinth(wide: float, deep: float, high: float, out: float = 0.0) -> Solids:
    """Boards set on edge round the foot, with their corner at our right."""
    return (
        block(-out, -out, 0, wide + 2 * out, 2, high),
        block(wide + out - 2, 2 - out, 0, 2, deep + out - 2, high),
    )


def _brackets(wide: float, deep: float, high: float) -> Solids:
    """Bracket feet; the back one at our left is hidden."""
    long = 15.0

    def foot(x: float, step: float) -> Solid:
        shape: tuple[Place, ...] = (
            (x, 0, high),
            (x + step * long, 0, high),
            (x + step * (long - 5), 0, high * 0.55),
            (x + step * (long - 8), 0, 0),
            (x, 0, 0),
        )
        return Solid(shape, (0, 2, 0))

    def beside(y: float, step: float) -> Solid:
        shape: tuple[Place, ...] = (
            (wide, y, high),
            (wide, y + step * long, high),
            (wide, y + step * (long - 5), high * 0.55),
            (wide, y + step * (long - 8), 0),
            (wide, y, 0),
        )
        return Solid(shape, (-2, 0, 0))

    behind = replace(block(2, deep - 8, 0, 8, 6, high), hidden=True)
    return (foot(0, 1), foot(wide, -1), beside(0, 1), beside(deep, -1), behind)


def case(
    wide: float,
    deep: float,
    high: float,
    bays: tuple[Bay, ...],
    foot: float = 6.0,
    stands: str = "plinth",
    crown: float = 0.0,
    over: float = 0.0,
    rail: float = 7.0,
    face: float = 0.0,
    side_panel: bool = False,
    cams: bool = False,
    dividers: tuple[float, ...] = (),
) -> Solids:
    """A case by its sizes and its openings.

    `stands` is how it stands on the floor: on a plinth, on bracket feet, on legs or on small feet. `crown` is the height of a
    moulding round the top, `over` how far the top stands out, `face` the width of a frame before the edges, `rail` that of the
    rails of its doors (0: plain boards), `side_panel` a side of frame and panel, `cams` the round fittings of a case made to be
    taken apart, `dividers` the middles of its upright boards.
    """
    tall = high - foot - THICK if over else high - foot
    inside = front(THICK, foot + THICK, wide - 2 * THICK, high - foot - 2 * THICK, deep, dark=True)
    right = _framed_side(0, foot, deep, tall, wide, 8) if side_panel else ()
    fittings = [(x, y) for x in (THICK + 3, wide - THICK - 3) for y in (6, deep - 8)] if cams else []
    under = tuple(round_mark(x, y, foot + THICK, 2.6, dark=True) for x, y in fittings)
    drawn: list[Solid] = [
        replace(block(0, deep, foot, wide, 1.2, tall), marks=(inside,)),
        block(0, 0, foot, THICK, deep, tall),
        replace(block(THICK, 0, foot, wide - 2 * THICK, deep, THICK), marks=under),
        *(block(x - THICK / 2, 0, foot + THICK, THICK, deep, high - foot - 2 * THICK) for x in dividers),
        replace(block(wide - THICK, 0, foot, THICK, deep, tall), marks=right),
    ]
    top = (wide - 2 * THICK, deep) if not over else (wide + 2 * over, deep + over)
    drawn.append(block(THICK if not over else -over, -over, high - THICK, *top, THICK))
    for bay in bays:
        drawn += _bay(bay, deep, rail, cams)
    if face:
        drawn += [block(0, -1.6, foot, face, 1.6, high - foot), block(wide - face, -1.6, foot, face, 1.6, high - foot)]
        drawn += [block(face, -1.6, z, wide - 2 * face, 1.6, face) for z in (foot, high - face)]
    if crown:
        corners = [(-3, -4.6, 2, 2), (wide + 3, -4.6, wide - 2, 2)]
        mitres = tuple(Mark(((a, b, high + crown), (c, d, high + crown)), closed=False) for a, b, c, d in corners)
        drawn.append(replace(block(-3, -4.6, high, wide + 6, deep + 4.6, crown), marks=mitres))
    if stands == "plinth":
        drawn += _plinth(wide, deep, foot, 1.5)
    elif stands == "brackets":
        drawn += _brackets(wide, deep, foot)
    else:
        thick = 5.0 if stands == "legs" else 6.0
        drawn += [block(x, y, 0, thick, thick, foot) for y in (deep - thick - 2, 2.0) for x in (3.0, wide - thick - 3)]
    return tuple(drawn)


def case_of_drawers() -> Solids:
    """A chest of four drawers on bracket feet: the top one taken out, another drawn out."""
    return case(
        92, 46, 84, (Bay(3, 89, 13, 79, ("drawer", "out", "drawer", "void"), out=16),), foot=10, stands="brackets", over=2
    )


def case_with_doors() -> Solids:
    """A cabinet: two doors, one of them open, a face frame, a moulding and a plinth."""
    bays = (Bay(8, 42, 16, 88, ("door_open",), (0.35, 0.68)), Bay(42, 76, 16, 88, ("door",)))
    return case(84, 40, 92, bays, foot=8, crown=4, face=6)


def tall_case_with_doors() -> Solids:
    """A wardrobe: two tall doors, one of them open, a drawer below, a moulding and a plinth."""
    bays = (
        Bay(3, 50, 42, 147, ("door_open",), (0.82,)),
        Bay(50, 97, 42, 147, ("door",)),
        Bay(3, 97, 20, 39, ("out",), out=18),
    )
    found = case(100, 50, 150, bays, foot=8, crown=6, side_panel=True)
    return (*found, block(3, 0, 39, 94, 46, 3), block(3, 0, 11, 94, 2, 9))


def case_on_legs() -> Solids:
    """A sideboard on legs: a door at either end, drawers between them."""
    bays = (
        Bay(3, 38, 25, 65, ("door_open",), (0.5,)),
        Bay(41, 79, 25, 65, ("out", "drawer")),
        Bay(82, 117, 25, 65, ("door",)),
    )
    return case(120, 40, 68, bays, foot=22, stands="legs", dividers=(39.5, 80.5))


def case_of_boards() -> Solids:
    """A cupboard of plain boards with cam fittings: shelves behind an open door, two drawers over a shut door."""
    bays = (
        Bay(3, 43.5, 11, 89, ("door_open",), (0.34, 0.67)),
        Bay(46.5, 87, 11, 53, ("door",)),
        Bay(46.5, 87, 55, 89, ("out", "drawer")),
    )
    found = case(90, 42, 92, bays, foot=8, stands="feet", rail=0, cams=True, dividers=(45,))
    return (*found, block(46.5, 0, 53, 40.5, 40, 2))


def case_of_shelves() -> Solids:
    """A bookcase: open shelves, one of them fixed, a face frame and a plinth."""
    bay = Bay(3, 75, 13, 117, (), (0.25, 0.75))
    found = case(78, 30, 120, (), foot=10, face=4)
    pegs = tuple(block(THICK, y, 13 + 104 * share - 4, 3, 3, 3) for share in bay.shelves for y in (4.0, 20.0))
    return (*found, *_bay(replace(bay, fill=("open",)), 30, 0, False), block(3, 0, 64, 72, 28, 3), *pegs)


def case_with_kneehole() -> Solids:
    """A desk: two cases of drawers with room for the knees between, a top, and on some a flap that lies on two lopers."""
    foot, high = 4.0, 62.0
    top = high
    drawn: list[Solid] = []
    for left, fills in ((0.0, ("out", "drawer", "drawer")), (84.0, ("drawer", "drawer", "drawer"))):
        one = case(36, 50, high, (Bay(3, 33, foot + 3, high - 3, fills),), foot=foot, stands="plinth")
        drawn += [solid.moved(left) for solid in one]
    lines = tuple(Mark(((-3, y, top + 3), (123, y, top + 3)), closed=False) for y in (14, 33))
    upper = [
        block(2, 34, top + 3, 116, 15, 16),
        block(8, 4, top + 3, 3, 30, 3),
        block(109, 4, top + 3, 3, 30, 3),
        replace(block(8, 8, top + 6, 104, 26, 2), marks=(flat(8, 8, 9, 26, top + 8), flat(103, 8, 9, 26, top + 8))),
    ]
    board = replace(block(-3, -3, top, 126, 55, 3), marks=lines)
    return (*drawn, board, *(replace(solid, maybe=True) for solid in upper))


def case_with_lid() -> Solids:
    """A chest with its lid thrown back: dovetailed corners, panels in its front, battens and end pieces on the lid."""
    wide, deep, low, high = 108.0, 50.0, 8.0, 52.0
    tails = tuple(front(wide - 3, z, 3, 4, 0) for z in (14, 24, 34, 44))
    panels = (front(8, 15, 42, 29, 0), front(58, 15, 42, 29, 0))
    rim = high + 1.0
    lid = Solid(((0, deep, rim), (wide, deep, rim), (wide, deep + 9, rim + 44), (0, deep + 9, rim + 44)), (0, 3, 0.6))
    slope = 9 / 44

    def on_lid(x: float, up: float) -> Place:
        return (x, deep + slope * up, rim + up)

    marks = (
        Mark((on_lid(9, 22), on_lid(wide - 9, 22)), closed=False),
        Mark((on_lid(9, 0), on_lid(9, 44)), closed=False),
        Mark((on_lid(wide - 9, 0), on_lid(wide - 9, 44)), closed=False),
    )
    battens = tuple(Solid((on_lid(x, 5), on_lid(x + 6, 5), on_lid(x + 6, 39), on_lid(x, 39)), (0, -2, 0)) for x in (28.0, 74.0))
    hinges = tuple(front(x, rim - 5, 8, 5, deep - THICK) for x in (20.0, 82.0))
    return (
        replace(
            block(0, deep - THICK, low, wide, THICK, high - low),
            marks=(front(3, low + 3, wide - 6, 38, deep - THICK, True), *hinges),
        ),
        block(0, THICK, low, THICK, deep - 2 * THICK, high - low),
        block(wide - THICK, THICK, low, THICK, deep - 2 * THICK, high - low),
        replace(block(0, 0, low, wide, THICK, high - low), marks=(*panels, *tails)),
        *_plinth(wide, deep, low + 3, 1.5),
        replace(lid, marks=marks),
        *battens,
    )


def bed() -> Solids:
    """A bedstead: four posts, boards at head and foot, rails, ledges and slats."""
    wide, long, post = 120.0, 150.0, 8.0
    head = replace(
        block(post, long - 6, 26, wide - 2 * post, 3, 54),
        marks=tuple(front(x, 44, 30, 28, long - 6) for x in (13.0, 45.0, 77.0)),
    )
    return (
        *(block(x, long - post, 0, post, post, 92) for x in (0, wide - post)),
        head,
        *(block(x, post, 28, 3, long - 2 * post, 15) for x in (2.5, wide - 5.5)),
        block(5.5, post + 3, 29, 3, long - 2 * post - 6, 4),
        replace(block(wide - 8.5, post + 3, 29, 3, long - 2 * post - 6, 4), hidden=True),
        *(block(5.5, y, 33, wide - 11, 9, 2) for y in (20, 38, 56, 74, 92, 110, 128)),
        *(block(x, 0, 5, post, post, 47) for x in (0, wide - post)),
        *(block(x + 2, 2, 0, 4, 4, 5) for x in (0, wide - post)),
        block(post, 2.5, 14, wide - 2 * post, 3, 22),
    )


def cot() -> Solids:
    """A bed with bars along its sides, the near ones left out and the far ones dashed, so that every joint can be seen."""
    wide, long, post = 120.0, 150.0, 8.0
    bars = (block(wide - 5, y, 43, 2, 2, 32) for y in range(18, 140, 12))
    rail = block(wide - 5.5, post, 75, 3, long - 2 * post, 4)
    return (*bed(), *(replace(one, hidden=True) for one in (*bars, rail)))


def bunk() -> Solids:
    """A bed with a second one over it, of which only the rails are shown, dashed, and the rungs of the ladder."""
    wide, long, post = 120.0, 150.0, 8.0
    rails = (block(x, post, 74, 3, long - 2 * post, 12) for x in (2.5, wide - 5.5))
    rungs = (block(wide - 5, 24, z, 3, 22, 2) for z in (20, 34, 48, 62))
    return (*bed(), *(replace(one, hidden=True) for one in (*rails, *rungs)))


def slatted_bed() -> Solids:
    """A low bed: four rails round it, legs in the corners, a rail along the middle, and bent slats on the half that is laid."""
    wide, long = 120.0, 150.0
    return (
        block(10, long - 1, 20, wide - 20, 3, 48),
        block(0, long - 3, 16, wide, 3, 17),
        *(block(x, 3, 16, 3, long - 6, 17) for x in (0, wide - 3)),
        *(block(x, y, 0, 7, 7, 30) for y in (long - 10, 3) for x in (3, wide - 10)),
        block(3, 10, 24, 3, long - 20, 4),
        replace(block(wide - 6, 10, 24, 3, long - 20, 4), hidden=True),
        block(wide / 2 - 2.5, 3, 22, 5, long - 6, 6),
        block(wide / 2 - 3, 66, 0, 6, 6, 22),
        *(block(4, y, 28, wide - 8, 8, 2) for y in (82, 97, 112, 127)),
        block(0, 0, 16, wide, 3, 17),
    )


def mirror() -> Solids:
    """A mitred frame with a moulding, its back panel drawn off behind it."""
    wide, high, rail = 84.0, 104.0, 13.0
    glass = front(rail, rail, wide - 2 * rail, high - 2 * rail, 0)
    inner = front(rail - 3, rail - 3, wide - 2 * rail + 6, high - 2 * rail + 6, 0)
    mitres = tuple(
        Mark(((x, 0, z), (a, 0, b)), closed=False)
        for x, z, a, b in (
            (0, 0, rail, rail),
            (wide, 0, wide - rail, rail),
            (0, high, rail, high - rail),
            (wide, high, wide - rail, high - rail),
        )
    )
    sheen = tuple(Mark(((x, 0, 24), (x + 26, 0, 74)), closed=False) for x in (24.0, 30.0))
    lifted = Mark(((wide, 0, 44), (wide - 9, 0, 47), (wide - 10, 0, 56), (wide, 0, 60)), closed=False)
    return (
        block(5, 34, 5, wide - 10, 1.5, high - 10),
        replace(block(0, 0, 0, wide, 4, high), marks=(glass, inner, *mitres, *sheen, lifted)),
    )
