"""A method: one way to repair, in one decision class."""

from typing import Literal

from pydantic import Field

from diagnose.rulebase.entries.base import Entry, Id, Text, Word
from diagnose.rulebase.entries.when import When, WhenField


class Method(Entry):
    """`treats` gives a word for a family of causes, or for one cause, which then wins."""

    name: Text
    owner: Text
    stays_visible: Text
    decision: Literal[
        "reglue",
        "reglue_with_reinforcement",
        "splice_or_patch_part",
        "replace_part",
        "release_restraint",
        "tighten_or_refit_hardware",
        "correct_moisture_or_environment",
        "treat_infestation",
        "refinish_or_surface_repair",
        "level_or_trim",
        "refer_to_specialist",
        "retire_piece",
        "no_structural_work",
    ] = Field(alias="class")
    when: WhenField = When()
    unless: WhenField = When()
    treats: dict[Id, Word] = Field(default={})
    keeps: Word = "all"
    strength: Literal[
        "none",
        "as_found",
        "reglued_joint",
        "rebuilt_joint",
        "doweled_joint",
        "reglued_break",
        "keyed_break",
        "spliced_part",
        "patched_part",
        "new_part",
        "blocks_added",
    ] = "none"
    steps: tuple[Id, ...] = Field(min_length=1)
    extent: Literal["joint", "sub_frame", "whole_frame", "set"] = "joint"
    end_use: Literal["as_before", "lighter", "show_only", "not_to_be_used"] = "as_before"
    by: Literal["us", "caner", "upholsterer", "conservator", "licensed", "maker"] = "us"
    timing: Literal["now", "when_dry", "middle_season", "look_again"] = "now"
    fails_again_if: tuple[Text, ...] = ()
    needs: tuple[str, ...] = ()
