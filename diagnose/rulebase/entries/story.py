"""A story: readings given, and what must and must not come of them. Stories lie beside what they prove."""

from typing import Annotated, Any

from pydantic import Field

from diagnose.rulebase.entries.base import Model, Text, names

# Texts only: whether there are such entries is found by faults/unknown_id, with the place of each.
Cause = Annotated[str, names("causes or something else")]
Causes = tuple[Cause, ...]
Findings = tuple[Annotated[str, names("findings")], ...]
Rules = tuple[Annotated[str, names("logic")], ...]
Methods = tuple[Annotated[str, names("methods")], ...]
Steps = tuple[Annotated[str, names("steps")], ...]
Cautions = tuple[Annotated[str, names("cautions")], ...]
Class = Annotated[str, names("classes")]
Door = Annotated[str, names("triage")]


class Expect(Model):
    """What must come."""

    first_cause: Cause | None = Field(default=None, description="The likeliest cause.")
    at_least: dict[Cause, float] = Field(default={}, description="A floor for the probability of a cause.")
    findings: Findings = Field(default=(), description="What is concluded.")
    rules: Rules = Field(default=(), description="Rules that fire.")
    decision: Class | None = Field(default=None, alias="class", description="The decision that is advised.")
    method: Annotated[str, names("methods")] | None = Field(default=None, description="The method that is advised.")
    triage: Door | None = Field(default=None, description="What happens to the piece at the door.")
    cautions: Cautions = Field(default=(), description="Warnings that are printed.")
    requires: Steps = Field(default=(), description="Steps that rules require.")
    forbids: Methods = Field(default=(), description="Methods that are ruled out.")


class Never(Model):
    """What must not come."""

    causes: Causes = Field(default=(), description="Causes that must not be the likeliest.")
    rules: Rules = Field(default=(), description="Rules that must not fire.")
    findings: Findings = Field(default=(), description="What must not be concluded.")
    methods: Methods = Field(default=(), description="Methods that must not be advised.")
    classes: tuple[Class, ...] = Field(default=(), description="Decisions that must not be advised.")
    cautions: Cautions = Field(default=(), description="Warnings that must not be printed.")
    triage: tuple[Door, ...] = Field(default=(), description="What must not happen to the piece at the door.")
    requires: Steps = Field(default=(), description="Steps that rules must not require.")
    forbids: Methods = Field(default=(), description="Methods that no rule may forbid.")


class Story(Model):
    """A small made-up case with what must and must not come of it."""

    name: Text = Field(description="What it tells, in a line.")
    given: Annotated[dict[str, Any], names("given")] = Field(description="Facts of the case and readings, of one damage.")
    open: Causes = Field(default=(), description="Only these causes are open.")
    expect: Expect = Field(default=Expect(), description="What must come.")
    never: Never = Field(default=Never(), description="What must not come.")
