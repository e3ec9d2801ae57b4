"""The form of an assessment as data: what each field is. The JSON Schema made from it lies beside this file."""

from pydantic import BaseModel, ConfigDict, Field

# Counted up with every change of the fields. 2 added `sensitivity`; a field that is added leaves the others as they were, so what
# reads 1 can read 2.
SCHEMA_VERSION = 2


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
