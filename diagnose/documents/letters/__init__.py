"""Letters to the owner. Plain words, no percentages, no blame; the answer comes first, what is unsafe now stands in a box.

One room for each form, and one for each part that forms share, named after it. `estimate` puts the most of them in their order.
"""

from collections.abc import Callable

from diagnose.assess import Assessment
from diagnose.documents.letters.estimate import estimate
from diagnose.documents.letters.for_the_insurer import for_the_insurer
from diagnose.documents.letters.frame import NotThisForm
from diagnose.documents.letters.hand_over import hand_over
from diagnose.documents.letters.receipt import receipt
from diagnose.documents.letters.revised import revised
from diagnose.documents.letters.until_you_bring_it import until_you_bring_it

# In the order in which a piece meets them; the revised estimate is the estimate beside an earlier one.
FORMS: dict[str, Callable[[Assessment], str]] = {
    "until_you_bring_it": until_you_bring_it,
    "receipt": receipt,
    "estimate": estimate,
    "hand_over": hand_over,
    "for_the_insurer": for_the_insurer,
}

__all__ = ["FORMS", "NotThisForm", "estimate", "revised"]
