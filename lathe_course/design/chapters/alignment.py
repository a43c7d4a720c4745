"""Chapter 17: is it true, and what is to be corrected."""
import numpy as np

from ...machine import alignment
from ...tables import table
from ...units import Duration, Length, RotationalSpeed, TemperatureRise
from ..acceptance import CLASSES, TESTS
from ..parts_of_chain import Decision, Figure, Limit, node, result
from ..readings import Field, Sheet
from ..tested import WHEN

CHAPTER = "17"

SHEETS = [
    Sheet("alignment", "the test sheet", {
        "test": Field("which test", options=tuple(TESTS)),
        "when": Field("before or after you corrected it", options=WHEN),
        "readings": Field("the readings of one go with their units, parted by semicolons"),
        "over": Field("length the readings are apart; left out, that of the limit", Length("mm", above=0), optional=True),
        "remark": Field("anything odd", optional=True)},
        "One row is one go at one test; make three and the odd one shows. Plus is up, or towards the tool; "
        "an indicator whose plunger is pressed in reads plus. How each test is read stands in the order of tests above."),
    Sheet("run_in", "run-in of the spindle", {
        "speed": Field("speed of the spindle", RotationalSpeed("rpm", above=0)),
        "time": Field("since this speed began", Duration("min", at_least=0)),
        "rise": Field("housing above the room", TemperatureRise("K")),
        "remark": Field("noise, smell, grease that comes out", optional=True)},
        "Feel of a hand is not enough: a cheap thermometer on the housing of the front bearing, every ten minutes."),
]

DECISIONS = [
    Decision("acceptance_class", "class of the tests", "By which class of limits will you test the finished lathe?", CHAPTER, options=CLASSES),
    Decision("fixing_spacing", "spacing of the headstock's fixings", "How far apart along the bed are the front and rear fixings of the headstock?", CHAPTER,
             Length("mm", above=0), 30, 300, 5),
    Decision("elbow_height", "height of the elbow", "How high above the floor is the elbow of whoever will work at it, in shoes?", CHAPTER,
             Length("mm", above=0), 850, 1300, 5, movable=False),
    Decision("bench_height", "height of the bench", "How high is the top of the bench or stand?", CHAPTER, Length("mm", above=0), 500, 1100, 10),
    Decision("riser_height", "riser under the bed", "How high is what stands between bench and bed: feet, blocks, a chip tray?", CHAPTER,
             Length("mm", at_least=0), 0, 400, 5),
]

#: over which the limits of the axis hold, in mm
_BAR = 150.0

FIGURES = [
    Figure("axis_class_limit", "limit of the class for the axis sideways", Length("µm"), CHAPTER, "common_practice, table of tests",
           lookup=lambda acceptance_class: table("acceptance")["axis sideways"][acceptance_class]),
]


@result(Length("mm"), "height of the spindle above the floor", CHAPTER)
def spindle_height(bench_height, riser_height, bed_height, centre_height):
    """Bench, riser, bed and centre height on top of each other."""
    return bench_height + riser_height + bed_height + centre_height


@result(Length("mm"), "elbow above the spindle", CHAPTER)
def elbow_above_spindle(elbow_height, spindle_height):
    """How far the spindle lies below the elbow; minus where it stands above."""
    return elbow_height - spindle_height


@result(Length("mm"), "spindle from the height of the elbow", CHAPTER)
def off_the_elbow(elbow_above_spindle):
    """How far the spindle is from the height of the elbow, up or down."""
    return np.abs(elbow_above_spindle)


@result(Length("mm"), "riser that would bring the spindle to the elbow", CHAPTER)
def riser_wanted(riser_height, elbow_above_spindle):
    """The riser with which the spindle stands at the elbow; minus where the bench itself is too high."""
    return riser_height + elbow_above_spindle


RESULTS = [
    spindle_height, elbow_above_spindle, off_the_elbow, riser_wanted,
    node(alignment.tolerance_from_work, CHAPTER, name="axis_work_limit", label="limit that your work sets for the axis, held in the chuck",
         fixed={"copies": 2.0, "measured_length": _BAR}, part_tolerance="tolerance", share="error_share", work_length="work_length"),
    node(alignment.taper_from_axis, CHAPTER, name="taper_at_class_limit", label="taper that an axis at the limit of its class turns into work in the chuck",
         fixed={"measured_length": _BAR}, axis_error="axis_class_limit", work_length="work_length"),
    node(alignment.shim_thickness, CHAPTER, name="finest_shim", label="shim that takes away an axis just beyond the limit of your work",
         fixed={"measured_length": _BAR}, axis_error="axis_work_limit", fixing_spacing="fixing_spacing"),
]


@result(alignment.level_taper.inputs["level_difference"], "twist of the bed that your work allows", CHAPTER,
        source="definition")
def level_work_limit(tolerance, error_share, between_centres, work_length, centre_height):
    """Difference of level between both ends of the bed that takes the machine's share of the tolerance."""
    return alignment.tolerance_from_work.si(tolerance, error_share, 2.0, between_centres, work_length) / centre_height


RESULTS += [
    level_work_limit,
    node(alignment.foot_lift, CHAPTER, name="finest_lift", label="lift of a foot that takes such a twist away",
         level_difference="level_work_limit", foot_spacing="bed_width"),
]

LIMITS = [
    Limit("spindle_at_elbow", "spindle near the elbow", CHAPTER, "off_the_elbow", "at most", 100.0,
          "The spindle stands {value} from the height of your elbow; up to {limit} it can be worked at for an evening without a bent back or raised shoulders.",
          comfort=0.5, source=("common_practice, spindle at the height of the elbow", "kroemer_grandjean, light work a little below the elbow"),
          caution="A bench that is raised tips more easily: bolt it down, and lift the machine onto it with a hoist or as many hands as the lifting rules ask."),
]
