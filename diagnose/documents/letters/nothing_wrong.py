"""The letter about a piece that needs no work."""

from diagnose.assess import Assessment
from diagnose.documents import md
from diagnose.documents.letters.also_known import also_known
from diagnose.documents.letters.frame import head, small_print
from diagnose.documents.letters.told_and_found import told_and_found
from diagnose.documents.letters.unsafe_now import unsafe_now
from diagnose.documents.letters.used_afterwards import used_afterwards


def nothing_wrong(assessment: Assessment) -> str:
    """That nothing was found, how it is used, and that there is nothing to answer."""
    return md.join(
        head(assessment, "About your"),
        "**We found nothing that needs work.** It can be used as before, and there is nothing to pay.",
        unsafe_now(assessment),
        md.heading("What you told us, and what we found", 2),
        told_and_found(assessment),
        also_known(assessment),
        md.heading("Using it", 2),
        used_afterwards(assessment),
        md.heading("What we ask of you", 2),
        "Nothing. Thank you for bringing it.",
        small_print(assessment),
    )
