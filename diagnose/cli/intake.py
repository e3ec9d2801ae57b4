"""The interview. A session is a set of answers; all else is worked out anew after each of them.

Lines only: no boxes, no moving cursor. Every answer is on disk before the next question, so that Ctrl-C or a power cut loses at
most the answer being typed.
"""

from dataclasses import dataclass, field, replace
from pathlib import Path

from diagnose import words
from diagnose.assess import Assessment, DamageAssessment, assess
from diagnose.case.case import Answer, Case
from diagnose.case.file import parse_reading, read_case, write_case
from diagnose.cli.environment import Environment
from diagnose.cli.errors import stop
from diagnose.cli.prompts import (
    KEY_LINE,
    KEYS,
    Command,
    allowed,
    choose,
    match,
    match_several,
    read_typed,
    show_choices,
)
from diagnose.cli.sheet import ask_damage, ask_map, new_case
from diagnose.decision.inquire import Question
from diagnose.documents.say import place_of, plain, reading_say
from diagnose.rulebase.entries import Sign
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop, read_shop

REASONS = {
    "hazard": "it can show something dangerous, so it comes first",
    "asked_first": "a rule asks for it before a price is given",
    "could_rule_out": "one of its answers would rule out what is advised now",
    "value": "its answer is worth most for the time it takes",
}


@dataclass
class Session:
    """One sitting: the case as it grows, where it is kept, what was put off, and the order of answers for going back."""

    env: Environment
    knowledge: Knowledge
    shop: Shop
    path: Path
    place: str
    case: Case
    later: set[tuple[str, str]] = field(default_factory=set)
    given: list[tuple[str | None, str]] = field(default_factory=list)
    station: str | None = None

    def keep(self, case: Case) -> None:
        """Take the case as it is now and have it on disk before anything else is asked."""
        self.case = case
        write_case(self.path, case, self.knowledge)

    def assessed(self) -> Assessment:
        """The assessment of the case as it stands."""
        return assess(self.case, self.knowledge, self.shop, self.env.today, place=self.place, station=self.station)

    def scope(self, sign: Sign, damage_id: str) -> str | None:
        """Where an answer belongs: to the piece (None) or to the damage."""
        return None if sign.of == "piece" else damage_id

    def answer(self, sign: Sign, damage_id: str, answer: Answer) -> None:
        """Keep one answer."""
        scope = self.scope(sign, damage_id)
        self.given.append((scope, sign.id))
        self.station = sign.station
        self.keep(self.case.with_answer(scope, sign.id, answer))

    def back(self) -> bool:
        """Take the last answer back; False when there is none."""
        if not self.given:
            return False
        scope, sign_id = self.given.pop()
        self.keep(self.case.with_answer(scope, sign_id, None))
        return True


def take_in(env: Environment, path: Path, place: str, answers: Path | None, shop: Path | None, rules: Path | None) -> None:
    """Run the interview at a terminal, or from a file of answers."""
    knowledge = load_knowledge(rules)
    settings = read_shop(shop)
    if answers is not None:
        _replay(env, knowledge, settings, path, place, answers)
        return
    if not env.interactive:
        raise stop(env, "intake needs a terminal to ask at; without one give --answers FILE (a case file to take them from)")
    case = read_case(path, knowledge) if path.exists() else None
    try:
        session = Session(env, knowledge, settings, path, place, case or new_case(env, knowledge))
        session.keep(session.case)
        _sheet(session)
        _ask_all(session)
    except (Command, EOFError):
        env.say("Stopped.")
    if path.exists():
        env.say(f"Kept in {path}. Go on later with the same command.")


def _sheet(session: Session) -> None:
    piece = session.knowledge.pieces[session.case.piece]
    if not session.case.joints:
        session.keep(ask_map(session.env, session.case, piece))
    while not session.case.damages or _another(session):
        damage = ask_damage(session.env, session.case, piece)
        session.keep(replace(session.case, damages=(*session.case.damages, damage)))


def _another(session: Session) -> bool:
    known = ", ".join(place_of(damage) for damage in session.case.damages)
    choice = choose(session.env, f"Noted: {known}. Is there another damage?", {"no": "no", "yes": "yes, another"})
    return choice == "yes"


def _ask_all(session: Session) -> None:
    env = session.env
    for damage_id in [damage.id for damage in session.case.damages]:
        env.say()
        env.say(env.strong(f"— {place_of(session.case.damage(damage_id))} —"))
        env.say(KEY_LINE)
        while True:
            got = _of(session.assessed(), damage_id)
            question = _next(session, got)
            if question is None:
                env.say(f"\nEnough for this damage: {got.questions.because or 'nothing is left to ask here'}.")
                break
            if not _ask(session, got, question):
                continue
            _tell(session, damage_id)


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
    """Ask one sign; True when an answer was given."""
    env, sign = session.env, session.knowledge.signs[question.sign]
    labels = {name: sign.say(name) for name in sign.readings}
    env.say()
    env.say(env.strong(sign.ask or plain(sign.id)))
    env.say(f"  {sign.look}")
    if sign.kind == "tick_all":
        env.say("  (several may be named, parted by commas; none if none)")
    show_choices(env, labels)
    while True:
        line = env.ask("> ")
        if line in KEYS:
            if _key(session, got, sign, question, line):
                return line == "t"
            continue
        typed = read_typed(line)
        answer = _understood(sign, typed.text, typed.unsure, labels, session.place)
        if isinstance(answer, Answer):
            session.answer(sign, got.damage.id, answer)
            return True
        env.say(answer)


def _by(sign: Sign, place: str) -> str:
    if sign.effort == "ask":
        return "owner"
    if place == "photos":
        return "photograph"
    return "measured" if sign.effort == "measure" else "seen"


def _understood(sign: Sign, text: str, unsure: bool, labels: dict[str, str], place: str) -> Answer | str:
    """The answer, or what may be typed instead."""
    by = _by(sign, place)
    if not text:
        return allowed(list(labels), sign.kind == "tick_all")
    if sign.kind == "tick_all":
        several = match_several(text, labels)
        return Answer(several, by, unsure) if several is not None else allowed(list(labels), True)
    one = match(text, labels)
    if one is not None and not (sign.kind == "measure" and not text.isdigit() and text not in labels):
        return Answer((one,), by, unsure)
    if sign.measure is not None:
        try:
            reading, measured = parse_reading(sign, text)
        except ValueError as error:
            return f"Not understood: {error}"
        return Answer((reading,), by, unsure, measured=measured)
    return Answer((one,), by, unsure) if one is not None else allowed(list(labels))


def _key(session: Session, got: DamageAssessment, sign: Sign, question: Question, key: str) -> bool:
    """Do what a key says; True when the question is done with."""
    env = session.env
    if key == "s":
        raise Command("s")
    if key == "t":
        session.answer(sign, got.damage.id, Answer((), _by(sign, session.place), cannot_tell=True))
        return True
    if key == "l":
        session.later.add((got.damage.id, sign.id))
        return True
    if key == "b":
        if not session.back():
            env.say("Nothing to take back.")
            return False
        return True
    if key == "a":
        return _answers(session, got)
    worth = f"worth about {session.shop.currency} {question.value:.2f} in {question.minutes:.1f} minutes"
    env.say(f"  Because {REASONS[question.reason]} ({worth}).")
    return False


def _answers(session: Session, got: DamageAssessment) -> bool:
    """List the answers; a number asks that one again. True when one is to be changed."""
    env, case, knowledge = session.env, session.case, session.knowledge
    entries: list[tuple[str | None, str, Answer]] = [(None, name, answer) for name, answer in case.readings.items()]
    entries += [(d.id, name, answer) for d in case.damages for name, answer in d.readings.items()]
    if not entries:
        env.say("  No answers yet.")
        return False
    for number, (scope, name, answer) in enumerate(entries, start=1):
        sign = knowledge.signs[name]
        note = " (unsure)" if answer.unsure else " (not counted now)" if name in got.facts.greyed else ""
        where = f" [{scope}]" if scope else ""
        env.say(f"  {number:2d}  {sign.ask}{where} {reading_say(sign, answer)}{note}")
    line = env.ask("number to change, Enter goes on > ")
    if line.isdigit() and 1 <= int(line) <= len(entries):
        scope, name, _ = entries[int(line) - 1]
        session.keep(case.with_answer(scope, name, None))
        session.given = [item for item in session.given if item != (scope, name)]
        return True
    return False


def _tell(session: Session, damage_id: str) -> None:
    """Leading causes and present advice, in two lines."""
    assessment = session.assessed()
    got = _of(assessment, damage_id)
    knowledge, env = session.knowledge, session.env
    leading = got.causes_by_probability()[:3]
    causes = ", ".join(f"{knowledge.causes[name].name.lower()} {words.rounded_percent(p)}" for name, p in leading)
    env.say(f"  So far: {causes}.")
    advice = f"{knowledge.methods[got.decision.method].name} ({words.CLASSES[got.decision.decision][0]})"
    door = "" if assessment.triage is words.Triage.TAKE_IN else f" At the door: {words.TRIAGE_SAY[assessment.triage]}."
    sure = "" if got.decision.settled else " (something could still rule it out)"
    env.say(f"  Advice now: {advice}{sure}.{door}")


def _replay(env: Environment, knowledge: Knowledge, shop: Shop, path: Path, place: str, answers: Path) -> None:
    """Ask as at a terminal, but take every answer from a case file; what it does not answer is left for later."""
    source = read_case(answers, knowledge)
    blank = replace(source, readings={}, damages=tuple(replace(damage, readings={}) for damage in source.damages))
    session = Session(env, knowledge, shop, path, place, read_case(path, knowledge) if path.exists() else blank)
    session.keep(session.case)
    for damage in source.damages:
        given = source.answers(damage)
        while True:
            got = _of(session.assessed(), damage.id)
            question = _next(session, got)
            if question is None:
                break
            sign = knowledge.signs[question.sign]
            answer = given.get(sign.id)
            if answer is None:
                session.later.add((damage.id, sign.id))
                continue
            env.say(f"{sign.ask} {reading_say(sign, answer)}")
            session.answer(sign, damage.id, answer)
            _tell(session, damage.id)
    env.say(f"Kept in {path}.")
