"""The first sheet of an intake: what the piece is, its joint map, its damages. Every line of it is kept before the next is asked."""

import re
from dataclasses import replace

from diagnose import words
from diagnose.case.case import Damage
from diagnose.case.file import LARGEST, find_piece
from diagnose.cli.environment import Environment
from diagnose.cli.prompts import Command, choose, free_text, match, show_choices
from diagnose.cli.session import Session
from diagnose.documents.say import first_up, plain
from diagnose.rulebase.fault import nearest
from diagnose.rulebase.knowledge import Knowledge

MAP_HELP = (
    "Try every joint; stop at the first movement. Write: all tight · all tight but 3 5 · 3 5 move, 7 open, 8 broken · "
    "12 cannot be reached. Enter: not tried yet."
)
_AMOUNT = re.compile(r"[^\d.,+-]*(\d[\d.,']*)[^\d.,]*")
_CENTS = re.compile(r"[.,](\d{1,2})$")


def ask_kind(env: Environment, knowledge: Knowledge) -> str:
    """Ask what kind of piece it is: a number, its name, or a name it is also called."""
    choices = {piece.id: ", ".join([piece.name, *piece.also_called[:2]]) for piece in knowledge.pieces.values()}
    env.say("Every answer is kept at once. s stops; the same command goes on.")
    env.say()
    env.say(env.strong("What is it?"))
    show_choices(env, choices)
    while True:
        line = env.ask("> ")
        if line.lower() in ("s", "stop"):
            raise Command("s")
        piece = find_piece(knowledge, line)
        found = piece.id if piece is not None else match(line, choices) if line else None
        if found is not None:
            return found
        env.say("Not understood. A number, or a name from the list.")


def first_page(session: Session) -> None:
    """Ask whose it is, what the owner says, what it is worth and which wood; what is answered already is not asked again."""
    env, case = session.env, session.case
    if not case.owner and (owner := free_text(env, "Whose is it?")):
        session.keep(replace(session.case, owner=owner))
    if not case.owner_says and (says := free_text(env, "What does the owner say, in the owner's own words?")):
        session.keep(replace(session.case, owner_says=says))
    if case.value is None and (value := _value(env)) is not None:
        session.keep(replace(session.case, value=value))
    if case.wood is None and (wood := _wood(env, session.knowledge)) is not None:
        session.keep(replace(session.case, wood=wood))


def parse_amount(text: str) -> float:
    """A sum of money as people write it, currency before or behind. Raises ValueError for what is none.

    >>> parse_amount("350"), parse_amount("EUR 1,250"), parse_amount("1.250,50 EUR"), parse_amount("$1,250.5")
    (350.0, 1250.0, 1250.5, 1250.5)
    """
    found = _AMOUNT.fullmatch(text)
    if found is None:
        raise ValueError(text)
    figure = found[1].rstrip(".,'")
    cents = _CENTS.search(figure)
    whole = figure[: cents.start()] if cents is not None else figure
    amount = float(re.sub(r"[.,']", "", whole) + (f".{cents[1]}" if cents is not None else ""))
    if not 0.0 < amount < LARGEST:
        raise ValueError(text)
    return amount


def _value(env: Environment) -> float | None:
    while True:
        line = free_text(env, "What is it worth, as the owner puts it?")
        if not line:
            return None
        try:
            return parse_amount(line)
        except ValueError:
            env.say(f"Not understood. A number above 0 and below {LARGEST:,.0f}, like 350.")


def _wood(env: Environment, knowledge: Knowledge) -> str | None:
    names = {wood.id: wood.name for wood in knowledge.woods.values()}
    while True:
        line = free_text(env, "Which wood?")
        if not line:
            return None
        found = None if line.isdecimal() else match(line, names)
        if found is not None:
            return found
        env.say(f"Not understood. {first_up(nearest(line.lower(), [n.lower() for n in names.values()]))} Enter if nobody knows.")


def parse_map(text: str, joints: list[str]) -> dict[str, str]:
    """A joint map from one line.

    Raises ValueError with what is not understood.

    >>> parse_map("all tight but 2", ["a", "b"])
    {'a': 'tight', 'b': 'moves'}
    >>> parse_map("1 move, 2 broken", ["a", "b"])
    {'a': 'moves', 'b': 'broken'}
    """
    states = {label: state for state, label in words.JOINT_STATES.items()} | {
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
        numbers = [piece for piece in pieces if piece.isdecimal()]
        state = " ".join(piece for piece in pieces if not piece.isdecimal())
        if not numbers:
            raise ValueError(f"{entry!r} names no joint by its number")
        found.update(dict.fromkeys(_numbers(numbers, joints), _state(state or "moves", states)))
    return found


def _state(text: str, states: dict[str, str]) -> str:
    word = " ".join(text.split())
    if word not in states:
        raise ValueError(f"{text!r} is no state of a joint; {nearest(word, states)}")
    return states[word]


def _numbers(texts: list[str], joints: list[str]) -> list[str]:
    found = []
    for text in texts:
        if not text.isdecimal() or not 1 <= int(text) <= len(joints):
            raise ValueError(f"there is no joint {text}; they run from 1 to {len(joints)}")
        found.append(joints[int(text) - 1])
    return found


def ask_map(session: Session) -> None:
    """Ask for the joint map in one line."""
    env, piece = session.env, session.knowledge.pieces[session.case.piece]
    joints = [joint.id for joint in piece.joints]
    env.say()
    env.say(env.strong(f"Joint map of the {piece.name.lower()}"))
    show_choices(env, {joint: plain(joint) for joint in joints})
    env.say(MAP_HELP)
    while True:
        line = env.ask("> ")
        if line.lower() in ("s", "stop"):
            raise Command("s")
        try:
            found = parse_map(line, joints)
        except ValueError as error:
            env.say(f"Not understood: {error}.")
            continue
        session.keep(replace(session.case, joints=found))
        return


def ask_damage(session: Session) -> None:
    """Ask what is wrong, on which part, at which joint."""
    kind = choose(session.env, "What is wrong?", words.DAMAGES)
    assert kind is not None
    used = {damage.id for damage in session.case.damages}
    name = next(n for n in (f"damage_{i}" for i in range(1, len(used) + 2)) if n not in used)
    session.keep(replace(session.case, damages=(*session.case.damages, Damage(id=name, kind=kind))))
    finish_damage(session, name)
    found_by = choose(session.env, "Who found it?", {"owner": "the owner brought it for this", "us": "we found it"})
    _keep_damage(session, replace(session.case.damage(name), found_by=found_by or "owner"))


def finish_damage(session: Session, damage_id: str) -> None:
    """Ask what is not said yet about a damage."""
    env, piece = session.env, session.knowledge.pieces[session.case.piece]
    damage = session.case.damage(damage_id)
    if damage.part is None and damage.joint is None:
        part = choose(env, "On which part?", {part: plain(part) for part in piece.parts}, optional=True)
        damage = replace(damage, part=part)
        _keep_damage(session, damage)
    joints = [joint for joint in piece.joints if damage.part is None or damage.part in joint.joins]
    if damage.joint is None and joints:
        joint = choose(env, "At which joint?", {j.id: plain(j.id) for j in joints}, optional=True)
        damage = replace(damage, joint=joint)
        _keep_damage(session, damage)
    entry = piece.joint(damage.joint) if damage.joint else None
    if "joint" not in damage.facts and (entry is None or len(entry.kind) > 1):
        kinds = {kind: words.JOINT_KINDS[kind] for kind in (entry.kind if entry else words.JOINT_KINDS)}
        chosen = choose(env, "How is that joint made?", kinds, optional=True)
        if chosen is not None:
            damage = replace(damage, facts={**damage.facts, "joint": chosen})
            _keep_damage(session, damage)
    if not damage.says and (says := free_text(env, "What does the owner say about it?")):
        _keep_damage(session, replace(damage, says=says))


def _keep_damage(session: Session, damage: Damage) -> None:
    damages = tuple(damage if old.id == damage.id else old for old in session.case.damages)
    session.keep(replace(session.case, damages=damages))
