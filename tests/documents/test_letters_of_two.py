"""Letters about two damages of one piece, of every kind of piece: what holds of the whole piece is said once, what is promised fits the
work, and the letter stays one that is read to its end."""

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest

from diagnose import words
from diagnose.assess import assess
from diagnose.case.case import Answer, Case
from diagnose.case.told import case_of
from diagnose.decision.undecided import Undecided
from diagnose.decision.whole_piece import RETIRED
from diagnose.documents.letters import estimate
from diagnose.documents.letters.answer import NO_PRICE, REFUSED
from diagnose.documents.letters.money import LOOK_AGAIN
from diagnose.documents.letters.other_ways import AS_GOOD, COSTS_NOTHING
from diagnose.documents.letters.told_and_found import MOST_FOUND
from diagnose.documents.letters.work import method_of, opens
from diagnose.proof.stories import TOLD_ON
from tests.documents.test_letters import KNOWLEDGE, SHOP, Letter
from tests.planning.story_plans import together

# Two pages of A4 hold so many words as the letter is printed; with a price for each of two damages a third page is begun.
MOST_WORDS, MOST_WORDS_OF_TWO = 1250, 1750


def _pairs() -> Iterator[tuple[str, Case]]:
    """A story of each kind of piece with the next of that kind, and every seventh story alone."""
    by_piece: dict[str, list[tuple[str, Case]]] = {}
    for told in KNOWLEDGE.stories:
        case = case_of(told.story, KNOWLEDGE)
        by_piece.setdefault(case.piece, []).append((told.story.name, case))
    for stories in by_piece.values():
        for (one, first), (other, second) in list(zip(stories[::2], stories[1::2], strict=False))[:4]:
            yield f"{one} + {other}", together(first, second)
        yield from stories[::7]


@pytest.fixture(scope="module")
def letters() -> list[Letter]:
    """Every letter, written once; the frame is pushed, so that it can be priced."""
    found = []
    for name, case in _pairs():
        pushed = {"rack_test": Answer(("one_direction_slack",)), **case.readings}
        try:
            got = assess(replace(case, readings=pushed), KNOWLEDGE, SHOP, TOLD_ON)
        except Undecided:
            continue
        found.append(Letter(name, got, estimate(got)))
    return found


def lines(text: str) -> list[str]:
    """The items of the lists in a part of a letter."""
    return [line.removeprefix("- ") for line in text.splitlines() if line.startswith("- ")]


def test_the_letters_are_of_one_and_of_two_damages_and_of_every_kind_of_piece(letters: list[Letter]) -> None:
    assert {letter.of.case.piece for letter in letters} == set(KNOWLEDGE.pieces)
    assert sum(len(letter.of.damages) > 1 for letter in letters) > 40
    assert sum(len(letter.of.damages) == 1 for letter in letters) > 40


def test_giving_the_piece_up_and_leaving_it_are_told_once_for_each_thing_that_is_said_of_them(letters: list[Letter]) -> None:
    """A piece is left or given up as a whole; told for each damage with a price of its own it reads like a choice that nobody has."""
    owners = {m.owner for m in KNOWLEDGE.methods.values() if m.decision in ("no_structural_work", RETIRED)}
    seen = 0
    for letter in letters:
        told = []
        for line in lines(letter.section("Other ways")):
            owner = next((owner for owner in owners if f"**{owner}**" in line), None)
            if owner is not None:
                said = re.sub(r"(?:EUR [\d,]+(?: to )?)+\.?", "", line.partition(f"**{owner}**")[2]).strip()
                told.append((owner, said))
        assert len(told) == len(set(told)), (letter.name, told)
        seen += len(told)
    assert seen > 100
    for letter in letters:
        assert letter.section("Other ways").count(f"{COSTS_NOTHING}\n") <= 1, letter.name


def test_what_matters_among_equals_is_said_where_a_way_is_told_as_equal(letters: list[Letter]) -> None:
    for letter in letters:
        ways = letter.section("Other ways")
        assert ("Where a way is as good" in ways) is (AS_GOOD in "\n".join(lines(ways))), letter.name


def test_what_is_promised_fits_the_work(letters: list[Letter]) -> None:
    waiting = marks = 0
    for letter in letters:
        term = letter.section("What we stand for")
        if not term:
            continue
        if all(method_of(letter.of, damage).timing == LOOK_AGAIN for damage in letter.of.damages):
            assert "Nothing is mended yet" in term, letter.name
            waiting += 1
        if not opens(letter.of):
            assert "joint" not in term, letter.name
            marks += "new marks" in term
    assert waiting
    assert marks


def test_what_was_found_is_told_in_no_more_lines_than_are_read_and_what_decides_at_the_door_is_among_them(
    letters: list[Letter],
) -> None:
    for letter in letters:
        found = letter.section("What you told us, and what we found").partition("*We saw, measured or tried*")[2]
        told = [line for line in lines(found.partition("*Not looked at yet*")[0]) if not line.startswith("These joints")]
        assert len(told) <= MOST_FOUND * 2, "a sign may be read at both damages"
        if len(letter.of.damages) == 1:
            assert len(told) <= MOST_FOUND, letter.name
            answers = letter.of.case.answers(letter.of.damages[0].damage)
            deduction = letter.of.damages[0].deduction
            decided = set(deduction.rules_for("triage", letter.of.triage.value)) if letter.of.triage in REFUSED else set()
            for trace in deduction.traces:
                for sign in (
                    {token.partition("=")[0] for token in trace.because_of} & set(answers) if trace.rule in decided else ()
                ):
                    answer = answers[sign]
                    if answer.by != "owner" and not answer.cannot_tell:
                        assert (KNOWLEDGE.signs[sign].ask or "").replace("the owner", "you") in found, (letter.name, sign)


def test_a_letter_is_short_enough_to_be_read(letters: list[Letter]) -> None:
    for letter in letters:
        most = MOST_WORDS if len(letter.of.damages) == 1 else MOST_WORDS_OF_TWO
        assert len(letter.text.split()) <= most, (letter.name, len(letter.text.split()))


@pytest.mark.parametrize(
    ("called", "said"),
    [
        ("the hall chair", "your hall chair"),
        ("My desk", "your desk"),
        ("an old stool", "your old stool"),
        ("Anna's chair", "your Anna's chair"),
    ],
)
def test_a_piece_is_called_what_its_owner_calls_it_without_a_second_article(called: str, said: str) -> None:
    case = Case("table", called=called, joints={joint.id: "tight" for joint in KNOWLEDGE.pieces["table"].joints})
    head = estimate(assess(case, KNOWLEDGE, SHOP, TOLD_ON)).partition("\n")[0]
    assert head.endswith(said)


def test_a_line_of_care_says_by_itself_what_it_is_about() -> None:
    """Under the heading of care nothing stands before it that "they" could mean."""
    for cause in KNOWLEDGE.causes.values():
        assert not re.match(r"(?:They|Them|These|Those|This)\b", cause.prevents or ""), cause.id


def test_what_lives_in_it_is_bagged_by_one_sentence(letters: list[Letter]) -> None:
    out = [letter for letter in letters if letter.of.triage is words.Triage.STAYS_OUT]
    assert out
    for letter in out:
        assert letter.of.triage in NO_PRICE
        assert letter.ours.count("closed bag") == 1, letter.name
