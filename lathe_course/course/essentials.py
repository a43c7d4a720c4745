"""What is most worth saying about a design: its key results, and how to find out what blurs them."""
from __future__ import annotations

from ..design.evaluation import Evaluation, Uncertain, blurred_by

__all__ = ["BLURRED", "BUILD_OR_BUY", "DRAWS", "FIND_OUT", "KEY_RESULTS", "SIZES", "how_to_find_out", "worth_finding_out"]

#: draws for every spread that is shown, so that all pages show the same one
DRAWS = 2000
#: results a reader wants to see side by side, in the order of the chapters
KEY_RESULTS = ("swing_over_bed", "swing_over_slide", "share_that_fits", "machine_length", "step_ratio", "shoulder_speed", "cutting_force",
               "motor_power_needed", "low_speed_torque", "torque_needed", "supply_current", "nose_stiffness", "spindle_give", "bed_mass",
               "machine_stiffness", "size_error", "chatter_free_width", "ideal_roughness")
#: what building takes, and what a used machine of the size would
BUILD_OR_BUY = ("estimated_mass", "estimated_money", "estimated_hours", "months_can", "months_should", "hour_cost", "building_total",
                "used_price", "used_hours", "used_total", "price_of_learning")
#: decisions whose room says most: what the machine could still become
SIZES = ("centre_height", "between_centres", "spindle_diameter", "fastest_speed", "depth_of_cut")
#: results for which it is asked what blurs them
BLURRED = ("size_error", "chatter_free_width", "nose_stiffness", "motor_power_needed", "months_can", "building_total")

_SPRING_BALANCE = "Pull with a spring balance on a machine like yours, and read a dial indicator across this joint alone."
_TEST_CUT = "Borrow an hour on a lathe and measure the motor's power in and out of a cut; that takes force and wear together."
_TAP_TEST = "Take cuts of rising width on a lathe of the kind until it sings; that fits this figure for that machine."
_NOSE = "Build the headstock first; pull the nose with a spring balance against a dial indicator."
_FIRST_MONTHS = "Write down hours promised and hours kept for three months, before the first metal is bought."
#: what can be done about a figure that is known only as a range; common practice
FIND_OUT = {
    "estimated_mass": "Weigh what lies ready, and add up the parts of the drawing.",
    "estimated_hours": "Time one part from drawing to finish, and hold it against the hours you thought it would take.",
    "estimated_money": "Write the list of what must be bought, and ask two dealers for the three dearest things on it.",
    "used_price": "Follow the used machines on offer near you for a month, and note size, state and price.",
    "used_hours": "Ask two people who put an old lathe in order how many evenings it took.",
    "hours_kept": _FIRST_MONTHS,
    "months_worked": _FIRST_MONTHS,
    "talk_loss": "After the first month together, count the evenings on which no metal was moved.",
    "length_factor": "Draw headstock, tailstock and motor in place, and measure the drawing.",
    "cutting_speed": "Turn a piece of your own material at the lowest figure, go faster until the edge lasts less than you like.",
    "kc11": _TEST_CUT,
    "exponent": _TEST_CUT,
    "cut_condition": _TEST_CUT,
    "drive_efficiency": "Measure the motor's power with the belt off, on, and under a brake.",
    "motor_efficiency": "Read the rating plate, or ask the maker for the curve.",
    "power_factor": "Read the rating plates of motor and controller.",
    "drill_feed_share": "Count the turns while a drill goes in by its own diameter under your hand.",
    "drill_condition": "Drill the same hole with the drill as it is and freshly ground, with a spring balance on the feed lever.",
    "thrust_ratio": "Put bathroom scales under the work on a bench drill, and read them while it drills.",
    "start_torque_ratio": "Wind a cord with a spring balance round the pulley, and switch on while it holds.",
    "start_current_ratio": "Ask an electrician for a clamp meter that keeps the highest reading.",
    "brake_ratio": "Time the stop of the bare motor with the brake set in the inverter, and without.",
    "fan_full_share": "Run the motor under load at half its speed for half an hour, and hold a thermometer to it.",
    "fan_still_share": "Run the motor under load at a tenth of its speed for half an hour, and hold a thermometer to it.",
    "idle_share": "Read the watts of the motor with the belt off and with the spindle turning idle.",
    "breaker_ratio": "Read the letter on the breaker: B stands for 3 to 5 times its rating, C for 5 to 10.",
    "rotor_inertia": "Ask the maker's sheet, or time the bare motor as it runs up.",
    "pulley_width": "Draw the pulley with the belt you have.",
    "belt_friction": "Hang the belt over the pulley with a weight at one end, and pull the other with a spring balance until it slips.",
    "belt_mass": "Weigh the belt and divide by its length.",
    "front_stiffness": _NOSE,
    "rear_stiffness": _NOSE,
    "speed_number_limit": "Take it from the list of the bearing that lies before you, with its own grease or oil.",
    "bearing_drag": "Read the watts of the motor with the spindle turning idle, and again with the bearings eased.",
    "wished_life": "Count the hours it would run in a week, and the years you want of it.",
    "slope_limit": "Take it from the list of the bearing that lies before you, or ask whoever sells it for the tilt it bears.",
    "element_ratio": "Measure a ball or roller of the bearing that lies before you with a caliper.",
    "element_count": "Count the balls or rollers of the bearing that lies before you.",
    "contact_angle": "Take it from the list of the bearing, or measure how the track leans.",
    "preload_reference": "Press the spring or shim on bathroom scales until it is as flat as in the headstock.",
    "pressure_limit": "Ask the merchant of the bronze for its sheet, and go by the running speed.",
    "spindle_warmer": "After half an hour at top speed hold one thermometer to the nose and one to the housing.",
    "housing_rise": "After half an hour at top speed hold a thermometer to the headstock, and one in the room.",
    "drift_share": "Set a dial indicator from the bed against the side of the spindle, cold, and read it again when the headstock is warm.",
    "work_rise": "Hold a thermometer to a piece just turned, as you would measure it.",
    "pulley_mass_reference": "Weigh the pulley, or its drawing.",
    "chuck_length_ratio": "Measure the chuck you have, or will have, from its back to its face.",
    "chuck_fill": "Weigh the chuck and divide by a solid cylinder of its size.",
    "jaw_mass_reference": "Take one jaw out and weigh it.",
    "jaw_radius_ratio": "Measure from the middle of the chuck to the middle of a jaw that grips the usual work.",
    "grip_reference": "Grip a ring that springs, measure how far it closes, and press it as far on bathroom scales or with a weight.",
    "jaw_friction": "Grip a greased and a dry bar alike, and turn each with a bar and spring balance until it slips.",
    "held_share": "Look through the list of jobs: by which diameter is each held while its largest is turned?",
    "fill_ratio": "Cast a bar of the fill, lay it on two edges, load it and measure how far it bends.",
    "fill_density": "Weigh a cup of the fill.",
    "bed_joint_share": "Twist the bed, before the rest stands on it, with a long bar and a weight, and read a dial indicator.",
    "chuck_link": _SPRING_BALANCE,
    "headstock_link": _SPRING_BALANCE,
    "saddle_link": _SPRING_BALANCE,
    "cross_slide_link": _SPRING_BALANCE,
    "top_link": _SPRING_BALANCE,
    "toolpost_link": _SPRING_BALANCE,
    "radial_share": "A sharp tool with a keen nose and an edge square to the work keeps it low; a worn or round one drives it up.",
    "force_change": "Turn ten pieces alike without touching the dial, and measure how far they scatter.",
    "damping": _TAP_TEST,
    "sway_angle": _TAP_TEST,
    "swaying_share": "Tap the tool with a plastic hammer and read the pitch with a telephone's tuner: that is its frequency.",
    "process_damping": _TAP_TEST,
    "tailstock_link": _SPRING_BALANCE,
    "measured_compliance": "Read at more loads, higher ones, and twice.",
    "stock_runout": "Chuck a piece of your own stock and read an indicator over a turn.",
    "chuck_unevenness": "Pull a bar in the chuck with a spring balance at six places of a turn.",
    **{f"{name}_upright": _SPRING_BALANCE for name in ("chuck", "headstock", "saddle", "cross_slide", "top", "toolpost")},
}


def worth_finding_out(evaluation: Evaluation, result: str, most: int = 3, least: float = 0.2) -> list[Uncertain]:
    """The uncertain figures that blur a result most, the first most worth finding out; needs draws.

    ``least`` is the rank correlation below which a figure is not worth the trouble.
    """
    return [one for one in blurred_by(evaluation, result)[:most] if abs(one.weight) >= least]


def how_to_find_out(name: str) -> str:
    """A sentence on how a figure or a decision known as a range can be narrowed."""
    return FIND_OUT.get(name, "It is a decision of yours that is still a range: settle it.")
