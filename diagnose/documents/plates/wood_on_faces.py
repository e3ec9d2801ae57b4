"""How much torn wood clings to two glued faces that have come apart."""

from random import Random

from diagnose.documents.plates.canvas import label
from diagnose.documents.plates.chosen import within
from diagnose.documents.plates.face_pair import FACES, blob, facing, slabs
from diagnose.documents.plates.stuff import old_glue
from diagnose.documents.plates.wood import outline, torn_face

# Middle of a patch on the left face, half its width and height; those at the beginning come first.
PLACES = ((54, 64, 34, 44), (106, 136, 32, 50), (46, 160, 24, 28), (112, 40, 24, 20), (72, 112, 20, 16), (112, 186, 20, 9))
NEARLY_ALL = 0.8


def _whole(rng: Random) -> str:
    """Torn nearly everywhere, with two islands of glue."""
    drawn = slabs(rng, bare=False) + "".join(torn_face(face, rng, 90, 27, 36) for face in FACES)
    for x, y, _, _ in PLACES[:2]:
        island = blob(x, y, 11, 13, rng)
        drawn += old_glue(island) + old_glue(facing(island))
    return drawn + label("torn wood", (160, 231), (124, 176))


def wood_on_faces(rng: Random, *, share: float = 0.35) -> str:
    """Two faces opened like a book; torn wood covers a `share` of them, 0 to 1, and glue the rest."""
    if within("share", share, 0, 1) >= NEARLY_ALL:
        return _whole(rng)
    drawn = slabs(rng, bare=False) + "".join(old_glue(face) + outline(face, 2) for face in FACES)
    patches = [blob(x, y, rx, ry, rng) for x, y, rx, ry in PLACES[: round(share * len(PLACES))]]
    drawn += "".join(torn_face(patch, rng, 90, 28, 36) + torn_face(facing(patch), rng, 90, 28, 36) for patch in patches)
    return drawn + (label("torn wood", (160, 231), (114, 160)) if patches else label("only glue", (160, 231), (124, 186)))
