"""Asking one thing at a terminal: numbered choices, any unique beginning accepted, and always the same few keys."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from diagnose.cli.environment import Environment
from diagnose.cli.meaning import heard


class Command(Exception):
    """One of the keys that are always there was typed instead of an answer."""

    def __init__(self, key: str) -> None:
        super().__init__(key)
        self.key = key


class Back(Exception):
    """Back was typed on the sheet: to the line before this one."""


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
# What people type who have not read the line of keys; taken where no choice is called so.
SPOKEN_KEYS: dict[str, str] = {
    "don't know": "t",
    "dont know": "t",
    "dunno": "t",
    "not sure": "t",
    "can't tell": "t",
    "cannot tell": "t",
    "later": "l",
    "skip": "l",
    "back": "b",
    "answers": "a",
    "why": "w",
    "stop": "s",
    "quit": "s",
    "exit": "s",
    "q": "s",
}
# More than these named as near misses is a list again, and that stands on the screen already.
MOST_NAMED = 8
# So alike is a word with one letter wrong; in words of three letters and fewer one letter is too much.
ALIKE, SHORTEST_SLIP = 0.8, 3
# Words that tell no two choices apart where none of them has the word.
TELLS_NOTHING = frozenset({"a", "an", "the", "one", "of", "its", "his", "her", "my", "left", "right", "whole"})
# What choices are called besides their labels.
Names = Mapping[str, Sequence[str]]
NO_NAMES: Names = {}


def is_stop(line: str) -> bool:
    """Whether a line means that the sitting ends."""
    return line.lower() == "s" or SPOKEN_KEYS.get(line.lower()) == "s"


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


def _words(text: str) -> list[str]:
    return "".join(letter if letter.isalnum() else " " for letter in text.lower()).split()


def _has_words(label: str, wanted: Sequence[str]) -> bool:
    """Whether every word typed begins a word of the label; shorter words than three letters say too little."""
    have = _words(label)
    return any(len(word) > 2 for word in wanted) and all(
        any(h.startswith(word) or h == word.removesuffix("s") for h in have) for word in wanted
    )


def _says(text: str, forms: Iterable[str]) -> list[str]:
    """The words of a text, but for those that tell nothing apart, as in "the left front leg"."""
    have = {word for form in forms for word in _words(form)}
    return [word for word in _words(text) if word in have or word not in TELLS_NOTHING]


def fitting(text: str, choices: Mapping[str, str], also: Names = NO_NAMES) -> list[str]:
    """The ids that a text may mean: by id or label, else by another name, else by a beginning, else by words that are in one of these.

    >>> fitting("top", {"a": "at the top", "b": "top rail", "c": "foot"}), fitting("the left rail", {"b": "top rail", "c": "foot"})
    (['b'], ['b'])
    >>> fitting("footrest", {"a": "leg", "b": "rung"}, {"b": ("foot rest",)})
    ['b']
    """
    wanted = text.lower().replace("_", " ").strip()
    spoken = {name: (name.replace("_", " ").lower(), label.lower()) for name, label in choices.items()}
    named = {name: (*forms, *(other.lower() for other in also.get(name, ()))) for name, forms in spoken.items()}
    exact = [name for name, forms in spoken.items() if wanted in forms]
    if exact or not wanted:
        return exact[:1]
    said = _says(wanted, (form for forms in named.values() for form in forms[1:]))
    whole = [name for name, forms in named.items() if "".join(said) in ("".join(_words(form)) for form in forms)]
    if whole:
        return whole
    begun = [name for name, forms in named.items() if any(form.startswith(wanted) for form in forms)]
    return begun or [name for name, forms in named.items() if any(_has_words(form, said) for form in forms[1:])]


def slipped(text: str, choices: Mapping[str, str], also: Names = NO_NAMES) -> list[str]:
    """The ids of which a text names words with a letter wrong, missing or too many.

    >>> slipped("case botom", {"a": "case side", "b": "case bottom"}), slipped("haunted", {"a": "loose"})
    (['b'], [])
    """
    named = {name: (label, *also.get(name, ())) for name, label in choices.items()}
    wanted = _says(text, (form for forms in named.values() for form in forms))
    if not any(len(word) > SHORTEST_SLIP for word in wanted):
        return []
    return [
        name
        for name, forms in named.items()
        if any(all(get_close_matches(word, _words(form), 1, ALIKE) for word in wanted) for form in forms)
    ]


def match(text: str, choices: Mapping[str, str], also: Names = NO_NAMES) -> str | None:
    """The id that a number, an id, a label, a unique beginning or words of it name; None if none or several do.

    A letter that is a key is never a beginning.

    >>> match("2", {"tight": "tight", "moves": "it moves"}), match("it", {"tight": "tight", "moves": "it moves"})
    ('moves', 'moves')
    """
    ids = list(choices)
    if text.isdecimal():
        index = int(text) - 1
        return ids[index] if 0 <= index < len(ids) else None
    found = fitting(text, choices, also)
    return found[0] if len(found) == 1 and text.lower() not in KEYS else None


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


def allowed(choices: Mapping[str, str], typed: str = "", several: bool = False, also: Names = NO_NAMES) -> str:
    """What may be typed, for somebody whose answer was not understood; what it may have meant, where that is a few.

    >>> allowed({"a": "drawer front", "b": "drawer side", "c": "top"}, "drawer")
    'Several fit: 1 drawer front · 2 drawer side. Which number?'
    >>> allowed({"a": "drawer front", "b": "drawer side", "c": "top"}, "drawer frnt")
    'Not understood. Did you mean 1 drawer front?'
    """
    near = fitting(typed, choices, also) if typed and not typed.isdecimal() else []
    slips = [] if near or typed.isdecimal() else slipped(typed, choices, also)
    if 1 < len(near) <= MOST_NAMED or 0 < len(slips) <= MOST_NAMED:
        numbers = {name: number for number, name in enumerate(choices, start=1)}
        named = " · ".join(f"{numbers[name]} {choices[name]}" for name in near or slips)
        return f"Several fit: {named}. Which number?" if near else f"Not understood. Did you mean {named}?"
    more = " or several with commas, or none" if several else ""
    return f"Not understood. A number from 1 to {len(choices)}{more}, the words, or a beginning that only one of them has."


def on_the_sheet(env: Environment, prompt: str) -> str:
    """One typed line of the sheet; stop and back are heard everywhere on it."""
    line = heard(env, prompt)
    if is_stop(line):
        raise Command("s")
    if line.lower() == "b":
        raise Back
    return line


def choose(env: Environment, question: str, choices: Mapping[str, str], enter: str = "", also: Names = NO_NAMES) -> str | None:
    """Ask until one of the choices is named; where `enter` says what an empty line means, that is taken as None.

    What was named by other words than those on the screen is said back.
    """
    env.say()
    env.say(env.strong(question))
    show_choices(env, choices)
    while True:
        line = on_the_sheet(env, f"(Enter: {enter}) > " if enter else "> ")
        if not line and enter:
            return None
        found = match(line, choices, also) if line else None
        if found is not None:
            if not line.isdecimal() and not choices[found].lower().startswith(line.lower()):
                env.say(f"  Noted: {choices[found]}.")
            return found
        if SPOKEN_KEYS.get(line.lower()) == "b":
            raise Back
        if enter and "t" in (line.lower(), SPOKEN_KEYS.get(line.lower())):
            return None
        env.say(allowed(choices, line, also=also))


def free_text(env: Environment, question: str, now: str = "") -> str:
    """Ask for a line of text; Enter skips it, or keeps what stands there now."""
    env.say()
    keep = f"Enter keeps {now!r}" if now else "Enter skips"
    return on_the_sheet(env, f"{env.strong(question)} ({keep}) > ") or now


@dataclass(frozen=True)
class Line:
    """One line of the sheet: what it is called in the list of answers, what stands there now, whether it is still to be asked."""

    name: str
    now: Callable[[], str]
    wanted: Callable[[], bool]
    ask: Callable[[], None]


def walk(lines: Sequence[Line], start: int = 0) -> None:
    """Ask every line that is wanted, in order, and those gone back to in any case.

    Back asks the one before again; before the first of them it is raised. With `start` the lines before it count as asked.
    """
    asked = list(range(start))
    again = start if start else None
    at = start
    while at < len(lines):
        if at == again or lines[at].wanted():
            try:
                lines[at].ask()
            except Back:
                if not asked:
                    raise
                at = again = asked.pop()
                continue
            asked.append(at)
        again = None
        at += 1
