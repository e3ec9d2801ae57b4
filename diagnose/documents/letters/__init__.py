"""Letters to the owner. Plain words, no percentages, no blame; the answer and the price come first, what is unsafe now stands in a box.

One room for each part of a letter, named after it; `estimate` puts them in their order.
"""

from collections.abc import Callable

from diagnose.assess import Assessment
from diagnose.documents.letters.estimate import estimate

FORMS: dict[str, Callable[[Assessment], str]] = {"estimate": estimate}

__all__ = ["FORMS", "estimate"]
