"""The joint of headstock and bed: bolts, pressure, and the give that even two flat faces have.

Two machined faces touch on their high spots only.  Pressed together they approach by about
the root of the pressure, so a joint is the stiffer the harder it is pressed.  How far they
approach at a given pressure depends on scraping, grinding and dirt, and is known to a factor
of two or three either way.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula, possible
from ..units import Area, Compliance, Force, Length, Ratio, Stiffness, Stress, Torque

Preload = Annotated[SI, Force("kN", "F", above=0)]
_THREAD = {"The pitch must be smaller than the diameter of the thread.": lambda diameter, pitch: 0.9382 * pitch < diameter}


# --- bolts -------------------------------------------------------------------------------------------
@formula(
    r"A_s = \frac{\pi}{4} (d - 0.9382\,P)^2",
    source="iso_898, stress area of a thread",
    limits="metric thread of 60 degrees",
    rises_with=("diameter",),
    falls_with=("pitch",),
    requires=_THREAD,
)
def bolt_stress_area(
    diameter: Annotated[SI, Length("mm", "d", above=0)], pitch: Annotated[SI, Length("mm", "P", above=0)]
) -> Annotated[SI, Area("mm²", "A_s")]:
    """Area of a bolt's thread that carries its pull."""
    return possible(0.9382 * pitch < diameter, np.pi / 4 * (diameter - 0.9382 * pitch) ** 2)


@formula(
    r"F = \eta \sigma_p A_s",
    source=("iso_898, proof stress", "shigley, bolt preload"),
    limits="by hand with a torque wrench the pull scatters by a third",
    rises_with=("stress_area", "proof_stress", "share"),
)
def bolt_preload(
    stress_area: Annotated[SI, Area("mm²", "A_s", above=0)],
    proof_stress: Annotated[SI, Stress("N/mm²", r"\sigma_p", above=0)],
    share: Annotated[SI, Ratio("", r"\eta", above=0, at_most=1)],
) -> Preload:
    """Pull of one tightened bolt, as a share of what it can bear without stretching for good."""
    return share * proof_stress * stress_area


@formula(
    r"T = K F d",
    source="shigley, bolt torque",
    limits="K about 0.2 for a dry thread, less if oiled",
    rises_with=("preload", "diameter", "torque_factor"),
)
def tightening_torque(
    preload: Preload, diameter: Annotated[SI, Length("mm", "d", above=0)], torque_factor: Annotated[SI, Ratio("", "K", above=0)]
) -> Annotated[SI, Torque("N·m", "T")]:
    """Torque at the wrench for a pull in the bolt."""
    return torque_factor * preload * diameter


# --- the seat ----------------------------------------------------------------------------------------
@formula(
    r"c = \frac{12 h^2}{k b^2} + \frac{1}{\kappa k} + \frac{12 x^2}{\kappa k (b^2 + l^2)}",
    source="own_work, a rigid headstock on an even bed of springs",
    limits="headstock itself rigid, joint evenly pressed and never opening",
    rises_with=("centre_height", "reach"),
    falls_with=("joint_stiffness", "shear_ratio", "width", "length"),
)
def headstock_joint_compliance(
    joint_stiffness: Annotated[SI, Stiffness("N/µm", "k", above=0)],
    shear_ratio: Annotated[SI, Ratio("", r"\kappa", above=0)],
    width: Annotated[SI, Length("mm", "b", above=0)],
    length: Annotated[SI, Length("mm", "l", above=0)],
    centre_height: Annotated[SI, Length("mm", "h", above=0)],
    reach: Annotated[SI, Length("mm", "x", at_least=0)],
) -> Annotated[SI, Compliance("µm/kN", "c")]:
    """Give of the headstock's joint where the cut acts, pushed sideways: it rocks, it slides, and it swings.

    ``width`` and ``length`` are those of the joint, across and along the bed; ``reach`` runs
    from its middle along the bed to the cut; ``shear_ratio`` is the stiffness of the joint
    against sliding over that against pressing.
    """
    rock = 12 * centre_height**2 / (joint_stiffness * width**2)
    sliding = shear_ratio * joint_stiffness
    return rock + 1 / sliding + 12 * reach**2 / (sliding * (width**2 + length**2))
