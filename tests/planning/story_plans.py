"""The plans of every story of the rule base, and of pairs of stories of one piece, assessed once. DIAGNOSE_PLAN_CASES sets how
many, evenly spread (10000 for all)."""

import os
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from functools import cache

from diagnose.assess import Assessment, assess
from diagnose.case.case import Case
from diagnose.case.told import case_of
from diagnose.decision.undecided import Undecided
from diagnose.documents import plan_glue
from diagnose.planning.compose import PlannedStep
from diagnose.planning.gluing import Gluing
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop

KNOWLEDGE = load_knowledge()
TODAY = date(2026, 3, 2)
MOST = int(os.environ.get("DIAGNOSE_PLAN_CASES", "400"))


@dataclass(frozen=True)
class StoryPlan:
    """A story, or two of one piece together, with what is done, what is glued, and the hours behind every step."""

    name: str
    assessment: Assessment
    gluings: tuple[Gluing, ...]
    waits: tuple[float, ...]

    @property
    def plan(self) -> tuple[PlannedStep, ...]:
        """The steps in their order."""
        return self.assessment.plan

    @property
    def ids(self) -> tuple[str, ...]:
        """The steps by their ids."""
        return tuple(planned.step.id for planned in self.plan)

    def steps_of(self, damage: str) -> Iterator[tuple[int, PlannedStep]]:
        """The steps of one damage, each with its place in the plan."""
        return ((index, planned) for index, planned in enumerate(self.plan) if damage in planned.damages)

    def number(self, gluing: Gluing) -> int:
        """The place of a gluing's step in the plan."""
        return next(index for index, planned in enumerate(self.plan) if planned is gluing.work.step)


def together(one: Case, other: Case) -> Case:
    """Two cases of one piece as one: both damages, and whatever either says of the piece."""
    second = tuple(replace(damage, id="b") for damage in other.damages)
    return replace(
        one,
        damages=(*one.damages, *second),
        readings={**other.readings, **one.readings},
        joints={**other.joints, **one.joints},
        wood=one.wood or other.wood,
    )


def _cases(knowledge: Knowledge) -> Iterator[tuple[str, Case]]:
    open_for: dict[str, tuple[str, Case]] = {}
    for told in knowledge.stories:
        case = case_of(told.story, knowledge)
        yield told.story.name, case
        before = open_for.pop(case.piece, None)
        if before is None:
            open_for[case.piece] = (told.story.name, case)
        else:
            yield f"{before[0]} + {told.story.name}", together(before[1], case)


@cache
def story_plans(room_c: float = 20.0, most: int = MOST, group: str | None = None) -> tuple[StoryPlan, ...]:
    """Every plan that has a step, of one group of pieces where it is named; where fewer are wanted, evenly spread over all of them."""
    cases = [(name, case) for name, case in _cases(KNOWLEDGE) if group in (None, KNOWLEDGE.pieces[case.piece].group)]
    shop, found = Shop(room_temperature_c=room_c), []
    for name, case in cases[:: max(1, len(cases) // most)]:
        try:
            assessment = assess(case, KNOWLEDGE, shop, TODAY)
        except Undecided:
            continue
        if assessment.plan:
            gluings = plan_glue.gluings_of(assessment)
            found.append(StoryPlan(name, assessment, gluings, plan_glue.waits_of(assessment, gluings)))
    return tuple(found)
