"""Method pages: when, when not, the steps with minutes and hold points, the clock, what makes it fail again."""

from collections.abc import Iterable
from dataclasses import replace

from diagnose import words
from diagnose.documents.fieldguide import told
from diagnose.documents.fieldguide.blocks import (
    Block,
    Box,
    Facts,
    Items,
    Link,
    Page,
    Para,
    Phrase,
    Section,
    Table,
    Tag,
    in_a_row,
    items,
    many,
    phrase,
    section,
)
from diagnose.documents.fieldguide.causes import treats_said
from diagnose.documents.fieldguide.conditions import lines_said
from diagnose.documents.fieldguide.glueup import never_here, work_of, worked
from diagnose.documents.fieldguide.rules import PROTECTS
from diagnose.documents.fieldguide.stock import Stock
from diagnose.documents.say import first_up, plain, wait
from diagnose.planning.compose import in_order
from diagnose.rulebase.entries import Method, Rule, Step
from diagnose.rulebase.knowledge import Knowledge

UP = Link("Methods", "list:methods")
# Glues that are listed against the clock, those with most time to spare.
MOST_GLUES = 5
# A wait from here on is told in whole hours.
WHOLE_HOURS = 2.0


def ordered_steps(stock: Stock, method: Method) -> list[Step]:
    """The steps of a method, each after what it needs."""
    steps = {name: stock.knowledge.steps[name] for name in stock.knowledge.steps if name in method.steps}
    return [steps[name] for name in in_order(steps, stock.knowledge.steps)]


def _facts(stock: Stock, method: Method, steps: list[Step]) -> Facts:
    low, likely, high = (sum(step.minutes[place] for step in steps) for place in range(3))
    waits = sum(step.wait_hours for step in steps)
    kept = stock.knowledge.scale.keeps[method.keeps]
    rows: list[tuple[str, Phrase]] = [
        ("Kind of answer", (Link(first_up(words.CLASSES[method.decision][0]), f"class:{method.decision}"),)),
        ("Reaches", (words.EXTENTS[method.extent],)),
        ("Use afterwards", (words.END_USES[method.end_use],)),
        ("Done by", (words.BYS[method.by],)),
        ("To be done", (words.TIMINGS[method.timing],)),
        ("Work", (f"{told.work(low)} to {told.work(high)}, likely {told.work(likely)}, with every step done once",)),
        ("Waiting in it", (wait(round(waits) if waits >= WHOLE_HOURS else waits) if waits else "none",)),
        ("Value kept", (f"{plain(method.keeps)} ({kept:.0%})".replace("%", " %"),)),
        ("Seen afterwards", (method.stays_visible,)),
    ]
    if method.needs:
        rows.append(("Needs", in_a_row([plain(need) for need in method.needs], last=" and ")))
    return Facts(tuple(rows))


def _forbidding(stock: Stock, method: Method) -> tuple[list[Rule], list[Rule], list[Rule]]:
    """Rules that forbid the method by name, those that forbid all of its class, and those that forbid what leaves too little strength."""
    by_name, by_class, by_strength = [], [], []
    for rule in stock.knowledge.logic.values():
        kinds = {effect.kind for effect in rule.then if effect.target in (method.id, method.decision)}
        if "forbid_method" in kinds:
            by_name.append(rule)
        elif "forbid_class" in kinds:
            by_class.append(rule)
        elif method.strength != words.STRENGTH_MODELS[0] and any(effect.kind == "forbid_whose" for effect in rule.then):
            by_strength.append(rule)
    return by_name, by_class, by_strength


def _reasons(stock: Stock, rules: Iterable[Rule]) -> Items | None:
    """Rules, each with its reason in its own words and on whose word it stands."""
    return items(
        phrase(
            Link(rule.called, f"rule:{rule.id}"),
            f": {rule.because}",
            told.on_whose_word(stock.knowledge, rule.sources),
        )
        for rule in rules
    )


def _when_not(stock: Stock, method: Method) -> Section | None:
    """What closes the method by itself, then every rule that forbids it: those that name it with their reasons, then by name alone those
    for all of its class, whose reasons would stand on every page of it."""
    by_name, by_class, by_strength = _forbidding(stock, method)
    gates = lines_said(stock.knowledge, method.unless, any_closes=True)
    blocks: list[Block | None] = [Para(("Not offered where any of this is so:",)), gates] if gates is not None else []
    if by_name or by_class or by_strength:
        lead = (
            "The rules below forbid it. Where one says why, it also says on what kind of source it stands, common practice where none is "
            "named. The name of a rule leads to its reason and to exactly when it holds."
        )
        blocks.append(Para((lead,), "note"))
    for protects, title in PROTECTS.items():
        blocks.append(section(title, _reasons(stock, (rule for rule in by_name if rule.protects == protects))))
    order = list(PROTECTS)
    of_its_kind = sorted(by_class, key=lambda rule: order.index(rule.protects))
    title = f"With everything that would {words.CLASSES[method.decision][1]}"
    blocks.append(section(title, items(phrase(Link(rule.called, f"rule:{rule.id}")) for rule in of_its_kind)))
    title = "Where the sums say that it would leave too little strength"
    return section("When not", *blocks, section(title, _reasons(stock, by_strength)))


def _step_said(stock: Stock, step: Step) -> Phrase:
    text = phrase(Link(step.called, f"step:{step.id}"), f" ({told.minutes(step.minutes)}")
    if step.then is not None and step.per != "piece":
        text = phrase(text, f"; each further one {told.minutes(step.then)}")
    if step.wait_hours:
        text = phrase(text, f"; then wait {wait(step.wait_hours)}")
    text = phrase(text, ")")
    if not step.undo:
        text = phrase(text, " ", Tag("no way back", "hold"))
    if step.check is not None:
        text = phrase(text, " ", told.hold_point(stock.knowledge, step))
    return text


def _steps(stock: Stock, steps: list[Step]) -> Section | None:
    phases: dict[str, list[Step]] = {}
    for step in steps:
        phases.setdefault(step.phase, []).append(step)
    parts = []
    done = 0
    for phase, found in phases.items():
        said = tuple(_step_said(stock, step) for step in found)
        parts.append(Section(words.PHASES[phase], (Items(said, numbered=True, start=done + 1),)))
        done += len(found)
    lead = Para(("Minutes are for the first of each: lowest to highest, and likely. They are our judgement.",), "note")
    return section("Steps", lead, *parts) if parts else None


def _cautions(stock: Stock, steps: list[Step]) -> Section | None:
    hazards = dict.fromkeys(hazard for step in steps for hazard in step.hazards)
    cautions = [stock.knowledge.cautions[hazard] for hazard in hazards]
    listed = items(phrase(Link(c.called, f"caution:{c.id}"), ": ", c.brief or c.do) for c in cautions)
    return section("Cautions", Box("Before you begin", (listed,)) if listed else None)


def _clock(stock: Stock, method: Method, steps: list[Step]) -> Section | None:
    knowledge = stock.knowledge
    work = work_of(steps, knowledge.consumables, method.extent != "joint")
    if work is None:
        return None
    asked_for = [glue for glue in knowledge.adhesives.values() if method.id in glue.methods]
    barred = (
        [] if asked_for else [(glue, ground) for glue in knowledge.adhesives.values() if (ground := never_here(glue, method))]
    )
    out = {glue.id for glue, _ in barred}
    clocks = [worked(work, glue) for glue in asked_for or knowledge.adhesives.values() if glue.id not in out]
    clocks.sort(key=lambda one: (one.spare < 0, one.closings, -one.spare, one.adhesive.name))
    lines = "one glue line" if work.lines == 1 else f"{work.lines} glue lines, each closed by itself"
    lead = (
        f"Worked for {lines}, with one pair of hands: about {told.number(round(work.minutes, 1))} min from the first spread until all is "
        "closed and square, against the longest time that a glue stays open. The label on the bottle wins, and warm wood or dry air "
        "shortens it. This is about time alone; what else speaks for a glue stands on its own page."
    )
    rows: list[tuple[Phrase, ...]] = []
    short = [one.adhesive for one in clocks if one.spare < 0]
    for one in clocks:
        if one.spare < 0 or len(rows) == MOST_GLUES:
            break
        known = told.known(one.adhesive.known_by.get("working_min"))
        verdict = "one closing" if one.closings == 1 else f"{one.closings} closings"
        rows.append(
            (
                (Link(one.adhesive.name, f"adhesive:{one.adhesive.id}"),),
                phrase(f"{told.number(one.adhesive.working_min[1])} min at {told.number(one.adhesive.temp_c)} °C", known),
                (verdict,),
                (f"{told.number(round(one.spare, 1))} min",),
            )
        )
    table = Table("The glue-up against the clock", ("Glue", "Stays open at most", "Done in", "Left to spare"), tuple(rows))
    too_short = in_a_row([Link(glue.name, f"adhesive:{glue.id}") for glue in short])
    left_out = [phrase(Link(glue.name, f"adhesive:{glue.id}"), f", since {ground.because}") for glue, ground in barred]
    return section(
        "The glue-up clock, worked",
        Para((lead,)),
        table if rows else Para(("No glue stays open so long: rehearse until it is quicker, or close it in parts.",)),
        Para(phrase("Too short for it: ", too_short, ".")) if short else None,
        Para(phrase("Left out: ", in_a_row(left_out, between="; "), ".")) if left_out else None,
    )


def _treats(stock: Stock, method: Method) -> Section:
    """The causes by how far it treats them; a family that it treats as a whole is one line."""
    by_word: dict[str, list[Link]] = {}
    for family in words.FAMILIES:
        if family in method.treats:
            said = f"all else that is of the family “{plain(family)}”"
            by_word.setdefault(method.treats[family], []).append(Link(said, f"family:{family}"))
    for cause in sorted(stock.knowledge.causes.values(), key=lambda cause: cause.name):
        if cause.id in method.treats:
            by_word.setdefault(method.treats[cause.id], []).append(Link(cause.name, f"cause:{cause.id}"))
    order = sorted(by_word, key=lambda word: stock.knowledge.scale.treats[word])
    parts = [section(treats_said(stock, word), many((cause,) for cause in by_word[word])) for word in order]
    none = Para(("None: it is an answer where nothing is to be treated by us.",))
    return section("Which causes it treats", *parts) or Section("Which causes it treats", (none,))


def _known(knowledge: Knowledge, method: Method) -> Para | None:
    if not method.only_if_known:
        return None
    named = [
        Link(knowledge.signs[name].called, f"sign:{name}") if name in knowledge.signs else f"the {plain(name)}"
        for name in method.only_if_known
    ]
    return Para(phrase("What is said above of these counts only once it is known: ", in_a_row(named, between="; "), "."))


def method_page(stock: Stock, method: Method) -> Page:
    """The page of one method. It is long, so a line at its head leads to its sections."""
    knowledge = stock.knowledge
    steps = ordered_steps(stock, method)
    parts = (
        section(
            "When", lines_said(knowledge, method.when) or Para(("Whatever the piece and the damage.",)), _known(knowledge, method)
        ),
        _when_not(stock, method),
        _steps(stock, steps),
        _cautions(stock, steps),
        _clock(stock, method, steps),
        _treats(stock, method),
        section("What makes it fail again", items((text,) for text in method.fails_again_if)),
        told.sources(knowledge, method),
    )
    placed = [replace(part, ref=f"on:{method.id}.s{number}") for number, part in enumerate(parts, start=1) if part is not None]
    jump = in_a_row([Link(part.title, part.ref) for part in placed], between=" · ")
    head = (Para((method.owner,), "lead"), _facts(stock, method, steps), Para(phrase("On this page: ", jump), "jump"))
    names = (method.name, first_up(plain(method.id)))
    return Page(
        f"method:{method.id}", f"method/{method.id}.html", method.name, "method", (*head, *placed), (UP,), names, (method.owner,)
    )


def method_list(stock: Stock) -> Page:
    """All methods, by decision class."""
    found = []
    for name, (called, to_owner) in words.CLASSES.items():
        listed = items(
            (Link(method.name, f"method:{method.id}"),) for method in stock.knowledge.methods.values() if method.decision == name
        )
        if listed is not None:
            found.append(Section(first_up(called), (Para((f"To the owner: {to_owner}.",), "note"), listed), ref=f"class:{name}"))
    lead = Para(("Every way to repair that we know, from glue to a new part, and the ways of not repairing.",), "lead")
    return Page("list:methods", "methods.html", "Methods", "list", (lead, *found), names=("Methods, all",))
