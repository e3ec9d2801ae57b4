"""The assessment as data keeps to its schema, holds what is promised, and is the same on every run."""

import json
import os
import subprocess
import sys
from typing import Any

import jsonschema
import pytest

from diagnose.assess import Assessment
from diagnose.decision.sensitivity import SHOWN, sensitivity
from diagnose.documents.diagnosis import diagnosis
from diagnose.documents.report import SCHEMA_FILE, report_json, schema_text
from diagnose.documents.report_parts import SCHEMA_VERSION
from diagnose.proof.stories import assess_story
from diagnose.rulebase.entries import Story
from diagnose.rulebase.store import load_knowledge

KNOWLEDGE = load_knowledge()
STORIES = [told.story for told in KNOWLEDGE.stories[::25]]


def test_the_schema_in_the_repository_is_the_one_of_the_models() -> None:
    assert SCHEMA_FILE.read_text(encoding="utf-8") == schema_text(), "write schema_text() to the file"


@pytest.mark.parametrize("story", STORIES, ids=lambda story: story.name)
def test_the_report_keeps_to_the_schema_and_does_not_change(story: Story) -> None:
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


@pytest.fixture(scope="module")
def told() -> list[tuple[Assessment, list[dict[str, Any]]]]:
    """Assessments with their damages as data; every second of the stories, since what the advice hangs on takes a second to work out."""
    assessments = [assess_story(story, KNOWLEDGE) for story in STORIES[::2]]
    return [(assessment, json.loads(report_json(assessment))["damages"]) for assessment in assessments]


def test_the_stories_show_every_part_filled(told: list[tuple[Assessment, list[dict[str, Any]]]]) -> None:
    damages = [damage for _, of_story in told for damage in of_story]
    for name in ("findings", "cautions", "next_signs"):
        assert any(damage[name] for damage in damages), name
    assert any(damage["causes"][0]["speaks_for"] for damage in damages)


def test_what_the_advice_hangs_on_is_told_as_the_explained_diagnosis_tells_it(
    told: list[tuple[Assessment, list[dict[str, Any]]]],
) -> None:
    """The same inputs in the same order, each with its number, its two sides and what is advised there; null where none shows."""
    shown = turned = ruled_out = assumed = 0
    for assessment, damages in told:
        text = diagnosis(assessment, explain=True)
        assert text.count("What the advice hangs on") == sum(damage["sensitivity"] is not None for damage in damages)
        for damage, of_damage in zip(assessment.damages, damages, strict=True):
            found, part = sensitivity(damage.situation, damage.decision), of_damage["sensitivity"]
            if part is None:
                assert found.runner_up is None or not found.influences
                continue
            assert (part["advised"], part["runner_up"], part["lead"]) == (found.advised, found.runner_up, found.lead)
            assert part["advised"] == of_damage["decision"]["method"]
            assert 0 < len(part["influences"]) <= SHOWN
            for influence, line in zip(found.leading, part["influences"], strict=True):
                assert (line["name"], line["number"], line["assumed"]) == (influence.name, influence.number, influence.assumed)
                assert f"{influence.name}{' (assumed)' if influence.assumed else ''} |" in text
                for side, given in ((influence.low, line["low"]), (influence.high, line["high"])):
                    assert given == {"number": side.number, "lead": side.lead, "instead": side.instead}
                    turned += side.instead is not None
                    ruled_out += side.lead is None
                assumed += influence.assumed
            shown += 1
    assert min(shown, turned, ruled_out, assumed) > 0


# The fields of a damage in version 1, as its readers know them.
FIRST = {
    "id", "causes", "something_else", "explanations", "conflict", "decision", "next_signs", "time_to_stop", "findings", "cautions",
    "not_counted",
}  # fmt: skip


def test_what_reads_the_first_version_can_read_the_second() -> None:
    """Why the number could be raised without breaking a reader: every field of version 1 is still there, and one was added."""
    schema = json.loads(SCHEMA_FILE.read_text(encoding="utf-8"))
    assert schema["properties"]["schema_version"]["default"] == SCHEMA_VERSION == 2
    assert set(schema["$defs"]["DamagePart"]["required"]) >= FIRST | {"sensitivity"}


def test_an_assessment_is_the_same_to_the_last_figure_whatever_the_hash_seed() -> None:
    """Sets come in another order in every process; no figure may be added up in it."""
    script = (
        "from diagnose.proof.stories import assess_story\n"
        "from diagnose.rulebase.store import load_knowledge\n"
        "knowledge = load_knowledge()\n"
        "for told in knowledge.stories[::20]:\n"
        "    assessment = assess_story(told.story, knowledge)\n"
        "    print(*((d.belief.causes, d.decision, d.questions) for d in assessment.damages), assessment.told)\n"
    )
    runs = [
        subprocess.Popen(
            [sys.executable, "-c", script], stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONHASHSEED": seed}
        )
        for seed in ("1", "3")
    ]
    first, second = (run.communicate()[0] for run in runs)
    assert len(first) > 250_000
    assert first == second
