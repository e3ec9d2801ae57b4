"""Letters read by the rules of the trade, over a third of all stories and every answer at the door: the answer first, plain words, no
blame, nothing said twice, nothing that is false of the piece, and always a choice that can be ticked."""

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

import pytest

from diagnose import words
from diagnose.assess import Assessment, assess
from diagnose.case.case import Answer, Case
from diagnose.case.told import case_of
from diagnose.damage_words import DAMAGE_WORDS
from diagnose.decision.can_do import REFERRED
from diagnose.decision.cost import Price
from diagnose.decision.whole_piece import RETIRED
from diagnose.documents.letters import estimate, prices
from diagnose.documents.letters.answer import NO_PRICE, REFUSAL, REFUSED
from diagnose.documents.letters.other_ways import LEFT_ALONE
from diagnose.documents.letters.told_and_found import to_you, without_measures
from diagnose.documents.letters.unsafe_now import GIVES_WAY
from diagnose.documents.letters.work import opens, sent_on
from diagnose.documents.plan import plan
from diagnose.proof.stories import TOLD_ON
from diagnose.rulebase.entries import Story
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop
from tests.readme_examples import example

KNOWLEDGE = load_knowledge()
SHOP = Shop(name="The shop", telephone="0555 1")


@dataclass(frozen=True)
class Letter:
    """A letter with the assessment it was written from."""

    name: str
    of: Assessment
    text: str

    @property
    def ours(self) -> str:
        """What we say ourselves: without what the owner said and without names of the case."""
        return re.sub(r"“.*?”", "", self.text).partition("\n")[2]

    def section(self, heading: str) -> str:
        """The text under a heading; empty where there is none."""
        found = re.search(rf"(?ms)^## {re.escape(heading)}\n(.*?)(?=^## |\Z)", self.text)
        return found[1] if found else ""


def _assessed(story: Story) -> Assessment:
    """A story's assessment; where it says nothing of the frame, that was pushed by hand, so that it can be priced."""
    case = case_of(story, KNOWLEDGE)
    pushed = {"rack_test": Answer(("one_direction_slack",)), **case.readings}
    return assess(replace(case, readings=pushed), KNOWLEDGE, SHOP, TOLD_ON, only=story.open)


def chosen() -> Iterator[tuple[str, Assessment]]:
    by_triage = {
        told.story.expect.triage: told.story
        for told in reversed(KNOWLEDGE.stories)
        if told.story.expect.triage not in (None, words.Triage.TAKE_IN)
    }
    ours = [told.story for told in KNOWLEDGE.stories if told.story.given.get("our_term") == "within"]
    stories = [told.story for told in KNOWLEDGE.stories[::3]] + [*by_triage.values(), *ours[:2]]
    for story in {story.name: story for story in stories}.values():
        yield story.name, _assessed(story)
    for name in ("slack_chair", "broken_back_leg", "rocking_table"):
        yield name, example(name)
    for name in ("slack_chair", "broken_back_leg"):
        got = example(name)
        yield f"{name}, worth next to nothing", assess(replace(got.case, value=15.0), KNOWLEDGE, got.shop, got.today)


@pytest.fixture(scope="module")
def letters() -> list[Letter]:
    """Every letter, written once."""
    return [Letter(name, got, estimate(got)) for name, got in chosen()]


def wrong(letters: Iterable[Letter], check: Callable[[Letter], object]) -> list[tuple[str, object]]:
    """The letters that a check finds something wrong with, and what."""
    return [(letter.name, found) for letter in letters if (found := check(letter))]


def no_price(letter: Letter) -> bool:
    """Whether the door or a rule says that no price is told, or the work is ours to bear."""
    return letter.of.triage in NO_PRICE or bool(letter.of.told.not_yet) or letter.of.price is None


def consequence(letter: Letter, damage: int) -> str | None:
    """What happens if a damage goes."""
    return next(iter(letter.of.damages[damage].facts.values.get("consequence", ())), None)


def test_the_letters_are_many_and_of_every_kind(letters: list[Letter]) -> None:
    assert len(letters) > 200
    assert {letter.of.triage for letter in letters} == set(words.Triage)
    assert {KNOWLEDGE.pieces[letter.of.case.piece].group for letter in letters} == {p.group for p in KNOWLEDGE.pieces.values()}
    assert len({d.decision.decision for letter in letters for d in letter.of.damages}) >= 10
    assert any(letter.of.told.on_us for letter in letters)
    assert any(letter.of.told.cover for letter in letters)
    assert any(letter.of.piece_decision == RETIRED and letter.of.price for letter in letters)


# What a letter holds, in the order of the trade.
PARTS = (
    "# Estimate for your ",
    "Number ",
    "**",
    "## What you told us, and what we found",
    "*You told us*",
    "*We saw, measured or tried*",
    "## Why it happened",
    "## What ",
    "## Other ways",
    "## What we cannot know yet",
    "## Using it afterwards",
    "## When",
    "## Money",
    "The offer stands until ",
    "## What we stand for",
    "Your legal rights are untouched.",
    "## What we ask of you",
    "☐ Yes",
    "☐ No",
    "☐ Not yet",
    "Name, date and signature",
    "Rule base ",
    "check current local law",
)
PARTS_WITHOUT_PRICE = (
    "# About your ",
    "Number ",
    "**",
    "## What you told us, and what we found",
    "## What ",
    "## What we ask of you",
    "☐ ",
    "Name, date and signature",
    "Rule base ",
)


def missing_in_order(text: str, parts: tuple[str, ...]) -> str:
    """The first part that is missing or stands too early."""
    at = 0
    for part in parts:
        found = text.find(part, at)
        if found < 0:
            return part
        at = found + len(part)
    return ""


def test_a_letter_holds_its_parts_in_order(letters: list[Letter]) -> None:
    def check(letter: Letter) -> str:
        return missing_in_order(letter.text, PARTS_WITHOUT_PRICE if no_price(letter) else PARTS)

    assert wrong(letters, check) == []
    for letter in letters:
        headings = re.findall(r"^#+ .*$", letter.text, re.MULTILINE)
        assert len(headings) == len(set(headings)), letter.name
        assert all(re.sub(r"^## .*\n", "", part).strip() for part in re.split(r"(?m)^(?=## )", letter.text)), letter.name
        assert f"Rule base {letter.of.knowledge.version}." in letter.text


def test_the_answer_comes_first_and_with_the_price(letters: list[Letter]) -> None:
    for letter in letters:
        before, price, money = letter.text.partition("## What you told us")[0], letter.of.price, letter.of.shop.money
        assert (letter.of.plan == ()) is (letter.of.triage in REFUSED), letter.name
        if letter.of.triage in REFUSED:
            assert REFUSAL[letter.of.triage] in before
            assert all(because in before for because in letter.of.triage_because), letter.name
            assert all(name in before for name in letter.of.refer_to), letter.name
        elif letter.of.triage is words.Triage.DRY_ONLY:
            assert "First it has to dry" in before
        elif letter.of.told.not_yet:
            assert "We cannot name a price yet" in before
            assert all(because in before for because in letter.of.told.not_yet)
        elif price is None:
            assert "There is nothing to pay" in before
        elif sent_on(letter.of):
            assert "What they charge is for them to say" in before
        else:
            assert prices.told(letter.of.shop, price) in before, letter.name
            assert money(price.likely) in before


def test_what_may_let_somebody_fall_stands_in_the_box(letters: list[Letter]) -> None:
    def check(letter: Letter) -> object:
        box = "\n".join(line for line in letter.text.partition("## ")[0].splitlines() if line.startswith(">"))
        for number, damage in enumerate(letter.of.damages):
            falls = consequence(letter, number) in words.NOT_FOR_MONEY and damage.damage.kind in GIVES_WAY
            sound = damage.decision.decision == "no_structural_work" and damage.decision.end_use == "as_before"
            calm = sound and letter.of.price is not None
            if falls and not calm and "Please do not use it as it is" not in box:
                return "the box is silent"
            if calm and len(letter.of.damages) == 1 and "Please do not use it" in box:
                return "it stands firm, and is called unsafe"
        heard = [KNOWLEDGE.findings[name] for name in letter.of.findings]
        return [finding.id for finding in heard if finding.heard == "now" and finding.owner not in box]

    assert wrong(letters, check) == []
    assert any(
        KNOWLEDGE.findings[n].heard == "now" for letter in letters if letter.of.triage in REFUSED for n in letter.of.findings
    )


def test_what_an_owner_must_hear_is_told_wherever_the_piece_is_taken_on_or_not(letters: list[Letter]) -> None:
    def check(letter: Letter) -> object:
        return [name for name in letter.of.findings if KNOWLEDGE.findings[name].owner not in letter.text]

    assert wrong(letters, check) == []
    assert all(finding.owner for finding in KNOWLEDGE.findings.values() if finding.heard == "now")


def test_a_letter_without_a_price_asks_for_no_yes_to_work_and_names_no_price_of_it(letters: list[Letter]) -> None:
    told = [letter for letter in letters if no_price(letter)]
    assert {letter.of.triage for letter in told} > NO_PRICE
    for letter in told:
        assert "please do what you advise" not in letter.text
        amounts = set(re.findall(r"EUR [\d,]+", letter.text))
        value = {letter.of.shop.money(letter.of.case.value)} if letter.of.case.value else set()
        assert amounts <= {letter.of.shop.money(letter.of.shop.look_see_fee)} | value, letter.name
        assert ("☐ Yes" in letter.text) is (letter.of.triage not in REFUSED), letter.name
        if letter.of.triage in REFUSED:
            assert "we have done no work on it" in letter.text
        for name in letter.of.refer_to:
            assert name in letter.text, letter.name


def test_doing_nothing_and_giving_up_are_always_among_the_ways(letters: list[Letter]) -> None:
    for letter in letters:
        ways = letter.section("Other ways")
        if no_price(letter):
            assert ways == ""
            continue
        for damage in letter.of.damages:
            for decision in ("no_structural_work", RETIRED):
                if damage.decision.decision == decision:
                    continue
                owners = [KNOWLEDGE.methods[o.method].owner for o in damage.decision.options if o.decision == decision]
                assert any(owner in ways for owner in owners or [LEFT_ALONE]), (letter.name, decision)


def test_only_ways_that_could_mend_it_are_told_besides(letters: list[Letter]) -> None:
    """A way that more likely fails than holds is no way to an owner, unless it is the cheap one that is asked for and would be too weak."""

    def check(letter: Letter) -> object:
        ways = letter.section("Other ways")
        found = []
        for damage in letter.of.damages:
            for option in damage.decision.options:
                owner = KNOWLEDGE.methods[option.method].owner
                mends = option.decision not in ("no_structural_work", RETIRED) and option.method != damage.decision.method
                if mends and f"**{owner}**" in ways and option.fails_again > 0.5 and len(letter.of.damages) == 1:
                    found.append(option.method)
        return found

    assert wrong(letters, check) == []


def test_why_a_way_is_not_advised_is_true(letters: list[Letter]) -> None:
    seen: set[str] = set()
    for letter in letters:
        for damage in letter.of.damages:
            advised = next(o for o in damage.decision.options if o.method == damage.decision.method)
            for option in damage.decision.options:
                lines = [
                    line for line in letter.section("Other ways").splitlines() if KNOWLEDGE.methods[option.method].owner in line
                ]
                if len(letter.of.damages) > 1 or not lines or option is advised:
                    continue
                (line,) = lines
                if "it costs more" in line:
                    assert option.price.likely > advised.price.likely, letter.name
                if "it is less sure to hold" in line:
                    assert option.fails_again > advised.fails_again, letter.name
                if "as good" in line:
                    assert option.verdict is words.Verdict.TIE, letter.name
                if "We do not offer this" in line:
                    assert option.verdict is words.Verdict.RULED_OUT, letter.name
                seen |= {word for word in ("it costs more", "less sure", "as good", "do not offer") if word in line}
    assert len(seen) == 4


def test_both_ways_are_told_where_nobody_said_what_it_is_worth(letters: list[Letter]) -> None:
    owners = 0
    for letter in letters:
        unsaid = [o for d in letter.of.damages for o in d.decision.options if o.verdict is words.Verdict.OWNERS_TO_SAY]
        if no_price(letter) or not unsaid:
            continue
        owners += 1
        as_it_is = all(d.situation.takes_no_use for d in letter.of.damages)
        says = "only its looks suffer" if as_it_is else "What it is worth to you only you can say"
        assert says in letter.section("Other ways"), letter.name
        if letter.of.case.value is None:
            assert "You have not told us" in letter.section("What it is worth"), letter.name
        figures = [re.search(r"below about EUR [\d,]+ this costs less than mending it", o.because) for o in unsaid]
        for option, figure in zip(unsaid, figures, strict=True):
            advised = letter.of.damages[0].decision.options[0]
            told = KNOWLEDGE.methods[option.method].owner in letter.section("Other ways")
            if figure and told and len(letter.of.damages) == 1 and option.price.likely < advised.price.likely:
                assert figure[0] in letter.section("Other ways"), letter.name
    assert owners > 20


def test_giving_up_starts_from_what_mending_would_cost(letters: list[Letter]) -> None:
    told = [letter for letter in letters if letter.of.piece_decision == RETIRED and not no_price(letter)]
    assert told
    for letter in told:
        before = letter.text.partition("> **")[0].partition("## ")[0]
        assert "only you can say" in before or "no repair that we could answer for" in before, letter.name
        assert "☐ Yes, please give it up" in letter.text
        assert "☐ Yes, but please mend it all the same." in letter.text


FIGURES = r"%|\bdB\b|\d ?mm\b|\d per cent|N·m|\b(?:probab|likelihood|posterior|decibel)"
BLAME = (
    r"you (?:have )?(?:leaned|leant|rocked|dragged|tipped|stood|sat|broke|let|failed|neglected|should have|ought to have)",
    r"your (?:own )?(?:fault|mistake|carelessness|neglect)",
    r"(?:fault|mistake) of yours",
    r"misus\w+|abus\w+|careless\w*|negligen\w+|neglect\w*|reckless\w*|stupid\w*|to blame|blam\w+|mistreat\w+|maltreat\w+",
    r"bodg\w+|botch\w+|amateur\w*|incompeten\w+|clumsy",
)


def test_no_percentages_no_figures_of_the_bench_and_no_blame(letters: list[Letter]) -> None:
    assert wrong(letters, lambda letter: re.findall(FIGURES, letter.ours)) == []
    for words_of_blame in BLAME:
        found = re.compile(rf"\b(?:{words_of_blame})\b", re.IGNORECASE)
        assert wrong(letters, lambda letter, found=found: found.findall(letter.ours)) == []  # type: ignore[misc]


def test_the_owner_is_spoken_to_and_not_of(letters: list[Letter]) -> None:
    assert wrong(letters, lambda letter: re.findall(r"[^.]*\bthe owner\b[^.]*", letter.ours, re.IGNORECASE)) == []
    assert to_you("The owner's wish, as the owner told it") == "Your wish, as you told it"


def sentences(text: str) -> list[str]:
    """The sentences of a letter, without marks of a list or a box and without the place they speak of."""
    parts = (sentence.strip(" *->☐\n") for sentence in re.split(r"(?<=[.?!])\s+|\n", text))
    return [
        re.sub(rf"^[^:]*, (?:{'|'.join(said.after_a_part for said in DAMAGE_WORDS.values())}): ", "", part).strip("*")
        for part in parts
    ]


# How sure we are, and why a way is not advised, may hold of more than one.
SAID_OF_SEVERAL = (
    "We are as good as certain",
    "This is most likely",
    "This fits best",
    "We do not advise it",
    "This would put it back",
    "It is given up",
)


def test_nothing_is_said_twice(letters: list[Letter]) -> None:
    def check(letter: Letter) -> object:
        long = [s for s in sentences(letter.ours) if len(s) > 30 and not s.startswith(SAID_OF_SEVERAL)]
        return [sentence for sentence in long if long.count(sentence) > 1]

    assert wrong(letters, check) == []


def test_one_figure_is_told_once(letters: list[Letter]) -> None:
    twice = r"(EUR [\d,]+)(?: to| or at|, and|,? from) \1\b"
    assert wrong(letters, lambda letter: re.findall(twice, letter.text)) == []
    assert any("It costs EUR" in letter.text for letter in letters)
    assert any("at the most" in letter.text for letter in letters)


@pytest.mark.parametrize("price", [Price(40, 40, 40), Price(40, 40, 42), Price(40, 41, 41), Price(40, 60, 120), Price(0, 0, 0)])
def test_the_figure_above_which_we_ring_lies_within_the_price(price: Price) -> None:
    assert price.likely <= prices.limit_of(price) <= price.high
    told = prices.told(SHOP, price)
    assert SHOP.money(price.likely) in told
    assert SHOP.money(price.high) in told
    assert len(re.findall(r"EUR", told)) == len({SHOP.money(x) for x in (price.low, price.likely, price.high)})


def test_a_reason_that_is_not_sure_is_not_told_as_what_happened(letters: list[Letter]) -> None:
    unsure = 0
    for letter in letters:
        if letter.of.triage in REFUSED:
            continue
        for damage in letter.of.damages:
            chance = damage.causes_by_probability()[0][1]
            why = letter.section("Why it happened")
            if len(letter.of.damages) == 1:
                assert ("We cannot name the reason" in why) is (chance < 0.35), letter.name
                assert ("as good as certain" in why) is any(p >= 0.9 for p in damage.belief.causes.values()), letter.name
            unsure += chance < 0.35
    assert unsure


def test_what_opening_shows_is_promised_only_where_something_is_opened(letters: list[Letter]) -> None:
    promised = re.compile(
        r"opening it will show|after we have opened it|when it is taken apart|found when it is opened", re.IGNORECASE
    )
    closed = [letter for letter in letters if not opens(letter.of)]
    assert closed
    assert wrong(closed, lambda letter: promised.findall(letter.ours)) == []


SAT_ON = re.compile(r"\b(?:sit|sits|chairs?|four feet|seats?)\b", re.IGNORECASE)


def test_how_it_is_used_is_told_in_the_words_of_the_piece() -> None:
    assert set(words.USE_OF) == set(words.LOADS)
    for piece in KNOWLEDGE.pieces.values():
        whole, gently = words.USE_OF[piece.healthy_load]
        for told in (piece.use or whole, piece.use_gently or gently):
            if piece.group == "mirror":
                assert "table" not in told
                assert SAT_ON.search(told) is None
            if piece.group == "case":
                assert "table" not in told
                assert not told.startswith("Sit")
    assert "tip" not in KNOWLEDGE.pieces["rocking_chair"].use


def test_a_letter_tells_the_use_of_its_piece(letters: list[Letter]) -> None:
    seen = set()
    for letter in letters:
        use = letter.section("Using it afterwards") or letter.section("Using it")
        uses = {d.decision.end_use for d in letter.of.damages}
        if not use or uses & words.GIVEN_UP or sent_on(letter.of):
            continue
        piece = KNOWLEDGE.pieces[letter.of.case.piece]
        whole, gently = words.USE_OF[piece.healthy_load]
        assert (piece.use_gently or gently if "lighter" in uses else piece.use or whole) in use, letter.name
        seen |= uses
    assert {"as_before", "lighter"} <= seen


def test_how_strong_it_will_be_is_told_as_the_sums_have_it(letters: list[Letter]) -> None:
    seen = set()
    for letter in letters:
        use = letter.section("Using it afterwards")
        if len(letter.of.damages) != 1 or "What we mend will" not in use:
            continue
        (damage,) = letter.of.damages
        ratio = next(o.strength_ratio for o in damage.decision.options if o.method == damage.decision.method)
        assert ratio is not None
        told = re.search(r"What we mend will (hold better|hold as well|be a little weaker)", use)
        assert told
        if damage.situation.must_exceed and ratio > 1.0:
            assert told[1] == "hold better", letter.name
        elif told[1] == "hold as well":
            assert 0.9 <= ratio + 1e-9 < 1.06, letter.name
        else:
            assert (ratio > 1.0) is (told[1] == "hold better"), letter.name
        seen.add(told[1])
    assert {"hold better", "hold as well"} <= seen


def test_pieces_that_nobody_sits_on_carry_no_caution_about_sitting(letters: list[Letter]) -> None:
    """Neither in what is cautioned nor on any line of the plan."""

    def check(letter: Letter) -> object:
        if KNOWLEDGE.pieces[letter.of.case.piece].group not in ("table", "case", "mirror"):
            return []
        cautions = [KNOWLEDGE.cautions[name] for name in letter.of.cautions]
        asked = [c.id for c in cautions if re.search(r"\bsits?\b|\bsitter|on its back legs", f"{c.hazard} {c.do} {c.brief}")]
        return asked + [line for line in plan(letter.of).splitlines() if "tipped back" in line]

    assert wrong(letters, check) == []
    seats = [letter for letter in letters if KNOWLEDGE.pieces[letter.of.case.piece].group == "chair" and letter.of.plan]
    assert any("tip_back_never" in letter.of.cautions for letter in seats)


def test_care_is_what_an_owner_can_do_at_home(letters: list[Letter]) -> None:
    bench = {cause.prevents for cause in KNOWLEDGE.causes.values() if cause.prevents_at == "bench"}
    assert len(bench) > 20
    assert wrong(letters, lambda letter: [text for text in bench if text and text in letter.text]) == []
    at_home = {cause.prevents for cause in KNOWLEDGE.causes.values() if cause.prevents_at == "home"}
    assert any(text in letter.section("Care") for letter in letters for text in at_home if text)
    tools = re.compile(r"\b(?:clamps?|tenon|mortise|dowel|shoulder|diagonals|long grain|glue (?:face|line))\b")
    assert [text for text in at_home if tools.search(text)] == []


def test_what_goes_to_others_is_not_promised_as_our_work(letters: list[Letter]) -> None:
    sent = [letter for letter in letters if not no_price(letter) and sent_on(letter.of)]
    for letter in sent:
        assert all(d.decision.decision == REFERRED for d in letter.of.damages)
        assert "up to EUR" not in letter.section("What we ask of you"), letter.name
        assert "when you say yes" not in letter.text
        assert "we mend the places" not in letter.text
        assert "price of their own" in letter.section("What others do")


def test_the_deposit_is_a_sum_and_no_share(letters: list[Letter]) -> None:
    told = 0
    for letter in letters:
        asked = re.search(r"We ask for (EUR [\d,]+) of it when you say yes\.", letter.text)
        if asked:
            told += 1
            assert letter.of.price is not None
            assert asked[1] == letter.of.shop.money(letter.of.price.likely * letter.of.shop.deposit_share), letter.name
    assert told > 50


def test_a_set_is_told_as_one_order() -> None:
    alone = example("slack_chair")
    six = assess(replace(alone.case, count=6), KNOWLEDGE, alone.shop, alone.today)
    text = estimate(six)
    assert six.told.of_set is not None
    assert f"All 6 of them together: likely {six.shop.money(six.told.of_set.likely)}" in text
    assert "☐ Yes, please do what you advise for all 6, up to" in text
    assert "this one only" in text
    assert "All 6" not in estimate(alone)


def test_what_all_damages_share_is_told_once() -> None:
    ways = Letter("slack", example("slack_chair"), estimate(example("slack_chair"))).section("Other ways")
    for decision in ("no_structural_work", RETIRED):
        owner = next(m.owner for m in KNOWLEDGE.methods.values() if m.decision == decision and m.owner in ways)
        assert ways.count(owner) == 1
    assert ways.count("Side rail, loose: ") >= 2
    assert ways.count("Back leg, split or cracked: ") >= 1


def test_what_a_cover_costs_and_that_it_may_be_lost_is_asked_and_told(letters: list[Letter]) -> None:
    covered = [
        letter for letter in letters if letter.of.told.cover is not None and not no_price(letter) and not sent_on(letter.of)
    ]
    assert covered
    for letter in covered:
        assert "☐ You may lift the cover" in letter.text, letter.name
        assert "may not survive being taken off" in letter.section("What others do"), letter.name


def test_the_old_parts_and_the_finish_are_asked_about_only_where_they_are_touched(letters: list[Letter]) -> None:
    for letter in letters:
        if not letter.of.plan or not any(
            p.step.phase in ("clean", "match_colour", "finish", "mask_and_colour", "clean_off") for p in letter.of.plan
        ):
            assert "You may try the finish" not in letter.text, letter.name


def test_a_piece_that_needs_nothing_gets_a_short_letter_without_an_offer() -> None:
    text = estimate(
        assess(Case("table", joints={j.id: "tight" for j in KNOWLEDGE.pieces["table"].joints}), KNOWLEDGE, SHOP, TOLD_ON)
    )
    assert "We found nothing that needs work" in text
    for part in ("The offer stands", "deposit", "Other ways", "EUR", "☐"):
        assert part not in text
    assert "Use it as a table" in text


def test_measures_of_the_bench_are_left_out_of_a_reading_and_its_words_stay() -> None:
    for sign in KNOWLEDGE.signs.values():
        for reading in sign.readings:
            kept = without_measures(sign.say(reading))
            assert kept
            assert re.search(r"\d+ (?:mm|per cent)", kept) is None, (sign.id, reading)
