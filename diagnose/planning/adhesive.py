"""Which glue: ranked by what the place asks of it, with the reason for each rank. What a ground forbids is never offered.

A limit that was read in a text rules a glue out. A limit that is only remembered is told as a doubt: such a glue is offered only
where none is free of doubt. The label on the bottle wins over both.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor

from diagnose import words
from diagnose.case.quantity import length_mm
from diagnose.mechanics.adhesives import IDEAL_GAP_MM
from diagnose.planning.clock import Glue
from diagnose.reasoning.facts import Facts, Values, closed, satisfied
from diagnose.rulebase.entries import Adhesive, Ground, Method
from diagnose.rulebase.knowledge import Knowledge

# After these the fit is new, whatever the gap was before: the wood is built up, or the joint or part is made again.
FIT_MADE_NEW = frozenset(
    {"rebuilt_joint", "doweled_joint", "keyed_break", "spliced_part", "patched_part", "new_part", "blocks_added"}
)
CLOSE_FIT_MM = IDEAL_GAP_MM[1]
_READ = ("read", "read_second_hand")


@dataclass(frozen=True)
class Place:
    """A damage that is glued: its facts and findings, the method chosen, and the gap there as far as the case knows it (mm)."""

    damage: str
    method: Method
    values: Values
    gap_mm: float | None


@dataclass(frozen=True)
class Demand:
    """What one work asks: its places, the widest gap at gluing (mm) and why, working time (min) and warmth of the wood (°C)."""

    places: tuple[Place, ...]
    gap_mm: float
    gap_because: str
    minutes: float
    wood_c: float


@dataclass(frozen=True)
class Ranked:
    """A glue and how well it answers. `label_min` is what the label must promise where the family's low figure is too short."""

    adhesive: Adhesive
    ruled_out: tuple[str, ...]
    doubts: tuple[str, ...]
    against: tuple[str, ...]
    wanted: tuple[str, ...]
    answers: tuple[str, ...]
    label_min: float | None

    @property
    def usable(self) -> bool:
        """Whether nothing rules it out."""
        return not self.ruled_out

    def glue(self) -> Glue:
        """The glue for the clock, with the working time of its family's low end, or what its label must promise."""
        adhesive = self.adhesive
        minutes = adhesive.working_min[0] if self.label_min is None else self.label_min
        return Glue(adhesive.name, minutes, adhesive.temp_c, adhesive.two_part, adhesive.min_temp_c)


def place_of(knowledge: Knowledge, damage: str, method: Method, facts: Facts, findings: Iterable[str]) -> Place:
    """A place from its facts; the gap is the widest that a reading stands for, the measured figure where there is one."""
    gaps = []
    for name, answer in facts.counted.items():
        sign = knowledge.signs[name]
        for reading in answer.reads:
            number = sign.readings[reading].means.get("gap_mm")
            if number is not None:
                in_mm = sign.measure is not None and sign.measure.unit == "mm" and answer.measured
                gaps.append(length_mm(answer.measured) if in_mm else number)
    values = {**facts.values, words.FINDING: frozenset(findings)}
    return Place(damage, method, values, max(gaps, default=None))


def demand_of(places: Sequence[Place], minutes: float, wood_c: float) -> Demand:
    """What these places ask of one glue together. Raises ValueError for no place."""
    if not places:
        raise ValueError("a glue is chosen for at least one place")
    gaps = [_gap(place) for place in places]
    gap, because = max(gaps, key=lambda found: found[0])
    return Demand(tuple(places), gap, because, minutes, wood_c)


def _gap(place: Place) -> tuple[float, str]:
    if place.gap_mm is None:
        return CLOSE_FIT_MM, f"the gap was not measured; the dry fit must show {CLOSE_FIT_MM:g} mm or less"
    if place.method.strength in FIT_MADE_NEW:
        if place.gap_mm > CLOSE_FIT_MM:
            return CLOSE_FIT_MM, f"{place.gap_mm:g} mm was found and is closed with wood first, to {CLOSE_FIT_MM:g} mm or less"
        return CLOSE_FIT_MM, f"the fit is made new, to {CLOSE_FIT_MM:g} mm or less"
    return place.gap_mm, f"a gap of {place.gap_mm:g} mm was found"


def _holds(ground: Ground, places: Iterable[Place]) -> bool:
    return any(
        satisfied(ground.when, place.values) is True and closed(ground.unless, place.values) is not True for place in places
    )


def _limits(adhesive: Adhesive, demand: Demand) -> Mapping[str, tuple[bool, str, str]]:
    """By figure: whether it is kept, what is said if not, what is said if so."""
    lasts = adhesive.working_min[1] * _slower(adhesive, demand)
    return {
        "gap_max_mm": (
            demand.gap_mm <= adhesive.gap_max_mm + 1e-9,
            f"bridges {adhesive.gap_max_mm:g} mm at most, and {demand.gap_because}",
            f"bridges {adhesive.gap_max_mm:g} mm, and {demand.gap_because}",
        ),
        "min_temp_c": (
            demand.wood_c >= adhesive.min_temp_c,
            f"wants wood of {adhesive.min_temp_c:g} °C or more, and the wood has {demand.wood_c:g} °C",
            f"sets at {demand.wood_c:g} °C (it wants {adhesive.min_temp_c:g} °C)",
        ),
        "working_min": (
            demand.minutes <= lasts + 1e-9,
            f"stays open {floor(lasts)} min at most, and {ceil(demand.minutes)} min are needed",
            f"stays open for the {ceil(demand.minutes)} min that are needed",
        ),
    }


def _slower(adhesive: Adhesive, demand: Demand) -> float:
    return Glue(adhesive.name, 1.0, adhesive.temp_c, adhesive.two_part).slower(demand.wood_c)


def judge(adhesive: Adhesive, demand: Demand, asked_for: bool = True) -> Ranked:
    """One glue against a demand; `asked_for` is False where the method asks for another glue by name."""
    out = [] if asked_for else ["the method chosen is done with another glue"]
    doubts: list[str] = []
    against: list[str] = []
    wanted: list[str] = []
    answers: list[str] = []
    for ground in adhesive.grounds:
        if _holds(ground, demand.places):
            {"never": out, "against": against, "for": wanted}[ground.says].append(ground.because)
    for figure, (kept, fault, merit) in _limits(adhesive, demand).items():
        if figure == "working_min" and not demand.minutes:
            continue
        if kept:
            answers.append(merit)
        elif adhesive.known_by.get(figure, "judgement") in _READ:
            out.append(fault)
        else:
            doubts.append(f"{fault} (a figure as remembered; see the label)")
    slower = _slower(adhesive, demand)
    label = None
    if slower and adhesive.working_min[0] * slower < demand.minutes <= adhesive.working_min[1] * slower + 1e-9:
        label = min(ceil(demand.minutes / slower), adhesive.working_min[1])
        against.append(
            f"only one that by its label or a trial on scrap stays open {label:g} min or more at {adhesive.temp_c:g} °C will do"
        )
    if not adhesive.reversible:
        against.append("cannot be undone later")
    return Ranked(adhesive, tuple(out), tuple(doubts), tuple(against), tuple(wanted), tuple(answers), label)


def rank(adhesives: Iterable[Adhesive], demand: Demand) -> tuple[Ranked, ...]:
    """Every glue, best first: not ruled out, fewest doubts, least against it over what asks for it, fewest hazards, soonest out of
    clamps, and of equals the one that fills least.
    """
    known = list(adhesives)
    named = {name for adhesive in known for name in adhesive.methods}
    wanted = {place.method.id for place in demand.places} & named
    judged = [judge(adhesive, demand, wanted <= set(adhesive.methods)) for adhesive in known]
    return tuple(
        sorted(
            judged,
            key=lambda r: (
                len(r.ruled_out),
                len(r.doubts),
                len(r.against) - len(r.wanted),
                len(r.adhesive.hazards),
                r.adhesive.clamp_min[1],
                r.adhesive.gap_max_mm,
                r.adhesive.id,
            ),
        )
    )
