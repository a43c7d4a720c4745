"""Chapter 06: how thick, how long, on what."""
import numpy as np

from ...machine import spindle
from ...tables import table
from ...units import Length, Ratio, Speed, Stiffness, Stress
from ..parts_of_chain import Decision, Figure, Limit, node, result

CHAPTER = "06"
BEARINGS = tuple(table("bearings"))

DECISIONS = [
    Decision("spindle_diameter", "spindle diameter", "How thick is the spindle at and between the bearings?", CHAPTER, Length("mm", above=0), 16, 70, 1),
    Decision("spindle_overhang", "overhang of the nose", "How far does the nose stand out from the front bearing?", CHAPTER, Length("mm", above=0), 15, 100, 1),
    Decision("bearing_span", "bearing span", "How far apart are the bearings?", CHAPTER, Length("mm", above=0), 40, 350, 5),
    Decision("bearing_kind", "kind of bearing", "On what does the spindle run?", CHAPTER, options=BEARINGS),
    Decision("cut_reach", "from the nose to the cut", "How far beyond the nose is the cut, chuck and work together?", CHAPTER, Length("mm", at_least=0), 10, 200, 5),
]

FIGURES = [
    Figure("steel_modulus", "elastic modulus of steel", Stress("GPa"), CHAPTER, "shigley, Table A-5", lookup=lambda: table("materials")["mild steel"]["elastic_modulus"]),
    Figure("steel_shear_modulus", "shear modulus of steel", Stress("GPa"), CHAPTER, "shigley, Table A-5", lookup=lambda: table("materials")["mild steel"]["shear_modulus"]),
    Figure("front_stiffness", "radial stiffness of the front bearing", Stiffness(), CHAPTER, "common_practice, table of bearings",
           lookup=lambda bearing_kind: table("bearings")[bearing_kind]["stiffness"]),
    Figure("rear_stiffness", "radial stiffness of the rear bearing", Stiffness(), CHAPTER, "common_practice, table of bearings",
           lookup=lambda bearing_kind: table("bearings")[bearing_kind]["stiffness"]),
    Figure("bearing_reference", "seat for which the table of bearings holds", Length("mm"), CHAPTER,
           lookup=lambda bearing_kind: table("bearings")[bearing_kind]["seat"]),
    Figure("bearing_mean_ratio", "mean diameter of the bearing over its seat", Ratio(), CHAPTER,
           lookup=lambda bearing_kind: table("bearings")[bearing_kind]["mean_over_seat"]),
    Figure("speed_number_limit", "speed number the kind of bearing bears", Speed("mm/min"), CHAPTER, "common_practice, table of bearings",
           lookup=lambda bearing_kind: table("bearings")[bearing_kind]["speed_number"]),
]


@result(Speed("mm/min"), "speed number of the front bearing", CHAPTER, source="common_practice, speed number of a bearing")
def speed_number(fastest_speed, spindle_diameter, bearing_mean_ratio):
    """Revolutions a minute times mean diameter at the fastest speed: what a bearing's speed is judged by."""
    return fastest_speed / (2 * np.pi) * spindle_diameter * bearing_mean_ratio


_AT_CUT = {"overhang": "spindle_overhang", "span": "bearing_span", "reach": "cut_reach"}
_SHAFT = {"diameter": "spindle_diameter", "bore": "spindle_bore", "elastic_modulus": "steel_modulus"}


_AT_NOSE = {"overhang": "spindle_overhang", "span": "bearing_span", "fixed": {"reach": 0.0}}

RESULTS = [
    node(spindle.bearing_stiffness_at_size, CHAPTER, name="front_stiffness_at_size", label="front bearing at this size",
         reference_stiffness="front_stiffness", reference_diameter="bearing_reference", seat_diameter="spindle_diameter"),
    node(spindle.bearing_stiffness_at_size, CHAPTER, name="rear_stiffness_at_size", label="rear bearing at this size",
         reference_stiffness="rear_stiffness", reference_diameter="bearing_reference", seat_diameter="spindle_diameter"),
    node(spindle.bore_share, CHAPTER, label="stiffness lost to the bore", bore="spindle_bore", diameter="spindle_diameter"),
    node(spindle.shaft_compliance, CHAPTER, label="give of the shaft at the cut", shear_modulus="steel_shear_modulus", **_AT_CUT, **_SHAFT),
    node(spindle.bearing_compliance, CHAPTER, label="give of the bearings at the cut", front_stiffness="front_stiffness_at_size",
         rear_stiffness="rear_stiffness_at_size", **_AT_CUT),
    node(spindle.spindle_compliance, CHAPTER, label="give of the spindle at the cut"),
    node(spindle.shaft_compliance, CHAPTER, name="nose_shaft_compliance", label="give of the shaft at the nose",
         shear_modulus="steel_shear_modulus", **_AT_NOSE, **_SHAFT),
    node(spindle.bearing_compliance, CHAPTER, name="nose_bearing_compliance", label="give of the bearings at the nose",
         front_stiffness="front_stiffness_at_size", rear_stiffness="rear_stiffness_at_size", **_AT_NOSE),
    node(spindle.spindle_compliance, CHAPTER, name="nose_compliance", label="give of the spindle at the nose",
         shaft_compliance="nose_shaft_compliance", bearing_compliance="nose_bearing_compliance"),
    node(spindle.spindle_stiffness, CHAPTER, name="nose_stiffness", label="stiffness at the spindle nose", spindle_compliance="nose_compliance"),
    node(spindle.nose_deflection, CHAPTER, name="spindle_give", label="give of the spindle under the roughing cut", force="cutting_force",
         spindle_compliance="spindle_compliance"),
    node(spindle.best_span, CHAPTER, label="best bearing span", overhang="spindle_overhang", front_stiffness="front_stiffness_at_size",
         rear_stiffness="rear_stiffness_at_size", **_SHAFT),
    node(spindle.front_bearing_load, CHAPTER, label="load on the front bearing", force="cutting_force", **_AT_CUT),
    speed_number,
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


RESULTS += [span_over_best, bore_ratio, taper_wall]

LIMITS = [
    Limit("nose_stiff_enough", "nose stiff enough", CHAPTER, "nose_stiffness", "at least", 25.0,
          "The nose stands {value}; below {limit} a small lathe is known for chatter.", comfort=1.0),
    Limit("wall_left", "wall left round the bore", CHAPTER, "bore_ratio", "at most", 70.0,
          "The bore is {value} of the diameter; past {limit} the seat grows thin and loses a quarter of its stiffness.", comfort=0.1),
    Limit("taper_fits", "the taper fits in the nose", CHAPTER, "taper_wall", "at least", 3.0,
          "{value} of wall is left round the taper; {limit} is little.", comfort=0.5),
    Limit("span_near_best", "span near the best", CHAPTER, "span_over_best", "at most", 1.6,
          "The span is a factor of {value} from the best; up to {limit} little is lost.", comfort=0.15,
          source="koenigsberger, spindles"),
    Limit("bearings_fast_enough", "bearings bear the top speed", CHAPTER, "speed_number", "at most", "speed_number_limit",
          "At top speed the front bearing runs at a speed number of {value}; its kind bears {limit}.", comfort=0.3,
          caution="Run a new spindle in slowly, and stop if the housing grows too hot to hold your hand on."),
]
