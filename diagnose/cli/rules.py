"""`diagnose rules`: check, list and show the rule base."""

import json
from pathlib import Path
from typing import Annotated, Any

import typer

from diagnose import house
from diagnose.cli.environment import Environment
from diagnose.cli.errors import stop, told_plainly
from diagnose.words import ExitCode

app = typer.Typer(help="Check, list and show the rule base.", no_args_is_help=True, rich_markup_mode=None)
RulesArgument = Annotated[Path | None, typer.Argument(help="A rules folder; the delivered one if left out.", show_default=False)]


@app.command()
def check(
    folder: RulesArgument = None,
    form: Annotated[str, typer.Option("--format", help="text, json or sarif.")] = "text",
    report: Annotated[
        bool, typer.Option("--report", help="Also print how far each cause rises on counter signs and on all signs.")
    ] = False,
) -> None:
    """Name every fault of a rule base with file, line and column. Exit 1 when there is an error."""
    from diagnose.rulebase.check import as_json, as_sarif, check_rules
    from diagnose.rulebase.load import load_rules

    env = Environment()
    with told_plainly(env):
        if form not in ("text", "json", "sarif"):
            raise stop(env, f"--format {form}: choose text, json or sarif")
        loaded = load_rules(folder or house.rules_folder())
        faults = check_rules(loaded)
        errors = [fault for fault in faults if fault.severity == "error"]
        if form == "text":
            for fault in faults:
                env.result(f"{fault}" if fault.severity == "error" else f"{fault} (warning)")
            counted = sum(len(entries) for entries in loaded.found.values())
            env.say(
                f"{counted} entries, {len(loaded.stories)} stories: {len(errors)} errors, {len(faults) - len(errors)} warnings"
            )
        else:
            env.result(as_json(faults) if form == "json" else as_sarif(faults))
        if errors:
            raise typer.Exit(int(ExitCode.NO))
        if report:
            _report(env, loaded.knowledge())


def _report(env: Environment, knowledge: Any) -> None:
    from diagnose.proof.reach import ENOUGH, reach

    env.result(f"{'cause':28s} {'on':22s} counter  bench  answers to {ENOUGH:.2f}")
    for one in reach(knowledge):
        answers = str(one.answers) if one.answers else f"never ({one.rival} stands in the way)"
        env.result(f"{one.cause:28s} {one.piece:22s} {one.at_counter:7.2f} {one.at_bench:6.2f}  {answers}")


@app.command()
def compare(
    old: Annotated[Path, typer.Argument(help="The rules folder as it was.", show_default=False)],
    new: Annotated[
        Path | None, typer.Argument(help="The rules folder as it is; the delivered one if left out.", show_default=False)
    ] = None,
) -> None:
    """Say what changed between two rule bases: entries, rows, and what they say of the stories. Exit 1 when anything did."""
    from diagnose.proof.compare import compare as differences
    from diagnose.rulebase.store import load_knowledge

    env = Environment()
    with told_plainly(env):
        found = 0
        for line in differences(load_knowledge(old), load_knowledge(new), env.progress("stories")):
            env.result(line)
            found += 1
        env.say(f"{found} differences" if found else "no difference")
        if found:
            raise typer.Exit(int(ExitCode.NO))


def _kinds(knowledge: Any) -> dict[str, dict[str, Any]]:
    from diagnose.rulebase.load import KINDS, MATERIALS

    return {kind: dict(getattr(knowledge, kind)) for kind in (*KINDS, *MATERIALS)}


@app.command("list")
def list_entries(
    kind: Annotated[
        str | None, typer.Argument(help="signs, causes, methods, …; how many of each if left out.", show_default=False)
    ] = None,
    counts: Annotated[
        bool, typer.Option("--counts", help="Take entries out one by one and count those whose going a story notices (minutes).")
    ] = False,
    rules: Annotated[Path | None, typer.Option("--rules", help="Another rules folder.", show_default=False)] = None,
) -> None:
    """List the entries of one kind, or count all kinds."""
    from diagnose.rulebase.store import load_knowledge

    env = Environment()
    with told_plainly(env):
        knowledge = load_knowledge(rules)
        kinds = _kinds(knowledge)
        if counts:
            _counts(env, knowledge, kind)
            return
        if kind is None:
            for name, entries in kinds.items():
                env.result(f"{len(entries):5d} {name}")
            return
        if kind not in kinds:
            raise stop(env, f"{kind} is not a kind: {', '.join(kinds)}")
        for entry_id, entry in kinds[kind].items():
            text = next(
                (
                    said
                    for field in ("name", "ask", "say", "hazard", "do", "because", "title")
                    if (said := getattr(entry, field, None))
                ),
                "worked out, never asked",
            )
            env.result(f"{entry_id:34s} {text}")


def _counts(env: Environment, knowledge: Any, kind: str | None) -> None:
    """Written and counted entries of every kind, and the names of those that no story would miss."""
    from diagnose.proof.counted import COUNTED_KINDS, counted, tell

    if kind is not None and kind not in COUNTED_KINDS:
        raise stop(env, f"{kind} cannot be counted: {', '.join(COUNTED_KINDS)}")
    progress = env.progress("stories told")
    stories = []
    for number, told in enumerate(tell(knowledge), start=1):
        stories.append(told)
        progress(number, len(knowledge.stories))
    for name in (kind,) if kind else COUNTED_KINDS:
        missed: list[str] = []
        entries = getattr(knowledge, name)
        progress = env.progress(name)
        for number, (_, entry_id, story) in enumerate(counted(knowledge, stories, (name,)), start=1):
            progress(number, len(entries))
            if not story:
                missed.append(entry_id)
        env.result(f"{name}: {len(entries)} written, {len(entries) - len(missed)} counted")
        if missed:
            env.result("  no story would miss: " + ", ".join(missed))


@app.command()
def show(
    entry_id: Annotated[str, typer.Argument(help="The id of an entry.", show_default=False)],
    rules: Annotated[Path | None, typer.Option("--rules", help="Another rules folder.", show_default=False)] = None,
) -> None:
    """Show one entry as it is written, with the place where it stands and who names it."""
    from diagnose.rulebase.fault import nearest
    from diagnose.rulebase.load import load_rules

    env = Environment()
    folder = rules or house.rules_folder()
    with told_plainly(env):
        loaded = load_rules(folder)
        found = [(kind, entries[entry_id]) for kind, entries in loaded.found.items() if entry_id in entries]
        if not found:
            known = [name for entries in loaded.found.values() for name in entries]
            raise stop(env, f"{entry_id} is no entry; {nearest(entry_id, known)}")
        for kind, _ in found:
            mark = loaded.mark(kind, entry_id)
            lines = (folder.parent / mark.file).read_text(encoding="utf-8").splitlines()
            env.result(f"# {mark} ({kind})")
            env.result("\n".join(_written(lines, mark.line - 1, mark.column - 1)))


@app.command()
def schema(
    kind: Annotated[
        str | None,
        typer.Argument(
            help="case, shop, or signs, causes, … for one such entry; a file of rules if left out.", show_default=False
        ),
    ] = None,
    rules: Annotated[Path | None, typer.Option("--rules", help="Another rules folder.", show_default=False)] = None,
) -> None:
    """Print the form of a file as a JSON Schema, from which an editor completes words and underlines mistakes."""
    from diagnose.case.schema import case_schema
    from diagnose.rulebase.load import KINDS, MATERIALS
    from diagnose.rulebase.schema import form_of, rules_schema
    from diagnose.rulebase.store import load_knowledge
    from diagnose.shop import Shop

    env = Environment()
    with told_plainly(env):
        known = ("case", "shop", *KINDS, *MATERIALS)
        if kind is not None and kind not in known:
            raise stop(env, f"{kind} is not a kind: {', '.join(known)}")
        knowledge = load_knowledge(rules)
        if kind == "case":
            form = case_schema(knowledge)
        elif kind == "shop":
            form = form_of(Shop, "A shop", knowledge.version)
        else:
            form = rules_schema(knowledge, kind)
        env.result(json.dumps(form, indent=2, ensure_ascii=False))


def _written(lines: list[str], start: int, indent: int) -> list[str]:
    """The lines of one entry: from its first to the line before the next at its own indent."""
    taken = [lines[start]]
    for line in lines[start + 1 :]:
        depth = len(line) - len(line.lstrip())
        if line.strip() and depth < indent:
            break
        taken.append(line)
    return taken
