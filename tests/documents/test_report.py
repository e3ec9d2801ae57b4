"""The assessment as data keeps to its schema, holds what is promised, and is the same on every run."""

import json

import jsonschema
import pytest

from diagnose.documents.report import SCHEMA_FILE, report_json, schema_text
from diagnose.proof.stories import assess_story
from diagnose.rulebase.store import load_knowledge

KNOWLEDGE = load_knowledge()
STORIES = [told.story for told in KNOWLEDGE.stories[::25]]


def test_the_schema_in_the_repository_is_the_one_of_the_models() -> None:
    assert SCHEMA_FILE.read_text(encoding="utf-8") == schema_text(), "write schema_text() to the file"


@pytest.mark.parametrize("story", STORIES, ids=lambda story: story.name)
def test_the_report_keeps_to_the_schema_and_does_not_change(story) -> None:  # type: ignore[no-untyped-def]
    text = report_json(assess_story(story, KNOWLEDGE))
    data = json.loads(text)
    jsonschema.validate(data, json.loads(SCHEMA_FILE.read_text(encoding="utf-8")))
    assert report_json(assess_story(story, KNOWLEDGE)) == text
    assert data["triage"]["class"]
    assert data["piece"]["decision"] in {m.decision for m in KNOWLEDGE.methods.values()}
    for damage in data["damages"]:
        assert {"id", "family", "role", "probability", "speaks_for", "speaks_against"} <= damage["causes"][0].keys()
        assert 0 <= damage["something_else"] <= 1
        assert {"class", "method", "extent", "end_use", "by", "when", "because", "options"} <= damage["decision"].keys()
        assert {"class", "method", "verdict", "price", "chance_it_holds", "because"} <= damage["decision"]["options"][0].keys()
        assert {"findings", "cautions", "next_signs"} <= damage.keys()
        for question in damage["next_signs"]:
            assert {"sign", "value", "minutes"} <= question.keys()
        causes = [cause["probability"] for cause in damage["causes"]]
        assert causes == sorted(causes, reverse=True)


def test_the_stories_show_every_part_filled() -> None:
    parts: dict[str, int] = {}
    for story in STORIES:
        for damage in json.loads(report_json(assess_story(story, KNOWLEDGE)))["damages"]:
            for name in ("findings", "cautions", "next_signs"):
                parts[name] = parts.get(name, 0) + len(damage[name])
            parts["weights"] = parts.get("weights", 0) + len(damage["causes"][0]["speaks_for"])
    assert all(parts[name] > 0 for name in ("findings", "cautions", "next_signs", "weights")), parts
