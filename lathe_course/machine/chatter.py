"""Chatter: when a cut that follows its own wavy trail starts to sing, and what a slow speed does about it.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated, Any

import numpy as np

from ..formula import SI, formula, possible
from ..units import Angle, Compliance, Count, Length, Mass, Ratio, RotationalSpeed, Speed, Stiffness, Stress

MachineStiffness = Annotated[SI, Stiffness("N/µm", "k", above=0)]
Damping = Annotated[SI, Ratio("", r"\zeta", above=0, below=1, valid=(0.005, 0.2))]
CuttingStiffness = Annotated[SI, Stress("N/mm²", "K_s", above=0)]
DirectionFactor = Annotated[SI, Ratio("", "u", above=0, at_most=2)]
#: share of its own frequency at which the machine sings
ChatterRatio = Annotated[SI, Ratio("", "r", above=1, valid=(1, 3))]
_ONE_WAY = "one way of shaking rules"
#: no cut is told to be wider than this many times the limit at speed: other things stop it first
MOST_GAIN = 10.0


@formula(
    r"f = \frac{1}{2 \pi}\sqrt{\frac{k}{m}}",
    source="shigley, critical speeds",
    limits="one mass on one spring, whose own mass is small",
    rises_with=("stiffness",),
    falls_with=("mass",),
)
def natural_frequency(
    stiffness: MachineStiffness, mass: Annotated[SI, Mass("kg", "m", above=0)]
) -> Annotated[SI, RotationalSpeed("Hz", "f")]:
    """Frequency at which a mass rings on a spring."""
    return np.sqrt(stiffness / mass)


@formula(
    r"\zeta = \frac{f_2 - f_1}{2 f}",
    source="schmitz_smith, half-power points",
    limits="light damping; frequencies at which the swing is 0.71 of its largest",
    rises_with=("upper",),
    falls_with=("lower",),
    requires={"The upper frequency must be the higher of the two.": lambda lower, upper: upper >= lower},
)
def half_power_damping(
    lower: Annotated[SI, RotationalSpeed("Hz", "f_1", above=0)],
    upper: Annotated[SI, RotationalSpeed("Hz", "f_2", above=0)],
    natural: Annotated[SI, RotationalSpeed("Hz", "f", above=0)],
) -> Annotated[SI, Ratio("", r"\zeta")]:
    """Damping ratio from how wide the peak is when the machine is shaken or tapped."""
    return possible(upper >= lower, (upper - lower) / (2 * natural))


@formula(
    r"u = \cos\alpha\,(s\,\cos\alpha - \sin\alpha)",
    source=("tlusty, direction of the sway", "schmitz_smith, oriented response"),
    limits=_ONE_WAY
    + "; force counted against the cutting force, which presses the tool down; all of the outward sway counted as thinning the chip, "
    "which is a little much for an edge that stands square",
    rises_with=("radial_share",),
)
def sway_direction_factor(
    radial_share: Annotated[SI, Ratio("", "s", at_least=0, at_most=2)],
    sway_angle: Annotated[SI, Angle("deg", r"\alpha", at_least=-90, at_most=90)],
) -> Annotated[SI, Ratio("", "u")]:
    """Share of cutting force and sway that acts on the thickness of the chip.

    The tool sways along one line.  ``sway_angle`` is how far that line rises as the tool goes away from the
    work.  The cut pushes the tool outwards and *down*.  Where the line falls outwards (a negative angle) both
    pushes drive the tool out along it: it springs off, the trail of the last turn feeds the sway, and such
    a machine chatters most.  Where it rises outwards the downward push drives the tool in: it digs in.  When the two pushes
    along the line cancel nothing feeds the sway; beyond that the share is negative, and the
    machine sings a little below its own note instead of above it.
    """
    along = radial_share * np.cos(sway_angle) - np.sin(sway_angle)  # of the force on the tool, along the line, outwards
    return np.cos(sway_angle) * along


@formula(
    r"K_s = K (1 - m_c) k_c",
    source=("kienzle, slope of the law of the cutting force", "dietrich_tschaetsch, factors of the cutting force"),
    limits="small waves on a steady chip, about its mean thickness",
    rises_with=("specific_force", "condition"),
    falls_with=("exponent",),
)
def cutting_stiffness(
    specific_force: Annotated[SI, Stress("N/mm²", "k_c", above=0, at_most=50_000)],
    exponent: Annotated[SI, Ratio("", "m_c", at_least=0, below=1)],
    condition: Annotated[SI, Ratio("", "K", above=0, at_most=10, valid=(0.8, 2.5))],
) -> Annotated[SI, Stress("N/mm²", "K_s")]:
    """How fast the cutting force of a chip grows with its thickness, for each width.

    What feeds chatter is the *change* of force when the chip grows thicker.  By Kienzle's law the force
    goes with the thickness to the power 1 - m, so its slope is less than force over area by that
    factor; a worn or slow tool, through its condition, raises it.
    """
    return condition * (1 - exponent) * specific_force


@formula(
    r"g = \frac{1}{4 k \zeta (1 + \zeta)}",
    source=("tlusty", "schmitz_smith"),
    limits=_ONE_WAY + "; damping small",
    falls_with=("stiffness", "damping"),
)
def worst_real_part(stiffness: MachineStiffness, damping: Damping) -> Annotated[SI, Compliance("µm/kN", "g")]:
    """How far the shaking machine gives against the force at its worst, which is what feeds chatter.

    The real part of its response to a shaking force is negative above its own frequency, and
    lowest at √(1 + 2ζ) of it.  ``damping`` is the share of critical damping.
    """
    return 1 / (4 * stiffness * damping * (1 + damping))


@formula(
    r"b = \frac{2 k \zeta (1 + \zeta)}{u K_s}",
    source=("tlusty", "schmitz_smith"),
    limits=_ONE_WAY
    + "; the worst spindle speed; each cut laid fully over the last; a guide within a factor of two at the machine",
    rises_with=("stiffness", "damping"),
    falls_with=("cutting_stiffness", "direction_factor"),
)
def chatter_free_width(
    stiffness: MachineStiffness, damping: Damping, cutting_stiffness: CuttingStiffness, direction_factor: DirectionFactor
) -> Annotated[SI, Length("mm", "b")]:
    """Widest chip that does not start to chatter at any spindle speed.

    ``cutting_stiffness`` is how fast the cutting force grows with the thickness of the chip, for each
    width, ``direction_factor`` the share of the force, and of the movement it makes, that changes that
    thickness.  With the stiffness of machine and work in a row the width is on the safe side: it is
    reached when both ring at one note, and where their notes lie apart a wider chip passes.
    """
    return 1 / (2 * direction_factor * cutting_stiffness * worst_real_part.si(stiffness, damping))


# --- lobes --------------------------------------------------------------------------------------------
@formula(
    r"b = \frac{k \left((r^2 - 1)^2 + 4 \zeta^2 r^2\right)}{2 u K_s (r^2 - 1)}",
    source=("tlusty", "schmitz_smith, stability lobes"),
    limits=_ONE_WAY + "; each cut laid fully over the last; no help from a slow speed",
    rises_with=("stiffness", "damping"),
    falls_with=("cutting_stiffness", "direction_factor"),
)
def lobe_width(
    stiffness: MachineStiffness,
    damping: Damping,
    cutting_stiffness: CuttingStiffness,
    direction_factor: DirectionFactor,
    chatter_ratio: ChatterRatio,
) -> Annotated[SI, Length("mm", "b")]:
    """Width of chip at which the machine sings at one frequency, told as a ratio to its own."""
    above = chatter_ratio**2 - 1
    return stiffness * (above**2 + (2 * damping * chatter_ratio) ** 2) / (2 * direction_factor * cutting_stiffness * above)


@formula(
    r"n = \frac{r f}{j + 1 - \frac{1}{\pi} \arctan\left(\frac{r^2 - 1}{2 \zeta r}\right)}",
    source=("tlusty", "schmitz_smith, stability lobes"),
    limits=_ONE_WAY + "; each cut laid fully over the last",
    rises_with=("frequency",),
    falls_with=("lobe",),
)
def lobe_speed(
    frequency: Annotated[SI, RotationalSpeed("Hz", "f", above=0)],
    damping: Damping,
    chatter_ratio: ChatterRatio,
    lobe: Annotated[SI, Count("", "j", at_least=0, whole=True)],
) -> Annotated[SI, RotationalSpeed("rpm", "n")]:
    """Spindle speed at which the machine sings at one frequency, with ``lobe`` whole waves and a part of one round the work.

    The part is between a half and a whole wave: the fresh wave lags behind the trail of the last turn.
    """
    part = 1 - np.arctan((chatter_ratio**2 - 1) / (2 * damping * chatter_ratio)) / np.pi
    return chatter_ratio * frequency / (lobe + part)


def quiet_width(
    speed: Any,
    frequency: float,
    stiffness: float,
    damping: float,
    cutting_stiffness: float,
    direction_factor: float,
    most_lobes: int = 400,
) -> np.ndarray:
    """Widest quiet chip, m, at spindle speeds ``speed`` [rad/s], an array; the lower border of all lobes.  The rest are SI numbers.

    Only lobes that reach the slowest speed are looked at, ``most_lobes`` at the most.
    """
    speed = np.asarray(speed, float)
    ratio = 1 + np.geomspace(1e-4, 9, 600)
    width = lobe_width.si(stiffness, damping, cutting_stiffness, direction_factor, ratio)
    lobes = np.arange(min(most_lobes, int(frequency * 2 / speed.min()) + 2))
    speeds = lobe_speed.si(frequency, damping, ratio, lobes[:, None])
    return np.min([np.interp(speed, one, width) for one in speeds], axis=0)  # along a lobe the speed rises with the ratio


# --- slow speeds ----------------------------------------------------------------------------------------
@formula(
    r"b = \frac{2 k}{u K_s} \left(\zeta + \frac{\pi C f b}{k v}\right)\left(1 + \zeta + \frac{\pi C f b}{k v}\right)",
    source=("schmitz_smith, process damping", "tyler_schmitz"),
    limits=_ONE_WAY + ", along the radius; tool a little worn; the gain is held at ten times, where other things end the cut",
    rises_with=("stiffness", "damping", "process_damping", "frequency"),
    falls_with=("cutting_stiffness", "direction_factor", "cutting_speed"),
)
def slow_speed_width(
    stiffness: MachineStiffness,
    damping: Damping,
    cutting_stiffness: CuttingStiffness,
    direction_factor: DirectionFactor,
    process_damping: Annotated[SI, Stiffness("N/µm", "C", at_least=0, at_most=10, valid=(0, 1))],
    frequency: Annotated[SI, RotationalSpeed("Hz", "f", above=0, at_most=20000)],
    cutting_speed: Annotated[SI, Speed("m/min", "v", above=0, at_most=5000)],
) -> Annotated[SI, Length("mm", "b")]:
    """Widest chip that stays quiet at the worst spindle speed when a slow cut damps the sway.

    The tool's flank rubs on the waves it has cut, the more the shorter they are: the force is
    ``process_damping`` times width over cutting speed, times the speed of the sway.  It adds
    to the damping in proportion to the width looked for, so the equation holds the width on
    both sides and is solved for its smaller root.
    """
    slope = process_damping * frequency / (2 * stiffness * cutting_speed)  # damping ratio added by a metre of width
    reach = 2 * stiffness / (direction_factor * cutting_stiffness)
    at_speed = chatter_free_width.si(stiffness, damping, cutting_stiffness, direction_factor)
    left = 1 - reach * slope * (1 + 2 * damping)
    inner = left**2 - 4 * reach * slope**2 * at_speed
    root = 2 * at_speed / (left + np.sqrt(np.maximum(inner, 0)))
    return np.where((left > 0) & (inner >= 0), np.minimum(root, MOST_GAIN * at_speed), MOST_GAIN * at_speed)[()]


@formula(
    r"v = \frac{2 \pi C f b}{k \left(\sqrt{1 + \frac{2 u K_s b}{k}} - 1 - 2 \zeta\right)}",
    source=("schmitz_smith, process damping", "tyler_schmitz"),
    limits=_ONE_WAY
    + ", along the radius; tool a little worn; for a chip that is quiet at any speed a thousandth of what it asks is left lacking",
    rises_with=("damping", "process_damping", "frequency"),
    falls_with=("cutting_stiffness", "direction_factor"),
)
def quiet_speed(
    stiffness: MachineStiffness,
    damping: Damping,
    cutting_stiffness: CuttingStiffness,
    direction_factor: DirectionFactor,
    process_damping: Annotated[SI, Stiffness("N/µm", "C", at_least=0, at_most=10, valid=(0, 1))],
    frequency: Annotated[SI, RotationalSpeed("Hz", "f", above=0, at_most=20000)],
    chip_width: Annotated[SI, Length("mm", "b", above=0, at_most=200)],
) -> Annotated[SI, Speed("m/min", "v")]:
    """Cutting speed up to which a chip of this width stays quiet: the slower the cut, the more the flank rubs on the waves it has cut.

    The width asks for a damping; what the machine has not got of it the rubbing must give.
    """
    soft = direction_factor * cutting_stiffness * chip_width / stiffness
    asked = soft / (np.sqrt(1 + 2 * soft) + 1)  # half of the root less one, without the difference of two like figures
    return process_damping * frequency * chip_width / (2 * stiffness * np.maximum(asked - damping, asked / 1000))
