"""Named conditions under which no sum makes a repair fit to carry load. Judgement of the trade, with the Handbook
behind the end-grain butt; kept as data so that every front end says the same words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from diagnose.mechanics.result import KnownBy, one_of, share, within

SHORT_GRAIN_UNDER = 4.0
KEY_UNDER = 8.0
LEAST_SECTION = 0.5
FIT_SHARE = 0.9
"""Share of as-made strength from which a repaired part or joint is fit for use (judgement)."""


@dataclass(frozen=True, slots=True)
class HardStop:
    """One named condition: `id`, the sentence for people, why, and how it is known."""

    id: str
    say: str
    because: str
    source: str
    known_by: KnownBy


def _trade(id: str, say: str, because: str) -> HardStop:
    return HardStop(id, say, because, "common practice", "judgement")


HARD_STOPS: tuple[HardStop, ...] = (
    _trade("short-grain-glued-alone", "The break is shorter than four times the thickness and is to be glued alone.",
           "A short break is mostly end grain; glue there holds a fraction of what the wood held."),
    _trade("under-half-the-section", "Less than half of the section is left.",
           "What is left was never meant to carry the whole load."),
    _trade("unsound-wood", "The wood is brash, rotten or eaten.", "Glue holds no better than the wood it holds on to."),
    _trade("bits-missing", "Bits are missing from a break that carries load.",
           "The faces do not close: the clean area that counts is not there."),
    HardStop("end-grain-butt", "The joint is an end-grain butt.",
             "Even a special technique reaches a quarter of the strength along the grain; ordinary work less.",
             "Wood Handbook FPL-GTR-190 ch. 10", "read"),
    _trade("faces-hold-no-glue", "Glue cannot hold on the faces as they are.",
           "A film, oil or old glue stands between: the bond is no stronger than that."),
    _trade("crumbling-board", "The board crumbles where the fitting or joint sits.", "There is nothing to hold on to."),
    _trade("bracket-for-joint", "A bracket, plate or filler stands in place of the joint.",
           "It loads the wood at a few screws and lets the joint go on moving."),
)  # fmt: skip
"""Every hard stop, in the order in which they are shown."""

Wood = Literal["sound", "brash", "rotten", "eaten"]


@dataclass(frozen=True, slots=True)
class Conditions:
    """What is known of a repaired place; the defaults stop nothing.

    `break_length_over_thickness` None where nothing broke; `keyed` a key, tenon or let-in wood crosses the break;
    `renewed` the damaged wood is cut out (spliced, new part): break, section and wood then no longer count.
    """

    break_length_over_thickness: float | None = None
    keyed: bool = False
    renewed: bool = False
    section_share_left: float = 1.0
    wood: Wood = "sound"
    bits_missing: bool = False
    carries_load: bool = True
    end_grain_butt: bool = False
    faces_hold_glue: bool = True
    board_crumbles: bool = False
    bracket_for_joint: bool = False


def hard_stops(conditions: Conditions) -> tuple[HardStop, ...]:
    """The hard stops that apply, in the order of HARD_STOPS; none for a part that carries nothing.

    Break ratio 0..100, section share 0..1. Raises OutOfRange, MechanicsError (unknown state of the wood).
    Source: common practice; the butt joint Handbook ch. 10.

    >>> [stop.id for stop in hard_stops(Conditions(break_length_over_thickness=3.9))]
    ['short-grain-glued-alone']
    >>> hard_stops(Conditions(break_length_over_thickness=3.9, keyed=True))
    ()
    """
    c = conditions
    one_of("state of the wood", c.wood, ("sound", "brash", "rotten", "eaten"))
    share("section left", c.section_share_left)
    if c.break_length_over_thickness is not None:
        within("break length / thickness", c.break_length_over_thickness, 0.0, 100.0, "")
    if not c.carries_load:
        return ()
    ratio = c.break_length_over_thickness
    applies = {
        "short-grain-glued-alone": ratio is not None and ratio < SHORT_GRAIN_UNDER and not (c.keyed or c.renewed),
        "under-half-the-section": c.section_share_left < LEAST_SECTION and not c.renewed,
        "unsound-wood": c.wood != "sound" and not c.renewed,
        "bits-missing": c.bits_missing and not c.renewed,
        "end-grain-butt": c.end_grain_butt,
        "faces-hold-no-glue": not c.faces_hold_glue,
        "crumbling-board": c.board_crumbles,
        "bracket-for-joint": c.bracket_for_joint,
    }
    return tuple(stop for stop in HARD_STOPS if applies[stop.id])


def wants_key(break_length_over_thickness: float) -> bool:
    """Whether a break wants a key: shorter than eight times the thickness (ratio 0..100). Raises OutOfRange. Judgement.

    >>> wants_key(7.9), wants_key(8)
    (True, False)
    """
    within("break length / thickness", break_length_over_thickness, 0.0, 100.0, "")
    return break_length_over_thickness < KEY_UNDER
