"""The form of rules files as a JSON Schema (draft 2020-12), so that an editor completes, explains and underlines while one writes.

It is made from the models in entries/ and the entries of one rule base: closed lists become choices, and what a field names elsewhere
(`names` in entries/base) becomes the list of what there is. A new id is therefore unknown to it until it is made anew.

What a schema cannot say is left to `rules check`: what lines say together (a row that adds to more than certainty, minutes that rise,
readings that cover a range, a reading of the sign of its hold point), ids used twice, gates in a circle, missing stories, and the
traps of YAML that lose text before a schema sees it.
"""

from diagnose.rulebase.schema.forms import form_of, rules_schema

__all__ = ["form_of", "rules_schema"]
