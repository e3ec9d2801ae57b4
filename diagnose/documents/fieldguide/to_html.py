"""Pages as HTML: landmarks, headings in order, captions and scopes, links resolved. No colour, size or script stands in a page itself."""

import html
import re

from diagnose.documents.fieldguide.blocks import (
    Block,
    Box,
    Entries,
    Facts,
    Figure,
    Gallery,
    Html,
    Inline,
    Items,
    Link,
    Page,
    Para,
    Phrase,
    Section,
    Strong,
    Table,
    Tag,
    Weight,
    Weights,
    anchor,
)
from diagnose.documents.fieldguide.picture import Picture
from diagnose.documents.fieldguide.shelf import Shelf, relative
from diagnose.documents.fieldguide.terms import with_terms
from diagnose.documents.fieldguide.told import signed

BOOK = "Field guide to furniture repair"
STYLE, INDEX, SEARCH, SEARCH_INDEX = "style.css", "index.html", "search.js", "search-index.js"
# The longest bar: what one surely answered reading can weigh.
LONGEST_DB = 18.0
# Entries whose id an author needs: it stands small beside the name.
_WITH_ID = frozenset(
    {
        "adhesive",
        "cause",
        "caution",
        "consumable",
        "finding",
        "finish",
        "method",
        "piece",
        "rule",
        "sign",
        "source",
        "step",
        "wood",
    }
)
_BY_NAME = re.compile(r'href="([a-z]+:[^"]*)"')
_IMAGE = re.compile(r'<img\b[^>]*\bsrc="plate:([^"]*)"[^>]*>')
_ALT = re.compile(r'\balt="([^"]*)"')
_PARA = re.compile(r"<p>((?:(?!</p>).)*<img\b(?:(?!</p>).)*)</p>", re.DOTALL)
_IMAGES = re.compile(r"((?:<img\b[^>]*>\s*)+)")
WAYS = (
    ("By look", "list:look"),
    ("Pieces", "list:pieces"),
    ("Causes", "list:causes"),
    ("Methods", "list:methods"),
    ("Hazards", "list:hazards"),
    ("Chapters", "list:chapters"),
    ("A–Z", "list:index"),
    ("Search", "list:search"),
)


class Writer:
    """Writes one page; knows where it lies and what its links mean."""

    def __init__(self, page: Page, shelf: Shelf, pictures: dict[str, Picture], version: str) -> None:
        self.page, self.shelf, self.pictures, self.version = page, shelf, pictures, version

    def href(self, ref: str) -> str:
        """The address of a name, ready for an attribute."""
        return html.escape(self.shelf.href(ref, self.page.path))

    def inline(self, part: Inline) -> str:
        """One part of a phrase."""
        text = html.escape(part if isinstance(part, str) else part.text, quote=False)
        if isinstance(part, Link):
            return f'<a href="{self.href(part.to)}">{text}</a>'
        if isinstance(part, Strong):
            return f"<strong>{text}</strong>"
        if isinstance(part, Tag):
            return {"by": f"<small>{text}</small>", "list": f"<small>{text}</small>", "hold": f'<i class="hold">{text}</i>'}.get(
                part.kind, f"<i>{text}</i>"
            )
        return text

    def words(self, words: Phrase) -> str:
        """A phrase."""
        return "".join(self.inline(part) for part in words)

    def blocks(self, blocks: tuple[Block, ...], level: int) -> str:
        """Blocks one after another, without line breaks (they are 50 kB of the site); headings in them start at `level`."""
        return "".join(self.block(block, level) for block in blocks)

    def block(self, block: Block, level: int) -> str:
        """One block."""
        if isinstance(block, Para):
            role = f' class="{block.role}"' if block.role else ""
            return f"<p{role}>{self.words(block.words)}</p>"
        if isinstance(block, Items):
            kind = "ol" if block.numbered else "ul"
            start = f' start="{block.start}"' if block.start != 1 else ""
            start += ' class="many"' if block.many else ""
            return f"<{kind}{start}>" + "".join(f"<li>{self.words(item)}</li>" for item in block.items) + f"</{kind}>"
        if isinstance(block, Facts):
            rows = "".join(f"<dt>{html.escape(what)}</dt><dd>{self.words(said)}</dd>" for what, said in block.rows)
            return f"<dl>{rows}</dl>"
        if isinstance(block, Entries):
            return '<dl class="entries">' + "".join(self._entry(*row) for row in block.rows) + "</dl>"
        if isinstance(block, Table):
            return self._table(block)
        if isinstance(block, Weights):
            return self._weights(block)
        if isinstance(block, Figure):
            return self._figure(block)
        if isinstance(block, Gallery):
            return '<div class="gallery">' + "".join(self._figure(figure) for figure in block.figures) + "</div>"
        if isinstance(block, Box):
            return f'<div class="box"><p class="box-title">{html.escape(block.title)}</p>{self.blocks(block.blocks, level)}</div>'
        if isinstance(block, Html):
            return self._resolved(block.markup)
        return self._section(block, level)

    def _entry(self, ref: str, name: Phrase, said: Phrase) -> str:
        return f'<dt id="{anchor(ref)}">{self.words(name)}{own_id(ref)}</dt><dd>{self.words(said)}</dd>'

    def _section(self, block: Section, level: int) -> str:
        place = f' id="{anchor(block.ref)}"' if block.ref else ""
        title = html.escape(block.title, quote=False)
        return f"<h{level}{place}>{title}</h{level}>{own_id(block.ref)}{self.blocks(block.blocks, min(level + 1, 6))}"

    def _table(self, block: Table) -> str:
        head = "".join(f'<th scope="col">{html.escape(cell)}</th>' for cell in block.head)
        body = ""
        for first, *rest in block.rows:
            cells = "".join(f"<td>{self.words(cell)}</td>" for cell in rest)
            body += f'<tr><th scope="row">{self.words(first)}</th>{cells}</tr>'
        caption = html.escape(block.caption, quote=False)
        return (
            f'<div class="wide" tabindex="0"><table><caption>{caption}</caption>'
            f"<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>"
        )

    def _weights(self, block: Weights) -> str:
        head = "".join(f'<th scope="col">{html.escape(cell)}</th>' for cell in block.head)
        caption = html.escape(block.caption, quote=False)
        named = f"<thead><tr>{head}</tr></thead>" if head else ""
        body = "".join(self._weight(row) for row in block.rows)
        return f'<table class="weights"><caption>{caption}</caption>{named}<tbody>{body}</tbody></table>'

    def _weight(self, row: Weight) -> str:
        return (
            f'<tr><th scope="row">{self.words(row.words)}</th><td>{bar(row.decibels)}</td>'
            + (f"<td>{self.words(row.note)}</td>" if row.note else "")
            + "</tr>"
        )

    def _figure(self, figure: Figure) -> str:
        return self._drawn(
            figure.picture, f"<figcaption>{self.words(figure.words)}</figcaption>", anchor(figure.ref) if figure.ref else ""
        )

    def _drawn(self, picture: Picture, caption: str, place: str = "") -> str:
        own = f' id="{place}"' if place else ""
        if not picture.svg:
            words = html.escape(picture.caption)
            missing = f'<p class="paper">Not drawn yet: {words}</p>'
            return f'<figure{own} data-missing-plate="{html.escape(picture.id)}">{missing}{caption}</figure>'
        source = html.escape(relative(picture.path, self.page.path))
        image = f'<img src="{source}" alt="{html.escape(picture.alt)}">'
        return f"<figure{own}>{image}{caption}</figure>"

    def _resolved(self, markup: str) -> str:
        """A chapter's markup with its links and plates; what it writes as the words of a picture stands under it."""

        def plate(match: re.Match[str]) -> str:
            picture = self.pictures.get(html.unescape(match[1]))
            if picture is None:
                return match[0]
            words = _ALT.search(match[0])
            caption = words[1] if words and words[1] else html.escape(picture.caption)
            return self._drawn(picture, f"<figcaption>{caption}</figcaption>")

        linked = _BY_NAME.sub(lambda match: f'href="{self.href(html.unescape(match[1]))}"', markup)
        return _IMAGE.sub(plate, _PARA.sub(lambda match: _apart(match[1]), linked))

    def whole(self, scripts: tuple[str, ...] = ()) -> str:
        """The page from first to last line."""
        page = self.page
        top = relative(INDEX, page.path)
        ways = " ".join(f'<a href="{self.href(ref)}">{name}</a>' for name, ref in WAYS if ref in self.shelf.places)
        trail = " ".join(self.inline(link) for link in page.up)
        crumbs = f'<nav aria-label="Where you are">{trail}</nav>' if trail else ""
        body = with_terms(self.blocks(page.blocks, 2), self.shelf.terms, relative("glossary.html", page.path))
        title = html.escape(page.title, quote=False)
        run = "".join(f'<script src="{relative(name, page.path)}"></script>\n' for name in scripts)
        return (
            '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
            '<meta name="viewport" content="width=device-width">'
            f'<title>{short_title(page.title)}</title><link rel="stylesheet" href="{relative(STYLE, page.path)}">\n</head>'
            f'<body class="{page.kind}">\n<a class="skip" href="#main">To the text</a>'
            f'<header><p class="book"><a href="{top}">{BOOK}</a></p><nav aria-label="Ways in">{ways}</nav></header>\n'
            f'<main id="main" tabindex="-1">\n{crumbs}'
            f'<p class="kind">{html.escape(page.kind)}{own_id(page.ref)}</p><h1>{title}</h1>{body}\n</main>\n'
            f"<footer><p>Rule base {html.escape(self.version)}. Local codes and licensed practice prevail; "
            f'check current local law. <a href="{self.href("list:sources")}">Sources</a>.</p></footer>\n{run}</body>\n</html>\n'
        )


def _apart(inside: str) -> str:
    """A paragraph with images in it: the images side by side, the words before and after in paragraphs of their own.

    >>> _apart('See<img src="a"><img src="b"> both.')
    '<p>See</p><div class="gallery"><img src="a"><img src="b"></div><p>both.</p>'
    """
    parts = [part.strip() for part in _IMAGES.split(inside)]
    return "".join(f'<div class="gallery">{p}</div>' if p.startswith("<img") else f"<p>{p}</p>" for p in parts if p)


def own_id(ref: str) -> str:
    """The id of an entry as an author writes it, where the entry has one that rules name.

    >>> own_id("rule:living_things_stay_outside"), own_id("letter:A")
    (' <code>living_things_stay_outside</code>', '')
    """
    kind, _, name = ref.partition(":")
    return f" <code>{html.escape(name)}</code>" if kind in _WITH_ID else ""


def bar(decibels: float) -> str:
    """A weight with its bar, in half decibels from the middle: to the right and filled for, to the left and hollow against.

    >>> bar(4.6), bar(-30.0)
    ('<b class="w9">+4.6 dB</b>', '<b class="con w36">−30.0 dB</b>')
    """
    halves = round(2 * min(abs(decibels), LONGEST_DB))
    return f'<b class="{"" if decibels >= 0 else "con "}w{halves}">{signed(decibels)}</b>'


def short_title(title: str) -> str:
    """A title for the window: cut at a word where it is long, ready for markup.

    >>> short_title("Pores")
    'Pores · Field guide'
    """
    most = 54
    cut = title if len(title) <= most else title[: title.rindex(" ", 0, most)] + " …"
    return html.escape(f"{cut} · Field guide", quote=False)
