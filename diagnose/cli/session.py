"""One sitting of the interview: the case as it grows, kept on disk after every answer."""

from dataclasses import dataclass, field
from pathlib import Path

from diagnose.assess import Assessment, assess
from diagnose.case.case import Answer, Case
from diagnose.case.write import write_case
from diagnose.cli.environment import Environment
from diagnose.cli.errors import naming, stop
from diagnose.rulebase.entries import Sign
from diagnose.rulebase.knowledge import Knowledge
from diagnose.shop import Shop


def bytes_of(path: Path) -> bytes | None:
    """What a file holds; None where there is none."""
    return path.read_bytes() if path.exists() else None


@dataclass(frozen=True)
class Given:
    """An answer of this sitting, with what stood there before it and where one stood, so that it can be taken back."""

    scope: str | None
    sign: str
    before: Answer | None
    station: str | None


@dataclass
class Session:
    """The case, where it is kept, what was put off, the order of answers for going back, and what was last told of each damage."""

    env: Environment
    knowledge: Knowledge
    shop: Shop
    path: Path
    place: str
    case: Case
    on_disk: bytes | None
    later: set[tuple[str, str]] = field(default_factory=set)
    given: list[Given] = field(default_factory=list)
    station: str | None = None
    told: dict[str, tuple[str, ...]] = field(default_factory=dict)

    def keep(self, case: Case) -> None:
        """Take the case as it is now and have it on disk before anything else is asked.

        Where somebody else has written the file since, theirs stays: two sittings at one case would undo each other's answers.
        """
        with naming(self.path):
            if bytes_of(self.path) not in (None, self.on_disk):
                message = "was changed by somebody else while this ran, and is left as they have it; the same command goes on from there"
                raise stop(self.env, f"{self.path}: {message}")
            write_case(self.path, case, self.knowledge)
            self.case, self.on_disk = case, bytes_of(self.path)

    def assessed(self) -> Assessment:
        """The assessment of the case as it stands."""
        return assess(self.case, self.knowledge, self.shop, self.env.today, place=self.place, station=self.station)

    def answer(self, sign: Sign, damage_id: str, answer: Answer) -> None:
        """Keep one answer: with the piece or with the damage, wherever the sign belongs."""
        scope = None if sign.of == "piece" else damage_id
        held = self.case.readings if scope is None else self.case.damage(scope).readings
        self.given.append(Given(scope, sign.id, held.get(sign.id), self.station))
        self.station = sign.station
        self.keep(self.case.with_answer(scope, sign.id, answer))

    def back(self) -> bool:
        """Take the last answer of this sitting back; False when there is none."""
        if not self.given:
            return False
        last = self.given.pop()
        self.station = last.station
        self.keep(self.case.with_answer(last.scope, last.sign, last.before))
        return True
