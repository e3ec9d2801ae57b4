"""Links from the first mention of a term on a page to the glossary."""

import re
from collections.abc import Mapping
from functools import lru_cache

# Inside these a mention stays as it is: it is a link, a heading or a name already.
_SHUT = frozenset(
    {
        "a",
        "b",
        "h1",
        "h2",
        "h3",
        "h4",
        "h5",
        "h6",
        "caption",
        "th",
        "dt",
        "figcaption",
        "code",
        "pre",
        "small",
        "svg",
        "nav",
        "title",
    }
)
_TAG = re.compile(r"(<[^>]*>)")
_NAME = re.compile(r"</?([a-zA-Z0-9]+)")


@lru_cache(maxsize=4)
def _finder(words: tuple[str, ...]) -> re.Pattern[str]:
    longest_first = sorted(words, key=lambda word: (-len(word), word))
    return re.compile(r"(?<![\w-])(" + "|".join(re.escape(word) for word in longest_first) + r")(s?)(?![\w-])", re.IGNORECASE)


def with_terms(markup: str, anchors: Mapping[str, str], glossary: str) -> str:
    """The markup with the first mention of each term as a link to `glossary` (a relative path).

    >>> with_terms("<h1>Kerf</h1><p>A kerf. A kerf.</p>", {"kerf": "kerf"}, "glossary.html")
    '<h1>Kerf</h1><p>A <a href="glossary.html#kerf">kerf</a>. A kerf.</p>'
    """
    if not anchors:
        return markup
    finder = _finder(tuple(anchors))
    linked: set[str] = set()
    shut = 0

    def link(match: re.Match[str]) -> str:
        target = anchors[match[1].lower()]
        if target in linked:
            return match[0]
        linked.add(target)
        return f'<a href="{glossary}#{target}">{match[0]}</a>'

    parts = _TAG.split(markup)
    for index, part in enumerate(parts):
        if part.startswith("<"):
            name = _NAME.match(part)
            if name and name[1].lower() in _SHUT:
                shut += -1 if part.startswith("</") else 1
        elif not shut and part.strip():
            parts[index] = finder.sub(link, part)
    return "".join(parts)
