"""Sub-commands of `diagnose calc` about glue and clamps."""

from typing import Annotated, Literal

import typer

from diagnose.cli.calc_show import (
    Answer,
    Area,
    Factor,
    Length,
    MaybeTemperature,
    MaybeTime,
    Row,
    Stress,
    Temperature,
    Time,
    command,
)  # fmt: skip
from diagnose.mechanics import adhesives

Family = Annotated[str, typer.Argument(metavar="GLUE", help="A family, as in `glues`.")]


def _span(low_high: tuple[float, float], remembered: bool) -> str:
    low, high = low_high
    return (f"{low:g}" if low == high else f"{low:g}-{high:g}") + ("*" if remembered else "")


def add_to(app: typer.Typer) -> None:
    """Adds these commands to the app."""

    @command(app, "glues")
    def glues() -> Answer:
        """List the glue families with working time, clamp time, gap and water class."""
        rows = []
        for name, g in adhesives.GLUES.items():
            works = _span(g.working_min, g.working_by == "memory")
            clamps = _span(g.clamp_min, g.clamp_by == "memory")
            rows.append(f"{name:22} works {works} min, clamps {clamps} min, gap {g.gap_mm:g}* mm, water {g.water}*")
        return [*rows, "* remembered, not a published figure; the others are range hints from trade tables."]

    @command(app, "working-time")
    def working(family: Family, at: MaybeTemperature = None, label_at_25: MaybeTime = None) -> Answer:
        """Working time at the wood's temperature (two-part chemical cures only)."""
        rows: list[Row | str] = [("Working time", adhesives.working_time(family, at, label_at_25))]
        cold = None if at is None else adhesives.too_cold(family, at)
        return [*rows, *([cold] if cold else []), "The label on the bottle always wins."]

    @command(app, "too-cold")
    def cold(family: Family, at: Temperature) -> Answer:
        """Whether the wood is too cold for a glue."""
        return [adhesives.too_cold(family, at) or f"{family} may be used at {at:g} °C; the label on the bottle wins."]

    @command(app, "clamp")
    def clamp(
        area: Area,
        gravity: Factor,
        joints: Annotated[int, typer.Option(metavar="COUNT")] = 1,
        arranged: Annotated[Literal["series", "parallel"], typer.Option()] = "series",
    ) -> Answer:
        """Clamp pressure for a wood, and the force all clamps give together."""
        hardness = adhesives.hardness_of(gravity)
        pressure = adhesives.clamp_pressure(hardness)
        force = adhesives.clamp_force(area, pressure.value, joints, arranged)
        return [f"The wood counts as {hardness}.", ("Pressure", pressure), ("Force", force)]

    @command(app, "press")
    def press(ram_pressure: Stress, ram_area: Area, work_area: Area) -> Answer:
        """Pressure on the work under a press."""
        return [("Pressure", adhesives.press_pressure(ram_pressure, ram_area, work_area))]

    @command(app, "glue-gap")
    def glue_gap(gap: Length) -> Answer:
        """Glue families that are said to bridge a gap with strength (remembered limits)."""
        return [(name, adhesives.gap_limit(name)) for name in adhesives.families_for(gap)]

    @command(app, "latest-closing")
    def closing(limit: Time, start: Time = 0.0) -> Answer:
        """Minute by which the last clamp should be on."""
        return [("Latest closing", adhesives.latest_closing(start, limit))]
