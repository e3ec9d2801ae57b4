"""The assessment as data: documented, versioned, and the same on every run with the same input. The JSON Schema lies beside this file."""

import json
from pathlib import Path

from pydantic import BaseModel, ConfigDict, Field

from diagnose.assess import Assessment, DamageAssessment
from diagnose.decision.cost import Price
from diagnose.decision.sensitivity import Side, sensitivity

# Counted up with every change of the fields. 2 added `sensitivity`; a field that is added leaves the others as they were, so what
# reads 1 can read 2.
SCHEMA_VERSION = 2
SCHEMA_FILE = Path(__file__).with_name("assessment.schema.json")


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class PricePart(_Part):
    """Money in the shop's currency: low, likely, high, and (low + 4·likely + high)/6."""

    low: float
    likely: float
    high: float
    expected: float


class WeightPart(_Part):
    """An answer and its weight: how many decibels it moved this cause."""

    sign: str
    reading: str
    decibels: float


class CausePart(_Part):
    """A cause with its probability; several can act at once, so they may add up to more than 1."""

    id: str
    family: str
    role: str
    probability: float = Field(ge=0, le=1)
    speaks_for: list[WeightPart]
    speaks_against: list[WeightPart]


class ExplanationPart(_Part):
    """A set of causes and the probability that exactly these act; an empty set is something else."""

    causes: list[str]
    probability: float


class OptionPart(_Part):
    """One method considered."""

    decision: str = Field(alias="class")
    method: str
    verdict: str
    price: PricePart
    chance_it_holds: float
    expected_cost: float
    strength_of_as_made: float | None
    because: str


class FlipPart(_Part):
    """Above this value of the piece the advice changes."""

    value: float
    below: str
    above: str


class GatePart(_Part):
    """A reading that would forbid the advised method or make the triage graver."""

    sign: str
    reading: str
    forbids: bool
    raises_triage: bool


class DecisionPart(_Part):
    """What is advised."""

    decision: str = Field(alias="class")
    method: str
    extent: str
    end_use: str
    by: str
    when: str
    because: str
    tie: bool
    settled: bool
    provided_that: list[GatePart]
    flips: list[FlipPart]
    options: list[OptionPart]


class SidePart(_Part):
    """An input at another number: the lead of the advised method then (null: it is ruled out), and what is advised in its place."""

    number: float
    lead: float | None
    instead: str | None


class InfluencePart(_Part):
    """One input halved and doubled, held inside what it can be, the others as they are."""

    name: str
    number: float
    assumed: bool
    low: SidePart
    high: SidePart


class SensitivityPart(_Part):
    """How much more the next best method is expected to cost, and the ten inputs that move this most, the strongest first."""

    advised: str
    runner_up: str
    lead: float
    influences: list[InfluencePart]


class NextSignPart(_Part):
    """A sign still worth looking at: what the answer is worth in money, and the minutes it takes."""

    sign: str
    value: float
    minutes: float
    reason: str


class FindingPart(_Part):
    """A finding and the rules that gave it."""

    id: str
    rules: list[str]


class ConflictPart(_Part):
    """The answers fit each other badly by so many bits; rechecking this sign would resolve most."""

    bits: float
    recheck: str


class DamagePart(_Part):
    """One damage."""

    id: str
    causes: list[CausePart]
    something_else: float
    explanations: list[ExplanationPart]
    conflict: ConflictPart | None
    decision: DecisionPart
    sensitivity: SensitivityPart | None
    next_signs: list[NextSignPart]
    time_to_stop: bool
    findings: list[FindingPart]
    cautions: list[str]
    not_counted: list[str]


class TriagePart(_Part):
    """What happens at the door."""

    decision: str = Field(alias="class")
    because: list[str]
    refer_to: list[str]


class StepPart(_Part):
    """A step of the plan."""

    id: str
    phase: str
    count: int
    damages: list[str]
    asked_by: list[str]
    minutes: tuple[float, float, float]


class PiecePart(_Part):
    """The piece as a whole: our price, what covers the joint apart, a set of them together, and the range before opening.

    `opening_settles` are the signs that decide it then; `at_no_charge` the damages that we mend under our term.
    """

    kind: str
    decision: str
    moving_joints: str | None
    price: PricePart | None
    cover_price: PricePart | None
    set_price: PricePart | None
    before_opening: PricePart | None
    opening_settles: list[str]
    no_price_because: list[str]
    at_no_charge: list[str]
    plan: list[StepPart]


class Report(_Part):
    """The whole assessment."""

    schema_version: int = SCHEMA_VERSION
    rule_base: str
    number: str
    today: str
    currency: str
    triage: TriagePart
    piece: PiecePart
    damages: list[DamagePart]
    cautions: list[str]
    assumptions: list[str]


def _price(price: Price | None) -> PricePart | None:
    if price is None:
        return None
    return PricePart(low=price.low, likely=price.likely, high=price.high, expected=price.expected)


def _causes(damage: DamageAssessment, assessment: Assessment) -> list[CausePart]:
    parts = []
    for name, probability in damage.causes_by_probability():
        cause = assessment.knowledge.causes[name]
        weights = [
            WeightPart(sign=sign, reading=", ".join(damage.facts.counted[sign].reads) or "none", decibels=by_cause[name])
            for sign, by_cause in damage.weights.items()
        ]
        weights.sort(key=lambda w: (-abs(w.decibels), w.sign))
        parts.append(
            CausePart(
                id=name,
                family=cause.family,
                role=cause.role,
                probability=min(1.0, max(0.0, probability)),
                speaks_for=[w for w in weights if w.decibels > 0.05],
                speaks_against=[w for w in weights if w.decibels < -0.05],
            )
        )
    return parts


def _side(side: Side) -> SidePart:
    return SidePart(number=side.number, lead=side.lead, instead=side.instead)


def _hangs_on(damage: DamageAssessment) -> SensitivityPart | None:
    """The inputs that the explained diagnosis shows; nothing where no other method is left to compare with."""
    found = sensitivity(damage.situation, damage.decision)
    if found.runner_up is None or not found.influences:
        return None
    return SensitivityPart(
        advised=found.advised,
        runner_up=found.runner_up,
        lead=found.lead,
        influences=[
            InfluencePart(name=i.name, number=i.number, assumed=i.assumed, low=_side(i.low), high=_side(i.high))
            for i in found.leading
        ],
    )


def _damage(damage: DamageAssessment, assessment: Assessment) -> DamagePart:
    decision = damage.decision
    return DamagePart(
        id=damage.damage.id,
        causes=_causes(damage, assessment),
        something_else=damage.belief.something_else,
        explanations=[ExplanationPart(causes=list(names), probability=p) for names, p in damage.belief.explanations()],
        conflict=ConflictPart(bits=damage.conflict.bits, recheck=damage.conflict.recheck) if damage.conflict else None,
        decision=DecisionPart.model_validate(
            {
                "class": decision.decision,
                "method": decision.method,
                "extent": decision.extent,
                "end_use": decision.end_use,
                "by": decision.by,
                "when": decision.when,
                "because": decision.because,
                "tie": decision.tie,
                "settled": decision.settled,
                "provided_that": [
                    GatePart(sign=g.sign, reading=g.reading, forbids=g.forbids, raises_triage=g.raises_triage)
                    for g in decision.provided_that
                ],
                "flips": [FlipPart(value=f.value, below=f.below, above=f.above) for f in decision.flips],
                "options": [
                    OptionPart.model_validate(
                        {
                            "class": o.decision,
                            "method": o.method,
                            "verdict": o.verdict.value,
                            "price": _price(o.price),
                            "chance_it_holds": o.chance_it_holds,
                            "expected_cost": o.cost,
                            "strength_of_as_made": o.strength_ratio,
                            "because": o.because,
                        }
                    )
                    for o in decision.options
                ],
            }
        ),
        sensitivity=_hangs_on(damage),
        next_signs=[
            NextSignPart(sign=q.sign, value=q.value, minutes=q.minutes, reason=q.reason) for q in damage.questions.ranked
        ],
        time_to_stop=damage.questions.stop,
        findings=[FindingPart(id=f, rules=list(damage.deduction.rules_for("finding", f))) for f in damage.deduction.findings],
        cautions=list(damage.deduction.targets("caution")),
        not_counted=list(damage.facts.greyed),
    )


def report_of(assessment: Assessment) -> Report:
    """The assessment as a Report."""
    return Report(
        rule_base=assessment.knowledge.version,
        number=assessment.case.number,
        today=assessment.today.isoformat(),
        currency=assessment.shop.currency,
        triage=TriagePart.model_validate(
            {
                "class": assessment.triage.value,
                "because": list(assessment.triage_because),
                "refer_to": list(assessment.refer_to),
            }
        ),
        piece=PiecePart(
            kind=assessment.case.piece,
            decision=assessment.piece_decision,
            moving_joints=assessment.moving,
            price=_price(assessment.told.ours),
            cover_price=_price(assessment.told.cover),
            set_price=_price(assessment.told.of_set),
            before_opening=_price(assessment.told.before_opening),
            opening_settles=list(assessment.told.settles),
            no_price_because=list(assessment.told.not_yet),
            at_no_charge=list(assessment.told.on_us),
            plan=[
                StepPart(
                    id=p.step.id,
                    phase=p.step.phase,
                    count=p.count,
                    damages=list(p.damages),
                    asked_by=list(p.asked_by),
                    minutes=p.minutes(),
                )
                for p in assessment.plan
            ],
        ),
        damages=[_damage(damage, assessment) for damage in assessment.damages],
        cautions=list(assessment.cautions),
        assumptions=list(assessment.assumptions),
    )


def report_json(assessment: Assessment) -> str:
    """The report as JSON text."""
    return json.dumps(report_of(assessment).model_dump(by_alias=True), indent=2, ensure_ascii=False)


def schema_text() -> str:
    """The JSON Schema of the report, as it is kept in the repository."""
    return json.dumps(Report.model_json_schema(by_alias=True), indent=2, ensure_ascii=False) + "\n"
