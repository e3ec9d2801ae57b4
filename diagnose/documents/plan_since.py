"""What a changed answer changed in a plan, as Markdown."""

from collections.abc import Iterable, Sequence

from diagnose.assess import Assessment
from diagnose.documents import md, plan_glue
from diagnose.documents.plan_steps import read_steps, told_steps
from diagnose.planning.since import Worded, since


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
    if found.none:
        return md.join(title, f"Nothing: all {found.same} steps are the same, word for word.")
    return md.join(
        title,
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
        before, after = old.text.split("\n"), new.text.split("\n")
        lines = [f"- **{new.phase}:** {new.action}"]
        lines += [f"    - was: {line.strip().removeprefix('- ')}" for line in before if line not in after]
        lines += [f"    - is: {line.strip().removeprefix('- ')}" for line in after if line not in before]
        yield "\n".join(lines)
