"""How `diagnose calc` takes quantities and shows results: one decorator, one set of option types."""

import functools
import inspect
import json
from collections.abc import Callable, Sequence
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from diagnose.case.quantity import BadQuantity, parse, run, slope
from diagnose.mechanics.result import Figure, KnownBy

Row = tuple[str, Figure]
"""A label and its number."""

WORDS: dict[KnownBy, str] = {
    "read": "read in the published text",
    "read_second_hand": "read in a text that restates another",
    "derived": "worked out (statics, or arithmetic on such figures)",
    "judgement": "judgement of the trade",
    "memory": "remembered, not seen: not a published figure, decides nothing",
}

US: dict[str, tuple[str, float]] = {
    "mm": ("in", 1 / 25.4),
    "N": ("lbf", 1 / 4.4482216),
    "N·m": ("lbf·in", 8.8507458),
    "MPa": ("lbf/in2", 145.03774),
    "kg/m3": ("lb/ft3", 0.06242796),
}


class OneLineGroup(TyperGroup):
    """A group of commands whose errors of use are one line on stderr, exit code 2."""

    def invoke(self, ctx: Any) -> Any:
        """Runs the command; a wrong option or value is told in one line."""
        try:
            return super().invoke(ctx)
        except Exception as error:
            if not hasattr(error, "format_message"):
                raise
            typer.echo("calc: " + " ".join(str(error.format_message()).split()), err=True)
            raise typer.Exit(2) from None


def _option(kind: str, read: Callable[[str], float]) -> Any:
    def convert(text: str | float) -> float:
        if not isinstance(text, str):
            return text
        try:
            return read(text)
        except BadQuantity as error:
            raise typer.BadParameter(str(error)) from None

    return typer.Option(parser=convert, metavar=kind.upper())


def _kind(kind: str) -> Any:
    return _option(kind, lambda text: parse(text, kind))


Length = Annotated[float, _kind("length")]
MaybeLength = Annotated[float | None, _kind("length")]
Force = Annotated[float, _kind("force")]
Stress = Annotated[float, _kind("stress")]
Mass = Annotated[float, _kind("mass")]
Temperature = Annotated[float, _kind("temperature")]
MaybeTemperature = Annotated[float | None, _kind("temperature")]
Percent = Annotated[float, _kind("percent")]
Time = Annotated[float, _kind("time")]
MaybeTime = Annotated[float | None, _kind("time")]
Volume = Annotated[float, _kind("volume")]
Area = Annotated[float, _kind("area")]
Angle = Annotated[float, _kind("angle")]
Slope = Annotated[float, _option("slope", slope)]
MaybeSlope = Annotated[float | None, _option("slope", slope)]
Run = Annotated[float, _option("run", run)]
Factor = Annotated[float, typer.Option(metavar="NUMBER")]
MaybeFactor = Annotated[float | None, typer.Option(metavar="NUMBER")]


def _number(value: float) -> str:
    if value == 0 or 1e-3 <= abs(value) < 1e6:
        digits = f"{value:,.4g}" if abs(value) < 1e4 else f"{value:,.0f}"
        return digits.rstrip("0").rstrip(".") if "." in digits else digits
    return f"{value:.3e}"


def shown(figure: Figure) -> str:
    """The number with its unit, and in US units where one is usual.

    >>> shown(Figure(316_600.0, "N·mm", "", "", "derived"))
    '316.6 N·m (2,802 lbf·in)'
    """
    value, unit = figure.value, figure.unit
    if unit == "N·mm":
        value, unit = value / 1000, "N·m"
    if unit == "rise per run":
        return "straight" if value == 0 else f"{_number(value)} rise per run (1 in {_number(1 / value)})"
    text = f"{_number(value)} {unit}".replace(" as given", "")
    if unit in US:
        us, factor = US[unit]
        text += f" ({_number(value * factor)} {us})"
    return text


def lines(label: str, figure: Figure) -> list[str]:
    """One result as lines: number, formula, source, how known, range, assumptions, warnings."""
    out = [f"{label}: {shown(figure)}", f"  formula   {figure.formula}", f"  source    {figure.source}"]
    out.append(f"  known     {WORDS[figure.known_by]}")
    if figure.range:
        out.append(f"  valid     {figure.range}")
    out += [f"  assumed   {text}" for text in figure.assumptions]
    out += [f"  WARNING   {text}" for text in figure.warnings]
    return out


def record(label: str, figure: Figure) -> dict[str, object]:
    """One result for `--json`, with everything that belongs to the number."""
    return {
        "label": label,
        "value": figure.value,
        "unit": figure.unit,
        "shown": shown(figure),
        "formula": figure.formula,
        "source": figure.source,
        "known_by": figure.known_by,
        "published": figure.published,
        "may_gate": figure.may_gate,
        "assumptions": list(figure.assumptions),
        "warnings": list(figure.warnings),
        "range": figure.range,
    }


Answer = Sequence[Row | str]
"""What a command gives back: results, and plain sentences between them."""


def _print(name: str, answer: Answer, as_json: bool) -> None:
    if as_json:
        results = [record(*row) for row in answer if not isinstance(row, str)]
        notes = [row for row in answer if isinstance(row, str)]
        typer.echo(json.dumps({"calc": name, "results": results, "notes": notes}, ensure_ascii=False, indent=2))
        return
    for row in answer:
        typer.echo(row if isinstance(row, str) else "\n".join(lines(*row)))


def command(app: typer.Typer, name: str) -> Callable[[Callable[..., Answer]], Callable[..., None]]:
    """Makes a function that gives back results a sub-command of `app`, with `--json` and one-line errors."""

    def wrap(work: Callable[..., Answer]) -> Callable[..., None]:
        @functools.wraps(work)
        def called(*args: Any, as_json: bool = False, **kwargs: Any) -> None:
            try:
                answer = work(*args, **kwargs)
            except ValueError as error:
                typer.echo(f"calc {name}: {' '.join(str(error).split())}", err=True)
                raise typer.Exit(2) from None
            _print(name, answer, as_json)

        option = Annotated[bool, typer.Option("--json", help="Print the results as JSON.")]
        signature = inspect.signature(work)
        extra = inspect.Parameter("as_json", inspect.Parameter.KEYWORD_ONLY, default=False, annotation=option)
        # typer reads these two, and both must know of --json
        called.__signature__ = signature.replace(  # type: ignore[attr-defined]
            parameters=[*signature.parameters.values(), extra], return_annotation=None
        )
        called.__annotations__ = {**work.__annotations__, "as_json": option, "return": None}
        app.command(name)(called)
        return called

    return wrap
