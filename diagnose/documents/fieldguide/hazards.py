"""Hazard pages: what can hurt, what to do, on whose word, and what raises it."""

from diagnose.documents.fieldguide import told
from diagnose.documents.fieldguide.blocks import Box, Facts, Link, Page, Para, items, many, phrase, present, section
from diagnose.documents.fieldguide.conditions import lines_said
from diagnose.documents.fieldguide.rules import rules_named
from diagnose.documents.fieldguide.stock import Stock
from diagnose.documents.say import first_up, plain
from diagnose.rulebase.entries import Caution

UP = Link("Hazards", "list:hazards")


def hazard_page(stock: Stock, caution: Caution) -> Page:
    """The page of one hazard."""
    title = caution.called
    glues = [glue for glue in stock.knowledge.adhesives.values() if caution.id in glue.hazards]
    finishes = [finish for finish in stock.knowledge.finishes.values() if caution.id in finish.hazards]
    blocks = present(
        Para((caution.hazard,), "lead"),
        Box("What to do", (Para((caution.do,)),)),
        section("Where it can be met", lines_said(stock.knowledge, caution.when)),
        Facts((("On whose word", (first_up(plain(caution.authority)),)),)),
        section("Rules that raise it", rules_named(stock.rules_with("caution", caution.id))),
        section("Steps that carry it", many((Link(s.called, f"step:{s.id}"),) for s in stock.steps_with(caution.id))),
        section("Finishes that carry it", items((Link(one.name, f"finish:{one.id}"),) for one in finishes)),
        section("Glues that carry it", items((Link(glue.name, f"adhesive:{glue.id}"),) for glue in glues)),
        told.sources(stock.knowledge, caution),
    )
    return Page(
        f"caution:{caution.id}", f"caution/{caution.id}.html", title, "hazard", blocks, (UP,), (title,), (caution.hazard,)
    )


def hazard_list(stock: Stock) -> Page:
    """All hazards with what to do."""
    listed = items(phrase(Link(c.called, f"caution:{c.id}"), ": ", c.hazard) for c in stock.knowledge.cautions.values())
    lead = Para(("Chairs carry people, finishes poison, machines cut. When in doubt the safe way wins.",), "lead")
    return Page("list:hazards", "hazards.html", "Hazards", "list", present(lead, listed), names=("Hazards, all",))
