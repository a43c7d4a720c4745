"""How much is tried: a little in every run, a lot where LATHE_COURSE_LONG is set."""
import os

LONG = os.environ.get("LATHE_COURSE_LONG", "") not in ("", "0")


def many(default: int, long: int) -> int:
    """How many examples, draws, kills or random designs to try: ``default``, or ``long`` in the long run."""
    return long if LONG else default
