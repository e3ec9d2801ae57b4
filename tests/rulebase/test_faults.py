"""Every fault that `rules check` knows: one change to a faultless rule base, one fault at its place, with its hint."""

import json
import os
import random
import re
import subprocess
import sys
from pathlib import Path

import pytest

from diagnose.assess import assess
from diagnose.case.case import Case, Damage
from diagnose.proof.stories import TOLD_ON, verdicts
from diagnose.reasoning.rulebook import rulebook_of
from diagnose.rulebase import faults
from diagnose.rulebase.check import as_json, as_sarif, check_rules
from diagnose.rulebase.fault import Fault, FaultsFound, Mark
from diagnose.rulebase.load import load_rules
from diagnose.shop import Shop
from tests.rulebase.small import FILES, Change, small_rules

SIGNS, MORE, CAUSES = "signs/break.yaml", "signs/more.yaml", "causes/joint.yaml"
METHODS, STEPS, LOGIC, STORIES = "methods/joint.yaml", "steps/joint.yaml", "logic/bond.yaml", "logic/bond.cases.yaml"


def faults_of(folder: Path) -> list[Fault]:
    return check_rules(load_rules(folder))


def test_the_small_rule_base_has_no_fault_and_its_stories_hold(tmp_path: Path) -> None:
    folder, place = small_rules(tmp_path)
    loaded = load_rules(folder)
    assert check_rules(loaded) == []
    assert place is None
    knowledge = loaded.knowledge()
    assert len(knowledge.stories) == 2
    assert [verdicts(told.story, knowledge) for told in knowledge.stories] == [[], []]


# The name of the test → the change, the code, what the message says, how the hint begins. ‸ marks the place.
BROKEN: dict[str, tuple[Change | tuple[Change, ...], str, str, str]] = {
    # References.
    "unknown sign in shows": (
        Change(CAUSES, "break_path: {along_glue_line: nearly", "‸brake_path: {along_glue_line: nearly"),
        "unknown-id", "brake_path is not a sign", "did you mean break_path?",
    ),
    "unknown reading in shows": (
        Change(CAUSES, "faces_carry: {finish: nearly_always}", "faces_carry: {‸finnish: nearly_always}"),
        "unknown-id", "finnish is not a reading of faces_carry", "did you mean finish?",
    ),
    "unknown cause in treats": (
        Change(METHODS, "finish_on_face: fully", "‸finish_on_faces: fully"),
        "unknown-id", "finish_on_faces is not a cause or family", "did you mean finish_on_face?",
    ),
    "unknown step of a method": (
        Change(METHODS, "steps: [part_joint, scrape_to_bare_wood,", "steps: [part_joint, ‸scrape_to_wood,"),
        "unknown-id", "scrape_to_wood is not a step", "did you mean scrape_to_bare_wood?",
    ),
    "unknown step in after": (
        Change(STEPS, "after: [scrape_to_bare_wood]", "after: [‸scrape_to_bare]"),
        "unknown-id", "scrape_to_bare is not a step", "did you mean scrape_to_bare_wood?",
    ),
    "unknown source": (
        Change(SIGNS, "[{joints_study: table 3}]", "[‸{joint_study: table 3}]"),
        "unknown-id", "joint_study is not a source", "did you mean joints_study?",
    ),
    "unknown source of the scale": (
        Change("scale.yaml", "[common_practice]", "[‸common_practise]"),
        "unknown-id", "common_practise is not a source", "did you mean common_practice?",
    ),
    "unknown caution of a step": (
        Change(STEPS, "hazards: [scraping_dust]", "hazards: [‸scraping_dirt]"),
        "unknown-id", "scraping_dirt is not a caution", "did you mean scraping_dust?",
    ),
    "unknown consumable": (
        Change(STEPS, "{abrasive_sheet: 0.5}", "{‸abrasive_sheets: 0.5}"),
        "unknown-id", "abrasive_sheets is not a consumable", "did you mean abrasive_sheet?",
    ),
    "unknown sign of a hold point": (
        Change(STEPS, "check: {sign: faces_carry,", "check: {sign: ‸face_carries,"),
        "unknown-id", "face_carries is not a sign", "did you mean faces_carry?",
    ),
    "unknown reading of a hold point": (
        Change(STEPS, "reads: old_glue}", "reads: ‸oldglue}"),
        "unknown-id", "oldglue is not a reading of faces_carry", "did you mean old_glue?",
    ),
    "unknown finding of a rule": (
        Change(LOGIC, "- finding: bond_blocked", "- ‸finding: bond_is_blocked"),
        "unknown-id", "bond_is_blocked is not a finding", "did you mean bond_blocked?",
    ),
    "unknown caution of a rule": (
        Change(LOGIC, "- caution: scraping_dust", "- ‸caution: scraping_dusts"),
        "unknown-id", "scraping_dusts is not a caution", "did you mean scraping_dust?",
    ),
    "unknown step required": (
        Change(LOGIC, "- require: scrape_to_bare_wood", "- ‸require: scrape_bare_wood"),
        "unknown-id", "scrape_bare_wood is not a step", "did you mean scrape_to_bare_wood?",
    ),
    "unknown method forbidden": (
        Change(LOGIC, "- caution: scraping_dust", "- ‸forbid: {method: reglue_clean}"),
        "unknown-id", "reglue_clean is not a method", "did you mean reglue_cleaned?",
    ),
    "unknown sign to ask first": (
        Change(LOGIC, "- caution: scraping_dust", "- ‸ask_first: joints_gap"),
        "unknown-id", "joints_gap is not a sign", "did you mean joint_gap?",
    ),
    "unknown sign that a computed one comes from": (
        Change(MORE, "from: [creaks]", "from: [‸creeks]"),
        "unknown-id", "creeks is not a sign", "did you mean creaks?",
    ),
    "unknown rule in a story": (
        Change(STORIES, "never:\n      rules: [finish_stops_glue]", "never:\n      rules: [‸finish_stops_the_glue]"),
        "unknown-id", "finish_stops_the_glue is not one of logic", "did you mean finish_stops_glue?",
    ),
    "unknown class in a story": (
        Change(STORIES, "class: reglue", "class: ‸regleu"),
        "unknown-id", "regleu is not a word for class", "did you mean reglue?",
    ),
    "unknown triage in a story": (
        Change(STORIES, "never:\n", "never:\n      triage: ‸[declined]\n"),
        "unknown-id", "declined is not a word for triage", "did you mean decline?",
    ),
    "unknown method in a story": (
        Change(STORIES, "class: reglue", "method: ‸new_rails"),
        "unknown-id", "new_rails is not a word for method", "did you mean new_rail?",
    ),
    "unknown first cause of a story": (
        Change(STORIES, "first_cause: finish_on_face", "first_cause: ‸finish_on_faces"),
        "unknown-id", "finish_on_faces is not a cause", "did you mean finish_on_face?",
    ),
    "unknown cause that must be likely in a story": (
        Change(STORIES, "first_cause: finish_on_face", "at_least: {‸overlaod: 0.5}"),
        "unknown-id", "overlaod is not a cause", "did you mean overload?",
    ),
    "unknown cause left open in a story": (
        Change(STORIES, "    expect:\n", "    open: [overload, ‸gap_to_wide]\n    expect:\n"),
        "unknown-id", "gap_to_wide is not a cause", "did you mean gap_too_wide?",
    ),
    "unknown sign given by a story": (
        Change(STORIES, "faces_carry: [finish], joint_gap:", "faces_carry: [finish], ‸joints_gap:"),
        "unknown-fact", "joints_gap is neither a fact nor a sign", "did you mean joint_gap?",
    ),
    "unknown reading given by a story": (
        Change(STORIES, "faces_carry: [old_glue]", "faces_carry: ‸[old_gleu]"),
        "unknown-fact", "old_gleu is not a value of faces_carry", "did you mean old_glue?",
    ),
    "story without a damage": (
        Change(STORIES, "given: {piece: chair, damage: loose,", "given: ‸{piece: chair,"),
        "unknown-fact", "a story gives damage, and this one does not", "damage: one of the kinds of damage",
    ),
    # Conditions.
    "unknown fact in a rule": (
        Change(LOGIC, "damage: loose}\n", "‸damages: loose}\n"),
        "unknown-fact", "damages is neither a fact, a sign nor a finding", "did you mean damage?",
    ),
    "method that must know what its gate never asks": (
        Change(METHODS, "strength: reglued_joint", "only_if_known: [‸joint_gap]\n    strength: reglued_joint"),
        "unknown-fact", "joint_gap must be known, and no line of when asks for it", "one of: damage",
    ),
    "unknown value in a rule": (
        Change(LOGIC, "damage: loose}\n", "‸damage: lose}\n"),
        "unknown-fact", "lose is not a value of damage", "did you mean loose?",
    ),
    "gate of a sign that asks a finding": (
        Change(SIGNS, "when: {break_path: along_glue_line}", "when: {‸finding: bond_blocked}"),
        "unknown-fact", "finding cannot be asked here", "one of: ",
    ),
    "gate of a reading that asks another sign": (
        Change(SIGNS, "background: seldom", "background: seldom\n        when: {‸creaks: yes}"),
        "unknown-fact", "creaks cannot be asked here", "one of: carries, consequence, damage",
    ),
    "gate of a reading with an unknown part": (
        Change(SIGNS, "background: seldom", "background: seldom\n        when: {‸part: back_leeg}"),
        "unknown-fact", "back_leeg is not a value of part", "did you mean back_leg?",
    ),
    "gate of a cause that asks a reading": (
        Change(CAUSES, "returns: sometimes", "returns: sometimes\n    when: {‸creaks: yes}"),
        "unknown-fact", "creaks cannot be asked here", "one of: carries, consequence, damage",
    ),
    "step instead of one that is not there": (
        Change(STEPS, "wait: 0 min\n", "wait: 0 min\n    instead_of: [‸part_jiont]\n"),
        "unknown-id", "part_jiont is not a step", "did you mean part_joint?",
    ),
    "place of a step that asks a finding": (
        Change(STEPS, "wait: 0 min\n", "wait: 0 min\n    where: {‸finding: bond_blocked}\n"),
        "unknown-fact", "finding cannot be asked here", "one of: ",
    ),
    "place of a step with an unknown value": (
        Change(STEPS, "wait: 0 min\n", "wait: 0 min\n    unless: {‸damage: lose}\n"),
        "unknown-fact", "lose is not a value of damage", "did you mean loose?",
    ),
    "unknown value in a branch": (
        Change(LOGIC, "damage: loose}\n", "any: [{damage: loose}, {damage: split, ‸joint: dowell}]}\n"),
        "unknown-fact", "dowell is not a value of joint", "did you mean dowel?",
    ),
    "exception of a cause with an unknown value": (
        Change(CAUSES, "- when: {joint: dowel}", "- when: {‸joint: dowels}"),
        "unknown-fact", "dowels is not a value of joint", "did you mean dowel?",
    ),
    # Words of the scale.
    "unknown word in shows": (
        Change(CAUSES, "{finish: nearly_always}", "{finish: ‸nearly_allways}"),
        "unknown-word", "nearly_allways is not a word of the scale", "did you mean nearly_always?",
    ),
    "unknown word of a background": (
        Change(SIGNS, "background: seldom", "background: ‸seldomly"),
        "unknown-word", "seldomly is not a word of the scale", "did you mean seldom?",
    ),
    "unknown word of happens": (
        Change(CAUSES, "happens: common", "happens: ‸commonly"),
        "unknown-word", "commonly is not a word of the scale", "did you mean common?",
    ),
    "unknown word of returns": (
        Change(CAUSES, "returns: by_strength", "returns: ‸by_strenght"),
        "unknown-word", "by_strenght is not a word of the scale", "one of: hardly_ever, nearly_always",
    ),
    "unknown word of keeps": (
        Change(METHODS, "keeps: most", "keeps: ‸mostly"),
        "unknown-word", "mostly is not a word of the scale", "did you mean most?",
    ),
    "unknown word of treats": (
        Change(METHODS, "{load: mostly}", "{load: ‸most}"),
        "unknown-word", "most is not a word of the scale", "did you mean mostly?",
    ),
    "unknown word in the scale itself": (
        Change("scale.yaml", "something_else_returns: sometimes", "something_else_returns: ‸sometime"),
        "unknown-word", "sometime is not a word of the scale", "did you mean sometimes?",
    ),
    # Form.
    "misspelt key": (
        Change(STEPS, "hazards: [scraping_dust]", "‸hazard: [scraping_dust]"),
        "form", "hazard is not known here", "did you mean hazards?",
    ),
    "missing key": (
        Change(LOGIC, "- id: finish_stops_glue\n    protects: bond\n", "- ‸id: finish_stops_glue\n"),
        "form", "protects is missing", "",
    ),
    "unknown kind of entry": (
        Change("cautions.yaml", "cautions:", "‸caution:"),
        "unknown-key", "caution is no kind of entry", "did you mean cautions?",
    ),
    "unknown kind of material": (
        Change("materials/consumables.yaml", "  consumables:", "  ‸consumable:"),
        "unknown-key", "consumable is no kind", "did you mean consumables?",
    ),
    "list where a mapping stands": (
        Change("materials/consumables.yaml", "  consumables:\n    - id", "    ‸- id"),
        "form", "materials is a mapping of lists", "start with consumables",
    ),
    "mapping where a list stands": (
        Change(STORIES, "stories:\n", "stories:\n  ‸first:\n"),
        "form", "stories is a list of stories", "start each with - name",
    ),
    "duplicate id": (
        Change(STEPS, "- id: clamp", "- id: ‸spread_glue"),
        "duplicate", "spread_glue is already given at rules/steps/joint.yaml:24:5", "ids are used once",
    ),
    "duplicate id in another file": (
        Change(
            "more_findings.yaml", "",
            "findings:\n  - id: ‸bond_blocked\n    say: Again\n    sources: [joints_study]\n",
        ),
        "duplicate", "bond_blocked is already given at rules/findings.yaml:2:5", "ids are used once",
    ),
    "duplicate key": (
        Change(STEPS, "why: It holds once it is hard.\n", "why: It holds once it is hard.\n    ‸per: bond\n"),
        "duplicate-key", "per is given twice here", "keep one of them",
    ),
    "two scales": (
        Change("zz.yaml", "", "‸scale:\n  words: {often: 0.6}\n"),
        "duplicate", "the scale is already given at rules/scale.yaml:1:1", "keep one of them",
    ),
    "scale without a word for the owner": (
        Change("scale.yaml", "scale:\n  words", "scale:\n  ‸words").and_here("owner: 0.10, ", ""),
        "form", "off_by does not say how easily an answer is off: owner", "",
    ),
    "likelihood that no answer could move": (
        Change("scale.yaml", "often: 0.60", "often: ‸1"),
        "form", "words.often should be less than 1", "",
    ),
    "word of a closed list": (
        Change(CAUSES, "role: set_off", "role: ‸set_of"),
        "form", "role 'set_of' is none of its words", "did you mean set_off?",
    ),
    "word in two words": (
        Change(CAUSES, "{finish: nearly_always}", "{finish: ‸nearly always}"),
        "form", "shows.faces_carry.finish 'nearly always' is not a word", "did you mean nearly_always?",
    ),
    "number for a word": (
        Change(CAUSES, "{finish: nearly_always}", "{finish: ‸0.95}"),
        "form", "shows.faces_carry.finish '0.95' is not a word", "",
    ),
    "id with capitals and a hyphen": (
        Change("cautions.yaml", "- id: scraping_dust", "- id: ‸ScrapingOld-dust"),
        "form", "'ScrapingOld-dust' is not an id", "did you mean scraping_old_dust?",
    ),
    "row that is a list": (
        Change(CAUSES, "faces_carry: {finish: nearly_always}", "faces_carry: ‸[finish]"),
        "form", "shows.faces_carry needs names and values, as {name: value}", "",
    ),
    "list that is a number": (
        Change(STEPS, "minutes: [5, 10, 30]", "minutes: ‸10"),
        "form", "minutes needs a list, as [one, two]", "",
    ),
    "two minutes for three": (
        Change(STEPS, "minutes: [5, 10, 30]", "minutes: ‸[5, 10]"),
        "form", "minutes.2 is missing: the list is too short", "",
    ),
    "four minutes for three": (
        Change(STEPS, "minutes: [5, 10, 30]", "minutes: ‸[5, 10, 30, 40]"),
        "form", "minutes has more than 3 values", "",
    ),
    "flag that is neither": (
        Change(STEPS, "undo: no", "undo: ‸perhaps"),
        "form", "undo needs yes or no", "",
    ),
    "number in words": (
        Change("pieces.yaml", "back_leg: {count: 2", "back_leg: {count: ‸two"),
        "form", "parts.back_leg.count 'two' is not a whole number", "",
    ),
    "misspelt key inside a reading": (
        Change(SIGNS, "say: Straight across", "‸sya: Straight across"),
        "form", "readings.across_part.sya is not known here", "did you mean say?",
    ),
    "unknown quantity": (
        Change(SIGNS, "background: seldom", "means: {‸slop: 0.1}"),
        "form", "readings.across_part.means.slop 'slop' is none of its words", "did you mean slope?",
    ),
    "two sources in one": (
        Change(SIGNS, "[{joints_study: table 3}]", "[‸{joints_study: table 3, common_practice: all}]"),
        "form", "sources.0 a source is an id, or {id: table or section}", "",
    ),
    "no source at all": (
        Change(SIGNS, "[{joints_study: table 3}]", "‸[]"),
        "form", "sources needs at least one", "",
    ),
    "unknown load of a piece": (
        Change("pieces.yaml", "a_person_leaning_back", "‸a_person_leaning_bak"),
        "form", "healthy_load a_person_leaning_bak is not a load; did you mean a_person_leaning_back?", "",
    ),
    "effect of two lines in one": (
        Change(LOGIC, "- require: scrape_to_bare_wood\n", "- ‸require: scrape_to_bare_wood\n        ask_first: creaks\n"),
        "form", "then.1 an effect is one line: finding, require, forbid", "",
    ),
    "number that is none": (
        Change("scale.yaml", "turning: 1", "turning: ‸nan"),
        "form", "turning should be a finite number", "",
    ),
    "less than nothing used up": (
        Change(STEPS, "{abrasive_sheet: 0.5}", "{abrasive_sheet: ‸-0.5}"),
        "form", "uses.abrasive_sheet should be greater than 0", "",
    ),
    "price that falls": (
        Change("materials/consumables.yaml", "- id: abrasive_sheet", "- ‸id: abrasive_sheet").and_here(
            "[0.5, 0.8, 1.2]", "[0.5, 0.8, 0.2]"
        ),
        "form", "this entry a price is low, likely, high", "",
    ),
    "prose in braces": (
        Change(SIGNS, "{upto: 0.15}", "{upto: 0.15, say: Snug, ‸or nearly so}"),
        "prose-in-braces", "the text after a comma (or nearly so) would be lost", "give the text a line of its own",
    ),
    "comment trap": (
        Change(SIGNS, "say: Straight across the part", "say: Straight across ‸# the part"),
        "comment-in-prose", "everything after # is lost", "put the text in quotes",
    ),
    "alias": (
        Change(STEPS, "do: Clamp and leave alone.", "do: ‸*clamp"),
        "alias", "an alias (*clamp) stands here", "write the value out",
    ),
    "name of an alias": (
        Change(STEPS, "do: Clamp and leave alone.", "do: ‸&Clamp and leave alone."),
        "anchor", "the name of an alias (&Clamp) stands here", "put a text that begins with & in quotes",
    ),
    "tag": (
        Change(STEPS, "do: Clamp and leave alone.", "do: ‸!!python/name:os.system clamp"),
        "tag", "a tag (tag:yaml.org,2002:python/name:os.system) stands here", "leave it out",
    ),
    "colon in prose": (
        Change(STEPS, "do: Clamp and leave alone.", "do: Clamp‸: leave alone."),
        "yaml", "mapping values are not allowed", "a text that holds a colon needs quotes round it",
    ),
    "tab": (
        Change(STEPS, "    do: Clamp and leave alone.", "‸\tdo: Clamp and leave alone."),
        "yaml", "not YAML: found", "indent with spaces, not tabs",
    ),
    "colon left out": (
        Change(STEPS, "do: Clamp and leave alone.\n    why", "do Clamp and leave alone.\n    ‸why"),
        "yaml", "not YAML: could not find expected ':'", "a name needs a colon and a space behind it",
    ),
    "entry out of its column": (
        Change(STEPS, "    do: Clamp and leave alone.", "   ‸do: Clamp and leave alone."),
        "yaml", "not YAML: did not find expected", "lines of one entry begin in the same column",
    ),
    "unclosed quote": (
        Change(STEPS, "do: Clamp and leave alone.", 'do: ‸"Clamp and leave alone.'),
        "yaml", "end of stream", "close the quote or the bracket that begins here",
    ),
    "empty file": (
        Change("cautions.yaml", FILES["cautions.yaml"], "‸"),
        "empty", "the file is empty", "",
    ),
    "only a comment": (
        Change("cautions.yaml", FILES["cautions.yaml"], "‸# cautions: later\n"),
        "empty", "the file is empty", "",
    ),
    "file that is a list": (
        Change("cautions.yaml", "cautions:\n", "‸"),
        "form", "the file is a mapping", "start with signs, causes",
    ),
    "file with another ending": (
        Change("hazards.yml", "", "‸cautions: []\n"),
        "not-read", "this file is not read", "files of the rule base end in .yaml",
    ),
    "broken table of woods": (
        Change("materials/woods.csv", "", "‸id,name\noak,Oak\n"),
        "woods", "columns missing: group", "",
    ),
    # One entry in itself.
    "yes_no with other readings": (
        Change(MORE, "- id: creaks", "- ‸id: creaks").and_here(
            "no: {}\n    sources: [common_practice]\n  - id: moving_joints",
            "a_little: {}\n    sources: [common_practice]\n  - id: moving_joints",
        ),
        "form", "a yes_no sign has the readings yes and no", "",
    ),
    "measure that its readings do not cover": (
        Change(SIGNS, "- id: joint_gap", "- ‸id: joint_gap").and_here("slack: {upto: 6}", "slack: {upto: 5}"),
        "form", "the readings must cover from..to, the last upto being to", "",
    ),
    "measure whose readings fall": (
        Change(SIGNS, "- id: joint_gap", "- ‸id: joint_gap").and_here("loose: {upto: 0.5}", "loose: {upto: 0.1}"),
        "form", "every reading of a measured sign needs upto, in rising order", "",
    ),
    "unknown station": (
        Change(SIGNS, "station: break\n", "station: ‸brake\n"),
        "form", "station brake is not a station; did you mean break?", "",
    ),
    "sign named like a fact": (
        Change(MORE, "- id: creaks", "- ‸id: damage"),
        "form", "damage is a word of conditions", "",
    ),
    "step with no way back and no check": (
        Change(STEPS, "- id: part_joint", "- ‸id: part_joint").and_here(
            "minutes: [5, 10, 30]\n    undo: yes", "minutes: [5, 10, 30]\n    undo: no"
        ),
        "form", "a step that cannot be undone must carry a check", "",
    ),
    "minutes that fall": (
        Change(STEPS, "- id: part_joint", "- ‸id: part_joint").and_here("[5, 10, 30]", "[5, 10, 3]"),
        "form", "minutes are low, likely, high, in rising order", "",
    ),
    "wait without a unit": (
        Change(STEPS, "wait: 24 h", "wait: ‸24"),
        "form", "wait a wait is written like 0 min", "",
    ),
    "joint of a part that is not there": (
        Change("pieces.yaml", "- id: side_chair", "- ‸id: side_chair").and_here(
            "      - id: left_rail_to_back_leg\n        joins: [back_leg, side_rail]",
            "      - id: left_rail_to_back_leg\n        joins: [back_leg, side_rails]",
        ),
        "form", "joint left_rail_to_back_leg joins side_rails, which is not a part", "",
    ),
    "unknown effect": (
        Change(LOGIC, "- caution: scraping_dust", "- ‸warn: scraping_dust"),
        "form", "warn is not an effect; one of: ask_first, caution", "",
    ),
    "unknown class forbidden": (
        Change(LOGIC, "- caution: scraping_dust", "- ‸forbid: {class: regluing}"),
        "form", "regluing is not a decision class; did you mean reglue?", "",
    ),
    "unknown triage": (
        Change(LOGIC, "- caution: scraping_dust", "- ‸triage: throw_away"),
        "form", "throw_away is not a triage class; one of: decline", "",
    ),
    "any of nothing": (
        Change(LOGIC, "when: {faces_carry: finish, damage: loose}", "when: ‸{damage: loose, any: []}"),
        "form", "any is a list of mappings", "",
    ),
    # What the entries say together.
    "row that adds to more than certainty": (
        Change(CAUSES, "joint_gap: {slack: usually, snug: hardly_ever}", "‸joint_gap: {slack: usually, snug: often}"),
        "row-too-full", "the words of joint_gap add up to 1.40", "take a weaker word",
    ),
    "circle of steps": (
        Change(STEPS, "why: Nothing can be cleaned while it is shut.", "why: So.\n    after: ‸[clamp]"),
        "circle", "a circle: ", "take one of these links out",
    ),
    "circle of gates": (
        Change(SIGNS, "when: {damage: [broken, split, loose]}", "when: ‸{faces_carry: finish}"),
        "circle", "a circle: break_path → faces_carry → break_path", "take one of these links out",
    ),
    "sign that waits for itself": (
        Change(MORE, "ask: Does it creak?", "ask: Does it creak?\n    when: ‸{creaks: yes}"),
        "circle", "a circle: creaks → creaks", "take one of these links out",
    ),
    "rule that hangs on its own absence": (
        Change(LOGIC, "unless: {faces_carry: {all: [finish, old_glue]}}", "unless: {‸finding: bond_blocked}"),
        "circle", "finish_stops_glue hangs on the absence of bond_blocked", "",
    ),
    "rule that closes itself": (
        Change(LOGIC, "unless: {faces_carry: {all: [finish, old_glue]}}", "‸unless: {damage: [loose, split]}"),
        "contradiction", "finish_stops_glue can never fire: unless closes on what when demands", "",
    ),
    "rule that closes itself by one of all": (
        Change(
            LOGIC, "when: {faces_carry: finish, damage: loose}", "when: {faces_carry: {all: [old_glue, finish]}}"
        ).and_here("unless: {faces_carry: {all: [finish, old_glue]}}", "‸unless: {faces_carry: finish}"),
        "contradiction", "finish_stops_glue can never fire: unless closes on what when demands", "",
    ),
    "rule that closes itself by a branch": (
        Change(
            LOGIC, "unless: {faces_carry: {all: [finish, old_glue]}}",
            "‸unless:\n      any:\n        - {damage: [loose, split], faces_carry: finish}",
        ),
        "contradiction", "finish_stops_glue can never fire: unless closes on what when demands", "",
    ),
    "rule that waits for what nobody concludes": (
        Change(LOGIC, "when: {faces_carry: finish, damage: loose}", "when: {‸finding: never_concluded, damage: loose}"),
        "contradiction", "finish_stops_glue can never fire: no rule gives the finding never_concluded", "",
    ),
    "method forbidden twice": (
        Change(
            LOGIC, "- caution: scraping_dust",
            "- forbid: {class: reglue}\n      - ‸forbid: {method: reglue_cleaned}",
        ),
        "contradiction", "reglue_cleaned is forbidden twice", "its class is forbidden already",
    ),
    "rule with more than twelve conditions": (
        Change(LOGIC, "- id: finish_stops_glue", "- ‸id: finish_stops_glue").and_here(
            "unless: {faces_carry: {all: [finish, old_glue]}}",
            "unless:\n      damage: [broken, split, rocks, fitting, surface, insect]\n"
            "      joint: [dowel, screwed, bolted, edge_joint, round_tenon]",
        ),
        "rule-size", "finish_stops_glue has 13 conditions, more than 12", "make two rules of it",
    ),
    "rule that no story shows firing": (
        Change(LOGIC, "- id: finish_stops_glue", "- ‸id: finish_stops_glue").and_there(
            Change(STORIES, "      rules: [finish_stops_glue]\n      class: reglue\n", "      class: reglue\n")
        ),
        "rule-without-story", "no story tells where finish_stops_glue fires",
        "tell one beside it, with expect: {rules: [finish_stops_glue]}",
    ),
    "rule that no story shows at rest": (
        Change(LOGIC, "- id: finish_stops_glue", "- ‸id: finish_stops_glue").and_there(
            Change(STORIES, "    never:\n      rules: [finish_stops_glue]\n", "")
        ),
        "rule-without-story", "no story tells where finish_stops_glue must not fire",
        "tell one beside it, with never: {rules: [finish_stops_glue]}",
    ),
    "caution that rests on memory": (
        Change("cautions.yaml", "    sources: [common_practice]", "    sources: ‸[old_notebook]"),
        "remembered-safety", "scraping_dust rests on memory alone", "name a source that was read",
    ),
    "rule of safety that rests on memory": (
        Change(LOGIC, "protects: bond", "protects: safety").and_here("[common_practice]", "‸[old_notebook]"),
        "remembered-safety", "finish_stops_glue rests on memory alone", "name a source that was read",
    ),
    "untreated cause": (
        Change(METHODS, ", gap_too_wide: mostly}", "}").and_there(
            Change(CAUSES, "- id: gap_too_wide", "- ‸id: gap_too_wide")
        ),
        "untreated-cause", "no method treats gap_too_wide", "name it under treats of one",
    ),
    "unused step": (
        Change(
            STEPS, "",
            "  - ‸id: polish\n    phase: finish\n    per: piece\n    do: Polish it.\n    why: It shines.\n"
            "    minutes: [1, 2, 3]\n    undo: yes\n    sources: [common_practice]\n",
        ),
        "unused-step", "no method takes polish and no rule requires it", "",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", BROKEN)
def test_one_change_is_one_fault_at_its_place(tmp_path: Path, name: str) -> None:
    change, code, message, hint = BROKEN[name]
    folder, place = small_rules(tmp_path, *((change,) if isinstance(change, Change) else change))
    assert place is not None, "the change must say where the fault is expected"
    (fault,) = faults_of(folder)
    assert (fault.code, str(fault.mark)) == (code, str(place))
    assert message in fault.message
    assert fault.hint.startswith(hint) if hint else fault.hint == ""
    assert fault.severity == "error"
    assert str(fault).startswith(f"{place} {code} ")


def test_every_module_of_faults_has_its_broken_rule_base() -> None:
    told = {code for _, code, _, _ in BROKEN.values()} | {"inseparable", "thin-cause", "near-copy", "missing-plate"}
    assert {module.CODE for module in faults.ALL} <= told
    assert all((module.__doc__ or "").strip() for module in faults.ALL)


COPY = """\
  - id: varnish_on_face
    name: Varnish on the faces
    family: bond
    role: hands
    when: {damage: loose}
    happens: regular
    shows:
      ‸break_path: {along_glue_line: nearly_always}
      joint_gap: {snug: usually}
      faces_carry: {finish: nearly_always}
      fell_over: {yes: hardly_ever}
      leaned_back: {yes: seldom}
      refinished: {yes: often}
      creaks: {yes: seldom}
      moving_joints: {one: often}
    returns: usually
    explains: The glue held the varnish.
    owner: Varnish had run into the joint.
    sources: [common_practice]
"""
HARDLY, SELDOM = "fell_over: {yes: hardly_ever}", "fell_over: {yes: seldom}"
REGULAR_LOOSE = "    when: {damage: loose}\n    happens: regular\n"


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param((Change(CAUSES, "", COPY),), id="the same rows"),
        pytest.param((Change(CAUSES, "", COPY.replace(HARDLY, SELDOM)),), id="rows nearly the same"),
        pytest.param(
            (
                Change(CAUSES, "", COPY.replace("joint_gap: {snug: usually}", "joint_gap: {slack: usually}")),
                Change(SIGNS, "effort: measure\n", "effort: measure\n    when: {damage: broken}\n"),
            ),
            id="apart on a sign that cannot be asked there",
        ),
        pytest.param(
            (
                Change(CAUSES, REGULAR_LOOSE, "    when: {piece: side_chair}\n    happens: regular\n"),
                Change(CAUSES, "", COPY.replace("when: {damage: loose}", "when: {piece: chair}")),
            ),
            id="one for a chair, one for a kind of chair",
        ),
    ],
)
def test_inseparable_causes(tmp_path: Path, changes: tuple[Change, ...]) -> None:
    folder, place = small_rules(tmp_path, *changes)
    (fault,) = faults_of(folder)
    assert (fault.code, fault.mark) == ("inseparable", place)
    assert fault.message == "no sign tells finish_on_face from varnish_on_face"
    assert fault.hint == "give one of them a sign of its own"


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(COPY.replace("joint_gap: {snug: usually}", "joint_gap: {slack: usually}"), id="a sign apart"),
        pytest.param(COPY.replace("damage: loose", "damage: split"), id="they never meet"),
    ],
)
def test_causes_that_can_be_told_apart_are_no_fault(tmp_path: Path, text: str) -> None:
    folder, _ = small_rules(tmp_path, Change(CAUSES, "", text.replace("‸", "")))
    assert faults_of(folder) == []


def test_thin_cause_is_a_warning(tmp_path: Path) -> None:
    change = Change(CAUSES, "      break_path: {beside_glue_line: often, across_part: sometimes}\n      ", "      ‸")
    folder, place = small_rules(tmp_path, change)
    (fault,) = faults_of(folder)
    assert (fault.code, fault.severity, fault.mark) == ("thin-cause", "warning", place)
    assert fault.message == "overload speaks to 7 signs, 4 of them by asking or looking"
    assert fault.hint == "at least 8 and 3"


# What three causes show on three yes/no signs; the first two signs are near copies of each other.
TWINS = """\
signs:
  - id: leaned_back
    kind: yes_no
    of: piece
    ask: Does somebody lean back in it?
    look: Ask who sits in it.
    station: owner
    effort: ask
    readings: {yes: {background: sometimes}, no: {say: No}}
    sources: [common_practice]
  - ‸id: tips_on_two_legs
    kind: yes_no
    of: piece
    ask: Does it stand on two legs now and then?
    look: Ask who sits in it.
    station: owner
    effort: ask
    readings: {yes: {background: sometimes}, no: {say: No}}
    sources: [common_practice]
"""


def test_near_copy_is_a_warning(tmp_path: Path) -> None:
    """Two yes/no signs that count in full and say the same of three causes; no fault as soon as one counts half."""
    twins = TWINS + FILES[MORE].split("  - id: leaned_back", 1)[1].split("    sources: [common_practice]\n", 1)[1]
    fell = "  - id: fell_over" + FILES[MORE].split("  - id: fell_over", 1)[1].split("  - id: leaned_back", 1)[0]
    causes = FILES[CAUSES]
    for word in ("seldom", "often", "usually"):
        row = f"      leaned_back: {{yes: {word}}}\n"
        causes = causes.replace(row, row + row.replace("leaned_back", "tips_on_two_legs"))
    both = Change(MORE, FILES[MORE], twins + fell).and_there(Change(CAUSES, FILES[CAUSES], causes))
    folder, place = small_rules(tmp_path, *both)
    (fault,) = faults_of(folder)
    assert (fault.code, fault.severity, fault.mark) == ("near-copy", "warning", place)
    assert fault.message == "tips_on_two_legs says nearly what leaned_back says about 3 causes"
    assert fault.hint == "let one of them count half"
    half = Change(MORE, "ask: Does it stand on two legs", "counts: half\n    ask: Does it stand on two legs")
    folder, _ = small_rules(tmp_path, *both, half)
    assert faults_of(folder) == []


def test_missing_scale(tmp_path: Path) -> None:
    folder, _ = small_rules(tmp_path)
    (folder / "scale.yaml").unlink()
    (fault,) = faults_of(folder)
    assert str(fault) == "rules/scale.yaml:1:1 missing there is no scale; write scale.yaml"


def test_missing_folder_and_folder_without_files(tmp_path: Path) -> None:
    with pytest.raises(FaultsFound, match="missing-folder there is no rules folder here"):
        load_rules(tmp_path / "rules")
    (tmp_path / "rules").mkdir()
    assert [fault.code for fault in faults_of(tmp_path / "rules")] == ["missing"]


def test_a_file_that_is_no_text(tmp_path: Path) -> None:
    folder, _ = small_rules(tmp_path)
    (folder / "cautions.yaml").write_bytes(b"cautions:\n  - id: \xff\xfe\n")
    (fault,) = faults_of(folder)
    assert (fault.code, str(fault.mark)) == ("not-text", "rules/cautions.yaml:1:1")
    assert fault.message == "not UTF-8 at byte 18"


def test_a_byte_order_mark_at_the_start_is_no_fault(tmp_path: Path) -> None:
    folder, _ = small_rules(tmp_path, Change(STEPS, "after: [scrape_to_bare_wood]", "after: [‸scrape]"))
    path = folder / STEPS
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    assert [str(fault.mark) for fault in faults_of(folder)] == ["rules/steps/joint.yaml:30:13"]


def test_what_editors_leave_behind_is_not_read(tmp_path: Path) -> None:
    folder, _ = small_rules(tmp_path)
    (folder / ".#cautions.yaml").symlink_to("nobody@nowhere")
    (folder / "cautions.yaml~").write_text("not: yaml: at all", encoding="utf-8")
    (folder / "folder.yaml").mkdir()
    assert faults_of(folder) == []


def test_a_file_that_cannot_be_read_is_named(tmp_path: Path) -> None:
    folder, _ = small_rules(tmp_path)
    (folder / "gone.yaml").symlink_to(folder / "nowhere")
    with pytest.raises(FaultsFound, match=r"rules/gone.yaml:1:1 unreadable cannot be read: no such file"):
        load_rules(folder)


SEVERAL = (
    Change(STEPS, "phase: clean", "phase: cleaning"),
    Change(SIGNS, "say: Straight across the part", "say: Straight across # the part"),
    Change(CAUSES, "role: set_off", "role: set_of"),
    Change(CAUSES, "family: fit", "family: fitting"),
    Change("cautions.yaml", "do: Scrape", "doo: Scrape"),
    Change("pieces.yaml", "count: 2, section: [28, 42]", "count: none, section: [28, 42]"),
)


def place_of(folder: Path, name: str, text: str) -> Mark:
    """Where `text` stands for the first time in a file."""
    before = (folder / name).read_text(encoding="utf-8").split(text, 1)[0]
    return Mark(f"rules/{name}", before.count("\n") + 1, len(before) - before.rfind("\n"))


def test_all_faults_of_several_files_come_at_once_and_sorted(tmp_path: Path) -> None:
    folder, _ = small_rules(tmp_path, *SEVERAL)
    found = faults_of(folder)
    expected = [
        ("causes/joint.yaml", "fitting", "form"),
        ("causes/joint.yaml", "set_of\n", "form"),
        ("cautions.yaml", "id: scraping_dust", "form"),
        ("cautions.yaml", "doo:", "form"),
        ("pieces.yaml", "none,", "form"),
        ("signs/break.yaml", "# the part", "comment-in-prose"),
        ("steps/joint.yaml", "cleaning", "form"),
    ]
    assert [(fault.mark, fault.code) for fault in found] == [
        (place_of(folder, name, text), code) for name, text, code in expected
    ]
    assert found == sorted(found)


def test_all_unknown_ids_come_at_once(tmp_path: Path) -> None:
    apart = [
        Change(change.file, change.old, change.new.replace("‸", ""))
        for change, code, _, _ in BROKEN.values()
        if code == "unknown-id" and isinstance(change, Change) and change.file in (CAUSES, METHODS, SIGNS, "scale.yaml")
    ]
    folder, _ = small_rules(tmp_path, *apart)
    found = faults_of(folder)
    assert len(found) == len(apart) >= 5
    assert {fault.code for fault in found} == {"unknown-id"}
    assert found == sorted(found)


def test_json_and_sarif_parse_and_carry_the_same_places(tmp_path: Path) -> None:
    folder, _ = small_rules(tmp_path / "with space", *SEVERAL)
    found = faults_of(folder)
    listed = json.loads(as_json(found))
    keys = ("file", "line", "column", "code", "message", "hint", "severity")
    assert [tuple(fault[key] for key in keys) for fault in listed] == [
        (f.mark.file, f.mark.line, f.mark.column, f.code, f.message, f.hint, f.severity) for f in found
    ]
    sarif = json.loads(as_sarif(found))
    assert sarif["version"] == "2.1.0"
    (run,) = sarif["runs"]
    places = []
    for result in run["results"]:
        (location,) = result["locations"]
        region = location["physicalLocation"]["region"]
        uri = location["physicalLocation"]["artifactLocation"]["uri"]
        places.append((uri, region["startLine"], region["startColumn"], result["ruleId"], result["level"]))
    assert places == [(f.mark.file, f.mark.line, f.mark.column, f.code, f.severity) for f in found]
    described = run["tool"]["driver"]["rules"]
    assert {rule["id"] for rule in described} == {module.CODE for module in faults.ALL}
    assert len({rule["id"] for rule in described}) == len(described)


def test_sarif_names_files_as_addresses() -> None:
    fault = Fault(Mark("my rules/bond.yaml", 3, 7), "form", "is missing")
    (result,) = json.loads(as_sarif([fault]))["runs"][0]["results"]
    assert result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] == "my%20rules/bond.yaml"
    assert result["message"]["text"] == "is missing"


def test_no_fault_is_an_empty_list_in_every_form() -> None:
    assert json.loads(as_json([])) == []
    assert json.loads(as_sarif([]))["runs"][0]["results"] == []


def test_a_circle_is_named_alike_whatever_the_hash_seed(tmp_path: Path) -> None:
    change = Change(STEPS, "why: Nothing can be cleaned while it is shut.", "why: So.\n    after: [clamp, spread_glue]")
    folder, _ = small_rules(tmp_path, change)
    script = (
        "import sys; from pathlib import Path\n"
        "from diagnose.rulebase.check import check_rules\n"
        "from diagnose.rulebase.load import load_rules\n"
        "print(*check_rules(load_rules(Path(sys.argv[1]))), sep='\\n')"
    )
    said = {
        subprocess.run(
            [sys.executable, "-c", script, str(folder)],
            capture_output=True, text=True, check=True, env={**os.environ, "PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2", "3")
    }  # fmt: skip
    assert len(said) == 1
    assert "circle a circle: " in said.pop()


WEIRD_VALUES = ["", "[]", "{}", "[[]]", "{a: b}", "[{a: b}]", "no", "-1", "0", "1e400", "nan", "x", '"  "', "{all: []}", "{all: [x]}",
                "creaks", "[yes]", "9" * 30, "null", "{reads: x}", "{any: [{a: b}]}"]  # fmt: skip
WORDS = ["x", "no", "1", "creaks", "break_path", "loose", "damage", "finish", "[]", "{}", "none", "any", "all", "finding"]


@pytest.mark.parametrize("seed", range(120))
def test_a_rule_base_mangled_at_random_is_judged_and_where_it_is_passed_it_can_be_used(tmp_path: Path, seed: int) -> None:
    """A line lost, doubled or given another value: faults with places, or a rule base that the program can work with."""
    rng = random.Random(seed)
    name = rng.choice(sorted(FILES))
    lines = FILES[name].splitlines(keepends=True)
    index = rng.randrange(len(lines))
    line = lines[index]
    key = re.match(r"\s*(?:- )?\w+:", line)
    spots = list(re.finditer(r"\w+", line))
    changed = [["", line * 2, *(f"{key[0]} {value}\n" for value in WEIRD_VALUES if key), ""]]
    changed.append([line[: spot.start()] + rng.choice(WORDS) + line[spot.end() :] for spot in spots])
    text = "".join([*lines[:index], rng.choice(rng.choice(changed)), *lines[index + 1 :]])
    folder, _ = small_rules(tmp_path, Change(name, FILES[name], text))
    loaded = load_rules(folder)
    found = check_rules(loaded)
    for fault in found:
        assert fault.mark.file.startswith("rules/")
        assert 1 <= fault.mark.line <= max(len(FILES[fault.mark.file.removeprefix("rules/")].splitlines()) + 1, 1)
    if not any(fault.severity == "error" for fault in found):
        knowledge = loaded.knowledge()
        assert len(rulebook_of(knowledge).strata) >= 1
        case = Case(piece=next(iter(knowledge.pieces)), damages=(Damage(id="a", kind="loose"),))
        (assessed,) = assess(case, knowledge, Shop(), TOLD_ON).damages
        assert assessed.decision.method in knowledge.methods
