"""Wear of the leadscrew: results worked by hand, and what moves nothing or is only shown."""

import types

import numpy as np


def _jobs(pitch, share):
    return types.SimpleNamespace(column=lambda name: np.array({"pitch": pitch, "share": share}[name]))


_TRAVEL = {
    "jobs": _jobs([0.002, 0.0], [0.4, 0.6]),
    "hours_of_use": "1000 h",
    "threading_share": "10 %",
    "feeding_share": "25 %",
    "carriage_pace": "0.04 m/min",
    "slowest_speed": "60 rpm",
    "coarsest_pitch": "2 mm",
}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # 0.1 mm a turn, 100 and 900 a minute: 300 turns half way
    ("carriage_pace", {"rough_feed_had": "0.1 mm/rev", "slowest_wanted": "100 rpm", "fastest_wanted": "900 rpm"}, 0.03),
    # 40 hours at 60 turns of 2 mm a minute
    ("screwed_travel", {**_TRAVEL, "threading": "yes", "feed_drive": "by hand"}, 288),
    # and 250 hours at 40 mm a minute
    ("screwed_travel", {**_TRAVEL, "threading": "yes", "feed_drive": "change wheels"}, 888),
    ("screwed_travel", {**_TRAVEL, "threading": "no", "feed_drive": "by hand"}, 0),
    ("half_nut_length", {"leadscrew_diameter": "14 mm", "half_nut_lengths": "2"}, 28),
    ("gritty_coefficient", {"nut_wear_coefficient": "0.000004", "screw_grit": "4"}, 0.000016),
    ("nut_wear_allowed", {"leadscrew_pitch": "3 mm"}, 0.375),
    # of 0.1 mm a third, and of that 28 parts in 84
    (
        "screw_worn",
        {
            "nut_worn": "0.1 mm",
            "screw_over_nut": "0.3",
            "half_nut_length": "28 mm",
            "worn_share": "28 %",
            "between_centres": "300 mm",
        },
        10,
    ),
    # a stretch shorter than the nut wears as the nut does
    (
        "screw_worn",
        {
            "nut_worn": "0.1 mm",
            "screw_over_nut": "0.3",
            "half_nut_length": "28 mm",
            "worn_share": "5 %",
            "between_centres": "300 mm",
        },
        30,
    ),
    # 10 µm over 40 mm
    ("worn_pitch_error", {"screw_worn": "10 µm", "worn_share": "20 %", "between_centres": "400 mm"}, 0.025),
    ("late_pitch_error", {"whole_pitch_error": "0.03 %", "worn_pitch_error": "0.02 %"}, 0.05),
    # (14 - 1.5) mm, 28 mm long: 220 N on half of 1100 mm²
    ("half_nut_pressure", {"push_needed": "220 N", "leadscrew_pitch_diameter": "12.5 mm", "half_nut_length": "28 mm"}, 0.40018),
    # 4e-6 x 0.5 x 9 km / 900
    (
        "nut_worn",
        {
            "gritty_coefficient": "0.000004",
            "half_nut_pressure": "0.5 N/mm²",
            "nut_sliding": "9000 m",
            "nut_hardness": "900 N/mm²",
        },
        0.02,
    ),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING: dict[str, str] = {}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN: dict[str, str] = {}
