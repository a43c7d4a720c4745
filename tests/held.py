"""The demos, worked out once for all tests of a process: what is worked out is shared for as long as somebody holds it."""

from lathe_course.design.chain.luck import DRAWS
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import Evaluation, evaluate


def demos_held() -> list[Evaluation]:
    """At middling figures and with draws, and with them all that levers, room and mending find out."""
    return [evaluate(demo(name), draws) for name in DEMOS for draws in (None, DRAWS)]
