"""The shop: rates, hours and terms, read from shop.yaml. Every default is the program's assumption, and is said to be one."""

from pathlib import Path
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from diagnose.rulebase.fault import FaultsFound
from diagnose.rulebase.load import model_faults
from diagnose.rulebase.located import read_located

Share = Annotated[float, Field(ge=0, le=1)]
Money = Annotated[float, Field(ge=0)]
Three = tuple[Money, Money, Money]


class Shop(BaseModel):
    """Money in the shop's currency, times in hours, weeks, months and years as named."""

    model_config = ConfigDict(frozen=True, extra="forbid")

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
    outside: dict[str, Three] = {
        "caner": (120.0, 240.0, 480.0),
        "upholsterer": (150.0, 320.0, 600.0),
        "conservator": (150.0, 400.0, 900.0),
        "licensed": (80.0, 180.0, 400.0),
        "maker": (60.0, 150.0, 350.0),
    }
    prices: dict[str, Three] = {}
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
    document = read_located(path.read_text(encoding="utf-8"), str(path))
    data: Any = document.data
    try:
        return Shop.model_validate(data)
    except ValidationError as error:
        raise FaultsFound(model_faults(error, document, (), Shop)) from None
