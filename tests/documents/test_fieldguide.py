"""The field guide: every entry has its page, every link its place, and no page disagrees with the rows of the engine."""

import html
import json
import math
import re
import shlex
from collections.abc import Iterator, Mapping
from dataclasses import fields, replace
from functools import cache
from html.parser import HTMLParser
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from typer.testing import CliRunner

from diagnose import house
from diagnose.cli.app import app
from diagnose.cli.guide import read_chapters
from diagnose.damage_words import DAMAGE_WORDS
from diagnose.documents.fieldguide.blocks import Items, Link, Page, Para, Section
from diagnose.documents.fieldguide.book import book_of, pages
from diagnose.documents.fieldguide.causes import MOST_ROWS
from diagnose.documents.fieldguide.chapters import SOURCES, chapter_blocks, glossary_of
from diagnose.documents.fieldguide.check import faults
from diagnose.documents.fieldguide.conditions import part_ids
from diagnose.documents.fieldguide.glueup import work_of, worked
from diagnose.documents.fieldguide.show import ids, shown
from diagnose.documents.fieldguide.terms import with_terms
from diagnose.documents.fieldguide.told import signed
from diagnose.documents.fieldguide.troubles import MOST_CAUSES, MOST_TELLING
from diagnose.documents.fieldguide.weights import LEAST_DB, weigh
from diagnose.reasoning.context import odds_of, open_causes
from diagnose.rulebase.rows import APART, distance
from diagnose.rulebase.store import load_knowledge
from diagnose.words import CLOSED_STATIONS, DAMAGES

KNOWLEDGE = load_knowledge()
GLOSSARY = (house.guide_folder() / "glossary.md").read_text(encoding="utf-8")
A_SIGN, A_CAUSE, A_METHOD = next(iter(KNOWLEDGE.signs)), next(iter(KNOWLEDGE.causes)), next(iter(KNOWLEDGE.methods))
A_PLATE = next(reading.plate for sign in KNOWLEDGE.signs.values() for reading in sign.readings.values() if reading.plate)
CHAPTER = f"""# How to look

First [the question](sign:{A_SIGN}), then [the cause](cause:{A_CAUSE}), at last [the method](method:{A_METHOD}).
See ![as it looks](plate:{A_PLATE}) and [the drawing](plate:{A_PLATE}).

## Sizes

| part | size |
|---|---|
| <script>alert(1)</script> leg | 40 mm |
"""
CHAPTERS = {"01_how_to_look.md": CHAPTER, "glossary.md": GLOSSARY}


@cache
def site() -> Mapping[str, str]:
    """The whole guide, built once."""
    return pages(KNOWLEDGE, CHAPTERS)


def html_pages() -> Iterator[tuple[str, str]]:
    return ((path, text) for path, text in site().items() if path.endswith(".html"))


def not_drawn() -> set[str]:
    return {picture.id for picture in book_of(KNOWLEDGE, CHAPTERS).stock.pictures.values() if not picture.svg}


def test_nothing_is_wrong_with_the_site_but_plates_not_drawn_yet() -> None:
    found = faults(site())
    missing = {fault.rpartition(": ")[2] for fault in found if ": a plate is missing: " in fault}
    assert [fault for fault in found if ": a plate is missing: " not in fault] == []
    assert missing == not_drawn()


@pytest.mark.parametrize(
    ("kind", "folder"),
    [
        ("signs", "sign"),
        ("causes", "cause"),
        ("methods", "method"),
        ("cautions", "caution"),
        ("pieces", "piece"),
        ("adhesives", "adhesive"),
        ("finishes", "finish"),
    ],
)
def test_every_entry_has_a_page(kind: str, folder: str) -> None:
    held = {path.split("/")[1].removesuffix(".html") for path, _ in html_pages() if path.startswith(f"{folder}/")}
    assert held == set(getattr(KNOWLEDGE, kind))


def test_what_has_no_page_has_a_place() -> None:
    small: tuple[tuple[str, str, Mapping[str, object]], ...] = (
        ("rules/", "rule", KNOWLEDGE.logic),
        ("step/", "step", KNOWLEDGE.steps),
        ("wood/", "wood", KNOWLEDGE.woods),
        ("findings.html", "finding", KNOWLEDGE.findings),
        ("sources.html", "source", KNOWLEDGE.sources),
        ("consumables.html", "consumable", KNOWLEDGE.consumables),
    )
    for where, kind, entries in small:
        there = "".join(text for path, text in html_pages() if path.startswith(where))
        assert [f"{kind}:{name}" for name in entries if f'id="{name}"' not in there] == []
    assert {f"part/{part}.html" for part in part_ids(KNOWLEDGE)} <= set(site())


def test_what_a_person_reads_is_a_title_and_an_author_finds_the_id_beside_it() -> None:
    """No id with its underscores stands in a heading, a link or a title of the window; rules and steps carry it in small letters."""
    for path, text in html_pages():
        named = re.findall(r"<(?:title|h[1-6][^>]*|a [^>]*|caption|dt[^>]*)>([^<]*)<", text)
        # Chapters tell an author of ids, and they stand in code there.
        assert [name for name in named if re.search(r"[a-z]_[a-z]", name)] == [], path
    rules, steps = site()["rules/safety.html"], "".join(text for path, text in html_pages() if path.startswith("step/"))
    for rule in KNOWLEDGE.logic.values():
        if rule.protects == "safety":
            assert f'id="{rule.id}">{html.escape(rule.called, quote=False)}</h2> <code>{rule.id}</code>' in rules
            assert f'href="#{rule.id}">' in rules, "the page is long and has its contents at its head"
    for step in KNOWLEDGE.steps.values():
        assert f'id="{step.id}">{html.escape(step.called, quote=False)}</h2> <code>{step.id}</code>' in steps
    titled = [*KNOWLEDGE.logic.values(), *KNOWLEDGE.steps.values(), *KNOWLEDGE.cautions.values(), *KNOWLEDGE.signs.values()]
    assert [entry.id for entry in titled if entry.title.lower() == entry.id.replace("_", " ")] == [], (
        "a title says more than the id"
    )
    for kind in (KNOWLEDGE.logic, KNOWLEDGE.steps, KNOWLEDGE.cautions, KNOWLEDGE.signs):
        names = [entry.called for entry in kind.values()]
        assert len(names) == len(set(names)), "two entries of a kind are called alike"


def test_the_same_input_gives_the_same_bytes() -> None:
    again = pages(KNOWLEDGE, dict(reversed(CHAPTERS.items())))
    assert dict(again) == dict(site())


def test_the_site_keeps_to_its_size() -> None:
    """The whole book as it is delivered, its own chapters among it."""
    whole = pages(KNOWLEDGE, read_chapters(house.guide_folder()))
    assert sum(len(text.encode("utf-8")) for text in whole.values()) <= 8_000_000


# ---- the bars, worked out again from the words as they stand in YAML


def entries(kind: str) -> dict[str, dict[str, Any]]:
    found = {}
    for path in sorted((house.rules_folder() / kind).glob("*.yaml")):
        for entry in yaml.safe_load(path.read_text(encoding="utf-8")).get(kind, []):
            found[entry["id"]] = entry
    return found


SIGNS, CAUSES = entries("signs"), entries("causes")
SCALE = yaml.safe_load((house.rules_folder() / "scale.yaml").read_text(encoding="utf-8"))["scale"]


def chance(sign: dict[str, Any], cause: dict[str, Any] | None, reading: str) -> float:
    """P(reading) with one cause at work, or with none, a sure answer being off by the scale's share: by hand, from the words."""
    number = {word: float(value) for word, value in SCALE["words"].items()}
    readings = {
        str(name) if not isinstance(name, bool) else {True: "yes", False: "no"}[name]: r for name, r in sign["readings"].items()
    }
    usual = {name: number[(r or {})["background"]] for name, r in readings.items() if (r or {}).get("background")}
    said = {
        {True: "yes", False: "no"}.get(name, name): number[word]
        for name, word in ((cause or {}).get("shows", {}).get(sign["id"]) or {}).items()
    }
    off = float(SCALE["off_by"]["sure"])
    if sign["kind"] in ("yes_no", "tick_all"):
        name = "yes" if sign["kind"] == "yes_no" else reading
        leak = usual.get(name, 0.1)
        seen = 1 - (1 - leak) * (1 - said.get(name, 0.0))
        if sign.get("counts") == "half":
            seen = (seen + leak) / 2
        seen = (1 - off) * seen + off / 2
        return 1 - seen if reading == "no" and sign["kind"] == "yes_no" else seen
    plain = {name: usual.get(name, min(usual.values()) if usual else 1.0) for name in readings}
    plain = {name: value / sum(plain.values()) for name, value in plain.items()}
    full = dict(plain)
    if said:
        silent = [name for name in readings if name not in said]
        left, room = 1 - sum(said.values()), sum(plain[name] for name in silent)
        full = {name: said[name] if name in said else left * plain[name] / room for name in readings}
        if not silent:
            full = {name: value / sum(said.values()) for name, value in said.items()}
    if sign.get("counts") == "half":
        full = {name: (full[name] + plain[name]) / 2 for name in readings}
    return (1 - off) * full[reading] + off / len(readings)


def by_hand(sign: str, reading: str, cause: str) -> float:
    return 10 * math.log10(chance(SIGNS[sign], CAUSES[cause], reading) / chance(SIGNS[sign], None, reading))


_ROW = re.compile(r'<tr><th scope="row">(.*?)</th><td><b class="(con )?w(\d+)">(.*?)</b></td>', re.DOTALL)


def bars_of_sign(sign: str) -> dict[tuple[str, str], tuple[str, str, int]]:
    """(reading, cause) to what the page shows: the figure, the side and the length of the bar."""
    text = site()[f"sign/{sign}.html"]
    found = {}
    for part in re.split(r'(?=<h3 id=")', text)[1:]:
        reading = re.match(r'<h3 id="(\w+)"', part)
        assert reading is not None
        for words, side, halves, figure in _ROW.findall(part.partition("</table>")[0]):
            cause = re.search(r'href="\.\./cause/(\w+)\.html"', words)
            assert cause is not None
            found[(reading[1], cause[1])] = (figure, "against" if side else "for", int(halves))
    return found


@pytest.mark.parametrize("kind", ["choose_one", "tick_all", "yes_no", "measure"])
def test_the_bars_of_signs_are_those_worked_out_by_hand(kind: str) -> None:
    signs = [name for name, sign in SIGNS.items() if sign["kind"] == kind][:8]
    assert signs
    compared = 0
    for sign in signs:
        for (reading, cause), (figure, side, halves) in bars_of_sign(sign).items():
            decibels = by_hand(sign, reading, cause)
            assert figure == signed(decibels), (sign, reading, cause)
            assert side == ("for" if decibels > 0 else "against")
            assert halves == min(36, round(2 * abs(decibels)))
            compared += 1
    assert compared >= 3


def test_a_sign_that_counts_half_is_among_those_compared_by_hand() -> None:
    half = next(name for name, sign in SIGNS.items() if sign.get("counts") == "half" and bars_of_sign(name))
    for (reading, cause), (figure, _, _) in bars_of_sign(half).items():
        assert figure == signed(by_hand(half, reading, cause))


def test_the_bars_of_causes_are_those_worked_out_by_hand() -> None:
    for cause in list(CAUSES)[::9]:
        shown_rows = _ROW.findall(site()[f"cause/{cause}.html"])
        weights = [
            by_hand(sign, {True: "yes", False: "no"}.get(reading, reading), cause)
            for sign, said in CAUSES[cause]["shows"].items()
            for reading in said
        ]
        heaviest = sorted(weights, key=lambda weight: -abs(weight))[:MOST_ROWS]
        # Of two that weigh alike, one for and one against, either may be the last that is shown.
        assert sorted(row[3].strip("+−") for row in shown_rows) == sorted(signed(weight).strip("+−") for weight in heaviest)


def test_a_leading_cause_of_a_reading_is_not_left_out() -> None:
    compared = 0
    for sign in list(SIGNS)[::7]:
        shown_bars = bars_of_sign(sign)
        for reading in {reading for reading, _ in shown_bars}:
            best = max(CAUSES, key=lambda cause: by_hand(sign, reading, cause))
            if by_hand(sign, reading, best) >= LEAST_DB:
                shown_best = max(by_hand(sign, r, cause) for r, cause in shown_bars if r == reading)
                assert shown_best == pytest.approx(by_hand(sign, reading, best))
                compared += 1
    assert compared >= 5


def test_gaps_between_causes_are_those_of_the_rule_base() -> None:
    weighed = weigh(KNOWLEDGE)
    causes = list(KNOWLEDGE.causes.values())[:6]
    for sign in list(KNOWLEDGE.signs.values())[::5]:
        for one in causes:
            for other in causes:
                gap = weighed.signs[sign.id].gap[weighed.place(one.id), weighed.place(other.id)]
                assert gap == pytest.approx(distance(KNOWLEDGE.scale, sign, one, other), abs=1e-12)


def test_chances_of_a_choice_sum_to_one_and_proof_is_ranked() -> None:
    weighed = weigh(KNOWLEDGE)
    for weights in weighed.signs.values():
        if weights.sign.kind in ("choose_one", "measure"):
            assert weights.chance.sum(axis=0) == pytest.approx(1.0)
    for cause in KNOWLEDGE.causes:
        for sign, apart, others in weighed.proving(cause):
            gaps = [
                weighed.signs[sign.id].gap[weighed.place(cause), index]
                for index in range(len(weighed.causes))
                if weighed.meet[weighed.place(cause), index] and index != weighed.place(cause)
            ]
            assert (sum(gap >= APART for gap in gaps), len(gaps)) == (apart, others)
        assert cause not in {other.id for other, _ in weighed.nearest(cause)}


# ---- chapters, glossary, links


def test_a_chapter_is_resolved_and_cleaned() -> None:
    text = site()["chapter/how_to_look.html"]
    assert f'href="../sign/{A_SIGN}.html"' in text
    assert f'href="../look.html#{A_PLATE}"' in text
    assert "<figcaption>as it looks</figcaption>" in text
    assert "<script>" not in text
    assert '<h2 id="at-sizes">Sizes</h2>' in text
    assert '<caption><span class="ear">Sizes</span></caption>' in text
    assert '<th scope="col">part</th>' in text


@pytest.mark.parametrize(
    ("bad", "said"),
    [
        ("[gone](sign:no_such_sign)", "chapter/how_to_look.html: a link to an unknown entry: sign:no_such_sign"),
        ("[out](https://example.org/)", "chapter/how_to_look.html: a link leads outside: https://example.org/"),
        ("[file](other.html)", "chapter/how_to_look.html: a broken link: other.html"),
        ("[place](#nowhere)", "chapter/how_to_look.html: no such place: #nowhere"),
        ("![x](plate:no-such-plate)", "chapter/how_to_look.html: a plate is missing: no-such-plate"),
        ("![x](https://example.org/x.png)", "chapter/how_to_look.html: loads something from outside: https://example.org/x.png"),
        ("#### Too deep", "chapter/how_to_look.html: a heading of level 4 follows one of level 2"),
    ],
)
def test_a_fault_in_a_chapter_is_named(bad: str, said: str) -> None:
    small = small_site(f"# How to look\n\n## Sizes\n\n{bad}\n")
    assert said in faults(small)
    assert said not in faults(small_site("# How to look\n\n## Sizes\n\nNothing is wrong here.\n"))


def small_site(chapter: str) -> Mapping[str, str]:
    """A guide without entries: the chapter alone."""
    mappings = [field.name for field in fields(KNOWLEDGE) if isinstance(getattr(KNOWLEDGE, field.name), dict)]
    bare: dict[str, Any] = {name: {} for name in mappings}
    return pages(replace(KNOWLEDGE, stories=(), **bare), {"01_how_to_look.md": chapter})


def page_of(body: str) -> str:
    return f"<!DOCTYPE html><html><body><h1>x</h1>{body}</body></html>"


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ('<p id="a"></p><p id="a"></p>', "an id is used twice: a"),
        ("<h3>deep</h3>", "a heading of level 3 follows one of level 1"),
        ("<h1>again</h1>", "a page has one heading of the first level, and it comes first"),
        ('<table><tr><th scope="col">x</th></tr></table>', "a table has no caption"),
        ("<table><caption>x</caption><tr><th>x</th></tr></table>", "a table has headings without scope, or none"),
        ('<img src="index.html">', "1 pictures have no words for who cannot see them"),
        ('<script src="gone.js"></script>', "loads a file that is not there: gone.js"),
    ],
)
def test_the_check_sees_each_kind_of_fault(body: str, said: str) -> None:
    assert faults({"index.html": page_of(body)}) == [f"index.html: {said}"]
    assert faults({"index.html": page_of("")}) == []


def test_an_orphan_is_found() -> None:
    files = {"index.html": page_of('<a href="a.html">a</a>'), "a.html": page_of(""), "b.html": page_of('<a href="a.html">a</a>')}
    assert faults(files) == ["b.html: an orphan: no way leads here from the front page"]
    assert faults({"a.html": page_of("")}) == ["index.html: there is no front page"]


def test_the_glossary_is_read_and_linked_once_a_page() -> None:
    terms = glossary_of(GLOSSARY)
    assert len(terms) >= 40
    assert all(term.means.endswith(".") for term in terms)
    names = [word.lower() for term in terms for word in (term.name, *term.also)]
    assert len(names) == len(set(names))
    for path, text in html_pages():
        linked = re.findall(r'<a href="[^"]*glossary\.html#([^"]*)"', text)
        assert len(linked) == len(set(linked)), path


@given(st.text(alphabet=" abckerfKERF<>/p.-", max_size=60))
def test_links_to_terms_change_no_word(words: str) -> None:
    markup = f"<h2>kerf</h2><p>{html.escape(words)}</p>"
    linked = with_terms(markup, {"kerf": "kerf", "kerf bar": "kerf-bar"}, "g.html")
    assert re.sub(r"</?a\b[^>]*>", "", linked) == markup
    assert linked.count("#kerf") <= 1


def test_a_table_may_bring_its_own_caption() -> None:
    markup = chapter_blocks("## Head\n\nTable: Sizes of legs.\n\n| a | b |\n|---|---|\n| 1 | 2 |\n").markup
    assert "<caption>Sizes of legs.</caption>" in markup
    assert "Table:" not in markup


# ---- what a page must hold


class _Outside(HTMLParser):
    """Addresses of the web anywhere but in text."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found += [value for _, value in attrs if value and re.search(r"(?:https?:)?//", value)]


def test_no_page_asks_for_anything_outside() -> None:
    for path, text in html_pages():
        reader = _Outside()
        reader.feed(text)
        assert reader.found == [], path
    for name in ("style.css", "search.js"):
        assert not re.search(r"https?:|url\(|@import|fetch\(|XMLHttp", site()[name])


def test_the_search_index_knows_other_names() -> None:
    text = site()["search-index.js"]
    rows = json.loads(text.removeprefix("window.FIELD_GUIDE = ").rstrip().removesuffix(";").replace("<\\/", "</"))
    by_path = {path: [title, *also] for title, _, path, also in rows}
    for piece in KNOWLEDGE.pieces.values():
        assert set(piece.also_called) <= set(by_path[f"piece/{piece.id}.html"])
    assert all(path.partition("#")[0] in site() for path in by_path)
    for term in glossary_of(GLOSSARY):
        (found,) = [also for title, kind, _, also in rows if kind == "term" and title == term.name]
        assert found == list(term.also)


def test_what_is_remembered_never_looks_published() -> None:
    remembered = [source for source in KNOWLEDGE.sources.values() if source.known_by == "memory"]
    part = site()["sources.html"].partition("<h2>Remembered, not read</h2>")[2].partition("<h2>")[0]
    assert remembered
    for source in remembered:
        assert f'id="{source.id}"' in part
    for path, text in html_pages():
        for source in remembered:
            for match in re.finditer(rf'href="[^"]*#{source.id}">.*?</a>([^<]*)(<i>)?', text):
                assert match[2], (path, source.id)
    for glue in KNOWLEDGE.adhesives.values():
        marks = site()[f"adhesive/{glue.id}.html"].partition("<dl>")[2].partition("</dl>")[0].count(">remembered<")
        figures = {"working_min", "clamp_min", "full_cure_h", "min_temp_c", "gap_max_mm", "water_class"}
        assert marks >= sum(glue.known_by.get(figure) == "memory" for figure in figures)


def test_a_method_page_tells_steps_bans_and_the_clock() -> None:
    glued = 0
    for method in KNOWLEDGE.methods.values():
        text = html.unescape(site()[f"method/{method.id}.html"])
        for step in method.steps:
            assert f'href="../step/{KNOWLEDGE.steps[step].phase}.html#{step}"' in text
        for rule in KNOWLEDGE.logic.values():
            if any(
                (e.kind == "forbid_method" and e.target == method.id)
                or (e.kind == "forbid_class" and e.target == method.decision)
                for e in rule.then
            ):
                assert f"#{rule.id}" in text
        glued += "The glue-up clock, worked" in text
    assert glued >= len(KNOWLEDGE.methods) / 3


def told_whole(text: str) -> str:
    """The words of a page as they are read, without the markup of links to the glossary and elsewhere."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", "", text)).split())


def test_a_method_page_states_why_each_rule_forbids_it_and_on_whose_word() -> None:
    """Beside the name of every rule that names it stands its reason in its own words, and of what kind each of its sources is.

    A rule that forbids all of its class stands by its name alone. The name leads to the rule, where every source is named.
    """
    whole = "".join(text for path, text in html_pages() if path.startswith("rules/"))
    rules = {found[1]: found[0] for found in re.finditer(r'<h2 id="(\w+)">.*?(?=<h2|</main>)', whole, flags=re.DOTALL)}
    told = of_its_class = 0
    for method in KNOWLEDGE.methods.values():
        part = site()[f"method/{method.id}.html"].partition(">When not</h2>")[2].partition("<h2")[0]
        lines = {found[1]: told_whole(found[0]) for found in re.finditer(r'<li><a href="[^"]*#(\w+)">.*?</li>', part)}
        for rule in KNOWLEDGE.logic.values():
            bans = {e.kind for e in rule.then if e.target in (method.id, method.decision)} & {"forbid_method", "forbid_class"}
            assert not bans or rule.id in lines, (method.id, rule.id)
        for name, line in lines.items():
            rule = KNOWLEDGE.logic[name]
            if {(e.kind, e.target) for e in rule.then} & {("forbid_class", method.decision)} and line == rule.called:
                assert ("forbid_method", method.id) not in {(e.kind, e.target) for e in rule.then}
                assert " ".join(rule.because.split()) in told_whole(rules[name])
                of_its_class += 1
                continue
            assert " ".join(rule.because.split()) in line, (method.id, name)
            for cite in rule.sources:
                source = KNOWLEDGE.sources[cite.source]
                if source.known_by == "judgement":
                    assert "common practice where none is named" in part
                else:
                    assert source.kind.replace("_", " ") in line.rpartition("(")[2], (method.id, name, source.id)
                assert html.escape(source.title, quote=False) in rules[name], (name, source.id)
                assert source.known_by != "memory" or "remembered" in line, (method.id, name, source.id)
            told += 1
    assert told > 300
    assert of_its_class > 700


def test_no_clock_offers_a_glue_that_is_never_used_there() -> None:
    """A ground that says never of the very damage that a method is for keeps the glue out of its table."""
    left_out = 0
    for method in KNOWLEDGE.methods.values():
        table = site()[f"method/{method.id}.html"].partition("<caption>The glue-up against the clock</caption>")[2]
        offered = set(re.findall(r"adhesive/(\w+)\.html", table.partition("</table>")[0]))
        damages = {value for line in method.when.all_lines() if line.key == "damage" for value in line.values}
        for glue in KNOWLEDGE.adhesives.values():
            for ground in glue.grounds:
                lines = ground.when.lines
                if ground.says == "never" and {line.key for line in lines} == {"damage"} and damages & set(lines[0].values):
                    assert glue.id not in offered, (method.id, glue.id)
                    left_out += bool(offered)
    assert left_out > 0


def test_every_trouble_has_its_place_with_signs_and_causes() -> None:
    """Somebody who has only a complaint comes from the front page to the first questions and the likeliest causes in two steps."""
    front, page = site()["index.html"], site()["troubles.html"]
    for damage in DAMAGES:
        assert f'href="troubles.html#{damage}"' in front
        part = page.partition(f'id="{damage}"')[2].partition("<h2")[0]
        signs, causes = re.findall(r"sign/(\w+)\.html", part), re.findall(r"cause/(\w+)\.html", part)
        assert len(signs) >= MOST_TELLING
        assert len(causes) == min(MOST_CAUSES, len(open_causes(KNOWLEDGE, {"damage": frozenset({damage})})))
        assert not {KNOWLEDGE.signs[name].station for name in signs} & CLOSED_STATIONS["counter"]
        odds = [odds_of(KNOWLEDGE, KNOWLEDGE.causes[name], {"damage": frozenset({damage})}) for name in causes]
        assert odds == sorted(odds, reverse=True)


def test_the_search_index_knows_what_people_say_of_a_trouble() -> None:
    rows = json.loads(
        site()["search-index.js"].removeprefix("window.FIELD_GUIDE = ").rstrip().removesuffix(";").replace("<\\/", "</")
    )
    for damage, said in DAMAGE_WORDS.items():
        (found,) = [row for row in rows if row[2] == f"troubles.html#{damage}"]
        assert found == [said.sought, "trouble", f"troubles.html#{damage}", list(said.also)]


def test_a_part_is_explained_on_its_own_page() -> None:
    explained = {word.lower(): term.means for term in glossary_of(GLOSSARY) for word in (term.name, *term.also)}
    parts = [part for part in part_ids(KNOWLEDGE) if part.replace("_", " ") in explained]
    assert len(parts) >= 20
    for part in parts:
        assert explained[part.replace("_", " ")] in told_whole(site()[f"part/{part}.html"])


def test_a_chapter_names_its_sources_by_title_and_how_each_is_known() -> None:
    remembered = next(source for source in KNOWLEDGE.sources.values() if source.known_by == "memory")
    judged = next(source for source in KNOWLEDGE.sources.values() if source.known_by == "judgement")
    text = f"## {SOURCES}\n\nThis: `{remembered.id}`, `{judged.id}`, `no_such_source`."
    markup = chapter_blocks(f"Said before: `{judged.id}`.\n\n{text}\n", KNOWLEDGE.sources).markup
    assert f'<a href="source:{remembered.id}">{html.escape(remembered.title, quote=False)}</a> <i>remembered</i>' in markup
    assert f'<a href="source:{judged.id}">common practice</a>' in markup
    assert "<code>no_such_source</code>" in markup
    assert f"Said before: <code>{judged.id}</code>" in markup


def test_every_chapter_says_where_it_comes_from() -> None:
    for name, text in read_chapters(house.guide_folder()).items():
        if name != "glossary.md":
            last = text.partition(f"\n## {SOURCES}\n")[2]
            ids = set(re.findall(r"`(\w+)`", last))
            assert ids, name
            assert ids <= set(KNOWLEDGE.sources), (name, ids - set(KNOWLEDGE.sources))


COMMANDS = sorted(
    {
        command
        for text in read_chapters(house.guide_folder()).values()
        for command in re.findall(r"`diagnose (calc [^`]+)`", text.replace("\n", " "))
    }
)


@pytest.mark.parametrize("command", COMMANDS)
def test_a_sum_that_a_chapter_names_can_be_done_as_it_stands(command: str) -> None:
    ran = CliRunner().invoke(app, shlex.split(command))
    assert ran.exit_code == 0, ran.output


def test_the_worked_clock_adds_up() -> None:
    frames = [m for m in KNOWLEDGE.methods.values() if m.extent == "whole_frame"]
    by_method = {m.id: [KNOWLEDGE.steps[name] for name in m.steps] for m in frames}
    works = {name: work_of(steps, KNOWLEDGE.consumables, whole_frame=True) for name, steps in by_method.items()}
    name, work = next((name, work) for name, work in works.items() if work is not None)
    steps = by_method[name]
    slow = max(KNOWLEDGE.adhesives.values(), key=lambda glue: glue.working_min[1])
    one = worked(work, slow)
    assert one.closings == 1
    assert one.spare == pytest.approx(slow.working_min[1] - one.ends)
    assert work_of([s for s in steps if not s.uses], KNOWLEDGE.consumables, whole_frame=True) is None


def test_every_id_can_be_shown_in_the_terminal() -> None:
    book = book_of(KNOWLEDGE, CHAPTERS)
    known = ids(book)
    assert {*KNOWLEDGE.signs, *KNOWLEDGE.causes, *KNOWLEDGE.woods, *KNOWLEDGE.logic, A_PLATE} <= known
    for name in sorted(known)[::25]:
        texts = shown(book, name, 72)
        assert texts, name
        assert "<" not in re.sub(r"[^<]*<[ =\d]", "", "".join(texts)), name
        assert all(len(line) <= 72 or " " not in line.strip() for text in texts for line in text.splitlines()), name
    assert shown(book, "no_such_entry", 72) == []


def test_pages_are_made_of_blocks_that_nest_in_order() -> None:
    page = Page("a:b", "b.html", "B", "x", (Section("One", (Para((Link("to", "a:b"),)), Section("Two", (Items((("x",),)),)))),))
    assert [type(block).__name__ for block in page.blocks] == ["Section"]
