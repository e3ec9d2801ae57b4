"""What a changed answer changed in a plan, as Markdown."""

from collections.abc import Iterable, Sequence

from diagnose.assess import Assessment
from diagnose.documents import md, plan_glue
from diagnose.documents.plan import plan
from diagnose.documents.plan_steps import read_steps, told_steps
from diagnose.planning.since import Swap, Worded, since, swaps


class NotAPlan(ValueError):
    """The old text holds no steps of a plan."""


def changes(assessment: Assessment, old_plan: str) -> str:
    """The steps that came, went and changed since an older plan of the same piece; raises NotAPlan where it is none."""
    old = read_steps(old_plan)
    if not old:
        raise NotAPlan("no steps are found in it; it must be a bench plan written as Markdown (.md)")
    now = [step.worded for step in told_steps(assessment, plan_glue.gluings_of(assessment))]
    found = since(old, now)
    title = md.heading(f"Since the older plan: {md.safe(assessment.case.number) or 'no number'}", 1)
    beside = _beside(old_plan, plan(assessment))
    if found.none and not beside:
        return md.join(title, f"Nothing: all {found.same} steps are the same, word for word.")
    return md.join(
        title,
        beside,
        *_listed("Added", found.added),
        *_listed("Gone", found.gone),
        *_changed(found.changed),
        f"All other steps ({found.same}) are the same, word for word; only their numbers may have moved.",
    )


def _listed(title: str, steps: Sequence[Worded]) -> Iterable[str]:
    if steps:
        yield md.heading(title, 2)
        yield "\n".join(f"- **{step.phase}:** {step.text}" for step in steps)


def _changed(pairs: Sequence[tuple[Worded, Worded]]) -> Iterable[str]:
    if pairs:
        yield md.heading("Changed", 2)
    for old, new in pairs:
        yield "\n".join([f"- **{new.phase}:** {new.action}", *(f"    - {line}" for line in _differences(old.text, new.text))])


def _differences(old: str, new: str) -> Iterable[str]:
    """What is different in a step, its first line and each line below it by its own name."""
    before, after = _by_name(old), _by_name(new)
    for name in dict.fromkeys([*before, *after]):
        if before.get(name) == after.get(name):
            continue
        if name not in after:
            yield f"no longer: {name}{before[name]}"
        elif name not in before:
            yield f"new: {name}{after[name]}"
        else:
            yield name + "; ".join(_told(swap) for swap in swaps(before[name], after[name]))


def _by_name(text: str) -> dict[str, str]:
    """The lines of a step by what stands before their first colon; its first line has no name."""
    first, *others = text.split("\n")
    found = {"": first.replace("*(", "(").replace(")*", ")")}
    for line in others:
        name, colon, rest = line.strip().removeprefix("- ").partition(": ")
        found[f"{name}{colon}"] = rest
    return found


def _told(swap: Swap) -> str:
    if not swap.was:
        return f"new: “{swap.now}”"
    return f"“{swap.was}” is now “{swap.now}”" if swap.now else f"no longer: “{swap.was}”"


def _beside(old_plan: str, new_plan: str) -> str:
    """What is done, and the work and waiting in all, where either is another than before."""
    lines = []
    for section in ("What is done, and why", "Time"):
        before, after = _heads(old_plan, section), _heads(new_plan, section)
        lines += [f"- was: {line}" for line in before if line not in after]
        lines += [f"- is: {line}" for line in after if line not in before]
    return md.join(md.heading("In all", 2), "\n".join(lines)) if lines else ""


def _heads(text: str, section: str) -> list[str]:
    """The lines of a section that say what is done to which place, or how much work and waiting it is; never the day, which moves by itself."""
    inside = text.partition(f"\n## {section}\n")[2].partition("\n## ")[0]
    done = [line.removeprefix("- ") for line in inside.splitlines() if line.startswith("- **") and "(" in line]
    return done + [line.partition(" Ready in ")[0] for line in inside.splitlines() if line.startswith("Work ")]
