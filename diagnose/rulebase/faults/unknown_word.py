"""A word stands where the scale has a number for another.

Likelihoods, frequencies, how well a method treats, how much of the value it keeps: only words of `scale.yaml` are
numbers.
"""

from collections.abc import Iterator

from diagnose.rulebase.entries import BY_STRENGTH
from diagnose.rulebase.fault import Fault, nearest
from diagnose.rulebase.load import Loaded

CODE = "unknown-word"


def check(loaded: Loaded) -> Iterator[Fault]:
    """Every word that the scale does not have."""
    scale = loaded.scale
    if scale is None:
        return
    likely = scale.words

    def fault(word: str, known: dict[str, float], kind: str, entry_id: str, *path: str | int) -> Iterator[Fault]:
        if word not in known:
            mark = loaded.mark(kind, entry_id, *path)
            yield Fault(mark, CODE, f"{word} is not a word of the scale", nearest(word, known))

    yield from fault(scale.something_else_returns, likely, "scale", "scale", "something_else_returns")
    for sign in loaded.found["signs"].values():
        for name, reading in sign.readings.items():
            if reading.background is not None:
                yield from fault(reading.background, likely, "signs", sign.id, "readings", name, "background")
        if sign.effort is not None:
            yield from fault(sign.effort, scale.effort, "signs", sign.id, "effort")
    for cause in loaded.found["causes"].values():
        yield from fault(cause.happens, scale.happens, "causes", cause.id, "happens")
        for index, other in enumerate(cause.exceptions):
            yield from fault(other.happens, scale.happens, "causes", cause.id, "except", index, "happens")
        if cause.returns != BY_STRENGTH:
            yield from fault(cause.returns, likely, "causes", cause.id, "returns")
        for sign_id, said in cause.shows.items():
            for name, word in said.items():
                yield from fault(word, likely, "causes", cause.id, "shows", sign_id, name)
    for method in loaded.found["methods"].values():
        yield from fault(method.keeps, scale.keeps, "methods", method.id, "keeps")
        for name, word in method.treats.items():
            yield from fault(word, scale.treats, "methods", method.id, "treats", name)
