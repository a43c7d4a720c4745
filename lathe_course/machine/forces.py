"""Cutting force, power, torque and what the cut asks of the supply.

The force of a cut follows Kienzle: thick chips cost less force per square millimetre than
thin ones. His constants were measured with carbide at about 100 m/min. A home lathe with
high-speed steel at 28 m/min asks for more: Dietrich and Tschätsch raise the figure by a
factor of 1.2 for high-speed steel, which their rule for speeds under 100 m/min
(2.023 / v^0.153, v in m/min) also gives at 30 m/min, and by 1.3 to 1.5 for a worn edge; each degree
of rake beyond the 6 of the constants takes 1.5 % off, and a hand grinds anything up to 20.
All go into ``condition``; the table ``tool_conditions`` holds them as ranges.

Books disagree on the same metal by a fifth to a third, the tools behind them not being the
same. A force from here is an estimate with a spread, never a figure to three digits.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula
from ..units import Angle, Current, FeedPerTurn, Force, Length, Power, Ratio, RotationalSpeed, Speed, Stress, Torque, Voltage

ThrustShare = Annotated[SI, Ratio("", "q", at_least=0, at_most=3, valid=(0.2, 2))]
#: of edge and nose together
EnteringAngle = Annotated[SI, Angle("deg", r"\kappa_e", at_least=0, at_most=90)]
_THRUST = "a rough share: the thrust rises with a blunt edge, a flat rake and a thin chip; known as a range"

#: chip thickness at which Kienzle's kc1.1 is quoted, m
KIENZLE_THICKNESS = 1e-3
_STRAIGHT = "straight cutting edge; where the nose takes part, the effective entering angle makes it the mean along the edge"


# --- the chip before it is cut ---------------------------------------------------------------------
@formula(
    r"h = f \sin \kappa", source=("iso_3002, undeformed chip", "koenig, undeformed chip"), limits=_STRAIGHT, rises_with=("feed",)
)
def chip_thickness(
    feed: Annotated[SI, FeedPerTurn("mm/rev", "f", above=0, at_most=50)],
    entering_angle: Annotated[SI, Angle("deg", r"\kappa", above=0, below=180)] = 90,
) -> Annotated[SI, Length("mm", "h")]:
    """Thickness of the chip before it is cut, square to the cutting edge.

    The entering angle is the one between cutting edge and feed direction: 90 deg for a knife
    tool that leaves a square shoulder, smaller for an edge that slopes and thins the chip.
    """
    return feed * np.sin(entering_angle)


@formula(
    r"b = \frac{a_p}{\sin \kappa}",
    source=("iso_3002, undeformed chip", "koenig, undeformed chip"),
    limits=_STRAIGHT,
    rises_with=("depth_of_cut",),
)
def chip_width(
    depth_of_cut: Annotated[SI, Length("mm", "a_p", above=0, at_most=200)],
    entering_angle: Annotated[SI, Angle("deg", r"\kappa", above=0, below=180)] = 90,
) -> Annotated[SI, Length("mm", "b")]:
    """Width of the chip before it is cut, along the cutting edge."""
    return depth_of_cut / np.sin(entering_angle)


@formula(
    r"\kappa_e = \arctan\left(\frac{a_p}{\sqrt{r^2 - (r - \min(a_p, r - r \cos \kappa))^2} + \frac{\max(a_p - r + r \cos \kappa, 0)}{\tan \kappa}}\right)",
    source=("colwell, line across the ends of the engaged edge", "iso_3002, undeformed chip"),
    limits="feed small against the nose radius; trailing edge clear of the work; a steady push for each length of edge",
    rises_with=("depth_of_cut", "entering_angle"),
    falls_with=("nose_radius",),
)
def effective_entering_angle(
    depth_of_cut: Annotated[SI, Length("mm", "a_p", above=0, at_most=200)],
    nose_radius: Annotated[SI, Length("mm", "r", at_least=0, at_most=50)],
    entering_angle: Annotated[SI, Angle("deg", r"\kappa", above=0, at_most=90)] = 90,
) -> Annotated[SI, Angle("deg", r"\kappa_e")]:
    """Entering angle of a straight edge that pushes the same way as the engaged edge with its nose.

    It is the slope of the line from the deepest point of the nose to where the edge leaves the
    work.  Each small length of edge pushes square to itself; if all push alike for their
    length, the sum is square to that line.  A cut shallow against the nose radius is made by
    the bottom of the nose alone and pushes nearly all outwards, however the edge is set.
    """
    on_nose = np.minimum(depth_of_cut, nose_radius * (1 - np.cos(entering_angle)))  # y: the depth that the nose cuts
    along = np.sqrt(np.maximum(on_nose * (2 * nose_radius - on_nose), 0.0)) + (depth_of_cut - on_nose) / np.tan(entering_angle)
    return np.arctan2(depth_of_cut, along)


# --- force -----------------------------------------------------------------------------------------
@formula(
    r"k_c = k_{c1.1} \left(\frac{h}{1\,\mathrm{mm}}\right)^{-m_c}",
    source=("kienzle", "koenig, specific cutting force"),
    limits="sharp carbide at about 100 m/min, rake 6 deg in steel and 2 deg in cast iron, chips 0.05 to 2.5 mm thick; "
    "other tools, speeds and worn edges through the condition factor of the cutting force",
    rises_with=("kc11",),
    falls_with=("chip_thickness",),
)
def specific_cutting_force(
    kc11: Annotated[SI, Stress("N/mm²", "k_{c1.1}", above=0, at_most=20_000)],
    chip_thickness: Annotated[SI, Length("mm", "h", above=0, at_most=50, valid=(0.05, 2.5))],
    exponent: Annotated[SI, Ratio("", "m_c", at_least=0, below=1)],
) -> Annotated[SI, Stress("N/mm²", "k_c")]:
    """Cutting force per area of chip, after Kienzle.

    kc1.1 is the force for a chip 1 mm wide and 1 mm thick. A thinner chip costs more per
    area, because friction at the edge and its rounding do not shrink with it. Below 0.05 mm,
    where much fine work at home is done, the law is stretched and the true force is higher.
    """
    return kc11 * (chip_thickness / KIENZLE_THICKNESS) ** -exponent


@formula(
    r"F_c = K\, k_c\, b\, h",
    source=("kienzle", "dietrich_tschaetsch, factors of the cutting force"),
    limits="steady cut, one edge; with constants for carbide at about 100 m/min the condition is 1, with sharp high-speed "
    "steel at workshop speeds about 1.2, worn 1.3 to 1.5 times as much again, and 1.5 % less for each degree of rake beyond 6",
    rises_with=("specific_force", "chip_width", "chip_thickness", "condition"),
)
def cutting_force(
    specific_force: Annotated[SI, Stress("N/mm²", "k_c", above=0, at_most=50_000)],
    chip_width: Annotated[SI, Length("mm", "b", at_least=0, at_most=200)],
    chip_thickness: Annotated[SI, Length("mm", "h", at_least=0, at_most=50)],
    condition: Annotated[SI, Ratio("", "K", above=0, at_most=10, valid=(0.8, 2.5))] = 1.0,
) -> Annotated[SI, Force("N", "F_c")]:
    """Force of the cut in the direction of the cutting speed.

    The condition is a factor for what the published constants leave out: tool material,
    cutting speed, wear. It is known only as a range; carry the range.
    """
    return condition * specific_force * chip_width * chip_thickness


@formula(
    r"s = q \cos \kappa_e",
    source=("iso_3002, components of the cutting force", "koenig, feed and passive force"),
    limits=_THRUST,
    rises_with=("thrust_share",),
    falls_with=("entering_angle",),
)
def radial_share(thrust_share: ThrustShare, entering_angle: EnteringAngle) -> Annotated[SI, Ratio("%", "s")]:
    """Force along the radius over the cutting force.

    Besides the cutting force the chip presses the edge away square to itself, seen from
    above; ``thrust_share`` is that thrust over the cutting force.  The effective entering angle
    parts it: a sloping edge or a round nose turns it outwards.
    """
    return thrust_share * np.cos(entering_angle)


@formula(
    r"s_f = q \sin \kappa_e",
    source=("iso_3002, components of the cutting force", "koenig, feed and passive force"),
    limits=_THRUST,
    rises_with=("thrust_share", "entering_angle"),
)
def feed_share(thrust_share: ThrustShare, entering_angle: EnteringAngle) -> Annotated[SI, Ratio("%", "s_f")]:
    """Force along the axis, against the feed, over the cutting force: the other part of the thrust."""
    return thrust_share * np.sin(entering_angle)


@formula(
    r"F_p = s\, F_c",
    source=("definition", "common_practice, force ratio 5 to 2"),
    limits="as well known as the share",
    rises_with=("cutting_force", "share"),
)
def radial_force(
    cutting_force: Annotated[SI, Force("N", "F_c", at_least=0, at_most=1e6)],
    share: Annotated[SI, Ratio("", "s", at_least=0, at_most=2, valid=(0, 2))],
) -> Annotated[SI, Force("N", "F_p")]:
    """Force that pushes tool and work apart, square to the axis.

    It bends the work away from the tool and shows up in the diameter.
    """
    return share * cutting_force


@formula(
    r"K_v = \left(\frac{v_0}{v_c}\right)^{0.153}",
    source="dietrich_tschaetsch, speed factor",
    limits="steel, from 20 m/min up to the speed at which the constants were measured; it does not know of the built-up edge, "
    "which comes and goes between 10 and 40 m/min and moves the force either way",
    rises_with=("constants_speed",),
    falls_with=("cutting_speed",),
)
def speed_factor(
    cutting_speed: Annotated[SI, Speed("m/min", "v_c", above=0, at_most=10_000, valid=(20, 100))],
    constants_speed: Annotated[SI, Speed("m/min", "v_0", above=0, at_most=10_000)] = 100,
) -> Annotated[SI, Ratio("", "K_v")]:
    """How much more a cut asks because it is slower than the cut the constants were measured with.

    A part of the condition factor of the cutting force, never to be put on top of it: the
    factor for high-speed steel in the table of tool conditions is this one at its own speed.
    """
    return (constants_speed / cutting_speed) ** 0.153


# --- drilling --------------------------------------------------------------------------------------
@formula(
    r"M_d = \frac{K\, k_c\, f\, d^2}{8}",
    source=("koenig, drilling", "groover, power relationships in machining"),
    limits="twist drill with two lips into solid metal, chips that clear; each lip cuts half the feed. Rubbing of lands and "
    "chisel edge is left out, about a fifth more",
    rises_with=("specific_force", "feed", "drill_diameter", "condition"),
)
def drilling_torque(
    specific_force: Annotated[SI, Stress("N/mm²", "k_c", above=0, at_most=50_000)],
    feed: Annotated[SI, FeedPerTurn("mm/rev", "f", above=0, at_most=50)],
    drill_diameter: Annotated[SI, Length("mm", "d", above=0, at_most=200)],
    condition: Annotated[SI, Ratio("", "K", above=0, at_most=10, valid=(0.8, 2.5))] = 1.0,
) -> Annotated[SI, Torque("N·m", "M_d")]:
    """Torque a twist drill asks for.

    The specific force is that of the chip of one lip: half the feed, thinned by half the point angle.
    """
    return condition * specific_force * feed * drill_diameter**2 / 8


@formula(
    r"F_d = q\, \frac{M_d}{d}",
    source="machinerys_handbook_drilling",
    limits="into solid metal; the share is 3 to 3.8 for a drill as it comes, since its chisel edge cuts nothing and squeezes, about 2.2 "
    "with a thinned or split point, and less where a smaller hole goes before",
    rises_with=("drilling_torque", "thrust_ratio"),
    falls_with=("drill_diameter",),
)
def drilling_thrust(
    drilling_torque: Annotated[SI, Torque("N·m", "M_d", at_least=0, at_most=1e5)],
    drill_diameter: Annotated[SI, Length("mm", "d", above=0, at_most=200)],
    thrust_ratio: Annotated[SI, Ratio("", "q", above=0, at_most=20, valid=(1.5, 5))],
) -> Annotated[SI, Force("N", "F_d")]:
    """Force along its axis with which a drill is pressed into the work."""
    return thrust_ratio * drilling_torque / drill_diameter


# --- power and torque ------------------------------------------------------------------------------
@formula(
    r"P_c = F_c\, v_c",
    source=("definition", "groover, power relationships in machining"),
    limits="the share of the feed is left out, commonly under one part in a hundred",
    rises_with=("cutting_force", "cutting_speed"),
)
def cutting_power(
    cutting_force: Annotated[SI, Force("N", "F_c", at_least=0, at_most=1e6)],
    cutting_speed: Annotated[SI, Speed("m/min", "v_c", at_least=0, at_most=10_000)],
) -> Annotated[SI, Power("W", "P_c")]:
    """Power at the cutting edge."""
    return cutting_force * cutting_speed


@formula(
    r"P_m = \frac{P_c}{\eta}",
    source=("definition", "common_practice, 0.6 to 0.8 from motor shaft to tool on small belt-driven lathes"),
    limits="one efficiency for belts and bearings together; a cold spindle in grease takes more",
    rises_with=("cutting_power",),
    falls_with=("efficiency",),
)
def motor_power(
    cutting_power: Annotated[SI, Power("W", "P_c", at_least=0, at_most=1e6)],
    efficiency: Annotated[SI, Ratio("", r"\eta", above=0, at_most=1, valid=(0.3, 1))],
) -> Annotated[SI, Power("W", "P_m")]:
    """Power the motor has to give at its shaft."""
    return cutting_power / efficiency


@formula(
    r"M = \frac{P}{2 \pi\, n}",
    source=("definition", "shigley, power and torque"),
    limits="steady running; power and speed of the same shaft",
    rises_with=("power",),
    falls_with=("spindle_speed",),
)
def torque(
    power: Annotated[SI, Power("W", "P", at_least=0, at_most=1e6)],
    spindle_speed: Annotated[SI, RotationalSpeed("rpm", "n", above=0, at_most=100_000)],
) -> Annotated[SI, Torque("N·m", "M")]:
    """Torque a power gives at a rotational speed."""
    return power / spindle_speed


@formula(
    r"M_c = \frac{F_c\, d}{2}",
    source=("definition", "kalpakjian, torque in turning"),
    limits="the diameter at the tool; take the largest that is cut",
    rises_with=("cutting_force", "diameter"),
)
def cutting_torque(
    cutting_force: Annotated[SI, Force("N", "F_c", at_least=0, at_most=1e6)],
    diameter: Annotated[SI, Length("mm", "d", at_least=0, at_most=5_000)],
) -> Annotated[SI, Torque("N·m", "M_c")]:
    """Torque the cut asks of the spindle."""
    return cutting_force * diameter / 2


@formula(
    r"I = \frac{P}{\eta\, U\, \lambda}",
    source=("definition", "shigley, power and torque"),
    limits="single-phase supply, steady load; starting current is several times as much. Fuses, cables and the "
    "earth-leakage device are for a licensed electrician and the local code",
    rises_with=("output_power",),
    falls_with=("voltage", "efficiency", "power_factor"),
)
def supply_current(
    output_power: Annotated[SI, Power("W", "P", at_least=0, at_most=1e6)],
    voltage: Annotated[SI, Voltage("V", "U", above=0, at_most=1_000)],
    efficiency: Annotated[SI, Ratio("", r"\eta", above=0, at_most=1, valid=(0.3, 1))],
    power_factor: Annotated[SI, Ratio("", r"\lambda", above=0, at_most=1, valid=(0.3, 1))],
) -> Annotated[SI, Current("A", "I")]:
    """Current a motor draws from a single-phase supply.

    The efficiency here is the motor's own, from the socket to its shaft.
    """
    return output_power / (efficiency * voltage * power_factor)
