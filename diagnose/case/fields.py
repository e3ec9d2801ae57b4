"""The fields of one YAML document: each read in one way, and every fault kept with its place instead of stopping at the first."""

from collections.abc import Iterable
from datetime import date
from typing import Any

from diagnose.case.quantity import length_mm
from diagnose.rulebase.fault import Fault, nearest
from diagnose.rulebase.located import Located
from diagnose.rulebase.located import Path as Place

LARGEST = 1e9
LARGEST_MM = 4000.0


def _called(place: Place) -> str:
    """What a place is called in a sentence; an item of a list by its number in the list."""
    if not place:
        return "the case"
    last = place[-1]
    return last if isinstance(last, str) else f"number {last + 1} of {place[-2]}"


class Fields:
    """One document; collects faults."""

    def __init__(self, document: Located) -> None:
        self.document = document
        self.faults: list[Fault] = []

    def fault(self, place: Place, code: str, message: str, hint: str = "", key: bool = False) -> None:
        """Keep a fault at a value, or with `key` at its key."""
        mark = self.document.key_mark(place) if key else self.document.mark(place)
        self.faults.append(Fault(mark, code, message, hint))

    def mapping(self, value: Any, place: Place, allowed: tuple[str, ...] = ()) -> dict[str, Any] | None:
        """A mapping; nothing written is an empty one, and what is none gives a fault and None."""
        if value is None:
            return {}
        if not isinstance(value, dict):
            hint = f"names that may stand in it: {', '.join(allowed)}" if allowed else ""
            self.fault(place, "form", f"{_called(place)} is a mapping of names and values", hint)
            return None
        for key in value:
            if allowed and key not in allowed:
                self.fault((*place, key), "unknown-key", f"{key} is not known here", nearest(key, allowed), key=True)
        return value

    def text(self, value: Any, place: Place) -> str:
        """A text; '' where nothing is written."""
        if value is None:
            return ""
        if isinstance(value, str):
            return value
        self.fault(place, "form", f"{_called(place)} needs a text")
        return ""

    def one_of(self, value: Any, place: Place, known: Iterable[str], what: str) -> str | None:
        """One word of a closed list."""
        word = self.text(value, place)
        if not word:
            return None
        if word not in known:
            self.fault(place, "unknown", f"{word} is not {what}", nearest(word, known))
            return None
        return word

    def number(self, value: Any, place: Place, above: float) -> float | None:
        """A bare number over `above`."""
        word = self.text(value, place)
        if not word:
            return None
        try:
            number = float(word)
        except ValueError:
            self.fault(place, "form", f"{word!r} is not a number", "write the figure alone, as 1250 or 12.50")
            return None
        if not above < number < LARGEST:
            self.fault(place, "out-of-range", f"{_called(place)} {word} must be above {above:g} and below {LARGEST:,.0f}")
            return None
        return number

    def count(self, value: Any, place: Place, most: int) -> int:
        """A whole number from 1 to `most`; 1 where nothing is written."""
        word = self.text(value, place)
        if not word:
            return 1
        if not word.isdecimal() or len(word) > len(str(most)) + 1 or not 1 <= int(word) <= most:
            self.fault(place, "out-of-range", f"{_called(place)} {word} must be a whole number from 1 to {most}")
            return 1
        return int(word)

    def day(self, value: Any, place: Place) -> date | None:
        """A day as 2026-03-02."""
        word = self.text(value, place)
        if not word:
            return None
        try:
            return date.fromisoformat(word)
        except ValueError:
            self.fault(place, "form", f"{word!r} is not a date", "write it as 2026-03-02")
            return None

    def size_mm(self, value: Any, place: Place, least: float = 0.0, most: float = LARGEST_MM) -> float | None:
        """A length with its unit, in mm, above nothing and within these limits."""
        try:
            size = length_mm(self.text(value, place))
        except ValueError as error:
            self.fault(place, "quantity", str(error))
            return None
        if size <= 0 or not least <= size <= most:
            self.fault(place, "out-of-range", f"{_called(place)} {size:g} mm is outside {least:g} to {most:g} mm")
            return None
        return size
