"""Taking a piece in: the sheet, then the interview. A session is a set of answers; all else is worked out anew after each of them.

Lines only: no boxes, no moving cursor. Every answer is on disk before the next question, so that Ctrl-C or a power cut loses at
most the answer being typed.
"""

import os
import time
from pathlib import Path

from diagnose import words
from diagnose.case.case import Case
from diagnose.case.read import read_case
from diagnose.case.write import sweep_parts
from diagnose.cli.damages import ask_damages
from diagnose.cli.door import at_the_door, is_fresh
from diagnose.cli.environment import Environment
from diagnose.cli.errors import stop
from diagnose.cli.interview import ask_all
from diagnose.cli.joint_map import ask_map, map_said
from diagnose.cli.prompts import Back, Command, Line, walk
from diagnose.cli.replay import blank, must_fit, replay
from diagnose.cli.session import Session, bytes_of
from diagnose.cli.sheet import Kind, ask_kind, kind_line, page_lines
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import read_shop

# A joint is tried by hand, so the map is not asked for where there are no hands.
NO_HANDS = next(iter(words.PLACES))


def take_in(env: Environment, path: Path, place: str, answers: Path | None, shop: Path | None, rules: Path | None) -> None:
    """Run the interview at a terminal, or from a file of answers."""
    knowledge = load_knowledge(rules)
    settings = read_shop(shop)
    if answers is None and not env.interactive:
        raise stop(
            env,
            "intake needs a terminal to ask at; without one give --answers FILE (a case file to take them from)",
        )
    _must_be_writable(env, path)
    sweep_parts(path, time.time())
    source = read_case(answers, knowledge, env.today) if answers is not None else None
    on_disk = bytes_of(path) if path.is_file() else None
    case = read_case(path, knowledge, env.today) if path.exists() else None
    if source is not None:
        session = Session(env, knowledge, settings, path, place, case or blank(source), on_disk)
        must_fit(session, source)
        replay(session, source)
        return
    try:
        new = case is None
        if case is None:
            kind = _first_kind(env, knowledge)
            case = Case(piece=kind.piece, called=kind.called, taken_in=env.today)
        session = Session(env, knowledge, settings, path, place, case, on_disk)
        session.keep(case)
        _sheet(session, new)
        ask_all(session)
    except (Command, EOFError) as ended:
        env.say("Stopped." if isinstance(ended, Command) else "\nStopped.")
    if path.exists():
        env.say(f"Kept in {path}. Go on later with the same command.")
        env.say(f"diagnose assess {path} says why, diagnose letter {path} writes to the owner.")


def _must_be_writable(env: Environment, path: Path) -> None:
    """Say it before the first question, not after the first answer."""
    if not path.parent.is_dir():
        raise stop(env, f"{path}: there is no folder {path.parent}")
    if not os.access(path.parent, os.W_OK):
        raise stop(env, f"{path}: the folder cannot be written to")


def _first_kind(env: Environment, knowledge: Knowledge) -> Kind:
    while True:
        try:
            return ask_kind(env, knowledge)
        except Back:
            env.say("This is the first question; s stops.")


def _sheet(session: Session, new: bool) -> None:
    """Everything that is asked before the first sign; what is answered already is passed over."""
    fresh = new or is_fresh(session.case, session.knowledge)
    has_hands = session.place != NO_HANDS
    lines = [
        kind_line(session),
        *(page_lines(session) if fresh else []),
        Line("At the door", lambda: "", lambda: fresh, lambda: at_the_door(session)),
        Line("Joint map", lambda: map_said(session), lambda: has_hands and not session.case.joints, lambda: ask_map(session)),
        Line("Damages", lambda: "", lambda: True, lambda: ask_damages(session)),
    ]
    start = 1 if new else 0
    while True:
        try:
            walk(lines, start)
        except Back:
            session.env.say("There is nothing before this; s stops.")
            start = 0
        else:
            return
