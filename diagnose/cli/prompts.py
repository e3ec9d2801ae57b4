"""Asking one thing at a terminal: numbered choices, any unique beginning accepted, and always the same few keys."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from diagnose.cli.environment import Environment


class Command(Exception):
    """One of the keys that are always there was typed instead of an answer."""

    def __init__(self, key: str) -> None:
        super().__init__(key)
        self.key = key


# Key → what it does. One letter each, so that they never meet the beginning of a reading.
KEYS: dict[str, str] = {
    "t": "can't tell yet",
    "l": "later",
    "b": "back",
    "a": "answers so far",
    "w": "why this question",
    "s": "stop",
}
KEY_LINE = "number or beginning of an answer; ? behind it = unsure · " + " · ".join(f"{key} {text}" for key, text in KEYS.items())


@dataclass(frozen=True)
class Typed:
    """What was typed: the text without its question mark, and whether it was marked unsure."""

    text: str
    unsure: bool


def read_typed(line: str) -> Typed:
    """Split off the mark of doubt.

    >>> read_typed("2 ?")
    Typed(text='2', unsure=True)
    """
    text = line.strip()
    unsure = text.endswith("?")
    return Typed(text.rstrip("? ").strip(), unsure)


def match(text: str, choices: Mapping[str, str]) -> str | None:
    """The id that a number, an id, a label or a unique beginning of either names; None if none or several do.

    A letter that is a key is never a beginning.

    >>> match("2", {"tight": "tight", "moves": "it moves"}), match("it", {"tight": "tight", "moves": "it moves"})
    ('moves', 'moves')
    """
    ids = list(choices)
    if text.isdecimal():
        index = int(text) - 1
        return ids[index] if 0 <= index < len(ids) else None
    wanted = text.lower().replace("_", " ")
    spoken = {name: (name.replace("_", " ").lower(), label.lower()) for name, label in choices.items()}
    for name, forms in spoken.items():
        if wanted in forms:
            return name
    begun = [name for name, forms in spoken.items() if any(form.startswith(wanted) for form in forms)]
    return begun[0] if len(begun) == 1 and wanted not in KEYS else None


def match_several(text: str, choices: Mapping[str, str]) -> tuple[str, ...] | None:
    """Several choices parted by commas or spaces between numbers; `none` for none of them; None if any part is not understood."""
    if text.lower() in ("none", "0", "-"):
        return ()
    parts = [part.strip() for part in text.split(",")] if "," in text else [text]
    if len(parts) == 1 and all(piece.isdecimal() for piece in text.split()):
        parts = text.split()
    found = [match(part, choices) for part in parts if part]
    if not found or None in found:
        return None
    return tuple(name for name in choices if name in found)


def show_choices(env: Environment, choices: Mapping[str, str]) -> None:
    """The numbered list."""
    for number, label in enumerate(choices.values(), start=1):
        env.say(f"  {number:2d}  {label}")


def allowed(choices: Sequence[str], several: bool = False) -> str:
    """What may be typed, for somebody whose answer was not understood."""
    more = " or several with commas, or none" if several else ""
    return f"Not understood. A number from 1 to {len(choices)}{more}, the words, or a beginning that only one of them has."


def choose(env: Environment, question: str, choices: Mapping[str, str], optional: bool = False) -> str | None:
    """Ask until one of the choices is named; an empty line skips where that is allowed."""
    env.say()
    env.say(env.strong(question))
    show_choices(env, choices)
    while True:
        line = env.ask("> " if not optional else "(Enter skips) > ")
        if not line and optional:
            return None
        if line.lower() in ("s", "stop"):
            raise Command("s")
        found = match(line, choices) if line else None
        if found is not None:
            return found
        env.say(allowed(list(choices)))


def free_text(env: Environment, question: str) -> str:
    """Ask for a line of text; empty is allowed."""
    env.say()
    line = env.ask(f"{env.strong(question)} (Enter skips) > ")
    if line.lower() == "s":
        raise Command("s")
    return line
