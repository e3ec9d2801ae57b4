"""An id is named that no entry has.

Every reference is followed: sources, signs and readings of causes, signs that a computed one comes from, steps of
methods, cautions of steps, effects of rules, words of stories. The nearest id that exists is named.
"""

from collections.abc import Iterable, Iterator

from diagnose import words
from diagnose.rulebase.fault import Fault, Mark, nearest
from diagnose.rulebase.load import Loaded

CODE = "unknown-id"


def _fault(mark: Mark, what: str, word: str, known: Iterable[str]) -> Fault:
    return Fault(mark, CODE, f"{word} is not {what}", nearest(word, known))


def _sources(loaded: Loaded) -> Iterator[Fault]:
    known = loaded.found["sources"]
    scale = {"scale": loaded.scale} if loaded.scale is not None else {}
    for kind, entries in (*loaded.found.items(), ("scale", scale)):
        for entry_id, entry in entries.items():
            for index, cite in enumerate(getattr(entry, "sources", ())):
                if cite.source not in known:
                    yield _fault(loaded.mark(kind, entry_id, "sources", index), "a source", cite.source, known)


def _causes(loaded: Loaded) -> Iterator[Fault]:
    signs = loaded.found["signs"]
    for cause in loaded.found["causes"].values():
        for sign_id, said in cause.shows.items():
            sign = signs.get(sign_id)
            if sign is None:
                yield _fault(loaded.key_mark("causes", cause.id, "shows", sign_id), "a sign", sign_id, signs)
                continue
            for reading in said:
                if reading not in sign.readings:
                    mark = loaded.key_mark("causes", cause.id, "shows", sign_id, reading)
                    yield _fault(mark, f"a reading of {sign_id}", reading, sign.readings)


def _signs(loaded: Loaded) -> Iterator[Fault]:
    signs = loaded.found["signs"]
    for sign in signs.values():
        for index, other in enumerate(sign.computed.source_signs if sign.computed is not None else ()):
            if other not in signs:
                yield _fault(loaded.mark("signs", sign.id, "computed", "from", index), "a sign", other, signs)


def _methods(loaded: Loaded) -> Iterator[Fault]:
    steps, causes = loaded.found["steps"], loaded.found["causes"]
    treatable = {*causes, *words.FAMILIES, words.SOMETHING_ELSE}
    for method in loaded.found["methods"].values():
        for index, step in enumerate(method.steps):
            if step not in steps:
                yield _fault(loaded.mark("methods", method.id, "steps", index), "a step", step, steps)
        for name in method.treats:
            if name not in treatable:
                mark = loaded.key_mark("methods", method.id, "treats", name)
                yield _fault(mark, "a cause or family", name, treatable)


def _steps(loaded: Loaded) -> Iterator[Fault]:
    steps, cautions, signs = loaded.found["steps"], loaded.found["cautions"], loaded.found["signs"]
    for step in steps.values():
        for names in ("after", "needs", "instead_of"):
            for index, other in enumerate(getattr(step, names)):
                if other not in steps:
                    yield _fault(loaded.mark("steps", step.id, names, index), "a step", other, steps)
        for index, hazard in enumerate(step.hazards):
            if hazard not in cautions:
                yield _fault(loaded.mark("steps", step.id, "hazards", index), "a caution", hazard, cautions)
        for consumable in step.uses:
            if consumable not in loaded.found["consumables"]:
                mark = loaded.key_mark("steps", step.id, "uses", consumable)
                yield _fault(mark, "a consumable", consumable, loaded.found["consumables"])
        if step.check is not None:
            sign = signs.get(step.check.sign)
            if sign is None:
                yield _fault(loaded.mark("steps", step.id, "check", "sign"), "a sign", step.check.sign, signs)
            elif step.check.reads not in sign.readings:
                mark = loaded.mark("steps", step.id, "check", "reads")
                yield _fault(mark, f"a reading of {sign.id}", step.check.reads, sign.readings)


_TARGETS = {
    "finding": ("findings", "a finding"),
    "require": ("steps", "a step"),
    "forbid_method": ("methods", "a method"),
    "caution": ("cautions", "a caution"),
    "ask_first": ("signs", "a sign"),
}


def _logic(loaded: Loaded) -> Iterator[Fault]:
    for rule in loaded.found["logic"].values():
        for index, effect in enumerate(rule.then):
            if effect.kind in _TARGETS:
                kind, what = _TARGETS[effect.kind]
                if effect.target not in loaded.found[kind]:
                    mark = loaded.mark("logic", rule.id, "then", index)
                    yield _fault(mark, what, effect.target, loaded.found[kind])


def _adhesives(loaded: Loaded) -> Iterator[Fault]:
    cautions = loaded.found["cautions"]
    for adhesive in loaded.found["adhesives"].values():
        for index, hazard in enumerate(adhesive.hazards):
            if hazard not in cautions:
                yield _fault(loaded.mark("adhesives", adhesive.id, "hazards", index), "a caution", hazard, cautions)
        for index, method in enumerate(adhesive.methods):
            if method not in loaded.found["methods"]:
                mark = loaded.mark("adhesives", adhesive.id, "methods", index)
                yield _fault(mark, "a method", method, loaded.found["methods"])


def _finishes(loaded: Loaded) -> Iterator[Fault]:
    found = loaded.found
    for finish in found["finishes"].values():
        if finish.moved_by is not None and finish.moved_by not in found["spot_tests"]:
            yield _fault(loaded.mark("finishes", finish.id, "moved_by"), "a spot test", finish.moved_by, found["spot_tests"])
        for key, kind, what in (("never_over", "finishes", "a finish"), ("hazards", "cautions", "a caution")):
            for index, name in enumerate(getattr(finish, key)):
                if name not in found[kind]:
                    yield _fault(loaded.mark("finishes", finish.id, key, index), what, name, found[kind])
    for test in found["spot_tests"].values():
        if test.uses not in found["consumables"]:
            yield _fault(loaded.mark("spot_tests", test.id, "uses"), "a consumable", test.uses, found["consumables"])
        for index, hazard in enumerate(test.hazards):
            if hazard not in found["cautions"]:
                yield _fault(loaded.mark("spot_tests", test.id, "hazards", index), "a caution", hazard, found["cautions"])


def _stories(loaded: Loaded) -> Iterator[Fault]:
    kinds = {
        "causes": "causes",
        "rules": "logic",
        "findings": "findings",
        "methods": "methods",
        "cautions": "cautions",
        "requires": "steps",
        "forbids": "methods",
    }
    closed = {"decision": words.CLASSES, "classes": words.CLASSES, "triage": list(words.Triage)}
    for document, place, told in loaded.stories:
        for side, model in (("expect", told.story.expect), ("never", told.story.never)):
            for name, kind in kinds.items():
                for index, word in enumerate(getattr(model, name, ())):
                    if word not in loaded.found[kind]:
                        mark = document.mark((*place, side, name, index))
                        yield _fault(mark, f"one of {kind}", word, loaded.found[kind])
            for name, known in (*closed.items(), ("method", loaded.found["methods"])):
                said = getattr(model, name, None) or ()
                for word in [said] if isinstance(said, str) else said:
                    if word not in known:
                        key = "class" if name == "decision" else name
                        yield _fault(document.mark((*place, side, key)), f"a word for {key}", word, known)
        causes = {*loaded.found["causes"], words.SOMETHING_ELSE}
        first = told.story.expect.first_cause
        named = [(word, document.mark((*place, "open", index))) for index, word in enumerate(told.story.open)]
        named += [(word, document.key_mark((*place, "expect", "at_least", word))) for word in told.story.expect.at_least]
        named += [(first, document.mark((*place, "expect", "first_cause")))] if first is not None else []
        for word, mark in named:
            if word not in causes:
                yield _fault(mark, "a cause", word, causes)


def check(loaded: Loaded) -> Iterator[Fault]:
    """Every reference that leads nowhere."""
    for part in (_sources, _causes, _signs, _methods, _steps, _logic, _adhesives, _finishes, _stories):
        yield from part(loaded)
