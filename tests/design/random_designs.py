"""Random designs: a demo with some of its decisions at random, over all options and all that is sensible."""

import numpy as np

from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.design import Design
from lathe_course.design.lathe import LATHE

SEED = 20
#: the share of the decisions that move: a few, half, and all of them
SHARES = (0.2, 0.5, 1.0)


def random_design(number: int, share: float = 0.2) -> Design:
    """A demo with about this share of its decisions at random, within what is sensible."""
    rng = np.random.default_rng([SEED, number])
    design, moved = demo(sorted(DEMOS)[number % len(DEMOS)]), {}
    for name, part in LATHE.decisions.items():
        if part.free_text or rng.random() > share:
            continue
        moved[name] = float(rng.choice(part.values())) if part.numeric else str(rng.choice(part.options))
    return design.trying(**moved)
