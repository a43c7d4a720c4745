"""Names written wrongly are answered with the nearest ones."""

from __future__ import annotations

import difflib
from collections.abc import Iterable


def did_you_mean(name: object, known: Iterable[str], most: int = 2, cutoff: float = 0.5) -> str:
    """'did you mean this or that?', or nothing where no known name is near."""
    near = difflib.get_close_matches(str(name), list(known), n=most, cutoff=cutoff)
    return f"did you mean {' or '.join(near)}?" if near else ""


def nearest_or_stop(name: object, known: Iterable[str], most: int = 2, cutoff: float = 0.5) -> str:
    """The end of a sentence: '; did you mean this or that?', or its full stop."""
    found = did_you_mean(name, known, most, cutoff)
    return f"; {found}" if found else "."


def nearest_or_all(name: object, known: Iterable[str], most: int = 2, cutoff: float = 0.4) -> str:
    """For few names: 'did you mean this or that?', or 'choose one of' them all."""
    known = list(known)
    return did_you_mean(name, known, most, cutoff) or f"choose one of {', '.join(known)}."
