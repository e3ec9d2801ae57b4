"""Errors for the person who must fix them: one line each, with file, line and remedy; never a traceback for bad input."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import typer

from diagnose.cli.environment import Environment
from diagnose.decision.undecided import Undecided
from diagnose.rulebase.fault import FaultsFound
from diagnose.words import ExitCode


def stop(env: Environment, message: str, code: ExitCode = ExitCode.WRONG_USE) -> typer.Exit:
    """Say one line and give the exit to raise."""
    env.say(message)
    return typer.Exit(int(code))


@contextmanager
def naming(path: Path) -> Iterator[None]:
    """Let what cannot be written be named by its own name, not by that of the part file beside it."""
    try:
        yield
    except OSError as error:
        raise OSError(error.errno, error.strerror, str(path)) from None


@contextmanager
def told_plainly(env: Environment) -> Iterator[None]:
    """Turn faults, unreadable or unwritable files and Ctrl-C into one line each and an exit code."""
    try:
        yield
    except FaultsFound as found:
        for fault in found.faults:
            env.say(str(fault))
        raise typer.Exit(int(ExitCode.WRONG_USE)) from None
    except Undecided as undecided:
        raise stop(env, f"undecided: {undecided}", ExitCode.UNDECIDED) from None
    except BrokenPipeError:
        raise typer.Exit(int(ExitCode.DONE)) from None
    except OSError as error:
        name = f"{error.filename}: " if error.filename else ""
        raise stop(env, f"{name}{(error.strerror or type(error).__name__).lower()}") from None
    except KeyboardInterrupt:
        if env.interactive:
            env.say()
        raise stop(env, "interrupted; every answer so far is kept", ExitCode.INTERRUPTED) from None
