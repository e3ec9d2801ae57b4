"""One thread for the linear algebra: the matrices are small, and a second thread only waits for the first."""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
