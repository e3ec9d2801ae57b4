"""Asking one sign: question, how to look, numbered readings; then an answer or a key."""

from collections.abc import Container

from diagnose.case.case import Answer
from diagnose.case.file import parse_reading
from diagnose.cli.environment import Environment
from diagnose.cli.prompts import KEYS, Command, allowed, match, match_several, read_typed, show_choices
from diagnose.cli.session import Session
from diagnose.documents.say import plain, reading_say
from diagnose.rulebase.entries import Sign


def speaker(sign: Sign, place: str) -> str:
    """Who says so: the owner where the owner is asked, else a photograph, a measure or our own eyes."""
    if sign.effort == "ask":
        return "owner"
    if place == "photos":
        return "photograph"
    return "measured" if sign.effort == "measure" else "seen"


def show_question(env: Environment, sign: Sign) -> None:
    """The question, how to look, and the readings with their numbers."""
    env.say()
    env.say(env.strong(sign.ask or plain(sign.id)))
    env.say(f"  {sign.look}")
    if sign.kind == "tick_all":
        env.say("  (several may be named, parted by commas; none if none)")
    if sign.measure is not None:
        env.say(f"  (or the figure with its unit, as 2 {sign.measure.unit})")
    show_choices(env, _labels(sign))


def read_answer(env: Environment, sign: Sign, place: str, keys: Container[str] = KEYS) -> Answer | str:
    """An answer to a sign, or the key that was typed; what is neither is asked again below. Stop raises Command."""
    while True:
        line = env.ask("> ")
        key = line.lower()
        if key == "s":
            raise Command(key)
        if key == "t" and key in keys:
            return Answer((), speaker(sign, place), cannot_tell=True)
        if key in KEYS and key in keys:
            return key
        answer = understood(sign, line, place)
        if isinstance(answer, Answer):
            return answer
        env.say(answer)


def understood(sign: Sign, line: str, place: str) -> Answer | str:
    """The answer that a line gives to a sign, or what may be typed instead."""
    by, labels, typed = speaker(sign, place), _labels(sign), read_typed(line)
    if sign.kind == "tick_all":
        several = match_several(typed.text, labels) if typed.text else None
        return Answer(several, by, typed.unsure) if several is not None else allowed(list(labels), True)
    if sign.measure is not None and any(letter.isnumeric() for letter in typed.text) and not typed.text.isdecimal():
        try:
            reading, measured = parse_reading(sign, typed.text)
        except ValueError as error:
            return f"Not understood: {error}."
        return Answer((reading,), by, typed.unsure, measured=measured)
    one = match(typed.text, labels) if typed.text else None
    return Answer((one,), by, typed.unsure) if one is not None else allowed(list(labels))


def _labels(sign: Sign) -> dict[str, str]:
    return {name: sign.say(name) for name in sign.readings}


def change_one(session: Session, greyed: Container[str]) -> bool:
    """List the answers so far; a number asks that one again. True when one was changed; until then the old one stays."""
    env, case, knowledge = session.env, session.case, session.knowledge
    entries = [("", name, answer) for name, answer in case.readings.items()]
    entries += [(d.id, name, answer) for d in case.damages for name, answer in d.readings.items()]
    if not entries:
        env.say("  No answers yet.")
        return False
    for number, (damage_id, name, answer) in enumerate(entries, start=1):
        sign = knowledge.signs[name]
        note = " (unsure)" if answer.unsure else " (not counted now)" if name in greyed else ""
        where = f" [{plain(damage_id)}]" if damage_id else ""
        env.say(f"  {number:2d}  {sign.ask}{where} {reading_say(sign, answer)}{note}")
    while True:
        line = env.ask("number to change, Enter goes on > ")
        if not line:
            return False
        if line.isdecimal() and 1 <= int(line) <= len(entries):
            break
        env.say(f"Not understood. A number from 1 to {len(entries)}, or Enter.")
    damage_id, name, _ = entries[int(line) - 1]
    sign = knowledge.signs[name]
    show_question(env, sign)
    typed = read_answer(env, sign, session.place, "tlb")
    if not isinstance(typed, Answer):
        env.say("  Left as it was.")
        return False
    session.answer(sign, damage_id, typed)
    return True
