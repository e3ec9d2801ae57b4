"""The shop: rates, hours and terms, read from shop.yaml. Every default is an assumption, and is said to be one."""

from pathlib import Path
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError
from pydantic_core import PydanticCustomError

from diagnose.rulebase.fault import Fault, FaultsFound, Mark
from diagnose.rulebase.load import model_faults
from diagnose.rulebase.located import read_located

Share = Annotated[float, Field(ge=0, le=1)]
Money = Annotated[float, Field(ge=0)]


def _rising(three: tuple[float, float, float]) -> tuple[float, float, float]:
    if list(three) != sorted(three):
        raise PydanticCustomError("price", "a price is low, likely, high, in rising order")
    return three


def _with_the_others(prices: dict[str, tuple[float, float, float]]) -> dict[str, tuple[float, float, float]]:
    """A shop that prices one trade keeps the assumed prices of the others: work is never had for nothing."""
    unknown = [trade for trade in prices if trade not in OUTSIDE]
    if unknown:
        message = f"{unknown[0]} is not one of {', '.join(OUTSIDE)}"
        raise PydanticCustomError("trade", "{message}", {"message": message})
    return {**OUTSIDE, **prices}


Three = Annotated[tuple[Money, Money, Money], AfterValidator(_rising)]
OUTSIDE: dict[str, tuple[float, float, float]] = {
    "caner": (120.0, 240.0, 480.0),
    "upholsterer": (150.0, 320.0, 600.0),
    "conservator": (150.0, 400.0, 900.0),
    "licensed": (80.0, 180.0, 400.0),
    "maker": (60.0, 150.0, 350.0),
}


class Shop(BaseModel):
    """Money in the shop's currency, times in hours, weeks, months and years as named."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)

    name: str = "the workshop"
    address: str = ""
    telephone: str = ""
    currency: str = "EUR"
    rate_per_hour: Money = 60.0
    minimum_charge: Money = 40.0
    look_see_fee: Money = 30.0
    deposit_share: Share = 0.3
    tax_share: Share = 0.0
    estimate_valid_days: int = Field(default=30, ge=1)
    storage_after_weeks: int = Field(default=6, ge=0)
    storage_per_week: Money = 5.0
    term_months: int = Field(default=24, ge=0)
    horizon_years: float = Field(default=5.0, gt=0)
    hours_a_week: float = Field(default=25.0, gt=0)
    weeks_booked: float = Field(default=3.0, ge=0)
    assumed_value: Money = 300.0
    failing_again_costs: Money = 150.0
    failing_again_share: Share = 0.30
    wrong_reason_costs: Money = 60.0
    sound_part_fails: Share = 0.02
    outside: Annotated[dict[str, Three], AfterValidator(_with_the_others)] = Field(default=OUTSIDE)
    prices: dict[str, Three] = Field(default={})
    room_temperature_c: float = Field(default=20.0, ge=-10, le=45)
    clamps: int = Field(default=12, ge=0)
    hands: int = Field(default=1, ge=1)

    def assumed(self) -> tuple[str, ...]:
        """The settings the shop has not said itself."""
        return tuple(sorted(set(type(self).model_fields) - self.model_fields_set))

    def money(self, amount: float) -> str:
        """An amount as it is written in documents: whole units, currency first.

        >>> Shop().money(1234.4)
        'EUR 1,234'
        """
        return f"{self.currency} {amount:,.0f}"


def read_shop(path: Path | None) -> Shop:
    """The shop of a file, or the defaults without one. Raises FaultsFound, or OSError when the file cannot be read."""
    if path is None:
        return Shop()
    try:
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise FaultsFound([Fault(Mark(str(path)), "not-text", "the file is not UTF-8 text")]) from None
    document = read_located(text, str(path))
    data: Any = document.data
    try:
        return Shop.model_validate(data)
    except ValidationError as error:
        raise FaultsFound(model_faults(error, document, (), Shop)) from None
