"""The bed: how far it lets tool and work part, and what it weighs.

The force of the cut runs in a loop: work, spindle, headstock, bed, saddle, tool.  So the bed
is looked at from the headstock, where it is held, to the saddle, where it is loaded: a
cantilever as long as the ``loop_length``, the distance along the bed from the middle of the
headstock's foot to the tool.  Feet carry none of this force, for it is closed in itself.
Sideways the tool also stands a ``arm`` above the line about which the bed twists, the
shear centre of its section, and the twist moves it by arm times angle.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from ..formula import formula
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

__all__ = [
    "bed_bending_stiffness",
    "bed_mass",
    "bed_mass_per_length",
    "bed_shear_stiffness",
    "bed_sideways_compliance",
    "bed_vertical_compliance",
    "pair_tilt_stiffness",
    "twist_angle",
    "weight",
]

ElasticModulus = Stress("GPa", "E", above=0)
ShearModulus = Stress("GPa", "G", above=0)
LoopLength = Length("mm", "l", above=0)
Arm = Length("mm", "h", above=0)
BedLength = Length("mm", "L", above=0)
TorsionConstant = SecondMoment("mm⁴", "J", above=0)
Moment = SecondMoment("mm⁴", "I", above=0)
Bending = Stiffness("N/µm", "k_b", above=0)
Shear = Stiffness("N/µm", "k_q", above=0)
Weight = Force("N", "W", at_least=0)

_LOOP = "bed held at the headstock, loaded at the tool; headstock and saddle rigid"
Gravity = Kind("acceleration", "m/s²", "g", example="9.81 m/s²", above=0)


# --- stiffness between headstock and tool ------------------------------------------------------------
@formula(
    r"k_b = \frac{3 E I}{l^3}",
    source="shigley, Table A-9",
    limits=_LOOP,
    rises_with=("elastic_modulus", "second_moment"),
    falls_with=("loop_length",),
)
def bed_bending_stiffness(elastic_modulus: ElasticModulus, second_moment: Moment, loop_length: LoopLength) -> Stiffness(
    "N/µm", "k_b"
):
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
    shear_modulus: ShearModulus, shear_area: Area("mm²", "A_q", above=0), loop_length: LoopLength
) -> Stiffness("N/µm", "k_q"):
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
    vertical_moment: SecondMoment("mm⁴", "I_v", above=0),
    spacing: Length("mm", "s", at_least=0),
    loop_length: LoopLength,
    arm: Arm,
) -> Stiffness("N/µm", "k_p"):
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
def bed_vertical_compliance(bending_stiffness: Bending, shear_stiffness: Shear) -> Compliance("µm/kN", "c_v"):
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
    twist_stiffness: Stiffness("N/µm", "k_t", above=0),
    own_stiffness: Stiffness("N/µm", "k_0", at_least=0) = 0,
) -> Compliance("µm/kN", "c_h"):
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
    torque: Torque("N·m", "T", at_least=0), length: BedLength, shear_modulus: ShearModulus, torsion_constant: TorsionConstant
) -> Angle("mrad", r"\varphi"):
    """Twist of a length of bed under a torque, such as four feet on an uneven bench put into it."""
    return torque * length / (shear_modulus * torsion_constant)


# --- weight ----------------------------------------------------------------------------------
@formula(r"\mu = \rho A", source="definition", limits="the same section and metal throughout", rises_with=("area", "density"))
def bed_mass_per_length(area: Area("mm²", "A", above=0), density: Density("kg/m³", r"\rho", above=0)) -> MassPerLength(
    "kg/m", r"\mu"
):
    """Mass of a metre of bed from the area of its section."""
    return area * density


@formula(r"m = \mu L", source="definition", limits="the same section from end to end", rises_with=("mass_per_length", "length"))
def bed_mass(mass_per_length: MassPerLength("kg/m", r"\mu", above=0), length: BedLength) -> Mass("kg", "m"):
    """Mass of a length of bed."""
    return mass_per_length * length


@formula(
    r"W = m g",
    source="definition",
    limits="on the ground; gravity varies by a few thousandths from place to place",
    rises_with=("mass",),
)
def weight(mass: Mass("kg", "m", at_least=0), gravity: Gravity = 9.80665) -> Force("N", "W"):
    """Weight of a mass, the force it presses down with."""
    return mass * gravity
