"""The interview without a terminal: the same questions, answered from a case file."""

from dataclasses import replace

from diagnose import words
from diagnose.case.case import Case
from diagnose.cli.errors import stop
from diagnose.cli.interview import next_question, of_damage, tell
from diagnose.cli.session import Session
from diagnose.documents.say import reading_say


def blank(source: Case) -> Case:
    """The case that a file of answers tells of, with nothing answered yet."""
    return replace(source, readings={}, damages=tuple(replace(damage, readings={}) for damage in source.damages))


def must_fit(session: Session, source: Case) -> None:
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


def replay(session: Session, source: Case) -> None:
    """Ask as at a terminal, but take every answer from a case file; what it does not answer is left for later."""
    env = session.env
    session.keep(session.case)
    for damage in source.damages:
        given = source.answers(damage)
        assessment = session.assessed()
        while True:
            question = next_question(session, of_damage(assessment, damage.id), given)
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
            tell(session, assessment, damage.id)
    unasked = _answered(source) - _answered(session.case)
    if unasked:
        env.say(f"Not asked for, and so left out: {len(unasked)} of the answers.")
    env.say(f"Kept in {session.path}.")


def _answered(case: Case) -> set[tuple[str, str]]:
    return {("", name) for name in case.readings} | {(d.id, name) for d in case.damages for name in d.readings}
