"""Belts: how long, how far round the pulley, how hard they pull, and when they slip.

An open belt round two pulleys, a ``centres`` distance apart.  Diameters are those on which
the belt's pull runs: for a V-belt a little inside its top, for a flat belt half its thickness
outside the pulley.  A tension is that of one strand; set at rest it is the same in both.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula, possible
from ..units import Angle, Force, Length, MassPerLength, Ratio, RotationalSpeed, Speed

Large = Annotated[SI, Length("mm", "D", above=0, at_most=10_000)]
Small = Annotated[SI, Length("mm", "d", above=0, at_most=10_000)]
Centres = Annotated[SI, Length("mm", "C", above=0, at_most=100_000)]
BeltLength = Annotated[SI, Length("mm", "L", above=0, at_most=1e6)]
Tension = Annotated[SI, Force("N", "T", at_least=0, at_most=1e6)]
Wrap = Annotated[SI, Angle("deg", r"\theta", above=0, at_most=360)]
Friction = Annotated[SI, Ratio("", r"\mu_e", at_least=0, at_most=10)]

_APART = {
    "The pulleys run into each other: the centres must be further apart than half of both diameters together.": lambda large_diameter, small_diameter, centres: (
        (large_diameter + small_diameter) / 2 < centres
    )
}
_FIXED = "shafts that stay where they are; a belt that stretches a little and does not creep"
_OPEN = "open belt, shafts parallel, strands straight"
#: steps of Newton's method: each doubles the digits, and the start is right to a hundredth
_STEPS = 5


# --- geometry --------------------------------------------------------------------------------------
def _lean(large, small, centres):
    """Angle by which a strand leans against the line of centres, rad."""
    return np.arcsin(np.clip((large - small) / (2 * centres), -1, 1))


def _length(large, small, centres):
    lean = _lean(large, small, centres)
    return 2 * centres * np.cos(lean) + np.pi * (large + small) / 2 + lean * (large - small)


@formula(
    r"L = \sqrt{4 C^2 - (D - d)^2} + \frac{\pi (D + d)}{2} + (D - d) \operatorname{arcsin}\left(\frac{D - d}{2 C}\right)",
    source=("definition", "shigley_belts, open belt"),
    limits=_OPEN,
    rises_with=("large_diameter", "centres"),
    requires=_APART,
)
def belt_length(large_diameter: Large, small_diameter: Small, centres: Centres) -> Annotated[SI, Length("mm", "L")]:
    """Length of an open belt round two pulleys, exactly."""
    return possible((large_diameter + small_diameter) / 2 < centres, _length(large_diameter, small_diameter, centres))


@formula(
    r"L = 2 C + \frac{\pi (D + d)}{2} + \frac{(D - d)^2}{4 C}",
    source=("machinerys_handbook, length of belts", "shigley_belts, open belt"),
    limits="open belt; short of the exact length by about (D - d)⁴ / (192 C³), which is under 0.2 mm in a metre wherever the pulleys "
    "of a small lathe go",
    requires=_APART,
)
def usual_belt_length(large_diameter: Large, small_diameter: Small, centres: Centres) -> Annotated[SI, Length("mm", "L")]:
    """Length of an open belt as it is usually reckoned, without angles."""
    usual = 2 * centres + np.pi * (large_diameter + small_diameter) / 2 + (large_diameter - small_diameter) ** 2 / (4 * centres)
    return possible((large_diameter + small_diameter) / 2 < centres, usual)


@formula(
    r"\theta = \pi - 2 \operatorname{arcsin}\left(\frac{D - d}{2 C}\right)",
    source="shigley_belts, open belt",
    limits="open belt, angle on the smaller pulley; the larger has as much more than half a turn as this one has less",
    falls_with=("large_diameter",),
    rises_with=("small_diameter",),
    requires=_APART
    | {
        "The small pulley is the larger of the two: change them over.": lambda large_diameter, small_diameter: (
            small_diameter <= large_diameter
        )
    },
)
def wrap_angle(large_diameter: Large, small_diameter: Small, centres: Centres) -> Annotated[SI, Angle("deg", r"\theta")]:
    """How far round the small pulley the belt lies."""
    fits = ((large_diameter + small_diameter) / 2 < centres) & (small_diameter <= large_diameter)
    return possible(fits, np.pi - 2 * _lean(large_diameter, small_diameter, centres))


def _reaches(diameter, belt_length, centres):
    """Does a belt of this length leave room for some second pulley: not shorter than round a mere point, not so long that the pulleys meet?"""
    return (diameter < 2 * centres) & (_length(diameter, 0.0, centres) < belt_length)


def _parts(diameter, belt_length, centres):
    return belt_length < _length(np.maximum(2 * centres - diameter, 0.0), diameter, centres)


@formula(
    r"D = \operatorname{root}\left[\sqrt{4 C^2 - (D - d)^2} + \frac{\pi (D + d)}{2}"
    r" + (D - d) \operatorname{arcsin}\left(\frac{D - d}{2 C}\right) - L\right]",
    source="definition",
    limits="open belt; the second pulley of a step, larger or smaller than the first",
    rises_with=("belt_length",),
    falls_with=("centres",),
    requires={
        "The belt is too short: at these centres it does not even reach round the one pulley and a bare shaft. "
        "Take a longer belt or bring the shafts together.": _reaches,
        "The belt is too long: the second pulley would run into the first. Take a shorter belt or set the shafts further apart.": _parts,
    },
)
def mating_diameter(
    diameter: Annotated[SI, Length("mm", "d", above=0, at_most=10_000)], belt_length: BeltLength, centres: Centres
) -> Annotated[SI, Length("mm", "D")]:
    """Diameter of the other pulley of a step, so that one belt fits all steps.

    By Newton's method on the exact length, whose slope is a quarter turn and the lean.
    """
    found = np.clip((belt_length - 2 * centres) * 2 / np.pi - diameter, 0.0, 2 * centres)
    for _ in range(_STEPS):
        over = _length(found, diameter, centres) - belt_length
        found = np.clip(found - over / (np.pi / 2 + _lean(found, diameter, centres)), 0.0, 2 * centres)
    return possible(_reaches(diameter, belt_length, centres) & _parts(diameter, belt_length, centres), found)


def _goes_round(large_diameter, small_diameter, belt_length):
    apart = (large_diameter + small_diameter) / 2
    return belt_length > _length(large_diameter, small_diameter, apart)


@formula(
    r"C = \operatorname{root}\left[\sqrt{4 C^2 - (D - d)^2} + \frac{\pi (D + d)}{2}"
    r" + (D - d) \operatorname{arcsin}\left(\frac{D - d}{2 C}\right) - L\right]",
    source=("definition", "shigley_belts, V-belt centre distance"),
    limits=_OPEN,
    rises_with=("belt_length",),
    falls_with=("large_diameter", "small_diameter"),
    requires={"The belt is too short: it does not go round both pulleys, even with their rims touching.": _goes_round},
)
def centre_distance(large_diameter: Large, small_diameter: Small, belt_length: BeltLength) -> Annotated[SI, Length("mm", "C")]:
    """How far apart the shafts stand with a belt one can buy.

    Starts from the usual length solved for the centres, then Newton's method on the exact one,
    whose slope is twice the cosine of the lean.
    """
    free = belt_length - np.pi * (large_diameter + small_diameter) / 2
    apart = (large_diameter + small_diameter) / 2
    root = np.sqrt(np.maximum(free**2 - 2 * (large_diameter - small_diameter) ** 2, 0.0))
    found = np.maximum((free + root) / 4, apart)
    for _ in range(_STEPS):
        over = _length(large_diameter, small_diameter, found) - belt_length
        found = np.maximum(found - over / (2 * np.cos(_lean(large_diameter, small_diameter, found)) + 1e-300), apart)
    return possible(_goes_round(large_diameter, small_diameter, belt_length), found)


# --- speed -----------------------------------------------------------------------------------------
@formula(
    r"n_2 = n_1 \frac{d_1}{d_2\, i}",
    source=("definition", "wood_turning_pulleys"),
    limits="belt without slip; a belt in order creeps by one or two in a hundred",
    rises_with=("speed", "driving_diameter"),
    falls_with=("driven_diameter", "reduction"),
)
def driven_speed(
    speed: Annotated[SI, RotationalSpeed("rpm", "n_1", at_least=0, at_most=100_000)],
    driving_diameter: Annotated[SI, Length("mm", "d_1", above=0, at_most=10_000)],
    driven_diameter: Annotated[SI, Length("mm", "d_2", above=0, at_most=10_000)],
    reduction: Annotated[SI, Ratio("", "i", at_least=0.01, at_most=1000)] = 1.0,
) -> Annotated[SI, RotationalSpeed("rpm", "n_2")]:
    """Speed of the driven shaft, behind one pair of pulleys and whatever else reduces the speed."""
    return speed * driving_diameter / (driven_diameter * reduction)


@formula(
    r"v = \pi\, d\, n",
    source=("definition", "shigley_belts, flat belt"),
    limits="belt without slip",
    rises_with=("speed", "diameter"),
)
def belt_speed(
    speed: Annotated[SI, RotationalSpeed("rpm", "n", at_least=0, at_most=100_000)],
    diameter: Annotated[SI, Length("mm", "d", above=0, at_most=10_000)],
) -> Annotated[SI, Speed("m/s", "v")]:
    """How fast the belt runs."""
    return speed * diameter / 2


# --- grip ------------------------------------------------------------------------------------------
@formula(
    r"\mu_e = \frac{\mu}{\sin(\beta / 2)}",
    source="hamrock",
    limits="belt that bears on the sides of its groove and not on the bottom; a flat belt has a groove of 180 deg",
    rises_with=("friction",),
    falls_with=("groove_angle",),
)
def groove_friction(
    friction: Annotated[SI, Ratio("", r"\mu", at_least=0, at_most=2)],
    groove_angle: Annotated[SI, Angle("deg", r"\beta", above=5, at_most=180)],
) -> Annotated[SI, Ratio("", r"\mu_e")]:
    """Friction that counts for a belt wedged in a groove."""
    return friction / np.sin(groove_angle / 2)


@formula(
    r"q = \operatorname{exp}(\mu_e \theta)",
    source=("shigley_belts, flat belt", "machinerys_handbook, band brakes"),
    limits="belt about to slip all round the pulley; slow enough that flinging does not count",
    rises_with=("groove_friction", "wrap"),
)
def euler_ratio(
    groove_friction: Annotated[SI, Ratio("", r"\mu_e", at_least=0, at_most=5)], wrap: Wrap
) -> Annotated[SI, Ratio("", "q")]:
    """How many times as hard the tight strand may pull as the slack one before the belt slips."""
    return np.exp(groove_friction * wrap)


@formula(
    r"T_c = m\, v^2",
    source="shigley_belts, flat belt",
    limits="belt running in a circle at a steady speed",
    rises_with=("mass_per_length", "belt_speed"),
)
def centrifugal_tension(
    mass_per_length: Annotated[SI, MassPerLength("kg/m", "m", at_least=0, at_most=100)],
    belt_speed: Annotated[SI, Speed("m/s", "v", at_least=0, at_most=200)],
) -> Annotated[SI, Force("N", "T_c")]:
    """Tension that goes into keeping the belt on its way round, and is lost for gripping."""
    return mass_per_length * belt_speed**2


@formula(
    r"F = 2 \max(T - T_c, 0) \operatorname{tanh}\left(\frac{\mu_e \theta}{2}\right)",
    source="shigley_belts, initial tension",
    limits=_FIXED + "; the tension is that of one strand at rest, and what one strand gains the other loses",
    rises_with=("tension", "groove_friction", "wrap"),
    falls_with=("centrifugal_tension",),
)
def belt_grip(
    tension: Tension,
    centrifugal_tension: Annotated[SI, Force("N", "T_c", at_least=0, at_most=1e6)],
    groove_friction: Friction,
    wrap: Wrap,
) -> Annotated[SI, Force("N", "F")]:
    """Largest pull at the rim before the belt slips."""
    return 2 * np.maximum(tension - centrifugal_tension, 0.0) * np.tanh(groove_friction * wrap / 2)


@formula(
    r"F_b = 2 T \sin\frac{\theta}{2}",
    source=("definition", "shigley, belt drives"),
    limits=_FIXED + "; at rest, and nearly so under load, for what one strand gains the other loses",
    rises_with=("tension",),
)
def belt_shaft_pull(tension: Tension, wrap: Wrap) -> Annotated[SI, Force("N", "F_b")]:
    """Force with which the belt pulls the two shafts together."""
    return 2 * tension * np.sin(wrap / 2)


@formula(
    r"y = \frac{F_q\, l}{4\, T}",
    source=("definition", "common_practice, belt pressed down in the middle of a strand"),
    limits="pressed in the middle of a straight strand, by little against its length; the belt's own stiffness left out",
    rises_with=("push", "strand"),
    falls_with=("tension",),
)
def belt_deflection(
    push: Annotated[SI, Force("N", "F_q", at_least=0, at_most=1e4)],
    strand: Annotated[SI, Length("mm", "l", above=0, at_most=100_000)],
    tension: Annotated[SI, Force("N", "T", above=0, at_most=1e6)],
) -> Annotated[SI, Length("mm", "y")]:
    """How far a strand gives way when it is pressed in its middle: the way to set a tension with a spring balance."""
    return push * strand / (4 * tension)
