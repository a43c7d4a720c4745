"""Doing without a package that others use where it is there, and that takes longer to load than all the rest of them."""

import contextlib
import sys
from collections.abc import Iterator

#: checks addresses with letters of other alphabets, by a grammar that it builds whenever it is loaded; jsonschema does without, and nothing of ours holds such
GRAMMAR_OF_ADDRESSES = "rfc3987_syntax"


@contextlib.contextmanager
def left_out(package: str = GRAMMAR_OF_ADDRESSES) -> Iterator[None]:
    """Whoever is loaded meanwhile finds no such package, unless it was loaded before."""
    there = package in sys.modules
    sys.modules.setdefault(package, None)  # as Python is told that there is none
    try:
        yield
    finally:
        if not there:
            sys.modules.pop(package, None)
