"""Slides, screws and tailstock: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("carriage_mass", {"estimated_mass": "64 kg", "carriage_share": "10 %"}, 6.4),
    ("way_load", {"carriage_mass": "10 kg", "cutting_force": "200 N"}, 298.1),
    ("way_load_offset", {"way_load": "300 N", "cutting_force": "200 N", "tool_beside_saddle": "30 mm"}, 20),
    # 300 N on two faces of 30 by 100 mm is 0.05; 10 mm beside the middle adds six tenths
    ("way_pressure", {"way_load": "300 N", "way_width": "30 mm", "saddle_length": "100 mm", "way_load_offset": "10 mm", "way_pressure_limit": "1 N/mm2"}, 0.08),
    ("way_pressure", {"way_load": "300 N", "way_width": "30 mm", "saddle_length": "100 mm", "way_load_offset": "10 mm", "way_pressure_limit": "0 N/mm2"}, 0),
    ("feed_force", {"cutting_force": "250 N", "feed_share": "40 %"}, 100),
    ("saddle_resistance", {"feed_force": "100 N", "slide_friction": "0.2", "way_load": "300 N"}, 160),
    ("guide_ratio", {"saddle_length": "120 mm", "guide_width": "80 mm"}, 1.5),
    ("guide_over_height", {"saddle_length": "120 mm", "centre_height": "75 mm"}, 1.6),
    ("jam_room", {"saddle_length": "120 mm", "jam_free_length": "30 mm"}, 4),
    ("jam_room", {"saddle_length": "120 mm", "jam_free_length": "0 mm"}, 100),
    # the saddle and the tool for which the table holds: a factor of one
    ("saddle_proportion", {"saddle_length": "120 mm", "centre_height": "75 mm", "guide_tilt": "1.48"}, 1),
    ("saddle_proportion", {"saddle_length": "240 mm", "centre_height": "75 mm", "guide_tilt": "1.48"}, 0.5),
    ("cross_engagement", {"cross_slide_length": "100 mm", "cross_slide_travel": "70 mm"}, 65),
    ("facing_travel", {"largest_disc": "120 mm"}, 60),
    ("gib_spacing", {"cross_slide_length": "110 mm", "gib_screws": "4"}, 27.5),
    ("rail_load", {"way_load": "400 N", "way_load_offset": "25 mm", "saddle_length": "100 mm"}, 150),
    ("rail_travel", {"slide_kind": "profiled rails"}, 300),
    ("rail_travel", {"slide_kind": "dovetail"}, 0),
    ("tool_height", {"slide_height": "30 mm", "top_height": "24 mm", "toolpost_floor": "11 mm", "tool_shank": "10 mm"}, 75),
    ("tool_packing", {"centre_height": "75 mm", "tool_height": "73 mm"}, 2),
    ("tool_packing", {"centre_height": "75 mm", "tool_height": "78 mm"}, 0),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING = {}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"push_needed": "09", "saddle_resistance": "09", "start_over_moving": "09", "guide_tilt": "09", "saddle_proportion": "09"}
