"""Case files: read with every fault at its place, written whole or not at all."""

import os
import tempfile
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any

import yaml

from diagnose import words
from diagnose.case.case import SCHEMA, Answer, Case, Damage
from diagnose.case.quantity import length_mm
from diagnose.rulebase.entries import Piece, Sign
from diagnose.rulebase.fault import Fault, FaultsFound, Mark, nearest
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.located import Located, read_located
from diagnose.rulebase.located import Path as Place

TOP = ("schema", "number", "taken_in", "owner", "owner_says", "piece", "joints", "readings", "damages")
PIECE = ("kind", "called", "wood", "value", "value_by", "count")
DAMAGE = ("id", "damage", "part", "joint", "says", "found_by", "repaired", "facts", "sizes", "readings")
MOST_PIECES = 200
LARGEST_MM = 4000.0
ANSWER = ("reads", "by", "unsure")
STATED = {
    "joint": words.JOINT_KINDS,
    "carries": words.CARRIES,
    "consequence": words.CONSEQUENCES,
    "moving_joints": words.COUNT_WORDS,
    "our_term": words.OUR_TERM,
}
YES, NO = ("yes", "true"), ("no", "false")
LARGEST = 1e9


def _is_figure(sign: Sign, text: str) -> bool:
    return sign.measure is not None and any(character.isnumeric() for character in text)


def parse_reading(sign: Sign, text: str) -> tuple[str, str]:
    """The reading a text names, and the measured text itself ('' when a name was given).

    A measured sign takes a length with its unit, or the name of a reading. Raises ValueError with what is allowed.
    """
    if text in sign.readings:
        return text, ""
    if sign.measure is not None and _is_figure(sign, text):
        try:
            value = length_mm(text) if sign.measure.unit == "mm" else float(text.rstrip(" %"))
        except ValueError as error:
            raise ValueError(f"{text!r} is no figure for {sign.id}: {error}") from None
        return sign.reading_of(value), text
    figure = f" (or a figure in {sign.measure.unit})" if sign.measure is not None else ""
    raise ValueError(f"{text} is not a reading of {sign.id}; {nearest(text, sign.readings)}{figure}")


def find_piece(knowledge: Knowledge, name: str) -> Piece | None:
    """A kind of piece by its id, its name, or any name it is also called."""
    wanted = name.strip().lower().replace("_", " ")
    for piece in knowledge.pieces.values():
        names = [piece.id.replace("_", " "), piece.name, *piece.also_called]
        if wanted in (other.lower() for other in names):
            return piece
    return None


class _Reader:
    """Reads one document; collects faults instead of stopping at the first."""

    def __init__(self, knowledge: Knowledge, document: Located) -> None:
        self.knowledge = knowledge
        self.document = document
        self.faults: list[Fault] = []

    def fault(self, place: Place, code: str, message: str, hint: str = "", key: bool = False) -> None:
        mark = self.document.key_mark(place) if key else self.document.mark(place)
        self.faults.append(Fault(mark, code, message, hint))

    def mapping(self, value: Any, place: Place, allowed: tuple[str, ...] = ()) -> dict[str, Any]:
        if value is None:
            return {}
        if not isinstance(value, dict):
            self.fault(place, "form", f"{place[-1] if place else 'the case'} is a mapping of names and values")
            return {}
        for key in value:
            if allowed and key not in allowed:
                self.fault((*place, key), "unknown-key", f"{key} is not known here", nearest(key, allowed), key=True)
        return value

    def text(self, value: Any, place: Place) -> str:
        if value is None:
            return ""
        if isinstance(value, str):
            return value
        self.fault(place, "form", f"{place[-1]} needs a text")
        return ""

    def one_of(self, value: Any, place: Place, known: Any, what: str) -> str | None:
        word = self.text(value, place)
        if not word:
            return None
        if word not in known:
            self.fault(place, "unknown", f"{word} is not {what}", nearest(word, known))
            return None
        return word

    def number(self, value: Any, place: Place, above: float) -> float | None:
        word = self.text(value, place)
        if not word:
            return None
        try:
            number = float(word)
        except ValueError:
            self.fault(place, "form", f"{word!r} is not a number")
            return None
        if not above < number < LARGEST:
            self.fault(place, "out-of-range", f"{place[-1]} {word} must be above {above:g} and below {LARGEST:,.0f}")
            return None
        return number

    def day(self, value: Any, place: Place) -> date | None:
        word = self.text(value, place)
        if not word:
            return None
        try:
            return date.fromisoformat(word)
        except ValueError:
            self.fault(place, "form", f"{word!r} is not a date", "write it as 2026-03-02")
            return None

    def count(self, value: Any, place: Place) -> int:
        word = self.text(value, place)
        if not word:
            return 1
        if not word.isdecimal() or len(word) > 4 or not 1 <= int(word) <= MOST_PIECES:
            self.fault(place, "out-of-range", f"{place[-1]} {word} must be a whole number from 1 to {MOST_PIECES}")
            return 1
        return int(word)

    def answer(self, sign: Sign, value: Any, place: Place) -> Answer | None:
        by, unsure, reads_place, reads = "seen", False, place, value
        if isinstance(value, dict):
            entry = self.mapping(value, place, ANSWER)
            reads_place, reads = (*place, "reads"), entry.get("reads")
            by = self.one_of(entry.get("by", "seen"), (*place, "by"), words.SPEAKERS, "who can say so") or "seen"
            unsure = self.one_of(entry.get("unsure"), (*place, "unsure"), (*YES, *NO), "yes or no") in YES
        if reads == words.CANNOT_TELL:
            return Answer((), by, unsure, cannot_tell=True)
        if sign.kind == "tick_all":
            return self.ticked(sign, reads, reads_place, by, unsure)
        if not isinstance(reads, str):
            self.fault(reads_place, "form", f"{sign.id} needs one reading", nearest("", sign.readings))
            return None
        try:
            reading, measured = parse_reading(sign, reads)
        except ValueError as error:
            self.fault(reads_place, "out-of-range" if _is_figure(sign, reads) else "unknown-reading", str(error))
            return None
        return Answer((reading,), by, unsure, measured=measured)

    def ticked(self, sign: Sign, reads: Any, place: Place, by: str, unsure: bool) -> Answer | None:
        if reads is None:
            self.fault(place, "form", f"{sign.id} needs its readings, or none", nearest("", sign.readings))
            return None
        listed = reads if isinstance(reads, list) else [] if reads == "none" else [reads]
        for index, word in enumerate(listed):
            if not isinstance(word, str) or word not in sign.readings:
                where = (*place, index) if isinstance(reads, list) else place
                hint = nearest(str(word), sign.readings)
                self.fault(where, "unknown-reading", f"{word} is not a reading of {sign.id}", hint)
                return None
        return Answer(tuple(name for name in sign.readings if name in listed), by, unsure)

    def readings(self, value: Any, place: Place, of: str) -> dict[str, Answer]:
        found = {}
        for name, entry in self.mapping(value, place).items():
            sign = self.knowledge.signs.get(name)
            if sign is None:
                hint = nearest(name, self.knowledge.signs)
                self.fault((*place, name), "unknown-sign", f"{name} is not a sign", hint, key=True)
            elif sign.computed is not None:
                self.fault((*place, name), "computed", f"{name} is worked out, not answered", "leave it out", key=True)
            elif sign.of != of:
                hint = "it stands under readings of the " + sign.of
                self.fault((*place, name), "misplaced", f"{name} is a sign of the {sign.of}", hint, key=True)
            else:
                answer = self.answer(sign, entry, (*place, name))
                if answer is not None:
                    found[name] = answer
        return found

    def joints(self, value: Any, piece: Piece) -> dict[str, str]:
        found: dict[str, str] = {}
        known = {joint.id for joint in piece.joints}
        entries = self.mapping(value, ("joints",))
        everywhere = entries.get("all")
        if everywhere is not None:
            state = self.one_of(everywhere, ("joints", "all"), words.JOINT_STATES, "a state of a joint")
            found = dict.fromkeys((joint.id for joint in piece.joints), state) if state else {}
        for name, entry in entries.items():
            if name == "all":
                continue
            if name not in known:
                hint = nearest(name, known)
                message = f"a {piece.name.lower()} has no joint {name}"
                self.fault(("joints", name), "unknown-joint", message, hint, key=True)
                continue
            state = self.one_of(entry, ("joints", name), words.JOINT_STATES, "a state of a joint")
            if state:
                found[name] = state
        return found

    def damage(self, value: Any, index: int, piece: Piece) -> Damage | None:
        place: Place = ("damages", index)
        entry = self.mapping(value, place, DAMAGE)
        kind = self.one_of(entry.get("damage"), (*place, "damage"), words.DAMAGES, "a kind of damage")
        if kind is None:
            if not entry.get("damage"):
                self.fault(place, "missing", "a damage needs its kind", f"damage: one of {', '.join(words.DAMAGES)}")
            return None
        part = self.one_of(entry.get("part"), (*place, "part"), piece.parts, f"a part of a {piece.name.lower()}")
        joints = [joint.id for joint in piece.joints]
        joint = self.one_of(entry.get("joint"), (*place, "joint"), joints, f"a joint of a {piece.name.lower()}")
        facts = self.mapping(entry.get("facts"), (*place, "facts"), tuple(STATED))
        stated = {
            key: word
            for key, text in facts.items()
            if key in STATED and (word := self.one_of(text, (*place, "facts", key), STATED[key], f"a value of {key}"))
        }
        found_by = self.one_of(entry.get("found_by", "owner"), (*place, "found_by"), ("owner", "us"), "who found it")
        return Damage(
            id=self.text(entry.get("id"), (*place, "id")) or f"damage_{index + 1}",
            kind=kind,
            part=part,
            joint=joint,
            says=self.text(entry.get("says"), (*place, "says")),
            found_by=found_by or "owner",
            repaired=self.day(entry.get("repaired"), (*place, "repaired")),
            facts=stated,
            sizes=dict(self.sizes(entry.get("sizes"), (*place, "sizes"))),
            readings=self.readings(entry.get("readings"), (*place, "readings"), "damage"),
        )

    def sizes(self, value: Any, place: Place) -> Iterator[tuple[str, float]]:
        known = (*words.PART_SIZES, *words.JOINT_SIZES)
        for name, text in self.mapping(value, place, known).items():
            try:
                size = length_mm(self.text(text, (*place, name)))
            except ValueError as error:
                self.fault((*place, name), "quantity", str(error))
                continue
            if not 0 < size <= LARGEST_MM:
                self.fault((*place, name), "out-of-range", f"{name} {size:g} mm is outside 0 to {LARGEST_MM:g} mm")
                continue
            yield name, size

    def case(self) -> Case | None:
        top = self.mapping(self.document.data, (), TOP)
        schema = self.text(top.get("schema", "1"), ("schema",))
        if schema != str(SCHEMA):
            newer = schema.isdecimal() and int(schema) > SCHEMA
            hint = "bring the program up to date" if newer else f"this program writes schema {SCHEMA}"
            self.fault(("schema",), "schema", f"the case has schema {schema}, this program reads {SCHEMA}", hint)
            return None
        about = self.mapping(top.get("piece"), ("piece",), PIECE)
        name = self.text(about.get("kind"), ("piece", "kind"))
        piece = find_piece(self.knowledge, name) if name else None
        if piece is None:
            message = f"{name} is not a kind of piece" if name else "the case does not say what piece it is"
            self.fault(("piece", "kind"), "unknown-piece", message, nearest(name, self.knowledge.pieces))
            return None
        wood = self.one_of(about.get("wood"), ("piece", "wood"), self.knowledge.woods, "a wood of the rule base")
        listed = top.get("damages")
        if listed is not None and not isinstance(listed, list):
            self.fault(("damages",), "form", "damages is a list", "start each with - id")
            listed = []
        damages = [self.damage(entry, index, piece) for index, entry in enumerate(listed or [])]
        taken_in = self.day(top.get("taken_in"), ("taken_in",))
        for index, damage in enumerate(damages):
            if damage is not None and damage.repaired is not None and taken_in is not None and damage.repaired > taken_in:
                message = f"the repair of {damage.repaired} lies after the day it was taken in, {taken_in}"
                self.fault(("damages", index, "repaired"), "order-of-days", message, "one of the two days is wrong")
        seen: set[str] = set()
        for index, damage in enumerate(damages):
            if damage is not None and damage.id in seen:
                self.fault(("damages", index), "duplicate", f"two damages are called {damage.id}")
            if damage is not None:
                seen.add(damage.id)
        return Case(
            piece=piece.id,
            number=self.text(top.get("number"), ("number",)),
            taken_in=taken_in,
            owner=self.text(top.get("owner"), ("owner",)),
            owner_says=self.text(top.get("owner_says"), ("owner_says",)),
            called=self.text(about.get("called"), ("piece", "called")),
            wood=wood,
            value=self.number(about.get("value"), ("piece", "value"), 0.0),
            value_by=self.text(about.get("value_by"), ("piece", "value_by")) or "owner",
            count=self.count(about.get("count"), ("piece", "count")),
            joints=self.joints(top.get("joints"), piece),
            readings=self.readings(top.get("readings"), ("readings",), "piece"),
            damages=tuple(damage for damage in damages if damage is not None),
        )


def case_from_text(text: str, file: str, knowledge: Knowledge) -> Case:
    """A case from the text of a file. Raises FaultsFound with every fault, each at its place."""
    reader = _Reader(knowledge, read_located(text, file))
    case = reader.case()
    if reader.faults or case is None:
        raise FaultsFound(reader.faults)
    return case


def read_case(path: Path, knowledge: Knowledge) -> Case:
    """The case of a file. Raises FaultsFound; a missing or unreadable file is a fault as well."""
    try:
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise FaultsFound([Fault(Mark(str(path)), "not-text", "the file is not UTF-8 text")]) from None
    except OSError as error:
        reason = error.strerror or type(error).__name__
        raise FaultsFound([Fault(Mark(str(path)), "unreadable", f"cannot be read: {reason.lower()}")]) from None
    return case_from_text(text, str(path), knowledge)


def _answer_data(sign: Sign, answer: Answer) -> Any:
    if answer.cannot_tell:
        reads: Any = words.CANNOT_TELL
    elif sign.kind == "tick_all":
        reads = list(answer.reads) or "none"
    else:
        reads = answer.measured or answer.reads[0]
    if answer.by == "seen" and not answer.unsure:
        return reads
    data = {"reads": reads, "by": answer.by}
    return {**data, "unsure": "yes"} if answer.unsure else data


def _figure(number: float) -> str:
    """A number so that it reads back the same.

    >>> _figure(300.0), _figure(1234.56)
    ('300', '1234.56')
    """
    return repr(float(number)).removesuffix(".0")


def _filled(data: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in data.items() if value not in (None, "", {}, [])}


def case_text(case: Case, knowledge: Knowledge) -> str:
    """The YAML of a case; reading it back gives the same case."""

    def readings(answers: Mapping[str, Answer]) -> dict[str, Any]:
        return {name: _answer_data(knowledge.signs[name], answer) for name, answer in answers.items()}

    data = {
        "schema": str(SCHEMA),
        **_filled(
            {
                "number": case.number,
                "taken_in": case.taken_in.isoformat() if case.taken_in else None,
                "owner": case.owner,
                "owner_says": case.owner_says,
            }
        ),
        "piece": _filled(
            {
                "kind": case.piece,
                "called": case.called,
                "wood": case.wood,
                "value": _figure(case.value) if case.value is not None else None,
                "value_by": case.value_by if case.value is not None or case.value_by != "owner" else None,
                "count": str(case.count) if case.count != 1 else None,
            }
        ),
        **_filled({"joints": dict(case.joints), "readings": readings(case.readings)}),
        "damages": [
            _filled(
                {
                    "id": damage.id,
                    "damage": damage.kind,
                    "part": damage.part,
                    "joint": damage.joint,
                    "says": damage.says,
                    "found_by": damage.found_by,
                    "repaired": damage.repaired.isoformat() if damage.repaired else None,
                    "facts": dict(damage.facts),
                    "sizes": {name: f"{_figure(size)} mm" for name, size in damage.sizes.items()},
                    "readings": readings(damage.readings),
                }
            )
            for damage in case.damages
        ],
    }
    return yaml.dump(data, Dumper=_Dumper, sort_keys=False, allow_unicode=True, width=110)


# Ends of lines that YAML folds away unless they stand escaped in double quotes.
SEPARATORS = frozenset("\r\x85\u2028\u2029")


class _Dumper(yaml.SafeDumper):
    """Every scalar as text, plain where that reads back the same; lists of words on one line."""


def _plain_text(dumper: yaml.SafeDumper, text: str) -> yaml.ScalarNode:
    style = "|" if "\n" in text else None
    if text in ("", "~", "null") or " #" in text or text != text.strip() or not SEPARATORS.isdisjoint(text):
        style = '"'
    return dumper.represent_scalar("tag:yaml.org,2002:str", text, style=style)


def _short_list(dumper: yaml.SafeDumper, items: list[Any]) -> yaml.SequenceNode:
    flow = all(isinstance(item, str) for item in items)
    return dumper.represent_sequence("tag:yaml.org,2002:seq", items, flow_style=flow)


_Dumper.add_representer(str, _plain_text)
_Dumper.add_representer(list, _short_list)


def write_whole(path: Path, text: str) -> None:
    """Write a file whole or not at all: beside it first, then moved into place. Raises OSError."""
    folder = path.parent if str(path.parent) else Path()
    handle, name = tempfile.mkstemp(dir=folder, prefix=f".{path.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        mode = path.stat().st_mode & 0o777 if path.exists() else 0o644
        Path(name).chmod(mode)
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def write_case(path: Path, case: Case, knowledge: Knowledge) -> None:
    """Write a case whole or not at all. Raises OSError."""
    write_whole(path, case_text(case, knowledge))
