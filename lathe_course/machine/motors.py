"""Motors: what they give at which speed, how long they take to start and to stop, and what the supply must bear.

A motor's speed is told as a share of the speed on its plate.  Up to the plate's speed a motor
on an inverter, or a direct-current motor on a controller, gives its torque and less power;
above it an inverter motor gives its power and less torque.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula
from ..units import Count, Current, Density, Duration, Inertia, Length, Power, Ratio, RotationalSpeed, Torque, Voltage

Turning = Annotated[SI, RotationalSpeed("rpm", "n", at_least=0, at_most=100_000)]
Share = Annotated[SI, Ratio("%", "x", above=0, at_most=500)]


# --- what it gives ---------------------------------------------------------------------------------
@formula(
    r"n_s = \frac{2 f}{p}",
    source=("definition", "shigley, motors"),
    limits="speed of the turning field; under load an induction motor falls behind by 3 to 8 in a hundred, so a plate says "
    "1400 and not 1500",
    rises_with=("frequency",),
    falls_with=("poles",),
)
def synchronous_speed(
    frequency: Annotated[SI, RotationalSpeed("Hz", "f", at_least=0, at_most=1000)],
    poles: Annotated[SI, Count("", "p", at_least=2, at_most=48, whole=True)],
) -> Annotated[SI, RotationalSpeed("rpm", "n_s")]:
    """Speed an induction motor would run at, had it no slip."""
    return 2 * frequency / poles


@formula(
    r"M = \frac{P}{2 \pi\, n}\, \min\left(1, \frac{1}{x}\right)",
    source=("fitzgerald, adjustable-speed drives", "definition"),
    limits="induction motor, voltage raised with the frequency up to the plate's speed and held above it, so that the field weakens; "
    "a motor with magnets has nothing above its plate unless its controller is made for that; far above, past about twice the plate's "
    "speed, the torque falls faster than this",
    rises_with=("rated_power",),
    falls_with=("rated_speed", "speed_share"),
)
def motor_torque(
    rated_power: Annotated[SI, Power("W", "P", at_least=0, at_most=1e6)],
    rated_speed: Annotated[SI, RotationalSpeed("rpm", "n", above=0, at_most=100_000)],
    speed_share: Share,
) -> Annotated[SI, Torque("N·m", "M")]:
    """Torque of a motor whose speed is set: the same up to the speed on its plate, falling above it."""
    return rated_power / rated_speed * np.minimum(1.0, 1 / speed_share)


@formula(
    r"k = \min\left(1, k_0 + (1 - k_0) \frac{x}{x_1}\right)",
    source="common_practice, a motor cooled by a fan on its own shaft",
    limits="load that lasts, half an hour and more; for a minute the motor gives its torque all the same. A fan with a motor of its own does away with it",
    rises_with=("speed_share", "still_share"),
    falls_with=("full_share",),
)
def cooling_share(
    speed_share: Share,
    full_share: Annotated[SI, Ratio("%", "x_1", above=0, at_most=200)],
    still_share: Annotated[SI, Ratio("%", "k_0", at_least=0, at_most=100)],
) -> Annotated[SI, Ratio("%", "k")]:
    """Share of its torque that a motor can give for long when its own fan turns slowly."""
    return np.minimum(1.0, still_share + (1 - still_share) * speed_share / full_share)


# --- starting and stopping -------------------------------------------------------------------------
@formula(
    r"J = \frac{\pi\, \rho\, l\, (D^4 - d^4)}{32}",
    source=("definition", "beer_johnston, moments of inertia"),
    limits="round, of one material, turning about its axis",
    rises_with=("density", "length", "diameter"),
    falls_with=("bore",),
    requires={"The bore must be smaller than the diameter.": lambda diameter, bore: bore < diameter},
)
def disc_inertia(
    diameter: Annotated[SI, Length("mm", "D", above=0, at_most=5_000)],
    bore: Annotated[SI, Length("mm", "d", at_least=0, at_most=5_000)],
    length: Annotated[SI, Length("mm", "l", at_least=0, at_most=10_000)],
    density: Annotated[SI, Density("kg/m³", r"\rho", above=0, at_most=25_000)],
) -> Annotated[SI, Inertia("kg·m²", "J")]:
    """Inertia of a disc, a tube or a shaft."""
    return np.where(bore < diameter, np.pi * density * length * (diameter**4 - bore**4) / 32, np.nan)[()]


@formula(
    r"J_r = J\, i^2",
    source=("definition", "shigley, flywheels and reflected inertia"),
    limits="belt that does not slip; i is how often the far shaft turns while this one turns once",
    rises_with=("inertia", "ratio"),
)
def referred_inertia(
    inertia: Annotated[SI, Inertia("kg·m²", "J", at_least=0, at_most=1e4)],
    ratio: Annotated[SI, Ratio("", "i", at_least=0, at_most=1000)],
) -> Annotated[SI, Inertia("kg·m²", "J_r")]:
    """Inertia of a rotor as another shaft feels it, through a belt or gears."""
    return inertia * ratio**2


@formula(
    r"t = \frac{2 \pi J}{M}\left(\min(n, n_1) + \frac{\max(n^2 - n_1^2, 0)}{2 n_1}\right)",
    source=("definition", "shigley, power and torque"),
    limits="torque even up to the full-power speed, and power even above it; M is what is left after friction",
    rises_with=("inertia", "speed"),
    falls_with=("torque", "full_power_speed"),
)
def run_up_time(
    inertia: Annotated[SI, Inertia("kg·m²", "J", at_least=0, at_most=1e4)],
    speed: Turning,
    full_power_speed: Annotated[SI, RotationalSpeed("rpm", "n_1", above=0, at_most=100_000)],
    torque: Annotated[SI, Torque("N·m", "M", above=0, at_most=1e5)],
) -> Annotated[SI, Duration("s", "t")]:
    """Time from rest to a speed."""
    above = np.maximum(speed**2 - full_power_speed**2, 0.0) / (2 * full_power_speed)
    return inertia / torque * (np.minimum(speed, full_power_speed) + above)


@formula(
    r"t = \frac{2 \pi\, J\, n}{M}",
    source=("definition", "shigley, power and torque"),
    limits="one steady torque of friction and brake",
    rises_with=("inertia", "speed"),
    falls_with=("torque",),
)
def stopping_time(
    inertia: Annotated[SI, Inertia("kg·m²", "J", at_least=0, at_most=1e4)],
    speed: Turning,
    torque: Annotated[SI, Torque("N·m", "M", above=0, at_most=1e5)],
) -> Annotated[SI, Duration("s", "t")]:
    """Time from a speed to rest."""
    return inertia * speed / torque


# --- the supply ------------------------------------------------------------------------------------
@formula(
    r"P = \eta\, U\, I\, \lambda",
    source=("definition", "shigley, power and torque"),
    limits="single-phase supply, steady load; what else hangs on the same circuit comes off first",
    rises_with=("voltage", "current", "efficiency", "power_factor"),
)
def supply_power(
    voltage: Annotated[SI, Voltage("V", "U", above=0, at_most=1_000)],
    current: Annotated[SI, Current("A", "I", at_least=0, at_most=1_000)],
    efficiency: Annotated[SI, Ratio("%", r"\eta", above=0, at_most=100)],
    power_factor: Annotated[SI, Ratio("", r"\lambda", above=0, at_most=1)],
) -> Annotated[SI, Power("W", "P")]:
    """Largest motor, by the output on its plate, that a supply can feed."""
    return efficiency * voltage * current * power_factor
