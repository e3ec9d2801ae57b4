"""The one place where the guide asks for a drawn plate, and what it shows while a plate does not exist."""

from collections.abc import Iterable
from dataclasses import dataclass

from diagnose.documents import plates
from diagnose.documents.say import first_up, plain
from diagnose.rulebase.entries import Piece
from diagnose.rulebase.knowledge import Knowledge


@dataclass(frozen=True)
class Picture:
    """A plate by its id: words under it, words for who cannot see it, and the drawing, empty while there is none."""

    id: str
    caption: str
    alt: str
    svg: str = ""

    @property
    def path(self) -> str:
        """Where its drawing lies in the guide."""
        return f"plate/{self.id}.svg"


def named_in_signs(knowledge: Knowledge) -> dict[str, tuple[str, str]]:
    """Every plate that a reading names: the sign and the reading, the first of several."""
    found: dict[str, tuple[str, str]] = {}
    for sign in knowledge.signs.values():
        for name, reading in sign.readings.items():
            if reading.plate is not None:
                found.setdefault(reading.plate, (sign.id, name))
    return found


def pictures(knowledge: Knowledge, wanted: Iterable[str] = ()) -> dict[str, Picture]:
    """Every plate that is drawn or named by a reading, or in `wanted`, by id. Raises ValueError for a plate that cannot be drawn."""
    found = {}
    for plate_id in dict.fromkeys((*named_in_signs(knowledge), *knowledge.plates, *wanted)):
        plate = knowledge.plates.get(plate_id)
        if plate is not None:
            found[plate_id] = Picture(plate_id, plate.caption, plate.alt, plates.svg(plate))
        else:
            words = first_up(plain(plate_id.replace("-", "_")))
            found[plate_id] = Picture(plate_id, words, words)
    return found


def piece_picture(piece: Piece) -> Picture | None:
    """The drawn joint map of a kind of piece, or None for one without a body form."""
    if piece.drawing is None:
        return None
    words = f"Drawing of a {piece.name.lower()} with its {len(piece.joints)} joints; the table below names each"
    return Picture(
        f"joint-map-{piece.id.replace('_', '-')}", f"The joints of a {piece.name.lower()}", words, plates.joint_map(piece)
    )
