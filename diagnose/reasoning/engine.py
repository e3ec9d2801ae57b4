"""The durable-rules adapter: rules as rulesets, facts as text tokens, one host for the whole process.

What the library really does, and so what is done here (version 2.0.28, measured):
  a Host starts two timer threads that may run actions under us and is never freed → one Host, its `_run` silenced, one lock;
  a session without a handled fact cannot be deleted, and live sessions are few → a token that each begins with and a rule for it, a fresh
  session per run, always deleted; a fact that no condition names raises → a ruleset is told only the tokens that its rules name;
  exceptions in actions are swallowed into the state → actions only note the rule's name, and the state is read after each run;
  repeated facts raise → each token is asserted once; findings are asserted back from outside, never inside an action;
  no negation that can be relied on → what is absent is a token of its own, asserted when its stratum is settled;
  one fact meets only one condition of a rule → a token that a rule asks for twice is asserted twice, the copies told apart by a mark;
  a ruleset keeps its tokens in a table of 512 places and looks for a free one for ever → the rules lie in several rulesets.
"""

import hashlib
import itertools
import threading
import warnings
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import lru_cache
from typing import Any

from diagnose import words
from diagnose.reasoning.facts import Facts
from diagnose.reasoning.rulebook import Rulebook, concludes
from diagnose.rulebase.entries import Line, Rule, When

NOTICE = (
    "durable-rules could not be loaded, so the plain evaluator stands in (same results): {reason}. To set it up see the README."
)

_lock = threading.Lock()
_sessions = itertools.count(1)
Clause = tuple[str, ...]
# A token that every session has, so that each can be deleted.
START = "start"


@lru_cache(maxsize=1)
def _library() -> tuple[Any, str]:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            from durable import engine
    except Exception as error:  # an ImportError, or whatever a broken build raises
        return None, f"{type(error).__name__}: {error}".splitlines()[0]
    return engine, ""


_aside: ContextVar[bool] = ContextVar("set_aside", default=False)


@contextmanager
def set_aside() -> Iterator[None]:
    """Inside, the plain evaluator works in the engine's place: a ruleset once registered is never freed, so a rule base that is tried
    once and thrown away must not reach the host."""
    token = _aside.set(True)
    try:
        yield
    finally:
        _aside.reset(token)


def available() -> bool:
    """Whether the compiled engine can be used, and is not set aside."""
    return not _aside.get() and _library()[0] is not None


def notice() -> str:
    """The line to show when the engine cannot be used; empty when it can."""
    _, reason = _library()
    return NOTICE.format(reason=reason) if reason else ""


@lru_cache(maxsize=1)
def _host() -> Any:
    library, _ = _library()

    class QuietHost(library.Host):  # type: ignore[name-defined,misc]
        def _run(self) -> None:
            """No timer threads: nothing here waits for time."""

    return QuietHost()


def _token(key: str, value: str) -> str:
    return f"{key}={value}"


def _absent(token: str) -> str:
    return f"not:{token}"


def _line_clauses(line: Line) -> list[Clause]:
    tokens = [_token(line.key, value) for value in line.values]
    return [(token,) for token in tokens] if line.every else [tuple(tokens)]


def _unless_clauses(unless: When) -> list[Clause]:
    """Conditions that hold exactly when no line of `unless` does: each is a choice of absences."""
    clauses: list[Clause] = []
    for line in unless.lines:
        absent = tuple(_absent(_token(line.key, value)) for value in line.values)
        clauses.extend([absent] if line.every else [(token,) for token in absent])
    for branch in unless.branches:
        # A branch fails when one of its lines does; a line with several values fails when all of them are absent.
        options = [
            [(_absent(_token(line.key, value)),) for value in line.values]
            if not line.every
            else [tuple(_absent(_token(line.key, value)) for value in line.values)]
            for line in branch
        ]
        clauses.extend(tuple(itertools.chain.from_iterable(choice)) for choice in itertools.product(*options))
    return clauses


def clauses(rule: Rule) -> list[Clause]:
    """A rule's condition as choices that must all be met: each choice is one condition of the engine."""
    found = [clause for line in rule.when.lines for clause in _line_clauses(line)]
    if rule.when.branches:
        per_branch = [[clause for line in branch for clause in _line_clauses(line)] for branch in rule.when.branches]
        found.extend(tuple(dict.fromkeys(itertools.chain.from_iterable(choice))) for choice in itertools.product(*per_branch))
    return _each_its_own(found + _unless_clauses(rule.unless))


def _copy(token: str, number: int) -> str:
    return token if number == 0 else f"{token}#{number}"


def _each_its_own(found: list[Clause]) -> list[Clause]:
    """The same clauses, where a token that an earlier clause names already is replaced by a further copy of it."""
    used: dict[str, int] = {}
    told = []
    for clause in found:
        told.append(tuple(_copy(token, used.get(token, 0)) for token in clause))
        for token in clause:
            used[token] = used.get(token, 0) + 1
    return told


def _match(clause: Clause) -> dict[str, Any]:
    return {"t": clause[0]} if len(clause) == 1 else {"$or": [{"t": token} for token in clause]}


def _definition(rules: Iterable[Rule], note: Callable[[str], Callable[[Any], None]]) -> dict[str, Any]:
    definition: dict[str, Any] = {
        "session_starts": {"all": [{"m": {"t": START}}], "run": lambda c: None},
    }
    for rule in rules:
        conditions = [{f"c{index}": _match(clause)} for index, clause in enumerate(clauses(rule))]
        definition[rule.id] = {"all": conditions, "run": note(rule.id)}
    return definition


# Well below the 511 that one ruleset holds.
MOST_TOKENS = 400


def _tokens(rule: Rule) -> frozenset[str]:
    return frozenset(token for clause in clauses(rule) for token in clause)


def _shares(rules: Iterable[Rule]) -> Iterator[tuple[list[Rule], frozenset[str]]]:
    """The rules in as many parts as the engine needs, each with its tokens."""
    share: list[Rule] = []
    known: frozenset[str] = frozenset()
    for rule in rules:
        if share and len(known | _tokens(rule)) > MOST_TOKENS:
            yield share, known
            share, known = [], frozenset()
        share.append(rule)
        known |= _tokens(rule)
    if share:
        yield share, known


class _Ruleset:
    """The registered rulesets of a rulebook, by name each with its tokens, and the firings of each live session."""

    def __init__(self, name: str, book: Rulebook) -> None:
        self.fired: dict[str, set[str]] = {}
        self.negated = frozenset(
            token.removeprefix("not:") for rule in book.rules for clause in _unless_clauses(rule.unless) for token in clause
        )
        self.copies: dict[str, int] = {}
        for token in (token for rule in book.rules for token in _tokens(rule) if "#" in token):
            plain, _, number = token.rpartition("#")
            self.copies[plain] = max(self.copies.get(plain, 0), int(number))
        self.strata = book.strata
        self.parts: dict[str, frozenset[str]] = {}
        for index, (share, known) in enumerate(_shares(book.rules)):
            part = f"{name}_{index}"
            self.parts[part] = known | {START}
            _host().register_rulesets({part: _definition(share, self._note)})

    def _note(self, rule_id: str) -> Callable[[Any], None]:
        def run(c: Any) -> None:
            self.fired[c.s.sid].add(rule_id)

        return run


_registered: dict[str, _Ruleset] = {}


@lru_cache(maxsize=8)
def _ruleset(book: Rulebook) -> _Ruleset:
    """The ruleset of a rulebook, named by its content; once registered the host keeps it for good."""
    text = repr([(rule.id, clauses(rule), sorted(concludes(rule))) for rule in book.rules])
    name = "rules_" + hashlib.sha256(text.encode()).hexdigest()[:16]
    if name not in _registered:
        _registered[name] = _Ruleset(name, book)
    return _registered[name]


class EngineError(RuntimeError):
    """The engine noted an exception in a run."""


def _assert(ruleset: _Ruleset, sid: str, tokens: Iterable[str]) -> None:
    copies = [_copy(token, number) for token in tokens for number in range(ruleset.copies.get(token, 0) + 1)]
    for part, known in ruleset.parts.items():
        facts = [{"t": token, "sid": sid} for token in copies if token in known]
        if not facts:
            continue
        _host().assert_facts(part, facts)
        state = _host().get_state(part, sid)
        if state and state.get("exception"):
            raise EngineError(f"durable-rules: {state['exception']}")


def fired(book: Rulebook, facts: Facts) -> frozenset[str]:
    """Every rule that fires on `facts`, found by durable-rules.

    Raises EngineError when the engine noted an exception.
    """
    if not book.rules:
        return frozenset()
    with _lock, warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # the library still calls utcfromtimestamp
        ruleset = _ruleset(book)
        sid = f"s{next(_sessions)}"
        ruleset.fired[sid] = set()
        try:
            asserted: set[str] = set()

            def tell(tokens: Iterable[str]) -> None:
                new = sorted(set(tokens) - asserted)
                asserted.update(new)
                _assert(ruleset, sid, new)

            tell([START, *facts.tokens()])
            for height in range(len(ruleset.strata)):
                open_findings = {
                    _token(words.FINDING, finding)
                    for stratum in ruleset.strata[height:]
                    for rule in stratum
                    for finding in concludes(rule)
                }
                tell(_absent(token) for token in ruleset.negated - asserted - open_findings)
                count = -1
                while count != len(ruleset.fired[sid]):
                    count = len(ruleset.fired[sid])
                    found = {f for rule_id in ruleset.fired[sid] for f in concludes(book.by_id[rule_id])}
                    tell(_token(words.FINDING, finding) for finding in found)
            return frozenset(ruleset.fired[sid])
        finally:
            ruleset.fired.pop(sid, None)
            for part in ruleset.parts:
                _host().delete_state(part, sid)
