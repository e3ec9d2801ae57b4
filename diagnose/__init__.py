"""Find out why a piece of wooden furniture failed, decide on the repair, plan it, and tell the owner why."""

from importlib.metadata import version

__version__ = version("furniture-diagnose")
