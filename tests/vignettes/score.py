"""How the engine fares on published accounts, beside a plain word count: `python -m tests.vignettes.score [--turn]`.

A vignette is a published account in our own words with the cause and the remedy that the publication states (early.yaml, committed
before the causes it tells of were written, later.yaml, and blind.yaml, since the rules were mended after reading the misses of the
other two). Its readings (readings.yaml) were drawn from the text by somebody who had the signs and no rows. `--turn` blanks the rows
of each cause in turn and names the vignettes that turn; a cause that turns none is not proved by them. Prints figures; the tests hold
the floors.
"""

import argparse
import math
import re
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

import yaml

from diagnose.assess import Assessment, assess
from diagnose.case.told import StoryError, case_of
from diagnose.decision.undecided import Undecided
from diagnose.reasoning.engine import set_aside
from diagnose.rulebase.entries import Story
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.store import load_knowledge
from diagnose.shop import Shop

HERE = Path(__file__).parent
TODAY = date(2026, 3, 2)
FIRST = 3
SETS = ("early", "later", "blind")


@dataclass(frozen=True)
class Vignette:
    """A published account: what it states, and the readings drawn from it."""

    id: str
    told_in: str
    source: str
    text: str
    causes: tuple[str, ...]
    family: str
    classes: tuple[str, ...]
    given: dict[str, Any]

    def story(self) -> Story:
        """The account as a case with nothing demanded of it."""
        return Story(name=self.id, given=self.given)


def vignettes() -> list[Vignette]:
    """Every vignette with its readings; accounts without readings are left out."""
    readings = yaml.load((HERE / "readings.yaml").read_text(encoding="utf-8"), Loader=yaml.BaseLoader)["readings"]
    found = []
    for file in SETS:
        for told in yaml.load((HERE / f"{file}.yaml").read_text(encoding="utf-8"), Loader=yaml.BaseLoader)["vignettes"]:
            if told["id"] not in readings:
                continue
            facts = {key: told[key] for key in ("piece", "damage", "part", "joint") if told.get(key)}
            found.append(
                Vignette(
                    id=told["id"],
                    told_in=file,
                    source=told["source"],
                    text=told["text"],
                    causes=(*told["causes"], *(told.get("also") or ())),
                    family=told["family"],
                    classes=tuple(told["classes"]),
                    given={**facts, **readings[told["id"]]},
                )
            )
    return found


@dataclass(frozen=True)
class Said:
    """What somebody says of a vignette: causes with the most likely first, the family of the first, the class of work."""

    causes: tuple[str, ...]
    family: str
    decision: str


@dataclass(frozen=True)
class Score:
    """Shares of vignettes: family of the first cause right, a stated cause among the first three, class acceptable."""

    of: int
    family: float
    among_three: float
    decision: float

    def __str__(self) -> str:
        return (
            f"{self.of:3d} accounts: family first right {self.family:.0%}, cause among first three {self.among_three:.0%}, "
            f"class acceptable {self.decision:.0%}"
        )


def marks(told: Vignette, said: Said) -> tuple[bool, bool, bool]:
    """Family right, a stated cause among the first three, class acceptable."""
    return said.family == told.family, bool(set(said.causes[:FIRST]) & set(told.causes)), said.decision in told.classes


def score(pairs: Iterable[tuple[Vignette, Said]]) -> Score:
    """The shares over some vignettes."""
    got = [marks(told, said) for told, said in pairs]
    return Score(len(got), *(sum(column) / max(1, len(got)) for column in zip(*got, strict=True)))


def assessed(told: Vignette, knowledge: Knowledge) -> Assessment:
    """The assessment of a vignette. A part that our list of the piece does not have is left unsaid, as intake would."""
    try:
        case = case_of(told.story(), knowledge)
    except StoryError:
        bare = {key: value for key, value in told.given.items() if key != "part"}
        case = case_of(Story(name=told.id, given=bare), knowledge)
    return assess(case, knowledge, Shop(), TODAY)


def by_engine(told: Vignette, knowledge: Knowledge) -> Said:
    """What the engine says."""
    try:
        got = assessed(told, knowledge)
    except Undecided:
        return Said((), "", "")
    causes = tuple(name for name, _ in got.damages[0].causes_by_probability())
    return Said(causes, knowledge.causes[causes[0]].family if causes else "", got.piece_decision)


def _words(text: str) -> Counter[str]:
    return Counter(re.findall(r"[a-z]{3,}", text.lower()))


def _most_like(text: str, labelled: Sequence[tuple[str, str]]) -> list[str]:
    """Labels by multinomial naive Bayes on word counts with add-one smoothing, the likeliest first."""
    counts: dict[str, Counter[str]] = defaultdict(Counter)
    priors: Counter[str] = Counter()
    for words_of, label in labelled:
        counts[label] += _words(words_of)
        priors[label] += 1
    size = len({word for counter in counts.values() for word in counter})
    asked = _words(text)

    def weight(label: str) -> float:
        total = counts[label].total() + size
        return math.log(priors[label]) + sum(n * math.log((counts[label][word] + 1) / total) for word, n in asked.items())

    return sorted(counts, key=weight, reverse=True)


def by_word_count(told: Vignette, others: Sequence[Vignette]) -> Said:
    """What a plain word count says, having read all the other vignettes."""
    causes = _most_like(told.text, [(other.text, other.causes[0]) for other in others])
    family = _most_like(told.text, [(other.text, other.family) for other in others])[0]
    decision = _most_like(told.text, [(other.text, other.classes[0]) for other in others])[0]
    return Said(tuple(causes), family, decision)


def turned_by(cause: str, told: Sequence[Vignette], knowledge: Knowledge, now: dict[str, Said]) -> list[str]:
    """The vignettes whose marks change when a cause says nothing of any sign."""
    blank = {**knowledge.causes, cause: knowledge.causes[cause].model_copy(update={"shows": {}})}
    without = replace(knowledge, version=f"{knowledge.version} blank {cause}", causes=blank)
    touched = [v for v in told if cause in (*now[v.id].causes[:FIRST], *v.causes)]
    with set_aside():
        return [v.id for v in touched if marks(v, by_engine(v, without)) != marks(v, now[v.id])]


def only(pairs: Iterable[tuple[Vignette, Said]], *sets: str) -> list[tuple[Vignette, Said]]:
    """Those pairs whose account is told in one of the sets."""
    return [(told, said) for told, said in pairs if told.told_in in sets]


def misses(pairs: Iterable[tuple[Vignette, Said]]) -> Iterable[str]:
    """One line for each vignette on which something is not as stated."""
    for told, said in pairs:
        got = marks(told, said)
        if not all(got):
            stated = f"stated {', '.join(told.causes)} ({told.family}; {', '.join(told.classes)})"
            yield f"{told.id}: {stated}; said {', '.join(said.causes[:FIRST])} ({said.family}; {said.decision})"


def main(say: Callable[[str], None] = print) -> None:
    """Print every figure."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--turn", action="store_true", help="blank the rows of each cause and name the vignettes that turn")
    options = parser.parse_args()
    knowledge, told = load_knowledge(), vignettes()
    engine = [(v, by_engine(v, knowledge)) for v in told]
    counts = [(v, by_word_count(v, [other for other in told if other is not v])) for v in told]
    say(f"{len({v.source for v in told})} publications")
    for title, pairs in (("engine", engine), ("word count, leave one out", counts)):
        say(title)
        for sets in (*((name,) for name in SETS), SETS[:2], SETS):
            say(f"  {' + '.join(sets):22s} {score(only(pairs, *sets))}")
    for name in SETS:
        for line in misses(only(engine, name)):
            say(f"  missed, {name}: {line}")
    if options.turn:
        now = {v.id: said for v, said in engine}
        for cause in knowledge.causes:
            found = turned_by(cause, told, knowledge, now)
            say(f"  {cause}: {', '.join(found) or 'turns none'}")


if __name__ == "__main__":
    main()
