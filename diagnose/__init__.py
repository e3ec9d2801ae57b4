"""Find out why a piece of wooden furniture failed, decide on the repair, plan it, and tell the owner why."""

import os
from importlib.metadata import version

# The matrices here are small: a second thread of the linear algebra only waits for the first, and on a busy machine for long.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

__version__ = version("furniture-diagnose")
