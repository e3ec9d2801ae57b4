"""The shop: rates, hours and terms, read from shop.yaml. Every default is an assumption, and is said to be one."""

from collections.abc import Iterable
from pathlib import Path
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError
from pydantic_core import PydanticCustomError

from diagnose import words
from diagnose.rulebase.fault import Fault, FaultsFound, Mark
from diagnose.rulebase.located import read_located
from diagnose.rulebase.model_faults import model_faults

Share = Annotated[float, Field(ge=0, le=1)]
Money = Annotated[float, Field(ge=0)]


def _rising(three: tuple[float, float, float]) -> tuple[float, float, float]:
    if list(three) != sorted(three):
        raise PydanticCustomError("price", "a price is low, likely, high, in rising order")
    return three


def _from_to(two: tuple[float, float]) -> tuple[float, float]:
    if two[0] > two[1]:
        raise PydanticCustomError("weeks", "weeks are from and to, in rising order")
    return two


def _only_trades(said: dict[str, Any]) -> None:
    unknown = [trade for trade in said if trade not in OUTSIDE]
    if unknown:
        message = f"{unknown[0]} is not one of {', '.join(OUTSIDE)}"
        raise PydanticCustomError("trade", "{message}", {"message": message})


def _with_the_others(prices: dict[str, tuple[float, float, float]]) -> dict[str, tuple[float, float, float]]:
    """A shop that prices one trade keeps the assumed prices of the others: work is never had for nothing."""
    _only_trades(prices)
    return {**OUTSIDE, **prices}


def _with_other_weeks(weeks: dict[str, tuple[float, float]]) -> dict[str, tuple[float, float]]:
    """A shop that knows the weeks of one trade keeps the assumed weeks of the others."""
    _only_trades(weeks)
    return {**OUTSIDE_WEEKS, **weeks}


Three = Annotated[tuple[Money, Money, Money], AfterValidator(_rising)]
OUTSIDE: dict[str, tuple[float, float, float]] = {
    "caner": (120.0, 240.0, 480.0),
    "upholsterer": (150.0, 320.0, 600.0),
    "conservator": (150.0, 400.0, 900.0),
    "licensed": (80.0, 180.0, 400.0),
    "maker": (60.0, 150.0, 350.0),
    "workshop": (150.0, 350.0, 800.0),
}


Weeks = Annotated[tuple[Annotated[float, Field(ge=0)], Annotated[float, Field(ge=0)]], AfterValidator(_from_to)]
# Outside trades keep their own time; judgement.
OUTSIDE_WEEKS: dict[str, tuple[float, float]] = {
    "caner": (4.0, 8.0),
    "upholsterer": (2.0, 6.0),
    "conservator": (4.0, 16.0),
    "licensed": (2.0, 6.0),
    "maker": (2.0, 8.0),
    "workshop": (2.0, 6.0),
}


class Shop(BaseModel):
    """Every setting with its unit; whatever a shop does not set is assumed, and said to be. Money is in the shop's currency."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)

    name: str = Field(default="the workshop", description="as letters are headed")
    address: str = Field(default="", description="one line")
    telephone: str = Field(default="", description="as it is dialled")
    currency: str = Field(default="EUR", description="letters or sign, written before the amount")
    rate_per_hour: Money = Field(default=60.0, description="money an hour of work")
    minimum_charge: Money = Field(default=40.0, description="money, the least for any work of ours")
    look_see_fee: Money = Field(default=30.0, description="money, for opening it when the owner then says no")
    deposit_share: Share = Field(default=0.3, description="share of the price, 0 to 1")
    tax_share: Share = Field(default=0.0, description="share added to the price, 0 to 1")
    round_to: Money = Field(default=1.0, description="money: told prices are whole multiples of it, 0 for not at all")
    estimate_valid_days: int = Field(default=30, ge=1, description="days")
    storage_after_weeks: int = Field(default=6, ge=0, description="weeks after it is ready")
    storage_per_week: Money = Field(default=5.0, description="money a week")
    term_months: int = Field(default=24, ge=0, description="months for which our joints are mended again free of charge")
    horizon_years: float = Field(default=5.0, gt=0, description="years that are looked ahead")
    hours_a_week: float = Field(default=25.0, gt=0, description="hours a week at the bench")
    weeks_booked: float = Field(default=3.0, ge=0, description="weeks of work waiting before it")
    assumed_value: Money = Field(default=300.0, description="money, the value of a piece of which nobody said one")
    failing_again_costs: Money = Field(default=150.0, description="money: doing it over, and goodwill")
    failing_again_share: Share = Field(default=0.30, description="share of the piece's value lost if it fails again, 0 to 1")
    failing_again_looks_share: Share = Field(
        default=0.10, description="share of its value lost if only its looks suffer again, as of a finish that fails, 0 to 1"
    )
    wrong_reason_costs: Money = Field(default=60.0, description="money, what a wrong reason in a letter costs")
    sound_part_fails: Share = Field(default=0.02, description="share of sound parts that fail within the horizon, 0 to 1")
    outside: Annotated[dict[str, Three], AfterValidator(_with_the_others)] = Field(
        default=OUTSIDE, description="money, low, likely and high, by trade"
    )
    outside_weeks: Annotated[dict[str, Weeks], AfterValidator(_with_other_weeks)] = Field(
        default=OUTSIDE_WEEKS, description="weeks from and to, by trade"
    )
    in_rack: tuple[str, ...] = Field(default=(), description="things to buy that are in the rack, by their name in the rule base")
    handling_share: Share = Field(default=0.10, description="share of an outside price added for sending and fetching, 0 to 1")
    prices: dict[str, Three] = Field(default={}, description="money, low, likely and high, for one unit of a material")
    can_do: tuple[str, ...] | None = Field(default=None, description="machines and skills that are here; left out: all")
    further_piece_share: Share = Field(
        default=0.67, description="share of one piece's minutes that each further piece of a set takes, 0 to 1"
    )
    tight_joint_hurt_share: Share = Field(default=0.11, description="chance that a tight joint is hurt when it is parted, 0 to 1")
    hurt_joint_minutes: Three = Field(
        default=(20.0, 45.0, 120.0), description="minutes, low, likely and high, to mend such a joint"
    )
    room_temperature_c: float = Field(default=20.0, ge=-10, le=45, description="degrees Celsius where it is glued")
    clamps: int = Field(default=12, ge=0, description="clamps that can be on at once")
    hands: int = Field(default=1, ge=1, description="people at a glue-up")

    def assumed(self) -> tuple[str, ...]:
        """The settings the shop has not said itself."""
        return tuple(sorted(set(type(self).model_fields) - self.model_fields_set))

    def lacks(self, needs: Iterable[str]) -> tuple[str, ...]:
        """What of these machines and skills the shop is without.

        >>> Shop(can_do=("lathe",)).lacks(["bandsaw", "lathe"]), Shop().lacks(["bandsaw"])
        (('bandsaw',), ())
        """
        return () if self.can_do is None else tuple(need for need in needs if need not in self.can_do)

    def share_lost(self, consequence: str | None) -> float:
        """Which share of the piece's value is lost if a mend fails again: less where only the looks suffer.

        >>> Shop().share_lost("somebody_falls"), Shop().share_lost("looks"), Shop().share_lost(None)
        (0.3, 0.1, 0.3)
        """
        return self.failing_again_looks_share if consequence == words.LOOKS else self.failing_again_share

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
