"""Errors of a plate's parameters: one line, with the nearest right word."""

from collections.abc import Mapping
from typing import TypeVar

from diagnose.rulebase.fault import nearest

T = TypeVar("T")


def chosen(name: str, value: str, known: Mapping[str, T]) -> T:
    """What the word `value` of the parameter `name` stands for. Raises ValueError with the nearest word.

    >>> chosen("inside", "dirt", {"dirt": 1})
    1
    """
    if value not in known:
        raise ValueError(f"{name}: {value} is not known; {nearest(value, known)}")
    return known[value]


def within(name: str, value: float, low: float, high: float) -> float:
    """The number itself, if it lies in the range. Raises ValueError otherwise.

    >>> within("depth", 0.5, 0, 1)
    0.5
    """
    if not low <= value <= high:
        raise ValueError(f"{name}: {value:g} is outside {low:g} to {high:g}")
    return value
