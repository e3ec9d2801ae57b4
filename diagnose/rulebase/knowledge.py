"""The rule base in memory: every entry by its id, frozen, with a version taken from its content."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from diagnose.rulebase.entries import (
    Adhesive,
    Cause,
    Caution,
    Consumable,
    Finding,
    Finish,
    Method,
    Piece,
    Plate,
    Respirator,
    Rule,
    Scale,
    Sign,
    Source,
    SpotTest,
    Staining,
    Step,
    Story,
)
from diagnose.rulebase.woods import Wood


@dataclass(frozen=True)
class ToldStory:
    """A story and the file it stands in."""

    file: str
    story: Story


@dataclass(frozen=True)
class Knowledge:
    """Everything the rules folder says."""

    version: str
    scale: Scale
    signs: Mapping[str, Sign]
    causes: Mapping[str, Cause]
    methods: Mapping[str, Method]
    steps: Mapping[str, Step]
    logic: Mapping[str, Rule]
    findings: Mapping[str, Finding]
    cautions: Mapping[str, Caution]
    pieces: Mapping[str, Piece]
    plates: Mapping[str, Plate]
    sources: Mapping[str, Source]
    consumables: Mapping[str, Consumable]
    adhesives: Mapping[str, Adhesive]
    finishes: Mapping[str, Finish]
    spot_tests: Mapping[str, SpotTest]
    staining: Mapping[str, Staining]
    respirators: Mapping[str, Respirator]
    woods: Mapping[str, Wood] = field(default_factory=dict)
    stories: tuple[ToldStory, ...] = ()

    def word(self, word: str) -> float:
        """The number of a likelihood word."""
        return self.scale.words[word]

    def minutes_of(self, sign: Sign) -> float | None:
        """Minutes that answering a sign takes: its own, or those of its effort; None for one that is worked out."""
        return sign.minutes if sign.minutes is not None else self.scale.effort.get(sign.effort or "")

    @cached_property
    def opened_by(self) -> Mapping[str, Mapping[str, frozenset[str]]]:
        """For every sign the signs whose gates ask for it, each with the readings that open them."""
        found: dict[str, dict[str, frozenset[str]]] = {}
        for other in self.signs.values():
            for line in other.when.all_lines():
                if line.key in self.signs:
                    readings = found.setdefault(line.key, {})
                    readings[other.id] = readings.get(other.id, frozenset()) | frozenset(line.values)
        return found

    def computed_sign(self, by: str) -> Sign | None:
        """The sign that is worked out in the given way, if the base has one."""
        return next((s for s in self.signs.values() if s.computed is not None and s.computed.by == by), None)
