"""By what you see: every plate, station by station, each leading to its reading; and plates that only chapters show."""

from diagnose import words
from diagnose.documents.fieldguide.blocks import Block, Figure, Gallery, Link, Page, Para, Phrase, Section, jump_to, section
from diagnose.documents.fieldguide.picture import Picture, named_in_signs
from diagnose.documents.fieldguide.stock import Stock
from diagnose.documents.say import first_up
from diagnose.rulebase.entries import Sign


def plate_figure(stock: Stock, picture: Picture) -> Figure:
    """A plate with a link to the reading that it shows, where it shows one."""
    named = named_in_signs(stock.knowledge).get(picture.id)
    if named is None:
        return Figure(picture, (picture.caption,), ref=f"plate:{picture.id}")
    sign, reading = named
    said: Phrase = (Link(stock.knowledge.signs[sign].say(reading), f"reading:{sign}.{reading}"),)
    return Figure(picture, said, ref=f"plate:{picture.id}")


def _sign(stock: Stock, sign: Sign, shown: set[str]) -> Section | None:
    figures = []
    for reading in sign.readings.values():
        if reading.plate is not None and reading.plate not in shown:
            shown.add(reading.plate)
            figures.append(plate_figure(stock, stock.pictures[reading.plate]))
    return section(sign.ask or sign.id, Gallery(tuple(figures)) if figures else None)


def look_page(stock: Stock) -> Page:
    """All plates."""
    shown: set[str] = set()
    found: list[Section] = []
    for station, called in words.STATIONS.items():
        signs = [sign for sign in stock.knowledge.signs.values() if sign.station == station]
        part = section(first_up(called), *(_sign(stock, sign, shown) for sign in signs), ref=f"look:{station}")
        if part is not None:
            found.append(part)
    rest = [picture for picture in stock.pictures.values() if picture.id not in shown]
    if rest:
        others = Gallery(tuple(plate_figure(stock, picture) for picture in rest))
        found.append(Section("Other drawings", (others,), ref="look:others"))
    lead = Para(("Find the drawing that looks like what is before you, and follow it to what it means.",), "lead")
    blocks: tuple[Block, ...] = (lead, jump_to(found), *found)
    return Page("list:look", "look.html", "By what you see", "list", blocks, names=("Plates, all",))
