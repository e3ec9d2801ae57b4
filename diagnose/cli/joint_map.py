"""The joint map in one line: which joints are tight, which move, are open or broken, cannot be reached or were not tried."""

import re
from collections.abc import Sequence
from dataclasses import replace

from diagnose import words
from diagnose.cli.prompts import on_the_sheet, show_choices
from diagnose.cli.session import Session
from diagnose.documents.say import plain
from diagnose.rulebase.fault import nearest

MAP_HELP = (
    "Try every joint gently by hand and stop at the first movement. Then write one line, such as: all tight · all tight but 3 5 · "
    "3 5 move, 7 open, the rest tight · 12 cannot be reached. What this piece has not counts as tight. Enter: not tried yet."
)
# What people say for a state, besides its own words.
SPOKEN_STATES = {
    "move": "moves",
    "loose": "moves",
    "slack": "moves",
    "wobbly": "moves",
    "wobble": "moves",
    "wobbles": "moves",
    "creak": "moves",
    "creaks": "moves",
    "firm": "tight",
    "sound": "tight",
    "fine": "tight",
    "ok": "tight",
    "gaping": "open",
    "gapes": "open",
    "apart": "open",
    "snapped": "broken",
    "hidden": "cannot_be_reached",
    "covered": "cannot_be_reached",
}
UNTRIED = ("not tried", "not tried yet", "don't know", "dont know", "dunno", "t", "?")
_REST = re.compile(r"(?:all )?(?:the )?(?:rest|others?|everything else) ")
_RANGE = re.compile(r"(\d+)\s*(?:-|–|to)\s*(\d+)")
_FILLING = frozenset({"is", "are", "and", "only", "joint", "joints", "number", "numbers"})


def parse_map(text: str, joints: Sequence[str]) -> dict[str, str]:
    """A joint map from one line.

    Raises ValueError with what is not understood.

    >>> parse_map("all tight but 2", ["a", "b"])
    {'a': 'tight', 'b': 'moves'}
    >>> parse_map("1-2 move, 3 is broken", ["a", "b", "c"])
    {'a': 'moves', 'b': 'moves', 'c': 'broken'}
    >>> parse_map("2 moves, the rest is tight", ["a", "b", "c"])
    {'b': 'moves', 'a': 'tight', 'c': 'tight'}
    """
    found: dict[str, str] = {}
    rest: str | None = None
    for part in text.replace(";", ",").split(","):
        entry = " ".join(part.lower().split())
        if not entry or entry in UNTRIED:
            continue
        if of_rest := _REST.match(entry):
            rest = _state(_said(entry[of_rest.end() :]))
        elif entry.startswith("all "):
            of_all, _, exceptions = entry[4:].partition(" but ")
            found.update(dict.fromkeys(joints, _state(_said(of_all))))
            found.update(_numbered(exceptions, joints) if exceptions else {})
        else:
            found.update(_numbered(entry, joints))
    return found if rest is None else found | {joint: rest for joint in joints if joint not in found}


def _said(text: str) -> str:
    return " ".join(word for word in text.split() if word not in _FILLING)


def _numbered(text: str, joints: Sequence[str]) -> dict[str, str]:
    """Joints named by numbers, with the state behind them; where none is said they move."""
    single = _RANGE.sub(lambda found: " ".join(str(n) for n in range(int(found[1]), min(int(found[2]), 1000) + 1)), text)
    typed = _said(single).split()
    numbers = [word for word in typed if word.isdecimal()]
    state = " ".join(word for word in typed if not word.isdecimal())
    if not numbers:
        raise ValueError(f"{text!r} names no joint by its number; write a number and what that joint does, as 3 moves")
    return dict.fromkeys(_joints(numbers, joints), _state(state or "moves"))


def _state(text: str) -> str:
    states = {label: state for state, label in words.JOINT_STATES.items()} | SPOKEN_STATES
    if text not in states:
        near = nearest(text, states).removesuffix("?")
        hint = near if near.startswith("did") else f"one of: {', '.join(words.JOINT_STATES.values())}"
        raise ValueError(f"{text!r} is no state of a joint; {hint}")
    return states[text]


def _joints(numbers: Sequence[str], joints: Sequence[str]) -> list[str]:
    found = []
    for text in numbers:
        if not 1 <= int(text) <= len(joints):
            raise ValueError(f"there is no joint {text}; they run from 1 to {len(joints)}")
        found.append(joints[int(text) - 1])
    return found


def map_said(session: Session) -> str:
    """The joint map in a few words, for the list of answers.

    It counts the joints in each state, the commonest first.
    """
    states = list(session.case.joints.values())
    counts = {state: states.count(state) for state in words.JOINT_STATES if state in states}
    ranked = sorted(counts.items(), key=lambda item: -item[1])
    return ", ".join(f"{count} {words.JOINT_STATES[state]}" for state, count in ranked)


def ask_map(session: Session) -> None:
    """Ask for the joint map in one line."""
    env, piece = session.env, session.knowledge.pieces[session.case.piece]
    joints = [joint.id for joint in piece.joints]
    env.say()
    env.say(env.strong(f"Joint map of the {piece.name.lower()}"))
    show_choices(env, {joint: plain(joint) for joint in joints})
    env.say(f"Left and right as whoever uses it has them. The field guide has these joints on a drawing, under {piece.name}.")
    env.say(MAP_HELP)
    while True:
        line = on_the_sheet(env, "> ")
        try:
            found = parse_map(line, joints)
        except ValueError as error:
            env.say(f"Not understood: {error}.")
            continue
        session.keep(replace(session.case, joints=found))
        return
