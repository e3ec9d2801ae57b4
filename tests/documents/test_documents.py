"""What people are handed: plans in a safe order, no ids, and text from people that stays text; what letters say is read in test_letters."""

import json
import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from diagnose import words
from diagnose.assess import Assessment, assess
from diagnose.case.case import Answer
from diagnose.case.told import case_of
from diagnose.documents.diagnosis import diagnosis
from diagnose.documents.letters import FORMS, NotThisForm, estimate
from diagnose.documents.md import safe, to_html
from diagnose.documents.plan import plan
from diagnose.documents.plan_glue import gluings_of
from diagnose.documents.plan_steps import hazards_by_step
from diagnose.documents.report import report_json
from diagnose.proof.stories import TOLD_ON
from diagnose.rulebase.entries import Story
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop

KNOWLEDGE = load_knowledge()
# Spread over the files of the base, and one of every answer at the door.
SPREAD = [told.story for told in KNOWLEDGE.stories[::10]]
BY_TRIAGE = {
    told.story.expect.triage: told.story
    for told in reversed(KNOWLEDGE.stories)
    if told.story.expect.triage not in (None, words.Triage.TAKE_IN)
}
STORIES = list({story.name: story for story in [*SPREAD, *BY_TRIAGE.values()]}.values())
_made: dict[str, Assessment] = {}


def assessed(story: Story) -> Assessment:
    """The assessment of a story, made once; where it says nothing of the frame, that was pushed by hand, so that it can be priced."""
    if story.name not in _made:
        case = case_of(story, KNOWLEDGE)
        pushed = {"rack_test": Answer(("one_direction_slack",)), **case.readings}
        _made[story.name] = assess(replace(case, readings=pushed), KNOWLEDGE, Shop(), TOLD_ON, only=story.open)
    return _made[story.name]


@pytest.fixture(params=STORIES, ids=lambda story: story.name)
def of_story(request: pytest.FixtureRequest) -> Assessment:
    """The assessment of each story in turn."""
    return assessed(request.param)


def test_the_stories_are_many_and_of_every_kind() -> None:
    assert len(STORIES) >= 25
    assert {assessed(story).triage for story in STORIES} == set(words.Triage)
    assert len({d.decision.decision for story in STORIES for d in assessed(story).damages}) >= 8


def bare(text: str) -> str:
    """A document without its code spans and the lines to write on."""
    return re.sub(r"`[^`]*`|_{5,}", "", text)


def test_no_id_is_printed_to_people(of_story: Assessment) -> None:
    for text in (estimate(of_story), plan(of_story), diagnosis(of_story), diagnosis(of_story, explain=True)):
        assert re.findall(r"\w*[^\W_]_[^\W_]\w*", bare(text)) == []


def test_no_placeholder_is_left(of_story: Assessment) -> None:
    for text in (estimate(of_story), plan(of_story), diagnosis(of_story, explain=True)):
        assert re.findall(r"[{}]|\bNone\b(?! stays\b| of the things\b)|\bnan\b|\binf\b|the the |\ba the ", text) == []


def test_every_glue_step_comes_after_a_clean_and_a_dry_fit(of_story: Assessment) -> None:
    """The whole closing gone through dry with clamps is a dry fit too; what is only put together to be looked at needs neither."""
    methods = {d.damage.id: KNOWLEDGE.methods[d.decision.method] for d in of_story.damages}
    for index, planned in enumerate(of_story.plan):
        if planned.step.phase != "glue":
            continue
        for damage in planned.damages:
            if methods[damage].end_use == "show_only":
                continue
            before = {p.step.phase for p in of_story.plan[:index] if damage in p.damages}
            assert "clean" in before, (planned.step.id, methods[damage].id)
            assert before & {"fit_dry", "rehearse"}, (planned.step.id, methods[damage].id)


def test_steps_come_once_numbered_and_in_the_order_of_the_plan(of_story: Assessment) -> None:
    text = plan(of_story)
    numbers = [int(number) for number in re.findall(r"^- \*\*(\d+)\.\*\* ", text, re.MULTILINE)]
    assert numbers == list(range(1, len(of_story.plan) + 1))
    assert len({p.step.id for p in of_story.plan}) == len(of_story.plan)
    position = {p.step.id: index for index, p in enumerate(of_story.plan)}
    for planned in of_story.plan:
        for earlier in planned.step.after:
            assert position.get(earlier, -1) < position[planned.step.id]


def test_hold_points_stand_at_their_steps(of_story: Assessment) -> None:
    lines = plan(of_story).splitlines()
    for number, planned in enumerate(of_story.plan, start=1):
        start = next(index for index, line in enumerate(lines) if line.startswith(f"- **{number}.** "))
        own = [lines[start]]
        for line in lines[start + 1 :]:
            if not line.startswith("    - "):
                break
            own.append(line)
        assert any(line.startswith("    - Why: ") for line in own)
        holds = [line for line in own if "**Hold:" in line]
        if planned.step.check is None:
            assert holds == []
            continue
        (hold,) = holds
        sign = KNOWLEDGE.signs[planned.step.check.sign]
        assert sign.say(planned.step.check.reads) in hold
        assert "☐" in hold
    assert any(planned.step.check for planned in of_story.plan) or all(planned.step.undo for planned in of_story.plan)


def test_every_hazard_has_its_caution(of_story: Assessment) -> None:
    text = plan(of_story)
    _, _, protection = text.partition("## Protection")
    of_glues = {hazard for glue in KNOWLEDGE.adhesives.values() for hazard in glue.hazards}
    by_step = hazards_by_step(of_story, gluings_of(of_story))
    assert all(
        set(planned.step.hazards) - of_glues <= set(hazards) for planned, hazards in zip(of_story.plan, by_step, strict=True)
    )
    dropped = {name for planned in of_story.plan for name in planned.step.hazards} - {n for hazards in by_step for n in hazards}
    assert dropped <= of_glues, "only what another glue would bring along"
    for name in {n for hazards in by_step for n in hazards} | set(of_story.cautions) - dropped:
        caution = KNOWLEDGE.cautions[name]
        (row,) = [line for line in protection.splitlines() if f"| {caution.hazard} |" in line]
        assert caution.do in row
        steps = [str(n) for n, hazards in enumerate(by_step, start=1) if name in hazards]
        assert row.startswith(f"| {', '.join(steps) or '–'} |")


def test_the_plan_says_what_may_still_change_and_names_the_rule_base(of_story: Assessment) -> None:
    text = plan(of_story)
    assert "> **Stop before you start**" in text
    assert "No work before the owner's yes" in text
    assert f"Rule base {KNOWLEDGE.version}." in text
    if of_story.triage is not words.Triage.TAKE_IN:
        assert all(because in text for because in of_story.triage_because)


VOID = frozenset({"meta", "br", "hr"})
PLAIN = frozenset(
    {
        *("html", "head", "meta", "title", "style", "body", "main", "div", "h1", "h2", "h3", "h4", "p", "ul", "ol", "li"),
        *("blockquote", "strong", "em", "table", "thead", "tbody", "tr", "th", "td", "hr", "br", "code"),
    }
)


class Page(HTMLParser):
    """The tags, attributes and text of a page; what is opened must be closed in order."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str, str]] = []
        self.text: list[str] = []
        self.cells: list[int] = []
        self.feed(text)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += [(tag, name, value or "") for name, value in attrs]
        if tag == "tr":
            self.cells.append(0)
        if tag in ("td", "th"):
            self.cells[-1] += 1
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "style" not in self.open:
            self.text.append(data)

    @property
    def words(self) -> str:
        """All the text, with single spaces."""
        return " ".join("".join(self.text).split())


def papers(assessment: Assessment) -> Iterator[tuple[str, str]]:
    """The name and Markdown of every paper."""
    for form, write in FORMS.items():
        with suppress(NotThisForm):
            yield form, write(assessment)
    yield "plan", plan(assessment)
    yield "diagnosis", diagnosis(assessment, explain=True)


def check_page(text: str, title: str) -> Page:
    """What holds for every page."""
    page = Page(text)
    assert text.startswith('<!DOCTYPE html>\n<html lang="en">')
    assert f"<title>{title}</title>" in text
    assert set(page.tags) <= PLAIN
    allowed = {("html", "lang"), ("meta", "charset"), ("meta", "name"), ("meta", "content"), ("div", "class"), ("th", "scope")}
    allowed.add(("li", "class"))
    assert {(tag, name) for tag, name, _ in page.attributes} <= allowed
    assert page.tags.count("th") == page.attributes.count(("th", "scope", "col"))
    assert {value for tag, _, value in page.attributes if tag == "li"} <= {"tick"}
    assert page.tags.count("h1") == 1
    style = text[text.index("<style>") : text.index("</style>")]
    assert not re.search(r"url\(|@import|https?:|//", style)
    return page


def test_pages_are_whole_plain_and_need_nothing_from_outside(of_story: Assessment) -> None:
    for name, text in papers(of_story):
        page = check_page(to_html(text, f"{name} 1"), f"{name} 1")
        assert KNOWLEDGE.version in page.words


def test_the_tables_of_the_plan_have_heads() -> None:
    text = next(
        plan(assessed(story)) for story in SPREAD if assessed(story).plan and "| step | hazard |" in plan(assessed(story))
    )
    page = Page(to_html(text, "plan"))
    assert page.tags.count("table") >= 2
    assert page.tags.count("th") >= 6


HOSTILE = {
    "script": "<script>alert(1)</script><img src=x onerror=alert(1)>",
    "tags": "</td></tr></table></main><h1>Owned</h1><iframe src='//evil.example'></iframe><style>*{display:none}</style>",
    "links": "[click](javascript:alert(1)) ![p](http://evil.example/p.png) <http://evil.example> [x]: http://evil.example",
    "headings": "first\n# Owned\n\n## Owned too\n===\n---\n***",
    "lists": "1. one\n2) two\n- three\n+ four\n* five\n    code",
    "pipes": "a | b || c |\n|---|---|\n| d | e |",
    "ticks": "`code` ``more`` ```\nfence\n``` ~~~\nfence\n~~~ **bold** __bold__ *em* _em_ ~~gone~~",
    "entities": "&lt;b&gt; &amp; &#60;script&#62; & Sons &nbsp; &copy",
    "quote": "> quoted\n>> more\n\\| \\` \\\\ \\",
    "notes": "[^1]: note\n{: .class } {{ moustache }} {% raw %} {part} {bond.faces}",
    "odd letters": "\x00\x07\x1b[31mred\x7f\x85 \u2028 \u202eback ½ – “ ” ☐",
    "long": "x|`<b>*" * 1700,
    "one long word": "w" * 10_000,
}


def hostile(text: str) -> Assessment:
    """A case and a shop in which everything that people may write freely is this text."""
    story = next(s for s in SPREAD if assessed(s).triage is words.Triage.TAKE_IN and len(assessed(s).plan) > 20)
    case = case_of(story, KNOWLEDGE)
    (damage,) = case.damages
    second = replace(damage, id=text, part=None, joint=None, says=text)
    case = replace(
        case,
        number=text,
        owner=text,
        owner_says=text,
        called=text,
        value=400.0,
        value_by=text,
        damages=(replace(damage, says=text), second),
    )
    shop = Shop(name=text, address=text, telephone=text)
    return assess(case, KNOWLEDGE, shop, TOLD_ON)


def visible(text: str) -> str:
    """What of a text a reader should see: the letters, on one line."""
    kept = "".join(letter for letter in text if letter.isspace() or not (ord(letter) < 32 or 127 <= ord(letter) < 160))
    return " ".join(kept.split())


@pytest.mark.parametrize("name", HOSTILE)
def test_text_from_people_stays_text(name: str) -> None:
    text = HOSTILE[name]
    tame, wild = hostile("tame"), hostile(text)
    for (paper, plain), (_, markdown) in zip(papers(tame), papers(wild), strict=True):
        expected, page = Page(to_html(plain, paper)), check_page(to_html(markdown, paper), paper)
        assert page.tags == expected.tags, paper
        assert page.cells == expected.cells, paper
        assert markdown.count("\n") == plain.count("\n"), paper
        if paper == "letter":
            assert visible(text) in page.words
    assert json.loads(report_json(wild))["number"] == text


@pytest.mark.parametrize("name", HOSTILE)
def test_text_from_people_fits_into_one_cell_and_one_line(name: str) -> None:
    told = safe(HOSTILE[name])
    assert len(told.splitlines()) == 1
    page = Page(to_html(f"{told}\n\n| a | b |\n|---|---|\n| {told} | z |\n\n- {told}\n\n> {told}\n", "t"))
    assert page.cells == [2, 2]
    assert set(page.tags) <= PLAIN
    assert page.words.count(visible(HOSTILE[name])) == 4


def test_a_title_is_text_too() -> None:
    page = Page(to_html("text", "</title><script>alert(1)</script>"))
    assert "script" not in page.tags
