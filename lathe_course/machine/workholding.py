"""What holds the work: grip of the jaws, what speed takes from it, how fast a chuck or faceplate may turn, and what a stop asks of its seat.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula, possible
from ..units import Count, Density, Force, Inertia, Length, Mass, Ratio, RotationalSpeed, Stress, Torque

Turning = Annotated[SI, RotationalSpeed("rpm", "n", at_least=0, at_most=1e5)]
JawMass = Annotated[SI, Mass("kg", "m", at_least=0, at_most=100)]
JawRadius = Annotated[SI, Length("mm", "r", at_least=0, at_most=2000)]
Rim = Annotated[SI, Length("mm", "D", above=0, at_most=5000)]


@formula(
    r"F_r = 4 \pi^2 m r n^2",
    source="definition",
    limits="one jaw with the part that slides with it; r to its middle of mass",
    rises_with=("jaw_mass", "jaw_radius", "spindle_speed"),
)
def jaw_force_loss(jaw_mass: JawMass, jaw_radius: JawRadius, spindle_speed: Turning) -> Annotated[SI, Force("N", "F_r")]:
    """Grip that one jaw loses because turning flings it outward."""
    return jaw_mass * jaw_radius * spindle_speed**2


@formula(
    r"F = \max(F_0 - 4 \pi^2 z m r n^2, 0)",
    source="vdi_3106, loss of grip by speed",
    limits="jaws gripping from outside; chuck body taken as rigid",
    rises_with=("static_grip",),
    falls_with=("jaw_count", "jaw_mass", "jaw_radius", "spindle_speed"),
)
def grip_at_speed(
    static_grip: Annotated[SI, Force("N", "F_0", at_least=0, at_most=1e6)],
    jaw_count: Annotated[SI, Count("", "z", at_least=1, at_most=12, whole=True)],
    jaw_mass: JawMass,
    jaw_radius: JawRadius,
    spindle_speed: Turning,
) -> Annotated[SI, Force("N", "F")]:
    """Grip of all jaws together at speed: what the key put on, less what turning takes."""
    return np.maximum(static_grip - jaw_count * jaw_force_loss.si(jaw_mass, jaw_radius, spindle_speed), 0.0)


@formula(
    r"M = \mu F \frac{d}{2}",
    source="definition",
    limits="smooth jaws on smooth work; friction 0.1 oily, 0.2 dry, more where the jaws bite",
    rises_with=("friction", "grip", "held_diameter"),
)
def grip_torque(
    friction: Annotated[SI, Ratio("", r"\mu", at_least=0, at_most=2)],
    grip: Annotated[SI, Force("N", "F", at_least=0, at_most=1e6)],
    held_diameter: Annotated[SI, Length("mm", "d", at_least=0, at_most=5000)],
) -> Annotated[SI, Torque("N·m", "M")]:
    """Torque at which the work would slip in the jaws."""
    return friction * grip * held_diameter / 2


@formula(
    r"M_c = M\, \frac{J_c}{J_c + J}",
    source=("definition", "shigley, flywheels and reflected inertia"),
    limits="all turns as one; M is what the motor or the brake gives at the spindle, beyond what goes through the joint in a cut",
    rises_with=("torque", "carried_inertia"),
    falls_with=("rest_inertia",),
)
def carried_torque(
    torque: Annotated[SI, Torque("N·m", "M", at_least=0, at_most=1e5)],
    carried_inertia: Annotated[SI, Inertia("kg·m²", "J_c", at_least=0, at_most=1e4)],
    rest_inertia: Annotated[SI, Inertia("kg·m²", "J", above=0, at_most=1e4)],
) -> Annotated[SI, Torque("N·m", "M_c")]:
    """Torque in the joint that carries part of what turns, while all of it is sped up or slowed down."""
    return torque * carried_inertia / (carried_inertia + rest_inertia)


@formula(
    r"\sigma = \rho \pi^2 D^2 n^2",
    source="shigley, rotating rings",
    limits="thin ring, no arms; the stress at the rim speed, whatever the diameter",
    rises_with=("density", "diameter", "spindle_speed"),
)
def rim_stress(
    density: Annotated[SI, Density("kg/m³", r"\rho", above=0, at_most=30_000)], diameter: Rim, spindle_speed: Turning
) -> Annotated[SI, Stress("N/mm²", r"\sigma")]:
    """Stress round a turning rim, from its own weight flung outward."""
    return density * (diameter / 2 * spindle_speed) ** 2


@formula(
    r"\sigma = \rho \pi^2 n^2 \frac{(3 + \nu) D^2 + (1 - \nu) d^2}{4}",
    source="shigley, rotating rings",
    limits="flat disc of even thickness with a hole in the middle, no slots; a slot or a bolt hole at the bore multiplies it",
    rises_with=("density", "diameter", "spindle_speed"),
    requires={"The bore must be smaller than the diameter of the disc.": lambda diameter, bore: bore < diameter},
)
def disc_bore_stress(
    density: Annotated[SI, Density("kg/m³", r"\rho", above=0, at_most=30_000)],
    poisson_ratio: Annotated[SI, Ratio("", r"\nu", at_least=0, at_most=0.5)],
    diameter: Rim,
    bore: Annotated[SI, Length("mm", "d", at_least=0, at_most=5000)],
    spindle_speed: Turning,
) -> Annotated[SI, Stress("N/mm²", r"\sigma")]:
    """Largest stress in a turning disc such as a faceplate: round its bore."""
    sizes = (3 + poisson_ratio) * diameter**2 + (1 - poisson_ratio) * bore**2
    return possible(bore < diameter, density * spindle_speed**2 * sizes / 16)
