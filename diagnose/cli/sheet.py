"""The first page of an intake: what the piece is, whose, what the owner says, its worth and its wood.

Every line is kept before the next is asked, and is a `Line` that can be gone back to and changed.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from diagnose.case.fields import LARGEST
from diagnose.case.naming import find_piece, pieces_like, wood_named, woods_like, woods_meant
from diagnose.case.read import MOST_PIECES
from diagnose.cli.environment import Environment
from diagnose.cli.meaning import HOW
from diagnose.cli.prompts import SPOKEN_KEYS, Line, choose, free_text, match, on_the_sheet, show_choices
from diagnose.cli.session import Session
from diagnose.documents.say import first_up
from diagnose.rulebase.entries import Piece
from diagnose.rulebase.fault import nearest
from diagnose.rulebase.knowledge import Knowledge

WELCOME = "Every answer is kept at once. s stops, and the same command goes on later; b goes back one line."
_AMOUNT = re.compile(r"[^\d.,+-]*(\d[\d.,']*)[^\d.,]*")
_CENTS = re.compile(r"[.,](\d{1,2})$")
# Words of a line that name no piece.
SMALL_WORDS = frozenset({"a", "an", "and", "for", "in", "my", "of", "on", "our", "set", "the", "to", "with"})
NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
# A number that begins the line and counts pieces, not doors or drawers: "six chairs", "a set of 6 stools", but not "2 door wardrobe".
_SEVERAL = re.compile(rf"(?:(?:a|an|the|my|our|her|his) )?(?:(?:set|lot) of )?(\d+|{'|'.join(NUMBERS)}|pair of) .*s")
NOBODY_KNOWS = ("unknown", "nobody knows", "no idea", "none", "-")


@dataclass(frozen=True)
class Kind:
    """A kind of piece, and what it was called where that says more than the name of the kind."""

    piece: str
    called: str
    count: int = 1


def how_many(line: str) -> int:
    """How many pieces alike a line names.

    >>> how_many("a set of six dining chairs"), how_many("pair of stools"), how_many("2 door wardrobe"), how_many("sofa")
    (6, 2, 1, 1)
    """
    found = _SEVERAL.fullmatch(line.lower())
    if found is None:
        return 1
    said = found[1]
    count = int(said) if said.isdecimal() else NUMBERS.index(said) + 1 if said in NUMBERS else 2
    return count if 1 <= count <= MOST_PIECES else 1


def ask_kind(env: Environment, knowledge: Knowledge) -> Kind:
    """Ask what kind of piece it is: a number, its name, or a name it is also called."""
    choices = {piece.id: ", ".join([piece.name, *piece.also_called[:2]]) for piece in knowledge.pieces.values()}
    env.say(WELCOME)
    env.say(HOW)
    env.say()
    env.say(env.strong("What is it?"))
    show_choices(env, choices)
    count = 1
    while True:
        line = on_the_sheet(env, "> ")
        count = max(count, how_many(line))
        found = kind_named(knowledge, line, choices)
        if found is not None:
            env.say(f"  Noted: {knowledge.pieces[found].name}{f', {count} of them' if count > 1 else ''}.")
            called = line.lower() in (name.lower() for name in knowledge.pieces[found].also_called)
            return Kind(found, line if called else "", count)
        env.say(_kind_hint(knowledge, line, choices))


def kind_named(knowledge: Knowledge, line: str, choices: dict[str, str]) -> str | None:
    """The kind of piece that a typed line names; None where none or several may be meant."""
    piece = find_piece(knowledge, line)
    if piece is not None:
        return piece.id
    like = () if line.isdecimal() else kinds_like(knowledge, line)
    return like[0].id if len(like) == 1 else match(line, choices) if line and not like else None


def kinds_like(knowledge: Knowledge, line: str) -> tuple[Piece, ...]:
    """The kinds that a line may mean: those that most of its words name, as in "an old flat pack wardrobe".

    Of several, those of which a whole name was said: "an old wardrobe" is a wardrobe and nothing out of a box.
    """
    said = [word for word in line.lower().replace("-", " ").split() if not word.isdecimal() and word not in SMALL_WORDS]
    meant = {word: pieces_like(knowledge, word) or pieces_like(knowledge, word.removesuffix("s")) for word in said}
    named = [piece.id for word in said for piece in meant[word]]
    most = max((named.count(piece) for piece in named), default=0)
    found = tuple(piece for piece in knowledge.pieces.values() if named.count(piece.id) == most > 0)
    head = [word for word in said if meant[word]][-1:]
    whole = {piece.id: _words_of_name(piece, said, head) for piece in found}
    return tuple(piece for piece in found if whole[piece.id] == max(whole.values()))


def _words_of_name(piece: Piece, said: Sequence[str], head: Sequence[str]) -> int:
    """How many words the longest name of a kind has that stands whole among the words said, the one that says what it is with them."""
    heard = {*said, *(word.removesuffix("s") for word in said)}
    names = [set(other.lower().replace("-", " ").split()) for other in (piece.name, *piece.also_called)]
    return max(
        (len(name) for name in names if name <= heard and any({word, word.removesuffix("s")} & name for word in head)), default=0
    )


def _kind_hint(knowledge: Knowledge, line: str, choices: dict[str, str]) -> str:
    like = {piece.id: piece.name for piece in kinds_like(knowledge, line)}
    if len(like) > 1:
        numbers = {name: number for number, name in enumerate(choices, start=1)}
        return f"Which of these? {' · '.join(f'{numbers[name]} {label}' for name, label in like.items())}."
    near = nearest(
        line.lower(), [name.lower() for piece in knowledge.pieces.values() for name in (piece.name, *piece.also_called)]
    )
    hint = f" {first_up(near)}" if near.startswith("did") else ""
    return f"Not understood. A number, or a name from the list; take the nearest kind where none is quite right.{hint}"


def parse_amount(text: str) -> float:
    """A sum of money as people write it, currency before or behind. Raises ValueError for what is none.

    >>> parse_amount("350"), parse_amount("EUR 1,250"), parse_amount("1.250,50 EUR"), parse_amount("$1,250.5")
    (350.0, 1250.0, 1250.5, 1250.5)
    """
    found = _AMOUNT.fullmatch(text)
    if found is None:
        raise ValueError(text)
    figure = found[1].rstrip(".,'")
    cents = _CENTS.search(figure)
    whole = figure[: cents.start()] if cents is not None else figure
    amount = float(re.sub(r"[.,']", "", whole) + (f".{cents[1]}" if cents is not None else ""))
    if not 0.0 < amount < LARGEST:
        raise ValueError(text)
    return amount


def nobody_knows(line: str) -> bool:
    """Whether a line says that the thing is not known.

    >>> nobody_knows("Don't know"), nobody_knows("oak")
    (True, False)
    """
    return line.lower() in NOBODY_KNOWS or SPOKEN_KEYS.get(line.lower()) == "t"


def _money(value: float | None) -> str:
    return "" if value is None else f"{value:g}"


def _ask_value(session: Session) -> None:
    env, now = session.env, session.case.value
    while True:
        what = "it" if session.case.count == 1 else "one of them"
        line = free_text(env, f"What is {what} worth, as the owner puts it?", _money(now))
        if not line or nobody_knows(line):
            return
        try:
            amount = parse_amount(line)
        except ValueError:
            env.say("Not understood. One sum, like 350; Enter if nobody knows.")
            continue
        env.say(f"  Noted: {session.shop.money(amount)}.")
        session.keep(replace(session.case, value=amount))
        return


def _wood_said(session: Session) -> str:
    wood = session.knowledge.woods.get(session.case.wood or "")
    return wood.name if wood is not None else ""


def _ask_wood(session: Session) -> None:
    env, knowledge = session.env, session.knowledge
    now = _wood_said(session)
    while True:
        line = free_text(env, "Which wood?", now)
        if not line or nobody_knows(line):
            return
        wood = wood_named(knowledge, line)
        like = {wood.id: wood.name for wood in woods_like(knowledge, line) or woods_meant(knowledge, line)}
        if wood is None and like:
            chosen = choose(env, "Which of these?", like, enter="nobody can say")
            wood = knowledge.woods[chosen] if chosen is not None else None
            if wood is None:
                return
        if wood is not None:
            env.say(f"  Noted: {wood.name}.")
            session.keep(replace(session.case, wood=wood.id))
            return
        near = nearest(line.lower(), [known.name.lower() for known in knowledge.woods.values()])
        hint = first_up(near) if near.startswith("did") else "That wood is not in the list of woods."
        env.say(f"Not understood. {hint} Enter if nobody knows.")


def _ask_owner(session: Session) -> None:
    session.keep(replace(session.case, owner=free_text(session.env, "Whose is it?", session.case.owner)))


def _ask_says(session: Session) -> None:
    says = free_text(session.env, "What does the owner say, in the owner's own words?", session.case.owner_says)
    session.keep(replace(session.case, owner_says=says))


def _ask_kind_again(session: Session) -> None:
    """Another kind of piece has other joints, and parts that the damages may not have named."""
    kind, case = ask_kind(session.env, session.knowledge), session.case
    if kind.piece != case.piece:
        parts = session.knowledge.pieces[kind.piece].parts
        damages = tuple(
            replace(
                damage,
                part=damage.part if damage.part in parts else None,
                joint=None,
                facts={name: said for name, said in damage.facts.items() if name != "joint"},
            )
            for damage in case.damages
        )
        case = replace(case, joints={}, damages=damages)
    session.keep(replace(case, piece=kind.piece, called=kind.called, count=kind.count))


def kind_line(session: Session) -> Line:
    """What it is; asked already when a sitting begins, so only gone back to."""
    return Line(
        "What is it?", lambda: session.knowledge.pieces[session.case.piece].name, lambda: False, lambda: _ask_kind_again(session)
    )


def _ask_count(session: Session) -> None:
    env, now = session.env, session.case.count
    while True:
        line = free_text(env, "How many alike came in?", str(now))
        if line.isdecimal() and 1 <= int(line) <= MOST_PIECES:
            session.keep(replace(session.case, count=int(line)))
            return
        env.say(f"Not understood. A number from 1 to {MOST_PIECES}.")


def page_lines(session: Session) -> list[Line]:
    """Whose it is, what the owner says, worth and wood; what is answered already is not asked again."""

    return [
        Line("Whose it is", lambda: session.case.owner, lambda: not session.case.owner, lambda: _ask_owner(session)),
        Line(
            "The owner's words", lambda: session.case.owner_says, lambda: not session.case.owner_says, lambda: _ask_says(session)
        ),
        Line(
            "Worth, as the owner puts it",
            lambda: _money(session.case.value),
            lambda: session.case.value is None,
            lambda: _ask_value(session),
        ),
        Line("Which wood", lambda: _wood_said(session), lambda: session.case.wood is None, lambda: _ask_wood(session)),
        # Said with the kind where there are several, so only gone back to.
        Line("How many alike", lambda: str(session.case.count), lambda: False, lambda: _ask_count(session)),
    ]
