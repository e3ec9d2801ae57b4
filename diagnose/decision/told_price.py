"""What may be said of the price: none yet, one for the frame, another for what covers it, one for a set; and the range before opening."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from diagnose.case.case import Case
from diagnose.decision.cost import Price, cover_trades, free_of_minimum, price_of, tight_joints_parted
from diagnose.planning.compose import Wish, gather
from diagnose.reasoning.deduce import Deduction
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop


@dataclass(frozen=True)
class ToldPrice:
    """Prices in the shop's currency, rounded as the shop rounds.

    `ours` is for our work on one piece (None where none may be told, and then `not_yet` says why, or `on_us` names the damages
    that we mend at no charge); `cover` for what lies over the joint, never added to it; `of_set` for our work on the whole set.
    `before_opening` spans what opening may lead to, and `settles` names the signs that will decide it.
    """

    ours: Price | None = None
    cover: Price | None = None
    of_set: Price | None = None
    not_yet: tuple[str, ...] = ()
    on_us: tuple[str, ...] = ()
    before_opening: Price | None = None
    settles: tuple[str, ...] = ()


def tight_together(knowledge: Knowledge, case: Case, wishes: Sequence[Wish]) -> float:
    """How many tight joints all wishes part: those of one part, or of the whole frame, once."""
    parted: dict[str | None, float] = {}
    for wish in wishes:
        place = wish.damage.part if wish.method.extent == "joint" else wish.method.extent
        joints = tight_joints_parted(knowledge, case, wish.damage, wish.method)
        parted[place] = max(parted.get(place, 0.0), joints)
    return sum(parted.values())


def whole_price(knowledge: Knowledge, shop: Shop, case: Case, wishes: Sequence[Wish], pieces: int = 1) -> Price:
    """All that the wishes cost together, cover and outside work in it, shared steps paid once: what the decision weighs."""
    steps = gather(knowledge, case, wishes)
    trades = {*(wish.method.by for wish in wishes), *_covers(knowledge, wishes)}
    return price_of(knowledge, shop, steps, trades, tight_together(knowledge, case, wishes), pieces)


def _covers(knowledge: Knowledge, wishes: Sequence[Wish]) -> set[str]:
    return {trade for wish in wishes for trade in cover_trades(knowledge, wish.method, wish.deduction)}


def our_price(knowledge: Knowledge, shop: Shop, case: Case, wishes: Sequence[Wish], pieces: int = 1) -> Price:
    """The same without the steps and trades of what covers the joint."""
    steps = [planned for planned in gather(knowledge, case, wishes) if planned.step.trade == "us"]
    trades = {wish.method.by for wish in wishes}
    return price_of(knowledge, shop, steps, trades, tight_together(knowledge, case, wishes), pieces).rounded(shop.round_to)


def cover_price(knowledge: Knowledge, shop: Shop, case: Case, wishes: Sequence[Wish]) -> Price | None:
    """What taking the cover off, its trade, and putting it back cost; None where nothing covers the joint."""
    steps = [planned for planned in gather(knowledge, case, wishes) if planned.step.trade != "us"]
    trades = _covers(knowledge, wishes)
    return price_of(knowledge, free_of_minimum(shop), steps, trades).rounded(shop.round_to) if steps or trades else None


def pricing(knowledge: Knowledge, deductions: Sequence[Deduction], kind: str) -> tuple[str, ...]:
    """Why a price is told in a way of its own: the grounds of the rules that gave a finding of this kind."""
    return tuple(
        dict.fromkeys(
            knowledge.logic[rule].because
            for deduction in deductions
            for finding in deduction.findings
            if knowledge.findings[finding].price == kind
            for rule in deduction.rules_for("finding", finding)
        )
    )


def told_price(
    knowledge: Knowledge,
    shop: Shop,
    case: Case,
    wishes: Sequence[Wish],
    others: Mapping[str, Sequence[str]],
    settles: Sequence[str],
) -> ToldPrice:
    """What may be said of the price of these wishes. `others` are the methods that opening could lead to, by damage."""
    not_yet = pricing(knowledge, [wish.deduction for wish in wishes], "not_yet")
    if not wishes or not_yet:
        return ToldPrice(not_yet=not_yet)
    on_us = tuple(wish.damage.id for wish in wishes if pricing(knowledge, [wish.deduction], "ours"))
    paid = [wish for wish in wishes if wish.damage.id not in on_us]
    if not paid:
        return ToldPrice(on_us=on_us)
    prices = [our_price(knowledge, shop, case, paid)]
    for wish in paid:
        for name in others.get(wish.damage.id, ()):
            changed = Wish(wish.damage, knowledge.methods[name], wish.deduction, wish.facts)
            prices.append(our_price(knowledge, shop, case, [changed if other is wish else other for other in paid]))
    span = Price(min(p.low for p in prices), prices[0].likely, max(p.high for p in prices))
    return ToldPrice(
        ours=prices[0],
        cover=cover_price(knowledge, shop, case, paid),
        of_set=our_price(knowledge, shop, case, paid, case.count) if case.count > 1 else None,
        on_us=on_us,
        before_opening=span if len(prices) > 1 else None,
        settles=tuple(settles) if len(prices) > 1 else (),
    )
