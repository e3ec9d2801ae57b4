"""Every figure of the guide's chapter on the sums, worked again by the program and compared with what the page prints.

The page is read in order, section by section: each number on it must be the next one that is expected, within half of its last
printed digit. A number that nobody worked out, or one left out, fails as surely as a wrong one.
"""

import re
from collections.abc import Iterator
from itertools import zip_longest
from pathlib import Path

import numpy as np
import pytest

from diagnose.decision.decide import cost_matrix, flips, line_of
from diagnose.decision.inquire import branches, worth
from diagnose.reasoning.believe import answer_tables, believe, decibels, log_odds
from diagnose.reasoning.model import Array
from diagnose.rulebase.rows import row
from tests import worked

PAGE = Path(__file__).parents[2] / "guide" / "10_how_the_advice_is_worked_out.md"
SHORT = dict(zip("ASFGRO", worked.NAMES, strict=True))
SCALE, WORD = worked.SCALE, worked.SCALE.words
SURE, UNSURE = SCALE.off_by["sure"], SCALE.off_by["unsure"]
MODEL = worked.model()
BELIEF = believe(MODEL, answer_tables(SCALE, MODEL, worked.ANSWERS))
BEFORE = believe(MODEL, {})
SIGNS = {sign.id: sign for sign in worked.SIGNS}
CAUSES = {cause.id: cause for cause in worked.CAUSES}
CHOICES = {choice.method: choice for choice in worked.choices(MODEL)}
AGAIN = worked.REDO + worked.HARM * worked.VALUE
COSTS = cost_matrix(list(CHOICES.values()), worked.VALUE, worked.REDO, worked.HARM)
LINES = {name: line_of(choice, BELIEF.posterior, worked.REDO, worked.HARM) for name, choice in CHOICES.items()}
# What one unit of odds is in the prior: one regular cause alone is known by its word and by its place in the prior.
WEIGHT = {name: SCALE.happens[CAUSES[name].happens] * SCALE.together / sum(worked.ODDS) for name in CAUSES}


def place(letters: str) -> int:
    """The place of a set of causes in the model; no letters mean something else."""
    wanted = [float(name in {SHORT[letter] for letter in letters}) for name in MODEL.names]
    return int(np.flatnonzero((MODEL.members == wanted).all(axis=1))[0])


ODDS = MODEL.prior * WEIGHT[SHORT["S"]] / MODEL.prior[place("S")]
LIKE = BELIEF.answered
PRODUCT = ODDS * np.prod(list(LIKE.values()), axis=0)
SIZES = MODEL.members.sum(axis=1)


def said(sign_id: str, cause_id: str) -> dict[str, float]:
    """The row of a cause, as the program fills it up."""
    found = row(SCALE, SIGNS[sign_id], CAUSES[cause_id])
    assert found is not None
    return dict(found)


def the_case() -> list[float]:
    return [WORD[word] for word in ("nearly_always", "usually", "often", "sometimes", "seldom", "hardly_ever")]


def before() -> list[float]:
    regular, rarer = WEIGHT[SHORT["S"]], WEIGHT[SHORT["F"]]
    listed = ODDS[SIZES > 0].sum()
    return [
        regular, rarer, sum(WEIGHT.values()),
        ODDS[place("S")], regular, regular, ODDS[place("SO")],
        *(ODDS[size == SIZES].sum() for size in (1, 2, 3)), listed,
        MODEL.prior[0], listed, MODEL.prior[0], 1 - MODEL.prior[0], ODDS[0], MODEL.sets,
        BEFORE.causes[SHORT["S"]], BEFORE.causes[SHORT["F"]],
    ]  # fmt: skip


def rows() -> list[float]:
    usual = [WORD[SIGNS["break_path"].readings[name].background or ""] for name in ("along", "beside", "across")]
    starved, overload = said("break_path", SHORT["S"]), said("break_path", SHORT["O"])
    return [
        *usual, starved["along"], 1 - starved["along"], starved["beside"], starved["across"],
        overload["beside"], overload["along"], overload["across"],
    ]  # fmt: skip


def answers() -> list[float]:
    along, bare, hard = (LIKE[name] for name in ("break_path", "glue_face", "hard_use"))
    s, o, both = place("S"), place("O"), place("SO")
    along_s, along_o = said("break_path", SHORT["S"])["along"], said("break_path", SHORT["O"])["along"]
    bare_s, bare_o = said("glue_face", SHORT["S"])["bare"], said("glue_face", SHORT["O"])["bare"]
    usual = WORD[SIGNS["hard_use"].readings["yes"].background or ""]
    no = (1 - usual) * (1 - WORD["nearly_always"])
    mean = (along_s + along_o) / 2
    paths, faces, kinds = (len(SIGNS[name].readings) for name in ("break_path", "glue_face", "hard_use"))
    return [
        SURE, UNSURE, 1,
        1 - SURE, along_s, SURE, paths, along[s], 1 - SURE, along_o, SURE, paths, along[o],
        1 - UNSURE, bare_s, UNSURE, faces, bare[s], bare_o, 1 - UNSURE, bare_o, UNSURE, faces, bare[o],
        usual, 1 - SURE, usual, SURE, kinds, hard[s], 1 - usual, 1 - WORD["nearly_always"], 1 - no, 1 - SURE, 1 - no, SURE, kinds, hard[o],
        along_s, along_o, mean, 1 - SURE, mean, SURE, paths, along[both],
    ]  # fmt: skip


def multiplying() -> list[float]:
    told = [place(letters) for letters in ("S", "O", "SO", "G", "A", "GO", "AO", "SR")]
    assert told == np.argsort(-BELIEF.posterior, kind="stable")[: len(told)].tolist(), "not the likeliest sets, or not in order"
    columns: list[Array] = [ODDS, *(LIKE[name] for name in worked.ANSWERS), PRODUCT, BELIEF.posterior]
    total = PRODUCT.sum()
    return [
        *(float(column[i]) for i in told for column in columns),
        MODEL.sets, total, PRODUCT[told[0]], total, BELIEF.posterior[told[0]],
        MODEL.sets - len(told), 1 - BELIEF.posterior[told].sum(),
    ]  # fmt: skip


def causes() -> list[float]:
    lines = [(BEFORE.causes[SHORT[letter]], BELIEF.causes[SHORT[letter]]) for letter in "SOGAFR"]
    assert [now for _, now in lines] == sorted((now for _, now in lines), reverse=True)
    assert sum(BELIEF.causes.values()) > 1
    return [number for line in (*lines, (BEFORE.something_else, BELIEF.something_else)) for number in line]


def worth_of_answers() -> list[float]:
    weights = {name: found[SHORT["S"]] for name, found in decibels(BELIEF).items()}
    assert weights["hard_use"] < 0
    return [float(log_odds(BELIEF.causes[SHORT["S"]])), weights["break_path"], weights["glue_face"], -weights["hard_use"]]


def costs() -> list[float]:
    glue = worked.METHODS["reglue"][0]
    works, back, left = worked.METHODS["reglue"][2], worked.RETURNS[SHORT["S"]], worked.LEFT["reglue"][SHORT["S"]]
    fails = CHOICES["reglue"].fails
    table = [
        [choice.price.expected, choice.kept, choice.fails @ BELIEF.posterior, LINES[name].at(worked.VALUE)]
        for name, choice in CHOICES.items()
    ]
    return [
        worked.VALUE, worked.REDO, worked.HARM, worked.HARM * worked.VALUE, AGAIN,
        glue.low, glue.likely, glue.high, glue.low, 4, glue.likely, glue.high, 6, glue.expected,
        works, back, left, back, left, back * left, 1 - works, 1 - back * left, fails[place("S")],
        worked.RETURNS[SHORT["O"]], 1, 1 - works, 1 - worked.RETURNS[SHORT["O"]], fails[place("O")], MODEL.sets, fails @ BELIEF.posterior,
        *(number for line in table for number in line),
        glue.expected, fails @ BELIEF.posterior, AGAIN, LINES["reglue"].at(worked.VALUE),
    ]  # fmt: skip


def turns() -> list[float]:
    found = flips(list(LINES.values()))
    assert [(flip.below, flip.above) for flip in found] == [("retire", "reglue"), ("reglue", "reinforce")]
    return [*(flip.value for flip in found), worked.VALUE]


def next_question() -> list[float]:
    ways = list(CHOICES)
    by_gap = {found.reads: found for found in branches(MODEL.tables["gap"], MODEL.members, BELIEF.posterior, COSTS, SURE)}
    told = [by_gap[(reading,)] for reading in ("snug", "loose", "slack")]
    assert [ways[int(np.argmin(found.costs))] for found in told] == ["reglue", "reglue", "reinforce"]
    now = (COSTS @ BELIEF.posterior).min()
    asked = {
        name: worth(MODEL.tables[name], MODEL.members, BELIEF.posterior, COSTS, worked.WRONG_REASON, SURE).decision
        for name in ("gap", "residue")
    }
    residue = branches(MODEL.tables["residue"], MODEL.members, BELIEF.posterior, COSTS, SURE)
    finish = sum(found.chance for found in residue if "finish" in found.reads)
    lines = [number for found in told for number in (found.chance, found.costs.min())]
    return [*lines, now - asked["gap"], now, asked["gap"], asked["residue"], finish]


EXPECTED = {
    "How the advice is worked out": the_case,
    "Before anybody looks": before,
    "From words to a row": rows,
    "Three answers": answers,
    "Multiplying": multiplying,
    "What each cause gets": causes,
    "What each answer was worth": worth_of_answers,
    "What each way costs": costs,
    "When the advice turns": turns,
    "What to ask next": next_question,
    "What to take from it": list,
    "Where this comes from": list,
}


def sections(text: str) -> dict[str, str]:
    """The page by headings; what a link points to is no part of the text."""
    text = re.sub(r"\]\([^)]*\)", "]", text)
    parts = re.split(r"^#+ (.+)$", text, flags=re.MULTILINE)[1:]
    return dict(zip(parts[::2], parts[1::2], strict=True))


def numbers(text: str) -> Iterator[tuple[str, float, float]]:
    """Every number of a text as printed, its value, and half of its last printed digit."""
    for found in re.finditer(r"−?\d+(?:\.\d+)?", re.sub(r"`[^`]*`", "", text)):
        printed = found.group()
        decimals = len(printed.partition(".")[2])
        # A hair more, for a figure that lies just on the half.
        yield printed, float(printed.replace("−", "-")), 0.5001 * 10.0**-decimals if decimals else 1e-9


def mismatch(text: str, wanted: list[float]) -> str | None:
    """The first figure of a text that is not the one wanted next, or None."""
    for at, (found, value) in enumerate(zip_longest(numbers(text), wanted), start=1):
        if found is None:
            return f"the page ends before figure {at}, {value:.6g}"
        if value is None:
            return f"nobody works out figure {at}, {found[0]}"
        if abs(found[1] - value) > found[2]:
            return f"figure {at} reads {found[0]} and is {value:.6g}"
    return None


SECTIONS = sections(PAGE.read_text(encoding="utf-8"))


def test_no_section_goes_unchecked() -> None:
    assert list(SECTIONS) == list(EXPECTED)


@pytest.mark.parametrize("heading", EXPECTED)
def test_every_figure_is_what_the_program_finds(heading: str) -> None:
    assert mismatch(SECTIONS[heading], EXPECTED[heading]()) is None


@pytest.mark.parametrize("heading", [name for name, work in EXPECTED.items() if work is not list])
def test_a_wrong_a_missing_or_a_new_figure_is_caught(heading: str) -> None:
    wanted = EXPECTED[heading]()
    printed = [figure for figure, _, _ in numbers(SECTIONS[heading])]
    assert mismatch(" ".join(printed), wanted) is None
    for at, figure in enumerate(printed):
        other = figure[:-1] + str((int(figure[-1]) + 5) % 10)
        assert mismatch(" ".join([*printed[:at], other, *printed[at + 1 :]]), wanted) is not None, figure
    assert mismatch(" ".join(printed[:-1]), wanted) is not None
    assert mismatch(" ".join([*printed, "7"]), wanted) is not None
