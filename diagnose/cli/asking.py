"""Asking one sign: question, how to look, numbered readings; then an answer or a key."""

from collections.abc import Container, Iterable, Mapping

from diagnose.case.case import Answer, Case, Damage
from diagnose.case.naming import is_figure, parse_reading
from diagnose.cli.environment import Environment
from diagnose.cli.meaning import heard
from diagnose.cli.prompts import KEYS, SPOKEN_KEYS, Command, allowed, match, match_several, read_typed, show_choices
from diagnose.reasoning.facts import Values, case_values, may_apply
from diagnose.rulebase.entries import Sign, When
from diagnose.rulebase.knowledge import Knowledge


def speaker(sign: Sign, place: str) -> str:
    """Who says so: the owner where the owner is asked, else a photograph, a measure or our own eyes."""
    if sign.effort == "ask":
        return "owner"
    if place == "photos":
        return "photograph"
    return "measured" if sign.effort == "measure" else "seen"


def readings_of_piece(sign: Sign, values: Values) -> tuple[str, ...]:
    """The readings of a sign that can be seen where these facts hold."""
    return tuple(name for name, reading in sign.readings.items() if may_apply(reading.when, When(), values))


def readings_here(knowledge: Knowledge, case: Case, damage: Damage, sign: Sign) -> tuple[str, ...]:
    """The readings of a sign that can be seen at a damage: with its joint named, those that suit both of the parts joined there."""
    values = case_values(knowledge, case, damage)
    joint = knowledge.pieces[case.piece].joint(damage.joint) if damage.joint else None
    if joint is None:
        return readings_of_piece(sign, values)
    suited = [set(readings_of_piece(sign, {**values, "part": frozenset({part})})) for part in joint.joins]
    return tuple(name for name in sign.readings if all(name in found for found in suited))


def put_question(env: Environment, sign: Sign, place: str, readings: Iterable[str], keys: Container[str] = KEYS) -> Answer | str:
    """Ask one sign: an answer, or the key that was typed."""
    shown = tuple(readings)
    show_question(env, sign, shown)
    return read_answer(env, sign, place, shown, keys)


def show_question(env: Environment, sign: Sign, readings: Iterable[str]) -> None:
    """The question, how to look, and the readings with their numbers."""
    env.say()
    env.say(env.strong(sign.ask or sign.called))
    env.say(f"  {sign.look}")
    if sign.kind == "tick_all":
        env.say("  (several may be named, parted by commas; none if none)")
    if sign.measure is not None:
        env.say(f"  (or the figure with its unit, as 2 {sign.measure.unit})")
    show_choices(env, _labels(sign, readings))


def read_answer(env: Environment, sign: Sign, place: str, readings: Iterable[str], keys: Container[str] = KEYS) -> Answer | str:
    """An answer to a sign, or the key that was typed; what is neither is asked again below. Stop raises Command."""
    labels = _labels(sign, readings)
    several = sign.kind == "tick_all"
    while True:
        line = heard(env, "> ")
        key, answer = line.lower(), ""
        if key not in KEYS:
            found = understood(sign, line, place, labels)
            if isinstance(found, Answer):
                return found
            key, answer = SPOKEN_KEYS.get(key, ""), found
        if key == "s":
            raise Command(key)
        if key and key in keys:
            return Answer((), speaker(sign, place), cannot_tell=True) if key == "t" else key
        env.say(answer or allowed(labels, several=several))


def understood(sign: Sign, line: str, place: str, labels: Mapping[str, str] | None = None) -> Answer | str:
    """The answer that a line gives to a sign, or what may be typed instead. `labels` are the readings that were shown."""
    labels = _labels(sign, sign.readings) if labels is None else labels
    by, typed = speaker(sign, place), read_typed(line)
    if sign.kind == "tick_all":
        several = match_several(typed.text, labels) if typed.text else None
        return Answer(several, by, typed.unsure) if several is not None else allowed(labels, typed.text, True)
    if is_figure(sign, typed.text) and not typed.text.isdecimal():
        try:
            reading, measured = parse_reading(sign, typed.text)
        except ValueError as error:
            return f"Not understood: {error}."
        return Answer((reading,), by, typed.unsure, measured=measured)
    one = match(typed.text, labels) if typed.text else None
    return Answer((one,), by, typed.unsure) if one is not None else allowed(labels, typed.text)


def _labels(sign: Sign, readings: Iterable[str]) -> dict[str, str]:
    return {name: sign.say(name) for name in readings}
