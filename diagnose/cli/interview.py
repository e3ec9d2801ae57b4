"""One question at a time: the most worth asking first, what it means in two lines after each answer, and an end in sensible time."""

from collections.abc import Container

from diagnose import words
from diagnose.assess import Assessment, DamageAssessment
from diagnose.case.case import Answer
from diagnose.cli.answers import change_one
from diagnose.cli.asking import put_question, read_answer, readings_here, show_question, speaker
from diagnose.cli.damages import title
from diagnose.cli.door import NOT_TAKEN_IN
from diagnose.cli.prompts import KEY_LINE, Command, is_stop
from diagnose.cli.session import Session
from diagnose.decision.inquire import Question
from diagnose.documents.say import provided, reading_say
from diagnose.rulebase.entries import Sign

REASONS = {
    "hazard": "it can show something dangerous, so it comes first",
    "asked_first": "a rule asks for it before a price is given",
    "could_rule_out": "one of its answers would rule out what is advised now",
    "value": "its answer is worth most for the time it takes",
}
HAZARD, *_, BY_WORTH = REASONS
# Below this no cause is called leading.
STANDS_OUT = 0.2


def ask_all(session: Session) -> None:
    """One question at a time, damage by damage; a change that opens an earlier damage again goes back to it."""
    env = session.env
    at = ""
    finished: set[str] = set()
    assessment = session.assessed()
    while True:
        if assessment.triage in NOT_TAKEN_IN:
            if not _turned_away(session, assessment):
                return
            assessment = session.assessed()
            continue
        sent_on = assessment.triage is words.Triage.REFER
        for got in assessment.damages:
            question = next_question(session, got, sent_on=sent_on)
            if question is not None:
                break
            if got.damage.id not in finished and not sent_on:
                finished.add(got.damage.id)
                _close(session, got)
        else:
            if sent_on and _turned_away(session, assessment):
                assessment = session.assessed()
                continue
            return
        if got.damage.id != at:
            at = got.damage.id
            env.say()
            env.say(env.strong(f"— {title(got.damage)} —"))
            env.say(KEY_LINE)
        answered = _ask(session, got, question)
        assessment = session.assessed()
        if answered:
            tell(session, assessment, at)


def _turned_away(session: Session, assessment: Assessment) -> bool:
    """Say that it is not taken in or goes to others, and why; True when an answer was changed after all."""
    env = session.env
    env.say()
    env.say(env.strong(f"At the door: {words.TRIAGE_SAY[assessment.triage]}.") + " " + " ".join(assessment.triage_because))
    env.say("So nothing more is asked.")
    while True:
        line = env.ask("Enter ends; a lists the answers, any of which can be changed > ")
        if not line:
            return False
        if is_stop(line):
            raise Command("s")
        if line.lower() == "a" and change_one(session, ()):
            return True


def of_damage(assessment: Assessment, damage_id: str) -> DamageAssessment:
    """What the assessment says of one damage."""
    return next(damage for damage in assessment.damages if damage.damage.id == damage_id)


def next_question(
    session: Session, got: DamageAssessment, answered: Container[str] = (), sent_on: bool = False
) -> Question | None:
    """What to ask now, or None when it is time to stop.

    A sign of which nothing can be seen on this piece is passed over, unless its answer is at hand in `answered`. Of a piece that is
    sent on to others only what may be dangerous is asked: they look at it themselves.
    """
    waiting = [
        q
        for q in got.questions.ranked
        if (got.damage.id, q.sign) not in session.later
        and (q.reason == HAZARD or not sent_on)
        and (q.sign in answered or _readings(session, got, q))
    ]
    if not waiting or (got.questions.stop and not any(q.reason != "value" for q in waiting)):
        return None
    if all(q.reason == "value" for q in waiting):
        rate = session.shop.rate_per_hour / 60.0
        if max(q.per_minute for q in waiting) < rate:
            return None
    return waiting[0]


def _readings(session: Session, got: DamageAssessment, question: Question) -> tuple[str, ...]:
    """The readings of a sign that can be seen at this damage."""
    return readings_here(session.knowledge, session.case, got.damage, session.knowledge.signs[question.sign])


def _keep_told(session: Session, got: DamageAssessment, sign: Sign, readings: tuple[str, ...]) -> None:
    answer = Answer(readings, speaker(sign, session.place))
    session.env.say(f"  From the sheet: {sign.ask} {reading_say(sign, answer)}.")
    session.keep(session.case.with_answer(None if sign.of == "piece" else got.damage.id, sign.id, answer))


def _ask(session: Session, got: DamageAssessment, question: Question) -> bool:
    """Ask one sign; True when an answer was given or changed."""
    env, sign = session.env, session.knowledge.signs[question.sign]
    readings = _readings(session, got, question)
    if len(readings) == 1:  # Part and joint have said it already.
        _keep_told(session, got, sign, readings)
        return False
    typed = put_question(env, sign, session.place, readings)
    while True:
        if isinstance(typed, Answer):
            session.answer(sign, got.damage.id, typed)
            return True
        if typed == "l":
            session.later.add((got.damage.id, sign.id))
            return False
        if typed == "b":
            if session.back():
                return False
            env.say("Nothing to take back in this sitting; a lists everything, and any of it can be changed.")
        elif typed == "a":
            if change_one(session, got.facts.greyed):
                return True
            show_question(env, sign, readings)
        else:
            worth = f" (worth about {session.shop.currency} {question.value:.2f} in {question.minutes:.1f} minutes)"
            env.say(f"  Because {REASONS[question.reason]}{worth if question.reason == BY_WORTH else ''}.")
        typed = read_answer(env, sign, session.place, readings)


def _close(session: Session, got: DamageAssessment) -> None:
    """Why it stops here, and what the advice still hangs on."""
    env = session.env
    because = got.questions.because if got.questions.stop else "nothing more can be asked here and now"
    env.say()
    env.say(f"Enough here ({title(got.damage)}): {because}.")
    put_off = [session.knowledge.signs[sign].ask or "" for damage, sign in sorted(session.later) if damage == got.damage.id]
    if put_off:
        env.say(f"Put off, and asked when the command is given again: {' '.join(put_off)}")
    hangs_on = provided(session.knowledge, got.decision.provided_that)
    if hangs_on:
        env.say("The advice holds as long as none of this is found:")
        for line in hangs_on:
            env.say(f"  {line}")


def tell(session: Session, assessment: Assessment, damage_id: str) -> None:
    """Leading causes and present advice, in two lines; one line where an answer left both as they were."""
    got = of_damage(assessment, damage_id)
    knowledge, env = session.knowledge, session.env
    leading = got.causes_by_probability()[:3]
    causes = ", ".join(f"{knowledge.causes[name].name.lower()} {words.rounded_percent(p)}" for name, p in leading)
    flat = not leading or leading[0][1] < STANDS_OUT
    advice = f"{knowledge.methods[got.decision.method].name} ({words.CLASSES[got.decision.decision][0]})"
    door = "" if assessment.triage is words.Triage.TAKE_IN else f" At the door: {words.TRIAGE_SAY[assessment.triage]}."
    sure = "" if got.decision.settled else " (something could still rule it out)"
    told = (
        f"  So far: {'nothing stands out yet; ' if flat else ''}{causes}.",
        f" {door}" if assessment.triage is words.Triage.REFER else f"  Advice now: {advice}{sure}.{door}",
    )
    if session.told.get(damage_id) == told:
        env.say("  Nothing changes so far.")
        return
    session.told[damage_id] = told
    for line in told:
        env.say(line)
