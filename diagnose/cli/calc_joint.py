"""Sub-commands of `diagnose calc` about joints and fasteners."""

from typing import Annotated, Literal

import typer

from diagnose.cli.calc_show import (
    Answer,
    Area,
    Factor,
    Force,
    Length,
    MaybeFactor,
    Percent,
    Row,
    Run,
    Stress,
    command,
)  # fmt: skip
from diagnose.mechanics import endjoints, fasteners, fit, joints, lateral

Clean = Annotated[float, typer.Option(metavar="SHARE", help="Share of the face that is clean and glued, 0 to 1.")]
KindOfWood = Annotated[Literal["softwood", "hardwood"], typer.Option()]


def add_to(app: typer.Typer) -> None:
    """Adds these commands to the app."""
    _glued(app)
    _fastened(app)


def _glued(app: typer.Typer) -> None:
    @command(app, "dowel")
    def dowel(diameter: Length, depth: Length, shear_member: Stress, shear_dowel: Stress) -> Answer:
        """Force that draws a glued dowel out of side grain: by the remembered formula, and by lowest tested bond."""
        return [
            ("By formula", joints.dowel_withdrawal(diameter, depth, shear_member, shear_dowel)),
            ("By area, lowest bond in tests", joints.dowel_withdrawal_by_area(diameter, depth)),
        ]

    @command(app, "dowel-joint")
    def dowel_joint(
        diameter: Length,
        depth: Length,
        shear_member: Stress,
        shear_dowel: Stress,
        spacing: Length,
        edge: Length,
        rail_thickness: Length = 22.0,
        open_shoulder: bool = False,
    ) -> Answer:
        """Moment a two-dowel joint stands, in the plane of the frame and across it."""
        pull = joints.dowel_withdrawal(diameter, depth, shear_member, shear_dowel)
        low = joints.dowel_withdrawal_by_area(diameter, depth)
        return [
            ("In the plane", joints.two_dowel_moment(pull, spacing, edge, not open_shoulder)),
            ("In the plane, lowest bond in tests", joints.two_dowel_moment(low, spacing, edge, not open_shoulder)),
            ("Across the frame", joints.dowels_out_of_plane(pull, 2, rail_thickness)),
        ]

    @command(app, "tenon")
    def tenon(length: Length, height: Length, rail_width: Length, shear: Stress, open_shoulder: bool = False) -> Answer:
        """Moment a mortise and tenon stands."""
        return [("Moment", joints.tenon_moment(length, height, rail_width, shear, not open_shoulder))]

    @command(app, "loose-tenon")
    def loose_tenon(
        length_rail: Length, length_post: Length, height: Length, rail_width: Length, shear: Stress,
        open_shoulder: bool = False,
    ) -> Answer:  # fmt: skip
        """Moment a loose tenon stands."""
        done = joints.loose_tenon_moment(length_rail, length_post, height, rail_width, shear, not open_shoulder)
        return [("Moment", done)]

    @command(app, "round-tenon")
    def round_tenon(diameter: Length, depth: Length, bending_strength: Stress) -> Answer:
        """Moment that breaks a round tenon without shoulder, and the force that draws it out."""
        return [
            ("Breaks at", joints.round_tenon_moment(diameter, bending_strength)),
            ("Draws out at", joints.dowel_withdrawal_by_area(diameter, depth)),
        ]

    @command(app, "corner-block")
    def block(leg: Length, height: Length, shear: Stress, clean: Clean = 1.0) -> Answer:
        """Force one glued face of a corner block can take (an upper bound)."""
        return [("Force", joints.corner_block(leg, height, shear, clean))]

    @command(app, "gap")
    def gap(gap: Length, gap_filling: bool = False) -> Answer:
        """What a gap in a glued joint leaves of its strength."""
        return [("Share left", fit.gap_factor(gap, gap_filling))]

    @command(app, "coverage")
    def coverage(clean: Clean) -> Answer:
        """What a partly glued face leaves of a joint's strength."""
        return [("Share left", fit.coverage_factor(clean))]

    @command(app, "edge-joint")
    def edge(length: Length, thickness: Length, shear: Stress, tension_across: Stress, clean: Clean = 1.0) -> Answer:
        """Shear force along an edge joint and the moment that opens it."""
        return [
            ("Shear along the joint", endjoints.edge_joint_shear(length, thickness, shear, clean)),
            ("Opens at", endjoints.edge_joint_moment(length, thickness, tension_across, clean)),
        ]

    @command(app, "butt")
    def butt(tension: Stress) -> Answer:
        """The most an end-grain butt joint reaches."""
        return [("At most", endjoints.end_grain_butt(tension))]

    @command(app, "scarf")
    def scarf(run: Run, stress: Stress = 50.0) -> Answer:
        """Share of solid strength a scarf reaches, and the shear in its glue."""
        return [
            ("Share of solid bending strength", endjoints.scarf_efficiency(run)),
            ("Shear in the glue", endjoints.scarf_glue_shear(stress, run)),
        ]

    @command(app, "glue-area")
    def glue_area(glued: Area, section: Area) -> Answer:
        """Whether an end joint has ten times the section in glue."""
        return [("Glued area over ten sections", endjoints.glue_area_share(glued, section))]

    @command(app, "break")
    def broken(run: Run, clean: Clean) -> Answer:
        """Share of solid strength a glued fracture reaches."""
        return [("Share of straight solid strength", endjoints.glued_break(run, clean))]


def _fastened(app: typer.Typer) -> None:
    @command(app, "wood-screw")
    def screw(gravity: Factor, shank: Length, thread: Length, end_grain: bool = False) -> Answer:
        """Force that draws a wood screw out."""
        return [("Withdrawal", fasteners.screw_withdrawal(gravity, shank, thread, end_grain))]

    @command(app, "lag")
    def lag(gravity: Factor, shank: Length, thread: Length, end_grain: bool = False) -> Answer:
        """Force that draws a lag screw or hanger bolt out."""
        return [("Withdrawal", fasteners.lag_withdrawal(gravity, shank, thread, end_grain))]

    @command(app, "nail")
    def nail(gravity: Factor, diameter: Length, depth: Length) -> Answer:
        """Force that draws a smooth nail out of side grain."""
        return [("Withdrawal", fasteners.nail_withdrawal(gravity, diameter, depth))]

    @command(app, "side-load")
    def side(
        fastener: Annotated[Literal["nail", "wood-screw", "lag"], typer.Option()],
        gravity: Factor, diameter: Length, kind: KindOfWood,
    ) -> Answer:  # fmt: skip
        """Sideways load of a nail, screw or lag screw at the proportional limit."""
        return [("Side load", lateral.side_load(fastener, gravity, diameter, kind))]

    @command(app, "pilot-hole")
    def pilot(root: Length, kind: KindOfWood, gravity: MaybeFactor = None) -> Answer:
        """Lead hole for the thread of a wood screw, by kind of wood and by density."""
        rows: list[Row | str] = [("Hole", fasteners.pilot_hole(root, kind))]
        if gravity is not None:
            rows.append(("By density (remembered rule)", fasteners.pilot_hole_by_density(root, gravity)))
        return rows

    @command(app, "distance")
    def distance(diameter: Length, where: Annotated[str, typer.Option()]) -> Answer:
        """Least spacing, end or edge distance of a bolt or lag screw."""
        return [("Distance", fasteners.edge_or_end(where, diameter))]

    @command(app, "insert")
    def insert() -> Answer:
        """What to do about a threaded insert (no sum is known)."""
        return [f"{advice.say} ({advice.source})" for advice in fasteners.insert_guidance()]

    @command(app, "notched-shear")
    def shear(force: Force, width: Length, depth: Length, left: Percent = 100.0) -> Answer:
        """Largest shear stress where only part of a rectangular section's depth is left."""
        from diagnose.mechanics.members import shear_stress

        return [("Shear stress", shear_stress(force, width * depth * left / 100))]
