"""The schema for editors: whatever `rules check` lets through it lets through, and the slips of writing it underlines."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from diagnose import house
from diagnose.rulebase.entries.base import NAMES
from diagnose.rulebase.load import KINDS, MATERIALS, load_rules
from diagnose.rulebase.schema import rules_schema
from diagnose.rulebase.store import load_knowledge
from tests.rulebase.editor import deepest, texts, underlined
from tests.rulebase.small import FILES, Change, small_rules
from tests.rulebase.test_faults import BROKEN

Schema = dict[str, Any]
# The broken rule bases that a schema cannot tell from a sound one, as its docstring says; `rules check` names each.
LEFT_TO_THE_CHECK = {
    # What lines of an entry say together.
    "method that must know what its gate never asks",
    "scale without a word for the owner",
    "price that falls",
    "minutes that fall",
    "measure that its readings do not cover",
    "measure whose readings fall",
    "sign named like a fact",
    "joint of a part that is not there",
    "row that adds to more than certainty",
    # What entries say together.
    "duplicate id",
    "duplicate id in another file",
    "circle of steps",
    "circle of gates",
    "sign that waits for itself",
    "rule that hangs on its own absence",
    "rule that closes itself",
    "rule that closes itself by one of all",
    "rule that closes itself by a branch",
    "rule that waits for what nobody concludes",
    "method forbidden twice",
    "rule with more than twelve conditions",
    "rule that no story shows firing",
    "rule that no story shows at rest",
    "caution that rests on memory",
    "rule of safety that rests on memory",
    "untreated cause",
    "unused step",
    # What is lost or let through before a schema sees it, and files that are not read.
    "duplicate key",
    "comment trap",
    "name of an alias",
    "file with another ending",
}


@pytest.fixture(scope="module")
def delivered() -> Schema:
    return rules_schema(load_knowledge())


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Schema:
    folder, _ = small_rules(tmp_path_factory.mktemp("small"))
    return rules_schema(load_rules(folder).knowledge())


def broken(into: Path, name: str) -> list[str]:
    """The changed files of one broken rule base, as text."""
    change = BROKEN[name][0]
    changes = (change,) if isinstance(change, Change) else change
    folder, _ = small_rules(into, *changes)
    return [(folder / one).read_text(encoding="utf-8") for one in dict.fromkeys(change.file for change in changes)]


def refused(schema: Schema, files: list[str]) -> bool:
    try:
        return any(underlined(schema, text) for text in files)
    except yaml.YAMLError:
        return True


def test_it_is_a_schema_and_all_it_names_is_in_it(delivered: Schema) -> None:
    Draft202012Validator.check_schema(delivered)
    found = list(walk(delivered))
    assert len(found) > 3000
    assert {form["$ref"].removeprefix("#/$defs/") for form in found if isinstance(form.get("$ref"), str)} == delivered[
        "$defs"
    ].keys()
    assert not [form for form in found if NAMES in form]


def test_every_file_of_the_rule_base_is_let_through(delivered: Schema) -> None:
    files = texts(house.rules_folder())
    assert len(files) > 100
    assert {name: places for name, text in files.items() if (places := underlined(delivered, text))} == {}


def test_the_small_rule_base_is_let_through(small: Schema) -> None:
    assert [name for name, text in FILES.items() if underlined(small, text)] == []


@pytest.mark.parametrize("name", BROKEN)
def test_what_the_check_refuses_is_underlined_or_known_to_be_left_to_it(tmp_path: Path, small: Schema, name: str) -> None:
    assert refused(small, broken(tmp_path, name)) == (name not in LEFT_TO_THE_CHECK)


# A file and a slip in it → where an editor shows it, and the words it says there.
SLIPS: dict[str, tuple[str, str, str, str]] = {
    "unknown key": ("causes/joint.yaml", "explains: Once", "explain: Once", "causes.2: Additional properties are not allowed ('explain'"),
    "unknown reading": ("causes/joint.yaml", "{snug: often}", "{snugg: often}", "causes.2.shows.joint_gap: Additional properties"),
    "wrong word": ("causes/joint.yaml", "{snug: often}", "{snug: oftn}", "causes.2.shows.joint_gap.snug: 'oftn' is not one of"),
    "missing source": (
        "cautions.yaml", "    sources: [common_practice]\n", "", "cautions.0: 'sources' is a required property",
    ),
    "no source": ("cautions.yaml", "[common_practice]", "[]", "cautions.0.sources: [] should be non-empty"),
    "id with a capital": ("cautions.yaml", "- id: scraping_dust", "- id: Scraping_dust", "cautions.0.id: 'Scraping_dust' does not match"),
    "unknown source": ("cautions.yaml", "[common_practice]", "[hearsay]", "cautions.0.sources.0: 'hearsay' is not one of"),
    "two sources in one": (
        "signs/break.yaml", "[{joints_study: table 3}]", "[{joints_study: table 3, common_practice: all}]",
        "signs.1.sources.0: {'joints_study': 'table 3', 'common_practice': 'all'} has too many properties",
    ),
    "question without a station": (
        "signs/break.yaml", "    station: break\n", "", "signs.0: 'station' is a required property",
    ),
    "yes or no with a third": ("signs/more.yaml", "      yes: {background: seldom}\n      no: {}\n    sources: [common_practice]\n  - id: leaned",
        "      yes: {background: seldom}\n      no: {}\n      both: {}\n    sources: [common_practice]\n  - id: leaned",
        "signs.0.readings: 'both' is not one of ['yes', 'no']"),
    "reading without its figure": ("signs/break.yaml", "{upto: 0.15}", "{}", "signs.1.readings.snug: 'upto' is a required property"),
    "no way back and no check": (
        "steps/joint.yaml", "    check: {sign: faces_carry, reads: old_glue}\n", "", "steps.1: 'check' is a required property",
    ),
    "two effects in one": (
        "logic/bond.yaml", "- finding: bond_blocked\n", "- finding: bond_blocked\n        require: clamp\n",
        "logic.0.then.0: {'finding': 'bond_blocked', 'require': 'clamp'} has too many properties",
    ),
    "all misspelt": ("logic/bond.yaml", "{all: [finish,", "{al: [finish,", "logic.0.unless.faces_carry: 'all' is a required property"),
    "no text": ("cautions.yaml", "do: Scrape wet and wear a mask.", "do:", "cautions.0.do: None is not of type 'string', 'number'"),
    "three minutes": ("steps/joint.yaml", "minutes: [5, 10, 30]", "minutes: 10", "steps.0.minutes: 10 is not of type 'array'"),
    "wrong flag": ("steps/joint.yaml", "undo: no", "undo: never", "steps.1.undo: 'never' is not one of ['yes', 'no', True, False]"),
    "who says so in a story": (
        "logic/bond.cases.yaml", "break_path: along_glue_line, faces_carry: [finish]",
        "break_path: {reads: along_glue_line, by: hearsay}, faces_carry: [finish]",
        "stories.0.given.break_path.by: 'hearsay' is not one of ['owner', 'seen'",
    ),
    "computed sign given by a story": (
        "logic/bond.cases.yaml", "[old_glue]}", "[old_glue], moving_joints: four}",
        "stories.1.given.moving_joints: 'four' is not one of ['none', 'one', 'three_or_more', 'two']",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", SLIPS)
def test_a_slip_is_underlined_where_it_stands_and_refused_by_the_check(tmp_path: Path, small: Schema, name: str) -> None:
    file, old, new, said = SLIPS[name]
    folder, _ = small_rules(tmp_path, Change(file, old, new))
    places = list(deepest(small, (folder / file).read_text(encoding="utf-8")))
    assert [place for place in places if place.startswith(said)], places
    assert load_rules(folder).faults or name in OF_THE_WHOLE


# Slips that the check finds after the form of all files, and so not among the faults of reading them.
OF_THE_WHOLE = {
    "unknown reading", "wrong word", "unknown source", "who says so in a story", "computed sign given by a story",
}  # fmt: skip


def walk(schema: Any) -> Any:
    """Every mapping inside a schema, itself included."""
    if isinstance(schema, dict):
        yield schema
        schema = list(schema.values())
    if isinstance(schema, list):
        for item in schema:
            yield from walk(item)


def without(keyword: str) -> Callable[[Any], Any]:
    """A schema with every use of a keyword taken out."""

    def cut(schema: Any) -> Any:
        if isinstance(schema, list):
            return [cut(item) for item in schema]
        if not isinstance(schema, dict):
            return schema
        return {key: cut(value) for key, value in schema.items() if key != keyword}

    return cut


@pytest.mark.parametrize(
    "keyword",
    ["additionalProperties", "enum", "required", "type", "exclusiveMinimum", "exclusiveMaximum", "minItems", "maxProperties", "then",
     "propertyNames", "pattern"],
)  # fmt: skip
def test_no_part_of_the_schema_is_idle(tmp_path: Path, small: Schema, keyword: str) -> None:
    """With every use of one keyword gone, something is let through that was not."""
    less = without(keyword)(small)
    for number, name in enumerate(sorted(BROKEN.keys() - LEFT_TO_THE_CHECK)):
        if not refused(less, broken(tmp_path / str(number), name)):
            return
    for number, (file, old, new, _) in enumerate(SLIPS.values()):
        folder, _ = small_rules(tmp_path / f"slip{number}", Change(file, old, new))
        if not refused(less, [(folder / file).read_text(encoding="utf-8")]):
            return
    pytest.fail(f"{keyword} is never missed")


def test_every_field_says_what_it_is(delivered: Schema) -> None:
    """An editor shows it beside the word."""
    silent = [
        f"{name}.{field}"
        for name, form in delivered["$defs"].items()
        if name[0].isupper()
        for field, about in form["properties"].items()
        if len(about.get("description", "")) < 5
    ]
    assert silent == []
    assert len([name for name in delivered["$defs"] if name[0].isupper()]) > 25


def test_what_a_cause_shows_is_explained_by_the_questions(delivered: Schema) -> None:
    rows = delivered["$defs"]["rows"]["properties"]
    signs = load_knowledge().signs
    assert rows.keys() == signs.keys()
    for sign in signs.values():
        assert rows[sign.id]["description"] == (sign.ask or "Worked out, never asked.")
        assert {name: about["description"] for name, about in rows[sign.id]["properties"].items()} == {
            name: sign.say(name) for name in sign.readings
        }


def test_one_kind_alone_is_its_part_of_the_whole(delivered: Schema) -> None:
    knowledge = load_knowledge()
    kinds = {**delivered["properties"], **delivered["properties"]["materials"]["properties"]}
    for kind in (*KINDS, *MATERIALS):
        one = rules_schema(knowledge, kind)
        assert one["$ref"] == kinds[kind]["items"]["$ref"]
        assert one["$defs"].items() <= delivered["$defs"].items()
        assert {form["$ref"].removeprefix("#/$defs/") for form in walk(one) if "$ref" in form} == one["$defs"].keys()
