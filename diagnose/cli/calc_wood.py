"""Sub-commands of `diagnose calc` about wood: properties, grain, moisture, movement."""

from typing import Annotated, Literal

import typer

from diagnose.cli.calc_show import Answer, Factor, Length, MaybeFactor, Percent, Row, Slope, Temperature, command
from diagnose.mechanics import crossgrain, grain, moisture, wood
from diagnose.rulebase.woods import UnknownWood, Wood, find_wood, load_woods

WoodName = Annotated[str, typer.Argument(metavar="WOOD", help="Id or name, as in `woods`.")]


def _movement_of(found: Wood, cut: str) -> tuple[float, str]:
    coefficient = found.coef_r if cut == "quarter" else found.coef_t
    how = "remembered" if found.movement_known_by == "memory" else found.movement_known_by
    return coefficient, f"{found.name}: {coefficient:.5f} per % MC ({found.movement_source}; {how})"


def add_to(app: typer.Typer) -> None:
    """Adds these commands to the app."""

    @command(app, "woods")
    def woods(find: Annotated[str, typer.Option(help="Only those whose id or name holds this.")] = "") -> Answer:
        """List the woods with gravity at 12 %, pores, bonding and blotching."""
        rows = [w for w in load_woods().values() if find.lower() in (w.id + " " + w.name).lower()]
        if not rows:
            raise UnknownWood(f"no wood holds {find!r} in its name; leave --find out to see all")
        return [
            f"{w.id:22} {w.name:28} G {w.gravity_12:<6g} {w.group:15} bonds {w.bonding.replace('_', ' '):16} blotching {w.blotch}"
            for w in rows
        ]

    @command(app, "wood")
    def one_wood(name: WoodName, at: Percent = 12.0) -> Answer:
        """Strength and movement of a wood, at 12 % or (bending, stiffness, compression, shear) any moisture content."""
        found = find_wood(load_woods(), name)
        out: list[Row | str] = [f"{found.name}: {found.pores.replace('_', ' ')} pores, {found.texture} texture"]
        for prop, label in (
            ("mor", "Bending strength"),
            ("moe", "Modulus of elasticity"),
            ("compression_par", "Compression along the grain"),
            ("shear_par", "Shear along the grain"),
        ):
            out.append((label, found.strength(prop) if at == 12.0 else found.strength_at(prop, at)))
        if at == 12.0:
            out.append(("Compression across the grain", found.strength("compression_perp")))
            out.append(("Tension across the grain", found.strength("tension_perp")))
            out.append(("Side hardness", found.strength("hardness")))
        out += [_movement_of(found, "flat")[1], _movement_of(found, "quarter")[1]]
        return out

    @command(app, "unknown-wood")
    def unknown(
        kind: Annotated[Literal["softwood", "hardwood"], typer.Option()],
        gravity: MaybeFactor = None,
        weight: Annotated[str, typer.Option(help="very_light, light, medium, heavy, very_heavy")] = "medium",
    ) -> Answer:
        """Properties of a wood nobody can name, from its gravity at 12 % or its weight in the hand."""
        out: list[Row | str] = []
        if gravity is None:
            figure = wood.gravity_of_class(weight)
            gravity = figure.value
            out.append(("Gravity taken", figure))
        names = {"mor": "Bending strength", "moe": "Modulus", "shear_par": "Shear along the grain"}
        names |= {"compression_perp": "Compression across the grain", "tension_perp": "Tension across the grain"}
        return out + [(label, wood.unknown_wood(prop, gravity, kind)) for prop, label in names.items()]

    @command(app, "gravity")
    def gravity_at(green: Factor, at: Percent = 12.0) -> Answer:
        """Gravity on the volume at a moisture content, from gravity on green volume."""
        return [("Gravity", wood.gravity_at_moisture(green, at))]

    @command(app, "density")
    def density(gravity: Factor, at: Percent = 12.0) -> Answer:
        """Density from gravity and moisture content."""
        return [("Density", wood.density(gravity, at))]

    @command(app, "warmth")
    def warmth(at: Temperature, of: Annotated[str, typer.Option()] = "bending") -> Answer:
        """What warmth leaves of a property of dry wood (bending, moe, compression_par, tension_par)."""
        return [("Share left", wood.warmth_factor(of, at))]

    @command(app, "slope")
    def slope(slope: Slope, of: Annotated[str, typer.Option()] = "bending") -> Answer:
        """What a slope of grain leaves of a property (bending, impact, compression, tension, stiffness, toughness)."""
        out: list[Row | str] = [("Share of straight-grained strength", grain.slope_share(slope, of))]
        if of in grain.TABLE_5_12 and slope <= 0.2:
            out.append(("The same by the Handbook's table", grain.slope_share_by_table(slope, of)))
        return out

    @command(app, "runout")
    def runout(face: Slope, side: Slope) -> Answer:
        """True slope of grain from the slopes on two faces at right angles."""
        true = grain.runout(face, side)
        return [("True slope", true), ("Share of bending strength", grain.slope_share(true.value))]

    @command(app, "slope-of-break")
    def slope_of_break(length: Length, thickness: Length) -> Answer:
        """Slope of grain a broken part had, from a break that followed the grain."""
        return [("Slope of grain", grain.slope_of_break(length, thickness))]

    @command(app, "steepest-slope")
    def steepest(keep: Percent) -> Answer:
        """Steepest slope of grain a new part may have to keep a share of straight-grained bending strength."""
        return [("Steepest slope", grain.steepest_slope(keep / 100))]

    @command(app, "hankinson")
    def hankinson(along: Factor, across: Factor, angle: Factor, n: Factor = 2.0) -> Answer:
        """Strength at an angle (degrees) to the grain from strengths along and across it."""
        return [("Strength at the angle", grain.hankinson(along, across, angle, n))]

    @command(app, "emc")
    def emc(humidity: Percent, temperature: Temperature) -> Answer:
        """Moisture content wood comes to in a room."""
        return [("Moisture content", moisture.emc(humidity, temperature))]

    @command(app, "meter")
    def meter(wood_at: Temperature, calibrated: Temperature = 20.0) -> Answer:
        """What to add to a resistance meter's reading in cold or warm wood."""
        return [("Correction", moisture.meter_correction(wood_at, calibrated))]

    @command(app, "movement")
    def movement(
        name: WoodName,
        width: Length,
        dry_humidity: Percent,
        damp_humidity: Percent,
        dry_at: Temperature = 20.0,
        damp_at: Temperature = 20.0,
        cut: Annotated[Literal["flat", "quarter"], typer.Option()] = "flat",
    ) -> Answer:
        """How far a width moves between a dry and a damp season."""
        coefficient, note = _movement_of(find_wood(load_woods(), name), cut)
        low, high = moisture.season_swing((dry_humidity, dry_at), (damp_humidity, damp_at))
        moved = moisture.movement(width, coefficient, low.value, high.value)
        return [note, ("Dry season", low), ("Damp season", high), ("Movement", moved)]

    @command(app, "cross-grain")
    def cross(
        name: WoodName,
        held: Annotated[Literal["fixing", "tenon", "panel", "breadboard"], typer.Option()],
        width: Length,
        made_at: Percent,
        now_at: Percent,
        clearance: Length = 0.0,
        cut: Annotated[Literal["flat", "quarter"], typer.Option()] = "flat",
    ) -> Answer:
        """Whether a part held across the grain splits, binds or loosens between two moisture contents."""
        found = find_wood(load_woods(), name)
        coefficient, note = _movement_of(found, cut)
        perp = found.strength("tension_perp").value
        done = crossgrain.cross_grain(held, width, coefficient, made_at, now_at, clearance, perp, found.moe_mpa)
        out: list[Row | str] = [f"{done.outcome}: {done.because}", note, ("Movement", done.moves), ("Held", done.held)]
        if done.splits_at is not None and done.outcome == "may split":
            out.append(("About what it stands", done.splits_at))
        return out

    @command(app, "oval-tenon")
    def oval(name: WoodName, diameter: Length, turned_at: Percent, now_at: Percent) -> Answer:
        """What becomes of a round tenon turned at one moisture content when it comes to another."""
        found = find_wood(load_woods(), name)
        done = crossgrain.oval_tenon(diameter, found.coef_r, found.coef_t, turned_at, now_at)
        return [("Widest", done.widest), ("Narrowest", done.narrowest), ("Out of round", done.out_of_round)]
