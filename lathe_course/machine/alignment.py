"""Commissioning: what readings say of a lathe, and what is to be shimmed, lifted, set over or turned.

Signs, here and on the test sheet: an axis that comes nearer to the tool at its free end counts
as plus, and so does one that rises.  An indicator on the toolpost whose plunger is pressed in
reads plus.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated, Any

import numpy as np

from ..formula import SI, formula, possible
from ..units import Density, Kind, Length, Ratio, RotationalSpeed, Slope, Speed, Stress, TemperatureRise

Error = Annotated[SI, Length("mm", "e")]
Over = Annotated[SI, Length("mm", "L", above=0)]
Diameter = Annotated[SI, Length("mm", "d", above=0)]
RunOut = Annotated[SI, Length("µm", "R", at_least=0)]
#: difference of two indicator readings half a turn apart, along one of two directions a quarter turn apart
_FOUR = "indicator square to the bar, four readings a quarter turn apart, error a plain eccentricity"


# --- how much is allowed --------------------------------------------------------------------------------
@formula(
    r"t = \max\left(t_0 \frac{L}{L_0},\, t_m\right)",
    source="iso_230_1, tolerance for another measuring length",
    limits="lengths not far from the one the tolerance is given for",
    rises_with=("tolerance", "measured_length", "least_tolerance"),
    falls_with=("reference_length",),
)
def tolerance_at_length(
    tolerance: Annotated[SI, Length("mm", "t_0", above=0)],
    reference_length: Annotated[SI, Length("mm", "L_0", above=0)],
    measured_length: Over,
    least_tolerance: Annotated[SI, Length("mm", "t_m", at_least=0)] = 0.005,
) -> Annotated[SI, Length("mm", "t")]:
    """Tolerance of a test made over another length: in proportion, but never less than a least one."""
    return np.maximum(tolerance * measured_length / reference_length, least_tolerance)


@formula(
    r"t = \max\left(\frac{s T L}{k l},\, t_m\right)",
    source=("definition", "common_practice, share of the tolerance left to the machine"),
    limits="this error alone; errors of several kinds add up",
    rises_with=("part_tolerance", "share", "measured_length", "least_tolerance"),
    falls_with=("copies", "work_length"),
)
def tolerance_from_work(
    part_tolerance: Annotated[SI, Length("µm", "T", above=0)],
    share: Annotated[SI, Ratio("%", "s", above=0, at_most=100)],
    copies: Annotated[SI, Ratio("", "k", above=0)],
    measured_length: Over,
    work_length: Annotated[SI, Length("mm", "l", above=0)],
    least_tolerance: Annotated[SI, Length("mm", "t_m", at_least=0)] = 0.005,
) -> Annotated[SI, Length("µm", "t")]:
    """Tolerance of a test that your own work asks for, by how many times the error is copied on its diameter.

    An axis out of line is copied twice, once on each side; a run-out once; less where a centre
    holds the free end, see ``bow_share``.  Never closer than what can be read.
    """
    return np.maximum(share * part_tolerance * measured_length / (copies * work_length), least_tolerance)


# --- axis, tailstock, feet --------------------------------------------------------------------------------
@formula(
    r"e = \frac{d_1 - d_2}{2}",
    source="definition",
    limits="two collars turned at one setting, with passes so light that nothing flexes",
    rises_with=("near_diameter",),
    falls_with=("far_diameter",),
)
def axis_swing(
    near_diameter: Annotated[SI, Length("mm", "d_1", above=0)], far_diameter: Annotated[SI, Length("mm", "d_2", above=0)]
) -> Annotated[SI, Length("µm", "e")]:
    """How far the axis comes towards the tool between two turned collars; minus where it leans away from it."""
    return (near_diameter - far_diameter) / 2


@formula(
    r"\Delta d = \frac{2 q e l}{L}",
    source="definition",
    limits="axis and slideway straight lines; error sideways, in the plane of the tool",
    rises_with=("axis_error", "work_length", "reach_of_error"),
    falls_with=("measured_length",),
)
def taper_from_axis(
    axis_error: Error,
    measured_length: Over,
    work_length: Annotated[SI, Length("mm", "l", above=0)],
    reach_of_error: Annotated[SI, Ratio("", "q", at_least=0, at_most=1)] = 1,
) -> Annotated[SI, Length("µm", r"\Delta d")]:
    """Difference in diameter along the work from an axis that is not parallel to the way.

    ``reach_of_error`` is 1 for work in the chuck alone, a fifth where a centre holds its far end
    and it can only bow, and 0 between centres: there the line from centre to centre is the axis.
    """
    return 2 * reach_of_error * axis_error * work_length / measured_length


@formula(
    r"s = \frac{e S}{L}",
    source="definition",
    limits="headstock and bed as rigid bodies; the other fixing left as it is",
    rises_with=("axis_error", "fixing_spacing"),
    falls_with=("measured_length",),
)
def shim_thickness(
    axis_error: Error, fixing_spacing: Annotated[SI, Length("mm", "S", above=0)], measured_length: Over
) -> Annotated[SI, Length("µm", "s")]:
    """Shim under, or beside, one of two fixings that takes an error of the axis away; or the depth to scrape off.

    The same proportion holds for a face that is not square: the fall is the error, the radius its length.
    """
    return axis_error * fixing_spacing / measured_length


@formula(
    r"x = \frac{D l}{2 L}",
    source="machinerys_handbook, taper turned by setting the tailstock over",
    limits="work between centres, small offset; a positive difference means larger at the tailstock",
    rises_with=("diameter_difference", "whole_length"),
    falls_with=("measured_length",),
)
def tailstock_offset(
    diameter_difference: Annotated[SI, Length("mm", "D")],
    whole_length: Annotated[SI, Length("mm", "l", above=0)],
    measured_length: Over,
) -> Annotated[SI, Length("mm", "x")]:
    """How far to move the tailstock towards the tool, from the diameters at two places of a bar between centres."""
    return diameter_difference / 2 * whole_length / measured_length


@formula(
    r"u = \varphi B \max\left(\frac{s}{L},\, 1\right)",
    source="definition",
    limits="bed on four feet, one of them moved, even twist between the pairs and none beyond; the bed must follow, so read the level again",
    rises_with=("level_difference", "foot_width", "foot_spacing"),
    falls_with=("measured_length",),
)
def foot_lift(
    level_difference: Annotated[SI, Slope("mm/m", r"\varphi")],
    foot_width: Annotated[SI, Length("mm", "B", above=0)],
    foot_spacing: Annotated[SI, Length("mm", "s", above=0)],
    measured_length: Over,
) -> Annotated[SI, Length("µm", "u")]:
    """How far to lift one foot so that the bed is as level across at one end as at the other.

    ``foot_width`` is across the bed, ``foot_spacing`` along it.  Where the level was read closer
    together than the feet stand, the whole twist between the feet is more than what was read.
    """
    return level_difference * foot_width * np.maximum(foot_spacing / measured_length, 1.0)


@formula(
    r"\Delta d = 2 h \varphi",
    source="definition",
    limits="work in the chuck alone; saddle rolls with the bed about the line of its twist, which lies below the slideways: the arm is that of the bed",
    rises_with=("level_difference", "arm"),
)
def level_taper(
    level_difference: Annotated[SI, Slope("mm/m", r"\varphi")], arm: Annotated[SI, Length("mm", "h", above=0)]
) -> Annotated[SI, Length("µm", r"\Delta d")]:
    """What a twisted bed turns into the diameter, from one place where the level was read to the other."""
    return 2 * arm * level_difference


@formula(
    r"\Delta d = \frac{2 \delta^2}{\sqrt{\frac{d^2}{4} + \delta^2} + \frac{d}{2}}",
    source="definition",
    limits="the tool was set to the diameter at centre height",
    rises_with=("height_error",),
    falls_with=("diameter",),
)
def height_error_on_diameter(
    diameter: Diameter, height_error: Annotated[SI, Length("mm", r"\delta", at_least=0)]
) -> Annotated[SI, Length("µm", r"\Delta d")]:
    """How much larger work comes out where the tool stands above or below the axis: a matter of second order."""
    radius = diameter / 2
    return 2 * height_error**2 / (np.sqrt(radius**2 + height_error**2) + radius)


# --- run-out ------------------------------------------------------------------------------------------------
@formula(r"R = \sqrt{(r_0 - r_{180})^2 + (r_{90} - r_{270})^2}", source="iso_230_1, run-out", limits=_FOUR)
def run_out(
    at_0: Annotated[SI, Length("µm", "r_0")],
    at_90: Annotated[SI, Length("µm", "r_{90}")],
    at_180: Annotated[SI, Length("µm", "r_{180}")],
    at_270: Annotated[SI, Length("µm", "r_{270}")],
) -> Annotated[SI, Length("µm", "R")]:
    """Run-out from four readings a quarter turn apart: what the indicator would sweep over a whole turn."""
    return np.hypot(at_0 - at_180, at_90 - at_270)


Along = Annotated[SI, Length("µm", "u_1")]
Across = Annotated[SI, Length("µm", "v_1")]
TurnedAlong = Annotated[SI, Length("µm", "u_2")]
TurnedAcross = Annotated[SI, Length("µm", "v_2")]
_REVERSAL = "iso_230_1, test bar turned half a turn in its taper"


@formula(
    r"R = \frac{1}{2}\sqrt{(u_1 + u_2)^2 + (v_1 + v_2)^2}",
    source=_REVERSAL,
    limits="bar turned by exactly half a turn; taper wiped clean each time",
)
def spindle_run_out(along: Along, across: Across, turned_along: TurnedAlong, turned_across: TurnedAcross) -> RunOut:
    """The spindle's own part of a run-out, the bar's error taken out by turning the bar half a turn in its taper.

    Each figure is the difference of two readings half a turn of the spindle apart: along from 0
    and 180 degrees, across from 90 and 270, first as found and then with the bar turned.
    """
    return np.hypot(along + turned_along, across + turned_across) / 2


@formula(
    r"R = \frac{1}{2}\sqrt{(u_1 - u_2)^2 + (v_1 - v_2)^2}",
    source=_REVERSAL,
    limits="bar turned by exactly half a turn; taper wiped clean each time",
)
def bar_run_out(along: Along, across: Across, turned_along: TurnedAlong, turned_across: TurnedAcross) -> RunOut:
    """The test bar's own part of a run-out: what goes round with the bar when the bar is turned."""
    return np.hypot(along - turned_along, across - turned_across) / 2


@formula(
    r"R = \sqrt{\left(R_1 \frac{L + a}{L}\right)^2 + \left(R_2 \frac{a}{L}\right)^2"
    r" - 2 R_1 R_2 \frac{a (L + a)}{L^2} \cos(\theta)}",
    source=("definition", "slocum, spindle error from bearing run-out"),
    limits="inner races run out once a turn; shaft straight",
)
def phased_run_out(
    front_run_out: Annotated[SI, Length("µm", "R_1", at_least=0)],
    rear_run_out: Annotated[SI, Length("µm", "R_2", at_least=0)],
    overhang: Annotated[SI, Length("mm", "a", at_least=0)],
    span: Annotated[SI, Length("mm", "L", above=0)],
    phase: Annotated[SI, Kind("angle", "deg", r"\theta", "angle", "180 deg", at_least=0, at_most=360)],
) -> RunOut:
    """Run-out at the nose from the run-outs of two bearings, and the angle between their high spots.

    With both high spots on one side the rear one tilts the axis so that the nose runs truer;
    on opposite sides the two add up.
    """
    front, rear = front_run_out * (1 + overhang / span), rear_run_out * overhang / span
    # written by half angles, so that two equal bearings in phase come out as zero and not as a rounding
    return np.sqrt((front - rear) ** 2 + 4 * front * rear * np.sin(phase / 2) ** 2)


def lobes(readings: Any) -> np.ndarray:
    """How far each number of lobes stands in readings evenly round one turn, peak to valley, in the unit of the readings.

    ``readings`` has shape (n,); the result has shape (n // 2 + 1,) and its entry k is the share
    that comes k times a turn: 1 an eccentricity, 2 an oval, 3 what the jaws of a three-jaw chuck leave.
    """
    values = np.asarray(readings, float)
    heights = 4 * np.abs(np.fft.rfft(values)) / len(values)
    heights[0] = 0.0
    if len(values) % 2 == 0:
        heights[-1] /= 2  # the fastest wave of an even count is met by one term, not by two
    return heights


def level_heights(slopes: Any, step: float) -> np.ndarray:
    """Heights of a way above the line between its ends, from a level moved on by its own length.

    ``slopes`` has shape (n,), as a ratio; ``step`` in m.  The result has shape (n + 1,), in m, and is zero at both ends.
    """
    heights = np.concatenate([[0.0], np.cumsum(np.asarray(slopes, float)) * step])
    return heights - heights[-1] * np.linspace(0, 1, len(heights))


# --- test bar, marks, warming -----------------------------------------------------------------------------------
@formula(
    r"y = \frac{2 \rho g L^4}{E d^2}",
    source="shigley, Table A-9, cantilever under its own weight",
    limits="solid round bar of one diameter, held like a beam in a wall",
    rises_with=("overhang", "density"),
    falls_with=("diameter", "elastic_modulus"),
)
def bar_sag(
    diameter: Diameter,
    overhang: Over,
    density: Annotated[SI, Density("kg/m³", r"\rho", above=0)],
    elastic_modulus: Annotated[SI, Stress("GPa", "E", above=0)],
    gravity: Annotated[SI, Kind("acceleration", "m/s²", "g", example="9.81 m/s²", above=0)] = 9.80665,
) -> Annotated[SI, Length("µm", "y")]:
    """How far a test bar hangs down at its free end by its own weight; take it off the rise you read."""
    return 2 * density * gravity * overhang**4 / (elastic_modulus * diameter**2)


@formula(
    r"f = \frac{v}{p}",
    source="definition",
    limits="marks even, and counted along the surface round the work",
    rises_with=("surface_speed",),
    falls_with=("mark_pitch",),
)
def mark_frequency(
    surface_speed: Annotated[SI, Speed("m/min", "v", above=0)], mark_pitch: Annotated[SI, Length("mm", "p", above=0)]
) -> Annotated[SI, RotationalSpeed("Hz", "f")]:
    """Frequency of the shaking that left marks on the work."""
    return 2 * np.pi * surface_speed / mark_pitch


@formula(
    r"N = \frac{\pi d}{p}",
    source="definition",
    limits="marks even; count them all the way round, which is surer than measuring one",
    rises_with=("diameter",),
    falls_with=("mark_pitch",),
)
def marks_in_a_turn(diameter: Diameter, mark_pitch: Annotated[SI, Length("mm", "p", above=0)]) -> Annotated[SI, Ratio("", "N")]:
    """Marks in one turn of the work.

    A whole number that stays at every speed is driven by the machine: a gear, a belt joint, a
    bearing.  A number that changes with the speed while the frequency stays is a part that rings.
    """
    return np.pi * diameter / mark_pitch


_SLOWING = {
    "The temperature must rise, and each rise must be smaller than the one before; "
    "where it is not, the housing is not on its way to a level.": lambda first, second, third: (
        (second > first) & (third > second) & (third - second < second - first)
    )
}


@formula(
    r"T = T_1 + \frac{(T_2 - T_1)^2}{2 T_2 - T_1 - T_3}",
    source="definition",
    limits="three readings evenly apart in time, one steady speed, warming that slows like any body that warms",
    requires=_SLOWING,
)
def levelled_rise(
    first: Annotated[SI, TemperatureRise("K", "T_1", at_least=0)],
    second: Annotated[SI, TemperatureRise("K", "T_2", at_least=0)],
    third: Annotated[SI, TemperatureRise("K", "T_3", at_least=0)],
) -> Annotated[SI, TemperatureRise("K", "T")]:
    """Temperature rise at which a warming headstock will level out, from three readings evenly apart in time."""
    gained, gaining = second - first, third - second
    return possible((gained > gaining) & (gaining > 0), first + gained**2 / np.where(gained > gaining, gained - gaining, 1.0))
