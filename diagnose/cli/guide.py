"""`diagnose guide`: build the field guide as a site that opens from disk, or show one entry of it in the terminal."""

import shutil
from pathlib import Path
from typing import Annotated

import typer

from diagnose import house
from diagnose.cli.environment import Environment
from diagnose.cli.errors import stop, told_plainly
from diagnose.words import ExitCode

app = typer.Typer(help="Build the field guide, or show an entry of it.", no_args_is_help=True, rich_markup_mode=None)
RulesOption = Annotated[Path | None, typer.Option("--rules", help="Another rules folder.", show_default=False)]
ChaptersOption = Annotated[Path | None, typer.Option("--chapters", help="Another folder of chapters.", show_default=False)]
NARROWEST, WIDEST = 40, 100


def read_chapters(folder: Path) -> dict[str, str]:
    """The chapters of a folder by file name, in the order of the names. Raises OSError; ValueError for what is not UTF-8."""
    found = {}
    for path in sorted(folder.glob("*.md")):
        try:
            found[path.name] = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            raise ValueError(f"{path}: not UTF-8; save it as UTF-8") from None
    return found


def _chapters(env: Environment, folder: Path | None) -> dict[str, str]:
    if folder is not None and not folder.is_dir():
        raise stop(env, f"{folder}: there is no such folder")
    try:
        return read_chapters(folder or house.guide_folder())
    except ValueError as error:
        raise stop(env, str(error)) from None


@app.command()
def build(
    output: Annotated[Path, typer.Option("-o", "--output", help="The folder to make.", show_default=False)],
    check: Annotated[bool, typer.Option("--check", help="Fail, and write nothing, where anything is wrong with it.")] = False,
    rules: RulesOption = None,
    chapters: ChaptersOption = None,
) -> None:
    """Build the guide as a folder of pages that opens from disk. With --check exit 1 when a link, a plate or a page is amiss."""
    from diagnose.cli.site_folder import stop_if_foreign, write_folder
    from diagnose.documents.fieldguide.book import pages
    from diagnose.documents.fieldguide.check import faults
    from diagnose.rulebase.store import load_knowledge

    env = Environment()
    with told_plainly(env):
        try:
            stop_if_foreign(output)
            env.say("reading the rule base and the chapters")
            knowledge = load_knowledge(rules)
            texts = _chapters(env, chapters)
            env.say("making the pages")
            files = pages(knowledge, texts)
            size = sum(len(text.encode("utf-8")) for text in files.values())
            made = f"{sum(name.endswith('.html') for name in files)} pages, {size / 1e6:.1f} MB"
            if check:
                env.say(f"checking {made}")
                found = faults(files)
                for fault in found:
                    env.result(fault)
                if found:
                    raise stop(env, f"{len(found)} faults: nothing written", ExitCode.NO)
            env.say("writing them")
            write_folder(output, files)
        except ValueError as error:  # a foreign folder, or a plate that cannot be drawn
            raise stop(env, str(error)) from None
        env.say(f"written: {output / 'index.html'} ({made})")


@app.command()
def show(
    entry_id: Annotated[
        str, typer.Argument(help="The id of an entry: a sign, cause, method, step, wood, glue …", show_default=False)
    ],
    rules: RulesOption = None,
    chapters: ChaptersOption = None,
) -> None:
    """Show one entry in plain words."""
    from diagnose.documents.fieldguide.book import book_of
    from diagnose.documents.fieldguide.show import ids, shown
    from diagnose.rulebase.fault import nearest
    from diagnose.rulebase.store import load_knowledge

    env = Environment()
    with told_plainly(env):
        book = book_of(load_knowledge(rules), _chapters(env, chapters))
        width = shutil.get_terminal_size((WIDEST, 0)).columns if env.out.isatty() else WIDEST
        texts = shown(book, entry_id, max(NARROWEST, min(width, WIDEST)))
        if not texts:
            raise stop(env, f"{entry_id} is no entry of the guide; {nearest(entry_id, ids(book))}")
        env.result("\n".join(texts))
