"""The woods: what each column of `rules/materials/woods.csv` means, reading them, finding one by name.

| column | is |
|---|---|
| id, name | snake_case id; the name people use |
| group | ring_porous, diffuse_porous, softwood, or oily (teak, rosewood: oil decides how they glue) |
| pores | ring, semi_ring, diffuse, none |
| gravity_12 | oven-dry weight over volume at 12 % MC; imported woods turned from green volume by Eq 4-13 |
| mor_mpa, moe_mpa | bending strength, modulus (centre load, span/depth 14; add 10 % for the true one), at 12 % MC |
| compression_par/perp_mpa, shear_par_mpa, tension_perp_mpa, hardness_n | at 12 % MC; empty where not printed |
| *_green_* | the same green, for Eq 5-3 |
| mp | % MC at which strength stops changing (Table 5-13; 25 where it names none) |
| shrink_r_pct, shrink_t_pct | radial and tangential shrinkage, green to oven-dry |
| coef_r, coef_t | change of size per 1 % MC; where two sources disagree for imported woods the larger |
| texture, colour | fine, medium, coarse; of the heartwood: pale, yellow, tan, red, brown, purple |
| blotch, bonding | low, moderate, high, unknown; easily … with_difficulty, unknown |
| *_known_by, *_source | of each block: read, read_second_hand, derived, judgement, memory; empty: nothing known |
"""

from __future__ import annotations

import csv
import difflib
import io
from collections.abc import Mapping
from dataclasses import dataclass, fields

from diagnose import house
from diagnose.mechanics.result import KNOWN_BY_ORDER, Figure, KnownBy
from diagnose.mechanics.wood import Kind, strength_at_moisture, unknown_wood

GROUPS = ("ring_porous", "diffuse_porous", "softwood", "oily")
PORES = ("ring", "semi_ring", "diffuse", "none")
TEXTURES = ("fine", "medium", "coarse")
COLOURS = ("pale", "yellow", "tan", "red", "brown", "purple")
BLOTCH = ("low", "moderate", "high", "unknown")
BONDING = ("easily", "well", "satisfactorily", "with_difficulty", "unknown")


class WoodsError(ValueError):
    """A fault in the table of woods; the message names line and column."""


class UnknownWood(ValueError):
    """A wood the table does not have; the message names the nearest."""


@dataclass(frozen=True, slots=True)
class Wood:
    """One row of the table; units and meanings as in the module's own text, None where nothing is printed."""

    id: str
    name: str
    group: str
    pores: str
    gravity_12: float
    mor_mpa: float
    moe_mpa: float
    compression_par_mpa: float
    compression_perp_mpa: float | None
    shear_par_mpa: float | None
    tension_perp_mpa: float | None
    hardness_n: float | None
    mor_green_mpa: float | None
    moe_green_mpa: float | None
    compression_par_green_mpa: float | None
    shear_par_green_mpa: float | None
    mp: float
    strength_known_by: KnownBy
    strength_source: str
    shrink_r_pct: float
    shrink_t_pct: float
    shrink_known_by: KnownBy
    shrink_source: str
    coef_r: float
    coef_t: float
    movement_known_by: KnownBy
    movement_source: str
    pores_known_by: KnownBy
    pores_source: str
    texture: str
    texture_known_by: KnownBy
    texture_source: str
    colour: str
    colour_known_by: KnownBy
    colour_source: str
    blotch: str
    blotch_known_by: KnownBy | None
    blotch_source: str
    bonding: str
    bonding_known_by: KnownBy | None
    bonding_source: str

    @property
    def kind(self) -> Kind:
        """softwood or hardwood, for rules that know only these."""
        return "softwood" if self.group == "softwood" else "hardwood"

    def strength(self, prop: str) -> Figure:
        """A property at 12 % MC, MPa (hardness N): printed, or where none is printed estimated from gravity.

        `prop`: mor, moe, compression_par, compression_perp, shear_par, tension_perp, hardness. Raises ValueError for
        others. An estimate carries its origin (the older read line or the remembered table, the lower) and a warning.

        >>> load_woods()["white_oak"].strength("mor").value
        104.8
        """
        by_name = {
            "mor": self.mor_mpa,
            "moe": self.moe_mpa,
            "compression_par": self.compression_par_mpa,
            "compression_perp": self.compression_perp_mpa,
            "shear_par": self.shear_par_mpa,
            "tension_perp": self.tension_perp_mpa,
            "hardness": self.hardness_n,
        }
        if prop not in by_name:
            raise ValueError(f"property {prop!r} is not known; allowed: {', '.join(by_name)}")
        value = by_name[prop]
        if value is None:
            note = f"not printed for {self.name}: estimated from its gravity"
            return unknown_wood(prop, self.gravity_12, self.kind).warned(note)
        unit = "N" if prop == "hardness" else "MPa"
        notes = ("12 % MC", "average of clear, straight-grained wood, not a design value")
        return Figure(value, unit, "table value", self.strength_source, self.strength_known_by, notes)

    def strength_at(self, prop: str, moisture_pct: float) -> Figure:
        """A property at any moisture content by Handbook Eq 5-3, MPa; `prop` mor, moe, compression_par or shear_par.

        Raises ValueError where no green value is printed for the wood or the property, OutOfRange as Eq 5-3 does.

        >>> round(load_woods()["white_ash"].strength_at("mor", 8).value, 1)
        124.7
        """
        green = {
            "mor": self.mor_green_mpa,
            "moe": self.moe_green_mpa,
            "compression_par": self.compression_par_green_mpa,
            "shear_par": self.shear_par_green_mpa,
        }
        if prop not in green:
            raise ValueError(f"Eq 5-3 is worked for {', '.join(green)}; not for {prop!r}")
        wet, dry = green[prop], self.strength(prop)
        if wet is None:
            raise ValueError(f"no green value of {prop} is printed for {self.name}: only its value at 12 % can be given")
        figure = strength_at_moisture(dry.value, wet, moisture_pct, self.mp, prop)
        return Figure(
            figure.value,
            "MPa",
            figure.formula,
            f"{figure.source}; {dry.source}",
            max(figure.known_by, dry.known_by, key=KNOWN_BY_ORDER.index),
            (*figure.assumptions, f"Mp {self.mp:g} % MC"),
            (*dry.warnings, *figure.warnings),
            figure.range,
        )


_CHOICES = {"group": GROUPS, "pores": PORES, "texture": TEXTURES, "colour": COLOURS, "blotch": BLOTCH, "bonding": BONDING}
_TEXT = {"id", "name", *_CHOICES}
_MAY_BE_EMPTY = {
    "compression_perp_mpa", "shear_par_mpa", "tension_perp_mpa", "hardness_n", "mor_green_mpa", "moe_green_mpa",
    "compression_par_green_mpa", "shear_par_green_mpa",
}  # fmt: skip
_KNOWN_MAY_BE_EMPTY = {"blotch_known_by", "bonding_known_by"}
COLUMNS = tuple(field.name for field in fields(Wood))


def _cell(line: int, column: str, text: str) -> object:
    """One cell with its type; raises WoodsError naming line and column."""

    def fault(what: str) -> WoodsError:
        return WoodsError(f"woods.csv line {line}, column {column}: {what}")

    text = text.strip()
    if column.endswith("_source"):
        return text
    if column.endswith("_known_by"):
        if text == "" and column in _KNOWN_MAY_BE_EMPTY:
            return None
        if text not in KNOWN_BY_ORDER:
            raise fault(f"{text!r} is not one of {', '.join(KNOWN_BY_ORDER)}")
        return text
    if column in _TEXT:
        if text == "":
            raise fault("is empty")
        if column in _CHOICES and text not in _CHOICES[column]:
            raise fault(f"{text!r} is not one of {', '.join(_CHOICES[column])}")
        return text
    if text == "" and column in _MAY_BE_EMPTY:
        return None
    try:
        number = float(text)
    except ValueError:
        raise fault(f"{text!r} is not a number") from None
    if not 0.0 < number < 1e6:
        raise fault(f"{text} is not a number over 0 and under 1,000,000")
    return number


def read_woods(text: str) -> dict[str, Wood]:
    """The table of woods from its text, by id, in file order. Raises WoodsError naming line and column.

    >>> read_woods("id,name\\noak,Oak\\n")
    Traceback (most recent call last):
    diagnose.rulebase.woods.WoodsError: woods.csv: columns missing: group, pores, gravity_12, mor_mpa, moe_mpa and 34
    """
    reader = csv.DictReader(io.StringIO(text))
    header = list(reader.fieldnames or [])
    missing = [column for column in COLUMNS if column not in header]
    if missing:
        more = f" and {len(missing) - 5}" if len(missing) > 5 else ""
        raise WoodsError(f"woods.csv: columns missing: {', '.join(missing[:5])}{more}")
    extra = [column for column in header if column not in COLUMNS]
    if extra:
        raise WoodsError(f"woods.csv: columns not known: {', '.join(extra)}")
    woods: dict[str, Wood] = {}
    for row in reader:
        line = reader.line_num
        if None in row or None in row.values():
            raise WoodsError(f"woods.csv line {line}: {len(header)} cells are wanted")
        cells = {column: _cell(line, column, row[column]) for column in COLUMNS}
        wood = Wood(**cells)  # type: ignore[arg-type]
        if wood.id in woods:
            raise WoodsError(f"woods.csv line {line}, column id: {wood.id!r} stands there twice")
        woods[wood.id] = wood
    if not woods:
        raise WoodsError("woods.csv has no row")
    return woods


def _plain(text: str) -> str:
    return " ".join(text.lower().replace("_", " ").replace("-", " ").split())


def _names(wood: Wood) -> tuple[str, ...]:
    """Every plain name of a wood: id, name, and the name with what stands in brackets taken apart."""
    parts = [part.strip() for part in _plain(wood.name).replace(")", "").split("(")]
    return tuple(dict.fromkeys((_plain(wood.id), _plain(wood.name), *parts)))


def nearest_woods(woods: Mapping[str, Wood], name: str, count: int = 3) -> tuple[str, ...]:
    """Ids of the woods whose id or name is nearest to `name`, best first (difflib); may be empty.

    Words count for themselves too, so "oak" finds the oaks.

    >>> nearest_woods(load_woods(), "wallnut")
    ('black_walnut',)
    """
    wanted = _plain(name)
    scores = {}
    for wood in woods.values():
        plain = _names(wood)
        words = [word for text in plain for word in text.split()]
        ratios = [difflib.SequenceMatcher(None, wanted, text).ratio() for text in (*plain, *words)]
        scores[wood.id] = max(ratios)
    best = sorted(scores, key=lambda id: -scores[id])  # alike: in the order of the table, where the commoner woods come first
    return tuple(id for id in best if scores[id] >= 0.6)[:count]


def find_wood(woods: Mapping[str, Wood], name: str) -> Wood:
    """The wood of this id or name, case, hyphens and underscores aside. Raises UnknownWood naming the nearest.

    >>> find_wood(load_woods(), "Hard maple").id
    'sugar_maple'
    """
    wanted = _plain(name)
    for wood in woods.values():
        if wanted in _names(wood):
            return wood
    near = nearest_woods(woods, name)
    hint = f"; nearest: {', '.join(near)}" if near else f"; one of {len(woods)} woods is wanted, see the list of woods"
    raise UnknownWood(f"wood {name!r} is not known{hint}")


def load_woods() -> dict[str, Wood]:
    """The table of woods of the rule base in use. Raises WoodsError; OSError where the file is missing.

    >>> load_woods()["black_cherry"].gravity_12
    0.5
    """
    return read_woods((house.rules_folder() / "materials" / "woods.csv").read_text(encoding="utf-8"))
