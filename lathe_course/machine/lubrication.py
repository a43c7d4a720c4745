"""Oil and grease: the film a plain bearing rides on, what it drags, and how much grease renews a rolling one.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula
from ..units import Force, Kind, Length, Mass, Power, Ratio, RotationalSpeed, Torque


def Viscosity(symbol: str) -> Kind:
    """Dynamic viscosity; 1 mPa·s is the centipoise of older books."""
    return Kind("viscosity", "mPa·s", symbol, example="25 mPa·s", above=0)


Load = Annotated[SI, Force("N", "W", above=0)]
Oil = Annotated[SI, Viscosity(r"\mu")]
Turning = Annotated[SI, RotationalSpeed("rpm", "n", above=0)]
Journal = Annotated[SI, Length("mm", "d", above=0)]
BearingLength = Annotated[SI, Length("mm", "l", above=0)]
Clearance = Annotated[SI, Length("mm", "c", above=0)]
_FILM = "oil at its running temperature all through; bearing fed with enough of it"
#: halvings that carry the search for the eccentricity to the last digit of a float
_HALVINGS = 60


@formula(
    r"M = \frac{\pi^2 \mu n d^3 l}{2 c}",
    source="shigley, Petroff's equation",
    limits="journal in the middle of its bearing, so light load or high speed; " + _FILM,
    rises_with=("viscosity", "speed", "diameter", "length"),
    falls_with=("clearance",),
)
def petroff_torque(
    viscosity: Oil, speed: Turning, diameter: Journal, length: BearingLength, clearance: Clearance
) -> Annotated[SI, Torque("N·m", "M")]:
    """Drag of a plain bearing full of oil, from shearing the film; the clearance is that on the radius."""
    return np.pi * viscosity * speed * diameter**3 * length / (4 * clearance)


@formula(
    r"P = \frac{\pi^3 \mu n^2 d^3 l}{c}",
    source="shigley, Petroff's equation",
    limits="journal in the middle of its bearing; " + _FILM,
    rises_with=("viscosity", "speed", "diameter", "length"),
    falls_with=("clearance",),
)
def petroff_power(
    viscosity: Oil, speed: Turning, diameter: Journal, length: BearingLength, clearance: Clearance
) -> Annotated[SI, Power("W", "P")]:
    """Power that the drag of a plain bearing turns into heat."""
    return petroff_torque.si(viscosity, speed, diameter, length, clearance) * speed


@formula(
    r"S = \left(\frac{d}{2 c}\right)^2 \frac{\mu n d l}{W}",
    source="shigley, bearing characteristic number",
    limits=_FILM,
    rises_with=("viscosity", "speed", "diameter", "length"),
    falls_with=("clearance", "load"),
)
def sommerfeld_number(
    load: Load, viscosity: Oil, speed: Turning, diameter: Journal, length: BearingLength, clearance: Clearance
) -> Annotated[SI, Ratio("", "S")]:
    """Number that says how a plain bearing runs: large is light and fast, small is heavy and slow."""
    return (diameter / (2 * clearance)) ** 2 * viscosity * speed / (2 * np.pi) * diameter * length / load


@formula(
    r"h = c \left(1 - \operatorname{ecc}\left[\frac{\mu n d^3 l}{4 c^2 W} \cdot \frac{l^2}{d^2}\right]\right)",
    source=("ocvirk, short bearing", "shigley, bearing characteristic number"),
    limits="bearing no longer than half its diameter; one as long as its diameter runs with about a quarter less film; " + _FILM,
    rises_with=("viscosity", "speed", "length"),
    falls_with=("load",),
)
def least_film(
    load: Load, viscosity: Oil, speed: Turning, diameter: Journal, length: BearingLength, clearance: Clearance
) -> Annotated[SI, Length("µm", "h", at_least=0)]:
    """Oil left between journal and bearing at the narrowest place; compare it with the roughness of both.

    The load sets how far out of the middle the journal runs, as a share of the clearance:
    S (l/d)² = (1 - ε²)² / (π ε √(π² (1 - ε²) + 16 ε²)), which falls all the way from 0 to 1 and is
    solved here by halving.
    """
    wanted = sommerfeld_number.si(load, viscosity, speed, diameter, length, clearance) * (length / diameter) ** 2
    # sought is 1 - ε, which keeps its figures where the film is thin; both ends are of the shape of the inputs
    thin, thick = np.zeros_like(wanted), np.ones_like(wanted)
    for _ in range(_HALVINGS):
        gap = (thin + thick) / 2
        out = 1 - gap
        higher = (gap * (1 + out)) ** 2 < wanted * np.pi * out * np.sqrt(np.pi**2 * gap * (1 + out) + 16 * out**2)
        thin, thick = np.where(higher, gap, thin), np.where(higher, thick, gap)
    return clearance * (thin + thick) / 2


@formula(
    r"m = q D B",
    source="common_practice, grease to renew: 0.005 times outside diameter times width",
    limits="grease to renew what has aged in a rolling bearing, not the first filling; more of it only warms the bearing",
    rises_with=("outside_diameter", "width"),
)
def grease_amount(
    outside_diameter: Annotated[SI, Length("mm", "D", above=0)],
    width: Annotated[SI, Length("mm", "B", above=0)],
    share: Annotated[SI, Kind("mass per area", "g/mm²", "q", example="0.005 g/mm²", above=0)] = 0.005,
) -> Annotated[SI, Mass("g", "m")]:
    """Grease to renew in a rolling bearing of the spindle."""
    return share * outside_diameter * width
