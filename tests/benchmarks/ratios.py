"""Published ratios of strength beside ours: a joint or member altered or mended over the same as it was made.

Ours is what the product says (`strength_of` on a case, or the sum it divides); published is what was read, as a span where the
source gives one. A row gates (`tests/decision/test_published_ratios.py`) only where the figure was read and the sizes it needs are
known. Where ours lies outside, the row says so and on which side. Sources by title, table or section; "abstract" where no more was
read.
"""

import math
import statistics
from collections.abc import Mapping
from dataclasses import dataclass

from diagnose.case.case import Case, Damage
from diagnose.decision.strength import strength_of
from diagnose.mechanics.as_made import DowelSizes, RoundTenonSizes, TenonSizes, joint_moment, joint_ratio
from diagnose.mechanics.as_made_members import GLUE_OVER_BENDING
from diagnose.mechanics.published import BY_ID, Tested
from diagnose.mechanics.result import KnownBy
from diagnose.reasoning.facts import facts_of
from diagnose.rulebase.knowledge import Knowledge

RAIL, PART = "left_side_rail_to_back_leg", "back_leg"
STRAIGHT = 0.0
RED_OAK, WHITE_OAK = 12.3, 13.8
"""Shear along the grain, MPa: Handbook Table 5-3b, 1780 and 2000 lbf/in2."""
TABLE_5_12 = {25: 96, 20: 93, 15: 89, 10: 81, 5: 55}
"""Slope 1 in n -> modulus of rupture, % of a straight-grained member: Wood Handbook FPL-GTR-190 Table 5-12, as printed."""


@dataclass(frozen=True)
class Ratio:
    """One published ratio: what, ours, the published span, how far beside it ours may lie and why, and how it is known.

    `said` is what is to be said where ours lies outside. `decides`: whether the product's advice can rest on this ratio.
    `below`: the upper end itself is not reached.
    """

    id: str
    what: str
    ours: float
    low: float
    high: float
    known: KnownBy
    source: str
    off: float
    why: str
    said: str = ""
    decides: bool = True
    gates: bool = True
    below: bool = False

    @property
    def promises_more(self) -> bool:
        """Whether ours is above what was published."""
        return self.ours >= self.high if self.below else self.ours > self.high * (1.0 + self.off) + 1e-9

    @property
    def promises_less(self) -> bool:
        """Whether ours is under what was published."""
        return self.ours < self.low * (1.0 - self.off) - 1e-9

    @property
    def published(self) -> str:
        """The published figure or span, in figures."""
        digits = 2 if self.high > 0.1 else 3
        span = f"{self.low:.{digits}f}-{'<' if self.below else ''}{self.high:.{digits}f}"
        return f"{self.low:.3f}" if self.low == self.high else span


def after(
    knowledge: Knowledge, model: str, *, loose: bool = False, sizes: Mapping[str, float] | None = None, **read: float
) -> float:
    """What the product says a method of this kind leaves of a chair's part or joint, with `read` in place of what was read."""
    joint = {"joint": "mortise_and_tenon" if loose else "none", "carries": "person"}
    kind = "loose" if loose else "broken"
    damage = Damage("a", kind, part=PART, joint=RAIL if loose else None, facts=joint, sizes=dict(sizes or {}))
    case = Case("side_chair", damages=(damage,))
    method = next(method for method in knowledge.methods.values() if method.strength == model)
    value = strength_of(knowledge, case, damage, facts_of(knowledge, case, damage), [method], read).after[method.id]
    assert value is not None, model
    return value


_WH = "Wood Handbook FPL-GTR-190"
_ANC18 = "ANC-18, Design of Wood Aircraft Structures (1944)"
_ANC19 = "ANC-19, Wood Aircraft Inspection and Fabrication"
_BENCH = "university joint tests quoted in a trade magazine and from there in a forum"
_OWN_GAP = abs(0.7654 - 0.81) / 0.81
"""The Handbook's curve for bending and its own table are at most this far apart (76.5 and 81 % at 1 in 10)."""


def _grain(knowledge: Knowledge) -> list[Ratio]:
    rows = []
    for run in (20, 15, 10, 5):
        table = TABLE_5_12[25] / TABLE_5_12[run]
        rows.append(
            Ratio(
                f"new_part_1_{run}", f"new part, grain 1:25, for one of 1:{run}", after(knowledge, "new_part", slope=1 / run),
                table, table, "read", f"{_WH} Table 5-12, modulus of rupture", _OWN_GAP,
                "the Handbook calls its tests very close to its curve, and the two are up to 5.5 % apart",
            )
        )  # fmt: skip
    for run, percent, clear in ((12, 88, False), (10, 78, True), (8, 67, False)):
        rows.append(
            Ratio(
                f"design_1_{run}", f"new part, grain 1:15, for one of 1:{run}",
                after(knowledge, "new_part", slope=1 / run, new_slope=1 / 15), 100 / percent, 100 / percent, "read",
                f"{_ANC18} Table 2-4, modulus of rupture" + ("" if clear else " (this row hardly legible in the scan)"),
                0.5 / percent, "printed in whole percents",
                said="a design table, with allowances: the Handbook's means give 1.10 at 1:10; we credit less gain", gates=clear,
            )
        )  # fmt: skip
    return rows


def _end_joints(knowledge: Knowledge) -> list[Ratio]:
    def scarf(run: float) -> float:
        return after(knowledge, "spliced_part", slope=STRAIGHT, new_slope=STRAIGHT, splice_run=run)

    butt = after(knowledge, "reglued_break", slope=STRAIGHT, length_over_depth=0.0)
    remembered = "USDA Technical Bulletin 1069, as remembered"
    return [
        Ratio("butt", "break straight across, glued", butt, 0.0, 0.25, "read", f"{_WH} ch. 10; {_ANC19} 5.271", 0.0,
              "about 25 % at the most, in both"),
        Ratio("scarf_12", "splice 1:12", scarf(12), 0.90, 0.90, "read_second_hand",
              "Wood Handbook (1974) p. 10-7, quoted by an engineer", 0.005 / 0.90, "printed in whole percents"),
        Ratio("scarf_20", "splice 1:20", scarf(20), 0.90, 0.95, "read_second_hand",
              "the same: 1:12 or flatter; 95 % in a book of boat building, quoted in a trade magazine", 0.005 / 0.95,
              "printed in whole percents"),
        Ratio("scarf_4", "splice 1:4", scarf(4), 0.65, 0.65, "read_second_hand", "that book", 0.005 / 0.65,
              "printed in whole percents", said="another source has 65 % at 1:5 only: the safer is taken"),
        Ratio("scarf_15", "splice 1:15", scarf(15), 1.0, 1.0, "read", "a workshop handbook of glider building, 1935", 0.0,
              "a statement, no test: as strong as the solid strip", said="we count 92 %", gates=False),
        *(
            Ratio(f"scarf_{run}_remembered", f"splice 1:{run}", scarf(run), share, share, "memory", remembered, 0.005 / share,
                  "as remembered", gates=False)
            for run, share in ((10, 0.85), (8, 0.80), (5, 0.65))
        ),
        Ratio("edge", "long grain glued to long grain", after(knowledge, "reglued_joint"), 1.0, 1.0, "read",
              f"{_ANC19} 5.271", 0.0, "side grain joints can be made as strong as the wood itself"),
    ]  # fmt: skip


def _error(test: Tested) -> float:
    """Standard error of a published mean over the mean."""
    assert test.sd is not None
    assert test.n is not None
    return test.sd / test.mean / math.sqrt(test.n)


def _glue(knowledge: Knowledge) -> list[Ratio]:
    round_tenon = joint_moment("round_tenon", 12.0, RoundTenonSizes(20.0, 30.0)).value / (math.pi * 20.0 * 30.0 * 12.0)
    woods = [w.shear_par_mpa / w.mor_mpa / 3.0 for w in knowledge.woods.values() if w.shear_par_mpa and w.group != "softwood"]
    mean, spread = statistics.mean(woods), statistics.stdev(woods)
    thou = 0.5 * 0.0254 * (1 - 0.79) / (0.25 - 0.13) / 0.79
    made = TenonSizes(32, 38, 63.5)
    oaks = joint_moment("mortise_and_tenon", WHITE_OAK, made).value / joint_moment("mortise_and_tenon", RED_OAK, made).value
    red, white = BY_ID["tenon_red_oak"], BY_ID["tenon_white_oak"]
    twice = 2.0 * math.hypot(_error(red), _error(white))

    def gap(inch: float) -> float:
        return after(knowledge, "reglued_joint", loose=True, gap_mm=25.4 * inch)

    return [
        Ratio("cross_lap", "glue across the grain over along it", round_tenon, 1 / 3, 1 / 3, "read",
              f"{_ANC18} 2.910; FPL Report 1522", 0.0, "one third, in both"),
        Ratio("key_glue", "that glue over bending strength, hardwoods", GLUE_OVER_BENDING, mean - spread, mean + spread, "read",
              "Wood Handbook FPL-GTR-282 Tables 5-3b, 5-5b", 0.0, "mean and standard deviation of the printed woods"),
        Ratio("gap_005", "tenon glued in a gap of 0.005 in", gap(0.005), 1.0, 1.0, "read_second_hand", _BENCH, 0.0,
              "no loss up to there; 0.002 to 0.005 in is the usual glue line (FPL Report 1616, read)"),
        Ratio("gap_010", "tenon glued in a gap of 0.010 in", gap(0.010), 0.79, 0.79, "read_second_hand", _BENCH, thou,
              "the gap is given to a thousandth of an inch"),
        Ratio("oaks", "tenon in white oak over red oak", oaks, white.mean / red.mean, white.mean / red.mean, "read",
              "BioResources 11(3) 7162, abstract", twice, "twice the standard error, from its deviations and numbers of pieces",
              said="shear strength overrates what another wood does; the product compares no two woods", decides=False),
    ]  # fmt: skip


def _joints(knowledge: Knowledge) -> list[Ratio]:
    dowel, half = DowelSizes(10, 30, 32, 14), DowelSizes(10, 15, 32, 14)
    tenon = TenonSizes(30, 38, 50)
    joint = knowledge.pieces["side_chair"].joint(RAIL)
    assert joint is not None
    length, height = joint.size["tenon_length"], joint.size["tenon_height"]

    def glued(**sizes: float) -> float:
        return after(knowledge, "reglued_joint", loose=True, sizes=sizes)

    dowels_for_tenon = joint_ratio("mortise_and_tenon", tenon, dowel, kind_now="dowel").value
    by_tests = BY_ID["dowel_beech"].mean / BY_ID["tenon_beech"].mean
    taken = "sizes not in the abstract: common ones taken"
    return [
        Ratio("dowel_half", "dowels half as deep", joint_ratio("dowel", dowel, half).value, 0.5, 0.5, "read",
              "Crews 1959, thesis, abstract", 0.0, "load is linear in the glued area until the dowel itself governs"),
        Ratio("dowel_half_remembered", "the same", joint_ratio("dowel", dowel, half).value, 0.5**0.89, 0.5**0.89, "memory",
              "Eckelman 1969, exponent as remembered", 0.0, "as remembered", said="we credit less", gates=False),
        Ratio("tenon_two_thirds", "tenon two thirds as long", glued(tenon_length=length * 2 / 3), 0.5, 1.0, "read",
              "Turk. J. Agric. For. 37 (2013) 377, abstract", 0.0,
              "loose tenons drawn out: 10 to 20 mm gains more than 20 to 30, so over half is left at 20 of 30"),
        Ratio("tenon_half_remembered", "tenon half as long", glued(tenon_length=length / 2), 0.5**0.8, 0.5**0.8, "memory",
              "Erdil and others 2005, exponent as remembered", 0.0, "as remembered", said="we credit less", gates=False),
        Ratio("tenon_trimmed", "tenon trimmed from 50 to 40 wide", glued(tenon_height=height * 0.8), 1.0, 1.0, "read",
              "Static Front to Back Loading Capacity of Wood Chairs, BioResources, abstract", 0.0,
              "T-joints were strongest at 40 wide and 50 long, tried to 50 wide: so no less than at 50",
              said="a lost width is counted in full: we credit less"),
        Ratio("let_in_tenon", "new tenon let into the old rail", after(knowledge, "rebuilt_joint", loose=True), by_tests, 1.0,
              "read", "Aman and others 2008, abstract; lower end BioResources 19(3) 6120, abstract", 0.0,
              "loose tenons lie between dowels and whole tenons; no figure given", below=True,
              said="counted as good as made: the upper end, which the tests do not reach"),
        Ratio("pin_alone", "pinned joint whose glue is gone", after(knowledge, "as_found", loose=True), 1 / 3, 1 / 3, "read",
              "Withdrawal capacity of pinned and unpinned round mortise and tenon joints, abstract", 0.0,
              "wooden pins: about one third of the glued joint", said="a loose joint counts as holding nothing"),
        Ratio("blocks", "what corner blocks add to a tenon joint",
              after(knowledge, "blocks_added", loose=True) - after(knowledge, "reglued_joint", loose=True),
              683 / 1063.6, 1881.8 / 1306, "read",
              "Kamperidou and others 2010 and 2012, abstracts: block joint over tenon joint, beech", 0.0,
              "each by itself, corner pressed and middle joint bent; added to a tenon not tested", said="blocks are not counted"),
        Ratio("dowels_for_tenon", "two dowels over a tenon, T-joint", dowels_for_tenon, by_tests, by_tests, "read",
              "BioResources 19(3) 6120, abstract", 0.0, taken, said="the kinds cannot be ranked without their sizes",
              decides=False, gates=False),
        Ratio("dowels_for_tenon_corner", "the same, corner pressed", dowels_for_tenon, 75.36 / 95.54, 75.36 / 95.54, "read",
              "Materials International 2(3) (2020) 318, abstract", 0.0, taken, said="the same", decides=False, gates=False),
        Ratio("dowels_for_tenon_edgewise", "the same, edgewise", dowels_for_tenon, 1896.9 / 1306, 937.2 / 634, "read",
              "Kamperidou and Vasileiou 2012, abstract: beech and poplar", 0.0, taken, said="the same; here dowels win",
              decides=False, gates=False),
    ]  # fmt: skip


def ratios(knowledge: Knowledge) -> list[Ratio]:
    """Every published ratio that ours can be set beside, in the order printed."""
    return [*_grain(knowledge), *_end_joints(knowledge), *_glue(knowledge), *_joints(knowledge)]


# What was looked for, or read without a figure, and has no row.
UNTESTED = (
    "No published test was found of a keyed or splined break, a let-in patch, a plugged and rebored socket, a wedged tenon, or of a"
    " joint glued a second time.",
    "Scarfs 1:12 in laminated beams, feather edge left unplaned, came out considerably weaker than the codes of their day had it,"
    " and stronger when the edge was planed (University of Alberta 1958 and its paper of 1960, abstracts; the figure is not legible):"
    " our 0.90 is for an edge planed away.",
    "In small spruce PVA was best at 1:5.7 and polyurethane at 1:9.5, 1:2.7 and steeper not adequate (abstract): our curve rises on.",
    "Tenons: length counts for more than width in three studies; in ours they count alike, and the rail's width beside them.",
    "Fit: three studies found a tenon 0.1 or 0.2 mm too thick for its hole the strongest; ours gains nothing under a gap of 0.13 mm.",
)


def print_ratios(knowledge: Knowledge) -> None:
    """Prints the table, and what it does not hold."""
    print(f"{'ratio':46} {'ours':>6} {'published':>11} {'ours/pub':>8}  known   source; note")
    for row in ratios(knowledge):
        middle = (row.low + row.high) / 2.0
        mark = "ABOVE" if row.promises_more else "below" if row.promises_less else ""
        note = f"; {mark}: {row.said}" if mark else ""
        known = row.known.replace("read_second_hand", "2nd")
        print(f"{row.what:46} {row.ours:6.3f} {row.published:>11} {row.ours / middle:8.2f}  {known:6}  {row.source}{note}")
    for text in UNTESTED:
        print(f"- {text}")
