"""A drawing written shorter: what is said twice is said once. Nothing that is seen changes."""

import re

_CLIP = re.compile(r'<clipPath id="c([0-9a-f]{8})"><path d="[^"]*"/></clipPath>')
_CLIP_NAME = re.compile(r"(?<=[\"#])c([0-9a-f]{8})(?=[\")])")
_TWO_GROUPS = re.compile(r'(<g clip-path="url\(#(c\d+)\)">(?:(?!</?g).)*)</g><g clip-path="url\(#\2\)">')
_GROUP_OF_ONE = re.compile(r'<g clip-path="(url\(#c\d+\))"><path ([^>]*)/></g>')
_LINES_ALIKE = re.compile(r'<path d="[^"]*"((?: stroke[a-z-]*="[^"]*")+)/>(?:<path d="[^"]*"\1/>)+')
_DATA = re.compile(r' d="([^"]*)"')
_PLACED = r'(?: (?:c[xy]|r[xy]?)="[^"]*")+'
_DOTS_ALIKE = re.compile(rf'<(circle|ellipse){_PLACED}((?: (?!opacity|c[xy]=|r[xy]?=)[a-z-]+="[^"]*")+)/>(?:<\1{_PLACED}\2/>)+')
_CLIPPED_BY = re.compile(r'<clipPath id="c(\d+)"><path d="([^"]*)"/></clipPath>')
# A line is one unit wide where nothing else is said.
_WIDTH_OF_GROUP = re.compile(r"<g[^>]* stroke-width=")
_USUAL_WIDTH = ' stroke-width="1"'
# From so many signs on a shape is shorter by its name than written again.
_LONG = 12


def _clips_once(body: str) -> str:
    """Each shape that is clipped by stands where it is first used, under a short name."""
    names: dict[str, str] = {}

    def first(match: re.Match[str]) -> str:
        if match[1] in names:
            return ""
        names[match[1]] = f"c{len(names)}"
        return match[0]

    return _CLIP_NAME.sub(lambda match: names[match[1]], _CLIP.sub(first, body))


def _one_line(match: re.Match[str]) -> str:
    return f'<path d="{"".join(_DATA.findall(match[0]))}"{match[1]}/>'


def _one_group(match: re.Match[str]) -> str:
    return f"<g{match[2]}>{match[0].replace(match[2], '')}</g>"


def _shapes_once(body: str) -> str:
    """A shape that is clipped by and also filled or drawn round is written once, and used by its name."""
    for number, shape in dict(_CLIPPED_BY.findall(body)).items():
        drawn = f'<path d="{shape}" '
        if len(shape) >= _LONG and drawn in body:
            body = body.replace(f'<path d="{shape}"/>', f'<path id="p{number}" d="{shape}"/>')
            body = body.replace(drawn, f'<use href="#p{number}" ')
    return body


def tidied(body: str) -> str:
    """The body of a drawing as the functions of this folder write it, in fewer signs.

    >>> tidied('<path d="M0 0l4 0" stroke="#000"/><path d="M0 2l4 0" stroke="#000"/>')
    '<path d="M0 0l4 0M0 2l4 0" stroke="#000"/>'
    >>> tidied('<circle cx="1" cy="2" r="3" fill="#000"/><circle cx="5" cy="2" r="3" fill="#000"/>')
    '<g fill="#000"><circle cx="1" cy="2" r="3"/><circle cx="5" cy="2" r="3"/></g>'
    """
    body = _clips_once(body)
    while (joined := _TWO_GROUPS.sub(r"\1", body)) != body:
        body = joined
    if not _WIDTH_OF_GROUP.search(body):
        body = body.replace(_USUAL_WIDTH, "")
    body = _GROUP_OF_ONE.sub(r'<path clip-path="\1" \2/>', _LINES_ALIKE.sub(_one_line, body))
    return _DOTS_ALIKE.sub(_one_group, _shapes_once(body))
