"""The kinds of entries, one file a kind (the small ones together)."""

from diagnose.rulebase.entries.base import Cite, Entry, Model
from diagnose.rulebase.entries.cause import BY_STRENGTH, Cause
from diagnose.rulebase.entries.logic import Effect, Rule
from diagnose.rulebase.entries.method import Method
from diagnose.rulebase.entries.piece import Joint, Part, Piece
from diagnose.rulebase.entries.scale import Scale
from diagnose.rulebase.entries.sign import Reading, Sign
from diagnose.rulebase.entries.small import Adhesive, Caution, Consumable, Finding, Finish, Source
from diagnose.rulebase.entries.step import Check, Step
from diagnose.rulebase.entries.story import Story
from diagnose.rulebase.entries.when import Line, When

__all__ = [
    "BY_STRENGTH",
    "Adhesive",
    "Cause",
    "Caution",
    "Check",
    "Cite",
    "Consumable",
    "Effect",
    "Entry",
    "Finding",
    "Finish",
    "Joint",
    "Line",
    "Method",
    "Model",
    "Part",
    "Piece",
    "Reading",
    "Rule",
    "Scale",
    "Sign",
    "Source",
    "Step",
    "Story",
    "When",
]
