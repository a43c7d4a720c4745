"""Spindle: results worked by hand, and what moves nothing or is only shown."""

import numpy as np

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("taper_wall", {"spindle_diameter": "35 mm", "taper_diameter": "23.825 mm"}, 5.5875),
    ("taper_wall", {"spindle_diameter": "20 mm", "taper_diameter": "23.825 mm"}, 0),
    ("span_over_best", {"bearing_span": "110 mm", "best_span": "88 mm"}, 1.25),
    ("span_over_best", {"bearing_span": "88 mm", "best_span": "110 mm"}, 1.25),
    ("bore_ratio", {"spindle_bore": "19 mm", "spindle_diameter": "38 mm"}, 50),
    ("bearing_width", {"spindle_diameter": "35 mm", "bearing_width_ratio": "0.51"}, 17.85),
    ("bearing_mean_diameter", {"spindle_diameter": "35 mm", "bearing_mean_ratio": "1.39"}, 48.65),
    # 200 000 mm/min over 48.65 mm
    ("bearing_top_speed", {"speed_number_limit": "200000 mm/min", "bearing_mean_diameter": "48.65 mm"}, 4111),
    # 300 x √(1 + 0.16)
    ("cut_load", {"cutting_force": "300 N", "radial_share": "0.4"}, 323.1),
    # the belt 25 mm behind the rear bearing adds 400 x 25 / 110 in front: 300 x (1 + 105/110) + 90.9
    (
        "front_bearing_load",
        {
            "cut_load": "300 N",
            "spindle_overhang": "45 mm",
            "bearing_span": "110 mm",
            "cut_reach": "60 mm",
            "belt_pull": "400 N",
            "pulley_overhang": "25 mm",
        },
        677.3,
    ),
    # 300 x 105/110 + 400 x 135/110
    (
        "rear_bearing_load",
        {
            "cut_load": "300 N",
            "spindle_overhang": "45 mm",
            "bearing_span": "110 mm",
            "cut_reach": "60 mm",
            "belt_pull": "400 N",
            "pulley_overhang": "25 mm",
        },
        777.3,
    ),
    # midway between the bearings each takes half of the belt
    (
        "rear_bearing_load",
        {
            "cut_load": "0 N",
            "spindle_overhang": "45 mm",
            "bearing_span": "110 mm",
            "cut_reach": "60 mm",
            "belt_pull": "400 N",
            "pulley_overhang": "-55 mm",
        },
        200,
    ),
    # the second of two parts
    ("pulley_mass", {"part_masses": {"names": ("spindle", "spindle pulley"), "finished": np.array([1.2, 0.65])}}, 0.65),
    # 9 + 10.5
    ("bearing_end", {"bearing_width": "18 mm", "centre_height": "75 mm"}, 19.5),
    # 19.5 + 2.25, and without a flange
    ("nose_room", {"bearing_end": "19.5 mm", "centre_height": "75 mm", "nose_kind": "bolted flange"}, 21.75),
    ("nose_room", {"bearing_end": "19.5 mm", "centre_height": "75 mm", "nose_kind": "thread"}, 19.5),
    # 19.5 + 10
    ("pulley_overhang", {"bearing_end": "19.5 mm", "pulley_stack": "40 mm", "belt_step_count": "2"}, 29.5),
    ("whirl_reserve", {"critical_speed": "28000 rpm", "fastest_speed": "2000 rpm"}, 14),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {
    "shear_coefficient": "06",
    "shaft_bending_compliance": "06",
    "shaft_shear_compliance": "06",
    "bore_share": "06",
    "spindle_give": "06",
}
