"""Sub-commands of `diagnose calc` that set a part or joint as it is, or as mended, against as it was made."""

from typing import Annotated, Literal

import typer

from diagnose.cli.calc_show import (
    Answer,
    Factor,
    Length,
    MaybeFactor,
    MaybeLength,
    MaybeSlope,
    Row,
    Run,
    Slope,
    command,
)  # fmt: skip
from diagnose.mechanics import as_made
from diagnose.mechanics.result import Figure

Share = Annotated[float, typer.Option(metavar="SHARE", help="A share, 0 to 1.")]


def _verdict(figure: Figure, stops: tuple[as_made.HardStop, ...] = ()) -> list[Row | str]:
    fit = figure.value >= as_made.FIT_SHARE - 1e-9
    said = "as strong as made, within a tenth" if fit else "falls short of nine tenths of as made"
    if stops:
        said = "not fit to carry load, whatever the number says"
    out: list[Row | str] = [("Strength over as made", figure), said]
    return out + [f"STOP: {stop.say} {stop.because}" for stop in stops]


def add_to(app: typer.Typer) -> None:
    """Adds these commands to the app."""

    @command(app, "ratio-member")
    def member(
        made: Slope = 0.0,
        now: Slope = 0.0,
        left: Share = 1.0,
        lost: Annotated[Literal["depth", "width"], typer.Option()] = "depth",
    ) -> Answer:
        """A part's bending strength now over as made: slope of grain then and now, share of the section left."""
        done = as_made.member_ratio(made, now, left, lost)
        return _verdict(done, as_made.hard_stops(as_made.Conditions(section_share_left=left)))

    @command(app, "ratio-tenon")
    def tenon(
        length: Length, height: Length, rail_width: Length, length_now: MaybeLength = None,
        height_now: MaybeLength = None, gap: Length = 0.0, clean: Share = 1.0, gap_filling: bool = False,
        open_shoulder: bool = False,
    ) -> Answer:  # fmt: skip
        """A mortise and tenon now over as made."""
        made = as_made.TenonSizes(length, height, rail_width)
        now = as_made.TenonSizes(
            length if length_now is None else length_now, height if height_now is None else height_now, rail_width,
            not open_shoulder,
        )  # fmt: skip
        return _verdict(as_made.joint_ratio("mortise_and_tenon", made, now, gap, clean, gap_filling=gap_filling))

    @command(app, "ratio-dowel")
    def dowel(
        diameter: Length, depth: Length, spacing: Length, edge: Length, diameter_now: MaybeLength = None,
        depth_now: MaybeLength = None, gap: Length = 0.0, clean: Share = 1.0, open_shoulder: bool = False,
    ) -> Answer:  # fmt: skip
        """A dowel joint now over as made."""
        made = as_made.DowelSizes(diameter, depth, spacing, edge)
        now = as_made.DowelSizes(
            diameter if diameter_now is None else diameter_now, depth if depth_now is None else depth_now, spacing,
            edge, tight_shoulder=not open_shoulder,
        )  # fmt: skip
        return _verdict(as_made.joint_ratio("dowel", made, now, gap, clean))

    @command(app, "ratio-round-tenon")
    def round_tenon(
        diameter: Length, depth: Length, diameter_now: MaybeLength = None, depth_now: MaybeLength = None,
        gap: Length = 0.0, clean: Share = 1.0,
    ) -> Answer:  # fmt: skip
        """A rung's round tenon now over as made."""
        made = as_made.RoundTenonSizes(diameter, depth)
        now = as_made.RoundTenonSizes(
            diameter if diameter_now is None else diameter_now, depth if depth_now is None else depth_now
        )
        return _verdict(as_made.joint_ratio("round_tenon", made, now, gap, clean))

    @command(app, "ratio-break")
    def broken(
        repair: Annotated[
            Literal["glued_break", "keyed_break", "spliced", "new_part", "patched"], typer.Argument(help="The repair.")
        ],
        run: Run,
        clean: Share = 1.0,
        slope: MaybeSlope = None,
        slope_new: MaybeSlope = None,
        key_depth: MaybeFactor = None,
        key_thickness: Factor = 1 / 3,
        key_reach: Factor = 2.0,
        renewed: Share = 0.0,
    ) -> Answer:
        """A broken part after a repair over as made; without --slope the break is taken to have followed the grain."""
        key = None if key_depth is None else as_made.Key(key_depth, key_thickness, key_reach)
        done = as_made.broken_member_ratio(repair, run, clean, slope, slope_new=slope_new, key=key, renewed_share=renewed)
        conditions = as_made.Conditions(
            break_length_over_thickness=run,
            keyed=repair == "keyed_break",
            renewed=repair in ("spliced", "new_part", "patched"),
        )
        return _verdict(done, as_made.hard_stops(conditions))

    @command(app, "stops")
    def stops() -> Answer:
        """The named conditions under which no sum makes a repair fit to carry load."""
        return [f"{stop.say} {stop.because} ({stop.source})" for stop in as_made.HARD_STOPS]
