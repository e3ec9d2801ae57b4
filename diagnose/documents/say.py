"""Phrases that several documents share, so that one thing is said in one way."""

import re
from collections.abc import Sequence
from datetime import date, timedelta

from diagnose import words
from diagnose.assess import Assessment, DamageAssessment
from diagnose.case.case import Answer, Damage
from diagnose.damage_words import DAMAGE_WORDS
from diagnose.decision.cost import Price
from diagnose.decision.foresee import Gate
from diagnose.documents.md import safe
from diagnose.rulebase.entries import Cite, Sign
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop

_NOT_A_WORD = re.compile(r"[\W_]+")


def plain(word: str) -> str:
    """An id as a person would say it, where no better words exist.

    >>> plain("left_side_rail")
    'left side rail'
    """
    return word.replace("_", " ")


def first_up(text: str) -> str:
    """A text with its first letter large and the rest as it is.

    >>> first_up("likely EUR 40")
    'Likely EUR 40'
    """
    return text[:1].upper() + text[1:]


def first_down(text: str) -> str:
    """A text with its first letter small, as it stands inside a sentence.

    >>> first_down("A snug fit")
    'a snug fit'
    """
    return text[:1].lower() + text[1:]


def wait(hours: float) -> str:
    """Hours as a person says them.

    >>> wait(0.5), wait(24), wait(72), wait(336), wait(430)
    ('30 min', '24 h', '3 days', '2 weeks', '18 days')
    """
    if hours >= 24 * 28 or (hours >= 24 * 14 and hours % 168 == 0):
        return f"{hours / 168:.0f} weeks"
    if hours >= 48:
        return f"{hours / 24:.0f} days"
    return f"{round(hours, 1):g} h" if hours >= 1 else f"{hours * 60:.0f} min"


def span(low: float, high: float, unit: str) -> str:
    """A range with its unit, without needless zeros; a unit in the plural loses its s where there is one alone.

    >>> span(5, 5, "min"), span(5, 20, "min"), span(1, 1, "days"), span(1, 3, "")
    ('5 min', '5 to 20 min', '1 day', '1 to 3')
    """
    said = f"{low:.6g}" if low == high else f"{low:.6g} to {high:.6g}"
    return f"{said} {unit.removesuffix('s') if said == '1' else unit}".rstrip()


def span_of_minutes(low: float, high: float) -> str:
    """A range of minutes, from two hours on in hours.

    >>> span_of_minutes(10, 90), span_of_minutes(60, 120), span_of_minutes(720, 720)
    ('10 to 90 min', '1 to 2 h', '12 h')
    """
    return span(round(low / 60, 1), round(high / 60, 1), "h") if high >= 120 else span(low, high, "min")


def provided(knowledge: Knowledge, gates: Sequence[Gate]) -> list[str]:
    """What must not be found for the advice to stand, one line a sign."""
    told = []
    for sign_id in dict.fromkeys(gate.sign for gate in gates if gate.forbids):
        sign = knowledge.signs[sign_id]
        readings = [sign.say(gate.reading).lower() for gate in gates if gate.sign == sign_id and gate.forbids]
        told.append(f"{sign.ask or sign.called} Not: {listed(readings, 'or')}.")
    return told


def listed(items: Sequence[str], last: str = "and") -> str:
    """Items in one sentence.

    >>> listed(["glue", "wear", "damp"])
    'glue, wear and damp'
    """
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"


def place_of(damage: Damage) -> str:
    """Where a damage is, for a heading on paper or screen; an id is somebody's text, of which only letters and figures pass.

    >>> place_of(Damage(id="a", kind="loose", part="back_leg"))
    'back leg, loose'
    >>> place_of(Damage(id="a", kind="sticks", part="door"))
    'door, sticks or will not close'
    >>> place_of(Damage(id="<b>damage_1</b>", kind="loose"))
    'b damage 1 b, loose'
    """
    where = plain(damage.part or damage.joint or " ".join(_NOT_A_WORD.sub(" ", plain(damage.id)).split()))
    kind = DAMAGE_WORDS[damage.kind]
    return f"{where}, {kind.after_a_part if damage.part or damage.joint else kind.name}"


def price_range(shop: Shop, price: Price) -> str:
    """A price as it is told: likely first, then both ends."""
    return f"likely {shop.money(price.likely)}, from {shop.money(price.low)} to {shop.money(price.high)}"


def reading_say(sign: Sign, answer: Answer) -> str:
    """What was read, in words."""
    if answer.cannot_tell:
        return "cannot be told yet"
    if sign.kind == "tick_all":
        told = [sign.say(reading) for reading in answer.reads] or ["none of the things listed"]
        return "; ".join([told[0], *(first_down(text) for text in told[1:])])
    text = sign.say(answer.reads[0])
    return f"{answer.measured} ({first_down(text)})" if answer.measured else text


def source_say(knowledge: Knowledge, cite: Cite) -> str:
    """A source as it is printed; what is remembered says so."""
    source = knowledge.sources[cite.source]
    text = source.title + (f" ({source.year})" if source.year else "") + (f", {cite.place}" if cite.place else "")
    return text + {"memory": " [remembered, not read]", "read_second_hand": " [at second hand]"}.get(source.known_by, "")


def leading_causes(damage: DamageAssessment, floor: float = 0.25, most: int = 5) -> list[tuple[str, float]]:
    """The causes worth naming: all from `floor` on, at most `most`; the leading one always."""
    ranked = damage.causes_by_probability()
    named = [item for item in ranked if item[1] >= floor][:most]
    return named or ranked[:1]


def by_role(knowledge: Knowledge, named: Sequence[tuple[str, float]]) -> list[tuple[str, list[tuple[str, float]]]]:
    """Causes in the order in which they are told: what was weak, what weakened it, what earlier hands did, what finished it."""
    groups = []
    for role in words.ROLES:
        group = [item for item in named if knowledge.causes[item[0]].role == role]
        if group:
            groups.append((words.ROLES[role], group))
    return groups


def week_of(day: date) -> str:
    """A week, not a day.

    >>> week_of(date(2026, 3, 4))
    'the week of 2 March 2026'
    """
    monday = day - timedelta(days=day.weekday())
    return f"the week of {monday.day} {monday:%B %Y}"


def long_date(day: date) -> str:
    """A date as it stands in a letter.

    >>> long_date(date(2026, 3, 4))
    '4 March 2026'
    """
    return f"{day.day} {day:%B %Y}"


def piece_name(assessment: Assessment) -> str:
    """The piece in the owner's words where there are any, else its kind."""
    case = assessment.case
    return safe(case.called) if case.called else assessment.knowledge.pieces[case.piece].name


def footer(assessment: Assessment) -> str:
    """The small print of every document."""
    return (
        f"Rule base {assessment.knowledge.version}. Local codes and licensed practice prevail over anything written here; "
        "check current local law."
    )
