"""The bed: how far it lets tool and work part, and what it weighs.

The force of the cut runs in a loop: work, spindle, headstock, bed, saddle, tool.  So the bed
is looked at from the headstock, where it is held, to the saddle, where it is loaded: a
cantilever as long as the ``loop_length``, the distance along the bed from the middle of the
headstock's foot to the tool.  Feet carry none of this force, for it is closed in itself.
Sideways the tool also stands a ``arm`` above the line about which the bed twists, the
shear centre of its section, and the twist moves it by arm times angle.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

from ..formula import SI, formula
from ..units import (
    Angle,
    Area,
    Compliance,
    Density,
    Force,
    Kind,
    Length,
    Mass,
    MassPerLength,
    SecondMoment,
    Stiffness,
    Stress,
    Torque,
)

ElasticModulus = Annotated[SI, Stress("GPa", "E", above=0)]
ShearModulus = Annotated[SI, Stress("GPa", "G", above=0)]
LoopLength = Annotated[SI, Length("mm", "l", above=0)]
Arm = Annotated[SI, Length("mm", "h", above=0)]
BedLength = Annotated[SI, Length("mm", "L", above=0)]
TorsionConstant = Annotated[SI, SecondMoment("mm⁴", "J", above=0)]
Moment = Annotated[SI, SecondMoment("mm⁴", "I", above=0)]
Bending = Annotated[SI, Stiffness("N/µm", "k_b", above=0)]
Shear = Annotated[SI, Stiffness("N/µm", "k_q", above=0)]
Weight = Force("N", "W", at_least=0)

_LOOP = "bed held at the headstock, loaded at the tool; headstock and saddle rigid"
Gravity = Annotated[SI, Kind("acceleration", "m/s²", "g", example="9.81 m/s²", above=0)]


# --- stiffness between headstock and tool ------------------------------------------------------------
@formula(
    r"k_b = \frac{3 E I}{l^3}",
    source="shigley, Table A-9",
    limits=_LOOP,
    rises_with=("elastic_modulus", "second_moment"),
    falls_with=("loop_length",),
)
def bed_bending_stiffness(
    elastic_modulus: ElasticModulus, second_moment: Moment, loop_length: LoopLength
) -> Annotated[SI, Stiffness("N/µm", "k_b")]:
    """Stiffness of the bed at the tool in bending, up and down or sideways as the second moment is."""
    return 3 * elastic_modulus * second_moment / loop_length**3


@formula(
    r"k_q = \frac{G A_q}{l}",
    source="timoshenko, shear in beams",
    limits=_LOOP,
    rises_with=("shear_modulus", "shear_area"),
    falls_with=("loop_length",),
)
def bed_shear_stiffness(
    shear_modulus: ShearModulus, shear_area: Annotated[SI, Area("mm²", "A_q", above=0)], loop_length: LoopLength
) -> Annotated[SI, Stiffness("N/µm", "k_q")]:
    """Stiffness of the bed at the tool in shear, which tells on a short high bed."""
    return shear_modulus * shear_area / loop_length


@formula(
    r"k_p = \frac{1}{h^2}\left(\frac{G J}{l} + \frac{3 E I_v s^2}{4 l^3}\right)",
    source=("shigley, Table A-9", "shigley, torsion of a bar"),
    limits=_LOOP
    + "; the two bars tied by the saddle alone, free to slope there; an end plate beyond the tool would help a little",
    rises_with=("elastic_modulus", "shear_modulus", "torsion_constant", "vertical_moment", "spacing"),
    falls_with=("loop_length", "arm"),
)
def pair_tilt_stiffness(
    elastic_modulus: ElasticModulus,
    shear_modulus: ShearModulus,
    torsion_constant: TorsionConstant,
    vertical_moment: Annotated[SI, SecondMoment("mm⁴", "I_v", above=0)],
    spacing: Annotated[SI, Length("mm", "s", at_least=0)],
    loop_length: LoopLength,
    arm: Arm,
) -> Annotated[SI, Stiffness("N/µm", "k_p")]:
    """Sideways stiffness at the tool of a bed of two bars or rails, which tilts rather than twists.

    One bar bends up while the other bends down, and both twist about their own axes.
    ``torsion_constant`` and ``vertical_moment`` are those of both together.  With no spacing
    this is the twist of one piece.  ``arm`` runs from the shear centre up to the tool, not from the ways.
    """
    turning = shear_modulus * torsion_constant / loop_length + 3 * elastic_modulus * vertical_moment * spacing**2 / (
        4 * loop_length**3
    )
    return turning / arm**2


@formula(
    r"c_v = \frac{1}{k_b} + \frac{1}{k_q}",
    source="timoshenko, shear in beams",
    limits=_LOOP,
    falls_with=("bending_stiffness", "shear_stiffness"),
)
def bed_vertical_compliance(bending_stiffness: Bending, shear_stiffness: Shear) -> Annotated[SI, Compliance("µm/kN", "c_v")]:
    """Give of the bed at the tool, up and down: bending and shear added."""
    return 1 / bending_stiffness + 1 / shear_stiffness


@formula(
    r"c_h = \frac{1}{k_0 + 1 / (1/k_b + 1/k_q)} + \frac{1}{k_t}",
    source="timoshenko, shear in beams",
    limits=_LOOP,
    falls_with=("bending_stiffness", "shear_stiffness", "twist_stiffness", "own_stiffness"),
)
def bed_sideways_compliance(
    bending_stiffness: Bending,
    shear_stiffness: Shear,
    twist_stiffness: Annotated[SI, Stiffness("N/µm", "k_t", above=0)],
    own_stiffness: Annotated[SI, Stiffness("N/µm", "k_0", at_least=0)] = 0,
) -> Annotated[SI, Compliance("µm/kN", "c_h")]:
    """Give of the bed at the tool, sideways: bending, shear and twist (or tilt) added.

    This is the give that shows in the diameter of the work.  ``own_stiffness`` is that of
    rails which ribs tie together, each bending for itself beside the tied row; nothing for a
    bed of one piece.
    """
    row = 1 / (1 / bending_stiffness + 1 / shear_stiffness)
    return 1 / (own_stiffness + row) + 1 / twist_stiffness


@formula(
    r"\varphi = \frac{T L}{G J}",
    source="shigley, torsion of a bar",
    limits="ends free to warp",
    rises_with=("torque", "length"),
    falls_with=("shear_modulus", "torsion_constant"),
)
def twist_angle(
    torque: Annotated[SI, Torque("N·m", "T", at_least=0)],
    length: BedLength,
    shear_modulus: ShearModulus,
    torsion_constant: TorsionConstant,
) -> Annotated[SI, Angle("mrad", r"\varphi")]:
    """Twist of a length of bed under a torque, such as four feet on an uneven bench put into it."""
    return torque * length / (shear_modulus * torsion_constant)


# --- weight ----------------------------------------------------------------------------------
@formula(r"\mu = \rho A", source="definition", limits="the same section and metal throughout", rises_with=("area", "density"))
def bed_mass_per_length(
    area: Annotated[SI, Area("mm²", "A", above=0)], density: Annotated[SI, Density("kg/m³", r"\rho", above=0)]
) -> Annotated[SI, MassPerLength("kg/m", r"\mu")]:
    """Mass of a metre of bed from the area of its section."""
    return area * density


@formula(r"m = \mu L", source="definition", limits="the same section from end to end", rises_with=("mass_per_length", "length"))
def bed_mass(
    mass_per_length: Annotated[SI, MassPerLength("kg/m", r"\mu", above=0)], length: BedLength
) -> Annotated[SI, Mass("kg", "m")]:
    """Mass of a length of bed."""
    return mass_per_length * length


@formula(
    r"W = m g",
    source="definition",
    limits="on the ground; gravity varies by a few thousandths from place to place",
    rises_with=("mass",),
)
def weight(mass: Annotated[SI, Mass("kg", "m", at_least=0)], gravity: Gravity = 9.80665) -> Annotated[SI, Force("N", "W")]:
    """Weight of a mass, the force it presses down with."""
    return mass * gravity
