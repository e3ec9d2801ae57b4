"""The field guide: a book made from the rule base and the chapters of `guide/`, as pages of HTML or as text for the terminal.

Building is pure: `book.pages` gives a mapping of paths and texts, `check.faults` reads such a mapping and names what is wrong.
"""
