"""The first sheet of an intake: what the piece is, its joint map, its damages."""

from dataclasses import replace

from diagnose import words
from diagnose.case.case import Case, Damage
from diagnose.case.file import find_piece
from diagnose.cli.environment import Environment
from diagnose.cli.prompts import Command, choose, free_text, match
from diagnose.documents.say import plain
from diagnose.rulebase.entries import Piece
from diagnose.rulebase.fault import nearest
from diagnose.rulebase.knowledge import Knowledge

MAP_HELP = (
    "Try every joint; stop at the first movement. Write: all tight · all tight but 3 5 · 3 5 move, 7 open, 8 broken · "
    "12 cannot be reached. Enter: not tried yet."
)


def new_case(env: Environment, knowledge: Knowledge) -> Case:
    """Ask what the piece is, whose, what the owner says and what it is worth to the owner."""
    choices = {piece.id: ", ".join([piece.name, *piece.also_called[:2]]) for piece in knowledge.pieces.values()}
    kind = _kind(env, knowledge, choices)
    owner = free_text(env, "Whose is it?")
    says = free_text(env, "What does the owner say, in the owner's own words?")
    value = _value(env)
    wood = _wood(env, knowledge)
    return Case(piece=kind, taken_in=env.today, owner=owner, owner_says=says, value=value, wood=wood)


def _kind(env: Environment, knowledge: Knowledge, choices: dict[str, str]) -> str:
    env.say(env.strong("What is it?"))
    for number, label in enumerate(choices.values(), start=1):
        env.say(f"  {number:2d}  {label}")
    while True:
        line = env.ask("> ")
        if line in ("s", "stop"):
            raise Command("s")
        piece = find_piece(knowledge, line)
        found = piece.id if piece is not None else match(line, choices) if line else None
        if found is not None:
            return found
        env.say("Not understood. A number, or a name from the list.")


def _value(env: Environment) -> float | None:
    while True:
        line = free_text(env, "What is it worth, as the owner puts it?")
        if not line:
            return None
        try:
            value = float(line.replace(",", "").split()[-1])
        except ValueError:
            value = 0.0
        if value > 0:
            return value
        env.say("Not understood. A number above 0, like 350.")


def _wood(env: Environment, knowledge: Knowledge) -> str | None:
    names = {wood.id: wood.name for wood in knowledge.woods.values()}
    while True:
        line = free_text(env, "Which wood?")
        if not line:
            return None
        found = None if line.isdigit() else match(line, names)
        if found is not None:
            return found
        env.say(f"Not understood; {nearest(line.lower().replace(' ', '_'), names)} Enter if nobody knows.")


def parse_map(text: str, joints: list[str]) -> dict[str, str]:
    """A joint map from one line.

    Raises ValueError with what is not understood.

    >>> parse_map("all tight but 2", ["a", "b"])
    {'a': 'tight', 'b': 'moves'}
    >>> parse_map("1 move, 2 broken", ["a", "b"])
    {'a': 'moves', 'b': 'broken'}
    """
    states = {label.replace(" ", "_"): state for state, label in words.JOINT_STATES.items()} | {
        "move": "moves",
        "loose": "moves",
    }
    found: dict[str, str] = {}
    for part in text.replace(";", ",").split(","):
        entry = part.strip().lower()
        if not entry:
            continue
        if entry.startswith("all "):
            rest, _, exceptions = entry[4:].partition(" but ")
            found.update(dict.fromkeys(joints, _state(rest, states)))
            found.update(dict.fromkeys(_numbers(exceptions.split(), joints), "moves"))
            continue
        pieces = entry.split()
        numbers = [piece for piece in pieces if piece.isdigit()]
        state = " ".join(piece for piece in pieces if not piece.isdigit())
        if not numbers:
            raise ValueError(f"{entry!r} names no joint by its number")
        found.update(dict.fromkeys(_numbers(numbers, joints), _state(state or "moves", states)))
    return found


def _state(text: str, states: dict[str, str]) -> str:
    word = text.strip().replace(" ", "_")
    if word not in states:
        raise ValueError(f"{text!r} is no state of a joint; {nearest(word, states)}")
    return states[word]


def _numbers(texts: list[str], joints: list[str]) -> list[str]:
    found = []
    for text in texts:
        if not text.isdigit() or not 1 <= int(text) <= len(joints):
            raise ValueError(f"there is no joint {text}; they run from 1 to {len(joints)}")
        found.append(joints[int(text) - 1])
    return found


def ask_map(env: Environment, case: Case, piece: Piece) -> Case:
    """Ask for the joint map in one line."""
    env.say()
    env.say(env.strong(f"Joint map of the {piece.name.lower()}"))
    joints = [joint.id for joint in piece.joints]
    for number, joint in enumerate(joints, start=1):
        env.say(f"  {number:2d}  {plain(joint)}")
    env.say(MAP_HELP)
    while True:
        line = env.ask("> ")
        if line in ("s", "stop"):
            raise Command("s")
        try:
            return replace(case, joints=parse_map(line, joints))
        except ValueError as error:
            env.say(f"Not understood: {error}.")


def ask_damage(env: Environment, case: Case, piece: Piece) -> Damage:
    """Ask what is wrong, on which part, at which joint."""
    kind = choose(env, "What is wrong?", words.DAMAGES)
    assert kind is not None
    part = choose(env, "On which part?", {part: plain(part) for part in piece.parts}, optional=True)
    joints = [joint for joint in piece.joints if part is None or part in joint.joins]
    joint = choose(env, "At which joint?", {j.id: plain(j.id) for j in joints}, optional=True) if joints else None
    facts = {}
    entry = piece.joint(joint) if joint else None
    if entry is None or len(entry.kind) > 1:
        kinds = {k: words.JOINT_KINDS[k] for k in (entry.kind if entry else words.JOINT_KINDS)}
        chosen = choose(env, "How is that joint made?", kinds, optional=True)
        if chosen is not None:
            facts["joint"] = chosen
    says = free_text(env, "What does the owner say about it?")
    by_owner = choose(env, "Who found it?", {"owner": "the owner brought it for this", "us": "we found it"}) or "owner"
    used = {damage.id for damage in case.damages}
    name = next(n for n in (f"damage_{i}" for i in range(1, 100)) if n not in used)
    return Damage(id=name, kind=kind, part=part, joint=joint, says=says, found_by=by_owner, facts=facts)
