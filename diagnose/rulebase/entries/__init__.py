"""The kinds of entries, one file a kind (the small ones together)."""

from diagnose.rulebase.entries.base import Cite, Entry, Model
from diagnose.rulebase.entries.bench import Finish, Respirator, SpotTest, Staining
from diagnose.rulebase.entries.cause import BY_STRENGTH, Cause
from diagnose.rulebase.entries.logic import Effect, Rule
from diagnose.rulebase.entries.method import Method
from diagnose.rulebase.entries.piece import Joint, Part, Piece
from diagnose.rulebase.entries.plate import Plate
from diagnose.rulebase.entries.scale import Scale
from diagnose.rulebase.entries.sign import Reading, Sign
from diagnose.rulebase.entries.small import Adhesive, Caution, Consumable, Finding, Ground, Source
from diagnose.rulebase.entries.step import Also, Check, NewWood, Step
from diagnose.rulebase.entries.story import Story
from diagnose.rulebase.entries.when import Line, When

__all__ = [
    "BY_STRENGTH",
    "Adhesive",
    "Also",
    "Cause",
    "Caution",
    "Check",
    "Cite",
    "Consumable",
    "Effect",
    "Entry",
    "Finding",
    "Finish",
    "Ground",
    "Joint",
    "Line",
    "Method",
    "Model",
    "NewWood",
    "Part",
    "Piece",
    "Plate",
    "Reading",
    "Respirator",
    "Rule",
    "Scale",
    "Sign",
    "Source",
    "SpotTest",
    "Staining",
    "Step",
    "Story",
    "When",
]
