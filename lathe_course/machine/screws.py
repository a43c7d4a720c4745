"""Screws that move slides: size of the thread, torque, self-locking, stiffness, and what a long thin screw bears.

A screw has a *major diameter* (what one measures over the crests), a *pitch diameter* half way
down the thread and a *core*, which is what is left to carry.  *Lead* is the travel of one turn:
the pitch, times the number of starts.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula, possible
from ..units import Angle, Count, Density, Force, Length, Ratio, RotationalSpeed, Stiffness, Stress, Torque

Major = Annotated[SI, Length("mm", "d", above=0)]
Pitch = Annotated[SI, Length("mm", "p", above=0)]
Lead = Annotated[SI, Length("mm", "l", above=0)]
PitchDiameter = Annotated[SI, Length("mm", "d_2", above=0)]
Core = Annotated[SI, Length("mm", "d_3", above=0)]
FreeLength = Annotated[SI, Length("mm", "L", above=0)]
Flank = Annotated[SI, Angle("deg", r"\alpha", at_least=0, at_most=45)]
Friction = Annotated[SI, Ratio("", r"\mu", at_least=0, at_most=1)]
Load = Annotated[SI, Force("N", "F", at_least=0)]
ElasticModulus = Annotated[SI, Stress("GPa", "E", above=0)]

#: clearance at the crests of a trapezoidal thread, by the largest pitch it holds for; both m.  Source: ISO 2904
_CLEARANCES = ((1.5e-3, 0.15e-3), (5e-3, 0.25e-3), (12e-3, 0.5e-3))
_MOVES = {
    "With so much friction on so steep a thread the screw never moves: the lead must be less, or the friction.": (
        lambda lead, pitch_diameter, friction, flank_angle: friction * lead < np.pi * pitch_diameter * np.cos(flank_angle)
    )
}


def trapezoidal_clearance(pitch: SI) -> SI:
    """Clearance between crest and root of a trapezoidal thread, m, from its pitch in m; numbers or arrays."""
    steps = np.array([pitch_up_to for pitch_up_to, _ in _CLEARANCES[:-1]])
    sizes = np.array([clearance for _, clearance in _CLEARANCES])
    return sizes[np.searchsorted(steps, np.asarray(pitch) - 1e-9)]


# --- the thread ------------------------------------------------------------------------------------
@formula(
    r"d_2 = d - \frac{p}{2}",
    source="iso_2904, basic dimensions",
    limits="trapezoidal thread; close for a square thread as well",
    rises_with=("major_diameter",),
    falls_with=("pitch",),
    requires={"The pitch must be less than twice the diameter.": lambda major_diameter, pitch: pitch < 2 * major_diameter},
)
def thread_pitch_diameter(major_diameter: Major, pitch: Pitch) -> Annotated[SI, Length("mm", "d_2")]:
    """Diameter half way down a trapezoidal thread, where screw and nut are taken to touch."""
    return possible(pitch < 2 * major_diameter, major_diameter - pitch / 2)


@formula(
    r"d_3 = d - p - 2 a",
    source="iso_2904, basic dimensions",
    limits="trapezoidal thread; clearance 0.15 mm to a pitch of 1.5 mm, 0.25 mm to 5 mm, 0.5 mm beyond",
    rises_with=("major_diameter",),
    falls_with=("pitch", "clearance"),
    requires={
        "The thread must leave a core: pitch and twice the clearance together are less than the diameter.": (
            lambda major_diameter, pitch, clearance: pitch + 2 * clearance < major_diameter
        )
    },
)
def thread_core_diameter(
    major_diameter: Major, pitch: Pitch, clearance: Annotated[SI, Length("mm", "a", at_least=0)]
) -> Annotated[SI, Length("mm", "d_3")]:
    """What is left of a screw under its trapezoidal thread."""
    return possible(pitch + 2 * clearance < major_diameter, major_diameter - pitch - 2 * clearance)


@formula(
    r"\gamma = \operatorname{arctan}\left(\frac{l}{\pi d_2}\right)",
    source="shigley, power screws",
    limits="taken half way down the thread",
    rises_with=("lead",),
    falls_with=("pitch_diameter",),
)
def lead_angle(lead: Lead, pitch_diameter: PitchDiameter) -> Annotated[SI, Angle("deg", r"\gamma")]:
    """How steeply the thread climbs round the screw."""
    return np.arctan(lead / (np.pi * pitch_diameter))


# --- torque ----------------------------------------------------------------------------------------
@formula(
    r"M_r = \frac{F d_2}{2} \cdot \frac{l + \dfrac{\pi \mu d_2}{\cos \alpha}}{\pi d_2 - \dfrac{\mu l}{\cos \alpha}}",
    source="shigley, power screws",
    limits="thread alone, without its thrust collar; flank angle is half the angle between the flanks: 15 deg for a trapezoidal thread",
    rises_with=("force", "friction", "flank_angle", "lead"),
    requires=_MOVES,
)
def raising_torque(
    force: Load, lead: Lead, pitch_diameter: PitchDiameter, friction: Friction, flank_angle: Flank
) -> Annotated[SI, Torque("N·m", "M_r")]:
    """Torque that turns a screw against its load: what a hand or a gear must give to push the slide into the cut."""
    rub = friction / np.cos(flank_angle)
    around = np.pi * pitch_diameter
    moves = rub * lead < around
    return possible(moves, force * pitch_diameter / 2 * (lead + rub * around) / np.where(moves, around - rub * lead, 1.0))


@formula(
    r"M_l = \frac{F d_2}{2} \cdot \frac{\dfrac{\pi \mu d_2}{\cos \alpha} - l}{\pi d_2 + \dfrac{\mu l}{\cos \alpha}}",
    source="shigley, power screws",
    limits="thread alone, without its thrust collar; below zero the screw runs back by itself",
    rises_with=("friction", "flank_angle"),
    falls_with=("lead",),
)
def lowering_torque(
    force: Load, lead: Lead, pitch_diameter: PitchDiameter, friction: Friction, flank_angle: Flank
) -> Annotated[SI, Torque("N·m", "M_l")]:
    """Torque that turns a screw the way its load pushes: below zero the load turns it."""
    rub = friction / np.cos(flank_angle)
    around = np.pi * pitch_diameter
    return force * pitch_diameter / 2 * (rub * around - lead) / (around + rub * lead)


@formula(
    r"M_c = \frac{F \mu_c d_c}{2}",
    source="shigley, power screws",
    limits="pressure taken as if it all stood at the mean diameter of the collar",
    rises_with=("force", "collar_friction", "collar_diameter"),
)
def collar_torque(
    force: Load,
    collar_friction: Annotated[SI, Ratio("", r"\mu_c", at_least=0, at_most=1)],
    collar_diameter: Annotated[SI, Length("mm", "d_c", above=0)],
) -> Annotated[SI, Torque("N·m", "M_c")]:
    """Torque lost in the shoulder that takes the thrust of a screw."""
    return force * collar_friction * collar_diameter / 2


@formula(
    r"\eta = \frac{F l}{2 \pi M}",
    source="shigley, power screws",
    limits="torque of thread and collar together",
    rises_with=("force", "lead"),
    falls_with=("torque",),
)
def screw_efficiency(
    force: Load, lead: Lead, torque: Annotated[SI, Torque("N·m", "M", above=0)]
) -> Annotated[SI, Ratio("%", r"\eta")]:
    """Share of the work at the handle that reaches the slide; the rest warms thread and collar."""
    return force * lead / (2 * np.pi * torque)


@formula(
    r"\mu_0 = \frac{l \cos \alpha}{\pi d_2}",
    source="shigley, power screws",
    limits="thread alone; shaking lets a screw creep well before it runs back",
    rises_with=("lead",),
    falls_with=("pitch_diameter", "flank_angle"),
)
def self_locking_friction(lead: Lead, pitch_diameter: PitchDiameter, flank_angle: Flank) -> Annotated[SI, Ratio("", r"\mu_0")]:
    """Least friction at which a screw stays where it was put when something pushes on its nut."""
    return lead * np.cos(flank_angle) / (np.pi * pitch_diameter)


@formula(
    r"p_n = \frac{2 F}{\pi d_2 l_n}",
    source="shigley, power screws",
    limits="trapezoidal or square thread, half a pitch deep; all turns take their part, though the first takes a third or more",
    rises_with=("force",),
    falls_with=("pitch_diameter", "nut_length"),
)
def nut_pressure(
    force: Load, pitch_diameter: PitchDiameter, nut_length: Annotated[SI, Length("mm", "l_n", above=0)]
) -> Annotated[SI, Stress("N/mm²", "p_n")]:
    """Pressure on the flanks of a nut: what wears it."""
    return 2 * force / (np.pi * pitch_diameter * nut_length)


# --- stiffness, buckling, whirling -----------------------------------------------------------------
@formula(
    r"k_a = \frac{\pi E d_3^2}{4 L}",
    source="shigley, tension",
    limits="core alone counts; thrust taken at one end, length from there to the nut",
    rises_with=("core_diameter", "elastic_modulus"),
    falls_with=("length",),
)
def screw_axial_stiffness(
    core_diameter: Core, length: FreeLength, elastic_modulus: ElasticModulus
) -> Annotated[SI, Stiffness("N/µm", "k_a")]:
    """Stiffness of a screw pushed or pulled along its axis."""
    return np.pi * core_diameter**2 / 4 * elastic_modulus / length


@formula(
    r"F_k = \frac{\pi d_3^2 S}{4} \operatorname{column}\left(\frac{16 S L^2}{\pi^2 C E d_3^2}\right)",
    source="shigley, columns after Euler and Johnson",
    limits="straight screw, pushed along its axis; column(x) is 1 - x / 4 up to x = 2 (Johnson) and 1 / x beyond (Euler)",
    rises_with=("core_diameter", "elastic_modulus", "yield_strength", "end_factor"),
    falls_with=("length",),
)
def screw_buckling_load(
    core_diameter: Core,
    length: FreeLength,
    elastic_modulus: ElasticModulus,
    yield_strength: Annotated[SI, Stress("N/mm²", "S", above=0)],
    end_factor: Annotated[SI, Ratio("", "C", above=0, at_most=4)],
) -> Annotated[SI, Force("N", "F_k")]:
    """Thrust under which a screw springs out sideways, or its steel gives first if it is stout."""
    area = np.pi * core_diameter**2 / 4
    slender = 16 * yield_strength * length**2 / (np.pi**2 * end_factor * elastic_modulus * core_diameter**2)
    return (area * yield_strength * np.where(slender <= 2, 1 - np.minimum(slender, 2) / 4, 1 / slender))[()]


@formula(
    r"n_w = \frac{r_w^2 d_3}{8 \pi L^2} \sqrt{\frac{E}{\rho}}",
    source=("shigley, critical speeds of shafts", "timoshenko, vibration of beams"),
    limits="core alone, no nut between the ends to steady it; the root r_w is 3.142 for two ends free to tilt, 3.927 with one clamped, 4.730 with both",
    rises_with=("end_root", "core_diameter", "elastic_modulus"),
    falls_with=("length", "density"),
)
def whirling_speed(
    end_root: Annotated[SI, Ratio("", r"r_w", above=0, at_most=5)],
    core_diameter: Core,
    length: FreeLength,
    elastic_modulus: ElasticModulus,
    density: Annotated[SI, Density("kg/m³", r"\rho", above=0)],
) -> Annotated[SI, RotationalSpeed("rpm", "n_w")]:
    """Speed at which a long screw bows out and skips like a rope."""
    return end_root**2 / length**2 * np.sqrt(elastic_modulus / density) * core_diameter / 4


# --- dials -----------------------------------------------------------------------------------------
@formula(
    r"s_r = \frac{p}{z}",
    source="definition",
    limits="one start; the screw moves the tool straight towards the axis",
    rises_with=("pitch",),
    falls_with=("divisions",),
)
def dial_step_on_radius(
    pitch: Pitch, divisions: Annotated[SI, Count("", "z", at_least=1, at_most=1000, whole=True)]
) -> Annotated[SI, Length("mm", "s_r")]:
    """How far one division of the dial moves the tool."""
    return pitch / divisions


@formula(
    r"s_d = \frac{2 p}{z}",
    source="definition",
    limits="one start; the screw moves the tool straight towards the axis",
    rises_with=("pitch",),
    falls_with=("divisions",),
)
def dial_step_on_diameter(
    pitch: Pitch, divisions: Annotated[SI, Count("", "z", at_least=1, at_most=1000, whole=True)]
) -> Annotated[SI, Length("mm", "s_d")]:
    """How much thinner one division of the dial turns the work: both sides lose what the tool moves."""
    return 2 * pitch / divisions
