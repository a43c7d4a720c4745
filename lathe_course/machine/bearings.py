"""What the spindle runs in: load, rating, life, static safety, pressure, and what heat does to the play.

The ratings follow the geometry of ISO 281 and ISO 76 from the size and number of balls or
rollers.  A figure read off the bearing's own sheet is better, and stands in its place.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated, Any

import numpy as np

from ..formula import SI, formula, possible
from ..tables import table
from ..units import (
    Angle,
    Count,
    Duration,
    Expansion,
    Force,
    Kind,
    Length,
    Power,
    Ratio,
    RotationalSpeed,
    Stiffness,
    Stress,
    TemperatureRise,
)

#: what carries in a bearing, by the table of bearings
BUSH, GROOVE, SLANTED_BALLS, SLANTED_ROLLERS = "bush", "groove", "slanted balls", "slanted rollers"
#: the ratings are printed for newtons and millimetres: figures with a dimension stand here
NEWTON_PER_MM2, MM = 1e6, 1e-3

Element = Annotated[SI, Length("mm", "w", above=0, at_most=100, valid=(2, 25.4))]
Roller = Annotated[SI, Length("mm", "w", above=0, at_most=100)]
RollerLength = Annotated[SI, Length("mm", "l", above=0, at_most=500)]
Mean = Annotated[SI, Length("mm", "d_m", above=0, at_most=2000)]
Contact = Annotated[SI, Angle("deg", r"\alpha", at_least=0, at_most=45)]
Elements = Annotated[SI, Count("", "Z", above=0, at_most=100)]
Rows = Annotated[SI, Count("", "i", at_least=1, at_most=4)]
Dynamic = Force("N", "C", above=0)
Static = Force("N", "C_0", above=0)
_ROOM = {
    "A ball or roller must be smaller than the mean diameter of the bearing.": lambda element_diameter, mean_diameter: (
        element_diameter < mean_diameter
    )
}


# --- ratings from the geometry -------------------------------------------------------------------------
def _one_way(ratio: Any, power: float, exponent: float) -> Any:
    """What the softer of two rings leaves when both must last: ratio of their ratings raised and added."""
    return (1 + (1.04 * ((1 - ratio) / (1 + ratio)) ** power) ** exponent) ** (-1 / exponent)


def PressureVelocity(symbol: str = "") -> Kind:
    """Pressure times speed of rubbing."""
    return Kind("pressure times speed", "N/mm²·m/s", symbol, example="1.75 N/mm²·m/s", at_least=0)


@formula(
    r"f_c = 144.1 \left[1 + \left(1.04 \left(\frac{d_m - w \cos\alpha}{d_m + w \cos\alpha}\right)^{1.72}\right)^{10/3}\right]^{-0.3}"
    r" \frac{(w \cos\alpha)^{0.3} (d_m - w \cos\alpha)^{1.39}}{d_m^{1.36} (d_m + w \cos\alpha)^{0.33}}",
    source="iso_281, explanatory notes, radial ball bearings",
    limits="one row, grooves of 0.52 ball diameters or closer; with figures in newtons and millimetres",
    requires=_ROOM,
)
def ball_rating_factor(element_diameter: Element, mean_diameter: Mean, contact_angle: Contact) -> Annotated[SI, Ratio("", "f_c")]:
    """Factor of a ball bearing's dynamic rating that depends on its proportions: 47 to 60, largest for fat balls."""
    ratio = element_diameter * np.cos(contact_angle) / mean_diameter
    ratio = np.where(ratio < 1, ratio, np.nan)[()]
    # 39.9 of the theory, a twentieth taken off as the standard does, and 26^0.41 for grooves of 0.52 diameters
    shape = 39.9 * 0.95 * 26**0.41 * ratio**0.3 * (1 - ratio) ** 1.39 / (1 + ratio) ** (1 / 3)
    return possible(element_diameter < mean_diameter, _one_way(ratio, 1.72, 10 / 3) * shape)


@formula(
    r"C = 1.3 f_c (i \cos\alpha)^{0.7} Z^{2/3} w^{1.8}",
    source="iso_281, radial ball bearings",
    limits="balls up to 25.4 mm, ordinary hardened bearing steel; C in newtons with w in millimetres; two rows share like one bearing "
    "where they are a pair set up together",
    rises_with=("rating_factor", "ball_count", "element_diameter", "rows"),
    falls_with=("contact_angle",),
)
def ball_dynamic_rating(
    rating_factor: Annotated[SI, Ratio("", "f_c", above=0, at_most=200)],
    contact_angle: Contact,
    ball_count: Elements,
    element_diameter: Element,
    rows: Rows = 1,
) -> Annotated[SI, Force("N", "C")]:
    """Load under which nine ball bearings in ten last a million turns."""
    size = NEWTON_PER_MM2 * element_diameter**2 * (MM / element_diameter) ** 0.2
    return 1.3 * rating_factor * (rows * np.cos(contact_angle)) ** 0.7 * ball_count ** (2 / 3) * size


@formula(
    r"f_c = 172.6 \left[1 + \left(1.04 \left(\frac{d_m - w \cos\alpha}{d_m + w \cos\alpha}\right)^{1.32}\right)^{9/2}\right]^{-2/9}"
    r" \frac{(w \cos\alpha)^{2/9} (d_m - w \cos\alpha)^{1.07}}{d_m^{1.04} (d_m + w \cos\alpha)^{0.25}}",
    source="iso_281, explanatory notes, radial roller bearings",
    limits="one row; with figures in newtons and millimetres",
    requires=_ROOM,
)
def roller_rating_factor(
    element_diameter: Roller, mean_diameter: Mean, contact_angle: Contact
) -> Annotated[SI, Ratio("", "f_c")]:
    """Factor of a roller bearing's dynamic rating that depends on its proportions: 52 to 89, largest for fat rollers."""
    ratio = element_diameter * np.cos(contact_angle) / mean_diameter
    ratio = np.where(ratio < 1, ratio, np.nan)[()]
    shape = 207.9 * 0.83 * ratio ** (2 / 9) * (1 - ratio) ** (29 / 27) / (1 + ratio) ** 0.25
    return possible(element_diameter < mean_diameter, _one_way(ratio, 143 / 108, 9 / 2) * shape)


@formula(
    r"C = 1.1 f_c (l \cos\alpha)^{7/9} Z^{3/4} w^{29/27}",
    source="iso_281, radial roller bearings",
    limits="one row, rollers straight or tapered (middle diameter); C in newtons with lengths in millimetres",
    rises_with=("rating_factor", "roller_count", "element_diameter", "roller_length"),
    falls_with=("contact_angle",),
)
def roller_dynamic_rating(
    rating_factor: Annotated[SI, Ratio("", "f_c", above=0, at_most=200)],
    contact_angle: Contact,
    roller_count: Elements,
    element_diameter: Roller,
    roller_length: RollerLength,
) -> Annotated[SI, Force("N", "C")]:
    """Load under which nine roller bearings in ten last a million turns."""
    bearing = (
        (roller_length / MM * np.cos(contact_angle)) ** (7 / 9) * (element_diameter / MM) ** (29 / 27) * NEWTON_PER_MM2 * MM**2
    )
    return 1.1 * rating_factor * roller_count**0.75 * bearing


def ball_static_factor(ratio: Any) -> Any:
    """f_0 of ISO 76 for radial ball bearings, from ball diameter times cosine of the contact angle over mean diameter.

    Up to about 0.09 the outer ring gives way first, beyond it the inner; the table is close to
    straight between the places given here.
    """
    return np.interp(ratio, (0.0, 0.09, 0.10, 0.20, 0.30), (14.7, 16.5, 16.4, 14.0, 11.8))


@formula(
    r"C_0 = \operatorname{f}\left(\frac{w \cos\alpha}{d_m}\right) i Z w^2 \cos\alpha",
    source="iso_76, radial ball bearings",
    limits="the factor f runs from 14.7 over 16.5 to 11.8 N/mm²",
    rises_with=("ball_count", "rows"),
    requires=_ROOM,
)
def ball_static_rating(
    element_diameter: Element, mean_diameter: Mean, contact_angle: Contact, ball_count: Elements, rows: Rows = 1
) -> Annotated[SI, Force("N", "C_0")]:
    """Load that begins to dent the track of a ball bearing by a ten-thousandth of the ball."""
    cosine = np.cos(contact_angle)
    factor = ball_static_factor(element_diameter * cosine / mean_diameter) * NEWTON_PER_MM2
    return possible(element_diameter < mean_diameter, factor * rows * ball_count * element_diameter**2 * cosine)


@formula(
    r"C_0 = 44 \left(1 - \frac{w \cos\alpha}{d_m}\right) Z l w \cos\alpha",
    source="iso_76, radial roller bearings",
    limits="one row; 44 in newtons for each square millimetre",
    rises_with=("roller_count", "roller_length"),
    requires=_ROOM,
)
def roller_static_rating(
    element_diameter: Roller, mean_diameter: Mean, contact_angle: Contact, roller_count: Elements, roller_length: RollerLength
) -> Annotated[SI, Force("N", "C_0")]:
    """Load that begins to dent the track of a roller bearing by a ten-thousandth of the roller."""
    cosine = np.cos(contact_angle)
    share = 1 - element_diameter * cosine / mean_diameter
    found = 44 * NEWTON_PER_MM2 * share * roller_count * roller_length * element_diameter * cosine
    return possible(element_diameter < mean_diameter, found)


# --- load -------------------------------------------------------------------------------------------
def thrust_factors(contact: str, contact_angle: Any) -> tuple[Any, Any, Any, Any]:
    """X, Y of the life and X₀, Y₀ of the static load, for ``contact`` "ball" (15 to 45 degrees) or "roller".

    Balls after the tables of ISO 281 and ISO 76, straight between the angles given there;
    tapered rollers by the cotangent.
    """
    if contact == "roller":
        cotangent = 1 / np.tan(contact_angle)
        return 0.4, 0.4 * cotangent, 0.5, 0.22 * cotangent
    rows = table("contact_angles")
    angles = [row["contact_angle"] for row in rows.values()]
    return tuple(np.interp(contact_angle, angles, [row[name] for row in rows.values()]) for name in ("x", "y", "x0", "y0"))


def groove_thrust_factor(relative_thrust: Any) -> Any:
    """Y of a deep groove ball bearing, from f_0 times thrust over static rating (ISO 281); X is 0.56, X₀ 0.6 and Y₀ 0.5."""
    thrusts = (0.172, 0.345, 0.689, 1.03, 1.38, 2.07, 3.45, 5.17, 6.89)
    return np.interp(relative_thrust, thrusts, (2.30, 1.99, 1.71, 1.55, 1.45, 1.31, 1.15, 1.04, 1.00))


#: ball diameter over mean diameter of light deep groove bearings, for the factor of the thrust alone
_GROOVE_RATIO = 0.17


def contact_of(kind: str) -> str:
    """What carries in a kind of the table of bearings: ``BUSH``, ``GROOVE``, ``SLANTED_BALLS`` or ``SLANTED_ROLLERS``."""
    return table("bearings")[kind]["contact"]


def rows_of(kind: str) -> float:
    """Rows of balls that are rated as one bearing, by the kind in the table of bearings."""
    return table("bearings")[kind]["rows"]


def pair_factors(contact_angle: Any) -> tuple[Any, Any, Any, Any]:
    """Of a pair of angular contact ball bearings side by side: Y where the thrust is small, X and Y where it is large, Y₀.

    X is 1 where the thrust is small, and X₀ is 1.  Straight between the angles of the tables of ISO 281 and ISO 76.
    """
    rows = table("contact_angles")
    angles = [row["contact_angle"] for row in rows.values()]
    return tuple(
        np.interp(contact_angle, angles, [row[name] for row in rows.values()])
        for name in ("pair_y_up_to_e", "pair_x", "pair_y", "pair_y0")
    )


def load_factors(kind: str, contact_angle: Any, thrust: Any, static_rating: Any) -> tuple[Any, Any, Any, Any]:
    """X, Y of the life and X₀, Y₀ of the static load of one row by its kind in the table of bearings, of a pair as one bearing under much thrust; SI."""
    contact = contact_of(kind)
    if contact == GROOVE:
        relative = ball_static_factor(_GROOVE_RATIO) * thrust / np.maximum(static_rating, 1.0)
        return 0.56, groove_thrust_factor(relative), 0.6, 0.5
    if rows_of(kind) > 1:
        _, x, y, y0 = pair_factors(contact_angle)
        return x, y, 1.0, y0
    return thrust_factors("roller" if contact == SLANTED_ROLLERS else "ball", contact_angle)


def adjusted_over(kind: str, span: Any, width: Any) -> Any:
    """How far apart the two cones stand that are set against each other: the span, or half the width of a pair side by side."""
    return width / 2 if rows_of(kind) > 1 else span


@formula(
    r"A = \max\left(\frac{R_1}{2 Y}, \max\left(V, \frac{R_2}{2 Y}\right) + T\right)",
    source=("shigley, pairs of tapered bearings", "iso_281, thrust factor Y"),
    limits="two bearings of one kind set against each other, the cut pushing towards the headstock; half of each bearing loaded; "
    "preload carried in full on top of the cut, which is on the safe side",
    rises_with=("front_load", "rear_load", "preload", "thrust"),
)
def front_thrust(
    front_load: Annotated[SI, Force("N", "R_1", at_least=0)],
    rear_load: Annotated[SI, Force("N", "R_2", at_least=0)],
    thrust_factor: Annotated[SI, Ratio("", "Y", above=0)],
    preload: Annotated[SI, Force("N", "V", at_least=0)],
    thrust: Annotated[SI, Force("N", "T", at_least=0)],
) -> Annotated[SI, Force("N", "A")]:
    """Push along the axis on the front bearing: a slanted bearing under a cross load pushes its partner."""
    own, other = front_load / (2 * thrust_factor), rear_load / (2 * thrust_factor)
    return np.maximum(own, np.maximum(preload, other) + thrust)


@formula(
    r"P = \max(R, X R + Y A)",
    source=("iso_281, equivalent load", "iso_76, equivalent static load"),
    limits="X and Y of the kind of bearing; the same form serves for life and for the load at rest",
    rises_with=("radial_load", "axial_load", "axial_factor", "radial_factor"),
)
def combined_load(
    radial_load: Annotated[SI, Force("N", "R", at_least=0)],
    axial_load: Annotated[SI, Force("N", "A", at_least=0)],
    radial_factor: Annotated[SI, Ratio("", "X", at_least=0, at_most=1)],
    axial_factor: Annotated[SI, Ratio("", "Y", at_least=0, at_most=20)],
) -> Annotated[SI, Force("N", "P")]:
    """The one cross load that would tire a bearing as much as cross load and thrust together."""
    return np.maximum(radial_load, radial_factor * radial_load + axial_factor * axial_load)


# --- squeeze, stiffness, friction of slanted rollers ------------------------------------------------------
#: a steel roller between its two tracks gives this many millimetres for Q newtons to the power 0.9 over its length in millimetres to the 0.8
PALMGREN, LINE_POWER = 2 * 3.84e-5, 0.9
Slant = Annotated[SI, Angle("deg", r"\alpha", at_least=5, at_most=45)]
_LINE = "steel rollers of full length on smooth tracks, all alike; the seats do not give with them"


def _roller_load(approach: Any, roller_length: Any) -> Any:
    """Load of one roller, N, whose two tracks come together by ``approach``."""
    return (approach / MM * (roller_length / MM) ** 0.8 / PALMGREN) ** (1 / LINE_POWER) * (NEWTON_PER_MM2 * MM**2)


def _roller_approach(load: Any, roller_length: Any) -> Any:
    """How far the tracks of one roller come together under ``load``."""
    return PALMGREN * (load / (NEWTON_PER_MM2 * MM**2)) ** LINE_POWER / (roller_length / MM) ** 0.8 * MM


@formula(
    r"V = Z \sin\alpha \left(\frac{\delta \sin\alpha\, l^{0.8}}{7.68 \cdot 10^{-5}}\right)^{10/9}",
    source=("harris, line contact after Palmgren", "palmgren, line contact"),
    limits=_LINE + "; V in newtons with lengths in millimetres",
    rises_with=("approach", "roller_count", "roller_length", "contact_angle"),
)
def squeeze_load(
    approach: Annotated[SI, Length("µm", r"\delta", at_least=0, at_most=1000)],
    roller_count: Elements,
    roller_length: RollerLength,
    contact_angle: Slant,
) -> Annotated[SI, Force("N", "V")]:
    """Push along the axis that presses the cone of a taper roller bearing into its cup by some micrometres."""
    return roller_count * np.sin(contact_angle) * _roller_load(approach * np.sin(contact_angle), roller_length)


@formula(
    r"k = \frac{Z \cos^2\alpha\; l^{0.8}}{1.8 \cdot 7.68 \cdot 10^{-5}} \left(\frac{V}{Z \sin\alpha}\right)^{0.1}",
    source=("harris, line contact after Palmgren", "own_work, stiffness of the rollers added over the ring"),
    limits=_LINE + "; all rollers pressed, small movement beside the squeeze; k in newtons a millimetre",
    rises_with=("preload", "roller_count", "roller_length"),
)
def preloaded_stiffness(
    preload: Annotated[SI, Force("N", "V", at_least=0, at_most=1e6)],
    roller_count: Elements,
    roller_length: RollerLength,
    contact_angle: Slant,
) -> Annotated[SI, Stiffness("N/µm", "k")]:
    """Stiffness across the axis of the rollers of a taper roller bearing that is squeezed along it."""
    one = np.maximum(preload / (roller_count * np.sin(contact_angle)), 1e-12 * (NEWTON_PER_MM2 * MM**2))
    return roller_count / 2 * np.cos(contact_angle) ** 2 / LINE_POWER * one / _roller_approach(one, roller_length)


@formula(
    r"k = \frac{R \cos\alpha\; l^{0.8}}{0.9 \cdot 7.68 \cdot 10^{-5}} \left(\frac{Z \cos\alpha}{z R}\right)^{0.9}",
    source=("harris, load on the hardest pressed roller", "palmgren, line contact"),
    limits=_LINE + "; z is 4.08 without play, when half of the ring carries, and about 5 with play; k in newtons a millimetre",
    rises_with=("load", "roller_count", "roller_length"),
    falls_with=("zone",),
)
def loaded_stiffness(
    load: Annotated[SI, Force("N", "R", at_least=0, at_most=1e6)],
    zone: Annotated[SI, Ratio("", "z", at_least=4, at_most=20)],
    roller_count: Elements,
    roller_length: RollerLength,
    contact_angle: Slant,
) -> Annotated[SI, Stiffness("N/µm", "k")]:
    """Stiffness across the axis of the rollers of a bearing that nothing squeezes, under a cross load."""
    load = np.maximum(load, 1e-12 * (NEWTON_PER_MM2 * MM**2))
    most = zone * load / (roller_count * np.cos(contact_angle))
    return load * np.cos(contact_angle) / (LINE_POWER * _roller_approach(most, roller_length))


@formula(
    r"P = f\, 2 Y V\, d_m\, 2 \pi n",
    source="harris, torque by the load after Palmgren",
    limits="taper roller bearing, load along the axis; f is about 0.0004; what the grease takes is another matter",
    rises_with=("preload", "mean_diameter", "spindle_speed"),
)
def preload_friction(
    friction_factor: Annotated[SI, Ratio("", "f", at_least=0, at_most=0.1)],
    thrust_factor: Annotated[SI, Ratio("", "Y", above=0)],
    preload: Annotated[SI, Force("N", "V", at_least=0, at_most=1e6)],
    mean_diameter: Mean,
    spindle_speed: Annotated[SI, RotationalSpeed("rpm", "n", at_least=0, at_most=1e5)],
) -> Annotated[SI, Power("W", "P")]:
    """Power that a squeeze along the axis costs in one bearing."""
    return friction_factor * 2 * thrust_factor * preload * mean_diameter * spindle_speed


# --- life, safety, pressure ---------------------------------------------------------------------------
@formula(
    r"L = \frac{10^6}{n} \left(\frac{C}{P}\right)^q",
    source="iso_281, basic rating life",
    limits="nine bearings in ten, clean and oiled, load no more than half the rating; q is 3 for balls, 10/3 for rollers; "
    "dirt and rust end most small lathes' bearings first",
    rises_with=("dynamic_rating",),
    falls_with=("load", "spindle_speed"),
)
def bearing_life(
    dynamic_rating: Annotated[SI, Force("N", "C", above=0, at_most=1e6)],
    load: Annotated[SI, Force("N", "P", above=0, at_most=1e6)],
    exponent: Annotated[SI, Ratio("", "q", at_least=3, at_most=3.34)],
    spindle_speed: Annotated[SI, RotationalSpeed("rpm", "n", above=0, at_most=1e5)],
) -> Annotated[SI, Duration("hours", "L")]:
    """Hours that nine bearings in ten run before their tracks begin to flake."""
    return 2 * np.pi * 1e6 / spindle_speed * (dynamic_rating / load) ** exponent


@formula(
    r"P = C \left(\frac{10^6}{n L}\right)^{1/q}",
    source="iso_281, basic rating life",
    limits="nine bearings in ten, clean and oiled; q is 3 for balls, 10/3 for rollers",
    rises_with=("dynamic_rating",),
    falls_with=("life", "spindle_speed"),
)
def load_for_life(
    dynamic_rating: Annotated[SI, Force("N", "C", at_least=0, at_most=1e6)],
    exponent: Annotated[SI, Ratio("", "q", at_least=3, at_most=3.34)],
    life: Annotated[SI, Duration("hours", "L", above=0, at_most=1e6)],
    spindle_speed: Annotated[SI, RotationalSpeed("rpm", "n", above=0, at_most=1e5)],
) -> Annotated[SI, Force("N", "P")]:
    """Load that a bearing may carry and last the hours that are asked of it."""
    return dynamic_rating * (2 * np.pi * 1e6 / (life * spindle_speed)) ** (1 / exponent)


@formula(
    r"S_0 = \frac{C_0}{P_0}",
    source="iso_76, static safety factor",
    limits="1 for ordinary running, 2 for quiet running, more where knocks must be borne",
    rises_with=("static_rating",),
    falls_with=("static_load",),
)
def static_safety(
    static_rating: Annotated[SI, Force("N", "C_0", above=0)], static_load: Annotated[SI, Force("N", "P_0", above=0)]
) -> Annotated[SI, Ratio("", "S_0")]:
    """How many times the load the bearing bears at rest before balls or rollers leave marks."""
    return static_rating / static_load


@formula(
    r"p = \frac{R}{B b}",
    source="shigley, journal bearings",
    limits="plain bearing; load spread evenly over its width",
    rises_with=("load",),
    falls_with=("journal_diameter", "width"),
)
def bearing_pressure(
    load: Annotated[SI, Force("N", "R", at_least=0)],
    journal_diameter: Annotated[SI, Length("mm", "B", above=0)],
    width: Annotated[SI, Length("mm", "b", above=0)],
) -> Annotated[SI, Stress("N/mm²", "p")]:
    """Pressure in a plain bearing, load over its shadow."""
    return load / (journal_diameter * width)


@formula(
    r"pv = \pi\, d\, n\, p",
    source=("shigley, boundary-lubricated bearings", "definition"),
    limits="bush that runs with little oil, steel on bronze; with a full film of oil heat is carried off and more is borne",
    rises_with=("pressure", "journal_diameter", "spindle_speed"),
)
def pressure_velocity(
    pressure: Annotated[SI, Stress("N/mm²", "p", at_least=0)],
    journal_diameter: Annotated[SI, Length("mm", "d", above=0)],
    spindle_speed: Annotated[SI, RotationalSpeed("rpm", "n", at_least=0)],
) -> Annotated[SI, PressureVelocity("pv")]:
    """Pressure in a plain bearing times the speed at which it rubs: the heat it makes goes with it."""
    return pressure * journal_diameter / 2 * spindle_speed


# --- warm -------------------------------------------------------------------------------------------
@formula(
    r"\delta = \beta T \left(s L - \frac{d_m}{\tan\alpha}\right)",
    source="own_work, two cones grown against each other",
    limits="spindle warmer than the housing throughout, steel in both; s is 1 back to back (the nut pulls the inner rings together) "
    "and -1 face to face",
    falls_with=("mean_diameter",),
)
def warm_play_change(
    expansion: Annotated[SI, Expansion("µm/(m·K)", r"\beta", above=0, at_most=100)],
    temperature_difference: Annotated[SI, TemperatureRise("K", "T", at_least=0, at_most=200)],
    sense: Annotated[SI, Ratio("", "s", at_least=-1, at_most=1)],
    span: Annotated[SI, Length("mm", "L", at_least=0, at_most=2000)],
    mean_diameter: Annotated[SI, Length("mm", "d_m", above=0, at_most=1000)],
    contact_angle: Annotated[SI, Angle("deg", r"\alpha", at_least=5, at_most=45)],
) -> Annotated[SI, Length("µm", r"\delta")]:
    """End play that two slanted bearings gain (or lose, below zero) when the spindle is warmer than its housing.

    Growing thicker always tightens.  Growing longer eases bearings that stand back to back, and
    tightens them face to face.
    """
    return expansion * temperature_difference * (sense * span - mean_diameter / np.tan(contact_angle))
