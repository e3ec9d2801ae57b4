"""A caution or a rule that protects safety or law rests on memory alone."""

from collections.abc import Iterator

from diagnose.rulebase.fault import Fault
from diagnose.rulebase.load import Loaded

CODE = "remembered-safety"


def check(loaded: Loaded) -> Iterator[Fault]:
    """Safety entries whose every source is remembered."""
    sources = loaded.found["sources"]
    guarded = [("logic", rule) for rule in loaded.found["logic"].values() if rule.protects in ("safety", "law")]
    guarded += [("cautions", caution) for caution in loaded.found["cautions"].values()]
    for kind, entry in guarded:
        if all(sources[cite.source].known_by == "memory" for cite in entry.sources):
            mark = loaded.mark(kind, entry.id, "sources")
            hint = "name a source that was read, or common_practice"
            yield Fault(mark, CODE, f"{entry.id} rests on memory alone", hint)
