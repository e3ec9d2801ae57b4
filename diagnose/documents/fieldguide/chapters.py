"""Hand-written chapters: Markdown with links by name, made into clean blocks; and the glossary, which is a chapter of a fixed shape."""

import html
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import PurePosixPath

from diagnose.documents.fieldguide import told
from diagnose.documents.fieldguide.blocks import Entries, Html, Items, Link, Page, Para, anchor, in_a_row, phrase
from diagnose.rulebase.entries import Source

GLOSSARY = "glossary.md"
# The heading of the last section of every chapter.
SOURCES = "Where this comes from"
_NONE: Mapping[str, Source] = {}
UP = Link("Chapters", "list:chapters")
_ALLOWED = {
    "h2", "h3", "h4", "p", "ul", "ol", "li", "blockquote", "strong", "em", "table", "thead", "tbody", "tr", "th", "td", "hr", "br",
    "code", "pre", "a", "img",
}  # fmt: skip
# Kinds that a link may name.
KINDS = (
    "adhesive", "cause", "caution", "chapter", "class", "consumable", "family", "finding", "finish", "list", "method", "part", "piece", "plate",
    "reading", "rule", "rules", "sign", "source", "step", "term", "wood",
)  # fmt: skip
# Addresses of the web are let through only so that the check can name them.
_SCHEMES = {*KINDS, "http", "https", "mailto"}
_PLATE = re.compile(r"!\[[^\]]*\]\(plate:([A-Za-z0-9_-]+)\)")
_NUMBER = re.compile(r"^(\d+)[_-]")
_TERM = re.compile(r"^## +(.+?)\s*$", re.MULTILINE)
_ALSO = re.compile(r"^Also: *(.+?)\.?\s*$", re.MULTILINE)


@dataclass(frozen=True)
class Term:
    """A word of the trade: its name, other words for it, and what it means."""

    name: str
    also: tuple[str, ...]
    means: str

    @property
    def ref(self) -> str:
        """The name by which links find it."""
        return "term:" + re.sub(r"[^a-z0-9]+", "_", self.name.lower()).strip("_")


def glossary_of(text: str) -> tuple[Term, ...]:
    """The terms of a glossary: a heading of the second level each, perhaps a line `Also: …`, and a paragraph.

    >>> glossary_of("# Words\\n\\n## Kerf\\nAlso: saw cut.\\n\\nThe slot that a saw leaves.")[0].also
    ('saw cut',)
    """
    found = []
    pieces = _TERM.split(text)[1:]
    for name, body in zip(pieces[::2], pieces[1::2], strict=True):
        also = _ALSO.search(body)
        means = " ".join(_ALSO.sub("", body).split())
        found.append(Term(name, tuple(word.strip() for word in also[1].split(",")) if also else (), means))
    return tuple(found)


def plates_in(chapters: Mapping[str, str]) -> tuple[str, ...]:
    """Every plate that a chapter shows."""
    return tuple(dict.fromkeys(plate for text in chapters.values() for plate in _PLATE.findall(text)))


def _title(name: str, text: str) -> tuple[str, str]:
    """The first heading of a chapter and the rest of it."""
    first, _, rest = text.lstrip("\ufeff").lstrip().partition("\n")
    if first.startswith("# "):
        return first[2:].strip(), rest
    return _NUMBER.sub("", PurePosixPath(name).stem).replace("_", " ").capitalize(), text


def _heading(match: re.Match[str], used: set[str]) -> str:
    level, inside = match[1], match[2]
    plain = html.unescape(re.sub(r"<[^>]*>", "", inside))
    base = "at-" + (re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-") or "heading")
    name, number = base, 2
    while name in used:
        name, number = f"{base}-{number}", number + 1
    used.add(name)
    return f'<h{level} id="{name}">{inside}</h{level}>'


def _jump(markup: str) -> str:
    """A line at the head of a chapter that leads to its sections, where it has several.

    >>> _jump('<h2 id="at-one">One</h2><h2 id="at-two">Two</h2><h2 id="at-three">Three</h2>')
    '<p class="jump">On this page: <a href="#at-one">One</a> · <a href="#at-two">Two</a> · <a href="#at-three">Three</a></p>'
    """
    headings = re.findall(r'<h2 id="([^"]*)">(.*?)</h2>', markup, flags=re.DOTALL)
    if len(headings) < 3:
        return ""
    links = " · ".join(f'<a href="#{name}">{re.sub(r"<[^>]*>", "", said)}</a>' for name, said in headings)
    return f'<p class="jump">On this page: {links}</p>'


def _captioned(markup: str) -> str:
    """Every table with a caption: a paragraph `Table: …` before it, or else the heading above it, for the ear alone."""
    parts = re.split(r"(<table>.*?</table>)", markup, flags=re.DOTALL)
    heading = "Table"
    done: list[str] = []
    for part in parts:
        if not part.startswith("<table>"):
            above = re.findall(r"<h\d[^>]*>(.*?)</h\d>", part, flags=re.DOTALL)
            heading = above[-1] if above else heading
            done.append(part)
            continue
        said = re.search(r"<p>Table: (.*?)</p>\s*$", done[-1], flags=re.DOTALL)
        if said:
            done[-1] = done[-1][: said.start()]
            caption = f"<caption>{said[1]}</caption>"
        else:
            caption = f'<caption><span class="ear">{re.sub(r"<[^>]*>", "", heading)}</span></caption>'
        body = part.replace("<th>", '<th scope="col">').replace("<table>", f"<table>{caption}")
        done.append(f'<div class="wide" tabindex="0" role="group" aria-label="{_plain(caption)}">{body}</div>')
    return "".join(done)


def _plain(markup: str) -> str:
    return html.escape(html.unescape(re.sub(r"<[^>]*>", "", markup)))


def _sourced(markup: str, sources: Mapping[str, Source]) -> str:
    """In the section that says where a chapter comes from, the ids of sources as links with their titles and how each is known."""

    def named(match: re.Match[str]) -> str:
        source = sources.get(match[1])
        if source is None:
            return match[0]
        judged = source.known_by == "judgement"
        mark = "" if judged or source.known_by == "read" else f" <i>{told.KNOWN[source.known_by]}</i>"
        title = "common practice" if judged else html.escape(source.title, quote=False)
        return f'<a href="source:{source.id}">{title}</a>{mark}'

    before, heading, after = markup.partition(f"<h2>{SOURCES}</h2>")
    return before + heading + re.sub(r"<code>(\w+)</code>", named, after)


def chapter_blocks(text: str, sources: Mapping[str, Source] = _NONE) -> Html:
    """A chapter's Markdown as clean markup: no scripts, no styles; links by name stay for the renderer."""
    import markdown
    import nh3

    raw = markdown.markdown(text, extensions=["tables", "sane_lists", "fenced_code"], output_format="html")
    clean = nh3.clean(raw, tags=_ALLOWED, attributes={"a": {"href"}, "img": {"src", "alt"}}, url_schemes=_SCHEMES, link_rel=None)
    clean = _sourced(clean, sources)
    used: set[str] = set()
    headed = re.sub(r"<h([234])>(.*?)</h\1>", lambda match: _heading(match, used), clean, flags=re.DOTALL)
    return Html(_jump(headed) + _captioned(headed), " ".join(html.unescape(re.sub(r"<[^>]*>", " ", clean)).split()))


def chapter_name(name: str) -> str:
    """The name of a chapter in links: its file without number and ending.

    >>> chapter_name("03_wood_in_five_pages.md")
    'wood_in_five_pages'
    """
    return _NUMBER.sub("", PurePosixPath(name).stem)


def chapter_pages(chapters: Mapping[str, str], sources: Mapping[str, Source] = _NONE) -> list[Page]:
    """A page for each chapter, in the order of their file names, and the list of them."""
    found = []
    for name in sorted(chapters):
        if name == GLOSSARY:
            continue
        title, body = _title(name, chapters[name])
        short = chapter_name(name)
        blocks = (chapter_blocks(body, sources),)
        found.append(Page(f"chapter:{short}", f"chapter/{short}.html", title, "chapter", blocks, (UP,), names=(title,)))
    if not found:
        return []
    lead = Para(("Written by hand, to be read from end to end.",), "lead")
    ways = Items(tuple((Link(page.title, page.ref),) for page in found), numbered=True)
    return [Page("list:chapters", "chapters.html", "Chapters", "list", (lead, ways), names=("Chapters",)), *found]


def glossary_page(terms: tuple[Term, ...]) -> Page:
    """Every term, in the order of the alphabet."""
    rows = tuple(
        (term.ref, (term.name,), phrase(term.means, *((" Also: ", *in_a_row(list(term.also)), ".") if term.also else ())))
        for term in sorted(terms, key=lambda term: term.name.lower())
    )
    lead = Para(
        ("Each word is explained here once, as the trade uses it. Elsewhere its first mention on a page leads here.",), "lead"
    )
    blocks = (lead, Entries(rows)) if rows else (lead,)
    return Page("list:glossary", "glossary.html", "Glossary", "list", blocks, names=("Glossary",))


def term_anchors(terms: tuple[Term, ...]) -> dict[str, str]:
    """Every word for every term, small, with the anchor that explains it."""
    return {word.lower(): anchor(term.ref) for term in terms for word in (term.name, *term.also)}
