"""The interview. A session is a set of answers; all else is worked out anew after each of them.

Lines only: no boxes, no moving cursor. Every answer is on disk before the next question, so that Ctrl-C or a power cut loses at
most the answer being typed.
"""

import os
from dataclasses import replace
from pathlib import Path

from diagnose import words
from diagnose.assess import Assessment, DamageAssessment
from diagnose.case.case import Answer, Case
from diagnose.case.file import read_case
from diagnose.cli.asking import change_one, read_answer, show_question
from diagnose.cli.door import at_the_door, is_fresh
from diagnose.cli.environment import Environment
from diagnose.cli.errors import stop
from diagnose.cli.prompts import KEY_LINE, Command, choose
from diagnose.cli.session import Session
from diagnose.cli.sheet import ask_damage, ask_kind, ask_map, finish_damage, first_page
from diagnose.decision.inquire import Question
from diagnose.documents.say import place_of, reading_say
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import read_shop

REASONS = {
    "hazard": "it can show something dangerous, so it comes first",
    "asked_first": "a rule asks for it before a price is given",
    "could_rule_out": "one of its answers would rule out what is advised now",
    "value": "its answer is worth most for the time it takes",
}
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
    source = read_case(answers, knowledge) if answers is not None else None
    case = read_case(path, knowledge) if path.exists() else None
    if source is not None:
        session = Session(env, knowledge, settings, path, place, case or _blank(source))
        _must_fit(session, source)
        _replay(session, source)
        return
    try:
        if case is None:
            case = Case(piece=ask_kind(env, knowledge), taken_in=env.today)
        session = Session(env, knowledge, settings, path, place, case)
        session.keep(case)
        _sheet(session)
        _ask_all(session)
    except (Command, EOFError) as ended:
        env.say("Stopped." if isinstance(ended, Command) else "\nStopped.")
    if path.exists():
        env.say(f"Kept in {path}. Go on later with the same command.")


def _must_be_writable(env: Environment, path: Path) -> None:
    """Say it before the first question, not after the first answer."""
    if not path.parent.is_dir():
        raise stop(env, f"{path}: there is no folder {path.parent}")
    if not os.access(path.parent, os.W_OK):
        raise stop(env, f"{path}: the folder cannot be written to")


def _sheet(session: Session) -> None:
    if is_fresh(session.case, session.knowledge):
        first_page(session)
        at_the_door(session)
    if not session.case.joints and session.place != NO_HANDS:
        ask_map(session)
    if session.case.damages and not session.case.damages[-1].readings:
        finish_damage(session, session.case.damages[-1].id)
    while not session.case.damages or _another(session):
        ask_damage(session)


def _another(session: Session) -> bool:
    known = ", ".join(place_of(damage) for damage in session.case.damages)
    choice = choose(session.env, f"Noted: {known}. Is there another damage?", {"no": "no", "yes": "yes, another"})
    return choice == "yes"


def _ask_all(session: Session) -> None:
    """One question at a time, damage by damage; a change that opens an earlier damage again goes back to it."""
    env = session.env
    at = ""
    finished: set[str] = set()
    assessment = session.assessed()
    while True:
        for got in assessment.damages:
            question = _next(session, got)
            if question is not None:
                break
            if got.damage.id not in finished:
                finished.add(got.damage.id)
                because = got.questions.because or "nothing is left to ask here"
                env.say(f"\nEnough for the {place_of(got.damage)}: {because}.")
        else:
            return
        if got.damage.id != at:
            at = got.damage.id
            env.say()
            env.say(env.strong(f"— {place_of(got.damage)} —"))
            env.say(KEY_LINE)
        answered = _ask(session, got, question)
        assessment = session.assessed()
        if answered:
            _tell(session, assessment, at)


def _of(assessment: Assessment, damage_id: str) -> DamageAssessment:
    return next(damage for damage in assessment.damages if damage.damage.id == damage_id)


def _next(session: Session, got: DamageAssessment) -> Question | None:
    waiting = [q for q in got.questions.ranked if (got.damage.id, q.sign) not in session.later]
    if not waiting or (got.questions.stop and not any(q.reason != "value" for q in waiting)):
        return None
    if all(q.reason == "value" for q in waiting):
        rate = session.shop.rate_per_hour / 60.0
        if max(q.per_minute for q in waiting) < rate:
            return None
    return waiting[0]


def _ask(session: Session, got: DamageAssessment, question: Question) -> bool:
    """Ask one sign; True when an answer was given or changed."""
    env, sign = session.env, session.knowledge.signs[question.sign]
    show_question(env, sign)
    while True:
        typed = read_answer(env, sign, session.place)
        if isinstance(typed, Answer):
            session.answer(sign, got.damage.id, typed)
            return True
        if typed == "l":
            session.later.add((got.damage.id, sign.id))
            return False
        if typed == "b":
            if session.back():
                return False
            env.say("Nothing to take back.")
        elif typed == "a":
            if change_one(session, got.facts.greyed):
                return True
            show_question(env, sign)
        else:
            worth = f"worth about {session.shop.currency} {question.value:.2f} in {question.minutes:.1f} minutes"
            env.say(f"  Because {REASONS[question.reason]} ({worth}).")


def _tell(session: Session, assessment: Assessment, damage_id: str) -> None:
    """Leading causes and present advice, in two lines."""
    got = _of(assessment, damage_id)
    knowledge, env = session.knowledge, session.env
    leading = got.causes_by_probability()[:3]
    causes = ", ".join(f"{knowledge.causes[name].name.lower()} {words.rounded_percent(p)}" for name, p in leading)
    env.say(f"  So far: {causes}.")
    advice = f"{knowledge.methods[got.decision.method].name} ({words.CLASSES[got.decision.decision][0]})"
    door = "" if assessment.triage is words.Triage.TAKE_IN else f" At the door: {words.TRIAGE_SAY[assessment.triage]}."
    sure = "" if got.decision.settled else " (something could still rule it out)"
    env.say(f"  Advice now: {advice}{sure}.{door}")


def _blank(source: Case) -> Case:
    """The case that a file of answers tells of, with nothing answered yet."""
    return replace(source, readings={}, damages=tuple(replace(damage, readings={}) for damage in source.damages))


def _must_fit(session: Session, source: Case) -> None:
    """Answers belong to the case they are given to."""
    case, env, path = session.case, session.env, session.path
    if case.piece != source.piece:
        names = session.knowledge.pieces
        wanted, have = names[source.piece].name.lower(), names[case.piece].name.lower()
        raise stop(env, f"{path}: this case is of a {have}, the answers are of a {wanted}")
    known = {damage.id: damage.kind for damage in case.damages}
    for damage in source.damages:
        if known.get(damage.id) != damage.kind:
            have = ", ".join(f"{name} ({words.DAMAGES[kind]})" for name, kind in known.items()) or "none"
            raise stop(
                env,
                f"{path}: this case has no damage {damage.id} ({words.DAMAGES[damage.kind]}) as the answers have; "
                f"its damages: {have}",
            )


def _replay(session: Session, source: Case) -> None:
    """Ask as at a terminal, but take every answer from a case file; what it does not answer is left for later."""
    env = session.env
    session.keep(session.case)
    for damage in source.damages:
        given = source.answers(damage)
        assessment = session.assessed()
        while True:
            question = _next(session, _of(assessment, damage.id))
            if question is None:
                break
            sign = session.knowledge.signs[question.sign]
            answer = given.get(sign.id)
            if answer is None:
                session.later.add((damage.id, sign.id))
                continue
            env.say(f"{sign.ask} {reading_say(sign, answer)}")
            session.answer(sign, damage.id, answer)
            assessment = session.assessed()
            _tell(session, assessment, damage.id)
    unasked = _answered(source) - _answered(session.case)
    if unasked:
        env.say(f"Not asked for, and so left out: {len(unasked)} of the answers.")
    env.say(f"Kept in {session.path}.")


def _answered(case: Case) -> set[tuple[str, str]]:
    return {("", name) for name in case.readings} | {(d.id, name) for d in case.damages for name in d.readings}
