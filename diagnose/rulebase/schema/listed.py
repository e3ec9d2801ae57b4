"""What stands for every mark that the models carry (`names` in entries/base): lists of ids and words, rows, conditions."""

from collections.abc import Mapping

from diagnose import words
from diagnose.rulebase.entries import BY_STRENGTH
from diagnose.rulebase.fact_values import fact_values
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.schema.parts import Schema, answers, explained, joint_states, list_of, mapping, one_of, ref, said_by


def _values(knowledge: Knowledge) -> dict[str, frozenset[str]]:
    k = knowledge
    return fact_values(k.pieces.values(), k.woods.values(), k.findings, k.signs.values())


def _line(values: Schema) -> Schema:
    several = list_of(values, minItems=1)
    return {"anyOf": [values, several, mapping({"all": {"anyOf": [values, several]}}, required=["all"])]}


def _conditions(knowledge: Knowledge) -> dict[str, Schema]:
    """The three reaches of a condition, and one definition for the values of each fact."""
    k, values = knowledge, _values(knowledge)
    found = {f"when {name}": _line(one_of(sorted(known))) for name, known in values.items()}

    def condition(*names: str) -> Schema:
        lines = {name: explained(ref(f"when {name}"), said_by(k.signs[name]) if name in k.signs else "") for name in names}
        branches = list_of(mapping(lines, minProperties=1), minItems=1, description="At least one of these mappings must hold.")
        return mapping({**lines, "any": branches}, minProperties=1)

    found["facts"] = condition(*words.CASE_FACTS)
    found["facts and readings"] = condition(*dict.fromkeys((*words.CASE_FACTS, *k.signs)))
    found["facts, readings and findings"] = condition(*dict.fromkeys((*words.CASE_FACTS, *k.signs, words.FINDING)))
    return found


def _given(knowledge: Knowledge) -> dict[str, Schema]:
    """What a story gives."""
    values = _values(knowledge)
    facts = {name: one_of(sorted(values[name])) for name in words.CASE_FACTS}
    value = {"type": "number", "exclusiveMinimum": 0, "description": "What the piece is worth."}
    joints = joint_states(knowledge.pieces.values())
    given = {**facts, **answers(knowledge.signs.values()), "joints": joints, "value": value}
    return {"given": mapping(given, required=["piece", "damage"])}


def lists_of(knowledge: Knowledge) -> dict[str, Mapping[str, str]]:
    """Every list of things that a field may name, each with what it says."""
    k = knowledge
    found: dict[str, Mapping[str, str]] = {
        "causes": {entry.id: entry.name for entry in k.causes.values()},
        "methods": {entry.id: entry.name for entry in k.methods.values()},
        "steps": {entry.id: entry.do for entry in k.steps.values()},
        "cautions": {entry.id: entry.hazard for entry in k.cautions.values()},
        "consumables": {entry.id: entry.name for entry in k.consumables.values()},
        "signs": {entry.id: said_by(entry) for entry in k.signs.values()},
        "classes": {word: said for word, (said, _) in words.CLASSES.items()},
    }
    found["causes or something else"] = {**found["causes"], words.SOMETHING_ELSE: ""}
    found["sources"] = {entry.id: entry.title for entry in k.sources.values()}
    for kind in ("findings", "logic", "plates", "spot_tests", "finishes"):
        found[kind] = dict.fromkeys(getattr(k, kind), "")
    for name in ("words", "happens", "treats", "keeps"):
        found[name] = {word: f"{number:g}" for word, number in getattr(k.scale, name).items()}
    found["words or by_strength"] = {**found["words"], BY_STRENGTH: ""}
    found["readings"] = {reading: "" for sign in k.signs.values() for reading in sign.readings}
    found["triage"] = dict.fromkeys(words.Triage, "")
    return found


def definitions_of(knowledge: Knowledge, lists: Mapping[str, Mapping[str, str]]) -> dict[str, Schema]:
    """What stands for every mark that the models may carry; `lists` are those of `lists_of`."""
    k = knowledge
    found = {name: one_of(known) for name, known in lists.items()}
    rows = {
        sign.id: mapping(
            {name: {**ref("words"), "description": sign.say(name)} for name in sign.readings},
            description=said_by(sign),
            minProperties=1,
        )
        for sign in k.signs.values()
    }
    treated = {**dict.fromkeys(words.FAMILIES, "The whole family."), **lists["causes"], words.SOMETHING_ELSE: ""}
    found["rows"] = mapping(rows, minProperties=1)
    found["treated"] = mapping({name: explained(ref("treats"), said) for name, said in treated.items()})
    places = {name: {"type": "string", "description": title} for name, title in lists["sources"].items()}
    found["sources"] = {"anyOf": [one_of(lists["sources"]), mapping(places, minProperties=1, maxProperties=1)]}
    return {**found, **_given(k), **_conditions(k)}
