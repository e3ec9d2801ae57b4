"""Each gluing of a plan with its glue, its closings and, where it does not fit, what would make it fit."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from diagnose.case.case import Case
from diagnose.mechanics.adhesives import latest_closing
from diagnose.planning.adhesive import Demand, Place, Ranked, demand_of, rank
from diagnose.planning.clock import Bond, Change, Glue, GlueUp, NoOrder, Schedule, changes, needed_minutes, schedule
from diagnose.planning.compose import PlannedStep
from diagnose.planning.glue_lines import Work, works
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop

# The share of the working time that is planned with; the rest is kept in hand.
USED = latest_closing(0.0, 1.0).value
WARM_SHOP_C = 20.0


@dataclass(frozen=True)
class Gluing:
    """One work: every glue ranked for it, the glue-up on the clock, its schedule, and the changes that make it fit where it does not.

    `schedule` is None where no glue is left or the clamps do not suffice; `no_order` then says which. `warmed` is the best glue if the
    wood were as warm as an ordinary shop, where that is another one.
    """

    work: Work
    demand: Demand
    ranked: tuple[Ranked, ...]
    glue_up: GlueUp
    schedule: Schedule | None
    no_order: str
    changes: tuple[Change, ...]
    warmed: Ranked | None

    @property
    def best(self) -> Ranked | None:
        """The glue chosen; None where every one is ruled out."""
        return self.ranked[0] if self.ranked and self.ranked[0].usable else None


def wood_warmth(work: Work, shop: Shop) -> float:
    """The wood is taken to be as warm as the shop, and warmer where the plan warms it, in °C."""
    warmed = work.warmed.step.warms_c if work.warmed is not None else None
    return max(shop.room_temperature_c, warmed) if warmed is not None else shop.room_temperature_c


def _glue_up(work: Work, glue: Glue, shop: Shop) -> GlueUp:
    bonds = tuple(
        Bond(line.name, glue, line.spread_min, line.close_min, line.clamps, line.frame, line.together) for line in work.lines
    )
    return GlueUp(bonds, shop.hands, shop.clamps, work.square_min, wood_warmth(work, shop), USED)


def _ranked(
    knowledge: Knowledge, work: Work, places: Sequence[Place], minutes: float, wood_c: float
) -> tuple[Demand, tuple[Ranked, ...]]:
    demand = demand_of(places, minutes, wood_c)
    return demand, rank(knowledge.adhesives.values(), demand)


def _that_first(ranked: tuple[Ranked, ...], wanted: str) -> tuple[Ranked, ...]:
    """The same glues, the wanted one first where nothing rules it out."""
    return tuple(sorted(ranked, key=lambda one: not (one.adhesive.id == wanted and one.usable)))


def glue(knowledge: Knowledge, shop: Shop, work: Work, places: Sequence[Place], wanted: str = "") -> Gluing:
    """The glue and the clock of one work; `wanted` is a glue that is mixed or open already. Raises ValueError where it has no place."""
    wood_c = wood_warmth(work, shop)
    bare = _glue_up(work, Glue("any", 0.0), shop)
    no_order = ""
    try:
        minutes = needed_minutes(bare)
    except NoOrder as error:
        no_order, minutes = str(error), needed_minutes(replace(bare, clamps=sum(bond.clamps for bond in bare.bonds)))
    demand, ranked = _ranked(knowledge, work, places, minutes, wood_c)
    ranked = _that_first(ranked, wanted)
    warmer = _ranked(knowledge, work, places, minutes, WARM_SHOP_C)[1] if wood_c < WARM_SHOP_C else ()
    best = ranked[0] if ranked and ranked[0].usable else None
    warmed = warmer[0] if warmer and warmer[0].usable and (best is None or warmer[0].adhesive != best.adhesive) else None
    glue_up = bare if best is None else _glue_up(work, best.glue(), shop)
    planned = None
    if best is not None and not no_order:
        planned = schedule(glue_up)
    ways: tuple[Change, ...] = ()
    if best is not None:
        others = [other.glue() for other in ranked[1:] if other.usable and not other.doubts]
        # Where it takes several closings, what would bring it down to one is worth knowing; where nothing fits, what would.
        most = 1 if planned is not None and planned.fits and len(planned.closings) > _stages(work) else None
        ways = changes(glue_up, others, most if most is None else _stages(work))
    return Gluing(work, demand, ranked, glue_up, planned, no_order, ways, warmed)


def _stages(work: Work) -> int:
    """Closings that no change can save: one for the sub-frames, one for what joins them."""
    return len({bool(line.frame) for line in work.lines})


def gluings(
    knowledge: Knowledge, case: Case, shop: Shop, plan: Sequence[PlannedStep], places: Mapping[str, Place]
) -> tuple[Gluing, ...]:
    """Every gluing of a plan, in its order; `places` by the id of their damage.

    What is put in one by one takes the glue that its damage is glued with already, so that one glue is written inside the piece.
    """
    found: list[Gluing] = []
    for work in works(knowledge, case, plan):
        before = [one.best.adhesive.id for one in found if one.best and set(one.work.damages) & set(work.damages)]
        wanted = before[-1] if before and work.one_by_one else ""
        found.append(glue(knowledge, shop, work, [places[name] for name in work.damages], wanted))
    return tuple(found)
