"""What pushes on what in the trade, arrow by arrow: each is carried by the chain, or it is said why it is a question.

An arrow goes from some decisions, figures or things given (the jobs, the lists of the build,
what partners bring) to results or findings.  Its words are those of a builder.
"""

from cases import every

from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import LATHE

#: what it says -> (from, to); from each of the first a change must reach each of the others
CARRIED = {
    # purpose
    "the largest real work sets swing and length": ("jobs", "shaft_clears_slide disc_clears_bed length_suffices"),
    "the tightest tolerance on the list sets how true the machine must be": ("jobs", "tolerance_is_met"),
    "what is turned sets force, power and speeds": (
        "work_material",
        "cutting_force power_suffices torque_suffices cut_stays_quiet",
    ),
    "metals and diameters of the jobs set the speeds": ("jobs", "slow_enough fast_enough"),
    "threads on the list ask for gears and leadscrew": ("jobs leadscrew_pitch change_wheels", "threads_can_be_cut"),
    "cutting threads brings parts, hours and money": ("threading", "own_hours cash_total months_to_finish"),
    "a drive of the feed brings parts, hours and money": ("feed_drive", "own_hours cash_total months_to_finish parts_mass"),
    "the longest bar sets the bore": ("jobs", "bar_passes"),
    "few simple parts are cheaper ordered out": ("turning_hours ordered_price", "ordered_a_year"),
    "wanting to learn turns an hour from cost into gain": (
        "reason_learning reason_making reason_company",
        "hour_cost building_by_parts",
    ),
    "a used lathe is the other way to get one": ("used_price used_hours", "used_total building_over_buying"),
    # size
    "mass and footprint grow with the size": (
        "centre_height between_centres",
        "parts_mass floor_load length_is_there place_bears_parts",
    ),
    "what stands along the bed makes the machine as long as it is": (
        "tailstock_base spindle_overhang bearing_span saddle_length",
        "length_is_there standing_area floor_taken",
    ),
    "large parts leave the reach of the machines at hand": ("centre_height between_centres", "every_part_can_be_had"),
    "stiffness does not keep step with the size": ("centre_height", "bed_stiff_enough cut_stays_quiet size_held"),
    "torque grows with the largest diameter": ("jobs", "torque_needed pace_held"),
    "material, outside work and accessories cost more with the size": (
        "centre_height between_centres",
        "material_money outside_money tools_money carriage_money",
    ),
    "surfaces to fit grow with the size": ("centre_height between_centres", "own_hours months_to_finish"),
    # accuracy
    "runout of bearings and seats goes straight to the work": ("bearing_kind", "round_enough"),
    "who makes and fits a joint decides how much it gives": ("making skill moved_as", "size_held cut_stays_quiet shape_held"),
    "seats bored and set by whom decide how stiffly the spindle runs": (
        "making skill",
        "nose_stiff_enough bearings_stay_straight",
    ),
    "play, friction and lead come with nut, screw and slide as they are made": (
        "making skill",
        "little_backlash slide_moves_finely saddle_slides_freely",
    ),
    "straightness, axis and twist come with way, hands, setting and stand": (
        "making skill acceptance_class fixing_spacing feet",
        "set_true_enough",
    ),
    "what it stands on moves its feet and rocks it": (
        "stands_on bench_span bearers bearer_height",
        "bed_stays_true rocking_speed",
    ),
    "what moves house never stops bedding itself in": ("home", "bed_stays_true"),
    "a tall stand and a weak floor rock slower": ("bench_height riser_height floor_bears", "rocking_speed"),
    "what twists the bed is copied on the work": ("feet bed_width", "bed_stays_true"),
    "a finer tolerance costs hours and money": ("tolerance", "own_hours cash_total months_to_finish"),
    "the class decides the limits of the test": ("acceptance_class", "axis_class_limit"),
    # place
    "the floor limits the mass": ("floor_bears centre_height", "floor_carries_it"),
    "the place limits the mass": ("mass_limit centre_height", "place_bears_parts"),
    "the door limits the width": ("door_width moved_as", "goes_through_door"),
    "stairs and corners limit the length": ("passage_width landing_width between_centres", "goes_round_corner"),
    "who lifts limits the pieces": ("lifted_by moved_as centre_height", "lift_within_guidance"),
    "the supply limits the motor": ("supply_limit supply_voltage", "supply_suffices supply_bears_start"),
    "what moves house must come true again": ("home moved_as feet", "moving_hours moves_leave_time"),
    "moves take months from the build": ("home moved_as", "build_hours_can months_to_finish finished_in_time"),
    "noise limits what may be done in a day": ("drive_kind grinding_hours session_hours", "noise_within_dose"),
    "heat moves the size": ("work_material centre_height", "heat_leaves_size"),
    "the bearings' drag is the headstock's warmth": ("fastest_speed spindle_diameter cold_end_play", "heat_leaves_size"),
    # hours and money
    "hours and money a month cap the size": ("hours_can money_can centre_height", "finished_in_time"),
    "what an hour is worth weighs building against buying": (
        "hour_price reason_saving",
        "building_by_parts building_over_buying",
    ),
    "the calendar follows the scarcer of hours and money": ("hours_can money_can", "months_to_finish"),
    "what should be spent binds sooner than what can": ("hours_should money_should", "finished_in_balance"),
    "contingency takes months": ("confidence", "contingency months_of_money"),
    "the real cost opens the question of buying again": ("centre_height material_prices", "building_over_buying"),
    "a date beyond patience forces a smaller machine": ("patience centre_height", "finished_in_time"),
    "a slow plan calls for a partner": ("builders", "months_to_finish finished_in_time"),
    # people
    "partners add hours, and lose some to talk": ("builders talk_loss", "build_hours_can build_hours_should"),
    "owning together needs a sum at parting": ("hour_rate leaving_discount partners_readings", "parting_can_be_paid"),
    "partners bring hours and money, on which the size leans": ("partners_readings", "partners_bring_hours partners_bring_money"),
    "machines of a partner or of the club open ways": ("building", "every_part_can_be_had parts_stuck own_hours"),
    # capability
    "travel of grinder and mill decides how the bed is got": ("building bed_form", "every_part_can_be_had"),
    "practice moves hours, rework and what can be attained": ("skill", "own_hours every_part_can_be_had"),
    "a housing bored in one setting needs a machine that can": ("building bearing_kind", "every_part_can_be_had"),
    # speeds, spindle and bearings
    "force times speed is power": ("depth_of_cut feed work_material", "power_suffices"),
    "each stage of the drive keeps its share": ("countershaft_ratio back_gear_ratio belt_kind", "torque_suffices drill_turns"),
    "a brushless motor keeps its torque at a creep, and asks for its own controller": (
        "drive_kind",
        "torque_suffices drill_turns stops_soon cash_total parts_mass",
    ),
    "what stops it decides whether it starts by itself, and brings parts": (
        "stop_gear",
        "stays_off stop_within_reach cash_total own_hours parts_mass",
    ),
    "a stop that cuts the mains leaves friction alone to stop it": ("stop_gear drive_kind chuck_diameter", "emergency_stop_soon"),
    "a switch on the shield stops no chuck in time, a lock does, and is paid for": (
        "chuck_guard stop_gear",
        "hand_kept_out cash_total own_hours months_to_finish",
    ),
    "a closed box keeps chips out and heat in": ("controller_box box_surface motor_power", "controller_cool"),
    "a controller that stands bare meets chips": ("controller_box drive_kind", "controller_kept_clean cash_total own_hours"),
    "an earth-leakage device must suit the controller, and an electrician says which": (
        "leakage_device drive_kind",
        "leakage_settled cash_total",
    ),
    "coolant keeps the size while it is measured, and brings a pump, a guard and a mess": (
        "coolant",
        "heat_leaves_size cooled_speed cash_total own_hours parts_mass",
    ),
    "low voltage asks for thick cables": ("drive_kind motor_power", "low_voltage_borne"),
    "a countershaft takes from every cut": ("countershaft_ratio belt_kind", "power_suffices pace_held"),
    "wheels give no feed finer than theirs": ("feed_drive change_wheels leadscrew_pitch", "feeds_can_be_had"),
    "power, torque and quiet running end a cut": (
        "motor_power driving_pulley_1 back_gear_ratio chuck_link",
        "depth_that_goes cuts_by_material",
    ),
    "a first cut takes no more than was decided": ("depth_of_cut", "cuts_by_material"),
    "top speed limits the kind of bearing": ("fastest_speed bearing_kind", "bearings_fast_enough"),
    "width of the chip asks for stiffness": ("depth_of_cut", "cut_stays_quiet"),
    "how the edge and its nose stand decides where the cut pushes": (
        "entering_angle nose_radius",
        "rough_radial_force finish_radial_force feed_force cut_stays_quiet size_held shape_held",
    ),
    "a worn edge pushes harder, most of all outwards": (
        "edge_state",
        "cutting_force radial_share power_suffices torque_suffices drilling_thrust tailstock_holds "
        "cut_stays_quiet size_held shape_held slow_speed_width",
    ),
    "slim work sings before the machine does": ("work_diameter work_length work_support", "cut_stays_quiet"),
    "form and metal of the bed decide how soon ringing dies away": ("bed_form bed_material", "damping cut_stays_quiet"),
    "metal, tool, feed and nose decide the finish": (
        "work_material tool_material finish_feed nose_radius jobs",
        "finish_fine_enough",
    ),
    "a thread that is turned home is turned off by a hard stop or a start backwards": (
        "nose_kind drive_kind motor_power chuck_diameter jobs",
        "chuck_stays_on",
    ),
    "a wide blade asks torque and a slow spindle, a thin one wanders": (
        "parting_width jobs",
        "parting_stays_quiet torque_parts blade_stout_enough",
    ),
    "what is parted off sets force and speed": ("work_material tool_material", "parting_stays_quiet torque_parts"),
    "a stiff lathe and a slow drive part off": (
        "spindle_diameter toolpost_kind driving_pulley_1 back_gear_ratio edge_state bed_form",
        "parting_stays_quiet",
    ),
    "a toolpost behind the work is a part more, and wants a longer slide": (
        "parting_from cross_slide_length",
        "rear_post_fits own_hours cash_total parts_mass",
    ),
    "a cut backwards pulls at the nose": ("parting_from parting_width", "chuck_stays_on"),
    "what is made here with lines or teeth must be divided": ("dividing making dial_divisions change_wheels", "numbers_divide"),
    "a larger ring divides closer": ("dividing centre_height dial_divisions", "lines_even"),
    "collets hold small work, and true": ("collets spindle_taper chuck_diameter jobs", "collets_have_work collets_run_truer"),
    "a collet in the taper is as true as taper and nose are made": ("making skill", "collets_run_truer"),
    "a collet holds small work close to the bearings": ("collets", "jobs_keep_shape"),
    "collets and rests are bought or made": ("collets hand_rest", "own_hours cash_total parts_mass months_to_finish"),
    "wood asks for a rest, and the rest for a clamp and a way for the saddle": (
        "jobs hand_rest",
        "wood_has_a_rest rest_stays_put saddle_out_of_way shaft_clears_slide",
    ),
    "a saddle beside the work asks for bed": ("between_centres saddle_length tailstock_base slide_height", "saddle_out_of_way"),
    "what is drawn by the leadscrew wears it and its nut": (
        "feed_drive threading leadscrew_nut leadscrew_diameter leadscrew_pitch months_kept turning_hours jobs",
        "half_nuts_last worn_screw_cuts_true",
    ),
    "half nuts of another metal are another price and another evening": ("leadscrew_nut", "own_hours cash_total parts_mass"),
    "teeth show what the ring is out": ("dividing wheel_size change_wheels", "teeth_even"),
    "a plate to divide with is a part more": ("dividing", "own_hours cash_total parts_mass"),
    "a flange holds both ways, and is one part more": ("nose_kind", "own_hours cash_total parts_mass months_to_finish"),
    "a drawbar fills the bore": ("nose_kind", "bar_passes"),
    "half the bearing and its cover stand behind the nose": (
        "spindle_overhang spindle_diameter bearing_kind centre_height nose_kind",
        "nose_clears_cover",
    ),
    "the bore sets the spindle, and so the bearing": ("spindle_bore", "wall_left"),
    "the thickness of the spindle sets its bearings": ("spindle_diameter", "bearings_fast_enough nose_stiff_enough"),
    "the taper of the spindle bounds its bore": ("spindle_taper spindle_bore", "bore_spares_taper"),
    "the taper of the tailstock holds the drill": ("tailstock_taper largest_drill", "taper_holds_drill"),
    "a long chuck carries the cut outwards": ("chuck_diameter cut_reach", "cut_beyond_chuck"),
    "the reach of the cut softens it": ("cut_reach", "cut_stays_quiet"),
    "bushes can be made, rolling bearings are bought": ("bearing_kind", "own_hours cash_total"),
    "preload drags on a small motor": ("bearing_kind bearing_drag motor_power", "bearings_spare_motor"),
    "the play that is set makes preload, stiffness and drag": (
        "cold_end_play bearing_arrangement",
        "preload bearings_last nose_stiff_enough bearings_spare_motor",
    ),
    "the play that is set is there on a cold start": ("cold_end_play bearing_kind", "not_loose_cold not_tight_cold"),
    "drag goes with the speed": ("fastest_speed", "bearings_spare_motor"),
    "a warm headstock tells of the preload": ("bearing_kind spindle_warmer fastest_speed", "not_tight_warm not_loose_warm"),
    # bed and slides
    "the width of the ways sets the guide of the saddle": ("guide_width saddle_length", "guide_long_enough"),
    "box, fill and feet decide the mass": ("bed_form bed_wall bed_height", "lift_within_guidance"),
    "the form of the bed decides parts, mass and lift": ("bed_form", "parts_mass lift_within_guidance"),
    "the bed comes before what is fitted to it": ("bed_form", "build_order months_to_first_chips"),
    "the stack under the tool eats the swing over the slide": ("slide_height", "shaft_clears_slide tool_not_above_centre"),
    "the height of the stack holds the tool at the centre line": ("top_height tool_shank toolpost_kind", "tool_not_above_centre"),
    "the toolpost gives, and makes up what is missing under the tool": (
        "toolpost_kind",
        "size_held cut_stays_quiet packing_thin depth_that_goes",
    ),
    "a toolpost is an evening's work or a fortnight's": ("toolpost_kind", "own_hours cash_total parts_mass months_to_finish"),
    "nut and screw must bear what lies on them": ("cross_nut cross_screw_diameter", "nut_lasts"),
    "the lowest speed decides whether a thread can stop": ("slowest_speed jobs", "thread_can_stop"),
    "chuck, saddle and barrel share the room before the tailstock": (
        "between_centres saddle_length chuck_diameter barrel_overhang tool_shank",
        "saddle_finds_room",
    ),
    "what stands along the bed lengthens it": (
        "bearing_span spindle_overhang saddle_length chuck_diameter barrel_overhang",
        "bed_length",
    ),
    "base and barrel of the tailstock lengthen the bed": ("tailstock_base", "tailstock_holds"),
    "barrel and base of the tailstock carry the far end of the work": (
        "barrel_overhang barrel_diameter tailstock_base",
        "shape_held jobs_keep_shape",
    ),
    "the gib holds the cross-slide down": ("gib_thickness cross_slide_length", "size_held cut_stays_quiet gib_stiff_enough"),
    "bolts and fixings hold the headstock": ("joint_bolt fixing_spacing", "size_held cut_stays_quiet"),
    "chuck and jaws give, and leave their mark": ("chuck_diameter chuck_jaws", "size_held round_enough"),
    "the kind of ways carries the saddle, and the bed must offer it": ("slide_kind bed_form", "bed_offers_ways size_held"),
    "each job feels what its holding lets through": ("jobs", "bed_stays_true jobs_keep_shape"),
    "feed and radial force tip the saddle": ("feed depth_of_cut centre_height bed_width", "rails_last ways_bear"),
    "a light carriage on narrow ways lifts at the rear": (
        "finish_depth bed_width centre_height work_diameter",
        "saddle_stays_down",
    ),
    "a plain bearing is warmed by pressure and speed together": (
        "bearing_kind fastest_speed spindle_diameter",
        "journal_keeps_cool",
    ),
    "each taper has its own cone and holds its own torque": ("tailstock_taper", "taper_holds_drill barrel_has_wall"),
    "noise and supply follow from the drive": ("drive_kind", "noise_within_dose supply_suffices"),
    # ways, order and dates
    "waiting outside opens gaps for other parts": ("building", "longest_wait months_to_finish"),
    "money and hours are sums over the chosen ways": ("building", "cash_total own_hours"),
    "the way decides size and accuracy that can be had": ("building error_factor", "every_part_can_be_had"),
    "what the half lathe can make need not be bought": ("building", "parts_on_the_lathe"),
    "early chips keep interest": ("building", "months_to_first_chips milestones_often"),
    "a part sent back costs hours": ("rework_factor redo_share", "own_hours months_to_finish"),
    "prices near you move money and date": ("material_prices labour_prices", "cash_total months_to_finish"),
    "a later sale is part of what it costs": ("resale_share months_kept", "keeping_a_year"),
    "running it takes from the same purse": ("turning_hours power_price space_price", "keeping_is_affordable"),
}

#: arrows that no figure carries -> why
QUESTIONS = {
    "a used machine may give bed, spindle or gears": "what a donor offers is known when it stands there; it is entered as a way with its price in the list of ways",
    "damp and cold stop scraping and gauging": "months without work are the learner's decision, and asked for by name in the chapter on time",
    "quiet hours cut the sessions": "the hours a learner can find are asked for as they were in the last months, quiet hours taken off already",
    "instruments must be finer than what they test": "which instrument is at hand is written down with the readings; each test names its own",
    "one family of tapers in spindle and tailstock shares its tools": "both tapers are chosen side by side, and a sleeve joins two of a family; nothing is to be reckoned",
    "a purpose used less than one hour in ten may be dropped": "which one is a wish, not a sum: striking out each job in turn shows what it drives",
    "a later owner widens or narrows the purpose": "nobody knows the later owner; the sale is counted, the purpose is not",
    "living in one place or another favours some ways": "the lists of the build are the learner's own: what is far away is struck out there",
    "benefits beside the lathe, and builds of others, feed the reasons": "the weights of the reasons are asked for again, beside what was written down, and not reckoned from it",
}


#: what it says -> (a demo, what it is changed to, the result that moves, the least share it moves by: what a reader sees in three figures)
MOVES = {
    "a barrel that stands out far is soft": ("shared_barn", {"barrel_overhang": 0.150}, "tail_give", 0.5),
    "a soft barrel spoils the shape of work at its centre": ("boat_shed", {"barrel_overhang": 0.150}, "shape_share", 0.05),
    "a thin gib softens the cross-slide": ("boat_shed", {"gib_thickness": 0.001}, "cross_slide_give", 1.0),
    "and so the machine": ("boat_shed", {"gib_thickness": 0.001}, "machine_compliance", 0.1),
    "thin bolts leave the headstock soft": ("boat_shed", {"joint_bolt": "M5"}, "headstock_give", 0.15),
    "fixings close together let the headstock swing": ("boat_shed", {"fixing_spacing": 0.040}, "headstock_give", 0.15),
    "a short base lets the tailstock rock": ("shared_barn", {"tailstock_base": 0.040}, "tail_give", 0.3),
    "a machine is as long as what stands along its bed asks": ("boat_shed", {"tailstock_base": 0.200}, "machine_length", 0.05),
    "a large chuck tips on its nose": ("boat_shed", {"chuck_diameter": 0.160}, "chuck_give", 0.3),
    "a chuck drawn into the taper tips on its small seat": ("boat_shed", {"nose_kind": "taper and drawbar"}, "chuck_give", 0.15),
    "a plain clamp is stiffer than a block that turns": (
        "boat_shed",
        {"toolpost_kind": "clamp and shims"},
        "toolpost_give",
        0.15,
    ),
    "holders give more": ("boat_shed", {"toolpost_kind": "quick-change post"}, "toolpost_give", 0.3),
    "a blade of twice the width asks twice the torque": ("boat_shed", {"parting_width": 0.003}, "parting_torque", 0.9),
    "parting off backwards pulls at the nose": (
        "boat_shed",
        {"parting_from": "in front and backwards"},
        "unscrewing_torque",
        0.3,
    ),
    "half of a larger taper takes more of the list into collets": (
        "cabin",
        {"collets": "drawn into the taper", "spindle_taper": "MT3"},
        "collet_share",
        0.3,
    ),
    "a mallet head need not clear the cross-slide where the saddle stands aside": (
        "shared_barn",
        {"hand_rest": "in the toolpost"},
        "largest_shaft",
        0.2,
    ),
    "a feed by the leadscrew wears it as threads alone never would": (
        "boat_shed",
        {"feed_drive": "change wheels"},
        "nut_worn",
        5.0,
    ),
    "and spoils the threads that are cut on it later": ("boat_shed", {"feed_drive": "change wheels"}, "late_equivalent", 1.0),
    "iron wears less than bronze as long as it is oiled": ("boat_shed", {"leadscrew_nut": "cast iron"}, "nut_worn", 0.3),
    "a drilled plate divides closer than a paper strip": ("cabin", {"dividing": "paper strip"}, "line_unevenness", 1.0),
    "a plain thread holds a fraction of what a flange does": ("boat_shed", {"nose_kind": "thread"}, "nose_hold", 0.9),
    "a stop that brakes first is sooner at rest": (
        "boat_shed",
        {"stop_gear": "emergency stop that cuts the mains"},
        "emergency_time",
        0.5,
    ),
    "running coolant leaves less to shrink": ("boat_shed", {"coolant": "running coolant"}, "cooling", 0.5),
    "a brushless motor stays cool at a creep": ("boat_shed", {"drive_kind": "brushless on the mains"}, "slow_cooling", 0.15),
    "four jaws leave work rounder than three": ("boat_shed", {"chuck_jaws": 4.0}, "roundness_error", 0.02),
    "four jaws hold a little stiffer": ("boat_shed", {"chuck_jaws": 4.0}, "chuck_give", 0.1),
    "rails carry the saddle stiffer": (
        "boat_shed",
        {"slide_kind": "profiled rails", "bed_form": "profiled rails on a box"},
        "saddle_give",
        0.4,
    ),
    "work held between centres asks nothing of the chuck": ("boat_shed", {"work_support": "between centres"}, "head_give", 0.2),
    "a bolted bed follows its stand": ("boat_shed", {"feet": "four feet bolted down"}, "twist_share", 0.1),
    "the feed tips the saddle the more, the higher it pushes": ("boat_shed", {"centre_height": 0.100}, "rail_load", 0.1),
}


def test_a_choice_moves_what_it_moves_in_iron_by_what_a_reader_sees():
    missed = {}
    for words, (start, changes, name, least) in MOVES.items():
        before, after = (float(evaluate(design)[name]) for design in (demo(start), demo(start).trying(**changes)))
        if abs(after - before) < least * (before or 1.0):
            missed[words] = (before, after)
    assert not missed


def test_ways_that_the_bed_has_not_are_told():
    assert evaluate(demo("boat_shed")).findings["bed_offers_ways"].status == "holds"
    for form, kind in (
        ("profiled rails on a box", "flat ways with gibs"),
        ("filled box", "round bars with bushes"),
        ("two round bars", "V ways"),
    ):
        found = evaluate(demo("boat_shed").trying(bed_form=form, slide_kind=kind)).findings["bed_offers_ways"]
        assert found.status == "fails" and "change the form of the bed" in found.sentence, (form, kind)


def test_every_arrow_names_what_there_is():
    for words, (sources, targets) in CARRIED.items():
        for name in (*sources.split(), *targets.split()):
            assert name in {*LATHE.decisions, *LATHE.figures, *LATHE.results, *LATHE.limits, *LATHE.given}, (words, name)


@every("words", CARRIED)
def test_an_arrow_is_in_the_chain(words):
    sources, targets = (names.split() for names in CARRIED[words])
    assert {(source, target) for source in sources for target in targets if target not in LATHE.downstream(source)} == set()


def test_what_is_a_question_says_why():
    assert all(len(why.split()) >= 8 for why in QUESTIONS.values()) and not set(QUESTIONS) & set(CARRIED)
