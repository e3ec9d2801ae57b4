"""What a word of the trade means, asked in the middle of the interview: `? splat`."""

from functools import cache

from diagnose import house
from diagnose.cli.environment import Environment

HOW = "A word that says nothing to you: ? and the word, as ? dowel."


@cache
def _terms() -> tuple[tuple[str, tuple[str, ...], str], ...]:
    """Every word of the glossary: its name, other words for it, what it means; none where the guide is not installed."""
    from diagnose.documents.fieldguide.chapters import glossary_of

    try:
        text = (house.guide_folder() / "glossary.md").read_text(encoding="utf-8")
    except OSError:
        return ()
    return tuple((term.name, term.also, term.means) for term in glossary_of(text))


def _single(word: str) -> str:
    return " ".join(word.lower().replace("_", " ").split()).removesuffix("s")


def meanings(word: str) -> list[str]:
    """What a word means, or the words of the glossary that it is a part of; in the singular or the plural.

    >>> [line.split(":")[0] for line in meanings("mortise and tenon")]
    ['Mortise', 'Tenon']
    """
    wanted = _single(word)
    if not wanted:
        return []
    exact = [term for term in _terms() if wanted in (_single(name) for name in (term[0], *term[1]))]
    part = exact or [term for term in _terms() if wanted in (_single(piece) for piece in term[0].split())]
    # Several words at once, as a part or a kind of joint is called.
    found = part or [
        term for term in _terms() if any(_single(name) in map(_single, word.split()) for name in (term[0], *term[1]))
    ]
    return [f"{name}: {means}" for name, _, means in found]


def heard(env: Environment, prompt: str) -> str:
    """One typed line; a question for the meaning of a word is answered, and the line asked for again."""
    while True:
        line = env.ask(prompt)
        if not line.startswith("?"):
            return line
        word = line.strip("? ")
        found = meanings(word)
        for meaning in found:
            env.say(f"  {meaning}")
        if not found:
            env.say(f"  {word} is not in the glossary of the field guide." if word else f"  {HOW}")
