"""How deep a cut may be: until the motor's power, the spindle's torque or quiet running ends.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula
from ..units import Angle, FeedPerTurn, Length, Power, Ratio, Speed, Stress, Torque

Specific = Annotated[SI, Stress("N/mm²", "k_c", above=0, at_most=50_000)]
Condition = Annotated[SI, Ratio("", "K", above=0, at_most=10, valid=(0.8, 2.5))]
Feed = Annotated[SI, FeedPerTurn("mm/rev", "f", above=0, at_most=50)]


@formula(
    r"a_P = \frac{P}{K\, k_c\, f\, v_c}",
    source=("definition", "groover, power relationships in machining"),
    limits="turning along the axis; the power that reaches the spindle",
    rises_with=("power",),
    falls_with=("specific_force", "condition", "feed", "cutting_speed"),
)
def depth_by_power(
    power: Annotated[SI, Power("W", "P", at_least=0, at_most=1e6)],
    specific_force: Specific,
    condition: Condition,
    feed: Feed,
    cutting_speed: Annotated[SI, Speed("m/min", "v_c", above=0, at_most=10_000)],
) -> Annotated[SI, Length("mm", "a_P")]:
    """Depth at which a cut takes all the power there is."""
    return power / (condition * specific_force * feed * cutting_speed)


@formula(
    r"a_M = \frac{2 M}{K\, k_c\, f\, d}",
    source=("definition", "kalpakjian, torque in turning"),
    limits="turning along the axis; the torque that lasts at the speed that is run",
    rises_with=("torque",),
    falls_with=("specific_force", "condition", "feed", "diameter"),
)
def depth_by_torque(
    torque: Annotated[SI, Torque("N·m", "M", at_least=0, at_most=1e6)],
    specific_force: Specific,
    condition: Condition,
    feed: Feed,
    diameter: Annotated[SI, Length("mm", "d", above=0, at_most=5_000)],
) -> Annotated[SI, Length("mm", "a_M")]:
    """Depth at which a cut at this diameter stalls the spindle."""
    return 2 * torque / (condition * specific_force * feed * diameter)


@formula(
    r"a_q = b \sin \kappa",
    source="iso_3002, undeformed chip",
    limits="straight edge; the width is known to within a factor of two",
    rises_with=("chip_width",),
)
def depth_by_quiet(
    chip_width: Annotated[SI, Length("mm", "b", at_least=0, at_most=1e5)],
    entering_angle: Annotated[SI, Angle("deg", r"\kappa", above=0, below=180)],
) -> Annotated[SI, Length("mm", "a_q")]:
    """Depth of the cut whose chip is as wide as stays quiet."""
    return chip_width * np.sin(entering_angle)


@formula(
    r"a_1 = \min(k\, a, a_p)",
    source="common_practice, a first cut takes half of what motor and quiet running allow",
    limits="the first cuts of a machine nobody has heard yet, on work held short",
    rises_with=("least_depth", "decided_depth", "share"),
)
def first_depth(
    least_depth: Annotated[SI, Length("mm", "a", at_least=0, at_most=1e5)],
    decided_depth: Annotated[SI, Length("mm", "a_p", above=0, at_most=5_000)],
    share: Annotated[SI, Ratio("", "k", above=0, at_most=1)],
) -> Annotated[SI, Length("mm", "a_1")]:
    """Depth to begin with: a share of the least depth at which a cut ends, and no more than was decided on."""
    return np.minimum(share * least_depth, decided_depth)
