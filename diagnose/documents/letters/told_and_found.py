"""What the owner told us and what we found, kept apart; and what was not looked at yet, and why."""

import re

from diagnose import words
from diagnose.assess import Assessment
from diagnose.case.case import Answer
from diagnose.documents import md, say
from diagnose.documents.letters.answer import REFUSED
from diagnose.rulebase.entries import Sign

TELLING_DB = 1.5
MOST_UNSEEN = 4
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
_MEASURE = re.compile(r"\d+ (?:mm|per cent)\b")
_OWNERS = (
    (re.compile(r"\bThe owner's\b"), "Your"),
    (re.compile(r"\bthe owner's\b"), "your"),
    (re.compile(r"\bthe owner\b"), "you"),
    (re.compile(r"\bThe owner\b"), "You"),
)


def told_and_found(assessment: Assessment) -> str:
    """The three lists; the last one only where the piece is taken on."""
    told, found = _lists(assessment)
    unseen = _unseen(assessment) if assessment.triage not in REFUSED else []
    return md.join(
        "*You told us*",
        md.bullets(told) or "- Nothing was written down.",
        "*We saw, measured or tried*",
        md.bullets(found) or "- Nothing yet.",
        *(["*Not looked at yet*", md.bullets(unseen)] if unseen else []),
    )


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
    doubt = {"owner": " (you were not sure)"}.get(answer.by, " (not certain)") if answer.unsure else ""
    picture = " (from the photograph)" if answer.by == "photograph" else ""
    return f"{to_you(sign.ask or '')} {say.first_up(to_you(_reading(sign, answer)))}.{doubt}{picture}"


def _lists(assessment: Assessment) -> tuple[list[str], list[str]]:
    case, knowledge = assessment.case, assessment.knowledge
    told = [f"“{md.safe(text)}”" for text in [case.owner_says, *(d.says for d in case.damages)] if text]
    slack = [say.plain(name) for name, state in case.joints.items() if state in words.SLACK_STATES]
    found = [f"These joints move or are open: {say.listed(slack)}."] if slack else []
    telling = _telling(assessment)
    for answers in [case.readings, *(d.readings for d in case.damages)]:
        for name, answer in answers.items():
            if answer.cannot_tell:
                continue
            if answer.by == "owner":
                told.append(_line(knowledge.signs[name], answer))
            elif name in telling:
                found.append(_line(knowledge.signs[name], answer))
    return list(dict.fromkeys(told)), list(dict.fromkeys(found))


def _telling(assessment: Assessment) -> frozenset[str]:
    """The signs that bear on the answer: they moved a leading cause, or a rule fired on what they read."""
    names: set[str] = set()
    for damage in assessment.damages:
        leading = [name for name, _ in say.leading_causes(damage)]
        names.update(sign for sign, db in damage.weights.items() if any(abs(db[name]) >= TELLING_DB for name in leading))
        tokens = {token for trace in damage.deduction.traces for token in trace.because_of}
        names.update(token.partition("=")[0] for token in tokens)
    return frozenset(names)


def _unseen(assessment: Assessment) -> list[str]:
    signs = [
        assessment.knowledge.signs[question.sign]
        for damage in assessment.damages
        for question in damage.questions.ranked[:3]
        if question.value > WORTH_ASKING
    ]
    lines = [f"{to_you(sign.ask or '')} ({LATER[sign.effort]})" for sign in signs if sign.effort is not None]
    return list(dict.fromkeys(lines))[:MOST_UNSEEN]
