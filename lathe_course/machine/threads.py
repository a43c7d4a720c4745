"""Threads: their profile, what it takes to cut and to measure them, and what an error of pitch does.

The profile is that of ISO 68-1, sixty degrees, which metric and unified inch threads share:
a sharp triangle of height H, cut off by H/8 at the crest and by H/4 at the root of the nut.
A screw turned on a lathe goes deeper, to a rounded root, so that the crest of the nut is free.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula, possible
from ..units import Angle, Area, Length, Pitch, Ratio

MajorDiameter = Annotated[SI, Length("mm", "d", above=0, at_most=500)]
ThreadPitch = Annotated[SI, Pitch("mm", "P", above=0, at_most=25)]
FlankAngle = Annotated[SI, Angle("deg", r"\alpha", at_least=20, at_most=90)]

_ISO = ("iso_68_1", "iso_724")
#: the steepest thread with a core: the root of the screw lies 17/24 of √3 P under the crest, on the diameter
_CORE = {
    "The pitch is too coarse for the diameter: nothing would be left at the root.": lambda diameter, pitch: (
        1.25 * pitch < diameter
    )
}
#: √3 / 2: height of the sharp triangle over its pitch
_SHARP = np.sqrt(3) / 2
#: the tolerances of ISO 965-1 are told for pitch and diameter in mm, and come out in µm
STANDARD_LENGTH = 1e-3


# --- profile -----------------------------------------------------------------------------------------
@formula(
    r"H = \frac{P}{2 \tan \left(\alpha / 2\right)}",
    source="iso_68_1, basic profile",
    limits="flanks alike on both sides, drawn out to a sharp point",
    rises_with=("pitch",),
    falls_with=("flank_angle",),
)
def triangle_height(pitch: ThreadPitch, flank_angle: FlankAngle) -> Annotated[SI, Length("mm", "H")]:
    """Height of the sharp triangle a thread is drawn from: 0.866 of the pitch at 60 deg."""
    return pitch / (2 * np.tan(flank_angle / 2))


@formula(
    r"h = \frac{17 \sqrt{3}}{48} P",
    source="iso_68_1, design profile of the screw",
    limits="60 deg thread of a screw with a root rounded to the full; from the crest at nominal diameter",
    rises_with=("pitch",),
)
def external_depth(pitch: ThreadPitch) -> Annotated[SI, Length("mm", "h")]:
    """How deep a thread is cut on the outside, measured along the radius: 0.613 of the pitch."""
    return 17 / 24 * _SHARP * pitch


@formula(
    r"h_i = \frac{5 \sqrt{3}}{16} P",
    source="iso_68_1, basic profile",
    limits="60 deg thread of a nut, bored to its minor diameter first",
    rises_with=("pitch",),
)
def internal_depth(pitch: ThreadPitch) -> Annotated[SI, Length("mm", "h_i")]:
    """How deep a thread is cut in a nut, measured along the radius: 0.541 of the pitch."""
    return 5 / 8 * _SHARP * pitch


@formula(
    r"h_w = \frac{P}{3 \tan 27.5\,\mathrm{deg}}",
    source="bs_84",
    limits="Whitworth form, 55 deg, crest and root rounded by a sixth of the triangle each",
    rises_with=("pitch",),
)
def whitworth_depth(pitch: ThreadPitch) -> Annotated[SI, Length("mm", "h_w")]:
    """Depth of the older inch thread with flanks at 55 deg: 0.640 of the pitch."""
    return pitch / (3 * np.tan(np.radians(27.5)))


@formula(
    r"d_2 = d - \frac{3 \sqrt{3}}{8} P",
    source=_ISO,
    limits="60 deg thread, basic size without tolerance",
    rises_with=("diameter",),
    falls_with=("pitch",),
    requires=_CORE,
)
def pitch_diameter(diameter: MajorDiameter, pitch: ThreadPitch) -> Annotated[SI, Length("mm", "d_2")]:
    """Diameter at which ridge and groove of a thread are equally wide: the one that decides the fit."""
    return possible(1.25 * pitch < diameter, diameter - 3 / 4 * _SHARP * pitch)


@formula(
    r"d_1 = d - \frac{5 \sqrt{3}}{8} P",
    source=_ISO,
    limits="60 deg thread, basic size without tolerance",
    rises_with=("diameter",),
    falls_with=("pitch",),
    requires=_CORE,
)
def minor_diameter(diameter: MajorDiameter, pitch: ThreadPitch) -> Annotated[SI, Length("mm", "d_1")]:
    """Bore of a nut before it is threaded, at its least."""
    return possible(1.25 * pitch < diameter, diameter - 5 / 4 * _SHARP * pitch)


@formula(
    r"d_3 = d - \frac{17 \sqrt{3}}{24} P",
    source=("iso_68_1, design profile of the screw", "iso_898_1"),
    limits="60 deg thread of a screw with a root rounded to the full",
    rises_with=("diameter",),
    falls_with=("pitch",),
    requires=_CORE,
)
def root_diameter(diameter: MajorDiameter, pitch: ThreadPitch) -> Annotated[SI, Length("mm", "d_3")]:
    """Diameter at the root of the screw: what is left of the bar."""
    return possible(1.25 * pitch < diameter, diameter - 17 / 12 * _SHARP * pitch)


@formula(
    r"A_s = \frac{\pi}{4} \left(\frac{d_2 + d_3}{2}\right)^2",
    source="iso_898_1, nominal stress area",
    limits="60 deg thread, in tension",
    rises_with=("pitch_diameter", "root_diameter"),
)
def stress_area(
    pitch_diameter: Annotated[SI, Length("mm", "d_2", above=0, at_most=500)],
    root_diameter: Annotated[SI, Length("mm", "d_3", above=0, at_most=500)],
) -> Annotated[SI, Area("mm²", "A_s")]:
    """Area with which a threaded bar carries a pull."""
    return np.pi / 4 * ((pitch_diameter + root_diameter) / 2) ** 2


# --- cutting -----------------------------------------------------------------------------------------
@formula(
    r"t = \frac{h}{\cos \beta}",
    source="definition",
    limits="topslide swung round by the angle from the line square to the work, so that the tool cuts on one flank",
    rises_with=("depth", "slide_angle"),
)
def flank_infeed(
    depth: Annotated[SI, Length("mm", "h", above=0, at_most=50)],
    slide_angle: Annotated[SI, Angle("deg", r"\beta", at_least=0, at_most=60)],
) -> Annotated[SI, Length("mm", "t")]:
    """How far the swung topslide must travel to reach a depth: more than the depth, for it comes in aslant."""
    return depth / np.cos(slide_angle)


# --- measuring ---------------------------------------------------------------------------------------
@formula(
    r"w = \frac{P}{2 \cos \left(\alpha / 2\right)}",
    source="machinerys_handbook, measuring threads over wires",
    limits="lead angle neglected, as for a single start; the wire that touches the flanks at the pitch line",
    rises_with=("pitch", "flank_angle"),
)
def measuring_wire(pitch: ThreadPitch, flank_angle: FlankAngle) -> Annotated[SI, Length("mm", "w")]:
    """Best thickness of the three wires laid into a thread to measure it: 0.577 of the pitch at 60 deg."""
    return pitch / (2 * np.cos(flank_angle / 2))


@formula(
    r"M = d_2 + w \left(1 + \frac{1}{\sin (\alpha / 2)}\right) - \frac{P}{2 \tan (\alpha / 2)}",
    source="machinerys_handbook, measuring threads over wires",
    limits="lead angle neglected, as for a single start; wires alike and resting on both flanks",
    rises_with=("pitch_diameter", "wire"),
    falls_with=("pitch",),
)
def over_wires(
    pitch_diameter: Annotated[SI, Length("mm", "d_2", above=0, at_most=500)],
    wire: Annotated[SI, Length("mm", "w", above=0, at_most=25)],
    pitch: ThreadPitch,
    flank_angle: FlankAngle,
) -> Annotated[SI, Length("mm", "M")]:
    """Reading of a micrometer over three wires laid in the thread, one on one side and two on the other."""
    return pitch_diameter + wire * (1 + 1 / np.sin(flank_angle / 2)) - pitch / (2 * np.tan(flank_angle / 2))


# --- errors of pitch ----------------------------------------------------------------------------------
@formula(
    r"\delta = e\, l",
    source="definition",
    limits="the same error from turn to turn, as change gears make it; a drunken thread is another matter",
    rises_with=("pitch_error", "length"),
)
def nut_misfit(
    pitch_error: Annotated[SI, Ratio("%", "e", at_least=0, at_most=100)],
    length: Annotated[SI, Length("mm", "l", at_least=0, at_most=10_000)],
) -> Annotated[SI, Length("µm", r"\delta")]:
    """How far screw and nut have drifted apart at the end of the length on which they engage."""
    return pitch_error * length


@formula(
    r"f = \frac{\delta}{\tan (\alpha / 2)}",
    source="npl_threads, virtual effective diameter",
    limits="stiff flanks, error spread evenly along the nut; the nut itself taken as true",
    rises_with=("misfit",),
    falls_with=("flank_angle",),
)
def diameter_equivalent(
    misfit: Annotated[SI, Length("µm", r"\delta", at_least=0, at_most=5_000)], flank_angle: FlankAngle
) -> Annotated[SI, Length("µm", "f")]:
    """How much thinner a screw must be cut, on the pitch diameter, to enter a nut its pitch does not match.

    1.73 times the misfit at 60 deg: the flanks turn a shift along the screw into one across it.
    """
    return misfit / np.tan(flank_angle / 2)


@formula(
    r"e_s = 15\,\mathrm{\mu m} + 11\,\mathrm{\mu m}\, \frac{P}{1\,\mathrm{mm}}",
    source="iso_965_1, fundamental deviation g",
    limits="screw of class g in a nut of class H; the standard rounds to whole µm",
    rises_with=("pitch",),
)
def play_allowance(
    pitch: Annotated[SI, Pitch("mm", "P", above=0, at_most=25, valid=(0.5, 8))],
) -> Annotated[SI, Length("µm", "e_s")]:
    """Play that is left between the tightest usual screw (6g) and the tightest usual nut (6H)."""
    return 1e-3 * (15 * STANDARD_LENGTH + 11 * pitch)


@formula(
    r"T = 90\,\mathrm{\mu m} \left(\frac{P}{1\,\mathrm{mm}}\right)^{0.4} \left(\frac{d}{1\,\mathrm{mm}}\right)^{0.1}",
    source="iso_965_1, tolerance grade 6",
    limits="grade 6, normal length of engagement; the standard takes a mean of the diameters in a step and rounds to preferred numbers",
    rises_with=("pitch", "diameter"),
)
def pitch_tolerance(
    pitch: Annotated[SI, Pitch("mm", "P", above=0, at_most=25, valid=(0.2, 8))],
    diameter: Annotated[SI, Length("mm", "d", above=0, at_most=500, valid=(1, 355))],
) -> Annotated[SI, Length("µm", "T")]:
    """Tolerance on the pitch diameter of a screw of medium quality (6g)."""
    return 0.09 * STANDARD_LENGTH * (pitch / STANDARD_LENGTH) ** 0.4 * (diameter / STANDARD_LENGTH) ** 0.1
