"""The answers so far: the lines of the sheet and the readings, in one list, any of which can be changed."""

from collections.abc import Callable, Container, Iterator
from functools import partial

from diagnose.case.case import Answer, Case
from diagnose.cli.asking import put_question, readings_here
from diagnose.cli.damages import damage_lines, title
from diagnose.cli.joint_map import ask_map, map_said
from diagnose.cli.prompts import Back, Command, Line, is_stop
from diagnose.cli.session import Session
from diagnose.cli.sheet import kind_line, page_lines
from diagnose.documents.say import reading_say

NOTHING = "–"


def sheet_lines(session: Session) -> Iterator[Line]:
    """Every line of the sheet that can be changed: the piece, its joint map, each damage."""
    yield kind_line(session)
    yield from page_lines(session)
    yield Line("Joint map", lambda: map_said(session), lambda: False, lambda: ask_map(session))
    several = len(session.case.damages) > 1
    for damage in session.case.damages:
        seen: set[str] = set()
        for line in damage_lines(session, damage.id):
            if line.name not in seen:
                seen.add(line.name)
                name = f"{line.name} [{title(damage)}]" if several else line.name
                yield Line(name, line.now, line.wanted, line.ask)


def _readings(session: Session, greyed: Container[str]) -> Iterator[tuple[str, Callable[[], bool]]]:
    case, several = session.case, len(session.case.damages) > 1
    entries = [("", "", name, answer) for name, answer in case.readings.items()]
    entries += [(d.id, title(d), name, answer) for d in case.damages for name, answer in d.readings.items()]
    for damage_id, place, name, answer in entries:
        sign = session.knowledge.signs[name]
        note = " (unsure)" if answer.unsure else " (not counted now)" if name in greyed else ""
        where = f" [{place}]" if place and several else ""
        yield f"{sign.ask}{where} {reading_say(sign, answer)}{note}", partial(_ask_again, session, damage_id, name)


def _ask_again(session: Session, damage_id: str, name: str) -> bool:
    sign, case = session.knowledge.signs[name], session.case
    damage = case.damage(damage_id) if damage_id else case.damages[0]
    readings = readings_here(session.knowledge, case, damage, sign)
    typed = put_question(session.env, sign, session.place, readings, "tlb")
    if not isinstance(typed, Answer):
        return False
    session.answer(sign, damage_id, typed)
    return True


def _line_again(session: Session, line: Line) -> bool:
    before: Case = session.case
    try:
        line.ask()
    except Back:
        return False
    return session.case != before


def change_one(session: Session, greyed: Container[str]) -> bool:
    """List the answers so far; a number asks that one again. True when one was changed; until then the old one stays."""
    env = session.env
    entries: list[tuple[str, Callable[[], bool]]] = [
        (f"{line.name.removesuffix('?')}: {line.now() or NOTHING}", partial(_line_again, session, line))
        for line in sheet_lines(session)
    ]
    entries += _readings(session, greyed)
    for number, (said, _) in enumerate(entries, start=1):
        env.say(f"  {number:2d}  {said}")
    while True:
        typed = env.ask("number to change, Enter goes on > ")
        if is_stop(typed):
            raise Command("s")
        if not typed or typed.lower() == "b":
            return False
        if typed.isdecimal() and 1 <= int(typed) <= len(entries):
            break
        env.say(f"Not understood. A number from 1 to {len(entries)}, or Enter.")
    changed = entries[int(typed) - 1][1]()
    if not changed:
        env.say("  Left as it was.")
    return changed
