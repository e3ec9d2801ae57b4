"""What the owner told us and what we found, kept apart; and what was not looked at yet, and why."""

import re
from collections.abc import Callable, Collection
from math import inf

from diagnose import words
from diagnose.assess import Assessment
from diagnose.case.case import Answer, Case, Damage
from diagnose.documents import md, say
from diagnose.documents.letters.answer import REFUSED
from diagnose.rulebase.entries import Sign

TELLING_DB = 1.5
MOST_UNSEEN = 4
# What was found is told as far as it bears on the answer, in no more lines than are read.
MOST_FOUND = 8
WORTH_ASKING = 0.5
# Why a sign was not looked at yet, by what it takes.
LATER = {
    "ask": "we ask you",
    "look": "in the workshop",
    "smell": "in the workshop",
    "touch": "in the workshop",
    "measure": "in the workshop",
    "trial": "it can leave a small mark",
    "take_apart": "when it is opened",
    "wait": "it takes weeks or months",
    "send_out": "others have to say it",
}
NOT_CERTAIN = " (not certain)"
_MEASURE = re.compile(r"\d+ (?:mm|per cent)\b")
_OWNERS = (
    (re.compile(r"\bThe owner's\b"), "Your"),
    (re.compile(r"\bthe owner's\b"), "your"),
    (re.compile(r"\bthe owner\b"), "you"),
    (re.compile(r"\bThe owner\b"), "You"),
)


def told_and_found(assessment: Assessment) -> str:
    """The three lists; the last one only where the piece is taken on."""
    told, found = _lists(assessment, _telling(assessment), _line)
    unseen = _unseen(assessment) if assessment.triage not in REFUSED else []
    return md.join(
        "*You told us*",
        md.bullets(told) or "- Nothing was written down.",
        "*We saw, measured or tried*",
        md.bullets(found) or "- Nothing yet.",
        *(["*Not looked at yet*", md.bullets(unseen)] if unseen else []),
    )


def everything_told_and_found(assessment: Assessment) -> str:
    """What was told and what was found, also what bears on nothing, for others than the owner to read."""
    case = assessment.case
    answers = (case.readings, *(d.readings for d in case.damages))
    told, found = _lists(assessment, {name for of in answers for name in of}, _line_of_the_owner)
    return md.join(
        "*Reported to us*",
        md.bullets(told) or "- Nothing was written down.",
        "*Seen, measured or tried by us*",
        md.bullets(found) or "- Nothing yet.",
    )


def answered(assessment: Assessment, damage: Damage, sign: str) -> str:
    """One answer about a damage as a line, for others than the owner to read; empty where there is none that says anything."""
    answer = assessment.case.answers(damage).get(sign)
    return _line_of_the_owner(assessment.knowledge.signs[sign], answer) if answer is not None and not answer.cannot_tell else ""


def new_answers(assessment: Assessment, before: Assessment) -> list[str]:
    """What was answered since `before`, or answered otherwise, as lines."""
    then = {damage.id: before.case.answers(damage) for damage in before.case.damages}
    lines, places = [], _places(assessment.case)
    for damage in assessment.case.damages:
        old = then.get(damage.id, before.case.readings)
        for sign, answer in assessment.case.answers(damage).items():
            if old.get(sign) != answer and not answer.cannot_tell:
                at = places[damage.id] if _reads_otherwise(assessment.case, sign) else ""
                lines.append(f"{at}{_line(assessment.knowledge.signs[sign], answer)}")
    return list(dict.fromkeys(lines))


def to_you(text: str) -> str:
    """A text of the rule base that speaks of the owner, said to the owner.

    >>> to_you("The owner or the family, long ago")
    'You or the family, long ago'
    """
    for pattern, said in _OWNERS:
        text = pattern.sub(said, text)
    return text


def without_measures(text: str) -> str:
    """A reading without the figures of rule and meter, as long as words are left that say it.

    >>> without_measures("14 to 20 per cent, damp"), without_measures("A steep slope, up to 17 mm in 100 mm")
    ('damp', 'A steep slope')
    """
    clauses = text.split(", ")
    return ", ".join(clause for clause in clauses if not _MEASURE.search(clause)) or text


def _reading(sign: Sign, answer: Answer) -> str:
    """What was read, in words."""
    return say.reading_say(sign, answer) if sign.kind == "tick_all" else without_measures(sign.say(answer.reads[0]))


def _line(sign: Sign, answer: Answer) -> str:
    doubt = {"owner": " (you were not sure)"}.get(answer.by, NOT_CERTAIN) if answer.unsure else ""
    return f"{to_you(sign.ask or '')} {say.first_up(to_you(_reading(sign, answer)))}.{doubt}{_picture(answer)}"


def _line_of_the_owner(sign: Sign, answer: Answer) -> str:
    """The same for others to read: the owner is spoken of."""
    doubt = NOT_CERTAIN if answer.unsure else ""
    return f"{sign.ask or ''} {say.first_up(_reading(sign, answer))}.{doubt}{_picture(answer)}"


def _picture(answer: Answer) -> str:
    return " (from the photograph)" if answer.by == "photograph" else ""


def _lists(assessment: Assessment, telling: Collection[str], line: Callable[[Sign, Answer], str]) -> tuple[list[str], list[str]]:
    """What the owner told, and of what we found that on these signs, each as a line."""
    case, knowledge = assessment.case, assessment.knowledge
    told = [f"“{md.safe(text)}”" for text in [case.owner_says, *(d.says for d in case.damages)] if text]
    slack = [say.plain(name) for name, state in case.joints.items() if state in words.SLACK_STATES]
    found = [f"These joints move or are open: {say.listed(slack)}."] if slack else []
    at = _places(case)
    for damage, answers in [(None, case.readings), *((d, d.readings) for d in case.damages)]:
        for name, answer in answers.items():
            if answer.cannot_tell:
                continue
            said = f"{at[damage.id] if damage and _reads_otherwise(case, name) else ''}{line(knowledge.signs[name], answer)}"
            if answer.by == "owner":
                told.append(said)
            elif name in telling:
                found.append(said)
    return list(dict.fromkeys(told)), list(dict.fromkeys(found))


def _reads_otherwise(case: Case, sign: str) -> bool:
    """Whether a sign was answered one way at one damage and another way at the next."""
    read = [d.readings[sign] for d in case.damages if sign in d.readings and not d.readings[sign].cannot_tell]
    return any(answer != read[0] for answer in read)


def _places(case: Case) -> dict[str, str]:
    """Each damage by its part, or with what is wrong where another one has the same, to stand before an answer about it."""
    parts = {d.id: say.plain(d.part or d.joint or "") for d in case.damages}
    alone = {d.id: bool(parts[d.id]) and list(parts.values()).count(parts[d.id]) == 1 for d in case.damages}
    return {d.id: f"{say.first_up(parts[d.id] if alone[d.id] else say.place_of(d))}: " for d in case.damages}


def _telling(assessment: Assessment) -> frozenset[str]:
    """The signs found by us that bear most on the answer: what decided at the door, then what moved a leading cause most, then what a
    rule fired on."""
    weights: dict[str, float] = {}
    for damage in assessment.damages:
        leading = [name for name, _ in say.leading_causes(damage)]
        at_the_door = damage.deduction.rules_for("triage", assessment.triage.value)
        told = {sign: max((abs(db[name]) for name in leading), default=0.0) for sign, db in damage.weights.items()}
        fired = {
            token.partition("=")[0]: inf if trace.rule in at_the_door else TELLING_DB
            for trace in damage.deduction.traces
            for token in trace.because_of
        }
        for sign, weight in (*told.items(), *fired.items()):
            weights[sign] = max(weight, weights.get(sign, 0.0))
    case = assessment.case
    every = [item for answers in (case.readings, *(d.readings for d in case.damages)) for item in answers.items()]
    ours = {name for name, answer in every if answer.by != "owner" and not answer.cannot_tell}
    ranked = sorted((name for name in ours if weights.get(name, 0.0) >= TELLING_DB), key=lambda name: (-weights[name], name))
    return frozenset(ranked[:MOST_FOUND])


def _unseen(assessment: Assessment) -> list[str]:
    signs = [
        assessment.knowledge.signs[question.sign]
        for damage in assessment.damages
        for question in damage.questions.ranked[:3]
        if question.value > WORTH_ASKING
    ]
    lines = [f"{to_you(sign.ask or '')} ({LATER[sign.effort]})" for sign in signs if sign.effort is not None]
    return list(dict.fromkeys(lines))[:MOST_UNSEEN]
