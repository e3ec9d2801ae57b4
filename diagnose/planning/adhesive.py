"""Which glue: ranked by what the joint asks of it, with the reason for each place. A remembered figure is told but never rules a glue out."""

from collections.abc import Iterable
from dataclasses import dataclass

from diagnose.rulebase.entries import Adhesive


@dataclass(frozen=True)
class Demand:
    """What the glue-up asks: gap in mm, minutes to spread and close, temperature of the wood in °C."""

    gap_mm: float
    minutes: float
    temperature_c: float


@dataclass(frozen=True)
class Ranked:
    """A glue and how well it answers: what rules it out, what speaks against it, what speaks for it."""

    adhesive: Adhesive
    ruled_out: tuple[str, ...]
    against: tuple[str, ...]
    speaks_for: tuple[str, ...]

    @property
    def usable(self) -> bool:
        """Whether nothing rules it out."""
        return not self.ruled_out


def judge(adhesive: Adhesive, demand: Demand) -> Ranked:
    """One glue against a demand."""
    out: list[str] = []
    against: list[str] = []
    good: list[str] = []

    def limit(figure: str, met: bool, fault: str, merit: str) -> None:
        known = adhesive.known_by.get(figure, "judgement")
        if met:
            good.append(merit)
        elif known in ("read", "read_second_hand"):
            out.append(fault)
        else:
            against.append(f"{fault} (figure not from a printed source)")

    limit(
        "gap_max_mm",
        demand.gap_mm <= adhesive.gap_max_mm + 1e-9,
        f"bridges {adhesive.gap_max_mm:g} mm at most, the joint has {demand.gap_mm:g} mm",
        f"bridges the gap of {demand.gap_mm:g} mm",
    )
    limit(
        "min_temp_c",
        demand.temperature_c >= adhesive.min_temp_c,
        f"wants {adhesive.min_temp_c:g} °C, the wood has {demand.temperature_c:g} °C",
        f"sets at {demand.temperature_c:g} °C",
    )
    limit(
        "working_min",
        demand.minutes <= adhesive.working_min[1],
        f"stays open {adhesive.working_min[1]:g} min at most, the glue-up takes {demand.minutes:.0f} min",
        f"stays open up to {adhesive.working_min[1]:g} min for {demand.minutes:.0f} min of work",
    )
    if adhesive.reversible:
        good.append("can be undone with " + " or ".join(word.replace("_", " ") for word in adhesive.reversible[:2]))
    else:
        against.append("cannot be undone later")
    return Ranked(adhesive, tuple(out), tuple(against), tuple(good))


def rank(adhesives: Iterable[Adhesive], demand: Demand) -> tuple[Ranked, ...]:
    """Every glue, best first: usable before ruled out, fewer objections, fewer hazards, sooner out of the clamps, then by name."""
    judged = [judge(adhesive, demand) for adhesive in adhesives]
    return tuple(
        sorted(
            judged,
            key=lambda r: (
                len(r.ruled_out),
                len(r.against),
                len(r.adhesive.hazards),
                r.adhesive.clamp_min[1],
                r.adhesive.id,
            ),
        )
    )
