"""A story: readings given, and what must and must not come of them. Stories lie beside what they prove."""

from typing import Any

from pydantic import Field

from diagnose.rulebase.entries.base import Model, Text


class Expect(Model):
    """What must come. `at_least` holds a floor for the probability of a cause."""

    first_cause: str | None = None
    at_least: dict[str, float] = Field(default={})
    findings: tuple[str, ...] = ()
    rules: tuple[str, ...] = ()
    decision: str | None = Field(default=None, alias="class")
    method: str | None = None
    triage: str | None = None
    cautions: tuple[str, ...] = ()
    requires: tuple[str, ...] = ()
    forbids: tuple[str, ...] = ()


class Never(Model):
    """What must not come: first causes, rules, findings, advised methods or classes."""

    causes: tuple[str, ...] = ()
    rules: tuple[str, ...] = ()
    findings: tuple[str, ...] = ()
    methods: tuple[str, ...] = ()
    classes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    triage: tuple[str, ...] = ()
    requires: tuple[str, ...] = ()
    forbids: tuple[str, ...] = ()


class Story(Model):
    """`given` mixes case facts and readings of one damage; `open` leaves only these causes open."""

    name: Text
    given: dict[str, Any]
    open: tuple[str, ...] = ()
    expect: Expect = Expect()
    never: Never = Never()
