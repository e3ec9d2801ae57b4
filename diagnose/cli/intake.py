"""Taking a piece in: the sheet, then the interview. A session is a set of answers; all else is worked out anew after each of them.

Lines only: no boxes, no moving cursor. Every answer is on disk before the next question, so that Ctrl-C or a power cut loses at
most the answer being typed.
"""

import os
import shlex
import time
from pathlib import Path

from diagnose import words
from diagnose.case.case import Case
from diagnose.case.read import read_case
from diagnose.case.write import sweep_parts
from diagnose.cli.damages import ask_damages
from diagnose.cli.door import at_the_door, is_fresh, is_turned_away
from diagnose.cli.environment import Environment
from diagnose.cli.errors import stop
from diagnose.cli.interview import ask_all
from diagnose.cli.joint_map import ask_map, map_said
from diagnose.cli.prompts import Back, Command, Line, walk
from diagnose.cli.replay import blank, must_fit, replay
from diagnose.cli.session import Session, bytes_of
from diagnose.cli.sheet import Kind, ask_kind, kind_line, page_lines
from diagnose.documents.letters.answer import REFUSED
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
    begun: Session | None = None
    try:
        new = case is None
        if case is None:
            kind = _first_kind(env, knowledge)
            case = Case(piece=kind.piece, called=kind.called, count=kind.count, taken_in=env.today)
        begun = session = Session(env, knowledge, settings, path, place, case, on_disk)
        session.keep(case)
        _sheet(session, new)
        ask_all(session)
    except (Command, EOFError) as ended:
        env.say("Stopped." if isinstance(ended, Command) else "\nStopped.")
    if path.exists():
        env.say(f"Kept in {path}. Go on later with the same command.")
    if begun is not None and begun.case.damages:
        given = "".join(f" --{name} {shlex.quote(str(at))}" for name, at in (("shop", shop), ("rules", rules)) if at is not None)
        _say_next(begun, f"{shlex.quote(str(path))}{given}")


def _say_next(session: Session, options: str) -> None:
    """What to run now: the paper that goes out at once, then why, then the letter; each command on a line of its own."""
    env, letter = session.env, f"diagnose letter {options}"
    lines = {"Why, and what is advised:": f"diagnose assess {options}", "The estimate for the owner:": letter}
    if session.assessed().triage in REFUSED:
        lines = {"The letter that says why it is not taken in:": letter}
    elif session.place == NO_HANDS:
        slip = {"For the owner until it is brought:": f"{letter} --form until_you_bring_it"}
        lines = slip | lines | {"When it comes in:": f"diagnose intake {options} --at counter"}
    else:
        lines = {"The receipt, in two copies:": f"{letter} --form receipt"} | lines
    env.say()
    for what, command in lines.items():
        env.say(what)
        env.say(f"  {command}")


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

    def wants_map() -> bool:
        return session.place != NO_HANDS and not session.case.joints and not is_turned_away(session)

    lines = [
        kind_line(session),
        *(page_lines(session) if fresh else []),
        Line("At the door", lambda: "", lambda: fresh, lambda: at_the_door(session)),
        Line("Joint map", lambda: map_said(session), wants_map, lambda: ask_map(session)),
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
