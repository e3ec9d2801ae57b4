"""How long the next question takes in process, and a whole assessment as a process: `python -m tests.benchmarks.next_question`.

Prints figures and asserts nothing.
"""

import statistics
import subprocess
import sys
import time
from dataclasses import replace
from datetime import date
from pathlib import Path

from diagnose import house
from diagnose.assess import assess
from diagnose.case.told import case_of
from diagnose.rulebase.check import check_rules
from diagnose.rulebase.load import load_rules
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop

TODAY = date(2026, 3, 2)
EXAMPLE = Path(__file__).parents[2] / "guide" / "examples" / "slack_chair.yaml"


def questions(most: int = 300) -> list[float]:
    """Seconds for each question: an assessment with the answers so far."""
    knowledge = load_knowledge()
    shop, spent = Shop(), []
    for told in knowledge.stories[::6]:
        full = case_of(told.story, knowledge)
        (damage,) = full.damages
        case = replace(full, readings={}, damages=(replace(damage, readings={}),))
        assess(case, knowledge, shop, TODAY)  # the model of this context is made once, before the first question
        for name, answer in {**full.readings, **damage.readings}.items():
            case = case.with_answer(None if knowledge.signs[name].of == "piece" else damage.id, name, answer)
            start = time.perf_counter()
            assess(case, knowledge, shop, TODAY)
            spent.append(time.perf_counter() - start)
        if len(spent) >= most:
            break
    return spent


def whole_process(runs: int = 5) -> float:
    """Median seconds of `diagnose assess` as a process, with the cache filled."""
    command = [sys.executable, "-c", "from diagnose.cli import main; main()", "assess", str(EXAMPLE)]
    spent = []
    for _ in range(runs + 1):
        start = time.perf_counter()
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        spent.append(time.perf_counter() - start)
    return statistics.median(spent[1:])


def loading() -> tuple[float, float]:
    """Seconds to read and check the rule base from its files, and from the cache."""
    start = time.perf_counter()
    check_rules(load_rules(house.rules_folder()))
    cold = time.perf_counter() - start
    load_knowledge()
    start = time.perf_counter()
    load_knowledge()
    return cold, time.perf_counter() - start


def main() -> None:
    """Print every figure."""
    spent = sorted(questions())
    print(f"next question, {len(spent)} of them: p50 {spent[len(spent) // 2] * 1000:.0f} ms, "
          f"p95 {spent[int(len(spent) * 0.95)] * 1000:.0f} ms, most {spent[-1] * 1000:.0f} ms")  # fmt: skip
    cold, cached = loading()
    print(f"rule base: read and checked {cold:.2f} s, from the cache {cached:.2f} s")
    print(f"diagnose assess, whole process: {whole_process():.2f} s")


if __name__ == "__main__":
    main()
