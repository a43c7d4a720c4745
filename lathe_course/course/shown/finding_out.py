"""How to find out what is known only roughly: which figures blur a result, and a way to narrow each.

The ways are common practice, no source: things to do with a spring balance, a thermometer, a
telephone call, before metal is cut.
"""

from __future__ import annotations

from ...design.chapters.parts import POWERS
from ...design.evaluation import Evaluation, Uncertain, blurred_by

_TWO_SIZES = "Ask the price of two sizes of the same thing, or look up in your own log how long two sizes took."
_SPRING_BALANCE = "Pull with a spring balance on a machine like yours, and read a dial indicator across this joint alone."
_TEST_CUT = "Borrow an hour on a lathe and measure the motor's power in and out of a cut; that takes force and wear together."
_TAP_TEST = "Take cuts of rising width on a lathe of the kind until you hear chatter; that fits this figure for that machine."
_TURN_AND_FEEL = "Turn a piece of your own material on a lathe of the kind, and hold it against a card of roughness samples, by eye and fingernail."
_NOSE = "Build the headstock first; pull the nose with a spring balance against a dial indicator."
_TELEPHONE = (
    "Hold a telephone with a sound meter where the ear would be, at a machine of the kind; it is right to a few decibels."
)
_FIRST_MONTHS = "Write down hours promised and hours kept for three months, before the first metal is bought."
_IDLE = "Measure the motor's power with the belt off, on, and under a brake."
_INDICATOR = "Ask to see it turn under an indicator before you pay, or turn it between centres and read it yourself."
_PAPER = "Ask whoever makes it for the figures of the last one; else it shows when the test is read for the first time."
_AGAIN = "Set it, leave it for a week, and read it again without looking at the first figures."
#: what can be done about a figure that is known only as a range; common practice
FIND_OUT = {
    "search_factor": "Follow the offers near you for a month, and write down when what you look for turns up.",
    "bad_find_factor": "Ask three people who buy old machines how many of their last ten finds were of use.",
    "loss_a_year": "Ask what a machine of the kind cost its owner, and when; hold it against what it is offered for now.",
    "selling_cost": "Ask what delivery of such a machine costs, and how far under the asking price the last one went.",
    "used_price": "Follow the used machines on offer near you for a month, and note size, state and price.",
    "used_hours": "Ask two people who put an old lathe in order how many evenings it took.",
    "hours_kept": _FIRST_MONTHS,
    "talk_loss": "After the first month together, count the evenings on which no metal was moved.",
    "beyond_bed": "Draw spindle, drive with its cover, and the wheel of the tailstock in place, and measure how far they stand out over the bed.",
    "cutting_speed": "Turn a piece of your own material at the lowest figure, go faster until the edge lasts less than you like.",
    "kc11": _TEST_CUT,
    "exponent": _TEST_CUT,
    "cut_condition": _TEST_CUT,
    "belt_efficiency": _IDLE,
    "bearing_efficiency": _IDLE,
    "gear_efficiency": "Read the watts of the motor with the spindle idle at one speed, with the back gear in and out.",
    "motor_efficiency": "Read the rating plate, or ask the maker for the curve.",
    "power_factor": "Read the rating plates of motor and controller.",
    "drill_feed_share": "Count the turns while a drill goes in by its own diameter under your hand.",
    "drill_condition": "Drill the same hole with the drill as it is and freshly ground, with a spring balance on the feed handle.",
    "thrust_ratio": "Pull the feed handle of a bench drill with a spring balance, the vice clamped down; times how far the hand moves over how far the drill moves it is the thrust.",
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
    "seat_give_share": "Tighten the nut by a tenth of a turn against a dial on the spindle's end: what does not show there, seats and nut have taken.",
    "roller_friction": "Read the watts of the motor with the spindle idle at two settings of the nut.",
    "pressure_limit": "Ask the merchant of the bronze for its sheet, and go by the running speed.",
    "spindle_warmer": "After half an hour at 2000 rev/min hold one thermometer to the nose and one to the housing; at half the speed the difference is a third.",
    "headstock_passes": "After half an hour at top speed hold a thermometer to the headstock, and one in the room: the drag at top speed over this rise, and over the outside of the headstock, is the figure.",
    "drift_share": "Set a dial indicator from the bed against the side of the spindle, cold, and read it again when the headstock is warm.",
    "work_rise": "Hold a thermometer to a piece just turned, as you would measure it.",
    "nose_seat": _SPRING_BALANCE,
    "post_give": _SPRING_BALANCE,
    "nut_wear_coefficient": "Weigh the half nuts when new, and again after a winter of which you know the hours; books tell it to a power of ten only.",
    "nut_hardness": "Ask the merchant of the metal for the hardness on its sheet.",
    "screw_grit": "Wipe the leadscrew with a white cloth after an hour of turning: what is on the cloth goes through the nut.",
    "half_nut_lengths": "Measure the half nuts, or the room the apron leaves them.",
    "threading_share": "When you cut a thread, look at the clock before and after, and again when the part is done.",
    "feeding_share": "For one evening write down when the feed is engaged and when not.",
    "worn_share": "Look through the list of jobs: within which stretch of the bed are most of them turned?",
    "screw_over_nut": "Measure the play of the nut at the worn end of an old lathe, and at the end that is never used.",
    "division_error": "Go round the ring with a pair of dividers set to one part: what is left or lacking at the end, over the number of parts, is the mean error.",
    "allowed_box_rise": "Read on the controller's sheet how warm the air around it may be, and take off a warm day in your room.",
    "controller_loss_share": "Read the losses on the controller's sheet, or hold a power meter before it and take off what the motor gives.",
    "heat_passed": "Put a lamp of known watts into a box of the kind, and read a thermometer in it after an hour.",
    "shield_room": "Hold a ruler between the open shield and the chuck.",
    "cooling_gain": "Turn one bar dry and one with oil by brush, at the same speed, until the edge lasts as long in both.",
    "pv_limit": "Ask the seller of the bush which metal it is, and what pressure and speed together his sheet allows.",
    "parting_feed": "Count the turns of the spindle while the blade goes in by two millimetres under your hand.",
    "blade_height_ratio": "Measure the blade that lies before you.",
    "post_back": "Take a tool off and put it on again ten times, and read its tip each time with a dial indicator.",
    "nose_friction": "Lay a block of the metal on the face, tilt it until it slides, and take the rise over the run.",
    "hand_on_rim": "Hook a spring balance to a bar across the chuck, and see how hard it must be pulled to unscrew what a hand screwed on.",
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
    "thrust_share": "Take the same cut with a freshly honed edge and with a worn one, a dial indicator against the toolpost, and see how far each is pushed back.",
    "roughness_rise": _TURN_AND_FEEL,
    "roughness_floor": _TURN_AND_FEEL,
    "force_change": "Turn ten pieces alike without touching the dial, and measure how far they scatter.",
    "damping": _TAP_TEST,
    "sway_angle": _TAP_TEST,
    "swaying_share": "Tap the tool with a plastic hammer and read the pitch with a telephone's tuner: that is its frequency.",
    "process_damping": _TAP_TEST,
    "tailstock_link": _SPRING_BALANCE,
    "seat_share": "Pull at the spindle with a spring balance, a dial on the bed against the headstock's foot, then against its top.",
    "slide_give": _SPRING_BALANCE,
    "centre_share": "Pull a stout bar first in the chuck, then between centres close to the headstock, and read a dial both times.",
    "plate_share": "Pull a stout piece first in the chuck, then clamped on the faceplate, and read a dial both times.",
    "twist_unevenness": "Shim one foot and read the level at five places along the bed: even twist rises by even steps.",
    "measured_compliance": "Read at more loads, higher ones, and twice.",
    "stock_runout": "Chuck a piece of your own stock and read an indicator over a turn.",
    "chuck_unevenness": "Pull a bar in the chuck with a spring balance at six places of a turn.",
    # slides and screws
    "cross_backlash": "Turn the dial to and fro under an indicator, and read how far it turns before the slide moves.",
    "cross_seat_stiffness": "Pull the cross-slide with a spring balance, the dial held, and read an indicator against it.",
    "collar_ratio": "Measure the thrust collar you have, or will have, and the screw.",
    "nut_friction": "Hang a weight on a cord round the handle of a screw like yours, and see which just turns it under load.",
    "nut_lengths": "Draw the nut in the room there is.",
    "nut_pressure_limit": "Ask the merchant of the nut's material for its sheet, and go by slow running with oil.",
    "way_pressure_limit": "Look for the figure of your pair of materials in the sheet of the softer one.",
    "slide_friction": "Pull a slide of the same materials, oiled, with a spring balance, and divide by its weight.",
    "start_over_moving": "Pull the same slide until it starts, and again while it moves.",
    "gib_preload": "Set the gib as you like it, and pull the slide with a spring balance before and after.",
    "gib_height": "Draw the gib in the room there is.",
    "rail_rating": "Read it in the paper that comes with the rail carriages.",
    "way_height": "Measure the rails that lie before you.",
    "way_mass": "Weigh the rails that lie before you, and divide by their length.",
    "way_price": "Ask two dealers for a pair of rails of your length.",
    "reaction_time": "Let a friend drop a ruler between your fingers: a drop of 200 mm is about 0.2 s.",
    "leadscrew_error": "Lay the screw beside a steel rule over its whole length, or ask for its class.",
    "screw_yield": "Ask the merchant for the strength of the bar.",
    "buckling_factor": "Look how the ends are held: two short bushes count 1, both ends clamped up to 4.",
    "joint_exponent": _SPRING_BALANCE,
    "joint_shear_ratio": _SPRING_BALANCE,
    "bolt_share": "Tighten one bolt as you always do, with a torque wrench beside it.",
    "torque_factor": "Oil and tighten one bolt with a torque wrench, and measure how much longer it has become.",
    "clamp_torque": "Pull the handle with a spring balance as you would clamp, and multiply by its length.",
    "clamp_friction": "Clamp a block on the bed, and push it with a spring balance or a weight until it slips.",
    "taper_friction": "Tap a clean taper home, and measure what it takes to turn it.",
    "depth_factor": "Draw the machine from the end, motor and handles in place, and measure the drawing.",
    # bed and its feet
    "bed_metal_price": "Ask two merchants for the price of a kilogram, cut to length.",
    "bed_price_ratio": "Ask a foundry, or a merchant, for a kilogram of the material beside one of steel.",
    "fill_price": "Ask for the price of a bag, and weigh what it fills.",
    "sag_share": "Lay a straightedge on the bench before and after it is loaded.",
    "way_crook": "Lay a straightedge you trust on the slideway, turn it end for end, and go along it with feelers or a level.",
    "shim_left": "Read the axis before and after the thinnest foil you have is slipped under one fixing.",
    "crook_sideways": "Stretch a thin wire along the slideway, and read the saddle's side against it under a glass.",
    "nose_as_made": _INDICATOR,
    "taper_as_made": _INDICATOR,
    "slip_as_made": _INDICATOR,
    "axis_as_made": _PAPER,
    "rise_as_made": _PAPER,
    "seats_as_made": "Push a true bar through both seats, and feel round it with foil.",
    "chuck_off_centre": "Indicator on the body of the chuck, spindle turned by hand with the plug out.",
    "square_as_made": _PAPER,
    "lead_of_cross_screw": "Wind the slide over a gauge block or a good steel rule under an indicator, and write down what the dial says.",
    "height_as_made": _PAPER,
    "barrel_rise_as_made": _PAPER,
    "barrel_side_as_made": _PAPER,
    "level_setting": _AGAIN,
    "axis_setting": _AGAIN,
    "offset_setting": _AGAIN,
    "axis_moved": "Take the headstock off and put it back before it is painted, and read the axis both times.",
    "bench_unrest": "Hang the weight of the machine on the bench for a month, and read a level across it at the beginning and at the end.",
    "stand_rocking": "Push the stand to and fro by hand until it swings most, and count the swings in ten seconds.",
    "floor_sag": "Ask whoever built the house for span and joists; or read a level while a friend walks past.",
    "rocking_damping": "Push the stand once, and count the swings until half is left; a tenth divided by that number is the share.",
    "stand_change": "Level the bed, wait for a month, and read the level again.",
    "weight_place": "Put bathroom scales under the single foot.",
    # hours, money and prices
    "own_pace": "Time one part from drawing to finish, and hold it against the hours of the list.",
    "rework_factor": "Count how many of your last ten parts were made twice.",
    "error_factor": "Turn or file ten pieces to one size, and measure how far they scatter.",
    "redo_share": "Write down the hours of the next part that you must make again.",
    "session_loss": "Look at the clock when you enter, when metal is first cut, when it is last cut, and when you leave.",
    "machine_hours": "Ask the owner or the club how many hours a month you may really count on.",
    "price_level": "Ask two dealers for the three dearest things on the list.",
    **{
        f"power_of_{what}": "Compare the list of a smaller lathe with that of a larger one; it tells only when your size is far from that of the list."
        for what in ("mass", "hours_here", "hours_outside", "material", "outside_work", "bought_things", "carriage", "tools")
    },
    **{name: _TWO_SIZES for name in POWERS.values() if any(word in name for word in ("_by_", "_price_of_"))},
    "power_of_error": "Make two practice pieces to two tolerances, and measure how true each came out.",
    # the place
    "bearer_modulus": "Load the bearer in the middle with a known weight, and measure how far it sags.",
    "bearer_strength": "Look at the stamp of its class on the timber, or ask the merchant.",
    "cutting_noise": _TELEPHONE,
    "drive_noise": _TELEPHONE,
    "grinding_noise": _TELEPHONE,
    "floor_beside": "Look how the boards and joists run, and ask somebody who builds.",
    "hand_room": "Carry an empty box of its size along the route.",
    "person_mass": "Step on bathroom scales, in boots.",
    "stand_mass": "Weigh the bench or stand, or add up its drawing.",
    "standing_depth": "Stand at a table of its depth and turn round with a bar in your hand.",
    "moves_in_ten_years": "Count the moves of the last ten years.",
    "taking_apart_hours": "Ask somebody who has moved a machine of the size.",
    "truing_hours": "Time it the first time you level and true it.",
    # running and keeping it
    "turning_hours": "Add up the hours of turning on the list of jobs, or ask two people who have such a lathe.",
    "load_share": "Read a plug-in meter of energy after an evening at a lathe of the kind, and divide by the hours.",
    "power_price": "Read it on the bill of your electricity.",
    "wear_price": "Ask two people who turn what they spent last year on tools and oil.",
    "ordered_price": "Send the drawing of one part to two shops, and divide their price by the hours you would take.",
    "repair_share": "Ask them what broke, and what it cost.",
    "space_price": "Divide the rent by the square metres; nothing where the place is there in any case.",
    "months_kept": "Look how long you have kept the tools you have.",
    "resale_share": "Look what home-built machines fetch near you, and how long they stand on offer.",
    "used_resale_share": "Ask a dealer what they would give for it a few years on.",
    "first_build_rate": "Write down hours planned and hours worked of the next three parts.",
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
