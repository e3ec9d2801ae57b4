"""The other ways: what each costs, what it does not solve, why we do or do not advise it; leaving it and giving it up always among them."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from diagnose import words
from diagnose.assess import Assessment, DamageAssessment
from diagnose.decision.advise import costs_less_below
from diagnose.decision.ban import MORE_LIKELY_FAILS
from diagnose.decision.decide import Option
from diagnose.decision.outcome import share_left
from diagnose.decision.whole_piece import RETIRED
from diagnose.documents import md
from diagnose.documents.letters import prices
from diagnose.documents.letters.place import headed
from diagnose.documents.letters.work import opens

NOTHING_DONE = "no_structural_work"
MOST_WAYS = 2
# Of each where there are several damages, so that the letter stays one that is read.
MOST_WAYS_EACH = 1
# Leaving it as it is stands among the ways even where no method of ours is called so.
LEFT_ALONE = "You can leave it as it is."
COSTS_NOTHING = "That costs nothing; what is wrong stays, and may get worse."
AS_GOOD = "This is as good"
LIKELY_BACK = 0.6
# Left as they are, these let nobody fall.
HARMLESS = frozenset({"surface", "rocks", "sticks"})
LESS_SURE = 0.05


@dataclass(frozen=True)
class Way:
    """A way as it is told: what we would do, what it costs and at the most, what is said of it, and whether it is one for the whole
    piece, as leaving it and giving it up are."""

    what: str
    cost: str
    said: str
    whole: bool = False
    most: float = field(default=0.0, compare=False)

    @property
    def told(self) -> str:
        """All of it in a line."""
        return " ".join(part for part in (f"**{self.what}**", self.cost, self.said) if part)


def other_ways(assessment: Assessment) -> str:
    """Every way that is told, once: one that several damages share is told for the piece as a whole, after those of single places."""
    ways: dict[Way, list[DamageAssessment]] = {}
    for damage in assessment.damages:
        for way in dict.fromkeys(_ways(assessment, damage)):
            ways.setdefault(way, []).append(damage)
    several = len(assessment.damages) > 1
    once = _once_for_the_piece(ways)
    single = [
        f"{headed(damage.damage, several)}{way.told}"
        for damage in assessment.damages
        for way, shared in once.items()
        if shared == [damage]
    ]
    together = [way.told for way, shared in once.items() if len(shared) > 1]
    return md.join(md.bullets(dict.fromkeys([*single, *together])), _notes(assessment, once))


def _once_for_the_piece(ways: Mapping[Way, list[DamageAssessment]]) -> dict[Way, list[DamageAssessment]]:
    """Ways for the whole piece that differ in their price alone, as one: a piece is left or given up once, at the price of the dearest."""
    found: dict[tuple[str, str, str], tuple[Way, list[DamageAssessment]]] = {}
    for way, shared in ways.items():
        key = (way.what, way.said, "" if way.whole else way.cost)
        before, damages = found.get(key, (way, []))
        found[key] = (max(before, way, key=lambda one: one.most), [*damages, *shared])
    return dict(found.values())


def _way(assessment: Assessment, option: Option, said: str, whole: bool = False) -> Way:
    what, cost = assessment.knowledge.methods[option.method].owner, prices.span(assessment.shop, option.price)
    return Way(what, f"{cost}.", said, whole, option.price.high)


def _notes(assessment: Assessment, told: Iterable[Way]) -> str:
    """How to choose among equals, and what the prices hold, where an owner could take them for something else."""
    notes = []
    if any(AS_GOOD in way.said for way in told):
        notes.append("Where a way is as good, it is a question of what matters to you.")
    if assessment.told.cover is not None and opens(assessment):
        notes.append("Where the joint is opened, these prices hold the cover as well.")
    if assessment.told.of_set is not None:
        notes.append("These prices are for one of them.")
    if len(assessment.damages) > 1:
        notes.append("Each price is for that way alone.")
    return " ".join(notes)


def _ways(assessment: Assessment, damage: DamageAssessment) -> Iterator[Way]:
    options = damage.decision.options
    others = [option for option in options if option.method != damage.decision.method]
    advised = next(option for option in options if option.method == damage.decision.method)
    for option in _worth_telling(assessment, damage, advised, others):
        yield _way(assessment, option, _verdict(assessment, advised, option))
    left = next((option for option in others if option.decision == NOTHING_DONE), None)
    if left is not None:
        yield _way(assessment, left, _left(assessment, damage, advised, left), whole=True)
    elif advised.decision != NOTHING_DONE:
        falls = damage.situation.consequence in words.NOT_FOR_MONEY and damage.damage.kind not in HARMLESS
        yield Way(LEFT_ALONE, "", COSTS_NOTHING + (" Then nobody may use it." if falls else ""), whole=True)
    given_up = next((option for option in others if option.decision == RETIRED), None)
    if given_up is not None:
        yield _way(assessment, given_up, _given_up(assessment, advised, given_up), whole=True)


def _worth_telling(assessment: Assessment, damage: DamageAssessment, advised: Option, others: Sequence[Option]) -> list[Option]:
    """One way a class that would mend it, the best first; then the cheapest of those that would be too weak or unsafe."""
    mending = [option for option in others if _is_mending(assessment, damage, advised, option)]
    open_ones = [o for o in mending if o.verdict not in words.SET_ASIDE and o.fails_again <= MORE_LIKELY_FAILS]
    ties = [option for option in open_ones if option.verdict is words.Verdict.TIE]
    best: dict[str, Option] = {}
    for option in [*ties, *open_ones]:
        best.setdefault(option.decision, option)
    tempting = [
        option
        for option in mending
        if option.verdict is words.Verdict.RULED_OUT
        and option.decision in words.LADDER
        and option.fails_again <= MORE_LIKELY_FAILS
        and option.price.likely < advised.price.likely
        and _too_weak(assessment, option)
    ]
    cheapest = sorted(tempting, key=lambda option: (option.price.likely, option.method))[:1]
    most = MOST_WAYS if len(assessment.damages) == 1 else MOST_WAYS_EACH
    return [*list(best.values())[:most], *cheapest]


def _is_mending(assessment: Assessment, damage: DamageAssessment, advised: Option, option: Option) -> bool:
    """Whether a way answers the likeliest reason; one by others only where it is as good, or where nothing else stands against giving
    the piece up."""
    if option.decision in (NOTHING_DONE, RETIRED):
        return False
    knowledge, method = assessment.knowledge, assessment.knowledge.methods[option.method]
    likeliest = knowledge.causes[damage.causes_by_probability()[0][0]]
    if share_left(knowledge.scale, method, likeliest) >= 1.0:
        return False
    return method.by in words.WORKSHOPS or option.verdict is words.Verdict.TIE or advised.decision == RETIRED


def _too_weak(assessment: Assessment, option: Option) -> bool:
    """Whether what forbids a way is its weakness, or a rule that keeps people safe: the cheap way that an owner may ask for."""
    protects = {rule.because: rule.protects for rule in assessment.knowledge.logic.values()}
    return protects.get(option.because, "strength") in ("safety", "strength", "value")


def _verdict(assessment: Assessment, advised: Option, option: Option) -> str:
    method = assessment.knowledge.methods[option.method]
    if option.verdict is words.Verdict.RULED_OUT:
        return _not_offered(option)
    if method.end_use in words.GIVEN_UP:
        return _given_up(assessment, advised, option)
    if advised.decision == RETIRED:
        return f"This would put it back into use. {method.stays_visible}"
    if option.verdict is words.Verdict.TIE:
        return f"{AS_GOOD}. {method.stays_visible}"
    if option.chance_it_holds < LIKELY_BACK:
        return "We do not advise it: what made it fail would be left, and the trouble would likely come back."
    return f"We do not advise it: {_lacks(assessment, advised, option)}."


def _lacks(assessment: Assessment, advised: Option, option: Option) -> str:
    """What an open way lacks beside the advised one."""
    kept = {o.method: assessment.knowledge.scale.keeps[assessment.knowledge.methods[o.method].keeps] for o in (advised, option)}
    found = []
    if option.price.likely > advised.price.likely:
        found.append("it costs more")
    if option.fails_again > advised.fails_again + LESS_SURE:
        found.append("it is less sure to hold")
    if kept[option.method] < kept[advised.method]:
        found.append("less of the old piece is left")
    if not found:
        # What costs no more and lacks nothing at this place is set aside for the sake of the others.
        return (
            "it gains nothing" if option.price.likely >= advised.price.likely else "the piece is better looked after as a whole"
        )
    return found[0] if len(found) == 1 else f"{', '.join(found[:-1])} and {found[-1]}"


def _not_offered(option: Option) -> str:
    because = _without_figures(option.because)
    return f"We do not offer this: {because}." if not because.endswith(".") else f"We do not offer this. {because}"


def _without_figures(because: str) -> str:
    """A reason as a letter gives it: strength in hundredths says nothing to an owner, what could happen does.

    >>> _without_figures("it leaves about 40% of the strength it was made with and needs at least 90%: somebody could fall")
    'it would be too weak, and somebody could fall'
    """
    _, _, could_happen = because.rpartition(": ")
    return f"it would be too weak, and {could_happen}" if "%" in because else because


def _left(assessment: Assessment, damage: DamageAssessment, advised: Option, option: Option) -> str:
    """What is said of doing nothing, or next to nothing, for now."""
    consequence = damage.situation.consequence
    if option.verdict is words.Verdict.TIE:
        return f"{AS_GOOD} for now."
    if option.verdict is words.Verdict.RULED_OUT and option.because.endswith("."):
        return f"We do not offer this. {option.because}"
    if option.verdict is not words.Verdict.RULED_OUT and option.chance_it_holds >= LIKELY_BACK:
        return f"That would do for a time; we do not advise it, since {_lacks(assessment, advised, option)}."
    if consequence in words.NOT_FOR_MONEY and damage.damage.kind not in HARMLESS:
        refused = "do not offer" if option.verdict is words.Verdict.RULED_OUT else "advise against"
        return f"We {refused} this: it does not mend what is wrong, and {words.CONSEQUENCES[consequence]}."
    could = f", and if it gets worse {words.CONSEQUENCES[consequence]}" if consequence in ("nuisance", "goods") else ""
    return f"You can do that. It mends nothing{could}."


def _given_up(assessment: Assessment, advised: Option, option: Option) -> str:
    """What is said of giving the piece up: nobody but its owner can say what it is worth."""
    if option.verdict is words.Verdict.RULED_OUT:
        return _not_offered(option)
    if all(damage.situation.takes_no_use for damage in assessment.damages):
        return "Nothing calls for that: only its looks suffer, and you can use it as it is."
    if option.verdict is words.Verdict.OWNERS_TO_SAY:
        # A figure is told only where it can be seen to cost less, and where it is of the whole piece.
        cheaper = option.price.likely < advised.price.likely and len(assessment.damages) == 1
        below = costs_less_below(assessment.shop, option.cheaper_below) if cheaper else ""
        return f"This gives the piece up for use. What it is worth to you only you can say{below}."
    if advised.decision == RETIRED:
        return "It is given up for use all the same."
    return "This gives the piece up for use; whether that is right only you can say."
