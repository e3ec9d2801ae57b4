"""The diagnosis, for the shop: what it is, how sure, what speaks for it, what is advised and why, what is still worth looking at."""

from collections.abc import Sequence

from diagnose import words
from diagnose.assess import Assessment, DamageAssessment
from diagnose.decision.sensitivity import STRENGTH_SAYS, Influence, Sensitivity, Side, sensitivity
from diagnose.documents import md, say
from diagnose.rulebase.knowledge import Knowledge

TOLD_DB = 0.5
SHOWN_OPEN = 8


def diagnosis(assessment: Assessment, explain: bool = False) -> str:
    """The diagnosis as Markdown. With `explain` the rules that fired, the sets of causes, the sources and what the advice hangs on too."""
    number = md.safe(assessment.case.number) or "no number"
    hangs_on = [sensitivity(damage.situation, damage.decision) for damage in assessment.damages]
    blocks = [
        md.heading(f"Diagnosis {number}: {say.piece_name(assessment)}", 1),
        _at_the_door(assessment),
        *(
            _damage(assessment, damage, of_damage, explain)
            for damage, of_damage in zip(assessment.damages, hangs_on, strict=True)
        ),
    ]
    if not assessment.damages:
        fit = "**No structural work; fit for its use as before.**" if assessment.triage is words.Triage.TAKE_IN else ""
        blocks.append(f"No damage is reported and none was found. {fit}".rstrip())
    blocks += [_money(assessment), _cautions(assessment), _assumptions(assessment, hangs_on), say.footer(assessment)]
    return md.join(*blocks)


def _at_the_door(assessment: Assessment) -> str:
    lines = [f"**At the door: {words.TRIAGE_SAY[assessment.triage]}.** {' '.join(assessment.triage_because)}".strip()]
    if assessment.refer_to:
        lines.append("Refer to: " + "; ".join(assessment.refer_to) + ".")
    count = assessment.moving
    if count is not None:
        lines.append(
            f"Joint map: {say.plain(count)} of {len(assessment.knowledge.pieces[assessment.case.piece].joints)} joints move."
        )
    elif assessment.damages:
        lines.append("Joint map: not finished; no price for one joint alone before the frame was tried.")
    lines.append(f"For the piece as a whole: **{words.CLASSES[assessment.piece_decision][0]}**.")
    return "\n\n".join(lines)


def _damage(assessment: Assessment, damage: DamageAssessment, of_damage: Sensitivity, explain: bool) -> str:
    knowledge = assessment.knowledge
    blocks = [md.heading(f"{say.first_up(say.place_of(damage.damage))} ({md.safe(damage.damage.id)})", 2)]
    if damage.damage.says:
        blocks.append(f"The owner says: “{md.safe(damage.damage.says)}”")
    blocks += [md.heading("Why it failed", 3), _causes(knowledge, damage)]
    if explain:
        blocks.append(_explanations(knowledge, damage))
    blocks.append(_conflict(knowledge, damage))
    if damage.deduction.findings:
        blocks += [md.heading("Findings", 3), _findings(knowledge, damage, explain)]
    blocks += [
        md.heading("What is advised", 3),
        _advice(assessment, damage),
        _options(assessment, damage),
        _flips(assessment, damage),
        _hangs_on(assessment, of_damage) if explain else "",
    ]
    blocks += [md.heading("Still worth looking at", 3), _next(assessment, damage)]
    return md.join(*blocks)


def _causes(knowledge: Knowledge, damage: DamageAssessment) -> str:
    named = say.leading_causes(damage, floor=0.1, most=6)
    lines = []
    for role, group in say.by_role(knowledge, named):
        lines.append(f"*{role}*\n")
        for name, probability in group:
            cause = knowledge.causes[name]
            text = f"**{cause.name}**: {words.rounded_percent(probability)}, {words.certainty(probability)}. {cause.explains}"
            lines.append(f"- {text}{_weights(knowledge, damage, name)}")
        lines.append("")
    lines.append(
        f"Something that is not listed here: {words.rounded_percent(damage.belief.something_else)}. "
        "Several causes can act at once, so the figures may add up to more than 100 %. "
        "Behind each answer stands how far it moved the odds: +3 dB doubles them, +10 dB makes them tenfold, a minus speaks against it."
    )
    return "\n".join(lines)


def _weights(knowledge: Knowledge, damage: DamageAssessment, cause: str) -> str:
    pairs = sorted(((db[cause], sign) for sign, db in damage.weights.items()), key=lambda pair: (-abs(pair[0]), pair[1]))
    speaks_for = [(value, sign) for value, sign in pairs if value >= TOLD_DB][:4]
    against = [(value, sign) for value, sign in pairs if value <= -TOLD_DB][:3]
    text = ""
    for title, group in (("For it", speaks_for), ("Against it", against)):
        if group:
            told = [f"{_answer(knowledge, damage, sign)} ({value:+.1f} dB)" for value, sign in group]
            text += f"\n    - {title}: {'; '.join(told)}."
    return text


def _answer(knowledge: Knowledge, damage: DamageAssessment, sign: str) -> str:
    entry = knowledge.signs[sign]
    asked = entry.ask or f"{entry.called}:"
    return f"{asked} {say.first_up(say.reading_say(entry, damage.facts.counted[sign]))}"


def _explanations(knowledge: Knowledge, damage: DamageAssessment) -> str:
    told = []
    for names, probability in damage.belief.explanations(6):
        text = say.listed([knowledge.causes[name].name for name in names]) if names else "something that is not listed here"
        told.append(f"{text}: {words.rounded_percent(probability)}")
    return "Taken together, the likeliest explanations:\n\n" + md.bullets(told)


def _conflict(knowledge: Knowledge, damage: DamageAssessment) -> str:
    if damage.conflict is None:
        return ""
    sign = knowledge.signs[damage.conflict.recheck]
    return (
        f"*The answers fit each other badly ({damage.conflict.bits:.1f} bits).* Look once more at this one, which would clear up most: "
        f"{sign.ask or sign.called}"
    )


def _findings(knowledge: Knowledge, damage: DamageAssessment, explain: bool) -> str:
    lines = []
    for finding in damage.deduction.findings:
        rules = damage.deduction.rules_for("finding", finding)
        lines.append(f"- {knowledge.findings[finding].say}")
        for rule_id in rules:
            rule = knowledge.logic[rule_id]
            because = f"    - {rule.because}"
            if explain:
                facts = next(trace.because_of for trace in damage.deduction.traces if trace.rule == rule_id)
                sources = "; ".join(say.source_say(knowledge, cite) for cite in rule.sources)
                because += f" [rule: {rule.called} (`{rule_id}`); facts {', '.join(f'`{fact}`' for fact in facts)}; {sources}]"
            lines.append(because)
    return "\n".join(lines)


def _advice(assessment: Assessment, damage: DamageAssessment) -> str:
    decision, knowledge = damage.decision, assessment.knowledge
    method = knowledge.methods[decision.method]
    text = (
        f"**{say.first_up(words.CLASSES[decision.decision][0])}: {method.name}.** {say.first_up(decision.because)}.\n\n"
        f"Extent: {words.EXTENTS[decision.extent]}. End use: {words.END_USES[decision.end_use]}. By: {words.BYS[decision.by]}. "
        f"When: {words.TIMINGS[decision.when]}."
    )
    if decision.tie:
        text += "\n\nThe methods marked *as good* cannot be told from it by cost; choose by what else counts."
    provided = say.provided(knowledge, decision.provided_that)
    if provided:
        text += "\n\nProvided that none of this is found:\n\n" + md.bullets(provided[:8])
    return text


def _options(assessment: Assessment, damage: DamageAssessment) -> str:
    rows = []
    open_ones = [o for o in damage.decision.options if o.verdict not in words.SET_ASIDE]
    shut = [o for o in damage.decision.options if o.verdict in words.SET_ASIDE]
    for option in [*open_ones[:SHOWN_OPEN], *shut]:
        method = assessment.knowledge.methods[option.method]
        ratio = "–" if option.strength_ratio is None else f"{option.strength_ratio:.0%}"
        rows.append(
            (
                method.name,
                words.VERDICT_SAY[option.verdict],
                f"{option.price.low:,.0f} – **{option.price.likely:,.0f}** – {option.price.high:,.0f}",
                words.rounded_percent(option.chance_it_holds),
                ratio,
                option.because,
            )
        )
    shown = {option.method for option in open_ones[:SHOWN_OPEN]}
    notes = [
        f"{assessment.knowledge.methods[name].name}: {'; '.join(warnings)}"
        for name, warnings in damage.strength.warnings.items()
        if name in shown
    ]
    head = (
        "method",
        "verdict",
        f"price, {assessment.shop.currency}",
        "it holds",
        "strength where it broke, of as made",
        "because",
    )
    covered = (
        "Each price holds what covers the joint as well, which is told apart below." if assessment.told.cover is not None else ""
    )
    return md.join(md.table(head, rows), covered, f"Of the strength figures:\n\n{md.bullets(notes)}" if notes else "")


def _flips(assessment: Assessment, damage: DamageAssessment) -> str:
    knowledge = assessment.knowledge
    if not damage.decision.flips:
        return "The advice is the same whatever the piece is worth."
    told = [
        f"above a value of {assessment.shop.money(flip.value)}: {knowledge.methods[flip.above].name.lower()} "
        f"(below it: {knowledge.methods[flip.below].name.lower()})"
        for flip in damage.decision.flips
    ]
    return "Where the advice would change with the value of the piece:\n\n" + md.bullets(told)


def _next(assessment: Assessment, damage: DamageAssessment) -> str:
    questions = damage.questions
    if not questions.ranked:
        return "Nothing is left to look at."
    rows = []
    changes = {gate.sign for gate in damage.decision.provided_that}
    for question in questions.ranked[:6]:
        sign = assessment.knowledge.signs[question.sign]
        note = "could change the advice" if question.sign in changes else ""
        rows.append((sign.ask or "", f"{question.value:.2f}", f"{question.minutes:.1f}", note))
    text = md.table(("look at", f"worth, {assessment.shop.currency}", "minutes", ""), rows)
    return f"{text}\nTime to stop: {questions.because}." if questions.stop else text


def _money(assessment: Assessment) -> str:
    told, shop = assessment.told, assessment.shop
    if told.not_yet:
        return md.join(md.heading("Price of the whole", 2), "**No price yet.** " + " ".join(told.not_yet))
    blocks = []
    if told.ours is not None:
        minutes = told.ours.minutes
        blocks.append(
            f"{say.first_up(say.price_range(shop, told.ours))}; {minutes[0]:.0f} to {minutes[2]:.0f} minutes of work, "
            f"likely {minutes[1]:.0f}. Steps shared by several damages are counted once."
        )
    if told.cover is not None:
        blocks.append(
            f"**Two prices, never one.** That was the frame, by us. What covers the joint has its own: {say.price_range(shop, told.cover)}; "
            "it is agreed once the cover has been lifted, and the old one may not go back."
        )
    if told.before_opening is not None:
        span, asks = (
            told.before_opening,
            [assessment.knowledge.signs[name].ask or assessment.knowledge.signs[name].called for name in told.settles],
        )
        blocks.append(
            f"Before opening: from {shop.money(span.low)} to {shop.money(span.high)}. Opening will settle it:\n\n{md.bullets(asks)}"
        )
    if told.of_set is not None and told.ours is not None:
        count = assessment.case.count
        each = told.of_set.likely / count
        blocks.append(
            f"All {count} together: {say.price_range(shop, told.of_set)}, likely {shop.money(each)} each; one done by itself is likely "
            f"{shop.money(told.ours.likely)}. Each further one is taken to need {shop.further_piece_share:.0%} of the minutes of the first."
        )
    if told.on_us:
        places = [say.place_of(d.damage) for d in assessment.damages if d.damage.id in told.on_us]
        blocks.append(f"At no charge, as our own work that let go inside its term: {say.listed(places)}.")
    return md.join(md.heading("Price of the whole", 2), *blocks) if blocks else ""


def _cautions(assessment: Assessment) -> str:
    if not assessment.cautions:
        return ""
    entries = [assessment.knowledge.cautions[name] for name in assessment.cautions]
    told = [f"**{entry.hazard}** {entry.do} ({say.plain(entry.authority)})" for entry in entries]
    return md.join(md.heading("Cautions", 2), md.bullets(told))


def _assumptions(assessment: Assessment, hangs_on: Sequence[Sensitivity]) -> str:
    effects = _effects(assessment, hangs_on)
    assumed = [f"{text}{effects.get(text, '')}" for text in assessment.assumptions]
    shop = assessment.shop.assumed()
    if shop:
        assumed.append("of the shop, not set and so assumed: " + ", ".join(say.plain(name) for name in shop))
    return md.join(md.heading("Assumed", 2), md.bullets(assumed)) if assumed else ""


def _effects(assessment: Assessment, hangs_on: Sequence[Sensitivity]) -> dict[str, str]:
    """What each assumption about strength does to the advice when it is halved or doubled."""
    found: dict[str, str] = {}
    for damage, of_damage in zip(assessment.damages, hangs_on, strict=True):
        by_name = {influence.name: influence for influence in of_damage.strength}
        for quantity, note in damage.strength.assumed.items():
            turned = _turned(assessment, by_name[STRENGTH_SAYS[quantity]])
            if turned or note not in found:
                found[note] = f" ({'; '.join(turned)})" if turned else " (halved or doubled, the advice stays)"
    return found


def _turned(assessment: Assessment, influence: Influence) -> list[str]:
    told = []
    for word, side in (("halved", influence.low), ("doubled", influence.high)):
        if side.instead is not None:
            told.append(f"{word}, the advice would be: {assessment.knowledge.methods[side.instead].name.lower()}")
        elif side.lead is None:
            told.append(f"{word}, nothing would be left to advise")
    return told


def _hangs_on(assessment: Assessment, of_damage: Sensitivity) -> str:
    """The ten inputs that the advice hangs on most, each halved and doubled."""
    if of_damage.runner_up is None or not of_damage.influences:
        return ""
    knowledge, shop = assessment.knowledge, assessment.shop

    def then(side: Side) -> str:
        lead = "ruled out" if side.lead is None else f"{side.lead:+,.0f}"
        return lead if side.instead is None else f"{lead}: {knowledge.methods[side.instead].name.lower()}"

    rows = [
        (
            influence.name + (" (assumed)" if influence.assumed else ""),
            f"{influence.number:,.3g}" if influence.number < 1000 else f"{influence.number:,.0f}",
            then(influence.low),
            then(influence.high),
        )
        for influence in of_damage.leading
    ]
    return md.join(
        md.heading("What the advice hangs on", 3),
        f"Advised: {knowledge.methods[of_damage.advised].name.lower()}. Next best: "
        f"{knowledge.methods[of_damage.runner_up].name.lower()}, expected to cost {shop.money(of_damage.lead)} more. Each input halved "
        "and doubled, the others as they are, and how much more the next best then costs; where the advice changes, what to.",
        md.table(("input", "now", f"halved, {shop.currency}", f"doubled, {shop.currency}"), rows),
    )
