"""Sub-commands of `diagnose calc` about loads, members and reliability."""

from typing import Annotated

import typer

from diagnose.cli.calc_show import (
    Angle,
    Answer,
    Factor,
    Force,
    Length,
    Mass,
    Percent,
    Row,
    Stress,
    Volume,
    command,
)  # fmt: skip
from diagnose.mechanics import casework, loads, members, reliability
from diagnose.mechanics.result import Figure

Whole = Annotated[int, typer.Option(metavar="COUNT")]


def add_to(app: typer.Typer) -> None:
    """Adds these commands to the app."""
    _seats(app)
    _cases(app)
    _chances(app)


def _seats(app: typer.Typer) -> None:
    @command(app, "sit")
    def sit(mass: Mass = loads.DESIGN_USER_KG) -> Answer:
        """Peak forces on seat and back when somebody drops into a chair."""
        seat, back = loads.hard_sitting(mass)
        return [("On the seat", seat), ("On the back", back)]

    @command(app, "lean")
    def lean(force: Force, at: Length, rail: Length, stretchers: bool = False) -> Answer:
        """Moments in a side frame when the back is pushed and the rear feet are stopped."""
        done = loads.leaning_back(force, at, rail, stretchers)
        return [("In the post above the rail", done.above), ("At the joint of rail and back leg", done.joint)]

    @command(app, "balance")
    def balance(mass: Mass, rail: Length, rake: Angle = 0.0, dynamic: Factor = 1.0) -> Answer:
        """Moment at one back joint when somebody balances on the rear legs."""
        return [("At one joint", loads.balancing_back(mass, rail, rake_deg=rake, dynamic=dynamic))]

    @command(app, "scoot")
    def scoot(mass: Mass, rail: Length, friction: Factor = 0.4, legs: Whole = 2) -> Answer:
        """Moment at the top of a leg when somebody seated drags the chair sideways."""
        return [("At one leg", loads.scooting(mass, friction, rail, legs))]

    @command(app, "arm")
    def arm(force: Force, height: Length, joints: Whole = 2) -> Answer:
        """Moment at the joints of an arm pushed outwards."""
        return [("At each joint", loads.arm_moment(force, height, joints))]

    @command(app, "racking")
    def racking(push: Force, height: Length, legs: Whole = 4, one_stopped: bool = False) -> Answer:
        """Moment at a table's leg joints when it is pushed sideways."""
        return [("At each joint", loads.racking(push, height, legs, one_stopped))]

    @command(app, "test-loads")
    def test_loads() -> Answer:
        """Published test loads that were seen in a text."""
        return [
            f"{name:18} {load.value:g} {load.unit}: {load.what} ({load.source}; {load.known_by.replace('_', ' ')})"
            for name, load in loads.TEST_LOADS.items()
        ]


def _cases(app: typer.Typer) -> None:
    @command(app, "beam")
    def beam(
        load: Force, span: Length, width: Length, depth: Length, modulus: Stress,
        case: Annotated[str, typer.Option(help="How it is loaded and held, e.g. uniform_simple.")] = "uniform_simple",
    ) -> Answer:  # fmt: skip
        """Sag of a beam and the bending stress in it, soon after loading."""
        done = members.sag(load, span, width, depth, modulus, case)
        moment = members.LARGEST_MOMENT[case] * load * span / members.section_modulus(width, depth).value
        stress = Figure(moment, "MPa", "k W L/(b h^2/6)", "statics; Wood Handbook Eq 9-13", "derived")
        return [("Sag", done), ("Largest bending stress", stress)]

    @command(app, "shelf")
    def shelf(
        span: Length, depth: Length, thickness: Length, modulus: Stress,
        load: Annotated[str, typer.Option(help="books or kitchen")] = "books",
        clamped: bool = False,
    ) -> Answer:  # fmt: skip
        """Sag of a loaded shelf after years."""
        weight = casework.shelf_load(load, span, depth)
        sag = casework.shelf_sag(weight.value, span, depth, thickness, modulus, clamped)
        return [("Load", weight), ("Sag after years", sag)]

    @command(app, "drawer")
    def drawer(volume: Volume) -> Answer:
        """Weight of a full drawer."""
        return [("Contents", casework.drawer_load(volume))]

    @command(app, "tip")
    def tip(
        mass: Mass, behind: Length, pull: Force = 0.0, pull_height: Length = 0.0, edge_load: Force = 0.0,
        reach: Length = 0.0,
    ) -> Answer:  # fmt: skip
        """Whether a case piece goes over: holding over tipping moment about the front feet."""
        return [("Holding over tipping", casework.tipping(mass, behind, pull, pull_height, edge_load, reach))]

    @command(app, "tip-rule")
    def tip_rule(height: Length, mass: Mass, volume: Volume) -> Answer:
        """Whether the US clothing-storage stability rule speaks to a piece made after 1 September 2023."""
        says = "speaks to it" if casework.tip_rule_applies(height, mass, volume) else "does not speak to it"
        return [f"The rule (16 CFR 1261, ASTM F2057-23 scope) {says}; check current local law."]


def _chances(app: typer.Typer) -> None:
    @command(app, "chance")
    def chance(strength: Factor, strength_cov: Factor, load: Factor, load_cov: Factor) -> Answer:
        """Chance that the hardest load within the horizon exceeds a strength (means in one unit, COVs as shares)."""
        four = (strength, strength_cov, load, load_cov)
        return [("Safety index", reliability.safety_index(*four)), ("Chance", reliability.chance_of_failing(*four))]

    @command(app, "fatigue")
    def fatigue(
        step: Annotated[list[str], typer.Option(help="LEVEL%xCYCLES, e.g. 40%x25000; may be repeated.")],
    ) -> Answer:
        """Share of a two-pin dowel joint's life that steps of repeated load use up."""
        steps: list[tuple[float, float]] = []
        for text in step:
            level, _, cycles = text.replace(" ", "").partition("x")
            try:
                steps.append((float(level.rstrip("%")), float(cycles)))
            except ValueError:
                raise ValueError(f"{text!r} is no step; write it like 40%x25000") from None
        rows: list[Row | str] = [(f"Life at {level:g} %", reliability.cycles_to_failure(level)) for level, _ in steps]
        return [*rows, ("Life used up", reliability.miner_sum(tuple(steps)))]

    @command(app, "stepped-test")
    def stepped(start: Percent, step: Percent, cycles: Factor = 25_000) -> Answer:
        """Level of the step in which a dowel joint fails when the load is raised after each block of cycles."""
        return [("Fails in the step", reliability.level_of_stepped_test(start, step, cycles))]

    @command(app, "board-fatigue")
    def board(board: Annotated[str, typer.Option(help="plywood, osb, particleboard")], cycles: Factor) -> Answer:
        """Share of bending strength a board member stands for a number of cycles."""
        return [("Share of strength", reliability.composite_fatigue_share(board, cycles))]

    @command(app, "tolerance")
    def tolerance(mean: Factor, sd: Factor, tests: Whole, confidence: Percent, proportion: Percent) -> Answer:
        """Strength that a proportion of all joints exceeds with a confidence, from a sample of tests."""
        share = (confidence / 100, proportion / 100)
        return [
            ("Factor k", reliability.tolerance_factor(tests, *share)),
            ("Lower limit", reliability.lower_tolerance_limit(mean, sd, tests, *share)),
        ]
