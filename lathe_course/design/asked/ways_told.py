"""The ways of a design with figures and needs at its own sizes: what pages and sentences tell.

The chain itself only asks which ways are open, and looks at that once for many sizes.
"""

from __future__ import annotations

import numpy as np

from ...planning.feasible import Feasibility, OpenWay
from ..building import Building
from ..chapters.part_sizes import told_sizes
from ..evaluation import Evaluation


def ways_told(evaluation: Evaluation, building: Building | None = None) -> Feasibility:
    """Every way of every part at the sizes of the design, each with what it leans on or lacks; with the lists of the design or others."""
    e = evaluation.central
    swing, accuracy, skill = (float(np.median(e[name])) for name in ("swing_over_slide", "allowed_error", "error_factor"))
    return (building or e["building"]).ways_told(
        e["build_choices"],
        told_sizes(e),
        {law: float(np.median(power)) for law, power in e["powers"].items()},
        swing,
        max(accuracy, 1e-6),
        round(skill, 1),
    )


def way_told(evaluation: Evaluation, one: OpenWay) -> OpenWay:
    """One way of the chain as it is told."""
    return next(way for way in ways_told(evaluation).of(one.way.part) if way.way.how == one.way.how)
