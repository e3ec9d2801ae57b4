"""Plates: the line drawings of the field guide. A family is one function; a plate is a family with its parameters."""

from collections.abc import Callable, Mapping
from inspect import Parameter, signature
from random import Random

from diagnose.documents.plates import canvas
from diagnose.documents.plates.board_edge import board_edge
from diagnose.documents.plates.board_made import board_made
from diagnose.documents.plates.board_strip import board_strip
from diagnose.documents.plates.break_begins import break_begins
from diagnose.documents.plates.broken_faces import broken_faces
from diagnose.documents.plates.broken_part import broken_part
from diagnose.documents.plates.case_from_behind import case_from_behind
from diagnose.documents.plates.catch_plate import catch_plate
from diagnose.documents.plates.crack import crack
from diagnose.documents.plates.cut_section import cut_section
from diagnose.documents.plates.decay import decay
from diagnose.documents.plates.door_in_frame import door_in_frame
from diagnose.documents.plates.door_panel_edge import door_panel_edge
from diagnose.documents.plates.dowels_apart import dowels_apart
from diagnose.documents.plates.drawer_cut import drawer_cut
from diagnose.documents.plates.drawer_edge import drawer_edge
from diagnose.documents.plates.drop_on_wood import drop_on_wood
from diagnose.documents.plates.face_section import face_section
from diagnose.documents.plates.faces_meet import faces_meet
from diagnose.documents.plates.found_inside import found_inside
from diagnose.documents.plates.frame_square import frame_square
from diagnose.documents.plates.glue_films import glue_films
from diagnose.documents.plates.grain_drift import grain_drift
from diagnose.documents.plates.held_width import held_width
from diagnose.documents.plates.hinge_section import hinge_section
from diagnose.documents.plates.hole_dust import hole_dust
from diagnose.documents.plates.hole_glue import hole_glue
from diagnose.documents.plates.joint_apart import joint_apart
from diagnose.documents.plates.joint_barred import joint_barred
from diagnose.documents.plates.joint_cover import joint_cover
from diagnose.documents.plates.joint_face import joint_face
from diagnose.documents.plates.joint_map import joint_map
from diagnose.documents.plates.joint_mouth import joint_mouth
from diagnose.documents.plates.joint_moves import joint_moves
from diagnose.documents.plates.leg_ends import leg_ends
from diagnose.documents.plates.lifted_splinter import lifted_splinter
from diagnose.documents.plates.mortise_front import mortise_front
from diagnose.documents.plates.old_mends import old_mends
from diagnose.documents.plates.out_of_line import out_of_line
from diagnose.documents.plates.part_form import part_form
from diagnose.documents.plates.place_ringed import place_ringed
from diagnose.documents.plates.pores import pores
from diagnose.documents.plates.rail_hook import rail_hook
from diagnose.documents.plates.screw_seat import screw_seat
from diagnose.documents.plates.seat_corner import seat_corner
from diagnose.documents.plates.seat_from_below import seat_from_below
from diagnose.documents.plates.slant_length import slant_length
from diagnose.documents.plates.split_board import split_board
from diagnose.documents.plates.stuff_that_harms import stuff_that_harms
from diagnose.documents.plates.tenon_end import tenon_end
from diagnose.documents.plates.threaded_piece import threaded_piece
from diagnose.documents.plates.top_marks import top_marks
from diagnose.documents.plates.top_on_rail import top_on_rail
from diagnose.documents.plates.veneer_face import veneer_face
from diagnose.documents.plates.warped_board import warped_board
from diagnose.documents.plates.wood_on_faces import wood_on_faces
from diagnose.documents.plates.worm_holes import worm_holes
from diagnose.documents.plates.woven_sheet import woven_sheet
from diagnose.documents.plates.year_rings import year_rings
from diagnose.rulebase.entries import Plate
from diagnose.rulebase.fault import nearest

__all__ = ["FAMILIES", "joint_map", "svg"]

# Family → its function: a seeded generator first, then parameters by name, each with a default.
FAMILIES: Mapping[str, Callable[..., str]] = {
    "break_begins": break_begins,
    "broken_faces": broken_faces,
    "broken_part": broken_part,
    "crack": crack,
    "faces_meet": faces_meet,
    "grain_drift": grain_drift,
    "part_form": part_form,
    "cut_section": cut_section,
    "slant_length": slant_length,
    "year_rings": year_rings,
    "pores": pores,
    "lifted_splinter": lifted_splinter,
    "worm_holes": worm_holes,
    "hole_dust": hole_dust,
    "board_made": board_made,
    "board_edge": board_edge,
    "decay": decay,
    "held_width": held_width,
    "split_board": split_board,
    "frame_square": frame_square,
    "warped_board": warped_board,
    "board_strip": board_strip,
    "door_panel_edge": door_panel_edge,
    "joint_cover": joint_cover,
    "woven_sheet": woven_sheet,
    "face_section": face_section,
    "veneer_face": veneer_face,
    "top_marks": top_marks,
    "screw_seat": screw_seat,
    "threaded_piece": threaded_piece,
    "hinge_section": hinge_section,
    "rail_hook": rail_hook,
    "catch_plate": catch_plate,
    "joint_moves": joint_moves,
    "joint_mouth": joint_mouth,
    "hole_glue": hole_glue,
    "tenon_end": tenon_end,
    "dowels_apart": dowels_apart,
    "mortise_front": mortise_front,
    "drop_on_wood": drop_on_wood,
    "wood_on_faces": wood_on_faces,
    "glue_films": glue_films,
    "joint_face": joint_face,
    "place_ringed": place_ringed,
    "door_in_frame": door_in_frame,
    "drawer_cut": drawer_cut,
    "out_of_line": out_of_line,
    "found_inside": found_inside,
    "stuff_that_harms": stuff_that_harms,
    "drawer_edge": drawer_edge,
    "seat_corner": seat_corner,
    "old_mends": old_mends,
    "leg_ends": leg_ends,
    "joint_apart": joint_apart,
    "joint_barred": joint_barred,
    "top_on_rail": top_on_rail,
    "seat_from_below": seat_from_below,
    "case_from_behind": case_from_behind,
}
_KIND_SAY = {bool: "yes or no", float: "a number", str: "a word"}


def _check(plate: Plate, known: Mapping[str, Parameter]) -> None:
    for name, value in plate.given.items():
        if name not in known:
            raise ValueError(f"plate {plate.id}: {plate.draw} has no {name}; {nearest(name, known)}")
        kind = type(known[name].default)
        if type(value) is not kind:
            raise ValueError(f"plate {plate.id}: {name} is {_KIND_SAY[kind]}, not {value}")


def svg(plate: Plate) -> str:
    """The drawing of a plate as an SVG file; the same plate gives the same text.

    Raises ValueError, in one line that names the plate, for an unknown family, an unknown parameter or a value out of its range.
    """
    family = FAMILIES.get(plate.draw)
    if family is None:
        raise ValueError(f"plate {plate.id}: {plate.draw} is not a family of drawings; {nearest(plate.draw, FAMILIES)}")
    _check(plate, dict(list(signature(family).parameters.items())[1:]))
    try:
        body = family(Random(plate.id), **plate.given)
    except ValueError as error:
        raise ValueError(f"plate {plate.id}: {error}") from None
    return canvas.page(plate.caption, body)
