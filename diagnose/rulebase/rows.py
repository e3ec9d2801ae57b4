"""From words to numbers: the background of a sign, and the row that a cause gives it."""

from collections.abc import Mapping

from diagnose.rulebase.entries import Cause, Scale, Sign

# How often a reading is seen whatever the cause, where an entry does not say.
EVEN = 1.0
# Two things that a sign shows lie apart from this total variation on: the sign then tells them from each other.
APART = 0.3


def background(scale: Scale, sign: Sign) -> dict[str, float]:
    """How often each reading of `sign` is seen whatever the cause.

    Choose-one and measured signs: probabilities that sum to 1. Yes/no and tick-all signs: for each reading its own
    probability of being seen (for yes/no only `yes` is meant); a reading without a word counts as seldom seen where the
    scale has that word.
    """
    words = {name: scale.words[reading.background] for name, reading in sign.readings.items() if reading.background}
    if sign.kind in ("yes_no", "tick_all"):
        usual = min(scale.words.values(), key=lambda number: abs(number - 0.1))
        return {name: words.get(name, usual) for name in sign.readings}
    raw = {name: words.get(name, EVEN if not words else min(words.values())) for name in sign.readings}
    total = sum(raw.values())
    return {name: number / total for name, number in raw.items()}


def row(scale: Scale, sign: Sign, cause: Cause, usual: Mapping[str, float] | None = None) -> dict[str, float] | None:
    """What `cause` shows on `sign`, or None where it does not speak to it. `usual` is the background, where it is known already.

    Choose-one and measured signs: a full distribution; the words as written, what they leave over spread by the
    background. Yes/no and tick-all signs: for each reading named, the probability that the cause itself produces it (0
    where not named).
    """
    said = cause.shows.get(sign.id)
    if said is None:
        return None
    numbers = {reading: scale.words[word] for reading, word in said.items()}
    if sign.kind in ("yes_no", "tick_all"):
        return {name: numbers.get(name, 0.0) for name in sign.readings}
    usual = background(scale, sign) if usual is None else usual
    silent = [name for name in sign.readings if name not in numbers]
    left = 1.0 - sum(numbers.values())
    weight = sum(usual[name] for name in silent)
    if not silent or weight == 0.0:
        total = sum(numbers.values())
        return {name: numbers.get(name, 0.0) / total for name in sign.readings}
    return {name: numbers.get(name, left * usual[name] / weight) for name in sign.readings}


def seen_with(scale: Scale, sign: Sign, cause: Cause) -> dict[str, float]:
    """How often each reading is seen when only `cause` acts: the row, or the background where it is silent.

    Tick-all and yes/no signs: noisy-OR of the cause with the background.
    """
    usual = background(scale, sign)
    said = row(scale, sign, cause)
    if said is None:
        return usual
    if sign.kind in ("yes_no", "tick_all"):
        said = {name: 1.0 - (1.0 - usual[name]) * (1.0 - said[name]) for name in sign.readings}
    if sign.counts == "half":
        return {name: 0.5 * said[name] + 0.5 * usual[name] for name in said}
    return said


def apart(sign: Sign, first: Mapping[str, float], second: Mapping[str, float]) -> float:
    """Total variation between two things that `sign` may show (as `seen_with` gives them), in [0, 1]; tick-all: the largest over its readings."""
    gaps = [abs(first[name] - second[name]) for name in sign.readings]
    if sign.kind == "tick_all":
        return max(gaps)
    if sign.kind == "yes_no":
        return abs(first["yes"] - second["yes"])
    return sum(gaps) / 2


def distance(scale: Scale, sign: Sign, one: Cause, other: Cause) -> float:
    """How far apart two causes lie on a sign: `apart` of what each shows alone."""
    return apart(sign, seen_with(scale, sign, one), seen_with(scale, sign, other))
