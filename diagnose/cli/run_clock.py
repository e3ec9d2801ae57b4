"""The countdown at the bench: one closing after another, lines only, with a bell before each limit.

It needs somebody at a terminal: each closing is started by hand, for hours of cure may lie between two of them.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import ceil

from diagnose.assess import Assessment
from diagnose.cli.environment import Environment
from diagnose.cli.errors import stop
from diagnose.documents import say
from diagnose.documents.plan_glue import gluings_of, minute, stops, tasks, title
from diagnose.planning.gluing import Gluing
from diagnose.planning.waiting import cured
from diagnose.words import ExitCode

BELL = "\a"
TICK_MIN = 0.5  # a line of progress at least this often
WARNED_MIN = (2.0, 1.0)  # so long before the latest minute the bell rings


@dataclass(frozen=True)
class Countdown:
    """One closing: what it is called, when what is done, the minute it is square and the latest minute that may be, and how long it is left."""

    name: str
    does: tuple[tuple[float, str], ...]
    square: float
    latest: float
    left: str = ""


@dataclass(frozen=True)
class Signal:
    """A line at a minute of the closing, with or without the bell."""

    at: float
    text: str
    bell: bool


def countdowns(assessment: Assessment) -> tuple[Countdown, ...]:
    """Every closing of the plan that fits, in order; what does not fit, and what is glued one by one, is not counted down."""
    found = []
    for gluing in gluings_of(assessment):
        if gluing.work.one_by_one or gluing.schedule is None or not gluing.schedule.fits:
            continue
        closings = gluing.schedule.closings
        for number, closing in enumerate(closings, start=1):
            several = gluing.glue_up.hands > 1
            does = tuple((at, f"hands {hand}: {what}" if several else what) for at, hand, what in tasks(gluing.glue_up, closing))
            name = title(assessment, gluing) + (f", closing {number} of {len(closings)}" if len(closings) > 1 else "")
            found.append(Countdown(name, does, closing.ends, closing.latest, _left(gluing, number == len(closings))))
    return tuple(found)


def _left(gluing: Gluing, last: bool) -> str:
    """How long it stands in its clamps, and what it may not bear until when."""
    if gluing.best is None:
        return ""
    clamps = f"Leave it in its clamps for {say.span_of_minutes(*gluing.best.adhesive.clamp_min)}"
    return f"{clamps}; no load for {ceil(cured(gluing))} h." if last else f"{clamps} before the next closing."


def not_counted(assessment: Assessment) -> tuple[str, ...]:
    """The gluings of the plan that cannot be counted down, each with the reason."""
    return tuple(
        f"{title(assessment, gluing)} is not counted down: {stops(gluing)}. The plan says what would help."
        for gluing in gluings_of(assessment)
        if stops(gluing)
    )


def signals(run: Countdown) -> Iterator[Signal]:
    """Every line of one countdown, in order: what to do, progress in between, the bell before the limit and at it."""
    lines = [Signal(at, what, bell=at > 0) for at, what in run.does]
    lines += [
        Signal(run.latest - before, f"{before:g} min to the latest minute", bell=True)
        for before in WARNED_MIN
        if run.latest - before > 0
    ]
    said = {line.at for line in lines}
    ticks = [tick * TICK_MIN for tick in range(1, int(run.latest / TICK_MIN) + 1)]
    lines += [Signal(at, "", bell=False) for at in ticks if at not in said and at < run.latest]
    lines.append(Signal(run.latest, "the latest minute: leave every clamp as it is now", bell=True))
    yield from sorted(lines, key=lambda line: line.at)


def _line(run: Countdown, signal: Signal) -> str:
    left = f"{minute(max(0.0, run.latest - signal.at))} left"
    return f"{minute(signal.at):>6}  {left:>10}  {signal.text}".rstrip()


def _count_down(env: Environment, run: Countdown, now: Callable[[], float], wait: Callable[[float], object]) -> None:
    """To the latest minute, or until `wait` says that somebody has pressed Enter because it is square."""
    start = now()
    for signal in signals(run):
        ahead = start + 60 * signal.at - now()
        if ahead > 0 and wait(ahead):
            at = (now() - start) / 60
            env.say(f"{minute(at):>6}  shut and square, {minute(max(0.0, run.latest - at))} to spare")
            return
        env.say(_line(run, signal) + (BELL if signal.bell else ""))


def run_clock(env: Environment, assessment: Assessment, now: Callable[[], float], wait: Callable[[float], object]) -> None:
    """Count down every closing of the plan, each from Enter on; `now` and `wait` are in seconds, and `wait` is true where Enter cut it short.

    Exit 2 without a terminal, 1 where there is nothing to count down, 130 on Ctrl-C, with the minute at which it stopped.
    """
    if not env.interactive:
        raise stop(env, "--run-clock counts down at a terminal and waits for Enter before each closing; there is none here")
    runs = countdowns(assessment)
    for line in not_counted(assessment):
        env.say(line)
    if not runs:
        raise stop(
            env, "nothing to count down: this plan has no glue-up that fits; the plan says what would make it fit", ExitCode.NO
        )
    started: float | None = None
    try:
        for run in runs:
            env.say()
            env.say(env.strong(f"{run.name}: square at {minute(run.square)}, latest {minute(run.latest)}"))
            env.say(
                "Everything laid out and rehearsed? Enter at the first touch of glue, and again when it is square; s for the next, q to stop."
            )
            started = None
            typed = env.ask("> ").lower()
            if typed == "q":
                return
            if typed == "s":
                continue
            started = now()
            _count_down(env, run, now, wait)
            env.say(run.left)
    except KeyboardInterrupt:
        env.say()
        at = "before the first touch of glue" if started is None else f"at minute {minute((now() - started) / 60)}"
        raise stop(env, f"clock stopped {at}", ExitCode.INTERRUPTED) from None
    except EOFError:
        raise stop(env, "clock stopped: no more input") from None
