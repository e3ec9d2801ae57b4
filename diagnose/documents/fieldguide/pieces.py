"""Piece and part pages: what a piece is made of, its joint map, and what happens to its parts."""

from collections.abc import Mapping

from diagnose import words
from diagnose.documents.fieldguide import told
from diagnose.documents.fieldguide.blocks import (
    Facts,
    Figure,
    Link,
    Page,
    Para,
    Phrase,
    Section,
    Table,
    in_a_row,
    items,
    many,
    present,
    section,
)
from diagnose.documents.fieldguide.conditions import part_ids
from diagnose.documents.fieldguide.picture import piece_picture
from diagnose.documents.fieldguide.stock import Stock
from diagnose.documents.say import first_up, plain
from diagnose.rulebase.entries import Joint, Part, Piece, When

UP = Link("Pieces", "list:pieces")
HOW_MANY = "count"  # the one size of a joint that is no length
_ASSUMED = "Sizes are what is usual and are assumed until measured."
_NOT_ALL: Phrase = (
    "Those that act only in some kinds of piece, this one among them; methods and rules likewise. What acts in any piece stands among ",
    Link("all causes", "list:causes"),
    ".",
)


def _size(part: Part) -> str:
    thick, wide = part.section
    length = f" × {told.number(part.length)}" if part.length is not None else ""
    return f"{told.number(thick)} × {told.number(wide)}{length} mm"


def _parts(piece: Piece) -> Section:
    rows = tuple(
        (
            (Link(plain(name), f"part:{name}"),),
            (", ".join(part.also_called),),
            (str(part.count),),
            (_size(part),),
            (words.CARRIES[part.carries],),
        )
        for name, part in piece.parts.items()
    )
    table = Table(
        f"Parts of: {piece.name.lower()}", ("Part", "Also called", "How many", "Thickness × width × length", "Carries"), rows
    )
    return Section("Parts", (Para((_ASSUMED,), "note"), table))


def _sizes_said(sizes: Mapping[str, float]) -> str:
    """Sizes by name; the first word that all of them share is said once.

    >>> _sizes_said({"tenon length": 30, "tenon height": 40}), _sizes_said({"depth": 12})
    ('tenon: length 30, height 40', 'depth 12')
    """
    heads = {name.partition(" ")[0] for name in sizes}
    shared = heads.pop() + " " if len(heads) == 1 and len(sizes) > 1 else ""
    said = ", ".join(f"{name.removeprefix(shared)} {told.number(size)}" for name, size in sizes.items())
    return f"{shared.rstrip()}: {said}" if shared else said


def _joint_row(number: int, joint: Joint) -> tuple[Phrase, ...]:
    kinds = in_a_row([words.JOINT_KINDS[kind] for kind in joint.kind], between="; ", last="; or ")
    joins = in_a_row([Link(plain(part), f"part:{part}") for part in dict.fromkeys(joint.joins)], last=" to ")
    sizes = _sizes_said({plain(name): size for name, size in joint.size.items() if name != HOW_MANY})
    how_many = f"{told.number(joint.size[HOW_MANY])} of them, " if HOW_MANY in joint.size else ""
    return ((f"{number}. {first_up(plain(joint.id))}",), joins, kinds, (f"{how_many}{sizes} mm" if sizes else "not given",))


def _names_piece(piece: Piece, when: When) -> bool:
    return any(line.key == "piece" and {piece.id, piece.group} & set(line.values) for line in when.all_lines())


def piece_page(stock: Stock, piece: Piece) -> Page:
    """The page of one kind of piece."""
    knowledge = stock.knowledge
    picture = piece_picture(piece)
    group = [other for other in knowledge.pieces.values() if other.group == piece.group and other.id != piece.id]
    rows: list[tuple[str, Phrase]] = [
        ("Kind", (plain(piece.group),)),
        ("Also called", in_a_row(list(piece.also_called)) if piece.also_called else ("nothing else",)),
        ("A healthy one carries", (plain(piece.healthy_load),)),
    ]
    if group:
        rows.append(("See also", in_a_row([Link(other.name, f"piece:{other.id}") for other in group])))
    causes = [cause for cause in knowledge.causes.values() if _names_piece(piece, cause.when)]
    methods = [method for method in knowledge.methods.values() if _names_piece(piece, method.when)]
    rules = [rule for rule in knowledge.logic.values() if _names_piece(piece, rule.when)]
    table = Table(
        f"Every joint of: {piece.name.lower()}",
        ("Joint", "Joins", "Usually", "Usual size"),
        tuple(_joint_row(number, joint) for number, joint in enumerate(piece.joints, 1)),
    )
    blocks = present(
        Facts(tuple(rows)),
        _parts(piece),
        section(
            "Joint map", Figure(picture, ("Each number is that of a joint in the table below.",)) if picture else None, table
        ),
        section("Causes", Para(_NOT_ALL, "note"), many((Link(c.name, f"cause:{c.id}"),) for c in causes)) if causes else None,
        section("Methods", many((Link(m.name, f"method:{m.id}"),) for m in methods)),
        section("Rules", many((Link(rule.called, f"rule:{rule.id}"),) for rule in rules)),
        told.sources(knowledge, piece),
    )
    names = (piece.name, *piece.also_called)
    return Page(f"piece:{piece.id}", f"piece/{piece.id}.html", piece.name, "piece", blocks, (UP,), names)


def _names_part(part: str, when: When) -> bool:
    return any(line.key == "part" and part in line.values for line in when.all_lines())


def part_page(stock: Stock, part: str, means: str = "") -> Page:
    """The page of one part, wherever it occurs; `means` is what the glossary says of it."""
    knowledge = stock.knowledge
    held = [piece for piece in knowledge.pieces.values() if part in piece.parts]
    rows = tuple(
        (
            (Link(piece.name, f"piece:{piece.id}"),),
            (str(piece.parts[part].count),),
            (_size(piece.parts[part]),),
            (words.CARRIES[piece.parts[part].carries],),
        )
        for piece in held
    )
    title = first_up(plain(part))
    called = tuple(dict.fromkeys(name for piece in held for name in piece.parts[part].also_called))
    causes = [cause for cause in knowledge.causes.values() if _names_part(part, cause.when)]
    methods = [method for method in knowledge.methods.values() if _names_part(part, method.when)]
    rules = [rule for rule in knowledge.logic.values() if _names_part(part, rule.when)]
    blocks = present(
        Para((means,), "lead") if means else None,
        Facts((("Also called", in_a_row(list(called))),)) if called else None,
        section(
            "Where it occurs",
            Para((_ASSUMED,), "note"),
            Table(
                f"Pieces with this part: {title.lower()}", ("Piece", "How many", "Thickness × width × length", "Carries"), rows
            ),
        ),
        section("Causes that can act on it", many((Link(c.name, f"cause:{c.id}"),) for c in causes)),
        section("Methods that are for it", many((Link(m.name, f"method:{m.id}"),) for m in methods)),
        section("Rules for it", many((Link(rule.called, f"rule:{rule.id}"),) for rule in rules)),
    )
    return Page(f"part:{part}", f"part/{part}.html", title, "part", blocks, (UP,), (title, *called))


def piece_list(stock: Stock) -> Page:
    """All pieces by group, and all parts."""
    pieces = stock.knowledge.pieces.values()
    found = []
    for group in dict.fromkeys(piece.group for piece in pieces):
        listed = items((Link(piece.name, f"piece:{piece.id}"),) for piece in pieces if piece.group == group)
        found.append(section(first_up(plain(group)), listed))
    parts = items((Link(first_up(plain(part)), f"part:{part}"),) for part in sorted(part_ids(stock.knowledge)))
    lead = Para(("The kinds of piece, each with its joint map, and their parts.",), "lead")
    blocks = present(lead, *found, section("By part", parts, ref="list:parts"))
    return Page("list:pieces", "pieces.html", "Pieces and parts", "list", blocks, names=("Pieces, all", "Parts, all"))
