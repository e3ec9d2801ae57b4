"""What an owner must hear besides, in the words of the findings: of earlier work and its term, of the others of a set, of a sale."""

from diagnose import words
from diagnose.assess import Assessment
from diagnose.documents import md


def also_known(assessment: Assessment) -> str:
    """The section with its heading; empty where there is nothing to tell."""
    findings = [assessment.knowledge.findings[name] for name in assessment.findings]
    lines = [finding.owner for finding in findings if finding.owner and finding.heard == "also"]
    if assessment.triage is words.Triage.ISOLATE:
        apart = [because for because in assessment.triage_because if because not in assessment.told.not_yet]
        lines = [f"We keep it apart from other work. {' '.join(apart)}".strip(), *lines]
    return md.join(md.heading("What you should also know", 2), md.bullets(dict.fromkeys(lines))) if lines else ""
