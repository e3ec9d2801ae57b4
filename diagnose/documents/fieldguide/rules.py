"""Rules and findings: what follows from what, and why."""

from collections.abc import Iterable

from diagnose.documents.fieldguide import told
from diagnose.documents.fieldguide.blocks import (
    Entries,
    Items,
    Link,
    Page,
    Para,
    Phrase,
    Section,
    contents,
    in_a_row,
    items,
    phrase,
    present,
)
from diagnose.documents.fieldguide.conditions import lines_said
from diagnose.documents.fieldguide.stock import Stock
from diagnose.rulebase.entries import Effect, Finding, Rule
from diagnose.rulebase.knowledge import Knowledge
from diagnose.words import CLASSES, TRIAGE_SAY, Triage

# What a rule may protect, in the order in which it is listed, and its heading.
PROTECTS = {
    "safety": "Rules that protect people",
    "law": "Rules that keep the law",
    "period": "Rules that protect old work",
    "bond": "Rules that protect the bond",
    "strength": "Rules that protect strength",
    "value": "Rules that protect value",
    "warranty": "Rules that protect our word",
}
_STRENGTH = {"short": "leaves too little strength", "ample": "leaves ample strength"}


def effect_said(knowledge: Knowledge, effect: Effect) -> Phrase:
    """One effect in words."""
    target = effect.target
    if effect.kind == "finding":
        return ("we conclude: ", Link(knowledge.findings[target].say.rstrip("."), f"finding:{target}"))
    if effect.kind == "require":
        return ("the plan must hold the step ", Link(knowledge.steps[target].called, f"step:{target}"))
    if effect.kind == "forbid_method":
        return ("forbidden: ", Link(knowledge.methods[target].name, f"method:{target}"))
    if effect.kind == "forbid_class":
        return (f"forbidden: every method of the class “{CLASSES[target][0]}”",)
    if effect.kind == "forbid_whose":
        return (f"forbidden: any method that {_STRENGTH[target]}",)
    if effect.kind == "caution":
        return ("beware: ", Link(knowledge.cautions[target].called, f"caution:{target}"))
    if effect.kind == "triage":
        return (f"at the door: {TRIAGE_SAY[Triage(target)]}",)
    if effect.kind == "refer":
        return (f"send to {target}",)
    return ("ask first: ", Link(knowledge.signs[target].ask or knowledge.signs[target].called, f"sign:{target}"))


def rule_section(stock: Stock, rule: Rule) -> Section:
    """A rule, whole."""
    knowledge = stock.knowledge
    return Section(
        rule.called,
        present(
            Para(("When all of this holds:" if len(rule.when.lines) + len(rule.when.branches) > 1 else "When this holds:",)),
            lines_said(knowledge, rule.when),
            Para(("And none of this:",)) if rule.unless else None,
            lines_said(knowledge, rule.unless, any_closes=True),
            Para(("Then:",)),
            Items(tuple(effect_said(knowledge, effect) for effect in rule.then)),
            Para(phrase("Because: ", rule.because, told.in_brackets(knowledge, rule.sources))),
        ),
        ref=f"rule:{rule.id}",
    )


def rule_pages(stock: Stock) -> list[Page]:
    """One page for each thing that rules protect, and the list of them."""
    rules = stock.knowledge.logic.values()
    found = []
    for protects, title in PROTECTS.items():
        listed = [rule_section(stock, rule) for rule in rules if rule.protects == protects]
        path = f"rules/{protects}.html"
        found.append(
            Page(
                f"rules:{protects}",
                path,
                title,
                "rules",
                (contents(listed), *listed),
                up=(Link("Rules", "list:rules"),),
                names=(title,),
            )
        )
    lead = Para(
        (
            "A rule says what must follow when certain things are seen. Rules never change how likely a cause is: they forbid, "
            "require, warn, and say who must look. A ban beats a requirement, and a requirement beats a method’s own steps.",
        ),
        "lead",
    )
    ways = Items(tuple((Link(page.title, page.ref), f": {len(page.blocks) - 1}") for page in found))
    further = Para((Link("What the rules conclude", "list:findings"),))
    return [Page("list:rules", "rules.html", "Rules", "list", (lead, ways, further), names=("Rules, all",)), *found]


def finding_rows(stock: Stock, finding: Finding) -> tuple[str, Phrase, Phrase]:
    """A finding with the rules that conclude it and those that build on it."""
    by = [Link(rule.called, f"rule:{rule.id}") for rule in stock.rules_with("finding", finding.id)]
    said = phrase("Concluded by: ", in_a_row(by) if by else "no rule yet", ". ")
    used = [
        Link(rule.called, f"rule:{rule.id}")
        for rule in stock.knowledge.logic.values()
        if any(finding.id in line.values for line in (*rule.when.all_lines(), *rule.unless.all_lines()) if line.key == "finding")
    ]
    if used:
        said = phrase(said, "Built on by: ", in_a_row(used), ".")
    return f"finding:{finding.id}", (finding.say,), said


def finding_page(stock: Stock) -> Page:
    """All findings."""
    lead = Para(
        ("What rules conclude from readings. A finding steers words, requirements and bans, never the belief in a cause.",),
        "lead",
    )
    rows = tuple(finding_rows(stock, finding) for finding in stock.knowledge.findings.values())
    return Page(
        "list:findings",
        "findings.html",
        "What the rules conclude",
        "list",
        present(lead, Entries(rows) if rows else None),
        up=(Link("Rules", "list:rules"),),
        names=("Findings",),
    )


def rules_named(rules: Iterable[Rule]) -> Items | None:
    """Rules with their reasons, each a link to the whole of it."""
    return items(phrase(Link(rule.called, f"rule:{rule.id}"), ": ", rule.because) for rule in rules)
