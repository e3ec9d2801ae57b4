"""The closed lists of the language: every word that the program itself must know, each said once.

Everything else (signs, causes, methods, steps, cautions …) is an entry of the rule base and never named in code.
"""

from enum import IntEnum, StrEnum

from diagnose.damage_words import DAMAGE_WORDS


class ExitCode(IntEnum):
    """What the command tells the shell."""

    DONE = 0
    NO = 1
    WRONG_USE = 2
    UNDECIDED = 3
    INTERRUPTED = 130


class Triage(StrEnum):
    """What happens to the piece at the door, gravest last."""

    TAKE_IN = "take_in"
    ISOLATE = "take_in_and_isolate"
    DRY_ONLY = "take_in_to_dry_only"
    REFER = "refer"
    DECLINE = "decline"
    STAYS_OUT = "does_not_come_in"

    @property
    def gravity(self) -> int:
        """0 for the mildest class; the gravest of several rules wins."""
        return list(Triage).index(self)


TRIAGE_SAY = {
    Triage.TAKE_IN: "take in",
    Triage.ISOLATE: "take in and keep apart from other work",
    Triage.DRY_ONLY: "take in to dry only",
    Triage.REFER: "refer to a specialist",
    Triage.DECLINE: "decline",
    Triage.STAYS_OUT: "does not come in",
}


class Verdict(StrEnum):
    """What the table of methods says of each."""

    ADVISED = "advised"
    TIE = "as_good"
    POSSIBLE = "possible"
    NOT_ADVISED = "not_advised"
    OWNERS_TO_SAY = "owners_to_say"
    RULED_OUT = "ruled_out"


# What costs are not weighed for: forbidden, or not ours to say.
SET_ASIDE = frozenset({Verdict.RULED_OUT, Verdict.OWNERS_TO_SAY})
VERDICT_SAY = {
    Verdict.ADVISED: "advised",
    Verdict.TIE: "as good",
    Verdict.POSSIBLE: "possible",
    Verdict.NOT_ADVISED: "not advised",
    Verdict.OWNERS_TO_SAY: "for the owner to say",
    Verdict.RULED_OUT: "ruled out",
}

# Decision class: what the shop says, what the owner reads.
CLASSES: dict[str, tuple[str, str]] = {
    "reglue": ("reglue", "glue it again"),
    "reglue_with_reinforcement": ("reglue with reinforcement", "glue it again and strengthen it"),
    "splice_or_patch_part": ("splice or patch the part", "let new wood into the old part"),
    "replace_part": ("renew the part", "make a new part"),
    "release_restraint": ("free what holds the wood", "free the wood so that it can move"),
    "tighten_or_refit_hardware": ("tighten or refit fixings", "tighten or renew the fixings"),
    "correct_moisture_or_environment": ("put the moisture or the place right", "bring the wood to the right dryness"),
    "treat_infestation": ("deal with the insects", "deal with the insects"),
    "refinish_or_surface_repair": ("mend the surface", "mend the surface"),
    "level_or_trim": ("level or trim", "make it stand level"),
    "refer_to_specialist": ("refer to a specialist", "send it to a specialist"),
    "retire_piece": ("beyond sensible repair", "beyond sensible repair"),
    "no_structural_work": ("no structural work", "no repair needed now"),
}

# The rungs of the ladder: the first that holds is climbed to, no further.
LADDER = ("reglue", "reglue_with_reinforcement", "splice_or_patch_part", "replace_part")

PHASES: dict[str, str] = {
    "record": "Record",
    "isolate": "Keep apart",
    "agree": "Agree",
    "make_safe": "Make safe",
    "take_apart": "Take apart",
    "look_again": "Look again",
    "agree_again": "Agree again",
    "clean": "Clean",
    "dry_or_treat": "Dry or treat",
    "mend_parts": "Mend the parts",
    "make_part": "Make the new part",
    "fit_dry": "Fit dry",
    "rehearse": "Rehearse",
    "mask_and_colour": "Mask and colour",
    "glue": "Glue",
    "cure": "Cure",
    "clean_off": "Clean off",
    "level": "Level",
    "prove_bare": "Prove bare",
    "match_colour": "Match the colour",
    "finish": "Finish",
    "refit": "Refit",
    "cover_back": "Cover back",
    "prove": "Prove under load",
    "hand_over": "Hand over",
}

STATIONS: dict[str, str] = {
    "before_hands_on": "before hands go on it",
    "owner": "talking with the owner",
    "standing": "the piece standing",
    "upside_down": "the piece upside down",
    "break": "at the break",
    "inside_joint": "inside the opened joint",
    "wood": "the wood itself",
    "movement": "how it moves with the seasons",
    "hardware": "screws and fittings",
    "surface": "the surface",
}

EFFORTS = ("ask", "look", "smell", "touch", "measure", "trial", "take_apart", "wait", "send_out")

# Where one works: which efforts are possible there.
PLACES: dict[str, frozenset[str]] = {
    "photos": frozenset({"ask", "look"}),
    "counter": frozenset({"ask", "look", "smell", "touch", "measure"}),
    "bench": frozenset(EFFORTS),
}
# The papers for the owner's hands, in the order in which a piece meets them.
LETTERS = ("until_you_bring_it", "receipt", "estimate", "hand_over", "for_the_insurer")
# Stations that cannot be reached before the joint is opened, and those a picture cannot show.
CLOSED_STATIONS: dict[str, frozenset[str]] = {
    "photos": frozenset({"inside_joint", "wood"}),
    "counter": frozenset({"inside_joint"}),
    "bench": frozenset(),
}

ROLES: dict[str, str] = {
    "made_in": "What was weak from the start",
    "grew": "What weakened it with the years",
    "hands": "What earlier hands did",
    "set_off": "What finished it",
}

FAMILIES = (
    "bond",
    "wood",
    "load",
    "fit",
    "hardware",
    "moisture",
    "biology",
    "earlier_repair",
    "material",
    "setting",
)


DAMAGES: dict[str, str] = {kind: said.name for kind, said in DAMAGE_WORDS.items()}

JOINT_KINDS: dict[str, str] = {
    "mortise_and_tenon": "mortise and tenon",
    "dowel": "dowels",
    "round_tenon": "round tenon in a hole",
    "edge_joint": "boards glued edge to edge",
    "screwed": "screws",
    "bolted": "bolts",
    "dovetail": "dovetails",
    "housing": "a board end in a groove or rebate",
    "mitre": "mitre",
    "veneer_bond": "veneer glued on its ground",
    "lamination": "layers glued together",
    "knock_down": "fittings made to come apart",
    "hinged": "a hinge",
    "nailed": "nails",
    "none": "no joint here",
}

JOINT_STATES: dict[str, str] = {
    "tight": "tight",
    "moves": "moves",
    "open": "open",
    "broken": "broken",
    "cannot_be_reached": "cannot be reached",
    "not_tried": "not tried",
}
SLACK_STATES = frozenset({"moves", "open", "broken"})
COUNT_WORDS = ("none", "one", "two", "three_or_more")

CARRIES: dict[str, str] = {
    "person": "a person's weight",
    "goods": "things",
    "locates": "only keeps other parts in place",
    "shows": "nothing, it is only seen",
}

# What happens if it goes, mildest first. Money is never weighed against the last two.
CONSEQUENCES: dict[str, str] = {
    "looks": "it would only look worse",
    "nuisance": "it would be a nuisance",
    "goods": "things could be damaged",
    "somebody_falls": "somebody could fall",
    "fall_from_height_or_child": "somebody could fall from a height, or a child could be hurt",
}
NOT_FOR_MONEY = frozenset({"somebody_falls", "fall_from_height_or_child"})
LOOKS = "looks"
# Damages that take nothing but the looks, whatever the part carries.
ONLY_SEEN = frozenset({"surface"})
# Damages after which a part may give way under what it carries.
MAY_GIVE_WAY = frozenset({"loose", "broken", "split", "fitting", "insect"})
CARRIES_CONSEQUENCE = {"person": "somebody_falls", "goods": "goods", "locates": "nuisance", "shows": "looks"}

EXTENTS: dict[str, str] = {
    "joint": "this joint or part",
    "sub_frame": "this part of the frame",
    "whole_frame": "the whole frame",
    "set": "the whole set",
}
# From full use to none.
END_USES: dict[str, str] = {
    "as_before": "as before",
    "lighter": "lighter use than before",
    "show_only": "to be looked at only",
    "not_to_be_used": "not to be used",
}
# Nobody uses it any more.
GIVEN_UP = frozenset({"show_only", "not_to_be_used"})
BYS: dict[str, str] = {
    "us": "us",
    "caner": "a caner or rush seater",
    "upholsterer": "an upholsterer",
    "conservator": "a conservator",
    "licensed": "a licensed specialist",
    "maker": "the maker or a specialist for the mechanism",
    "workshop": "another workshop that has what it needs",
}
# Who puts a part back into use with tools of a workshop; the others look at it, cover it or answer for it.
WORKSHOPS = frozenset({"us", "workshop"})
# Who makes it whole, the covers included.
TRADES = WORKSHOPS | {"upholsterer", "caner"}
# Where our own earlier repair stands against the term we gave for it.
OUR_TERM: dict[str, str] = {"within": "inside our term", "past": "past our term"}
TIMINGS: dict[str, str] = {
    "now": "now",
    "when_dry": "when the wood is dry and steady",
    "middle_season": "in the middle season, between heating and damp months",
    "look_again": "look again on a date",
}

# What a `when` may ask for besides signs.
CASE_FACTS = (
    "piece",
    "damage",
    "joint",
    "part",
    "carries",
    "wood",
    "consequence",
    "moving_joints",
    "our_term",
)
FINDING = "finding"

# Sizes that may be measured on a case, in mm: of a part, and of a joint (as in the joint map of its piece).
PART_SIZES = ("thickness", "width", "length")
# What the formulas for joints hold for, mm.
JOINT_SIZES: dict[str, tuple[float, float]] = {
    "tenon_length": (5.0, 150.0),
    "tenon_height": (5.0, 200.0),
    "tenon_thickness": (2.0, 100.0),
    "diameter": (3.0, 60.0),
    "depth": (2.0, 150.0),
}

STRENGTH_MODELS = (
    "none",
    "as_found",
    "reglued_joint",
    "rebuilt_joint",
    "doweled_joint",
    "reglued_break",
    "keyed_break",
    "spliced_part",
    "patched_part",
    "new_part",
    "blocks_added",
)
# Readings of a computed strength sign, by the share of the as-made strength that is left.
STRENGTH_READINGS = (("over", 0.6), ("near", 0.9), ("ample", float("inf")))

SPEAKERS: dict[str, str] = {
    "owner": "the owner says",
    "seen": "seen",
    "measured": "measured",
    "photograph": "from a photograph",
}
CANNOT_TELL = "cannot_tell"
SOMETHING_ELSE = "something_else"

LOADS = (
    "a_person_leaning_back",
    "a_person_sitting",
    "a_person_standing_or_climbing",
    "a_person_leaning_on_the_edge",
    "things_on_top",
    "things_on_shelves",
    "a_person_lying",
)

# The body forms that the joint map of a piece may be drawn on, in documents/plates/piece_forms.
BODY_FORMS = (
    "chair",
    "chair_with_arms",
    "slat_back_chair",
    "spindle_chair",
    "chair_on_rockers",
    "crossed_chair",
    "padded_chair",
    "slatted_chair",
    "low_seat_on_legs",
    "high_seat_on_legs",
    "seat_on_frame",
    "settee",
    "slatted_settee",
    "top_on_legs",
    "low_top_on_legs",
    "top_on_gates",
    "top_on_slides",
    "top_on_pillar",
    "slatted_top_on_legs",
    "case_of_drawers",
    "case_with_doors",
    "tall_case_with_doors",
    "case_on_legs",
    "case_of_boards",
    "case_of_shelves",
    "case_with_kneehole",
    "case_with_lid",
    "bedstead",
    "bed_with_bars",
    "bed_over_bed",
    "bed_on_slats",
    "frame",
)

# The families of drawings that a plate may name, one function each in documents/plates.
PLATE_FAMILIES = (
    "broken_part",
    "broken_faces",
    "break_begins",
    "grain_drift",
    "faces_meet",
    "slant_length",
    "crack",
    "cut_section",
    "part_form",
    "year_rings",
    "pores",
    "lifted_splinter",
    "worm_holes",
    "hole_dust",
    "board_made",
    "board_edge",
    "decay",
    "held_width",
    "split_board",
    "frame_square",
    "warped_board",
    "board_strip",
    "door_panel_edge",
    "joint_cover",
    "woven_sheet",
    "face_section",
    "veneer_face",
    "top_marks",
    "screw_seat",
    "threaded_piece",
    "hinge_section",
    "rail_hook",
    "catch_plate",
    "joint_moves",
    "joint_mouth",
    "hole_glue",
    "tenon_end",
    "dowels_apart",
    "mortise_front",
    "drop_on_wood",
    "wood_on_faces",
    "glue_films",
    "joint_face",
    "place_ringed",
    "door_in_frame",
    "drawer_cut",
    "out_of_line",
    "found_inside",
    "stuff_that_harms",
    "drawer_edge",
    "seat_corner",
    "old_mends",
    "leg_ends",
    "joint_apart",
    "joint_barred",
    "top_on_rail",
    "seat_from_below",
    "case_from_behind",
)

_AS_A_CHAIR = (
    "Sit on it with all its feet on the floor. Do not stand on it and do not tip it.",
    "It carries less than before. Sit on it gently and not every day, and never stand on it.",
)
_AS_A_TABLE = (
    "Use it as a table. Do not sit or stand on it, and lift it by the rails, not by the top.",
    "It carries less than before. Put only light things on it, lean on no edge, and lift it by the rails, not by the top.",
)
# How a piece that carries this is used, told to its owner: once it is whole, and while it carries less than before. A piece may say
# it in words of its own.
USE_OF: dict[str, tuple[str, str]] = {
    "a_person_leaning_back": _AS_A_CHAIR,
    "a_person_sitting": _AS_A_CHAIR,
    "a_person_standing_or_climbing": _AS_A_CHAIR,
    "a_person_leaning_on_the_edge": _AS_A_TABLE,
    "things_on_top": _AS_A_TABLE,
    "things_on_shelves": (
        "Keep heavy things low in it, and let nobody climb on it. Empty it before it is moved, and do not drag it.",
        "It carries less than before. Put only light things in it, and let nobody climb on it. Empty it before it is moved.",
    ),
    "a_person_lying": (
        "Use it as a bed. Lie and sit on it, but do not jump on it, and lift it by its rails when it is moved.",
        "It carries less than before. Lie on it quietly, sit on no edge of it, and do not jump on it.",
    ),
}


def certainty(probability: float) -> str:
    """A word for a probability in [0, 1], for people who do not read percentages.

    >>> [certainty(p) for p in (0.97, 0.7, 0.4, 0.2, 0.03)]
    ['almost certain', 'likely', 'quite possible', 'possible', 'unlikely']
    """
    for floor, word in ((0.9, "almost certain"), (0.6, "likely"), (0.35, "quite possible"), (0.1, "possible")):
        if probability >= floor:
            return word
    return "unlikely"


def rounded_percent(probability: float) -> str:
    """A probability in [0, 1] as the page shows it: to 5 %, never a false 0 or 100.

    >>> [rounded_percent(p) for p in (0.01, 0.47, 0.99)]
    ['under 5 %', '45 %', 'over 95 %']
    """
    if probability < 0.05:
        return "under 5 %"
    if probability > 0.95:
        return "over 95 %"
    return f"{round(probability * 20) * 5} %"
