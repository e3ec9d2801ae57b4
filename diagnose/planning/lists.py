"""What is laid ready and what is kept: tools, things used up, parts to buy, photographs, evidence, the line left inside the piece."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil

from diagnose.planning.compose import PlannedStep
from diagnose.rulebase.entries import Consumable
from diagnose.rulebase.knowledge import Knowledge


@dataclass(frozen=True)
class Used:
    """One thing used up: how much the steps use, how much is laid ready, and the numbers of the steps (1 first)."""

    thing: Consumable
    used: float
    ready: float
    steps: tuple[int, ...]


@dataclass(frozen=True)
class Bought:
    """One thing that must be in hand before the piece is opened: laid ready how much, in the rack, or days to get it from and to."""

    used: Used
    in_rack: bool
    days: tuple[float, float]


def tools(plan: Sequence[PlannedStep]) -> tuple[str, ...]:
    """Every tool once, in the order of the alphabet."""
    return tuple(sorted({tool for planned in plan for tool in planned.step.tools}))


def used_up(knowledge: Knowledge, plan: Sequence[PlannedStep]) -> tuple[Used, ...]:
    """Everything used up, by name, with its allowance; of what is counted only whole ones."""
    amounts: dict[str, float] = {}
    steps: dict[str, list[int]] = {}
    for number, planned in enumerate(plan, start=1):
        for name, quantity in planned.step.uses.items():
            amounts[name] = amounts.get(name, 0.0) + quantity * planned.count
            steps.setdefault(name, []).append(number)
    return tuple(_used(knowledge.consumables[name], amount, steps[name]) for name, amount in sorted(amounts.items()))


def _used(thing: Consumable, amount: float, steps: Iterable[int]) -> Used:
    ready = amount * (1.0 + thing.over)
    return Used(thing, amount, float(ceil(ready - 1e-9)) if thing.counted else ready, tuple(steps))


def to_buy(used: Iterable[Used], in_rack: Iterable[str] = ()) -> tuple[Bought, ...]:
    """What must be in hand first; `in_rack` are the things the shop says it has."""
    rack = set(in_rack)
    return tuple(Bought(one, one.thing.id in rack, one.thing.buy_days) for one in used if one.thing.buy_days is not None)


def to_get(bought: Iterable[Bought]) -> dict[int, float]:
    """Days until what a step uses is here at the latest, by the number of the step; what is in the rack is left out."""
    found: dict[int, float] = {}
    for one in bought:
        for number in () if one.in_rack else one.used.steps:
            found[number] = max(found.get(number, 0.0), one.days[1])
    return found


def photographs(plan: Sequence[PlannedStep]) -> tuple[tuple[int, str], ...]:
    """What to photograph, with the number of its step (1 first)."""
    return tuple((number, planned.step.photo) for number, planned in enumerate(plan, start=1) if planned.step.photo)


def evidence(plan: Sequence[PlannedStep]) -> tuple[tuple[int, str], ...]:
    """What to keep, with the number of its step (1 first)."""
    return tuple((number, planned.step.keep) for number, planned in enumerate(plan, start=1) if planned.step.keep)


def pencil_line(number: str, day: date, glues: Sequence[str], joints: Sequence[str]) -> str:
    """The line left inside the piece: number, month, glue, joints.

    >>> pencil_line("R-0123", date(2026, 3, 9), ["Hot hide glue"], ["front left rail", "front right rail"])
    'R-0123 · 2026-03 · hot hide glue · front left rail, front right rail'
    """
    with_what = " + ".join(glue[:1].lower() + glue[1:] for glue in dict.fromkeys(glues)) or "no glue"
    return " · ".join(part for part in (number or "no number", f"{day:%Y-%m}", with_what, ", ".join(joints)) if part)
