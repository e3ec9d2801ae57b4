"""The worked case of the design: six causes, five signs of every kind, four methods; figures invented for arithmetic."""

from typing import Any

import numpy as np

from diagnose.case.case import Answer
from diagnose.decision.cost import Price
from diagnose.decision.decide import Choice
from diagnose.decision.outcome import fails_again
from diagnose.reasoning.model import Model, build_model
from diagnose.rulebase.entries import Cause, Cite, Scale, Sign

SOURCES = ["common_practice"]
CITES = (Cite(source="common_practice"),)
SCALE = Scale(
    words={
        "nearly_always": 0.95,
        "usually": 0.80,
        "often": 0.60,
        "sometimes": 0.30,
        "seldom": 0.10,
        "hardly_ever": 0.02,
        "never": 0.002,
    },
    happens={"common": 0.15, "regular": 0.06, "now_and_then": 0.03, "uncommon": 0.01, "rare": 0.003},
    treats={"fully": 0.02, "mostly": 0.2, "partly": 0.5, "hides": 0.9},
    keeps={"all": 1, "most": 0.9, "half": 0.5, "little": 0.2, "none": 0},
    effort={"look": 1, "measure": 2, "ask": 0.5, "touch": 1},
    off_by={"sure": 0.02, "owner": 0.10, "photograph": 0.10, "unsure": 0.40},
    together=0.6,
    something_else=0.05,
    something_else_returns="sometimes",
    turning=1.0,
    sources=CITES,
)


def sign(sign_id: str, kind: str, readings: dict[str, Any], **more: Any) -> Sign:
    """A sign with the fixed prose of the test."""
    return Sign.model_validate(
        {
            "id": sign_id, "kind": kind, "of": "damage", "ask": "Which?", "look": "Look at it.",
            "station": "break", "effort": "look", "readings": readings, "sources": SOURCES, **more,
        }
    )  # fmt: skip


def cause(cause_id: str, happens: str, returns: str, shows: dict[str, Any], **more: Any) -> Cause:
    """A cause with the fixed prose of the test."""
    return Cause.model_validate(
        {
            "id": cause_id, "name": cause_id, "family": "bond", "role": "made_in", "happens": happens,
            "returns": returns, "shows": shows, "explains": "It let go.", "owner": "It let go.",
            "sources": SOURCES, **more,
        }
    )  # fmt: skip


SIGNS = (
    sign(
        "break_path", "choose_one",
        {"along": {"background": "often"}, "beside": {"background": "sometimes"}, "across": {"background": "seldom"}},
    ),
    sign(
        "glue_face", "choose_one",
        {
            "torn": {"background": "sometimes"}, "film": {"background": "sometimes"},
            "bare": {"background": "sometimes"}, "slick": {"background": "seldom"},
        },
    ),
    sign(
        "gap", "measure",
        {
            "snug": {"upto": 0.15, "background": "often"}, "loose": {"upto": 0.5, "background": "sometimes"},
            "slack": {"upto": 6, "background": "seldom"},
        },
        measure={"unit": "mm", "from": 0, "to": 6},
    ),
    sign("hard_use", "yes_no", {"yes": {"background": "seldom"}, "no": {}}),
    sign(
        "residue", "tick_all",
        {"finish": {"background": "hardly_ever"}, "old_glue": {"background": "sometimes"}},
    ),
)  # fmt: skip
CAUSES = (
    cause("aged_glue", "regular", "usually",
          {"break_path": {"along": "nearly_always"}, "glue_face": {"film": "usually"}, "residue": {"old_glue": "usually"}}),
    cause("glue_starved", "regular", "usually",
          {"break_path": {"along": "nearly_always"}, "glue_face": {"bare": "usually", "film": "seldom"}}),
    cause("finish_on_face", "now_and_then", "nearly_always",
          {"break_path": {"along": "nearly_always"}, "glue_face": {"slick": "nearly_always"},
           "residue": {"finish": "nearly_always"}}),
    cause("gap_too_wide", "regular", "usually",
          {"break_path": {"along": "usually"}, "glue_face": {"film": "often"},
           "gap": {"slack": "usually", "snug": "hardly_ever"}}),
    cause("grain_runout", "now_and_then", "usually",
          {"break_path": {"across": "usually", "along": "hardly_ever"}, "hard_use": {"yes": "sometimes"}}),
    cause("overload", "regular", "sometimes",
          {"break_path": {"beside": "often", "along": "sometimes"}, "glue_face": {"torn": "usually"},
           "hard_use": {"yes": "nearly_always"}}),
)  # fmt: skip
ODDS = [SCALE.happens[c.happens] for c in CAUSES]
NAMES = tuple(c.id for c in CAUSES)

ANSWERS = {
    "break_path": Answer(("along",)),
    "glue_face": Answer(("bare",), unsure=True),
    "hard_use": Answer(("yes",)),
}

RETURNS = {"aged_glue": 0.8, "glue_starved": 0.8, "gap_too_wide": 0.8, "grain_runout": 0.8,
           "finish_on_face": 0.95, "overload": 0.3, "else": 0.3}  # fmt: skip
LEFT: dict[str, dict[str, float]] = {
    "reglue": {"aged_glue": 0.02, "glue_starved": 0.02, "finish_on_face": 0.5},
    "reinforce": {
        "aged_glue": 0.02, "glue_starved": 0.02, "finish_on_face": 0.5, "gap_too_wide": 0.2,
        "grain_runout": 0.5, "overload": 0.2, "else": 0.5,
    },
    "replace": {
        "aged_glue": 0.02, "glue_starved": 0.02, "finish_on_face": 0.02, "gap_too_wide": 0.02,
        "grain_runout": 0.02, "overload": 0.5, "else": 0.5,
    },
}  # fmt: skip
METHODS = {
    "reglue": (Price(60, 80, 130), 1.0, 0.05),
    "reinforce": (Price(110, 140, 200), 0.95, 0.02),
    "replace": (Price(220, 300, 440), 0.8, 0.03),
    "retire": (Price(0, 10, 20), 0.0, 0.0),
}
REDO, HARM, VALUE, WRONG_REASON = 150.0, 0.30, 400.0, 60.0


def model() -> Model:
    """The worked case's model."""
    return build_model(SCALE, CAUSES, ODDS, SIGNS)


def choices(of: Model) -> list[Choice]:
    """The four methods."""
    found = []
    for name, (price, kept, by_strength) in METHODS.items():
        if name == "retire":
            fails = np.zeros(of.sets)
        else:
            left = np.array([RETURNS[c] * LEFT[name].get(c, 1.0) for c in of.names])
            fails = fails_again(of.members, left, RETURNS["else"] * LEFT[name].get("else", 1.0), by_strength)
        found.append(Choice(name, name, price, kept, fails))
    return found
