"""The papers beside the estimate, over the same stories: each holds its parts, says what is true of the piece, and is refused where it cannot be."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import pytest

from diagnose import words
from diagnose.assess import Assessment, assess
from diagnose.case.case import Answer
from diagnose.decision.whole_piece import RETIRED
from diagnose.documents import plan_lists, say
from diagnose.documents.letters import FORMS, NotThisForm, estimate, revised
from diagnose.documents.letters.answer import NO_PRICE, REFUSED, to_mend_it
from diagnose.documents.letters.unsafe_now import unsafe_now
from diagnose.documents.letters.work import sent_on, works
from diagnose.documents.plan import plan
from diagnose.documents.plan_glue import gluings_of
from tests.documents.test_letters import BLAME, FIGURES, KNOWLEDGE, chosen
from tests.readme_examples import example

OTHERS = tuple(name for name in words.LETTERS if name != "estimate")


@dataclass(frozen=True)
class Paper:
    """One paper with the assessment it was written from; `text` is empty where it was refused, and then `refused` says why."""

    name: str
    form: str
    of: Assessment
    text: str
    refused: str = ""

    @property
    def ours(self) -> str:
        """What we say ourselves: without what the owner said, what we wrote before, and the heading."""
        return re.sub(r"“.*?”", "", self.text).partition("\n")[2]


def _written(form: str, name: str, got: Assessment) -> Paper:
    try:
        return Paper(name, form, got, FORMS[form](got))
    except NotThisForm as reason:
        return Paper(name, form, got, "", str(reason))


@pytest.fixture(scope="module")
def assessed() -> list[tuple[str, Assessment]]:
    """Every assessment that a paper is written from."""
    return list(chosen())


@pytest.fixture(scope="module")
def papers(assessed: list[tuple[str, Assessment]]) -> list[Paper]:
    """Every paper of every form, written once."""
    return [_written(form, name, got) for name, got in assessed for form in OTHERS]


def of(papers: list[Paper], form: str) -> list[Paper]:
    """The papers of one form that were written."""
    return [paper for paper in papers if paper.form == form and paper.text]


def wrong(papers: list[Paper], check: Callable[[Paper], object]) -> list[tuple[str, str, object]]:
    """The papers that a check finds something wrong with, and what."""
    return [(paper.name, paper.form, found) for paper in papers if paper.text and (found := check(paper))]


def test_every_form_has_its_name_in_the_words() -> None:
    assert tuple(FORMS) == words.LETTERS


def test_a_paper_is_refused_only_where_it_could_not_be_true(papers: list[Paper]) -> None:
    for paper in papers:
        no_work = paper.of.triage in REFUSED or not works(paper.of) or sent_on(paper.of)
        impossible = {"receipt": paper.of.triage in REFUSED, "hand_over": no_work}.get(paper.form, False)
        assert bool(paper.refused) is impossible, (paper.name, paper.form)
    assert {form: len(of(papers, form)) > 100 for form in OTHERS} == dict.fromkeys(OTHERS, True)
    assert {paper.form for paper in papers if paper.refused} == {"receipt", "hand_over"}


def test_no_percentages_no_blame_no_ids_and_no_sums(papers: list[Paper]) -> None:
    ids = re.compile(r"\b[a-z]+(?:_[a-z]+)+\b")
    blame = re.compile(rf"\b(?:{'|'.join(BLAME)})\b", re.IGNORECASE)
    assert wrong(papers, lambda paper: re.findall(FIGURES, paper.ours)) == []
    assert wrong(papers, lambda paper: blame.findall(paper.ours)) == []
    assert wrong(papers, lambda paper: ids.findall(re.sub(r"_{2,}", "", paper.ours))) == []


def test_what_is_unsafe_now_stands_on_the_papers_of_a_piece_that_is_not_mended_yet(papers: list[Paper]) -> None:
    early = [*of(papers, "receipt"), *of(papers, "until_you_bring_it")]
    assert wrong(early, lambda paper: unsafe_now(paper.of).strip() not in paper.text) == []
    assert wrong(of(papers, "hand_over"), lambda paper: "Please note now" in paper.text) == []


def test_a_receipt_names_no_price_of_work_and_says_yes_to_none(papers: list[Paper]) -> None:
    def check(paper: Paper) -> object:
        shop, value = paper.of.shop, paper.of.case.value
        allowed = [shop.money(amount) for amount in (shop.look_see_fee, shop.storage_per_week, value or 0.0)]
        return [sum_ for sum_ in re.findall(r"EUR \d+(?:,\d{3})*", paper.ours) if sum_ not in allowed]

    assert wrong(of(papers, "receipt"), check) == []
    assert wrong(of(papers, "receipt"), lambda paper: "is no yes to any work" not in paper.text) == []
    assert wrong(of(papers, "receipt"), lambda paper: paper.text.count("name, date and signature") != 2) == []


def test_before_it_was_seen_no_likely_price_is_named_and_none_of_wet_wood(papers: list[Paper]) -> None:
    slips = of(papers, "until_you_bring_it")
    assert wrong(slips, lambda paper: re.findall(r"Likely EUR", paper.text)) == []
    wet = [paper for paper in slips if paper.of.triage is words.Triage.DRY_ONLY]
    assert wet
    assert wrong(wet, lambda paper: "We name no price" not in paper.text) == []
    away = [paper for paper in slips if paper.of.triage in REFUSED]
    assert away
    assert wrong(away, lambda paper: "Please bring" in paper.text or "## What to bring" in paper.text) == []


def test_broken_faces_are_not_to_be_pressed_together_meanwhile(papers: list[Paper]) -> None:
    def check(paper: Paper) -> bool:
        parted = any(damage.kind in ("broken", "split") for damage in paper.of.case.damages)
        return ("Do not press the broken faces together" in paper.text) is not parted

    assert wrong(of(papers, "until_you_bring_it"), check) == []


def test_what_is_glued_has_an_hour_before_which_nobody_uses_it(papers: list[Paper]) -> None:
    def check(paper: Paper) -> bool:
        # Also a split or a patch is glued, in a phase of its own; the line for whoever mends it next names the glue, or says that there is none.
        line = plan_lists.line_inside(paper.of, gluings_of(paper.of))
        return ("Not to be used before" in paper.text) is not (bool(line) and "· no glue ·" not in line)

    assert wrong(of(papers, "hand_over"), check) == []


def test_the_hand_over_says_what_was_agreed_and_the_plan_leaves_the_same_line_inside(papers: list[Paper]) -> None:
    def check(paper: Paper) -> object:
        agreed = {KNOWLEDGE.methods[d.decision.method].owner for d in paper.of.damages}
        return [text for text in agreed if f"“{text}”" not in paper.text]

    assert wrong(of(papers, "hand_over"), check) == []
    chair = example("slack_chair")
    line = re.search(r"leave a line for whoever mends it next: (“.*?”)", FORMS["hand_over"](chair))
    assert line is not None
    assert f"under a rail: {line[1]}" in plan(chair)


def test_an_insurer_reads_of_the_owner_and_hears_every_answer(papers: list[Paper]) -> None:
    reports = of(papers, "for_the_insurer")

    def seen(paper: Paper) -> str:
        found = re.search(r"(?s)## Reported, and seen\n(.*?)\n## ", paper.text)
        return found[1] if found else ""

    def unheard(paper: Paper) -> list[str]:
        case = paper.of.case
        answers = {**case.readings, **{k: v for d in case.damages for k, v in d.readings.items()}}
        told = seen(paper)
        return [name for name, a in answers.items() if not a.cannot_tell and (KNOWLEDGE.signs[name].ask or "") not in told]

    assert wrong(reports, unheard) == []
    assert wrong(reports, lambda paper: re.findall(r"(?i)\byou(?:rs?)?\b", re.sub(r"“.*?”", "", seen(paper)))) == []
    assert wrong(reports, lambda paper: "we are not" not in paper.text or "is not for us to say" not in paper.text) == []


def _later() -> Iterator[tuple[str, Assessment, Assessment]]:
    """An example as it was and with one answer more or other."""
    chair = example("slack_chair")
    leg = next(damage.id for damage in chair.case.damages if damage.part == "back_leg")
    case = chair.case.with_answer(leg, "break_length_ratio", Answer(("four_to_eight",)))
    case = case.with_answer(leg, "dirt_in_crack", Answer(("dirt_inside",)))
    yield "the crack is older than it seemed", chair, assess(case, KNOWLEDGE, chair.shop, chair.today)


@pytest.mark.parametrize(("name", "before", "after"), list(_later()))
def test_a_revised_estimate_sets_what_was_found_beside_what_was_expected(
    name: str, before: Assessment, after: Assessment
) -> None:
    assert {d.decision.method for d in before.damages} != {d.decision.method for d in after.damages}, name
    text = revised(after, before)
    rows = [line for line in text.splitlines() if line.startswith("| ")]
    changed = next(row for row in rows if row.startswith("| Back leg, split or cracked: the work"))
    old, new = (next(d for d in got.damages if d.damage.part == "back_leg") for got in (before, after))
    assert KNOWLEDGE.methods[old.decision.method].owner in changed
    assert KNOWLEDGE.methods[new.decision.method].owner in changed
    assert before.price is not None
    assert after.price is not None
    assert f"likely {after.shop.money(after.price.likely - before.price.likely)} more" in text
    assert "Dirt or wax." in text.partition("*New since we wrote to you*")[2].partition("##")[0]


def test_a_revised_estimate_of_what_has_not_changed_says_so() -> None:
    chair = example("slack_chair")
    text = revised(chair, chair)
    assert text.count("As we expected.") == 2 * len(chair.damages) + 1
    assert "New since we wrote" not in text
    assert "That is the likely price we told you before" in text


def test_a_damage_found_since_was_not_expected() -> None:
    chair = example("slack_chair")
    first = replace(chair.case, damages=chair.case.damages[:1])
    before = assess(first, KNOWLEDGE, chair.shop, chair.today)
    place = say.first_up(say.place_of(chair.case.damages[1]))
    assert f"| {place}: why | We did not know of it. |" in revised(chair, before)


def test_an_estimate_of_another_piece_is_no_earlier_one() -> None:
    with pytest.raises(NotThisForm, match="another piece"):
        revised(example("slack_chair"), example("rocking_table"))


def test_a_piece_that_turns_out_not_to_be_ours_gets_the_letter_that_says_so(assessed: list[tuple[str, Assessment]]) -> None:
    name, refused = next((name, got) for name, got in assessed if got.triage is words.Triage.DECLINE)
    assert revised(refused, refused) == estimate(refused), name


def test_only_what_the_piece_has_is_spoken_of(papers: list[Paper]) -> None:
    """No keys for a stool, no doors to try on a table, and all of what it has."""
    belongings = {name for piece in KNOWLEDGE.pieces.values() for name in piece.comes_with}
    moving = {name for piece in KNOWLEDGE.pieces.values() for name in piece.moves}
    assert belongings > {"keys", "drawers", "cushion"}

    def check(paper: Paper) -> object:
        piece = KNOWLEDGE.pieces[paper.of.case.piece]
        line = next(
            (line for line in paper.text.splitlines() if ("belong" in line and "☐" in line) or "What belongs to it" in line), ""
        )
        moved = next((line for line in paper.text.splitlines() if "were tried together" in line or "tie shut" in line), "")
        wrongly = [name for name in belongings if re.search(rf"\b{name}\b", line, re.IGNORECASE)]
        opened = [name for name in moving if re.search(rf"\b{name}\b", moved)]
        if paper.of.triage in REFUSED or paper.form == "for_the_insurer":
            return [*wrongly, *opened]
        there = {"receipt": ["belongs"], "hand_over": ["moves"]}.get(paper.form, ["belongs", "moves"])
        return ("belongs" in there and set(wrongly) != set(piece.comes_with)) or (
            "moves" in there and set(opened) != set(piece.moves)
        )

    assert wrong(papers, check) == []


def test_the_price_of_giving_up_is_never_told_as_that_of_mending(papers: list[Paper]) -> None:
    def check(paper: Paper) -> object:
        cost = to_mend_it(paper.of)
        said = "no repair that we could answer for" if cost is None else f"safely would cost about {paper.of.shop.money(cost)}"
        return paper.of.piece_decision == RETIRED and paper.of.price is not None and said not in paper.text

    asked = [p for p in papers if p.form in ("until_you_bring_it", "for_the_insurer") and p.of.triage not in NO_PRICE]
    assert sum(paper.of.piece_decision == RETIRED for paper in asked) >= 4
    assert wrong(asked, check) == []


def test_a_load_is_tried_only_where_something_hangs_on_it(papers: list[Paper]) -> None:
    def check(paper: Paper) -> bool:
        light = all(
            d.situation.consequence in ("looks", "nuisance") or d.damage.kind in ("sticks", "surface") for d in paper.of.damages
        )
        return light and "Loaded with" in paper.text

    assert sum("Loaded with" in paper.text for paper in of(papers, "hand_over")) > 50
    assert wrong(of(papers, "hand_over"), check) == []


def test_what_two_damages_answer_otherwise_names_its_place(papers: list[Paper]) -> None:
    """One question with two answers would read as a contradiction."""

    def check(paper: Paper) -> list[str]:
        part = re.search(r"(?s)## Reported, and seen\n(.*?)\n## ", paper.text)
        asked = [line.partition("?")[0] for line in (part[1] if part else "").splitlines() if "?" in line and "“" not in line]
        return sorted({line for line in asked if asked.count(line) > 1})

    assert wrong(of(papers, "for_the_insurer"), check) == []


def test_who_valued_it_is_named_wherever_the_value_is_told() -> None:
    table = example("rocking_table")
    valued = replace(table.case, value=20.0, value_by="an auction house")
    got = assess(valued, KNOWLEDGE, table.shop, table.today)
    assert "That is more than the EUR 20 that an auction house told us it is worth" in FORMS["estimate"](got)
    told = [FORMS[form](got) for form in ("estimate", "receipt", "for_the_insurer")]
    assert all("an auction house" in text for text in told)
    assert not any(re.search(r"you (?:have )?told us (?:that )?it is worth|owner told us|value you put", text) for text in told)
