"""When there is nothing to advise."""


class Undecided(Exception):
    """The rules leave no way at all; the message names what they forbid."""
