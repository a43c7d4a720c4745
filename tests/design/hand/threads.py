"""Threads and change gears: results worked by hand, and what moves nothing or is only shown."""

import numpy as np

#: three wheels: 20/60 past 40, 20/40 past 60 and 40/60 past 20 all span 65 mm, and so do they turned round
_THREE = {
    "change_wheels": "20, 40, 60",
    "wheel_module": "1 mm",
    "gear_centres": "65 mm",
    "banjo_reach": "75 mm",
    "gear_shaft": "16 mm",
}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("banjo_reach", {"gear_centres": "65 mm"}, 75),
    ("nut_length", {"practice_diameter": "10 mm"}, 8),
    (
        "worst_pitch_error",
        {"thread_errors": {"pitch": np.array([1e-3, 2e-3]), "error": np.array([0.001, -0.002])}, "threading": "yes"},
        0.2,
    ),
    ("worst_pitch_error", {"thread_errors": {"pitch": np.array([]), "error": np.array([])}, "threading": "no"}, 0),
    (
        "worst_pitch_error",
        {"thread_errors": {"pitch": np.array([1e-3, 2e-3]), "error": np.array([0.001, -0.002])}, "threading": "no"},
        100,
    ),
    ("threads_cut", {"threading": "yes"}, 1),
    ("threads_cut", {"threading": "no"}, 0),
    # 20/40 is a fifth too much for 0.42, 20/60 is more than a fifth too little
    ("nearest_ratio", {"wanted_ratio": "0.42", **_THREE}, 0.5),
    # on a leadscrew 200 mm away no train can be put on: it stands still
    ("nearest_ratio", {"wanted_ratio": "0.42", **_THREE, "gear_centres": "200 mm"}, 0),
    ("whole_pitch_error", {"practice_error": "-0.05 %", "leadscrew_error": "0.02 %"}, 0.07),
    # 20/60 x 3 mm
    ("finest_gear_feed", {**_THREE, "spindle_gear_ratio": "1", "leadscrew_pitch": "3 mm"}, 1),
    # by hand no wheel limits the feed, with wheels the finest does; on a second stud 16 drives 80, and 20/60 past 40 is left: 1/5 x 1/3 x 3
    (
        "finest_feed",
        {"finest_gear_feed": "1 mm/rev", "feed_drive": "by hand", "spindle_gear_ratio": "1", "leadscrew_pitch": "3 mm", **_THREE},
        0,
    ),
    (
        "finest_feed",
        {
            "finest_gear_feed": "1 mm/rev",
            "feed_drive": "change wheels",
            "spindle_gear_ratio": "1",
            "leadscrew_pitch": "3 mm",
            **_THREE,
        },
        1,
    ),
    (
        "finest_feed",
        {
            "finest_gear_feed": "1 mm/rev",
            "feed_drive": "change wheels and a second stud",
            "spindle_gear_ratio": "1",
            "leadscrew_pitch": "3 mm",
            **_THREE,
            "change_wheels": "16, 20, 40, 60, 80",
        },
        0.2,
    ),
    # 20/60 of 3 mm is the nearest there is to a tenth
    (
        "rough_feed_had",
        {"feed": "0.1 mm/rev", "feed_drive": "change wheels", "spindle_gear_ratio": "1", "leadscrew_pitch": "3 mm", **_THREE},
        1,
    ),
    (
        "finish_feed_had",
        {
            "finish_feed": "0.05 mm/rev",
            "feed_drive": "separate shaft or motor",
            "spindle_gear_ratio": "1",
            "leadscrew_pitch": "3 mm",
            **_THREE,
        },
        0.05,
    ),
    ("shoulder_overrun", {"shoulder_speed": "2 mm/s", "reaction_time": "0.5 s"}, 1),
    ("largest_wheel", {"change_wheels": "20, 63, 40"}, 63),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = dict.fromkeys(
    (
        "shoulder_overrun",
        "reaction_time",
        "triangle_height",
        "external_depth",
        "internal_depth",
        "pitch_diameter",
        "minor_diameter",
        "root_diameter",
        "stress_area",
        "flank_infeed",
        "measuring_wire",
        "over_wires",
        "pitch_tolerance",
    ),
    "09",
)
