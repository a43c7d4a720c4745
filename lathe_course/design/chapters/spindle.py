"""Chapter 06: how thick, how long, on what."""

import numpy as np

from ...machine import rotor, spindle
from ...tables import table
from ...units import Angle, Density, Force, Length, Mass, Ratio, Speed, Stiffness, Stress
from ..chain.entries import Column, Decision, Figure, Limit, node, result
from ..chain.fitted import by_way

CHAPTER = "06"
BEARINGS = tuple(table("bearings"))

DECISIONS = [
    Decision(
        "spindle_diameter",
        "spindle diameter",
        "How thick is the spindle at and between the bearings?",
        CHAPTER,
        Length("mm", above=0),
        16,
        70,
        1,
    ),
    Decision(
        "spindle_overhang",
        "overhang of the spindle nose",
        "How far does the nose stand out from the front bearing?",
        CHAPTER,
        Length("mm", above=0),
        15,
        100,
        1,
    ),
    Decision("bearing_span", "bearing span", "How far apart are the bearings?", CHAPTER, Length("mm", above=0), 40, 350, 5),
    Decision("bearing_kind", "kind of bearing", "On what does the spindle run?", CHAPTER, options=BEARINGS),
    Decision(
        "cut_reach",
        "distance from the spindle nose to the cut",
        "How far beyond the nose is the cut, chuck and work together?",
        CHAPTER,
        Length("mm", at_least=0),
        10,
        200,
        5,
    ),
]


def _stiffness(figure):
    """The range of the table, as seats, spindle and bearings are made and set."""

    def lookup(bearing_kind, making, skill):
        return by_way(
            figure, table("bearings")[bearing_kind]["stiffness"], making, "bearing_stiffness", skill, bearing_kind=bearing_kind
        )

    return lookup


_SEATED = ("common_practice, table of bearings", "common_practice, table of making")
FIGURES = [
    Figure(
        "steel_modulus",
        "elastic modulus of steel",
        Stress("GPa"),
        CHAPTER,
        "shigley, Table A-5",
        lookup=lambda: table("materials")["mild steel"]["elastic_modulus"],
    ),
    Figure(
        "steel_shear_modulus",
        "shear modulus of steel",
        Stress("GPa"),
        CHAPTER,
        "shigley, Table A-5",
        lookup=lambda: table("materials")["mild steel"]["shear_modulus"],
    ),
    Figure(
        "front_stiffness",
        "radial stiffness of the front bearing",
        Stiffness(),
        CHAPTER,
        _SEATED,
        lookup=_stiffness("front_stiffness"),
    ),
    Figure(
        "rear_stiffness",
        "radial stiffness of the rear bearing",
        Stiffness(),
        CHAPTER,
        _SEATED,
        lookup=_stiffness("rear_stiffness"),
    ),
    Figure(
        "bearing_reference",
        "seat for which the table of bearings holds",
        Length("mm"),
        CHAPTER,
        lookup=Column("bearings", "bearing_kind", "seat"),
    ),
    Figure(
        "bearing_mean_ratio",
        "mean diameter of the bearing over its seat",
        Ratio(),
        CHAPTER,
        lookup=Column("bearings", "bearing_kind", "mean_over_seat"),
    ),
    Figure(
        "speed_number_limit",
        "speed number the kind of bearing bears",
        Speed("mm/min"),
        CHAPTER,
        "common_practice, table of bearings",
        lookup=Column("bearings", "bearing_kind", "speed_number"),
    ),
    Figure(
        "slope_limit",
        "slope the kind of bearing bears",
        Angle("mrad"),
        CHAPTER,
        "common_practice, table of bearings; shigley, Table 7-2",
        lookup=Column("bearings", "bearing_kind", "slope"),
    ),
    Figure(
        "bearing_width_ratio",
        "width of the bearing over its seat",
        Ratio(),
        CHAPTER,
        lookup=Column("bearings", "bearing_kind", "width_over_seat"),
    ),
    Figure(
        "spindle_density",
        "density of steel",
        Density(),
        CHAPTER,
        "shigley, Table A-5",
        lookup=lambda: table("materials")["mild steel"]["density"],
    ),
]


@result(Length("mm"), "width of a bearing", CHAPTER, source="common_practice, table of bearings")
def bearing_width(spindle_diameter, bearing_width_ratio):
    """How much room one bearing (or one pair) takes along the spindle."""
    return spindle_diameter * bearing_width_ratio


@result(Length("mm"), "mean diameter of the front bearing", CHAPTER, source="common_practice, table of bearings")
def bearing_mean_diameter(spindle_diameter, bearing_mean_ratio):
    """Midway between bore and outside, where balls and rollers run."""
    return spindle_diameter * bearing_mean_ratio


@result(Force("N"), "load of the roughing cut across the spindle", CHAPTER)
def cut_load(cutting_force, radial_share):
    """Cutting force and the force along the radius together, at right angles."""
    return cutting_force * np.sqrt(1 + radial_share**2)


@result(Mass("kg"), "mass of the spindle pulley", CHAPTER, source="common_practice, table of parts, drivers and laws")
def pulley_mass(part_masses):
    """That of the part, from diameters and width of its steps; nothing where a list has no such part."""
    names = part_masses["names"]
    return (
        part_masses["finished"][..., names.index("spindle pulley")]
        if "spindle pulley" in names
        else 0.0 * part_masses["finished"].sum(axis=-1)
    )


@result(
    Length("mm"),
    "from the middle of a bearing to the outside of its cover",
    CHAPTER,
    source="common_practice, proportions of the list",
)
def bearing_end(bearing_width, centre_height):
    """Half a bearing, the wall of the headstock beside it, and the cover on that."""
    return bearing_width / 2 + 0.14 * centre_height


@result(
    Length("mm"),
    "overhang of the spindle pulley",
    CHAPTER,
    source="common_practice, the pulley sits as close behind the headstock as its cover lets it",
)
def pulley_overhang(bearing_end, pulley_stack, belt_step_count):
    """From the middle of the rear bearing to that of the slowest step: half a bearing, the wall and the cover beside it, and half a step."""
    return bearing_end + pulley_stack / belt_step_count / 2


_AT_CUT = {"overhang": "spindle_overhang", "span": "bearing_span", "reach": "cut_reach"}
_SHAFT = {"diameter": "spindle_diameter", "bore": "spindle_bore", "elastic_modulus": "steel_modulus"}
_BELT = {"belt_pull": "belt_pull", "pulley_overhang": "pulley_overhang"}
_AT_NOSE = {"overhang": "spindle_overhang", "span": "bearing_span", "fixed": {"reach": 0.0}}

RESULTS = [
    node(
        spindle.bearing_stiffness_at_size,
        CHAPTER,
        name="front_stiffness_set_well",
        label="stiffness of the front bearing, set as it should be",
        reference_stiffness="front_stiffness",
        reference_diameter="bearing_reference",
        seat_diameter="spindle_diameter",
    ),
    node(
        spindle.bearing_stiffness_at_size,
        CHAPTER,
        name="rear_stiffness_set_well",
        label="stiffness of the rear bearing, set as it should be",
        reference_stiffness="rear_stiffness",
        reference_diameter="bearing_reference",
        seat_diameter="spindle_diameter",
    ),
    node(
        spindle.bore_share, CHAPTER, label="spindle stiffness lost to its bore", bore="spindle_bore", diameter="spindle_diameter"
    ),
    node(
        spindle.shaft_compliance,
        CHAPTER,
        label="give of the shaft at the cut",
        shear_modulus="steel_shear_modulus",
        **_AT_CUT,
        **_SHAFT,
    ),
    node(
        spindle.shear_coefficient,
        CHAPTER,
        label="share of the spindle's area that counts in shear",
        shear_modulus="steel_shear_modulus",
        **_SHAFT,
    ),
    node(spindle.shaft_bending_compliance, CHAPTER, label="give of the shaft at the cut by bending alone", **_AT_CUT, **_SHAFT),
    node(
        spindle.shaft_shear_compliance,
        CHAPTER,
        label="give of the shaft at the cut by shear alone",
        shear_modulus="steel_shear_modulus",
        **_AT_CUT,
        **_SHAFT,
    ),
    node(
        spindle.bearing_compliance,
        CHAPTER,
        label="give of the bearings at the cut",
        front_stiffness="front_stiffness_at_size",
        rear_stiffness="rear_stiffness_at_size",
        **_AT_CUT,
    ),
    node(spindle.spindle_compliance, CHAPTER, label="give of the spindle at the cut"),
    node(
        spindle.shaft_compliance,
        CHAPTER,
        name="nose_shaft_compliance",
        label="give of the shaft at the nose",
        shear_modulus="steel_shear_modulus",
        **_AT_NOSE,
        **_SHAFT,
    ),
    node(
        spindle.bearing_compliance,
        CHAPTER,
        name="nose_bearing_compliance",
        label="give of the bearings at the nose",
        front_stiffness="front_stiffness_at_size",
        rear_stiffness="rear_stiffness_at_size",
        **_AT_NOSE,
    ),
    node(
        spindle.spindle_compliance,
        CHAPTER,
        name="nose_compliance",
        label="give of the spindle at the nose",
        shaft_compliance="nose_shaft_compliance",
        bearing_compliance="nose_bearing_compliance",
    ),
    node(
        spindle.spindle_stiffness,
        CHAPTER,
        name="nose_stiffness",
        label="stiffness at the spindle nose",
        spindle_compliance="nose_compliance",
    ),
    node(
        spindle.nose_deflection,
        CHAPTER,
        name="spindle_give",
        label="movement of the spindle under the roughing cut",
        force="cutting_force",
        spindle_compliance="spindle_compliance",
    ),
    node(
        spindle.best_span,
        CHAPTER,
        label="best bearing span",
        overhang="spindle_overhang",
        front_stiffness="front_stiffness_at_size",
        rear_stiffness="rear_stiffness_at_size",
        **_SHAFT,
    ),
    bearing_width,
    bearing_end,
    bearing_mean_diameter,
    cut_load,
    pulley_mass,
    pulley_overhang,
    node(spindle.front_bearing_load, CHAPTER, label="load on the front bearing", force="cut_load", **_AT_CUT, **_BELT),
    node(spindle.rear_bearing_load, CHAPTER, label="load on the rear bearing", force="cut_load", **_AT_CUT, **_BELT),
    node(
        spindle.bearing_slope,
        CHAPTER,
        label="slope of the spindle in the front bearing",
        force="cut_load",
        front_stiffness="front_stiffness_at_size",
        rear_stiffness="rear_stiffness_at_size",
        shear_modulus="steel_shear_modulus",
        **_AT_CUT,
        **_SHAFT,
    ),
    node(
        spindle.bearing_top_speed,
        CHAPTER,
        label="top speed the front bearing bears",
        speed_number="speed_number_limit",
        mean_diameter="bearing_mean_diameter",
    ),
    node(
        rotor.critical_speed,
        CHAPTER,
        label="first critical speed of the spindle",
        overhang="spindle_overhang",
        span="bearing_span",
        shear_modulus="steel_shear_modulus",
        density="spindle_density",
        front_stiffness="front_stiffness_at_size",
        rear_stiffness="rear_stiffness_at_size",
        **_SHAFT,
    ),
    node(
        rotor.speed_below_whirl,
        CHAPTER,
        name="whirl_reserve",
        label="first critical speed over the top speed",
        spindle_speed="fastest_speed",
    ),
]


@result(Ratio(), "bearing span over the best", CHAPTER)
def span_over_best(bearing_span, best_span):
    """How far the span you chose is from the best, as a ratio."""
    return np.maximum(bearing_span / best_span, best_span / bearing_span)


@result(Ratio("%"), "bore over spindle diameter", CHAPTER)
def bore_ratio(spindle_bore, spindle_diameter):
    """The bore as a share of the diameter: the wall that is left carries the bearing."""
    return spindle_bore / spindle_diameter


@result(Length("mm"), "wall of the nose round the taper", CHAPTER)
def taper_wall(spindle_diameter, taper_diameter):
    """What is left of the front seat outside the large end of the taper."""
    return np.maximum((spindle_diameter - taper_diameter) / 2, 0.0)


@result(
    Angle("mrad"),
    "slope of the spindle in the front bearing, seats out of line included",
    CHAPTER,
    source="definition, both slopes added",
)
def bearing_tilt(bearing_slope, seats_as_made, bearing_span):
    """A spindle through two seats that do not lie in line stands aslant in both before any cut bends it."""
    return bearing_slope + seats_as_made / bearing_span


RESULTS += [span_over_best, bore_ratio, taper_wall, bearing_tilt]

LIMITS = [
    Limit(
        "nose_stiff_enough",
        "spindle nose stiff enough",
        CHAPTER,
        "nose_stiffness",
        "at least",
        25.0,
        "The nose stands {value}; below {limit} a small lathe is known for chatter.",
        comfort=1.0,
    ),
    Limit(
        "wall_left",
        "enough wall left round the spindle bore",
        CHAPTER,
        "bore_ratio",
        "at most",
        70.0,
        "The bore is {value} of the diameter; past {limit} the seat grows thin and loses a quarter of its stiffness.",
        comfort=0.1,
    ),
    Limit(
        "taper_fits",
        "the taper fits in the spindle nose",
        CHAPTER,
        "taper_wall",
        "at least",
        3.0,
        "{value} of wall is left round the taper; {limit} is little.",
        comfort=0.5,
    ),
    Limit(
        "span_near_best",
        "bearing span near the best",
        CHAPTER,
        "span_over_best",
        "at most",
        1.6,
        "The span is a factor of {value} from the best; up to {limit} little is lost.",
        comfort=0.15,
        source="koenigsberger, spindles",
    ),
    Limit(
        "bearings_have_room",
        "room for both bearings",
        CHAPTER,
        "bearing_span",
        "at least",
        "bearing_width",
        "The middles of the bearings stand {value} apart and each is {limit} wide: below that they would overlap.",
        comfort=0.5,
    ),
    Limit(
        "bearings_stay_straight",
        "the bearings bear the slope",
        CHAPTER,
        "bearing_tilt",
        "at most",
        "slope_limit",
        "Under the roughing cut, and with its seats as they come out of line, the spindle stands aslant in the front bearing by {value}; its kind bears {limit}.",
        comfort=0.5,
        source="common_practice, table of bearings; shigley, Table 7-2",
    ),
    Limit(
        "bearings_fast_enough",
        "bearings bear the top speed",
        CHAPTER,
        "fastest_speed",
        "at most",
        "bearing_top_speed",
        "You want {value} at the top; a bearing of this kind and size bears {limit}.",
        comfort=0.3,
        caution="Run a new spindle in slowly, and stop if the housing grows too hot to hold your hand on.",
    ),
    Limit(
        "spindle_does_not_whirl",
        "top speed far below the spindle's critical speed",
        CHAPTER,
        "whirl_reserve",
        "at least",
        2.0,
        "The first critical speed is {value} times the top speed; {limit} is the usual least.",
        comfort=0.5,
        source="shigley, critical speeds",
        caution="A bent bar that sticks out behind whirls long before the spindle does. Support it, and start slowly.",
    ),
]
