"""The rest of the plan's section on glue: the way out where nothing fits, and the glues that were not taken, with the reason."""

from collections.abc import Iterable

from diagnose.documents import md
from diagnose.planning.adhesive import Ranked
from diagnose.planning.clock import Change
from diagnose.planning.gluing import WARM_SHOP_C, Gluing

MOST_OTHERS = 3
MOST_REFUSED = 4


def no_glue(gluing: Gluing) -> str:
    """What is said where every glue is ruled out: why, and the way out."""
    reasons = [f"{ranked.adhesive.name}: {ranked.ruled_out[0]}" for ranked in gluing.ranked[:MOST_REFUSED]]
    out = "**No glue is left for this.** Do not glue it as it stands."
    if gluing.warmed is not None:
        out += f" With room and wood at {WARM_SHOP_C:g} °C, {gluing.warmed.adhesive.name.lower()} would do: warm both overnight."
    else:
        out += " Bring the fit closer with wood, clean the faces to bare wood, or part the work, and plan again."
    return md.join(out, md.bullets(reasons))


def ways(gluing: Gluing) -> str:
    """The changes that make a glue-up fit, each by how much."""
    said = [_way(gluing, change) for change in gluing.changes]
    if gluing.warmed is not None:
        said.append(f"warm room and wood to {WARM_SHOP_C:g} °C overnight and take {gluing.warmed.adhesive.name.lower()}")
    if not said:
        return "No single change makes it fit: rehearse until it is quicker, or fit and glue fewer lines at a time."
    return "What makes it fit: " + "; or ".join(said) + "."


def _way(gluing: Gluing, change: Change) -> str:
    now = gluing.glue_up
    spare = f" ({change.schedule.spare:.0f} min to spare)"
    if change.what == "closings":
        return f"{change.to:g} closings{spare}"
    if change.what == "hands":
        return f"{change.to - now.hands:g} more pair{'s' if change.to - now.hands > 1 else ''} of hands{spare}"
    if change.what == "clamps":
        return f"{change.to - now.clamps:g} more clamp{'s' if change.to - now.clamps > 1 else ''}{spare}"
    if change.what == "wood_c":
        return f"{'warmer' if change.to > now.wood_c else 'cooler'} wood, {change.to:g} °C{spare}"
    return f"{change.glue.name.lower() if change.glue else 'a slower glue'}{spare}"


def others(gluing: Gluing) -> Iterable[str]:
    """The glues next in line and those that are not for this, each with its reason."""

    def told(ranked: Ranked) -> str:
        reasons = (*ranked.doubts, *ranked.against) if ranked.usable else ranked.ruled_out[:1]
        return f"{ranked.adhesive.name}: {'; '.join(reasons or (*ranked.wanted, *ranked.answers))}"

    offered = [ranked for ranked in gluing.ranked[1:] if ranked.usable][:MOST_OTHERS]
    refused = [ranked for ranked in gluing.ranked[1:] if not ranked.usable][:MOST_REFUSED]
    if gluing.warmed is not None and gluing.schedule is not None and gluing.schedule.fits:
        yield f"With room and wood at {WARM_SHOP_C:g} °C, {gluing.warmed.adhesive.name.lower()} would be taken instead."
    if offered:
        yield "Next in line:"
        yield md.bullets([told(ranked) for ranked in offered])
    if refused:
        yield "Not here:"
        yield md.bullets([told(ranked) for ranked in refused])
