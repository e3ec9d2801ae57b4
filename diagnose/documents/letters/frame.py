"""What frames every letter: who writes about which piece, the line to sign on, and the small print."""

import re

from diagnose.assess import Assessment
from diagnose.documents import md, say

# A piece that was called "the hall chair" or "my desk" is "your hall chair" in a letter.
_ARTICLE = re.compile(r"(?:the|an?|my|our|your|his|her|their)\s+(?=\S)", re.IGNORECASE)
SIGN_HERE = "Name, date and signature: ________________________________"
# Where only somebody who stands before the piece can say.
BLANK = "________________________________"


class NotThisForm(ValueError):
    """This letter cannot be written about this piece; the message says why, and which one can."""


def head(assessment: Assessment, title: str) -> str:
    """The heading, a title and the piece in the owner's words where there are any; the shop; number, date and owner."""
    shop, case = assessment.shop, assessment.case
    name = _ARTICLE.sub("", say.piece_name(assessment), count=1) if _ARTICLE.match(case.called) else say.piece_name(assessment)
    name = name if case.called else name.lower()
    sender = ", ".join(part for part in (md.safe(shop.name), md.safe(shop.address), md.safe(shop.telephone)) if part)
    owner = f" · for {md.safe(case.owner)}" if case.owner else ""
    about = f"Number {md.safe(case.number) or '–'} · {say.long_date(assessment.today)}{owner}"
    return md.join(md.heading(f"{title} {name}", 1), sender, about)


def small_print(assessment: Assessment) -> str:
    """Who to ring, the rule base, and that the law of the place prevails."""
    call = f"Questions: {md.safe(assessment.shop.telephone)}. " if assessment.shop.telephone else ""
    return f"{call}{say.footer(assessment)}"


def signed_by_both() -> str:
    """The lines to sign on, one for each."""
    return md.join(f"You: {SIGN_HERE[0].lower()}{SIGN_HERE[1:]}", f"For the shop: {SIGN_HERE[0].lower()}{SIGN_HERE[1:]}")
