"""The shop's settings: read with places, refused where they would spoil the sums, and assumed openly."""

from pathlib import Path

import pytest
from pydantic import ValidationError

from diagnose.rulebase.fault import FaultsFound
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import OUTSIDE, Shop, read_shop

GOOD = """\
name: The Bench
currency: USD
rate_per_hour: 72.5
minimum_charge: 0
deposit_share: 0.5
estimate_valid_days: 14
outside:
  caner: [90, 180, 300]
prices:
  wood_glue: [0.02, 0.04, 0.2]
clamps: 20
"""


def shop_of(tmp_path: Path, text: str) -> Shop:
    path = tmp_path / "shop.yaml"
    path.write_text(text, encoding="utf-8")
    return read_shop(path)


def test_without_a_file_everything_is_assumed() -> None:
    shop = read_shop(None)
    assert shop == Shop()
    assert shop.assumed() == tuple(sorted(Shop.model_fields))


def test_what_a_file_says_is_no_longer_assumed(tmp_path: Path) -> None:
    shop = shop_of(tmp_path, GOOD)
    assert (shop.name, shop.currency, shop.rate_per_hour, shop.minimum_charge) == ("The Bench", "USD", 72.5, 0.0)
    assert (shop.estimate_valid_days, shop.clamps, shop.deposit_share) == (14, 20, 0.5)
    assert shop.prices == {"wood_glue": (0.02, 0.04, 0.2)}
    said = {line.split(":")[0] for line in GOOD.splitlines() if not line.startswith(" ")}
    assert set(shop.assumed()) == set(Shop.model_fields) - said
    assert shop.horizon_years == Shop().horizon_years


def test_every_setting_says_its_unit() -> None:
    units = ("money", "share", "chance", "days", "weeks", "months", "years", "hours", "minutes", "degrees")
    things = ("clamps", "people", "machines", "letters", "one line", "dialled", "rule base")
    for name, field in Shop.model_fields.items():
        assert field.description, name
        assert any(word in field.description for word in (*units, *things)), name


def test_one_trade_priced_leaves_the_others_as_assumed(tmp_path: Path) -> None:
    """Otherwise the work of every other trade would cost nothing, and be advised for it."""
    shop = shop_of(tmp_path, GOOD)
    assert shop.outside == {**OUTSIDE, "caner": (90.0, 180.0, 300.0)}
    assert Shop().outside == OUTSIDE
    assert all(low > 0 for low, _, _ in shop.outside.values())


def test_every_trade_of_the_rule_base_has_a_price() -> None:
    trades = {method.by for method in load_knowledge().methods.values()} - {"us"}
    assert trades <= set(Shop().outside)
    assert trades


def test_settings_are_frozen() -> None:
    with pytest.raises(ValidationError, match="frozen"):
        Shop().rate_per_hour = 1.0


@pytest.mark.parametrize(
    ("amount", "said"), [(0, "EUR 0"), (0.5, "EUR 0"), (1234.4, "EUR 1,234"), (999_999.9, "EUR 1,000,000"), (-20, "EUR -20")]
)
def test_money(amount: float, said: str) -> None:
    assert Shop().money(amount) == said


# The name of the test → the text, where the fault stands, what it says.
BAD = {
    "misspelt key": ("name: x\nrate_per_hours: 60\n", "2:1", "rate_per_hours is not known here; did you mean rate_per_hour?"),
    "unknown key": ("colour: red\n", "1:1", "colour is not known here; one of: "),
    "number in words": ("rate_per_hour: sixty\n", "1:16", "rate_per_hour 'sixty' is not a number"),
    "number with a unit": ("rate_per_hour: 60 EUR\n", "1:16", "rate_per_hour '60 EUR' is not a number"),
    "negative money": ("minimum_charge: -1\n", "1:17", "minimum_charge should be greater than or equal to 0"),
    "no number": ("rate_per_hour: nan\n", "1:16", "rate_per_hour should be a finite number"),
    "endless number": ("assumed_value: inf\n", "1:16", "assumed_value should be a finite number"),
    "share over one": ("name: x\ntax_share: 19\n", "2:12", "tax_share should be less than or equal to 1"),
    "no time at all": ("horizon_years: 0\n", "1:16", "horizon_years should be greater than 0"),
    "half a clamp": ("clamps: 1.5\n", "1:9", "clamps '1.5' is not a whole number"),
    "no hands": ("hands: 0\n", "1:8", "hands should be greater than or equal to 1"),
    "two prices of three": ("outside:\n  caner: [1, 2]\n", "2:10", "outside.caner.2 is missing"),
    "price that falls": ("outside:\n  caner: [3, 2, 1]\n", "2:10", "outside.caner a price is low, likely, high"),
    "negative price": ("prices:\n  wood_glue: [-1, 2, 3]\n", "2:15", "prices.wood_glue.0 should be greater than or equal to 0"),
    "price of a trade that is none": (
        "outside:\n  canner: [1, 2, 3]\n",
        "2:3",
        "outside canner is not one of caner, upholsterer",
    ),
    "nothing said": ("name:\n", "1:6", "name needs a text"),
    "list": ("- a\n", "1:1", "this entry needs names and values, as {name: value}"),
    "twice": ("hands: 1\nhands: 2\n", "2:1", "hands is given twice here"),
    "colon": ("address: Mill Lane: 3\n", "1:19", "a text that holds a colon needs quotes"),
    "empty": ("", "1:1", "the file is empty"),
    "alias": ("name: *shop\n", "1:7", "an alias (*shop) stands here"),
}


@pytest.mark.parametrize("name", BAD)
def test_a_fault_stands_at_its_place(tmp_path: Path, name: str) -> None:
    text, place, says = BAD[name]
    with pytest.raises(FaultsFound) as found:
        shop_of(tmp_path, text)
    (fault,) = found.value.faults
    assert f"{fault.mark.line}:{fault.mark.column}" == place
    assert fault.mark.file == str(tmp_path / "shop.yaml")
    assert says in str(fault)


def test_all_faults_come_at_once(tmp_path: Path) -> None:
    with pytest.raises(FaultsFound) as found:
        shop_of(tmp_path, "hands: none\nclamps: -1\ntax_share: 2\ncolour: red\n")
    assert [fault.mark.line for fault in found.value.faults] == [1, 2, 3, 4]


def test_a_file_that_is_not_there_or_no_text(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        read_shop(tmp_path / "shop.yaml")
    (tmp_path / "shop.yaml").write_bytes(b"name: \xe9\n")
    with pytest.raises(FaultsFound, match="not-text the file is not UTF-8 text"):
        read_shop(tmp_path / "shop.yaml")
