"""For every test: the products of small matrices in one thread, for several wait for one another longer than they work."""

import gc
import os

from lathe_course.course.left_out import left_out

with left_out():
    import nbformat  # noqa: F401   each worker loads it

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def pytest_collection_finish() -> None:
    """Modules stay: the collector need not look through them again and again."""
    gc.freeze()
