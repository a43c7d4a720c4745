"""Slides, screws and tailstock: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
_SHORT = {
    "jaws_front": "59 mm",
    "centre_height": "55 mm",
    "slide_height": "22 mm",
    "saddle_length": "90 mm",
    "tool_beside_saddle": "15 mm",
    "tool_shank": "8 mm",
    "bearing_end": "14 mm",
    "spindle_overhang": "29 mm",
}
HAND = [
    ("way_load", {"carriage_mass": "10 kg", "cutting_force": "200 N"}, 298.1),
    # 200 N 30 mm beside the middle are 6 N·m, and 80 N of feed 75 mm up are 6 more
    (
        "pitch_couple",
        {"cutting_force": "200 N", "tool_beside_saddle": "30 mm", "feed_force": "80 N", "centre_height": "75 mm"},
        12,
    ),
    # 200 N 20 mm in front of the axis are 4 N·m, and 80 N outwards 75 mm up are 6
    (
        "roll_couple",
        {"cutting_force": "200 N", "torque_diameter": "40 mm", "rough_radial_force": "80 N", "centre_height": "75 mm"},
        10,
    ),
    ("way_spacing", {"bed_width": "120 mm", "way_width": "30 mm"}, 90),
    ("way_spacing", {"bed_width": "100 mm", "way_width": "95 mm"}, 10),
    ("way_load_offset", {"pitch_couple": "12 N·m", "way_load": "300 N"}, 40),
    ("front_way_load", {"way_load": "300 N", "roll_couple": "9 N·m", "way_spacing": "90 mm"}, 250),
    # 9 N·m over 90 mm pull 100 N off the rear way, on which half of 150 N lies
    ("keep_plate_pull", {"way_load": "150 N", "roll_couple": "9 N·m", "way_spacing": "90 mm"}, 25),
    ("keep_plate_pull", {"way_load": "300 N", "roll_couple": "9 N·m", "way_spacing": "90 mm"}, 0),
    ("loose_ways", {"slide_kind": "flat ways with gibs"}, 2),
    ("loose_ways", {"slide_kind": "dovetail"}, 0),
    ("finish_way_load", {"carriage_mass": "10 kg", "finish_force": "20 N"}, 118.1),
    # 20 N at 10 mm are 0.2 N·m, and 10 N outwards 75 mm up are 0.75
    (
        "finish_roll_couple",
        {"finish_force": "20 N", "work_diameter": "20 mm", "finish_radial_force": "10 N", "centre_height": "75 mm"},
        0.95,
    ),
    ("front_way_offset", {"pitch_couple": "12 N·m", "front_way_load": "250 N"}, 24),
    # one newton on a bay of 20 mm of a strip 10 x 2: 8000 / (32 x 207 000 x 80) mm; felt 40 over 100 mm, a sixth of it
    (
        "gib_give",
        {
            "gib_spacing": "20 mm",
            "gib_height": "10 mm",
            "gib_thickness": "2 mm",
            "steel_modulus": "207 GPa",
            "centre_height": "75 mm",
            "slide_height": "35 mm",
            "cross_slide_length": "100 mm",
        },
        15.0966 * 0.16,
    ),
    ("missing_ways", {"bed_form": "filled box", "slide_kind": "dovetail"}, 0),
    ("missing_ways", {"bed_form": "filled box", "slide_kind": "round bars with bushes"}, 1),
    ("missing_ways", {"bed_form": "profiled rails on a box", "slide_kind": "flat ways with gibs"}, 1),
    ("missing_ways", {"bed_form": "two round bars", "slide_kind": "round bars with bushes"}, 0),
    ("way_pressure", {"pressed_face": "0.08 N/mm2", "way_pressure_limit": "1 N/mm2"}, 0.08),
    ("way_pressure", {"pressed_face": "0.08 N/mm2", "way_pressure_limit": "0 N/mm2"}, 0),
    ("feed_force", {"cutting_force": "250 N", "feed_share": "40 %"}, 100),
    ("saddle_resistance", {"feed_force": "100 N", "slide_friction": "0.2", "way_load": "300 N"}, 160),
    ("guide_ratio", {"saddle_length": "120 mm", "guide_width": "80 mm"}, 1.5),
    ("guide_over_height", {"saddle_length": "120 mm", "centre_height": "75 mm"}, 1.6),
    ("jam_room", {"saddle_length": "120 mm", "jam_free_length": "30 mm"}, 4),
    ("jam_room", {"saddle_length": "120 mm", "jam_free_length": "0 mm"}, 100),
    # the saddle, the bed and the tool for which the table holds: a factor of one; 1 + 12/1.6² is 5.6875
    (
        "saddle_proportion",
        {"saddle_length": "120 mm", "centre_height": "75 mm", "guide_tilt": "1.48", "saddle_roll": "5.6875"},
        1,
    ),
    (
        "saddle_proportion",
        {"saddle_length": "240 mm", "centre_height": "75 mm", "guide_tilt": "1.48", "saddle_roll": "5.6875"},
        0.5,
    ),
    ("saddle_give", {"saddle_at_size": "10 um/kN", "saddle_proportion": "0.8", "slide_give": "0.5"}, 4),
    ("cross_engagement", {"cross_slide_length": "100 mm", "cross_slide_travel": "70 mm"}, 65),
    ("facing_travel", {"largest_disc": "120 mm"}, 60),
    ("gib_spacing", {"cross_slide_length": "110 mm", "gib_screws": "4"}, 27.5),
    # a quarter of 400 N, 12 N·m over 2 x 120 mm, 9 N·m over 2 x 90 mm
    (
        "rail_load",
        {
            "way_load": "400 N",
            "pitch_couple": "12 N·m",
            "roll_couple": "9 N·m",
            "saddle_length": "120 mm",
            "way_spacing": "90 mm",
        },
        200,
    ),
    ("rail_travel", {"slide_kind": "profiled rails"}, 300),
    ("rail_travel", {"slide_kind": "dovetail"}, 0),
    ("cross_screw_clearance", {"cross_screw_pitch": "2 mm"}, 0.25),
    ("leadscrew_clearance", {"leadscrew_pitch": "1.5 mm"}, 0.15),
    # the rubbing of a rolling slide counts as a tenth at least: its gib and wipers rub all the same
    ("cross_rubbing", {"carriage_mass": "8 kg", "gib_preload": "60.76 N", "slide_friction": "0.2"}, 20),
    ("cross_rubbing", {"carriage_mass": "8 kg", "gib_preload": "60.76 N", "slide_friction": "0.005"}, 10),
    (
        "cross_thrust",
        {"rough_radial_force": "100 N", "cross_rubbing": "20 N", "slide_friction": "0.2", "cutting_force": "250 N"},
        170,
    ),
    ("collar_diameter", {"cross_screw_diameter": "10 mm", "collar_ratio": "1.4"}, 14),
    ("cross_torque", {"cross_thread_torque": "0.2 N*m", "cross_collar_torque": "0.1 N*m"}, 0.3),
    ("cross_nut_length", {"cross_screw_diameter": "10 mm", "nut_lengths": "1.8"}, 18),
    ("cross_start", {"cross_rubbing": "20 N", "start_over_moving": "1.4"}, 28),
    ("crawl_on_diameter", {"crawl_step": "1.5 µm"}, 3),
    ("dial_step", {"dial_step_on_radius": "0.02 mm", "dial_step_on_diameter": "0.04 mm", "dial_reads": "radius in mm"}, 0.02),
    (
        "dial_step",
        {"dial_step_on_radius": "0.02 mm", "dial_step_on_diameter": "0.04 mm", "dial_reads": "diameter in inches"},
        0.04,
    ),
    ("dial_unevenness", {"dial_step": "0.0254 mm", "dial_reads": "radius in mm"}, 1.6),
    ("dial_unevenness", {"dial_step": "0.0254 mm", "dial_reads": "radius in inches"}, 0),
    ("dial_readable", {"dial_step_on_diameter": "0.04 mm"}, 0.02),
    ("allowed_setting", {"tolerance": "20 µm", "setting_share": "50 %"}, 0.01),
    # 160 lines of 1.02 mm round; ten lines would leave no drum to hold, a thousand no room over the ways
    ("dial_diameter", {"dial_divisions": "160", "centre_height": "75 mm"}, 51.949),
    ("dial_diameter", {"dial_divisions": "10", "centre_height": "75 mm"}, 37.5),
    ("dial_diameter", {"dial_divisions": "1000", "centre_height": "75 mm"}, 82.5),
    ("dial_spacing", {"dial_diameter": "50 mm", "dial_divisions": "100"}, 1.5708),
    ("backlash_in_divisions", {"cross_backlash": "0.12 mm", "dial_step_on_radius": "0.02 mm"}, 6),
    ("leadscrew_length", {"between_centres": "300 mm", "saddle_length": "120 mm"}, 420),
    # 2000 a minute at 0.1 mm is 200 mm a minute; 60 a minute in 2 mm is 120
    ("leadscrew_count", {"threading": "no", "feed_drive": "by hand"}, 0),
    ("leadscrew_count", {"threading": "no", "feed_drive": "separate shaft or motor"}, 1),
    ("leadscrew_count", {"threading": "yes", "feed_drive": "by hand"}, 1),
    # wound by hand only the coarsest thread turns it: 60 x 2 / 2
    (
        "leadscrew_speed",
        {
            "feed_drive": "by hand",
            "fastest_speed": "2000 rpm",
            "feed": "0.1 mm",
            "leadscrew_pitch": "2 mm",
            "slowest_speed": "60 rpm",
            "coarsest_pitch": "2 mm",
        },
        60,
    ),
    (
        "leadscrew_speed",
        {
            "feed_drive": "change wheels",
            "fastest_speed": "2000 rpm",
            "feed": "0.1 mm",
            "leadscrew_pitch": "2 mm",
            "slowest_speed": "60 rpm",
            "coarsest_pitch": "2 mm",
        },
        100,
    ),
    (
        "leadscrew_speed",
        {
            "feed_drive": "change wheels",
            "fastest_speed": "1000 rpm",
            "feed": "0.1 mm",
            "leadscrew_pitch": "2 mm",
            "slowest_speed": "60 rpm",
            "coarsest_pitch": "2 mm",
        },
        60,
    ),
    ("clamp_pitch", {"clamp_screw": "10 mm"}, 1.5),
    ("clamp_stress", {"clamp_pull": "5800 N", "clamp_area": "58 mm2"}, 100),
    ("clamp_force", {"clamp_pull": "7500 N", "clamp_screws": "2"}, 15_000),
    # jaws over a cross-slide of 22 mm, 15 mm above the bed: 59 + 0.31 x 90 + 45; the toolpost needs 15 + 1.61 x 8 = 27.9, as much
    ("saddle_reach", {**_SHORT, "chuck_diameter": "80 mm"}, 131.9),
    # a chuck of 100 mm, 5 mm above the bed, lets no saddle under it: 59 + 45 + 45
    ("saddle_reach", {**_SHORT, "chuck_diameter": "100 mm"}, 149),
    # a small one lets the cross-slide under it: the toolpost decides, 59 + 15 + 1.61 x 10 + 45
    ("saddle_reach", {**_SHORT, "chuck_diameter": "50 mm", "tool_shank": "10 mm"}, 135.1),
    (
        "tail_reach_in",
        {"near_reach": "35 mm", "between_centres": "300 mm", "tailstock_taper_large": "18 mm", "centre_height": "75 mm"},
        356.75,
    ),
    ("tail_reach_out", {"tail_reach_in": "140 mm", "barrel_overhang": "44 mm"}, 184),
    ("barrel_out", {"saddle_reach": "150 mm", "tail_reach_in": "140 mm", "barrel_overhang": "44 mm"}, 10),
    ("barrel_out", {"saddle_reach": "130 mm", "tail_reach_in": "140 mm", "barrel_overhang": "44 mm"}, 0),
    ("barrel_out", {"saddle_reach": "190 mm", "tail_reach_in": "140 mm", "barrel_overhang": "44 mm"}, 44),
    ("barrel_ratio", {"barrel_overhang": "60 mm", "barrel_diameter": "24 mm"}, 2.5),
    ("barrel_wall", {"barrel_diameter": "28 mm", "tailstock_taper_large": "17.78 mm"}, 5.11),
    ("barrel_wall", {"barrel_diameter": "16 mm", "tailstock_taper_large": "17.78 mm"}, 0),
    ("barrel_bore", {"barrel_diameter": "28 mm", "tailstock_taper_large": "17.78 mm"}, 17.78),
    ("barrel_bore", {"barrel_diameter": "16 mm", "tailstock_taper_large": "17.78 mm"}, 15.68),
    ("toolpost_floor", {"toolpost_kind": "four-way block", "tool_shank": "10 mm"}, 10),
    ("toolpost_floor", {"toolpost_kind": "quick-change post", "tool_shank": "10 mm"}, 6),
    ("packing_room", {"toolpost_kind": "clamp and shims", "tool_shank": "10 mm"}, 3),
    ("packing_room", {"toolpost_kind": "quick-change post", "tool_shank": "10 mm"}, 8),
    ("tool_height", {"slide_height": "30 mm", "top_height": "24 mm", "toolpost_floor": "11 mm", "tool_shank": "10 mm"}, 75),
    ("tool_packing", {"centre_height": "75 mm", "tool_height": "73 mm"}, 2),
    ("tool_packing", {"centre_height": "75 mm", "tool_height": "78 mm"}, 0),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING = {}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = dict.fromkeys(
    (
        "keep_plate_pull",
        "rail_rating_at_100_km",
        "lead_angle",
        "cross_thread_torque",
        "cross_collar_torque",
        "collar_diameter",
        "collar_ratio",
        "cross_torque",
        "cross_efficiency",
        "cross_back_torque",
        "backlash_in_divisions",
        "way_load_offset",
    ),
    "09",
)
