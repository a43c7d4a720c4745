"""Loading packages that take settings from wherever one stands."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path


@contextlib.contextmanager
def apart() -> Iterator[None]:
    """Stand among the course's own files meanwhile: matplotlib, for one, reads a ``matplotlibrc`` of the folder it is loaded in."""
    try:
        beside = os.getcwd()
    except OSError:  # a folder that was removed: nothing lies in it
        yield
        return
    os.chdir(Path(__file__).parent)
    try:
        yield
    finally:
        os.chdir(beside)
