"""Chapter 06, second part: loads, life, heat and play of what the spindle runs in."""

import numpy as np

from ...machine import alignment, bearings, enclosure, heat
from ...machine.bearings import BUSH, GROOVE, SLANTED_BALLS, SLANTED_ROLLERS, contact_of
from ...ranges import Range
from ...tables import table
from ...units import Angle, Area, Count, Duration, Expansion, Force, Length, Power, Ratio, Stiffness, Stress, TemperatureRise
from ..chain.entries import Column, Decision, Figure, Limit, node, result

CHAPTER = "06"
ARRANGEMENTS = ("back to back", "face to face")
_BALLS, _SLANTED = (GROOVE, SLANTED_BALLS), (SLANTED_BALLS, SLANTED_ROLLERS)


DECISIONS = [
    Decision(
        "bearing_arrangement",
        "arrangement of the bearings",
        "Which way round do slanted bearings stand?",
        CHAPTER,
        options=ARRANGEMENTS,
    ),
    Decision(
        "cold_end_play",
        "end play of the spindle, set cold",
        "How much end play is set while the headstock is cold? (a preload is below zero)",
        CHAPTER,
        Length("µm"),
        -30,
        60,
        1,
    ),
]

FIGURES = [
    Figure(
        "element_ratio",
        "ball or roller diameter over the seat",
        Ratio(),
        CHAPTER,
        "common_practice, table of bearings",
        lookup=Column("bearings", "bearing_kind", "element", missing=0.0),
    ),
    Figure(
        "element_count",
        "number of balls or rollers",
        Count(),
        CHAPTER,
        "common_practice, table of bearings",
        lookup=Column("bearings", "bearing_kind", "count", missing=0.0),
    ),
    Figure(
        "roller_length_ratio",
        "length of a roller over its diameter",
        Ratio(),
        CHAPTER,
        "common_practice, table of bearings",
        lookup=Column("bearings", "bearing_kind", "roller_length", missing=0.0),
    ),
    Figure(
        "contact_angle",
        "contact angle of the bearing",
        Angle(),
        CHAPTER,
        "common_practice, table of bearings",
        lookup=Column("bearings", "bearing_kind", "angle", missing=0.0),
    ),
    Figure(
        "life_exponent",
        "exponent of the bearing's life",
        Ratio(),
        CHAPTER,
        "iso_281, exponents of ball and roller bearings",
        lookup=Column("bearings", "bearing_kind", "exponent", missing=3.0),
    ),
    Figure(
        "own_dynamic_rating",
        "dynamic rating from the bearing's own sheet (zero where unknown)",
        Force(),
        CHAPTER,
        "definition",
        value=0.0,
    ),
    Figure(
        "own_static_rating",
        "static rating from the bearing's own sheet (zero where unknown)",
        Force(),
        CHAPTER,
        "definition",
        value=0.0,
    ),
    Figure(
        "preload_reference",
        "preload of a bearing on a 35 mm seat, warm",
        Force(),
        CHAPTER,
        "common_practice, table of bearings",
        lookup=Column("bearings", "bearing_kind", "preload", missing=0.0),
    ),
    Figure(
        "wished_life",
        "running hours the bearings should last",
        Duration("hours"),
        CHAPTER,
        ("shigley, Table 11-4, intermittent use", "common_practice, a low end for a lathe of a few hours a week"),
        value=Range(2000, 4000, 8000),
    ),
    Figure(
        "seat_give_share", "share of a squeeze that housing, spindle and nut take", Ratio("%"), CHAPTER, value=Range(20, 40, 60)
    ),
    Figure(
        "roller_friction",
        "friction factor of a taper roller bearing by its load",
        Ratio(),
        CHAPTER,
        "harris, torque by the load after Palmgren",
        value=Range(0.0003, 0.0004, 0.0006),
    ),
    Figure("pressure_limit", "pressure a plain bearing bears", Stress("N/mm²"), CHAPTER, value=Range(1.0, 2.0, 4.0)),
    Figure(
        "pv_limit",
        "pressure times rubbing speed that a plain bearing bears",
        bearings.PressureVelocity(),
        CHAPTER,
        "shigley, sintered and plain bronze",
        value=Range(1.0, 1.75, 2.5),
    ),
    Figure(
        "bearing_drag",
        "power the grease of both bearings takes at 2000 rev/min",
        Power("W"),
        CHAPTER,
        "common_practice, table of bearings",
        lookup=Column("bearings", "bearing_kind", "drag", missing=0.0),
    ),
    Figure(
        "spindle_warmer",
        "how much warmer the spindle runs than its housing at 2000 rev/min",
        TemperatureRise(),
        CHAPTER,
        "common_practice, table of bearings",
        lookup=Column("bearings", "bearing_kind", "warmer", missing=0.0),
    ),
    Figure(
        "headstock_passes",
        "heat that the headstock passes for its outside, with what spindle, chuck and bed take",
        enclosure.HeatPassed(),
        CHAPTER,
        (
            "incropera, free convection and radiation of a plate",
            "common_practice, as much again and more by chuck, pulley and bed",
        ),
        value=Range(20, 35, 60),
    ),
    Figure("drift_share", "share of the headstock's growth that goes sideways", Ratio("%"), CHAPTER, value=Range(5, 20, 50)),
    Figure(
        "steel_expansion",
        "expansion of steel and iron",
        Expansion(),
        CHAPTER,
        "shigley, Table 3-3",
        lookup=lambda: table("materials")["mild steel"]["expansion"],
    ),
    Figure(
        "work_expansion",
        "expansion of the work",
        Expansion(),
        CHAPTER,
        "shigley, Table 3-3",
        lookup=Column("materials", "work_material", "expansion"),
    ),
]
#: seat for which the preload of the table is told
_PRELOAD_OF = 0.035
#: speed for which the drag of the table is told, rad/s, and how drag grows with speed: grease round balls and rollers, oil in a plain bearing
_DRAG_AT, _GREASE, _OIL = 2000 * np.pi / 30, 5 / 3, 2.0
#: share of the load on the hardest pressed roller times their number, without play and with much; the play that is much, m
_ZONE, _WIDE_PLAY = (4.08, 5.0), 20e-6
#: cross load under which a stiffness is told, N on a seat of 35 mm: that of a middling cut, so that no deeper cut seems to stiffen the spindle
_PULL = 500.0
#: housing and rings give at least this share of what the table tells
_SEAT_LEAST = 0.2


# --- rating ------------------------------------------------------------------------------------------
@result(Length("mm"), "diameter of a ball or roller", CHAPTER, source="common_practice, table of bearings")
def element_diameter(spindle_diameter, element_ratio):
    """In proportion to the seat, as in light series; nothing in a plain bearing."""
    return spindle_diameter * element_ratio


@result(Force("N"), "dynamic rating worked out from balls or rollers", CHAPTER, source="iso_281, ball and roller bearings")
def reckoned_dynamic(bearing_kind, element_diameter, bearing_mean_diameter, contact_angle, element_count, roller_length_ratio):
    """Load for a million turns, from size and number of balls or rollers, of a pair side by side as one bearing; a plain bearing has none."""
    if contact_of(bearing_kind) in _BALLS:
        factor = bearings.ball_rating_factor.si(element_diameter, bearing_mean_diameter, contact_angle)
        return bearings.ball_dynamic_rating.si(
            factor, contact_angle, element_count, element_diameter, bearings.rows_of(bearing_kind)
        )
    if contact_of(bearing_kind) == SLANTED_ROLLERS:
        factor = bearings.roller_rating_factor.si(element_diameter, bearing_mean_diameter, contact_angle)
        return bearings.roller_dynamic_rating.si(
            factor, contact_angle, element_count, element_diameter, element_diameter * roller_length_ratio
        )
    return 0.0 * element_diameter


@result(Force("N"), "static rating worked out from balls or rollers", CHAPTER, source="iso_76, ball and roller bearings")
def reckoned_static(bearing_kind, element_diameter, bearing_mean_diameter, contact_angle, element_count, roller_length_ratio):
    """Load that begins to dent the tracks, from size and number of balls or rollers, of a pair side by side as one bearing; a plain bearing has none."""
    if contact_of(bearing_kind) in _BALLS:
        return bearings.ball_static_rating.si(
            element_diameter, bearing_mean_diameter, contact_angle, element_count, bearings.rows_of(bearing_kind)
        )
    if contact_of(bearing_kind) == SLANTED_ROLLERS:
        return bearings.roller_static_rating.si(
            element_diameter, bearing_mean_diameter, contact_angle, element_count, element_diameter * roller_length_ratio
        )
    return 0.0 * element_diameter


def _own_or(own, reckoned):
    return np.where(own > 0, own, reckoned)[()]


@result(Force("N"), "dynamic rating of a bearing", CHAPTER, source="iso_281, or the bearing's own sheet")
def dynamic_rating(own_dynamic_rating, reckoned_dynamic):
    """The figure from the bearing's own sheet where you put it in, else the one worked out."""
    return _own_or(own_dynamic_rating, reckoned_dynamic)


@result(Force("N"), "static rating of a bearing", CHAPTER, source="iso_76, or the bearing's own sheet")
def static_rating(own_static_rating, reckoned_static):
    """The figure from the bearing's own sheet where you put it in, else the one worked out."""
    return _own_or(own_static_rating, reckoned_static)


# --- load --------------------------------------------------------------------------------------------
@result(
    Force("N"),
    "preload of a bearing that is set as it should be",
    CHAPTER,
    source="common_practice, table of bearings, grown with the square of the size",
)
def usual_preload(preload_reference, spindle_diameter):
    """What spring or spacer presses with, and what slanted bearings have for which the table tells a stiffness."""
    return preload_reference * (spindle_diameter / _PRELOAD_OF) ** 2


@result(Length("µm"), "how far each bearing is pressed together when warm", CHAPTER, source="definition")
def bearing_approach(squeezed_when_warm, seat_give_share):
    """Half of the squeeze for each of the two, less what housing, spindle and nut give."""
    return squeezed_when_warm * (1 - seat_give_share) / 2


@result(
    Force("N"),
    "preload along the spindle when warm",
    CHAPTER,
    source=("palmgren, line contact", "common_practice, table of bearings"),
)
def preload(bearing_kind, usual_preload, bearing_approach, element_count, element_diameter, roller_length_ratio, contact_angle):
    """Taper rollers: what their own play, set cold, leaves of squeeze, and none where play is left. Else what spring, shim or spacer presses with."""
    if contact_of(bearing_kind) == SLANTED_ROLLERS:
        return bearings.squeeze_load.si(bearing_approach, element_count, element_diameter * roller_length_ratio, contact_angle)
    return usual_preload


def _stiffness_as_set(end: str):
    def body(
        bearing_kind,
        set_well,
        spindle_diameter,
        loose_when_warm,
        preload,
        usual_preload,
        element_count,
        element_diameter,
        roller_length_ratio,
        contact_angle,
    ):
        """Housing and rings as the table has them, and taper rollers as their squeeze or play makes them."""
        if contact_of(bearing_kind) != SLANTED_ROLLERS:
            return set_well
        rollers = (element_count, element_diameter * roller_length_ratio, contact_angle)
        load = _PULL * (spindle_diameter / _PRELOAD_OF) ** 2
        zone = _ZONE[0] + (_ZONE[1] - _ZONE[0]) * np.minimum(loose_when_warm / _WIDE_PLAY, 1.0)
        now = np.maximum(bearings.preloaded_stiffness.si(preload, *rollers), bearings.loaded_stiffness.si(load, zone, *rollers))
        usual = np.maximum(
            bearings.preloaded_stiffness.si(usual_preload, *rollers), bearings.loaded_stiffness.si(load, _ZONE[0], *rollers)
        )
        return 1 / (np.maximum(1 / set_well - 1 / usual, _SEAT_LEAST / set_well) + 1 / now)

    return result(
        Stiffness(),
        f"stiffness of the {end} bearing, as it is set",
        CHAPTER,
        name=f"{end}_stiffness_at_size",
        source=("harris, line contact after Palmgren", "common_practice, table of bearings for the housing"),
        set_well=f"{end}_stiffness_set_well",
    )(body)


@result(Force("N"), "thrust of the roughing cut", CHAPTER, source="common_practice, feed force over cutting force")
def cut_thrust(cutting_force, feed_share):
    """How hard the feed pushes the work towards the headstock."""
    return cutting_force * feed_share


def _loads(bearing_kind, thrust, front, rear, preload, contact_angle, static_rating):
    """Equivalent loads for life, front and rear, and the static one in front, under a push along the spindle."""
    if contact_of(bearing_kind) == BUSH:
        return 0.0 * front, 0.0 * rear, front
    x, y, x0, y0 = bearings.load_factors(bearing_kind, contact_angle, preload + thrust, static_rating)
    if contact_of(bearing_kind) == SLANTED_ROLLERS:
        on_front = bearings.front_thrust.si(front, rear, y, preload, thrust)
        on_rear = np.maximum(preload, rear / (2 * y))
    else:  # the front ball bearing, or the pair there, holds the spindle both ways
        on_front, on_rear = preload + thrust, preload
    one, two = bearings.combined_load.si(front, on_front, x, y), bearings.combined_load.si(rear, on_rear, x, y)
    if bearings.rows_of(bearing_kind) > 1:  # both rows carry while the thrust is small
        few = bearings.pair_factors(contact_angle)[0]
        one, two = np.maximum(one, front + few * on_front), np.maximum(two, rear + few * on_rear)
    return one, two, bearings.combined_load.si(front, on_front, x0, y0)


@result(
    Force("N"),
    "equivalent load for the life of the harder worked bearing",
    CHAPTER,
    source=("iso_281, equivalent load", "shigley, pairs of tapered bearings"),
)
def tiring_load(bearing_kind, cut_thrust, front_bearing_load, rear_bearing_load, preload, contact_angle, static_rating):
    """Cross load, thrust and preload as one figure, for the bearing that has it hardest; nothing tires a plain one."""
    front, rear, _ = _loads(
        bearing_kind, cut_thrust, front_bearing_load, rear_bearing_load, preload, contact_angle, static_rating
    )
    return np.maximum(front, rear)


@result(Force("N"), "equivalent load at rest on the front bearing", CHAPTER, source="iso_76, equivalent static load")
def rest_load(
    bearing_kind, cut_thrust, drilling_thrust, front_bearing_load, rear_bearing_load, preload, contact_angle, static_rating
):
    """The same with the thrust of the largest drill, which pushes harder than any turning tool."""
    thrust = np.maximum(cut_thrust, drilling_thrust)
    return _loads(bearing_kind, thrust, front_bearing_load, rear_bearing_load, preload, contact_angle, static_rating)[2]


@result(Ratio(), "static safety asked of the bearings", CHAPTER, source="iso_76, quiet running")
def safety_asked(bearing_kind):
    """Twice for quiet running; a plain bearing has no such figure."""
    return 0.0 if contact_of(bearing_kind) == BUSH else 2.0


@result(Stress("N/mm²"), "pressure in the front bearing, if it is plain", CHAPTER, source="shigley, journal bearings")
def journal_pressure(bearing_kind, front_bearing_load, spindle_diameter, bearing_width):
    """Load over the shadow of the journal; nothing where balls or rollers carry."""
    if contact_of(bearing_kind) == BUSH:
        return bearings.bearing_pressure.si(front_bearing_load, spindle_diameter, bearing_width)
    return 0.0 * front_bearing_load


# --- warm -------------------------------------------------------------------------------------------
@result(
    TemperatureRise("K"),
    "how much warmer the spindle runs than its housing at top speed",
    CHAPTER,
    source="common_practice, no source: the difference goes with the warmth that the bearings make",
)
def spindle_above_housing(bearing_kind, spindle_warmer, fastest_speed):
    """Brought from the speed of the table to yours, by the same power as the drag."""
    return spindle_warmer * (fastest_speed / _DRAG_AT) ** (_OIL if contact_of(bearing_kind) == BUSH else _GREASE)


@result(Length("µm"), "end play gained by running warm", CHAPTER, source="own_work, two cones grown against each other")
def play_gained(
    bearing_kind,
    bearing_arrangement,
    steel_expansion,
    spindle_above_housing,
    bearing_span,
    bearing_width,
    bearing_mean_diameter,
    contact_angle,
):
    """Below zero the bearings tighten. A spring on deep groove bearings and the collars of plain ones leave the play as it is."""
    if contact_of(bearing_kind) not in _SLANTED:
        return 0.0 * spindle_above_housing
    sense = 1.0 if bearing_arrangement == "back to back" else -1.0
    apart = bearings.adjusted_over(bearing_kind, bearing_span, bearing_width)
    return bearings.warm_play_change.si(
        steel_expansion, spindle_above_housing, sense, apart, bearing_mean_diameter, contact_angle
    )


@result(Length("µm"), "end play of the spindle when warm", CHAPTER, source="own_work, two cones grown against each other")
def warm_end_play(bearing_kind, cold_end_play, play_gained):
    """What is left of the end play at running temperature; below zero it is a squeeze. A spring leaves none."""
    return 0.0 * play_gained if contact_of(bearing_kind) == GROOVE else cold_end_play + play_gained


@result(Length("µm"), "looseness of the bearings when warm", CHAPTER)
def loose_when_warm(warm_end_play):
    """End play that is left, none where the bearings are squeezed."""
    return np.maximum(warm_end_play, 0.0)


@result(Length("µm"), "squeeze of the bearings when warm", CHAPTER)
def squeezed_when_warm(warm_end_play):
    """How far the bearings are pressed together beyond touching, none where play is left."""
    return np.maximum(-warm_end_play, 0.0)


@result(Length("µm"), "looseness of the bearings on a cold start", CHAPTER)
def loose_when_cold(cold_end_play, bearing_kind):
    """End play as it is set, none where the bearings are squeezed; a spring leaves none."""
    return 0.0 * cold_end_play if contact_of(bearing_kind) == GROOVE else np.maximum(cold_end_play, 0.0)


@result(Length("µm"), "squeeze of the bearings on a cold start", CHAPTER)
def squeezed_when_cold(cold_end_play, bearing_kind):
    """How far slanted bearings are pressed together cold, none where play is left."""
    return np.maximum(-cold_end_play, 0.0) if contact_of(bearing_kind) in _SLANTED else 0.0 * cold_end_play


@result(Length("mm"), "length of spindle that grows with heat towards the tool", CHAPTER)
def growing_length(spindle_overhang, cut_reach):
    """From the front bearing, which holds the spindle along its axis, to the cut."""
    return spindle_overhang + cut_reach


@result(Area("mm²"), "outside of the headstock, without its base", CHAPTER, source="common_practice, proportions of the list")
def headstock_surface(headstock_width, headstock_height, headstock_length):
    """Top, front, back and both ends of the block."""
    return headstock_width * headstock_length + 2 * headstock_height * (headstock_length + headstock_width)


@result(TemperatureRise("K"), "how warm the headstock grows above the room", CHAPTER, source="incropera, overall heat transfer")
def housing_rise(drag_at_top_speed, headstock_passes, headstock_surface):
    """At top speed for as long as it takes to level out: what grease and preload turn to warmth, over what the outside passes."""
    return drag_at_top_speed / (headstock_passes * headstock_surface)


@result(TemperatureRise("K"), "how warm the spindle grows above the room", CHAPTER)
def spindle_rise(housing_rise, spindle_above_housing):
    """Its housing's rise, and what it is warmer by."""
    return housing_rise + spindle_above_housing


@result(
    Length("µm"), "error of a warm diameter", CHAPTER, source="own_work, cooling of the work, drift sideways and height added"
)
def heat_error(cooling, axis_rise, drift_share, height_heat_error):
    """What a diameter is out by if the tool was set cold and the work is measured warm; drift counts twice."""
    return cooling + 2 * drift_share * axis_rise + height_heat_error


@result(
    Power("W"),
    "power the grease takes at top speed",
    CHAPTER,
    source=(
        "harris, torque without load by the cube of the mean diameter and the 2/3 power of the speed",
        "shigley, Petroff's law for plain bearings",
    ),
)
def grease_drag(bearing_kind, bearing_drag, spindle_diameter, bearing_reference, fastest_speed):
    """Brought from the seat and speed of the table to yours."""
    return (
        bearing_drag
        * (spindle_diameter / bearing_reference) ** 3
        * (fastest_speed / _DRAG_AT) ** (_OIL if contact_of(bearing_kind) == BUSH else _GREASE)
    )


@result(Power("W"), "power the preload takes at top speed", CHAPTER, source="harris, torque by the load after Palmgren")
def preload_drag(bearing_kind, roller_friction, contact_angle, preload, bearing_mean_diameter, fastest_speed):
    """In both bearings; counted for taper rollers, whose preload goes with their play. Of other kinds it is in the table."""
    if contact_of(bearing_kind) != SLANTED_ROLLERS:
        return 0.0 * preload
    return 2 * bearings.preload_friction.si(
        roller_friction, bearings.thrust_factors("roller", contact_angle)[1], preload, bearing_mean_diameter, fastest_speed
    )


@result(Power("W"), "power lost in both bearings at top speed", CHAPTER)
def drag_at_top_speed(grease_drag, preload_drag):
    """Grease and preload together; all of it turns to warmth."""
    return grease_drag + preload_drag


@result(Ratio("%"), "share of the motor that the bearings take at top speed", CHAPTER)
def bearing_drag_share(drag_at_top_speed, motor_power):
    """What is lost in the bearings over the power of the motor."""
    return drag_at_top_speed / motor_power


RESULTS = [
    grease_drag,
    preload_drag,
    drag_at_top_speed,
    bearing_drag_share,
    usual_preload,
    bearing_approach,
    _stiffness_as_set("front"),
    _stiffness_as_set("rear"),
    loose_when_cold,
    squeezed_when_cold,
    element_diameter,
    reckoned_dynamic,
    reckoned_static,
    dynamic_rating,
    static_rating,
    preload,
    cut_thrust,
    tiring_load,
    rest_load,
    safety_asked,
    journal_pressure,
    node(
        bearings.pressure_velocity,
        CHAPTER,
        name="journal_pressure_velocity",
        label="pressure times rubbing speed in the front bearing, if it is plain",
        pressure="journal_pressure",
        journal_diameter="spindle_diameter",
        spindle_speed="fastest_speed",
    ),
    node(
        bearings.bearing_life,
        CHAPTER,
        label="life of the harder worked bearing",
        load="tiring_load",
        exponent="life_exponent",
        spindle_speed="fastest_speed",
    ),
    node(
        bearings.load_for_life,
        CHAPTER,
        label="load a bearing may carry for the hours asked",
        exponent="life_exponent",
        life="wished_life",
        spindle_speed="fastest_speed",
    ),
    node(bearings.static_safety, CHAPTER, label="static safety of the front bearing", static_load="rest_load"),
    spindle_above_housing,
    play_gained,
    warm_end_play,
    loose_when_warm,
    squeezed_when_warm,
    growing_length,
    headstock_surface,
    housing_rise,
    spindle_rise,
    node(
        heat.thermal_growth,
        CHAPTER,
        name="axis_rise",
        label="rise of the spindle axis as it warms",
        expansion="steel_expansion",
        length="centre_height",
        temperature_rise="housing_rise",
    ),
    node(
        heat.thermal_growth,
        CHAPTER,
        name="nose_creep",
        label="growth of the spindle towards the tool",
        expansion="steel_expansion",
        length="growing_length",
        temperature_rise="spindle_rise",
    ),
    node(
        heat.thermal_growth,
        CHAPTER,
        name="cooling",
        label="shrinking of the work as it cools",
        expansion="work_expansion",
        length="work_diameter",
        temperature_rise="work_rise",
    ),
    node(
        alignment.height_error_on_diameter,
        CHAPTER,
        name="height_heat_error",
        label="error from the rise of the axis alone",
        diameter="work_diameter",
        height_error="axis_rise",
    ),
    heat_error,
]

LIMITS = [
    Limit(
        "bearings_last",
        "bearings last",
        CHAPTER,
        "tiring_load",
        "at most",
        "load_for_life",
        "Under the roughing cut the harder worked bearing carries {value}; to last the hours asked at top speed it may carry {limit}.",
        comfort=0.5,
        unasked="A plain bearing has no rated life: oil, pressure and cleanness decide.",
        opened_by="balls or rollers for the spindle",
        source="iso_281, basic rating life",
    ),
    Limit(
        "bearings_bear_knocks",
        "bearings bear the largest load",
        CHAPTER,
        "static_safety",
        "at least",
        "safety_asked",
        "The front bearing bears {value} times its largest load at rest; {limit} is asked for quiet running.",
        comfort=0.5,
        unasked="A plain bearing has no static rating: its pressure is looked at instead.",
        opened_by="balls or rollers for the spindle",
        source="iso_76, static safety",
    ),
    Limit(
        "journal_bears",
        "the plain bearing bears the pressure",
        CHAPTER,
        "journal_pressure",
        "at most",
        "pressure_limit",
        "The cut presses the journal with {value}; {limit} is borne with oil and low speed.",
        comfort=0.3,
        unasked="Balls or rollers carry the spindle, not a plain bearing.",
        opened_by="a plain bearing for the spindle",
    ),
    Limit(
        "journal_keeps_cool",
        "the plain bearing bears pressure and speed together",
        CHAPTER,
        "journal_pressure_velocity",
        "at most",
        "pv_limit",
        "In the roughing cut at top speed pressure times rubbing speed comes to {value}; bronze with a little oil bears {limit}. Past it the bush grows hot and seizes.",
        comfort=0.3,
        source="shigley, boundary-lubricated bearings",
        unasked="Balls or rollers carry the spindle, not a plain bearing.",
        opened_by="a plain bearing for the spindle",
        caution="A bush that seizes stops the spindle in one turn, and a heavy chuck or the work flies on: oil before every start, and stop when it squeals or is too hot for the hand.",
    ),
    Limit(
        "not_loose_warm",
        "bearings not loose when warm",
        CHAPTER,
        "loose_when_warm",
        "at most",
        5.0,
        "Warm, {value} of end play is left; beyond {limit} the spindle knocks along its axis.",
        comfort=0.2,
        clear="No end play is left when warm.",
    ),
    Limit(
        "not_tight_warm",
        "bearings not seized when warm",
        CHAPTER,
        "squeezed_when_warm",
        "at most",
        10.0,
        "Warm, the bearings are squeezed by {value}; beyond {limit} they drag, grow warmer still and may seize.",
        comfort=0.3,
        clear="Nothing is squeezed when warm.",
        caution="Set the bearings warm, run in with the guard shut, and stop when the housing is too hot for your hand.",
    ),
    Limit(
        "not_loose_cold",
        "bearings not loose on a cold start",
        CHAPTER,
        "loose_when_cold",
        "at most",
        20.0,
        "On a cold start {value} of end play is left: until the headstock is warm no fine cut is to be trusted; beyond {limit} the spindle knocks.",
        comfort=0.1,
        clear="No end play is left on a cold start.",
    ),
    Limit(
        "not_tight_cold",
        "bearings not squeezed on a cold start",
        CHAPTER,
        "squeezed_when_cold",
        "at most",
        10.0,
        "Cold, the bearings are squeezed by {value}; beyond {limit} they drag from the first turn.",
        comfort=0.3,
        clear="Nothing is squeezed on a cold start.",
        caution="Turn the spindle by hand before the motor: it must go round lightly.",
    ),
    Limit(
        "heat_leaves_size",
        "heat changes the size little enough",
        CHAPTER,
        "heat_error",
        "at most",
        "tolerance",
        "Set cold and measured warm, a diameter may be out by {value}; you want to hold {limit}.",
        comfort=0.5,
        source="common_practice, let the work cool and the machine warm up",
    ),
    Limit(
        "bearings_spare_motor",
        "the bearings leave the motor its power",
        CHAPTER,
        "bearing_drag_share",
        "at most",
        20.0,
        "At top speed the bearings take {value} of the motor's power; past {limit} they were set too tight for it.",
        comfort=0.3,
    ),
]
