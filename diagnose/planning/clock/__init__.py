"""The glue-up clock: which bonds are closed together, in which order, and how much of the working time is left when they are square."""

from diagnose.planning.clock.changes import Change, changes
from diagnose.planning.clock.model import Bond, Closing, Glue, GlueUp, Schedule, Task
from diagnose.planning.clock.search import MOST_EXACT, NoOrder, best, needed_minutes, schedule

__all__ = [
    "MOST_EXACT",
    "Bond",
    "Change",
    "Closing",
    "Glue",
    "GlueUp",
    "NoOrder",
    "Schedule",
    "Task",
    "best",
    "changes",
    "needed_minutes",
    "schedule",
]
