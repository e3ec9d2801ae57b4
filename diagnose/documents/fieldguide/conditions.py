"""Conditions of the rule base in plain words, every fact a link to where it is explained."""

from collections.abc import Sequence
from string import ascii_lowercase

from diagnose import words
from diagnose.documents.fieldguide.blocks import Items, Link, Phrase, Tag, in_a_row, items, phrase, plain_text
from diagnose.documents.say import plain
from diagnose.rulebase.entries import Line, When
from diagnose.rulebase.knowledge import Knowledge

# How a line about the case begins.
_BEGINS = {
    "piece": "the piece is: ",
    "damage": "the damage is ",
    "joint": "the joint is: ",
    "part": "the part is: ",
    "carries": "the part carries ",
    "wood": "the wood is ",
    "consequence": "if it goes, ",
    "our_term": "our own earlier repair is ",
    words.FINDING: "already concluded: ",
}
_SAYS = {
    "damage": words.DAMAGES,
    "joint": words.JOINT_KINDS,
    "carries": words.CARRIES,
    "consequence": words.CONSEQUENCES,
    "our_term": words.OUR_TERM,
}


def part_ids(knowledge: Knowledge) -> tuple[str, ...]:
    """Every part of any piece, in order of first mention."""
    return tuple(dict.fromkeys(part for piece in knowledge.pieces.values() for part in piece.parts))


# Lists longer than this are words only: two dozen links in one sentence help nobody.
_LONG = 6


def _value(knowledge: Knowledge, key: str, value: str, linked: bool) -> Phrase:
    if not linked:
        return (_in_words(knowledge, key, value),)
    if key in knowledge.signs:
        return (Link(_small(knowledge.signs[key].say(value)), f"reading:{key}.{value}"),)
    if key == "piece" and value in knowledge.pieces:
        return (Link(knowledge.pieces[value].name.lower(), f"piece:{value}"),)
    if key == "part" and value in part_ids(knowledge):
        return (Link(plain(value), f"part:{value}"),)
    if key == "wood" and value in knowledge.woods:
        return (Link(knowledge.woods[value].name.lower(), f"wood:{value}"),)
    if key == words.FINDING and value in knowledge.findings:
        return (Link(knowledge.findings[value].say.rstrip("."), f"finding:{value}"),)
    return (_in_words(knowledge, key, value),)


def _small(text: str) -> str:
    """A reading inside a sentence."""
    return text[:1].lower() + text[1:]


def _in_words(knowledge: Knowledge, key: str, value: str) -> str:
    if key in knowledge.signs:
        return _small(knowledge.signs[key].say(value))
    return _SAYS.get(key, {}).get(value, plain(value))


def line_said(knowledge: Knowledge, line: Line) -> Phrase:
    """One line of a condition."""
    linked = len(line.values) <= _LONG
    said = [_value(knowledge, line.key, value, linked) for value in line.values]
    word = " and " if line.every else " or "
    # A value with a list in it, such as “split or cracked”, is set apart from its neighbours by more than a comma.
    crowded = len(said) > 1 and any(mark in plain_text(value) for value in said for mark in (",", " or ", " and "))
    values = in_a_row(said, between="; " if crowded else ", ", last=f";{word}" if crowded else word)
    if not linked:
        values = (Tag(plain_text(values), "list"),)
    if line.key in knowledge.signs:
        sign = knowledge.signs[line.key]
        asked = sign.ask or sign.called
        return phrase("“", asked if linked else Link(asked, f"sign:{sign.id}"), "” – ", values)
    return phrase(_BEGINS.get(line.key, plain(line.key) + ": "), values)


def _together(knowledge: Knowledge, lines: Sequence[Line]) -> Phrase:
    return in_a_row([line_said(knowledge, line) for line in lines], between="; ", last=", and ")


def lines_said(knowledge: Knowledge, when: When, any_closes: bool = False) -> Items | None:
    """A whole condition as a list: every item must hold. `any_closes`: an `unless`, of which any item is enough."""
    found = [line_said(knowledge, line) for line in when.lines]
    branches = [_together(knowledge, branch) for branch in when.branches]
    if any_closes:
        return items([*found, *branches])
    if len(branches) > 1:
        found.append(("one of these:",))
        found += [phrase(f"({letter}) ", branch) for letter, branch in zip(ascii_lowercase, branches, strict=False)]
    else:
        found += branches
    return items(found)


def in_one_line(knowledge: Knowledge, when: When) -> Phrase:
    """A short condition inside a sentence."""
    found = [line_said(knowledge, line) for line in when.lines]
    branches = [_together(knowledge, branch) for branch in when.branches]
    if len(branches) > 1:
        found.append(phrase("either ", in_a_row([phrase("(", branch, ")") for branch in branches], between=" or ")))
    else:
        found += branches
    return in_a_row(found, between="; ", last="; and ")
