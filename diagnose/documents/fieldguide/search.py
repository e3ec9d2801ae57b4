"""The search index: one line for everything that has a name, with its other names; a script file, since a page from disk may read no data."""

import json
from collections.abc import Sequence

from diagnose.documents.fieldguide.blocks import Page
from diagnose.documents.fieldguide.shelf import Shelf

# What the script calls the list.
VARIABLE = "FIELD_GUIDE"


def search_index(
    pages: Sequence[Page], entries: Sequence[tuple[str, str, str]], shelf: Shelf, also: dict[str, tuple[str, ...]]
) -> str:
    """The index as a script. Each line: title, kind, address, other names. `also` holds other names of entries without a page."""
    rows = []
    for page in pages:
        if page.names:
            others = [name for name in dict.fromkeys((*page.names, *page.also)) if name != page.title]
            rows.append([page.title, page.kind, page.path, others])
    for name, kind, ref in entries:
        rows.append([name, kind, shelf.href(ref, ""), list(also.get(ref, ()))])
    lines = ",\n".join(json.dumps(row, ensure_ascii=False, separators=(",", ":")) for row in rows)
    # A closing tag inside a text must not end the script where the file is pasted into a page.
    return f"window.{VARIABLE} = [\n{lines}\n];\n".replace("</", "<\\/")
