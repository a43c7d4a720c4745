"""One thing at a time.

JupyterLab hands the moves of a control to the kernel's main thread or to one beside it, whichever
was ready when the control was made.  Two moves may then arrive at once, and a picture, a design
and the settings of matplotlib stand only one hand.
"""

from __future__ import annotations

import functools
import threading
from collections.abc import Callable
from typing import Any, TypeVar

_Work = TypeVar("_Work", bound=Callable[..., Any])
_TURN = threading.RLock()


def in_turn(work: _Work) -> _Work:
    """A function that waits until no other thread is in one of its like; it may call others of them."""

    @functools.wraps(work)
    def call(*given: Any, **named: Any) -> Any:
        with _TURN:
            return work(*given, **named)

    return call  # type: ignore[return-value]
