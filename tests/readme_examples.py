"""The examples in the README, made anew from the example cases: `python -m tests.readme_examples` writes them into it."""

import re
from datetime import date
from pathlib import Path

from diagnose.assess import Assessment, assess
from diagnose.case.read import read_case
from diagnose.documents.diagnosis import diagnosis
from diagnose.documents.letters import estimate
from diagnose.documents.plan import plan
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import read_shop

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
EXAMPLES = ROOT / "guide" / "examples"
TODAY = date(2026, 3, 10)
_BLOCK = re.compile(r"(<!-- example: (\w+) (\w+) -->\n).*?(<!-- end -->)", re.DOTALL)


def example(name: str) -> Assessment:
    """The assessment of one example case, in the made-up shop, on a fixed day."""
    knowledge = load_knowledge()
    return assess(read_case(EXAMPLES / f"{name}.yaml", knowledge), knowledge, read_shop(EXAMPLES / "shop.yaml"), TODAY)


def _between(text: str, start: str, end: str) -> str:
    begin = text.index(start)
    return text[begin : text.index(end, begin + len(start))].strip()


def _quoted(text: str) -> str:
    return "\n".join(f"> {line}".rstrip() for line in text.splitlines())


def extract(name: str, part: str) -> str:
    """One part of one example's documents, as it stands in the README."""
    assessment = example(name)
    if part == "diagnosis":
        return _quoted(_between(diagnosis(assessment), "### Why it failed", "### Findings").partition("\n")[2].strip())
    if part == "options":
        return _between(diagnosis(assessment), "| method |", "\nWhere the advice")
    if part == "plan":
        return _quoted(_between(plan(assessment), "### Mend the parts", "### Cure"))
    return _quoted(_between(estimate(assessment), "**", "## What you told us"))


def renewed(text: str) -> str:
    """The README with every example made anew."""
    return _BLOCK.sub(lambda m: f"{m[1]}\n{extract(m[2], m[3])}\n\n{m[4]}", text)


if __name__ == "__main__":
    README.write_text(renewed(README.read_text(encoding="utf-8")), encoding="utf-8")
