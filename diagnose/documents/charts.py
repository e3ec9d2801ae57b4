"""SVG pictures of four sums: strength against slope, movement through a year, load against strength, what the advice hangs on.

The plotting library is an optional extra and is imported only when a picture is asked for. The same input gives the
same bytes; every picture has a title and a description for readers who cannot see it, and tells its lines apart by dash
and hatch, not by colour.
"""

from __future__ import annotations

import hashlib
import io
import math
import re
from collections.abc import Sequence
from html import escape
from typing import Any

from diagnose.mechanics.grain import CURVES, slope_share
from diagnose.mechanics.moisture import movement, wood_moisture_by_month
from diagnose.mechanics.reliability import chance_of_failing
from diagnose.mechanics.result import MechanicsError, one_of, within

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_STYLE: Any = {
    "svg.hashsalt": "diagnose",
    "svg.fonttype": "none",
    "font.family": ["DejaVu Sans"],
    "font.size": 11.0,
    "axes.grid": True,
    "grid.color": "0.85",
    "axes.edgecolor": "0.2",
    "hatch.linewidth": 0.6,
}


class PicturesMissing(MechanicsError):
    """The optional plotting library is not installed; the message says how to get it."""


def _draw(paint: Any, title: str, description: str) -> str:
    """One picture: `paint(axes)` fills it; title and description go into the SVG as elements of their own."""
    try:
        import matplotlib
        from matplotlib.backends.backend_svg import FigureCanvasSVG
        from matplotlib.figure import Figure as Canvas
    except ImportError:
        raise PicturesMissing("pictures want an extra: pip install 'furniture-diagnose[pictures]'") from None
    with matplotlib.rc_context(_STYLE):
        figure = Canvas(figsize=(6.4, 3.8), layout="constrained")
        FigureCanvasSVG(figure)
        axes = figure.add_subplot()
        axes.set_axisbelow(True)
        paint(axes)
        axes.set_title(title, fontsize=12, loc="left")
        axes.spines[["top", "right"]].set_visible(False)
        out = io.BytesIO()
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    text = out.getvalue().decode("utf-8")
    start = text.index("<svg")
    end = text.index(">", start)
    # several pictures may stand in one page: their ids come from what they say
    own = "chart-" + hashlib.sha256(f"{title}\n{description}".encode()).hexdigest()[:10]
    head = text[start:end] + f' role="img" aria-labelledby="{own}-title {own}-desc"'
    said = f'\n <title id="{own}-title">{escape(title)}</title>\n <desc id="{own}-desc">{escape(description)}</desc>'
    body = re.sub(r"\s*<metadata>.*?</metadata>", "", text[end + 1 :], flags=re.DOTALL)
    return head + ">" + said + body


def slope_chart(prop: str = "bending", marked: float | None = None) -> str:
    """SVG of the share of strength left against the slope of grain, 0 to 1 in 3, with one slope marked.

    `prop` a key of `grain.CURVES`; `marked` rise per run 0..1/3. Beyond 1 in 5 the line is dashed: not tested. Raises
    OutOfRange, MechanicsError, PicturesMissing. Source: `grain.slope_share`.

    >>> slope_chart("bending", 0.1).startswith("<svg")
    True
    """
    one_of("property", prop, tuple(CURVES))
    if marked is not None:
        within("marked slope", marked, 0.0, 1 / 3, "(rise per run)")
    steps = [i / 300 for i in range(101)]
    shares = [100 * slope_share(s, prop).value for s in steps]
    said = f"Share of straight-grained {prop} strength against slope of grain: 100 % when straight, "
    said += f"{100 * slope_share(0.1, prop).value:.0f} % at 1 in 10, {100 * slope_share(0.2, prop).value:.0f} % at 1 in 5."
    mark = None
    if marked is not None:
        mark = slope_share(marked, prop)
        said += f" Marked: {100 * mark.value:.0f} % at a slope of {marked:.3f}."
        said += "".join(f" {warning}." for warning in mark.warnings)
    if CURVES[prop].known_by == "memory":
        said += " Remembered figures, not published ones."

    def paint(axes: Any) -> None:
        tested = [i for i, s in enumerate(steps) if s <= 0.2 + 1e-9]
        axes.plot(steps[: tested[-1] + 1], shares[: tested[-1] + 1], color="0.1", linewidth=2, label="tested range")
        axes.plot(steps[tested[-1] :], shares[tested[-1] :], color="0.1", linewidth=2, linestyle="--", label="carried on")
        if marked is not None and mark is not None:
            axes.plot([marked], [100 * mark.value], marker="o", markersize=9, color="white", markeredgecolor="0.1")
            axes.annotate(f"{100 * mark.value:.0f} %", (marked, 100 * mark.value), xytext=(10, 6), textcoords="offset points")
        axes.set_xticks([0, 1 / 20, 1 / 10, 1 / 7, 1 / 5, 1 / 4, 1 / 3])
        axes.set_xticklabels(["straight", "1:20", "1:10", "1:7", "1:5", "1:4", "1:3"], fontsize=9)
        axes.set_xlim(0, 0.34)
        axes.set_ylim(0, 105)
        axes.set_xlabel("slope of grain")
        axes.set_ylabel("strength left, %")
        axes.legend(frameon=False)

    return _draw(paint, f"{prop.capitalize()} strength and slope of grain", said)


def year_chart(
    name: str, width_mm: float, coefficient: float, mean_pct: float, half_swing_pct: float, driest_month: int = 2
) -> str:
    """SVG of the change of a width through a year against its width at the mean moisture content.

    Arguments and ranges as for `moisture.movement` and `moisture.wood_moisture_by_month`. Raises OutOfRange,
    PicturesMissing. Source: those two; a picture of a swing, not a forecast.

    >>> "11.0 mm in all" in year_chart("White oak", 600, 0.00367, 9, 2.5)
    True
    """
    months = wood_moisture_by_month(mean_pct, half_swing_pct, driest_month)
    moves = [movement(width_mm, coefficient, mean_pct, at) for _, at in months]
    values = [figure.value for figure in moves]
    warnings = tuple(dict.fromkeys(warning for figure in moves for warning in figure.warnings))
    low, high = min(values), max(values)
    said = (
        f"{name}, {width_mm:g} mm wide: {low:+.1f} mm in {MONTHS[values.index(low)]}, {high:+.1f} mm in "
        f"{MONTHS[values.index(high)]}, {high - low:.1f} mm in all, between {mean_pct - half_swing_pct:g} and "
        f"{mean_pct + half_swing_pct:g} % moisture."
    )
    said += "".join(f" {warning}." for warning in warnings)

    def paint(axes: Any) -> None:
        axes.axhline(0, color="0.4", linewidth=1)
        axes.plot(range(12), values, color="0.1", linewidth=2, marker="o", markersize=4)
        for value in dict.fromkeys((low, high)):
            at = (values.index(value), value)
            axes.annotate(f"{value:+.1f} mm", at, xytext=(6, 8 if value == high else -16), textcoords="offset points")
        axes.set_xticks(range(12))
        axes.set_xticklabels(MONTHS, fontsize=9)
        axes.margins(y=0.2)
        axes.set_ylabel("change of width, mm")
        if warnings:
            axes.set_xlabel("outside the range the coefficients are meant for (6 to 14 % MC)", fontsize=9)

    return _draw(paint, f"{name}: {width_mm:g} mm through a year", said)


def _density(x: float, mean: float, cov: float) -> float:
    """Density of a lognormal with this mean and coefficient of variation at x > 0."""
    s2 = math.log(1.0 + cov**2)
    mu = math.log(mean) - s2 / 2.0
    return math.exp(-((math.log(x) - mu) ** 2) / (2.0 * s2)) / (x * math.sqrt(2.0 * math.pi * s2))


def overlap_chart(strength_mean: float, strength_cov: float, load_mean: float, load_cov: float, unit: str = "N·m") -> str:
    """SVG of load against strength as two lognormal curves with their overlap hatched, and the chance of failing.

    Means 1e-6..1e9 in `unit`, COVs 0.01..1. Raises OutOfRange, PicturesMissing. Source: `reliability.chance_of_failing`
    (the chance is not the hatched area, which only shows where the two meet; the description says so).

    >>> "30.4 %" in overlap_chart(204, 0.35, 160, 0.25)
    True
    """
    within("mean strength", strength_mean, 1e-6, 1e9, unit)
    within("mean load", load_mean, 1e-6, 1e9, unit)
    within("COV of the strength", strength_cov, 0.01, 1.0, "")
    within("COV of the load", load_cov, 0.01, 1.0, "")
    chance = chance_of_failing(strength_mean, strength_cov, load_mean, load_cov).value
    top = max(strength_mean * (1 + 3.2 * strength_cov), load_mean * (1 + 3.2 * load_cov))
    xs = [top * i / 400 for i in range(1, 401)]
    strength = [_density(x, strength_mean, strength_cov) for x in xs]
    load = [_density(x, load_mean, load_cov) for x in xs]
    both = [min(a, b) for a, b in zip(strength, load, strict=True)]
    odds = f"{100 * chance:.1f} %" if chance >= 0.001 else "under 0.1 %"
    said = (
        f"Hardest load, mean {load_mean:g} {unit}, against strength, mean {strength_mean:g} {unit}, both lognormal. "
        f"Where they meet is hatched. Chance that the load exceeds the strength: {odds} (not the hatched area itself)."
    )

    def paint(axes: Any) -> None:
        axes.plot(xs, load, color="0.35", linewidth=2, linestyle="--", label="hardest load")
        axes.plot(xs, strength, color="0.1", linewidth=2, label="strength")
        axes.fill_between(xs, both, facecolor="0.88", hatch="///", edgecolor="0.3", linewidth=0, label="overlap")
        axes.set_yticks([])
        axes.set_ylim(bottom=0)
        axes.set_xlim(0, top)
        axes.set_xlabel(f"{unit};  chance that the load exceeds the strength: {odds}")
        axes.legend(frameon=False)

    return _draw(paint, "Load against strength", said)


def tornado_chart(bars: Sequence[tuple[str, float | None, float | None]], lead: float, currency: str) -> str:
    """SVG of how far each input moves a lead in money when it is halved (hatched) and doubled (plain), the longest bar on top.

    `bars` are (name, lead when halved, lead when doubled), 1 to 12 of them, None where the advised method is ruled out; `lead` is
    how much more the next best method costs now. Left of the line at 0 the advice is no longer the cheaper. Raises MechanicsError
    without a bar, PicturesMissing.

    >>> "halved" in tornado_chart([("value of the piece", 12.0, 90.0)], 40.0, "EUR")
    True
    """
    if not bars:
        raise MechanicsError("a picture of what the advice hangs on needs an input that moves it")
    ruled_out = [name for name, *sides in bars if None in sides]
    said = f"How much more the next best method costs, {currency}; now {lead:,.0f}. " + " ".join(
        f"{name}: halved {_money(low)}, doubled {_money(high)}." for name, low, high in bars
    )

    def paint(axes: Any) -> None:
        for place, (name, low, high) in enumerate(reversed(bars)):
            for number, look in ((low, {"facecolor": "0.75", "hatch": "///"}), (high, {"facecolor": "0.45"})):
                if number is not None:
                    axes.barh(place, number - lead, left=lead, height=0.6, edgecolor="0.2", linewidth=0.6, **look)
            if name in ruled_out:
                axes.annotate("ruled out on one side", (lead, place), xytext=(4, -3), textcoords="offset points", fontsize=8)
        axes.set_yticks(range(len(bars)))
        axes.set_yticklabels([_short_name(name) for name, _, _ in reversed(bars)], fontsize=8)
        axes.axvline(lead, color="0.1", linewidth=1)
        axes.axvline(0, color="0.1", linewidth=1, linestyle=":")
        axes.set_xlabel(f"how much more the next best costs, {currency}; hatched: halved, plain: doubled", fontsize=9)

    return _draw(paint, "What the advice hangs on", said)


def _money(number: float | None) -> str:
    return "ruled out" if number is None else f"{number:,.0f}"


def _short_name(name: str, most: int = 44) -> str:
    return name if len(name) <= most else name[: most - 1].rstrip() + "…"
