"""`diagnose calc`: every sum of the mechanics room by hand, in metric or US units and fractions of an inch."""

import typer

from diagnose.cli import calc_glue, calc_joint, calc_load, calc_ratio, calc_wood
from diagnose.cli.calc_show import OneLineGroup

app = typer.Typer(
    name="calc",
    cls=OneLineGroup,
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    help="Sums by hand, with formula, source and how it is known. Lengths like 12 mm or '1 1/2 in'; slopes like 1:10.",
)


@app.callback()
def _sums() -> None:
    """Sums by hand, with formula, source and how it is known. Lengths like 12 mm or '1 1/2 in'; slopes like 1:10."""


for _part in (calc_wood, calc_joint, calc_load, calc_glue, calc_ratio):
    _part.add_to(app)
