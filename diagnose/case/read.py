"""Reading a case file: every fault at its place, with the nearest right thing."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

from diagnose import words
from diagnose.case.case import SCHEMA, Answer, Case, Damage
from diagnose.case.fields import Fields
from diagnose.case.naming import find_part, find_piece, is_figure, parse_reading, piece_hint, wood_hint, wood_named
from diagnose.rulebase.entries import Piece, Sign
from diagnose.rulebase.fault import Fault, FaultsFound, Mark, nearest
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.located import Located, read_located
from diagnose.rulebase.located import Path as Place

TOP = ("schema", "number", "taken_in", "owner", "owner_says", "piece", "joints", "readings", "damages")
PIECE = ("kind", "called", "wood", "value", "value_by", "count")
DAMAGE = ("id", "damage", "part", "joint", "says", "found_by", "repaired", "facts", "sizes", "readings")
ANSWER = ("reads", "by", "unsure")
MOST_PIECES = 200
# The facts that a case may state outright, and their values.
STATED = {
    "joint": words.JOINT_KINDS,
    "carries": words.CARRIES,
    "consequence": words.CONSEQUENCES,
    "moving_joints": words.COUNT_WORDS,
    "our_term": words.OUR_TERM,
}
YES, NO = ("yes", "true"), ("no", "false")


class _Reader(Fields):
    """One case file. `today` is given where a day may be checked against it."""

    def __init__(self, knowledge: Knowledge, document: Located, today: date | None) -> None:
        super().__init__(document)
        self.knowledge = knowledge
        self.today = today

    def answer(self, sign: Sign, value: Any, place: Place) -> Answer | None:
        by, unsure, reads_place, reads = "seen", False, place, value
        if isinstance(value, dict):
            entry = self.mapping(value, place, ANSWER) or {}
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
            self.fault(reads_place, "out-of-range" if is_figure(sign, reads) else "unknown-reading", str(error))
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
        for name, entry in (self.mapping(value, place) or {}).items():
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
        entries = self.mapping(value, ("joints",)) or {}
        everywhere = entries.get("all")
        if everywhere is not None:
            state = self.one_of(everywhere, ("joints", "all"), words.JOINT_STATES, "a state of a joint")
            found = dict.fromkeys((joint.id for joint in piece.joints), state) if state else {}
        for name, entry in entries.items():
            if name == "all":
                continue
            if name not in known:
                message = f"a {piece.name.lower()} has no joint {name}"
                self.fault(("joints", name), "unknown-joint", message, nearest(name, known), key=True)
                continue
            state = self.one_of(entry, ("joints", name), words.JOINT_STATES, "a state of a joint")
            if state:
                found[name] = state
        return found

    def part(self, value: Any, place: Place, piece: Piece) -> str | None:
        name = self.text(value, place)
        part = find_part(piece, name) if name else None
        if name and part is None:
            known = [called for part, entry in piece.parts.items() for called in (part, *entry.also_called)]
            self.fault(place, "unknown", f"{name} is not a part of a {piece.name.lower()}", nearest(name, known))
        return part

    def damage(self, value: Any, index: int, piece: Piece) -> Damage | None:
        place: Place = ("damages", index)
        entry = self.mapping(value, place, DAMAGE)
        if entry is None:
            return None
        kind = self.one_of(entry.get("damage"), (*place, "damage"), words.DAMAGES, "a kind of damage")
        if kind is None:
            if not entry.get("damage"):
                self.fault(place, "missing", "a damage needs its kind", f"damage: one of {', '.join(words.DAMAGES)}")
            return None
        part = self.part(entry.get("part"), (*place, "part"), piece)
        joints = [joint.id for joint in piece.joints]
        joint = self.one_of(entry.get("joint"), (*place, "joint"), joints, f"a joint of a {piece.name.lower()}")
        facts = self.mapping(entry.get("facts"), (*place, "facts"), tuple(STATED)) or {}
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
            repaired=self.repaired(entry.get("repaired"), (*place, "repaired")),
            facts=stated,
            sizes=dict(self.sizes(entry.get("sizes"), (*place, "sizes"))),
            readings=self.readings(entry.get("readings"), (*place, "readings"), "damage"),
        )

    def repaired(self, value: Any, place: Place) -> date | None:
        day = self.day(value, place)
        if day is not None and self.today is not None and day > self.today:
            message = f"the repair of {day} lies in the future: today is {self.today}"
            self.fault(place, "order-of-days", message, "give the day on which it was done")
        return day

    def sizes(self, value: Any, place: Place) -> Iterator[tuple[str, float]]:
        known = (*words.PART_SIZES, *words.JOINT_SIZES)
        for name, text in (self.mapping(value, place, known) or {}).items():
            size = self.size_mm(text, (*place, name), *words.JOINT_SIZES.get(name, ()))
            if size is not None:
                yield name, size

    def damages(self, value: Any, piece: Piece, taken_in: date | None) -> tuple[Damage, ...]:
        if value is not None and not isinstance(value, list):
            self.fault(("damages",), "form", "damages is a list", "start each with - id")
            return ()
        found: list[Damage] = []
        for index, entry in enumerate(value or []):
            damage = self.damage(entry, index, piece)
            if damage is None:
                continue
            day = damage.repaired
            if day is not None and taken_in is not None and day > taken_in and not (self.today is not None and day > self.today):
                message = f"the repair of {day} lies after the day it was taken in, {taken_in}"
                self.fault(("damages", index, "repaired"), "order-of-days", message, "one of the two days is wrong")
            if any(damage.id == other.id for other in found):
                self.fault(("damages", index), "duplicate", f"two damages are called {damage.id}")
            found.append(damage)
        return tuple(found)

    def schema_is_ours(self, top: dict[str, Any]) -> bool:
        schema = self.text(top.get("schema", "1"), ("schema",))
        if schema == str(SCHEMA):
            return True
        newer = schema.isdecimal() and int(schema) > SCHEMA
        hint = "bring the program up to date" if newer else f"this program writes schema {SCHEMA}"
        self.fault(("schema",), "schema", f"the case has schema {schema}, this program reads {SCHEMA}", hint)
        return False

    def piece(self, about: dict[str, Any]) -> Piece | None:
        place: Place = ("piece", "kind")
        name = self.text(about.get("kind"), place)
        piece = find_piece(self.knowledge, name) if name else None
        if piece is None:
            message = f"{name} is not a kind of piece" if name else "the case does not say what piece it is"
            self.fault(place, "unknown-piece", message, piece_hint(self.knowledge, name))
        return piece

    def wood(self, value: Any, place: Place) -> str | None:
        name = self.text(value, place)
        wood = wood_named(self.knowledge, name) if name else None
        if name and wood is None:
            self.fault(place, "unknown", f"{name} is not a wood of the rule base", wood_hint(self.knowledge, name))
        return wood.id if wood is not None else None

    def case(self) -> Case | None:
        top = self.mapping(self.document.data, (), TOP)
        if top is None or not self.schema_is_ours(top):
            return None
        about = self.mapping(top.get("piece"), ("piece",), PIECE)
        piece = self.piece(about) if about is not None else None
        if about is None or piece is None:
            return None
        taken_in = self.day(top.get("taken_in"), ("taken_in",))
        return Case(
            piece=piece.id,
            number=self.text(top.get("number"), ("number",)),
            taken_in=taken_in,
            owner=self.text(top.get("owner"), ("owner",)),
            owner_says=self.text(top.get("owner_says"), ("owner_says",)),
            called=self.text(about.get("called"), ("piece", "called")),
            wood=self.wood(about.get("wood"), ("piece", "wood")),
            value=self.number(about.get("value"), ("piece", "value"), 0.0),
            value_by=self.text(about.get("value_by"), ("piece", "value_by")) or "owner",
            count=self.count(about.get("count"), ("piece", "count"), MOST_PIECES),
            joints=self.joints(top.get("joints"), piece),
            readings=self.readings(top.get("readings"), ("readings",), "piece"),
            damages=self.damages(top.get("damages"), piece, taken_in),
        )


def case_from_text(text: str, file: str, knowledge: Knowledge, today: date | None = None) -> Case:
    """A case from the text of a file. Raises FaultsFound with every fault, each at its place."""
    reader = _Reader(knowledge, read_located(text, file), today)
    case = reader.case()
    if reader.faults or case is None:
        raise FaultsFound(reader.faults)
    return case


def read_case(path: Path, knowledge: Knowledge, today: date | None = None) -> Case:
    """The case of a file; with `today` a repair that lies after it is a fault.

    Raises FaultsFound; a missing or unreadable file is a fault as well.
    """
    try:
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        hint = "a case is a text file; it may be a picture or a document of another program"
        raise FaultsFound([Fault(Mark(str(path)), "not-text", "the file is not UTF-8 text", hint)]) from None
    except OSError as error:
        reason = error.strerror or type(error).__name__
        raise FaultsFound([Fault(Mark(str(path)), "unreadable", f"cannot be read: {reason.lower()}")]) from None
    return case_from_text(text, str(path), knowledge, today)
