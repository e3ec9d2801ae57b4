"""What a text names: a kind of piece, a part of it, a wood, a reading of a sign. The file of a case, the interview and the stories all ask here."""

from difflib import get_close_matches

from diagnose.case.quantity import length_mm
from diagnose.rulebase.entries import Piece, Sign
from diagnose.rulebase.fault import nearest
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.woods import UnknownWood, Wood, find_wood, nearest_woods

# So alike is a word with one letter wrong.
ALIKE = 0.8


def _spoken(name: str) -> str:
    return " ".join(name.lower().replace("_", " ").split())


def _words(name: str) -> set[str]:
    return set(_spoken("".join(letter if letter.isalnum() else " " for letter in name)).split())


def find_piece(knowledge: Knowledge, name: str) -> Piece | None:
    """A kind of piece by its id, its name, or any name it is also called."""
    wanted = _spoken(name)
    for piece in knowledge.pieces.values():
        if wanted in (_spoken(other) for other in (piece.id, piece.name, *piece.also_called)):
            return piece
    return None


def find_part(piece: Piece, name: str) -> str | None:
    """A part of a piece by its id or any name it is also called there."""
    wanted = _spoken(name)
    for part, entry in piece.parts.items():
        if wanted in (_spoken(other) for other in (part, *entry.also_called)):
            return part
    return None


def pieces_like(knowledge: Knowledge, name: str) -> tuple[Piece, ...]:
    """The kinds of piece that a wider word may mean: those of that group, else those with that word in one of their names."""
    wanted = _words(name)
    group = tuple(piece for piece in knowledge.pieces.values() if {piece.group} == wanted)
    return group or tuple(
        piece
        for piece in knowledge.pieces.values()
        if wanted and any(wanted <= _words(other) for other in (piece.id, piece.name, *piece.also_called))
    )


def piece_hint(knowledge: Knowledge, name: str) -> str:
    """What may have been meant by a name that is no kind of piece."""
    like = pieces_like(knowledge, name)
    return nearest(name, knowledge.pieces) if not like else f"one of: {', '.join(piece.id for piece in like)}"


def wood_named(knowledge: Knowledge, name: str) -> Wood | None:
    """A wood by its id or a name that it alone has; a word that several share names none."""
    try:
        return find_wood(knowledge.woods, name)
    except UnknownWood:
        like = woods_like(knowledge, name)
        return like[0] if len(like) == 1 else None


def woods_like(knowledge: Knowledge, name: str) -> tuple[Wood, ...]:
    """The woods with every word of `name` in their names, as "oak" means the oaks."""
    wanted = _words(name)
    return tuple(wood for wood in knowledge.woods.values() if wanted and wanted <= _words(f"{wood.id} {wood.name}"))


def woods_meant(knowledge: Knowledge, name: str) -> tuple[Wood, ...]:
    """The woods that a text may mean besides: with other words in it, as "solid oak", or with a slip, as "mahogony"."""
    known = {word for wood in knowledge.woods.values() for word in _words(f"{wood.id} {wood.name}")}
    said = {near for word in _words(name) for near in get_close_matches(word, sorted(known), 1, ALIKE) if len(word) > 2}
    return woods_like(knowledge, " ".join(said))


def wood_hint(knowledge: Knowledge, name: str) -> str:
    """What may have been meant by a name that is no wood of the rule base."""
    like = [wood.id for wood in woods_like(knowledge, name)] or list(nearest_woods(knowledge.woods, name, 1))
    if not like:
        return nearest(name, knowledge.woods)
    return f"did you mean {like[0]}?" if len(like) == 1 else f"one of: {', '.join(like)}"


def is_figure(sign: Sign, text: str) -> bool:
    """Whether a text can only be meant as a figure of a measured sign."""
    return sign.measure is not None and any(character.isnumeric() for character in text)


def _figure(text: str, unit: str) -> float:
    if unit == "mm":
        return length_mm(text)
    try:
        return float(text.rstrip(" %"))
    except ValueError:
        raise ValueError(f"{text!r} is no figure in {unit}") from None


def parse_reading(sign: Sign, text: str) -> tuple[str, str]:
    """The reading a text names, and the measured text itself ('' when a name was given).

    A measured sign takes a length with its unit, or the name of a reading. Raises ValueError with what is allowed.
    """
    if text in sign.readings:
        return text, ""
    if sign.measure is not None and is_figure(sign, text):
        return sign.reading_of(_figure(text, sign.measure.unit)), text
    figure = f" (or a figure in {sign.measure.unit})" if sign.measure is not None else ""
    raise ValueError(f"{text} is not a reading of {sign.id}; {nearest(text, sign.readings)}{figure}")
