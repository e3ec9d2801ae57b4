"""The countdown at the bench, run by a clock that does not make anybody wait."""

import io
from dataclasses import replace
from datetime import date
from itertools import pairwise

import pytest
import typer

from diagnose.assess import Assessment, assess
from diagnose.case.read import read_case
from diagnose.cli.environment import Environment
from diagnose.cli.run_clock import BELL, countdowns, run_clock
from diagnose.documents.plan_glue import minute
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop
from tests.cli.running import EXAMPLES, Program, Terminal

CHAIR = EXAMPLES / "slack_chair.yaml"


class Seen(io.StringIO):
    """A stream that passes for a terminal."""

    def isatty(self) -> bool:
        return True


class Time:
    """A clock that runs only while somebody waits; after `breaks_at` seconds somebody presses Ctrl-C, after `enter_at` Enter, once."""

    def __init__(self, breaks_at: float = float("inf"), enter_at: float = float("inf")) -> None:
        self.seconds, self.breaks_at, self.enter_at, self.waits = 0.0, breaks_at, enter_at, 0

    def now(self) -> float:
        return self.seconds

    def wait(self, seconds: float) -> bool:
        assert seconds > 0
        self.waits += 1
        self.seconds += seconds
        if self.seconds >= self.breaks_at:
            raise KeyboardInterrupt
        pressed = self.seconds >= self.enter_at
        if pressed:
            self.seconds, self.enter_at = self.enter_at, float("inf")
        return pressed


@pytest.fixture(scope="module")
def chair() -> Assessment:
    from diagnose.rulebase.store import load_knowledge

    knowledge: Knowledge = load_knowledge()
    return assess(read_case(CHAIR, knowledge), knowledge, Shop(), date(2026, 3, 2))


def ran(chair: Assessment, typed: str, time: Time) -> tuple[int, str]:
    """The exit code and everything that was said."""
    env = Environment(inp=Seen(typed), talk=Seen())
    code = 0
    try:
        run_clock(env, chair, time.now, time.wait)
    except typer.Exit as ended:
        code = ended.exit_code
    return code, env.talk.getvalue()  # type: ignore[attr-defined]


def seconds_of(line: str) -> int:
    minutes, _, seconds = line.removeprefix("> ").split()[0].partition(":")
    return 60 * int(minutes) + int(seconds)


def test_every_closing_is_counted_down_to_its_latest_minute(chair: Assessment) -> None:
    runs = countdowns(chair)
    assert len(runs) == 3
    time = Time()
    code, said = ran(chair, "\n" * len(runs), time)
    assert code == 0
    assert time.seconds == pytest.approx(60 * sum(run.latest for run in runs))
    assert said.count("the latest minute") >= len(runs)
    for run in runs:
        assert run.name in said
        assert all(what in said for _, what in run.does)


def test_the_lines_come_in_time_with_progress_between_and_a_bell_before_each_limit(chair: Assessment) -> None:
    run = countdowns(chair)[0]
    _, said = ran(chair, "\nq\n", Time())
    lines = [line for line in said.splitlines() if " left" in line]
    minutes = [seconds_of(line) for line in lines]
    assert minutes == sorted(minutes)
    assert max(later - earlier for earlier, later in pairwise(minutes)) <= 30
    rung = [seconds_of(line) for line in lines if BELL in line]
    latest = round(60 * run.latest)
    assert {latest - 120, latest - 60, latest} <= set(rung)
    assert lines[-1].endswith("leave every clamp as it is now" + BELL)


def test_enter_ends_a_closing_that_is_square_and_the_next_one_comes(chair: Assessment) -> None:
    first, second = countdowns(chair)[:2]
    _, said = ran(chair, "\n\nq\n", Time(enter_at=150))
    assert f"2:30  shut and square, {minute(first.latest - 2.5)} to spare" in said
    assert said.count("the latest minute: leave") == 1, "the second one runs to its end"
    assert second.name in said
    assert "before the next closing" in said
    assert "no load for 24 h" in said


def test_what_does_not_fit_is_named_and_not_counted(chair: Assessment) -> None:
    cold = replace(chair, shop=Shop(clamps=2))
    _, said = ran(cold, "q\n", Time())
    assert "is not counted down: there are too few clamps for this" in said
    assert len(countdowns(cold)) < len(countdowns(chair))


def test_a_closing_can_be_passed_over_and_the_clock_stopped(chair: Assessment) -> None:
    time = Time()
    assert ran(chair, "s\ns\nq\n", time)[0] == 0
    assert time.waits == 0


def test_ctrl_c_ends_with_130_and_says_at_which_minute(chair: Assessment) -> None:
    code, said = ran(chair, "\n", Time(breaks_at=90))
    assert code == 130
    assert said.rstrip().endswith("clock stopped at minute 1:30")


def test_without_a_terminal_it_says_one_line_and_ends_with_2(program: Program) -> None:
    got = program("plan", CHAIR, "--run-clock")
    assert got.code == 2
    assert got.out == ""
    assert got.err.count("\n") == 1
    assert "terminal" in got.err


def test_a_plan_that_glues_nothing_has_nothing_to_count_down(chair: Assessment) -> None:
    code, said = ran(replace(chair, plan=()), "", Time())
    assert code == 1
    assert "nothing to count down" in said


def test_at_a_real_terminal_it_waits_for_enter_and_ctrl_c_ends_it() -> None:
    at = Terminal("plan", CHAIR, "--run-clock")
    assert "Enter at the first touch of glue" in at.said
    at.child.sendline("")
    at.child.expect("0:00")
    at.child.sendline("")
    at.child.expect("shut and square")
    at.child.expect("Enter at the first touch of glue")
    at.child.sendline("")
    at.child.expect("0:00")
    at.press("c")
    assert at.code == 130
    assert "clock stopped at minute" in at.said
