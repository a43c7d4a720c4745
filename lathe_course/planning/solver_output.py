"""Keeps compiled libraries from writing on the screen past Python.

A solver's library may print a line of its own from compiled code, which a notebook would show
among its results and store.  Only what is written past Python is held back.
"""

from __future__ import annotations

import contextlib
import ctypes
import os
from collections.abc import Iterator


@contextlib.contextmanager
def quiet() -> Iterator[None]:
    """Hold back what compiled code writes to standard output; where the system does not allow it, do nothing."""
    try:
        kept = os.dup(1)
    except OSError:  # no standard output at all
        yield
        return
    try:
        _flush()
        with open(os.devnull, "wb") as nowhere:
            os.dup2(nowhere.fileno(), 1)
        try:
            yield
        finally:
            _flush()
            os.dup2(kept, 1)
    finally:
        os.close(kept)


def _flush() -> None:
    """Empty the buffer of the C library, so that a line goes where it was meant to go when it was written."""
    with contextlib.suppress(OSError, TypeError, AttributeError):  # Windows has no library under this name
        ctypes.CDLL(None).fflush(None)
