"""Care: what its owner can do at home, so that it does not come back."""

from diagnose.assess import Assessment
from diagnose.decision.whole_piece import RETIRED
from diagnose.documents import md, say

MOST_LINES = 3
NAMED_FROM = 0.35


def care(assessment: Assessment) -> str:
    """The section with its heading, for the causes that are likely enough; empty where nothing at home prevents them, or nothing is used
    any more."""
    if assessment.piece_decision == RETIRED:
        return ""
    causes = assessment.knowledge.causes
    named = [name for damage in assessment.damages for name, _ in say.leading_causes(damage, floor=NAMED_FROM)]
    lines = [causes[name].prevents for name in dict.fromkeys(named) if causes[name].prevents_at == "home"]
    told = [line for line in lines if line][:MOST_LINES]
    return md.join(md.heading("Care", 2), md.bullets(told)) if told else ""
