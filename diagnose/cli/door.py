"""At the door: what is looked at before hands go on the piece, as one list that one Enter confirms.

Nearly every piece is dry, clean and ordinary, and asking that one question at a time would cost the minutes of the whole intake.
So the most usual reading of each is shown, and whoever stands at the door answers only what is otherwise.
"""

from collections.abc import Mapping
from dataclasses import replace

from diagnose import words
from diagnose.case.case import Answer, Case, Damage
from diagnose.cli.asking import read_answer, show_question, speaker
from diagnose.cli.prompts import Command
from diagnose.cli.session import Session
from diagnose.decision.next_signs import AT_THE_DOOR, can_be_asked
from diagnose.documents.say import reading_say
from diagnose.reasoning.deduce import deduce
from diagnose.reasoning.facts import Facts, case_values, gate_open, sign_order
from diagnose.reasoning.rulebook import rulebook_of
from diagnose.rulebase.entries import Scale, Sign
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.rows import background

TALK = (
    "Look before hands go on it, outside the door where you can. "
    "Enter: all of these are so. A number: answer that one differently."
)
LATER = "(later)"


def is_fresh(case: Case, knowledge: Knowledge) -> bool:
    """Whether an intake has come no further than its first page: no answer at the door, no joint map, no damage."""
    answered = any(knowledge.signs[name].station == AT_THE_DOOR for name in case.readings)
    return not (answered or case.joints or case.damages)


def usual_reading(scale: Scale, sign: Sign) -> tuple[str, ...]:
    """What is seen most often whatever the cause; of equals the first written."""
    often = background(scale, sign)
    if sign.kind == "tick_all":
        return tuple(name for name in sign.readings if often[name] > 0.5)
    if sign.kind == "yes_no":
        return ("yes" if often["yes"] > 0.5 else "no",)
    return (max(sign.readings, key=lambda name: often[name]),)


def at_the_door(session: Session) -> None:
    """Show the list until it is confirmed, keep what it says in one go, and say what that means at the door."""
    env = session.env
    chosen: dict[str, Answer | None] = {}
    while True:
        listed = _listed(session, chosen)
        if not listed:
            return
        _show(session, listed)
        line = env.ask("> ")
        if line.lower() in ("s", "stop"):
            raise Command("s")
        if not line:
            break
        if not line.isdecimal() or not 1 <= int(line) <= len(listed):
            env.say(f"Not understood. Enter if all of these are so, or a number from 1 to {len(listed)}.")
            continue
        sign = session.knowledge.signs[list(listed)[int(line) - 1]]
        show_question(env, sign)
        typed = read_answer(env, sign, session.place, "tlb")
        if typed != "b":
            chosen[sign.id] = typed if isinstance(typed, Answer) else None
    kept = {name: answer for name, answer in listed.items() if answer is not None}
    session.keep(replace(session.case, readings={**session.case.readings, **kept}))
    _say_triage(session)


def _piece_values(session: Session, answers: Mapping[str, Answer | None]) -> dict[str, frozenset[str]]:
    """The facts of the piece alone, while no damage is named yet."""
    nothing_named = Damage(id="", kind="")
    values = case_values(session.knowledge, session.case, nothing_named)
    del values["damage"]
    told = {name: frozenset(a.reads) for name, a in answers.items() if a is not None and not a.cannot_tell}
    return {**values, **told}


def _listed(session: Session, chosen: Mapping[str, Answer | None]) -> dict[str, Answer | None]:
    """Every sign at the door that is open under the readings shown, with its reading; None where it was put off."""
    knowledge = session.knowledge
    found: dict[str, Answer | None] = {}
    for name in sign_order(knowledge):
        sign = knowledge.signs[name]
        if sign.station != AT_THE_DOOR or sign.of != "piece" or sign.computed is not None:
            continue
        if can_be_asked(sign, session.place) and gate_open(sign, _piece_values(session, found)):
            usual = Answer(usual_reading(knowledge.scale, sign), speaker(sign, session.place))
            found[name] = chosen.get(name, usual)
    return {name: found[name] for name in knowledge.signs if name in found}


def _show(session: Session, listed: Mapping[str, Answer | None]) -> None:
    env = session.env
    env.say()
    env.say(env.strong("At the door"))
    env.say(TALK)
    for number, (name, answer) in enumerate(listed.items(), start=1):
        sign = session.knowledge.signs[name]
        reading = LATER if answer is None else reading_say(sign, answer) + (" (unsure)" if answer.unsure else "")
        env.say(f"  {number:2d}  {sign.ask} {env.strong(reading)}")


def _say_triage(session: Session) -> None:
    """One line where the piece may not simply come in; the rules need no damage for that."""
    knowledge = session.knowledge
    deduction = deduce(rulebook_of(knowledge), Facts(_piece_values(session, session.case.readings), {}))
    triage = deduction.triage()
    if triage is words.Triage.TAKE_IN:
        return
    because = [knowledge.logic[rule].because for rule in deduction.rules_for("triage", triage.value)]
    session.env.say(session.env.strong(f"At the door: {words.TRIAGE_SAY[triage]}.") + " " + " ".join(because))
