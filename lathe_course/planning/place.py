"""Where it stands and how it gets there: lifting, corners and stairs, floor and bench, noise.

Guidance protects most people, not everyone; local rules and your own back come first.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula
from ..ranges import as_figure
from ..units import Angle, Area, Count, Force, Kind, LabourTime, Length, Mass, Ratio, SoundLevel, Stress

#: mass that may be lifted where everything is at its best
LOAD_CONSTANT = 23.0
CENTIMETRE = 0.01
Gravity = Annotated[SI, Kind("acceleration", "m/s²", "g", example="9.81 m/s²", above=0)]
#: angles at which a piece is tried round a corner; even and fine, its two ends left out
_TURNS = np.arange(1, 360) / 720 * np.pi


@formula(
    r"m_R = 23\,\mathrm{kg}\, \frac{25\,\mathrm{cm}}{H} \left(1 - 0.003 \left| \frac{V}{1\,\mathrm{cm}} - 75 \right|\right)"
    r" \left(0.82 + \frac{4.5\,\mathrm{cm}}{D}\right) \left(1 - 0.0032 \frac{A}{1\,\mathrm{deg}}\right) q\, c",
    source="niosh_94_110, revised lifting equation",
    limits="smooth lifting with both hands, upright, on a good floor; H and D count at least 25 cm",
    falls_with=("body_turn",),
    rises_with=("frequency_factor", "grip_factor"),
)
def lifting_limit(
    reach: Annotated[SI, Length("cm", "H", above=0, at_most=63)],
    height: Annotated[SI, Length("cm", "V", at_least=0, at_most=175)],
    travel: Annotated[SI, Length("cm", "D", at_least=0, at_most=175)],
    body_turn: Annotated[SI, Angle("deg", "A", at_least=0, at_most=135)] = 0,
    frequency_factor: Annotated[SI, Ratio("", "q", at_least=0, at_most=1)] = 1,
    grip_factor: Annotated[SI, Ratio("", "c", at_least=0.5, at_most=1)] = 0.9,
) -> Annotated[SI, Mass("kg", "m_R")]:
    """Mass that nearly all healthy workers may lift: from where the hands are, how far it goes, and how it is gripped.

    ``reach`` is from between the ankles to the hands, ``height`` from the floor to the hands at the worse end of the
    lift, ``travel`` the height it is raised by.  Nothing may be lifted beyond the ends of these.  A bare machine part has a poor grip: 0.9.
    """
    near = 25 * CENTIMETRE / np.maximum(reach, 25 * CENTIMETRE)
    level = 1 - 0.003 * np.abs(height / CENTIMETRE - 75)
    way = 0.82 + 4.5 * CENTIMETRE / np.maximum(travel, 25 * CENTIMETRE)
    turned = 1 - 0.0032 * np.degrees(body_turn)
    return LOAD_CONSTANT * near * level * way * turned * frequency_factor * grip_factor


@formula(
    r"i = \frac{m}{m_R}",
    source="niosh_94_110, lifting index",
    rises_with=("mass",),
    falls_with=("limit",),
    limits="above 1 some are at risk; above 3 nearly all",
)
def lifting_index(
    mass: Annotated[SI, Mass("kg", "m", at_least=0)], limit: Annotated[SI, Mass("kg", "m_R", above=0)]
) -> Annotated[SI, Ratio("", "i")]:
    """What is lifted over what may be lifted."""
    return mass / limit


@formula(
    r"m_n = m_1 \frac{2\, n}{n + 1}",
    source="hse_l23, team handling",
    rises_with=("one", "people"),
    limits="people of like strength with room to stand; more than three get in each other's way",
)
def team_limit(
    one: Annotated[SI, Mass("kg", "m_1", at_least=0)], people: Annotated[SI, Count("", "n", at_least=1, at_most=3, whole=True)]
) -> Annotated[SI, Mass("kg", "m_n")]:
    """What several may lift together: two thirds of their sum for two, half of it for three."""
    return one * 2 * people / (people + 1)


@formula(
    r"l = \min \left(\frac{a}{\cos \mathrm{\theta}} + \frac{b}{\sin \mathrm{\theta}} - \frac{w}{\sin \mathrm{\theta} \cos \mathrm{\theta}}\right)",
    source="definition",
    limits="a stiff piece carried level round a square corner; stood on end or tilted more may pass",
    rises_with=("first_width", "second_width"),
    falls_with=("piece_width",),
)
def corner_length(
    first_width: Annotated[SI, Length("mm", "a", above=0)],
    second_width: Annotated[SI, Length("mm", "b", above=0)],
    piece_width: Annotated[SI, Length("mm", "w", at_least=0)],
) -> Annotated[SI, Length("mm", "l")]:
    """Longest piece of some width that goes round the corner of a landing or passage; 0 if none."""
    a, b, w = (np.asarray(one, float)[..., None] for one in (first_width, second_width, piece_width))
    length = (a / np.cos(_TURNS) + b / np.sin(_TURNS) - w / (np.sin(_TURNS) * np.cos(_TURNS))).min(axis=-1)
    return as_figure(np.where(piece_width < np.minimum(first_width, second_width), np.maximum(length, 0.0), 0.0))


@formula(
    r"p = \frac{m\, g}{A}",
    source="definition",
    rises_with=("mass",),
    falls_with=("area",),
    limits="the load spread over the area by stand or boards; single feet press harder",
)
def floor_load(
    mass: Annotated[SI, Mass("kg", "m", at_least=0)], area: Annotated[SI, Area("m²", "A", above=0)], gravity: Gravity = 9.80665
) -> Annotated[SI, Stress("kN/m²", "p")]:
    """Load on the floor by machine, stand and whoever works there."""
    return mass * gravity / area


_BENCH = "load at mid-span, shared alike by bearers that rest freely at both ends"


@formula(
    r"s = \frac{F\, l^3}{4\, n\, E\, b\, h^3}",
    source="shigley, Table A-9",
    limits=_BENCH,
    rises_with=("force", "span"),
    falls_with=("width", "height", "elastic_modulus", "bearers"),
)
def bench_sag(
    force: Annotated[SI, Force("N", "F", at_least=0)],
    span: Annotated[SI, Length("mm", "l", above=0)],
    width: Annotated[SI, Length("mm", "b", above=0)],
    height: Annotated[SI, Length("mm", "h", above=0)],
    elastic_modulus: Annotated[SI, Stress("GPa", "E", above=0)],
    bearers: Annotated[SI, Count("", "n", at_least=1, at_most=12, whole=True)],
) -> Annotated[SI, Length("mm", "s")]:
    """How far a bench of a few bearers sags under a lathe at its middle."""
    return force * span**3 / (4 * bearers * elastic_modulus * width * height**3)


@formula(
    r"\sigma = \frac{3\, F\, l}{2\, n\, b\, h^2}",
    source="shigley, Table A-9",
    limits=_BENCH,
    rises_with=("force", "span"),
    falls_with=("width", "height", "bearers"),
)
def bench_stress(
    force: Annotated[SI, Force("N", "F", at_least=0)],
    span: Annotated[SI, Length("mm", "l", above=0)],
    width: Annotated[SI, Length("mm", "b", above=0)],
    height: Annotated[SI, Length("mm", "h", above=0)],
    bearers: Annotated[SI, Count("", "n", at_least=1, at_most=12, whole=True)],
) -> Annotated[SI, Stress("N/mm²", r"\sigma")]:
    """Bending stress in those bearers."""
    return 3 * force * span / (2 * bearers * width * height**2)


@formula(
    r"T = \frac{8\,\mathrm{h}}{2^{(L - L_8) / q}}",
    source="niosh_98_126, allowed time",
    falls_with=("level",),
    rises_with=("level_for_eight",),
    limits="a steady noise; the rate of exchange is 3 dB by the energy, some older rules take 5",
)
def allowed_hours(
    level: Annotated[SI, SoundLevel("dBA", "L", at_least=50, at_most=140)],
    level_for_eight: Annotated[SI, SoundLevel("dBA", "L_8", at_least=60, at_most=100)] = 85,
    exchange: Annotated[SI, SoundLevel("dBA", "q", at_least=3, at_most=10)] = 3,
) -> Annotated[SI, LabourTime("h", "T")]:
    """How long a day a noise may be borne without protection."""
    return 8 / 2 ** ((level - level_for_eight) / exchange)


@formula(
    r"D = \frac{t}{T}",
    source="niosh_98_126, daily dose",
    rises_with=("hours",),
    falls_with=("allowed",),
    limits="one noise; the doses of several are added",
)
def noise_dose(
    hours: Annotated[SI, LabourTime("h", "t", at_least=0)], allowed: Annotated[SI, LabourTime("h", "T", above=0)]
) -> Annotated[SI, Ratio("%", "D")]:
    """Share of the day's allowance that a noise takes."""
    return hours / allowed


@formula(
    r"L = 10\, \operatorname{lg} \left(10^{L_1 / 10} + 10^{L_2 / 10}\right)",
    source="definition, energies are added",
    rises_with=("first", "second"),
    limits="two noises that have nothing to do with each other, heard at one place",
)
def level_together(
    first: Annotated[SI, SoundLevel("dBA", "L_1", at_least=0, at_most=140)],
    second: Annotated[SI, SoundLevel("dBA", "L_2", at_least=0, at_most=140)],
) -> Annotated[SI, SoundLevel("dBA", "L")]:
    """Two noises heard together: their energies are added, not their decibels."""
    return 10 * np.log10(10 ** (first / 10) + 10 ** (second / 10))
