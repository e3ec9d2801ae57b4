"""What every page is made from: the rule base, the weights of its rows, its pictures, and who names whom."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from diagnose.documents.fieldguide.picture import Picture, pictures
from diagnose.documents.fieldguide.weights import Weighed, weigh
from diagnose.rulebase.entries import Cause, Method, Rule, Step
from diagnose.rulebase.knowledge import Knowledge


@dataclass(frozen=True, eq=False)
class Stock:
    """The rule base and what is worked out of it once for all pages."""

    knowledge: Knowledge
    weighed: Weighed
    pictures: dict[str, Picture]

    def rules_on(self, sign: str) -> Iterator[Rule]:
        """Rules that ask for a reading of this sign, or close on one."""
        for rule in self.knowledge.logic.values():
            if sign in rule.when.keys() | rule.unless.keys():
                yield rule

    def rules_with(self, kind: str, target: str) -> Iterator[Rule]:
        """Rules with this effect."""
        for rule in self.knowledge.logic.values():
            if any(effect.kind == kind and effect.target == target for effect in rule.then):
                yield rule

    def steps_with(self, hazard: str) -> Iterator[Step]:
        """Steps that carry this hazard."""
        return (step for step in self.knowledge.steps.values() if hazard in step.hazards)

    def methods_with(self, step: str) -> Iterator[Method]:
        """Methods that name this step."""
        return (method for method in self.knowledge.methods.values() if step in method.steps)

    def treated_by(self, cause: Cause) -> list[tuple[Method, str]]:
        """Methods that treat a cause, best first, each with its word; a word for the cause itself wins over that for its family."""
        left = self.knowledge.scale.treats
        found = []
        for method in self.knowledge.methods.values():
            word = method.treats.get(cause.id, method.treats.get(cause.family))
            if word is not None:
                found.append((method, word))
        return sorted(found, key=lambda item: (left[item[1]], item[0].name))


def stock_of(knowledge: Knowledge, plates: Iterable[str] = ()) -> Stock:
    """The stock of a rule base; `plates` are ids that chapters ask for besides."""
    return Stock(knowledge, weigh(knowledge), pictures(knowledge, plates))
