"""The commands. Each is a thin layer: read files, call the library, write the result."""

import io
import sys
from collections.abc import Collection
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from diagnose import __version__
from diagnose.cli import calc as calc_commands
from diagnose.cli import guide as guide_commands
from diagnose.cli import rules as rules_commands
from diagnose.cli.environment import Environment
from diagnose.cli.errors import naming, stop, told_plainly
from diagnose.words import LETTERS, PLACES, ExitCode

if TYPE_CHECKING:  # Read when a command runs, so that --help does not wait for it.
    from diagnose.assess import Assessment

app = typer.Typer(
    help="Find out why a piece of wooden furniture failed, decide on the repair, plan it, and tell the owner why.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
app.add_typer(rules_commands.app, name="rules")
app.add_typer(calc_commands.app, name="calc")
app.add_typer(guide_commands.app, name="guide")

ShopOption = Annotated[Path | None, typer.Option("--shop", help="The shop's settings (shop.yaml).", show_default=False)]
RulesOption = Annotated[Path | None, typer.Option("--rules", help="Another rules folder.", show_default=False)]
TodayOption = Annotated[str | None, typer.Option("--today", help="The date to reckon from, as 2026-03-02.", show_default=False)]
AtOption = Annotated[str, typer.Option("--at", help="Where you stand: photos, counter or bench.")]
CaseArgument = Annotated[Path, typer.Argument(help="The case file.", show_default=False)]
OutputOption = Annotated[
    Path | None,
    typer.Option("-o", "--output", help="Write here (.md or .html) instead of to the screen.", show_default=False),
]


def _version(wanted: bool) -> None:
    if wanted:
        print(__version__)
        raise typer.Exit


@app.callback()
def _main(
    version: Annotated[bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")] = False,
) -> None:
    pass


def _environment(today: str | None) -> Environment:
    from datetime import date

    env = Environment()
    if today is not None:
        try:
            env.today = date.fromisoformat(today)
        except ValueError:
            raise stop(env, f"--today {today}: not a date; write it as 2026-03-02") from None
    return env


def _must_be_one_of(env: Environment, option: str, word: str, allowed: Collection[str]) -> None:
    if word not in allowed:
        raise stop(env, f"{option} {word}: choose one of {', '.join(allowed)}")


def _assessment(env: Environment, case: Path, shop: Path | None, rules: Path | None, place: str = "bench") -> "Assessment":
    from diagnose.assess import assess
    from diagnose.case.read import read_case
    from diagnose.reasoning import engine
    from diagnose.rulebase.store import load_knowledge
    from diagnose.shop import read_shop

    knowledge = load_knowledge(rules)
    if engine.notice():
        env.say(engine.notice())
    return assess(read_case(case, knowledge, env.today), knowledge, read_shop(shop), env.today, place=place)


def _write(env: Environment, text: str, title: str, output: Path | None, figures: str = "") -> None:
    from diagnose.case.write import write_whole
    from diagnose.documents.md import to_html

    if output is None:
        env.result(text)
        return
    if output.suffix not in (".md", ".html"):
        raise stop(env, f"{output}: the output is .md or .html")
    with naming(output):
        write_whole(output, to_html(text, title, figures=figures) if output.suffix == ".html" else text)
    env.say(f"written: {output}")


@app.command()
def assess(
    case: CaseArgument,
    as_json: Annotated[bool, typer.Option("--json", help="As data; the schema lies in the documentation.")] = False,
    explain: Annotated[bool, typer.Option("--explain", help="With rules, sets of causes and sources.")] = False,
    at: AtOption = "bench",
    output: OutputOption = None,
    shop: ShopOption = None,
    rules: RulesOption = None,
    today: TodayOption = None,
) -> None:
    """Say why the piece failed, how sure that is, and what is advised."""
    env = _environment(today)
    with told_plainly(env):
        _must_be_one_of(env, "--at", at, PLACES)
        assessment = _assessment(env, case, shop, rules, at)
        if as_json:
            if output is not None:
                raise stop(env, "--json goes to the screen; send it on with > FILE")
            from diagnose.documents.report import report_json

            env.result(report_json(assessment))
            return
        from diagnose.documents.diagnosis import diagnosis

        figures = ""
        if output is not None and output.suffix == ".html":
            from diagnose.documents.pictures import pictures

            figures = "".join(picture.html() for picture in pictures(assessment))
        _write(env, diagnosis(assessment, explain), f"Diagnosis {assessment.case.number}", output, figures)


@app.command()
def plan(
    case: CaseArgument,
    output: OutputOption = None,
    shop: ShopOption = None,
    rules: RulesOption = None,
    today: TodayOption = None,
    since: Annotated[
        Path | None,
        typer.Option("--since", help="Say what is different from this older plan (.md) instead.", show_default=False),
    ] = None,
    clock: Annotated[
        bool,
        typer.Option(
            "--run-clock",
            help="Count down the glue-up at the bench instead: minutes, bell before each limit. Needs a terminal; Ctrl-C stops it.",
        ),
    ] = False,
) -> None:
    """Write the bench plan."""
    from diagnose.documents.plan import plan as write_plan

    env = _environment(today)
    with told_plainly(env):
        assessment = _assessment(env, case, shop, rules)
        if clock:
            from time import monotonic

            from diagnose.cli.run_clock import run_clock

            run_clock(env, assessment, monotonic, env.pause)
            return
        if since is not None:
            from diagnose.documents.plan_since import NotAPlan, changes

            try:
                _write(env, changes(assessment, since.read_text(encoding="utf-8")), f"Changes {assessment.case.number}", output)
            except (NotAPlan, UnicodeDecodeError) as error:
                raise stop(env, f"{since}: {'not UTF-8 text' if isinstance(error, UnicodeDecodeError) else error}") from None
            return
        figures = ""
        if output is not None and output.suffix == ".html":
            from diagnose.documents.plan_time import picture

            bars = picture(assessment)
            figures = bars.html() if bars is not None else ""
        _write(env, write_plan(assessment), f"Bench plan {assessment.case.number}", output, figures)


@app.command()
def letter(
    case: CaseArgument,
    output: OutputOption = None,
    form: Annotated[str, typer.Option("--form", help=f"Which letter: {', '.join(LETTERS)}.")] = "estimate",
    since: Annotated[
        Path | None,
        typer.Option(
            "--since",
            help="The case file as it was when the estimate was written: write the revised estimate, expected beside found.",
            show_default=False,
        ),
    ] = None,
    shop: ShopOption = None,
    rules: RulesOption = None,
    today: TodayOption = None,
) -> None:
    """Write the letter to the owner, or another paper for the owner's hands."""
    from diagnose.documents.letters import FORMS, NotThisForm, revised

    env = _environment(today)
    with told_plainly(env):
        _must_be_one_of(env, "--form", form, FORMS)
        if since is not None and form != "estimate":
            raise stop(env, f"--since goes with the estimate, not with --form {form}")
        assessment = _assessment(env, case, shop, rules)
        try:
            text = FORMS[form](assessment) if since is None else revised(assessment, _assessment(env, since, shop, rules))
        except NotThisForm as reason:
            raise stop(env, f"{since or case}: {reason}") from None
        _write(env, text, f"Letter {assessment.case.number}", output)


@app.command()
def intake(
    case: Annotated[
        Path, typer.Argument(help="The case file; made if it is not there, gone on with if it is.", show_default=False)
    ],
    at: AtOption = "counter",
    answers: Annotated[
        Path | None,
        typer.Option("--answers", help="Take the answers from this case file instead of asking.", show_default=False),
    ] = None,
    shop: ShopOption = None,
    rules: RulesOption = None,
    today: TodayOption = None,
) -> None:
    """Take in a piece: joint map first, then one question at a time; every answer is kept before the next is asked."""
    env = _environment(today)
    with told_plainly(env):
        _must_be_one_of(env, "--at", at, PLACES)
        from diagnose.cli.intake import take_in

        take_in(env, case, at, answers, shop, rules)


def run() -> None:
    """Run the commands; wrong use of them exits with 2 and one line, Ctrl-C with 130."""
    for stream in (sys.stdin, sys.stdout):
        if isinstance(stream, io.TextIOWrapper):  # A terminal that cannot show or send a letter gets or gives a question mark.
            stream.reconfigure(errors="replace")
    try:
        code = app(standalone_mode=False)
    except (typer.Abort, KeyboardInterrupt):
        print("interrupted", file=sys.stderr)
        code = ExitCode.INTERRUPTED
    except Exception as error:
        # Typer's own error classes have moved between versions; what they share is this method.
        message = getattr(error, "format_message", None)
        if message is None:
            raise
        told = message()
        print(told if told.startswith("Usage") else f"{told} (see --help)", file=sys.stderr)
        code = ExitCode.WRONG_USE
    sys.exit(int(code or 0))
