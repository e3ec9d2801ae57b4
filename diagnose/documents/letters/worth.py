"""What the piece is worth: whose word that is, and that we are not valuers."""

from diagnose import words
from diagnose.assess import Assessment
from diagnose.case.case import Case
from diagnose.documents import md


def valued_by(case: Case, owner: str = "you") -> str:
    """Who said what the piece is worth; `owner` is how its owner is spoken of.

    >>> valued_by(Case("stool")), valued_by(Case("stool", value_by="an auction house"))
    ('you', 'an auction house')
    """
    return owner if case.value_by == "owner" else md.safe(case.value_by)


def worth(assessment: Assessment) -> str:
    """The section with its heading; where nobody said a value, only where ways are told between which it decides."""
    case = assessment.case
    if case.value is not None:
        told = f"The value of {assessment.shop.money(case.value)} is what {valued_by(case)} told us; we are not valuers."
    elif assessment.price is not None and any(
        o.verdict is words.Verdict.OWNERS_TO_SAY for d in assessment.damages for o in d.decision.options
    ):
        told = "You have not told us, and we are not valuers. What it is worth to you only you can say; both ways stand above."
    else:
        return ""
    return md.join(md.heading("What it is worth", 2), told)
