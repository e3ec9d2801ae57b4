"""Letters to the owner. Plain words, no percentages, no blame; the answer and the range come first, what is unsafe now stands in a box."""

from collections.abc import Callable
from datetime import timedelta

from diagnose import words
from diagnose.assess import Assessment, DamageAssessment
from diagnose.decision.decide import Option
from diagnose.documents import md, plan_time, say

HOW_SURE = {
    "almost certain": "We are as good as certain of this.",
    "likely": "This is most likely what happened.",
    "quite possible": "This fits best with what we have seen so far; opening it will show.",
    "possible": "We cannot name the reason for certain yet; opening it will show.",
    "unlikely": "We cannot name the reason yet; opening it will show.",
}
OTHER_WAYS = 2
# Leaving it as it is stands among the ways even where no method of ours is called so.
LEFT_ALONE = "**You can leave it as it is.** That costs nothing; what is wrong stays, and may get worse."
SIGN_HERE = "Name, date and signature: ________________________________"
CARE_LINES = 3
TELLING_DB = 1.5
# At the door these leave nothing to price: the first three because we do not do it, the last because nothing is known of wet wood.
REFUSED = frozenset({words.Triage.DECLINE, words.Triage.STAYS_OUT, words.Triage.REFER})
NO_PRICE = REFUSED | {words.Triage.DRY_ONLY}
# What others take off may not go on again.
COVERED = frozenset({"caner", "upholsterer"})


def estimate(assessment: Assessment) -> str:
    """The estimate, before opening: one letter for the whole piece, as Markdown; where nothing can be priced, why not."""
    if assessment.triage in NO_PRICE or (assessment.damages and assessment.price is None):
        return _without_price(assessment)
    blocks = [
        _head(assessment, "Estimate for"),
        _answer(assessment),
        _unsafe_now(assessment),
        md.heading("What you told us, and what we found", 2),
        _told_and_found(assessment),
        md.heading("Why it failed", 2),
        *(_why(assessment, damage) for damage in assessment.damages),
        _what_rules_say(assessment),
        md.heading("What we would do", 2),
        _work(assessment),
        md.heading("Other ways", 2),
        _other_ways(assessment),
        md.heading("What we cannot know yet", 2),
        _unknown(assessment),
        md.heading("Using it afterwards", 2),
        _use(assessment),
        _others(assessment),
        md.heading("When", 2),
        _when(assessment),
        md.heading("Money", 2),
        _money(assessment),
        md.heading("What we stand for", 2),
        _term(assessment),
        md.heading("Care", 2),
        _care(assessment),
        _value(assessment),
        md.heading("What we ask of you", 2),
        _ask(assessment),
        _small_print(assessment),
    ]
    return md.join(*blocks)


def _without_price(assessment: Assessment) -> str:
    """The letter about a piece that we decline, refer, do not let in, only dry, cannot price yet or mend at no charge: no price in it."""
    refused = assessment.triage in REFUSED
    blocks = [
        _head(assessment, "About"),
        _answer(assessment),
        _unsafe_now(assessment),
        md.heading("What you told us, and what we found", 2),
        _told_and_found(assessment),
    ]
    if refused:
        done = "No work. It carries a tag that says why, and this letter goes with it."
        asked = [
            "I fetch it as it is" + (" and know that it is not to be used." if _unsafe_now(assessment) else "."),
            "Please ring me about who can help.",
        ]
    else:
        done, yes = _before_a_price(assessment)
        asked = [
            yes,
            "No, thank you. I fetch it as it is" + (" and know that it is not to be used." if _unsafe_now(assessment) else "."),
        ]
        if assessment.damages:
            blocks += [md.heading("Why it failed", 2), *(_why(assessment, damage) for damage in assessment.damages)]
            blocks.append(_what_rules_say(assessment))
    blocks += [
        md.heading("What we do to it", 2),
        done,
        _value(assessment),
        md.heading("What we ask of you", 2),
        md.ticks(asked),
        SIGN_HERE,
        _small_print(assessment),
    ]
    return md.join(*blocks)


def _before_a_price(assessment: Assessment) -> tuple[str, str]:
    """What is done while no price is told, and the yes that the owner can give to it."""
    if assessment.triage is words.Triage.DRY_ONLY:
        done = "Nothing yet. We take it in to dry, and for nothing else; then we look at it again and write to you with a price."
        return done, "Yes, please take it in to dry, and write to me with a price."
    if assessment.told.on_us:
        return _work(assessment), "Yes, please mend it again."
    done = "Nothing yet. We settle what is still open, then we write to you with a price."
    return done, "Yes, please look at it further, and write to me with a price."


def _what_rules_say(assessment: Assessment) -> str:
    """What an owner must hear of earlier work and its term, in the words of the findings."""
    told = [assessment.knowledge.findings[name].owner for name in assessment.findings]
    told = [text for text in told if text]
    return md.join(md.heading("What was mended before", 2), *told) if told else ""


FORMS: dict[str, Callable[[Assessment], str]] = {"estimate": estimate}


def _head(assessment: Assessment, title: str) -> str:
    shop, case = assessment.shop, assessment.case
    sender = ", ".join(part for part in (md.safe(shop.name), md.safe(shop.address), md.safe(shop.telephone)) if part)
    lines = [
        md.heading(
            f"{title} your {say.piece_name(assessment).lower() if not case.called else say.piece_name(assessment)}",
            1,
        ),
        sender,
        f"Number {md.safe(case.number) or '–'} · {say.long_date(assessment.today)}"
        + (f" · for {md.safe(case.owner)}" if case.owner else ""),
    ]
    return md.join(*lines)


def _advised(assessment: Assessment) -> list[str]:
    return list(dict.fromkeys(assessment.knowledge.methods[d.decision.method].owner for d in assessment.damages))


def _no_price_because(assessment: Assessment) -> str:
    if assessment.triage in (words.Triage.TAKE_IN, words.Triage.ISOLATE):
        return ""
    return " ".join(assessment.triage_because)


def _answer(assessment: Assessment) -> str:
    if assessment.triage in REFUSED:
        text = f"**We cannot take this on as it is.** {_no_price_because(assessment)}"
        return text + (f" Who can help: {'; '.join(assessment.refer_to)}." if assessment.refer_to else "")
    if not assessment.damages:
        return "**We found nothing that needs work.** It can be used as before."
    shop, price = assessment.shop, assessment.price
    advice = " ".join(_advised(assessment))
    if assessment.triage is words.Triage.DRY_ONLY:
        return f"**First it has to dry.** {_no_price_because(assessment)} We give a price when the wood is dry and steady."
    if price is None and assessment.told.on_us:
        return f"**There is nothing to pay.** {advice}"
    if price is None:
        return f"**We cannot name a price yet.** {' '.join(assessment.told.not_yet)}"
    if assessment.piece_decision == "retire_piece":
        return f"**{advice}** {_beyond(assessment)}"
    others = [d for d in assessment.damages if d.decision.by != "us"]
    note = " Part of the work is done by others; see below." if others else ""
    cover = assessment.told.cover
    if cover is not None:
        note += (
            f"\n\n**That is for the frame. What covers it has a price of its own: likely {shop.money(cover.likely)}, from "
            f"{shop.money(cover.low)} to {shop.money(cover.high)}.** It is agreed when the cover has been lifted, and the old one may not go back."
        )
    return (
        f"**{advice}**\n\n**Likely {shop.money(price.likely)}. It can end at {shop.money(price.low)} or at {shop.money(price.high)}.** "
        f"Above {shop.money(_limit(assessment))} we ring you before we go on.{note}"
    )


def _beyond(assessment: Assessment) -> str:
    """Both ways, when the piece is past sensible repair; what it is worth is never ours to say."""
    shop = assessment.shop
    mended = [
        next(
            (o for o in d.decision.options if o.decision in words.LADDER and o.verdict not in words.SET_ASIDE),
            None,
        )
        for d in assessment.damages
    ]
    if None in mended:
        return "There is no repair that we could answer for."
    likely = sum(option.price.likely for option in mended if option is not None)
    value = assessment.case.value
    told = f" You told us that it is worth about {shop.money(value)}." if value is not None else ""
    return f"To mend it safely would cost about {shop.money(likely)}.{told} What it is worth to you, only you can say; both ways stand below."


def _limit(assessment: Assessment) -> float:
    assert assessment.price is not None
    return round((assessment.price.likely + assessment.price.high) / 2 / 10) * 10


def _unsafe_now(assessment: Assessment) -> str:
    lines = []
    for damage in assessment.damages:
        consequence = next(iter(damage.facts.values.get("consequence", ())), None)
        if consequence in words.NOT_FOR_MONEY and damage.damage.kind in ("loose", "broken", "split"):
            lines.append(f"Do not use it as it is ({say.place_of(damage.damage)}): {words.CONSEQUENCES[consequence]}.")
    if not lines:
        return ""
    lines.append("Until it is mended: put no glue, tape, nail or filler in it, and keep every splinter in an envelope.")
    return md.box("Please note now", list(dict.fromkeys(lines)))


def _told_and_found(assessment: Assessment) -> str:
    case, knowledge = assessment.case, assessment.knowledge
    told = [f"“{md.safe(text)}”" for text in [case.owner_says, *(d.says for d in case.damages)] if text]
    found = []
    telling = _telling(assessment)
    for answers in [case.readings, *(d.readings for d in case.damages)]:
        for name, answer in answers.items():
            if answer.cannot_tell:
                continue
            sign = knowledge.signs[name]
            if answer.by != "owner" and name not in telling:
                continue
            line = f"{sign.ask} {say.first_up(say.reading_say(sign, answer))}."
            if answer.by == "owner":
                told.append(line)
            else:
                found.append(line + (" (not certain)" if answer.unsure else ""))
    slack = [say.plain(name) for name, state in case.joints.items() if state in words.SLACK_STATES]
    if slack:
        found.insert(0, f"These joints move or are open: {say.listed(slack)}.")
    unseen = list(
        dict.fromkeys(
            knowledge.signs[q.sign].ask or "" for d in assessment.damages for q in d.questions.ranked[:3] if q.value > 0.5
        )
    )[:4]
    blocks = [
        "*You told us*\n\n" + (md.bullets(told) or "- Nothing was written down.\n"),
        "*We saw, measured or tried*\n\n" + (md.bullets(found) or "- Nothing yet.\n"),
    ]
    if unseen and assessment.triage not in REFUSED:
        blocks.append("*Not looked at yet, because it needs time, the bench or an opened joint*\n\n" + md.bullets(unseen))
    return md.join(*blocks)


def _telling(assessment: Assessment) -> frozenset[str]:
    """The signs that bear on the answer: they moved a leading cause, or a rule fired on what they read."""
    names: set[str] = set()
    for damage in assessment.damages:
        leading = [name for name, _ in say.leading_causes(damage)]
        names.update(sign for sign, db in damage.weights.items() if any(abs(db[name]) >= TELLING_DB for name in leading))
        tokens = {token for trace in damage.deduction.traces for token in trace.because_of}
        names.update(token.partition("=")[0] for token in tokens)
    return frozenset(names)


def _why(assessment: Assessment, damage: DamageAssessment) -> str:
    knowledge = assessment.knowledge
    named = say.leading_causes(damage, floor=0.3, most=4)
    lines = [f"**{say.first_up(say.place_of(damage.damage))}**"] if len(assessment.damages) > 1 else []
    lines += [
        f"{title}: " + " ".join(knowledge.causes[name].owner for name, _ in group)
        for title, group in say.by_role(knowledge, named)
    ]
    if named:
        lines.append(HOW_SURE[words.certainty(named[0][1] if named else 0.0)])
    return "\n\n".join(lines)


def _work(assessment: Assessment) -> str:
    if not assessment.damages:
        return "Nothing."
    lines = []
    for damage in assessment.damages:
        method = assessment.knowledge.methods[damage.decision.method]
        place = f"{say.first_up(say.place_of(damage.damage))}: " if len(assessment.damages) > 1 else ""
        lines.append(f"{place}{method.owner} {method.stays_visible}")
    return md.bullets(dict.fromkeys(lines))


def _way(assessment: Assessment, option: Option) -> str:
    method = assessment.knowledge.methods[option.method]
    shop = assessment.shop
    text = f"**{method.owner}** From {shop.money(option.price.low)} to {shop.money(option.price.high)}. "
    if option.verdict is words.Verdict.RULED_OUT:
        because = _without_figures(option.because)
        return text + f"We do not offer this: {because}" + ("" if because.endswith(".") else ".")
    if option.verdict is words.Verdict.TIE:
        return text + "This is as good; it is a question of what matters to you."
    if option.method in _given_up(assessment):
        return text + "This gives the piece up for use; whether that is right only you can say."
    if option.chance_it_holds < 0.6:
        return text + "We do not advise it: what weakened the piece would be left, and it would likely come back."
    return text + "It would hold as well, but it costs more than it gains."


def _given_up(assessment: Assessment) -> frozenset[str]:
    """Methods after which nobody uses the piece any more."""
    methods = assessment.knowledge.methods.values()
    return frozenset(method.id for method in methods if method.end_use in ("show_only", "not_to_be_used"))


def _without_figures(because: str) -> str:
    """A reason as a letter gives it: strength in hundredths says nothing to an owner, what could happen does.

    >>> _without_figures("it leaves about 40% of the strength it was made with and needs at least 90%: somebody could fall")
    'it would be too weak, and somebody could fall'
    """
    _, _, could_happen = because.rpartition(": ")
    return f"it would be too weak, and {could_happen}" if "%" in because else because


def _other_ways(assessment: Assessment) -> str:
    lines = []
    for damage in assessment.damages:
        place = f"{say.first_up(say.place_of(damage.damage))}: " if len(assessment.damages) > 1 else ""
        others = [o for o in damage.decision.options if o.method != damage.decision.method]
        kept = {o.decision: o for o in reversed(others)}
        nothing, beyond = kept.pop("no_structural_work", None), kept.pop("retire_piece", None)
        usual = [o for o in others if kept.get(o.decision) is o and o.decision in words.LADDER][:OTHER_WAYS]
        lines += [f"{place}{_way(assessment, option)}" for option in [*usual, *filter(None, [nothing, beyond])]]
        if all(option.decision != "no_structural_work" for option in damage.decision.options):
            lines.append(f"{place}{LEFT_ALONE}")
    return md.bullets(dict.fromkeys(lines)) or "There is nothing to choose between."


def _unknown(assessment: Assessment) -> str:
    if assessment.price is None or not assessment.damages:
        return "Nothing that matters for the answer."
    if not _opens(assessment):
        return "Nothing is opened, so nothing is likely to change the price."
    limit = assessment.shop.money(_limit(assessment))
    return (
        "Half of what decides the work is inside the joints and under the finish. If we find more than we expect, we go on up to "
        f"{limit}. Above that we stop, tell you what we expected and what we found, and wait for your answer."
    )


def _opens(assessment: Assessment) -> bool:
    return any(planned.step.phase in ("take_apart", "glue") for planned in assessment.plan)


def _use(assessment: Assessment) -> str:
    worst = {"as_before": 0, "lighter": 1, "show_only": 2, "not_to_be_used": 3}
    use = max((d.decision.end_use for d in assessment.damages), key=lambda u: worst[u], default="as_before")
    told = {
        "as_before": "Use it as it was meant: sit on it with all its feet on the floor. Do not stand on it and do not tip it.",
        "lighter": "Use it more gently than before: not every day, not by heavy people, never for standing on.",
        "show_only": "It can be looked at, but nobody may sit on it or load it. It gets a tag that says so.",
        "not_to_be_used": "It must not be used any more. It gets a tag that says so.",
    }
    told["as_before"] = words.USE_OF.get(assessment.knowledge.pieces[assessment.case.piece].healthy_load, told["as_before"])
    mended = "The joints we glue will hold as well as they did when they were made. Other parts are as old as they were."
    return f"{told[use]} {mended}" if use in ("as_before", "lighter") and _opens(assessment) else told[use]


def _others(assessment: Assessment) -> str:
    """What others do, where others do something."""
    trades = sorted({d.decision.by for d in assessment.damages} - {"us"})
    if not trades:
        return ""
    lines = [
        f"Part of it is done by {words.BYS[trade]}. Their price is in the range above, is paid through us, and is only a guess "
        "until they have seen it." + (" What covers it now may not survive being taken off." if trade in COVERED else "")
        for trade in trades
    ]
    return md.join(md.heading("What others do", 2), md.bullets(lines))


def _when(assessment: Assessment) -> str:
    if assessment.price is None or not assessment.damages:
        return "It can go home today."
    when = plan_time.when(assessment)
    return f"Ready in {say.week_of(when.ready)}, if you answer this week. That depends on this: {'; '.join(when.depends_on)}."


def _money(assessment: Assessment) -> str:
    shop = assessment.shop
    until = assessment.today + timedelta(days=shop.estimate_valid_days)
    lines = [
        f"The price holds work, glue, fixings and finish. Taxes {'are' if shop.tax_share else 'are not'} added"
        + (f" ({shop.tax_share:.0%})." if shop.tax_share else "."),
        f"The offer stands until {say.long_date(until)}. We ask for {shop.deposit_share:.0%} when you say yes.",
        f"If it is not fetched {shop.storage_after_weeks} weeks after we tell you it is ready, storage costs "
        f"{shop.money(shop.storage_per_week)} a week.",
    ]
    if _opens(assessment):
        fee = shop.money(shop.look_see_fee)
        lines.insert(2, f"If you say no after we have opened it, we charge {fee} for looking, and it comes back as it is.")
    return md.bullets(lines)


def _term(assessment: Assessment) -> str:
    if not assessment.damages or all(d.decision.end_use in ("show_only", "not_to_be_used") for d in assessment.damages):
        return "Since nothing is put back into use, there is nothing to stand for. Your legal rights are untouched."
    return (
        f"For {assessment.shop.term_months} months we mend the places named above again free of charge if our work lets go. That does not cover "
        "other joints, new breaks, damp, or standing on it. Bring it or ring us; do not glue it yourself first. "
        "Your legal rights are untouched."
    )


def _care(assessment: Assessment) -> str:
    named = [name for damage in assessment.damages for name, _ in say.leading_causes(damage, floor=0.2)]
    lines = [assessment.knowledge.causes[name].prevents for name in dict.fromkeys(named)]
    return md.bullets([line for line in lines if line][:CARE_LINES]) or "Nothing special."


def _ask(assessment: Assessment) -> str:
    if not assessment.damages or assessment.price is None:
        return "Nothing. Thank you for bringing it."
    return md.join(
        md.ticks(
            [
                f"Yes, please do what you advise, up to {assessment.shop.money(_limit(assessment))}.",
                "No, thank you. I fetch it as it is"
                + (" and know that it is not to be used." if _unsafe_now(assessment) else "."),
                "Not yet. Please ring me again on: ______________",
            ]
        ),
        md.ticks(
            [
                "You may try the finish in a hidden place; it can leave a small mark.",
                "Please give me back the old parts.",
                "You may keep photographs for your records.",
            ]
        ),
        SIGN_HERE,
    )


def _value(assessment: Assessment) -> str:
    """Whose word the value is; nothing where none was given."""
    case = assessment.case
    if case.value is None:
        return ""
    whose = "you" if case.value_by == "owner" else md.safe(case.value_by)
    told = f"The value of {assessment.shop.money(case.value)} is what {whose} told us; we are not valuers."
    return md.join(md.heading("What it is worth", 2), told)


def _small_print(assessment: Assessment) -> str:
    call = f"Questions: {md.safe(assessment.shop.telephone)}. " if assessment.shop.telephone else ""
    return f"{call}{say.footer(assessment)}"
