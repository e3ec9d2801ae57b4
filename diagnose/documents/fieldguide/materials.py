"""Woods, adhesives, finishes and what is used up: every figure with how it is known."""

from collections.abc import Mapping

from diagnose.documents.fieldguide import told
from diagnose.documents.fieldguide.blocks import (
    Block,
    Entries,
    Facts,
    Items,
    Link,
    Page,
    Para,
    Phrase,
    Section,
    Table,
    in_a_row,
    items,
    phrase,
    present,
    section,
)
from diagnose.documents.fieldguide.conditions import in_one_line
from diagnose.documents.fieldguide.stock import Stock
from diagnose.documents.say import first_up, plain, span, wait
from diagnose.rulebase.entries import Adhesive, Consumable, Finish
from diagnose.rulebase.woods import Wood

UP = Link("Materials", "list:materials")
_PROPERTIES = {
    "mor": "Bending strength",
    "moe": "Stiffness in bending",
    "compression_par": "Strength when pressed along the grain",
    "compression_perp": "Strength when pressed across the grain",
    "shear_par": "Strength in shear along the grain",
    "tension_perp": "Strength when pulled across the grain",
    "hardness": "Hardness (load on a half-sunk ball)",
}
_PORES = {
    "ring": "in a ring each spring",
    "semi_ring": "thinning out through the year",
    "diffuse": "spread evenly",
    "none": "none",
}


def _strength(wood: Wood) -> list[tuple[str, Phrase]]:
    """Every figure of strength, and once where they come from."""
    rows: list[tuple[str, Phrase]] = []
    origins: dict[str, None] = {}
    for name, called in _PROPERTIES.items():
        figure = wood.strength(name)
        value = figure.value if figure.known_by == "read" else told.three_figures(figure.value)
        rows.append((called, phrase(f"{told.number(value)} {figure.unit}", told.known(figure.known_by))))
        origins |= dict.fromkeys([figure.source, *figure.warnings])
    return [*rows, ("Strength from", ("; ".join(origin for origin in origins if origin),))]


def _movement(wood: Wood) -> list[tuple[str, Phrase]]:
    """Shrinkage and movement, quarter-sawn and flat-sawn."""
    rows: list[tuple[str, Phrase]] = []
    for called, shrinkage, change in (
        ("Quarter-sawn (radial)", wood.shrink_r_pct, wood.coef_r),
        ("Flat-sawn (tangential)", wood.shrink_t_pct, wood.coef_t),
    ):
        shrinks = phrase(f"shrinks {told.number(shrinkage)} % from green to bone dry", told.known(wood.shrink_known_by))
        moves = phrase(
            f"; moves {told.number(round(100 * change, 2))} mm in 100 mm for 1 % of moisture", told.known(wood.movement_known_by)
        )
        rows.append((called, phrase(shrinks, moves)))
    return [*rows, ("Movement from", (f"{wood.shrink_source}; {wood.movement_source}",))]


def _wood(wood: Wood) -> Section:
    """One wood among those of its group."""

    def said(value: str, known_by: str | None, source: str) -> Phrase:
        further = "" if known_by == "memory" else source  # that it is remembered is said by the mark
        return phrase(value, told.known(known_by), f" ({further})" if further else "")

    rows: list[tuple[str, Phrase]] = [
        ("Pores", said(_PORES[wood.pores], wood.pores_known_by, wood.pores_source)),
        ("Texture", said(wood.texture, wood.texture_known_by, wood.texture_source)),
        ("Colour of the heartwood", said(wood.colour, wood.colour_known_by, wood.colour_source)),
        ("Weight against as much water, at 12 % moisture", (told.number(wood.gravity_12), *told.known(wood.strength_known_by))),
        ("Glues", said(plain(wood.bonding), wood.bonding_known_by, wood.bonding_source)),
        ("Blotches under stain", said(wood.blotch, wood.blotch_known_by, wood.blotch_source)),
    ]
    return Section(wood.name, (Facts((*rows, *_strength(wood), *_movement(wood))),), f"wood:{wood.id}")


def _wood_groups(stock: Stock) -> list[Page]:
    """The woods, a page for each group."""
    woods = sorted(stock.knowledge.woods.values(), key=lambda wood: wood.name)
    lead = Para(("Strength is of clear, straight-grained wood at 12 % moisture content: averages, never design values.",), "note")
    up = (UP, Link("Woods", "list:woods"))
    pages = []
    for group in sorted({wood.group for wood in woods}):
        blocks: tuple[Block, ...] = (lead, *(_wood(wood) for wood in woods if wood.group == group))
        title = f"Woods: {plain(group)}"
        pages.append(Page(f"woods:{group}", f"wood/{group}.html", title, "woods", blocks, up, (title,)))
    return pages


def _figures(entry: Adhesive | Finish, figure: str) -> Phrase:
    known: Mapping[str, str] | str = entry.known_by
    return told.known(known if isinstance(known, str) else known.get(figure))


def _grounds(stock: Stock, glue: Adhesive, says: str) -> Items | None:
    """Where something speaks in one way of a glue, and why."""
    return items(
        phrase(in_one_line(stock.knowledge, ground.when), ": ", ground.because) for ground in glue.grounds if ground.says == says
    )


def adhesive_page(stock: Stock, glue: Adhesive) -> Page:
    """The page of one glue."""
    knowledge = stock.knowledge
    undone = [plain(way) for way in glue.reversible]
    over = [plain(old) for old in glue.bonds_over]
    rows: list[tuple[str, Phrase]] = [
        (
            "Stays open",
            (span(*glue.working_min, "min") + f" at {told.number(glue.temp_c)} °C", *_figures(glue, "working_min")),
        ),
        ("In clamps", (span(*glue.clamp_min, "min"), *_figures(glue, "clamp_min"))),
        ("Fully hard after", (wait(glue.full_cure_h), *_figures(glue, "full_cure_h"))),
        ("Wood and room not under", (f"{told.number(glue.min_temp_c)} °C", *_figures(glue, "min_temp_c"))),
        ("Bridges a gap of", (f"{told.number(glue.gap_max_mm)} mm at most", *_figures(glue, "gap_max_mm"))),
        ("Against water", (glue.water_class, *_figures(glue, "water_class"))),
        ("Can be undone with", (*in_a_row(undone, last=" or "), *_figures(glue, "reversible")) if undone else ("nothing",)),
        (
            "Holds on old glue",
            (*in_a_row(over, last=" or "), *_figures(glue, "bonds_over")) if over else ("none: clean to bare wood",),
        ),
        ("Mixed from two parts", ("yes" if glue.two_part else "no",)),
    ]
    hazards = items(
        phrase(Link(knowledge.cautions[hazard].called, f"caution:{hazard}"), ": ", knowledge.cautions[hazard].do)
        for hazard in glue.hazards
    )
    blocks = present(
        Para(("The label on the bottle always wins over any figure here.",), "lead"),
        Facts(tuple(rows)),
        section("What speaks for it", _grounds(stock, glue, "for")),
        section("What speaks against it", _grounds(stock, glue, "against")),
        section("Where it is never used", _grounds(stock, glue, "never")),
        section("Cautions", hazards),
        told.sources(knowledge, glue),
    )
    up = (UP, Link("Adhesives", "list:adhesives"))
    names = (glue.name, first_up(plain(glue.id)))
    return Page(f"adhesive:{glue.id}", f"adhesive/{glue.id}.html", glue.name, "adhesive", blocks, up, names)


def finish_page(stock: Stock, finish: Finish) -> Page:
    """The page of one finish."""
    finishes = stock.knowledge.finishes
    never = [
        Link(finishes[name].name.lower(), f"finish:{name}") if name in finishes else plain(name) for name in finish.never_over
    ]
    rows: list[tuple[str, Phrase]] = [
        ("Coats", (span(*finish.coats, ""), *_figures(finish, "coats"))),
        ("Next coat after", (span(*finish.recoat_h, "h"), *_figures(finish, "recoat_h"))),
        ("Hard after", (wait(finish.hard_h), *_figures(finish, "hard_h"))),
        ("Never over", (*in_a_row(never, last=" or "), *_figures(finish, "never_over")) if never else ("nothing named",)),
    ]
    blocks = present(
        Para(("The label on the can always wins over any figure here.",), "lead"),
        section("How it is known", Para((finish.spot_test, *_figures(finish, "spot_test")))),
        section("How it is built up", Para((finish.build,))),
        Facts(tuple(rows)),
        section(
            "Cautions",
            items(
                phrase(
                    Link(stock.knowledge.cautions[hazard].called, f"caution:{hazard}"), ": ", stock.knowledge.cautions[hazard].do
                )
                for hazard in finish.hazards
            ),
        ),
        told.sources(stock.knowledge, finish),
    )
    up = (UP, Link("Finishes", "list:finishes"))
    return Page(f"finish:{finish.id}", f"finish/{finish.id}.html", finish.name, "finish", blocks, up, (finish.name,))


def _woods(stock: Stock) -> Page:
    rows = tuple(
        (
            (Link(wood.name, f"wood:{wood.id}"),),
            (plain(wood.group),),
            phrase(told.number(wood.mor_mpa), told.known(wood.strength_known_by)),
            phrase(told.number(round(100 * wood.coef_t, 2)), told.known(wood.movement_known_by)),
        )
        for wood in sorted(stock.knowledge.woods.values(), key=lambda wood: wood.name)
    )
    head = ("Wood", "Group", "Bending strength, MPa", "Flat-sawn: mm in 100 mm for 1 %")
    lead = Para(("Averages of clear wood. What was not read in print is marked beside the figure.",), "lead")
    return Page(
        "list:woods",
        "woods.html",
        "Woods",
        "list",
        (lead, Table("The woods, with strength and movement", head, rows)),
        (UP,),
        ("Woods, all",),
    )


def _adhesives(stock: Stock) -> Page:
    rows = tuple(
        (
            (Link(glue.name, f"adhesive:{glue.id}"),),
            (span(*glue.working_min, "min"), *_figures(glue, "working_min")),
            (f"{told.number(glue.gap_max_mm)} mm", *_figures(glue, "gap_max_mm")),
            in_a_row([plain(way) for way in glue.reversible], last=" or ") if glue.reversible else ("nothing",),
        )
        for glue in stock.knowledge.adhesives.values()
    )
    lead = Para(("What each glue forgives. The label on the bottle always wins.",), "lead")
    table = Table("The glues, by what they forgive", ("Glue", "Stays open", "Bridges", "Undone with"), rows)
    return Page("list:adhesives", "adhesives.html", "Adhesives", "list", (lead, table), (UP,), ("Adhesives, all", "Glues, all"))


def _finishes(stock: Stock) -> Page:
    rows = tuple(
        ((Link(one.name, f"finish:{one.id}"),), (one.spot_test,), (span(*one.recoat_h, "h"), *_figures(one, "recoat_h")))
        for one in stock.knowledge.finishes.values()
    )
    lead = Para(("How each is told from the others by a spot test where nobody sees it, after the wax is off.",), "lead")
    table = Table("The finishes and their spot tests", ("Finish", "Spot test", "Next coat after"), rows)
    return Page("list:finishes", "finishes.html", "Finishes", "list", (lead, table), (UP,), ("Finishes, all",))


def consumable_row(stock: Stock, one: Consumable) -> tuple[str, Phrase, Phrase]:
    """Something used up: what it costs until the shop says its own price, and where it goes."""
    low, likely, high = (told.number(price) for price in one.price)
    steps = [Link(step.called, f"step:{step.id}") for step in stock.knowledge.steps.values() if one.id in step.uses]
    said = phrase(f"Assumed price of one {one.unit}: {low} to {high}, likely {likely}, in the shop’s own currency. ")
    return f"consumable:{one.id}", (one.name,), phrase(said, "Used in: ", in_a_row(steps), ".") if steps else said


def material_pages(stock: Stock) -> list[Page]:
    """The lists of woods, adhesives, finishes and things used up, each with its pages."""
    knowledge = stock.knowledge
    used = Page(
        "list:consumables",
        "consumables.html",
        "Things used up",
        "list",
        present(
            Para(("Prices are our judgement until the shop’s own settings say better.",), "lead"),
            Entries(tuple(consumable_row(stock, one) for one in knowledge.consumables.values()))
            if knowledge.consumables
            else None,
        ),
        (UP,),
        ("Consumables",),
    )
    lists = [_woods(stock), _adhesives(stock), _finishes(stock), used]
    ways = Items(tuple((Link(page.title, page.ref),) for page in lists))
    lead = Para(("What furniture is made of, glued with and covered with.",), "lead")
    top = Page("list:materials", "materials.html", "Wood, glue and finish", "list", (lead, ways), names=("Materials",))
    return [
        top,
        *lists,
        *_wood_groups(stock),
        *(adhesive_page(stock, glue) for glue in knowledge.adhesives.values()),
        *(finish_page(stock, finish) for finish in knowledge.finishes.values()),
    ]
