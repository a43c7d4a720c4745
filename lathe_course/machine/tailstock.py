"""Tailstock: what holds it against a drill, how far its barrel gives, and whether its taper keeps the drill from turning.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula, possible
from ..units import Angle, Compliance, Force, Length, Ratio, Stress, Torque
from .sections import tube_moment

Friction = Annotated[SI, Ratio("", r"\mu", at_least=0, at_most=1)]


@formula(
    r"N = \frac{M}{K d}",
    source="shigley, bolt torque",
    limits="one screw; the factor K is 0.2 for a thread as it comes, 0.15 oiled, up to 0.3 dry and rusty",
    rises_with=("torque",),
    falls_with=("torque_factor", "screw_diameter"),
)
def clamp_pull(
    torque: Annotated[SI, Torque("N·m", "M", at_least=0)],
    torque_factor: Annotated[SI, Ratio("", "K", above=0, at_most=1)],
    screw_diameter: Annotated[SI, Length("mm", "d", above=0)],
) -> Annotated[SI, Force("N", "N")]:
    """Pull of a clamping screw from the torque on its handle."""
    return torque / (torque_factor * screw_diameter)


@formula(
    r"T = N \min\left(\mu, \frac{b}{2 h}\right)",
    source=("meriam, friction", "common_practice, friction on slideways"),
    limits="clamped in the middle of its base; own weight left out, thrust at centre height",
    rises_with=("clamp_force", "friction", "base_length"),
    falls_with=("centre_height",),
)
def holding_thrust(
    clamp_force: Annotated[SI, Force("N", "N", at_least=0)],
    friction: Friction,
    base_length: Annotated[SI, Length("mm", "b", above=0)],
    centre_height: Annotated[SI, Length("mm", "h", above=0)],
) -> Annotated[SI, Force("N", "T")]:
    """Thrust along the axis at which a clamped tailstock slides back, or tips up if its base is short for its height."""
    return clamp_force * np.minimum(friction, base_length / (2 * centre_height))


@formula(
    r"c = \frac{64 a^3}{3 \pi E (D^4 - d^4)}",
    source="shigley, Table A-9",
    limits="held firmly at the mouth of the tailstock; shear and the play of the barrel in its bore left out",
    rises_with=("overhang", "bore"),
    falls_with=("diameter", "elastic_modulus"),
    requires={"The bore must be smaller than the barrel.": lambda diameter, bore: bore < diameter},
)
def barrel_compliance(
    overhang: Annotated[SI, Length("mm", "a", above=0)],
    diameter: Annotated[SI, Length("mm", "D", above=0)],
    bore: Annotated[SI, Length("mm", "d", at_least=0)],
    elastic_modulus: Annotated[SI, Stress("GPa", "E", above=0)],
) -> Annotated[SI, Compliance("µm/kN", "c")]:
    """Give of the tailstock barrel at its nose, sideways, as far as it stands out."""
    return overhang**3 / (3 * elastic_modulus * tube_moment.si(diameter, bore))


@formula(
    r"M_t = \frac{\mu T (D + d)}{4 \sin \beta}",
    source="shigley, cone clutches, uniform wear",
    limits="clean taper that fits over its whole length; the knock that seated it left out, so it holds rather more",
    rises_with=("friction", "thrust", "large_diameter", "small_diameter"),
    falls_with=("half_angle",),
    requires={
        "The small end of a taper must be smaller than its large end.": (
            lambda large_diameter, small_diameter: small_diameter < large_diameter
        )
    },
)
def taper_torque(
    friction: Friction,
    thrust: Annotated[SI, Force("N", "T", at_least=0)],
    large_diameter: Annotated[SI, Length("mm", "D", above=0)],
    small_diameter: Annotated[SI, Length("mm", "d", above=0)],
    half_angle: Annotated[SI, Angle("deg", r"\beta", above=0, at_most=45)],
) -> Annotated[SI, Torque("N·m", "M_t")]:
    """Torque a slim taper holds by friction when a thrust presses it home: it is a wedge, so a small thrust holds much."""
    return possible(
        small_diameter < large_diameter, friction * thrust * (large_diameter + small_diameter) / (4 * np.sin(half_angle))
    )
