"""Markdown made of parts, and HTML made of Markdown. Text from people is data: it can neither break Markdown nor carry markup."""

import re
from collections.abc import Iterable, Sequence

_SPECIAL = re.compile(r"([\\`*_{}\[\]#|!])")
# A backslash before these would itself be printed; an entity is read alike everywhere.
_ENTITIES = {"&": "&amp;", "<": "&lt;", ">": "&gt;", "~": "&#126;"}
_TICK = re.compile(r"<li>(\s*(?:<p>)?)☐")
_CONTROL = dict.fromkeys((*range(0x20), *range(0x7F, 0xA0)))
_LINE_START = re.compile(r"^(\s*)(\d+)([.)])|^(\s*)([-+=])", re.MULTILINE)


def safe(text: str) -> str:
    """A text from a person, on one line, with everything that Markdown or HTML could read as markup made harmless.

    >>> safe("<b>1. *good*</b> | table")
    '&lt;b&gt;1. \\\\*good\\\\*&lt;/b&gt; \\\\| table'
    """
    one_line = " ".join(text.split()).translate(_CONTROL)
    escaped = _SPECIAL.sub(r"\\\1", one_line)
    for letter, entity in _ENTITIES.items():
        escaped = escaped.replace(letter, entity)
    return _LINE_START.sub(lambda m: f"{m[2]}\\{m[3]}" if m[2] else f"\\{m[5]}", escaped)


def heading(text: str, level: int) -> str:
    """A heading with its blank line."""
    return f"{'#' * level} {text}\n"


def bullets(items: Iterable[str]) -> str:
    """A list; empty when there is nothing to list."""
    return "".join(f"- {item}\n" for item in items)


def ticks(items: Iterable[str]) -> str:
    """A list of boxes to tick by hand."""
    return "".join(f"- ☐ {item}\n" for item in items)


def box(title: str, lines: Sequence[str]) -> str:
    """A boxed warning: a quotation in Markdown, a framed box in print."""
    body = "".join(f"> - {line}\n" for line in lines)
    return f"> **{title}**\n>\n{body}"


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table; cells must be safe already."""
    lines = ["| " + " | ".join(head) + " |", "|" + "---|" * len(head)]
    lines += ["| " + " | ".join(cell.replace("\n", " ") for cell in row) + " |" for row in rows]
    return "\n".join(lines) + "\n"


def join(*blocks: str) -> str:
    """Blocks with one blank line between them; empty blocks vanish."""
    return "\n\n".join(block.strip("\n") for block in blocks if block.strip()) + "\n"


_STYLE = """
:root { color-scheme: light dark; --ink: #1c1a17; --paper: #fffdf9; --line: #b9ae9c; --mark: #8a2b12; }
@media (prefers-color-scheme: dark) { :root { --ink: #ece6da; --paper: #1d1b18; --line: #6b6252; --mark: #f0a48c; } }
body { margin: 0 auto; max-width: 46rem; padding: 1.2rem; color: var(--ink); background: var(--paper);
  font: 1.05rem/1.5 Georgia, "Liberation Serif", serif; }
h1 { font-size: 1.5rem; } h2 { font-size: 1.2rem; margin-top: 1.8rem; border-bottom: 1px solid var(--line); }
h3 { font-size: 1.05rem; margin-bottom: .3rem; }
table { border-collapse: collapse; width: 100%; font-size: .92rem; }
th, td { border: 1px solid var(--line); padding: .3rem .5rem; text-align: left; vertical-align: top; }
blockquote { margin: 1rem 0; padding: .6rem 1rem; border: 2px solid var(--mark); border-radius: 4px; }
blockquote strong { color: var(--mark); }
.wide { overflow-x: auto; padding-right: 1px; }
figure { margin: 1.2rem 0; break-inside: avoid; } figure img { max-width: 100%; background: #fff; }
li.tick { list-style: none; margin-left: -1.1em; }
@media print { body { max-width: none; padding: 0; font-size: 10.5pt; line-height: 1.3; } h1 { font-size: 15pt; margin: 0 0 4pt; }
  h2 { font-size: 12pt; margin: 8pt 0 3pt; break-after: avoid; } p, ul, ol, blockquote { margin: 3pt 0; } tr, blockquote, li { break-inside: avoid; }
  :root { --ink: #000; --paper: #fff; --mark: #000; } }
@page { margin: 15mm 17mm; }
"""

_ALLOWED = {
    "h1", "h2", "h3", "h4", "p", "ul", "ol", "li", "blockquote", "strong", "em", "table", "thead", "tbody", "tr", "th", "td",
    "hr", "br", "code",
}  # fmt: skip


def to_html(markdown_text: str, title: str, language: str = "en", figures: str = "") -> str:
    """A whole page, ready for print, from Markdown; nothing but plain document markup passes. `figures` is our own markup, put last."""
    import html

    import markdown
    import nh3

    body = markdown.markdown(markdown_text, extensions=["tables", "sane_lists"], output_format="html")
    clean = nh3.clean(body, tags=_ALLOWED, attributes={})
    clean = clean.replace("<table>", '<div class="wide"><table>').replace("</table>", "</table></div>")
    clean = clean.replace("<th>", '<th scope="col">')
    clean = _TICK.sub(r'<li class="tick">\1☐', clean)
    return (
        f'<!DOCTYPE html>\n<html lang="{language}">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{html.escape(title)}</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n<main>\n{clean}\n{figures}</main>\n</body>\n</html>\n"
    )
