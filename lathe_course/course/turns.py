"""One thing at a time, and what can wait until the finger rests.

JupyterLab hands the moves of a control to the kernel's main thread or to one beside it, whichever
was ready when the control was made.  Two moves may then arrive at once, and a picture, a design
and the settings of matplotlib stand only one hand.
"""

from __future__ import annotations

import asyncio
import functools
import threading
from collections.abc import Callable
from typing import Any, TypeVar

_Work = TypeVar("_Work", bound=Callable[..., Any])
_TURN = threading.RLock()
#: seconds without a move after which a finger is taken to rest
AT_REST = 0.3


def in_turn(work: _Work) -> _Work:
    """A function that waits until no other thread is in one of its like; it may call others of them."""

    @functools.wraps(work)
    def call(*given: Any, **named: Any) -> Any:
        with _TURN:
            return work(*given, **named)

    return call  # type: ignore[return-value]


class Rest:
    """Work that waits until no move of a control has come for a while."""

    def __init__(self, work: Callable[[], None]):
        self._work = work
        self._timer: asyncio.TimerHandle | None = None

    def moved(self) -> bool:
        """Wait anew.  False where no loop runs that could call for it, as in a test or a plain program: nothing comes later then."""
        if self._timer is not None:
            self._timer.cancel()
        try:
            self._timer = asyncio.get_running_loop().call_later(AT_REST, self._work)
        except RuntimeError:
            return False
        return True
