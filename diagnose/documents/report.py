"""The assessment as data: documented, versioned, and the same on every run with the same input."""

import json
from pathlib import Path

from diagnose.assess import Assessment, DamageAssessment
from diagnose.decision.cost import Price
from diagnose.decision.sensitivity import Side, sensitivity
from diagnose.documents.report_parts import (
    CausePart,
    ConflictPart,
    DamagePart,
    DecisionPart,
    ExplanationPart,
    FindingPart,
    FlipPart,
    GatePart,
    InfluencePart,
    NextSignPart,
    OptionPart,
    PiecePart,
    PricePart,
    Report,
    SensitivityPart,
    SidePart,
    StepPart,
    TriagePart,
    WeightPart,
)

SCHEMA_FILE = Path(__file__).with_name("assessment.schema.json")


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
