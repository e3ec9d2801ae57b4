"""Why it happened: what was so from the start, what came with the years, what set it off; and how sure we are of each, in words."""

from diagnose import words
from diagnose.assess import Assessment, DamageAssessment
from diagnose.documents import say
from diagnose.documents.letters.work import opens

NAMED_FROM = 0.3
MOST_NAMED = 4
# Below this nothing is said to have happened, only that it may have.
MAY_BE = 0.35
ROLES = {
    "made_in": "From the start",
    "grew": "Over the years",
    "hands": "Earlier work on it",
    "set_off": "What set it off",
}
SURE = {
    "almost certain": "We are as good as certain of this.",
    "likely": "This is most likely what happened.",
    "quite possible": "This fits best with what we have seen so far",
}


def why(assessment: Assessment) -> str:
    """The causes of every damage, in the order in which they acted."""
    several = len(assessment.damages) > 1
    told: dict[str, list[str]] = {}
    for damage in assessment.damages:
        told.setdefault(_of(assessment, damage), []).append(say.first_up(say.place_of(damage.damage)))
    return "\n\n".join(f"**{say.listed(places)}**\n\n{text}" if several else text for text, places in told.items())


def _of(assessment: Assessment, damage: DamageAssessment) -> str:
    knowledge = assessment.knowledge
    later = "opening it will show" if opens(assessment) else "a closer look will show"
    named = say.leading_causes(damage, floor=NAMED_FROM, most=MOST_NAMED)
    certain = [(name, chance) for name, chance in named if chance >= MAY_BE]
    if not certain:
        guessed = [name for name, chance in named if words.certainty(chance) == "possible"]
        if not guessed:
            return f"We cannot name the reason yet; {later}."
        return f"We cannot name the reason for certain yet; {later}. Our first guess: {' '.join(knowledge.causes[n].owner for n in guessed)}"
    ordered = [(name, words.certainty(chance)) for _, group in say.by_role(knowledge, certain) for name, chance in group]
    lines: list[str] = []
    for index, (name, sure) in enumerate(ordered):
        cause = knowledge.causes[name]
        text = (
            cause.owner
            if index and knowledge.causes[ordered[index - 1][0]].role == cause.role
            else f"{ROLES[cause.role]}: {cause.owner}"
        )
        # How sure we are is said after the last of those of which we are equally so.
        last = index + 1 == len(ordered) or ordered[index + 1][1] != sure
        lines.append(f"{text} {_sure(sure, later)}" if last else text)
    return "\n\n".join(lines)


def _sure(word: str, later: str) -> str:
    return f"{SURE[word]}; {later}." if word == "quite possible" else SURE[word]
