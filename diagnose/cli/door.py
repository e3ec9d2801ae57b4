"""At the door: what is looked at before hands go on the piece, as one list that one Enter confirms.

Nearly every piece is dry, clean and ordinary, and asking that one question at a time would cost the minutes of the whole intake.
So the most usual reading of each is shown, and whoever stands at the door answers only what is otherwise. Where the most usual is
not usual enough to be taken as said, nothing stands there, and it is asked.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from diagnose import words
from diagnose.case.case import Answer, Case, Damage
from diagnose.cli.asking import put_question, readings_of_piece, speaker
from diagnose.cli.prompts import match, on_the_sheet
from diagnose.cli.session import Session
from diagnose.decision.next_signs import AT_THE_DOOR, can_be_asked
from diagnose.documents.say import first_up, reading_say
from diagnose.reasoning.deduce import Deduction, deduce
from diagnose.reasoning.facts import Facts, Values, case_values, gate_open, satisfied, sign_order
from diagnose.reasoning.rulebook import rulebook_of
from diagnose.rulebase.entries import Scale, Sign
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.rows import background

HEAD = {"photos": "First of all", "counter": "At the door", "bench": "At the door"}
LOOK = {
    "photos": "Look for it on the pictures, or ask.",
    "counter": "Look before hands go on it, outside the door where you can.",
    "bench": "Look before hands go on it, outside the door where you can.",
}
TALK = "Enter: all of these are so, and the rest is asked. A number, or words of the line: answer that one differently."
# Of a piece that is not taken in no sign is asked.
NOT_TAKEN_IN = (words.Triage.DECLINE, words.Triage.STAYS_OUT)
LATER = "(later)"
TO_SAY = "(to be answered)"
# So often must the most usual reading be seen to be taken as said.
TAKEN_AS_SAID = 2 / 3


def is_fresh(case: Case, knowledge: Knowledge) -> bool:
    """Whether an intake has come no further than its first page: no answer at the door, no joint map, no damage."""
    answered = any(knowledge.signs[name].station == AT_THE_DOOR for name in case.readings)
    return not (answered or case.joints or case.damages)


def usual_reading(scale: Scale, sign: Sign, values: Values) -> tuple[str, ...] | None:
    """What is nearly always seen whatever the cause; None where nothing may be taken as said.

    That is where nothing is seen so often, or where a reading is there for just such a piece (a bed may be a child's), or where the
    usual one cannot be seen on it (a mirror has glass).
    """
    often = background(scale, sign)
    if sign.kind == "tick_all":
        return () if all(share < 1 - TAKEN_AS_SAID for share in often.values()) else None
    reading = max(sign.readings, key=lambda name: often[name])
    others = (entry for name, entry in sign.readings.items() if name != reading)
    if often[reading] < TAKEN_AS_SAID or any(entry.when and satisfied(entry.when, values) for entry in others):
        return None
    return (reading,) if reading in readings_of_piece(sign, values) else None


@dataclass
class Door:
    """What stands in the list: what was answered or put off here."""

    chosen: dict[str, Answer | None] = field(default_factory=dict)

    def listed(self, session: Session) -> dict[str, Answer | str]:
        """Every sign at the door that is open under the readings shown, with its reading, or what stands in place of one."""
        knowledge = session.knowledge
        found: dict[str, Answer | str] = {}
        for name in sign_order(knowledge):
            sign = knowledge.signs[name]
            if sign.station != AT_THE_DOOR or sign.of != "piece" or sign.computed is not None:
                continue
            if can_be_asked(sign, session.place) and gate_open(sign, _piece_values(session, answered(found))):
                found[name] = self._answer(session, sign, _piece_values(session, answered(found)))
        return {name: found[name] for name in knowledge.signs if name in found}

    def _answer(self, session: Session, sign: Sign, values: Values) -> Answer | str:
        if sign.id in self.chosen:
            return self.chosen[sign.id] or LATER
        kept = session.case.readings.get(sign.id)
        usual = usual_reading(session.knowledge.scale, sign, values)
        return kept or (TO_SAY if usual is None else Answer(usual, speaker(sign, session.place)))

    def ask(self, session: Session, sign: Sign) -> None:
        """Ask one of them; put off by `later`, left as it was by `back`."""
        readings = readings_of_piece(sign, _piece_values(session, answered(self.listed(session))))
        typed = put_question(session.env, sign, session.place, readings, "tlb")
        if typed != "b":
            self.chosen[sign.id] = typed if isinstance(typed, Answer) else None


def at_the_door(session: Session) -> None:
    """Show the list until it is confirmed, keep what it says in one go, and say what that means at the door."""
    signs, door = session.knowledge.signs, Door()
    shown: dict[str, str] = {}
    if say_triage(session, {}, words.Triage.TAKE_IN) in NOT_TAKEN_IN:
        return  # The kind alone says it, and nothing at the door could say otherwise.
    while listed := door.listed(session):
        shown = _show(session, listed, shown)
        chosen = _chosen(session, list(listed))
        if chosen:
            door.ask(session, signs[chosen])
            continue
        shown = {}
        triage = say_triage(session, answered(listed), words.Triage.TAKE_IN)
        if triage in NOT_TAKEN_IN:
            break
        if all_said(session, door):
            say_triage(session, answered(door.listed(session)), triage)
            break
    kept = answered(door.listed(session))
    session.keep(replace(session.case, readings={**session.case.readings, **kept}))


def answered(listed: Mapping[str, Answer | str]) -> dict[str, Answer]:
    """What has a reading already."""
    return {name: answer for name, answer in listed.items() if isinstance(answer, Answer)}


def all_said(session: Session, door: Door) -> bool:
    """Ask what stands there without a reading, one after the other; False where `back` was typed instead."""
    while True:
        left = [name for name, answer in door.listed(session).items() if answer == TO_SAY]
        if not left:
            return True
        door.ask(session, session.knowledge.signs[left[0]])
        if left[0] not in door.chosen:
            return False


def _piece_values(session: Session, answers: Mapping[str, Answer]) -> dict[str, frozenset[str]]:
    """The facts of the piece alone, while no damage is named yet."""
    nothing_named = Damage(id="", kind="")
    values = case_values(session.knowledge, session.case, nothing_named)
    del values["damage"]
    told = {name: frozenset(answer.reads) for name, answer in answers.items() if not answer.cannot_tell}
    return {**values, **told}


def _chosen(session: Session, listed: Sequence[str]) -> str:
    """The sign to answer differently, by its number or by words that stand in its question alone; empty for Enter."""
    asks = {name: session.knowledge.signs[name].ask or "" for name in listed}
    while True:
        line = on_the_sheet(session.env, "> ")
        found = match(line, asks) if line else ""
        if found is not None:
            return found
        session.env.say(f"Not understood. Enter if all of these are so, or a number from 1 to {len(listed)}.")


def _show(session: Session, listed: Mapping[str, Answer | str], before: Mapping[str, str]) -> dict[str, str]:
    """The list; behind an answer only the lines that are new since `before`, while the same signs stand in it. What it says now."""
    env = session.env
    lines = {}
    for number, (name, answer) in enumerate(listed.items(), start=1):
        sign = session.knowledge.signs[name]
        reading = answer if isinstance(answer, str) else reading_say(sign, answer) + (" (unsure)" if answer.unsure else "")
        lines[name] = f"  {number:2d}  {sign.ask} {env.strong(first_up(reading))}"
    env.say()
    if list(lines) == list(before) and lines != before:
        for name, line in lines.items():
            if line != before[name]:
                env.say(line)
        env.say("Enter if the rest is as listed, or another number.")
        return lines
    env.say(env.strong(HEAD[session.place]))
    env.say(f"{LOOK[session.place]} {TALK}")
    for line in lines.values():
        env.say(line)
    return lines


def say_triage(session: Session, answers: Mapping[str, Answer], said: words.Triage) -> words.Triage:
    """What happens to the piece at the door. One line where it may not simply come in, unless that was `said` already.

    The rules need no damage for that.
    """
    knowledge = session.knowledge
    deduction = _deduced(session, answers)
    triage = deduction.triage()
    if triage is not said and triage is not words.Triage.TAKE_IN:
        because = [knowledge.logic[rule].because for rule in deduction.rules_for("triage", triage.value)]
        session.env.say(session.env.strong(f"At the door: {words.TRIAGE_SAY[triage]}.") + " " + " ".join(because))
        if triage in NOT_TAKEN_IN:
            session.env.say("Only what is wrong with it is asked still, for the letter; s stops here.")
    return triage


def is_turned_away(session: Session) -> bool:
    """Whether what is known at the door keeps the piece out."""
    return _deduced(session, session.case.readings).triage() in NOT_TAKEN_IN


def _deduced(session: Session, answers: Mapping[str, Answer]) -> Deduction:
    return deduce(rulebook_of(session.knowledge), Facts(_piece_values(session, answers), {}))
