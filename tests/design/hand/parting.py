"""Parting off: results worked by hand, and what moves nothing or is only shown."""

import types

import numpy as np

_JOBS = types.SimpleNamespace(column=lambda name: np.array([0.0, 0.018]))
_NONE = types.SimpleNamespace(column=lambda name: np.array([0.0, 0.0]))
_REAR = {"parting_diameter": "18 mm", "parting_reach": "11 mm", "tool_overhang": "14 mm", "tool_shank": "10 mm"}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("parting_diameter", {"jobs": _JOBS, "spindle_bore": "19 mm", "parting_from": "in front"}, 18),
    ("parting_diameter", {"jobs": _NONE, "spindle_bore": "19 mm", "parting_from": "behind"}, 19),
    ("parting_diameter", {"jobs": _JOBS, "spindle_bore": "19 mm", "parting_from": "sawn off"}, 0),
    ("parting_reach", {"parting_diameter": "18 mm"}, 11),
    ("parting_reach", {"parting_diameter": "0 mm"}, 0),
    ("blade_slenderness", {"parting_reach": "11 mm", "parting_width": "2 mm"}, 5.5),
    ("blade_height", {"parting_width": "2 mm", "blade_height_ratio": "6.5"}, 13),
    # 2000 N/mm² x 1.5 x 2 mm x 0.06 mm
    (
        "parting_force",
        {"parting_specific_force": "2000 N/mm²", "parting_width": "2 mm", "parting_feed": "0.06 mm/rev", "cut_condition": "1.5"},
        360,
    ),
    # 4 x 11³ / (207 000 x 2 x 13³) x 400 N, in thousandths
    (
        "blade_dip",
        {
            "parting_force": "400 N",
            "parting_reach": "11 mm",
            "parting_width": "2 mm",
            "blade_height": "13 mm",
            "steel_modulus": "207 GPa",
        },
        2.3413,
    ),
    ("parting_torque", {"parting_force": "400 N", "parting_diameter": "18 mm"}, 3.6),
    # cos 10 x (0.6 cos 10 - sin 10), and turned over with a plus
    ("parting_direction", {"thrust_share": "60 %", "sway_angle": "10 deg", "parting_from": "in front"}, 0.41090),
    ("parting_direction", {"thrust_share": "60 %", "sway_angle": "10 deg", "parting_from": "behind"}, 0.75292),
    # 3 m/min at 18 mm: 3000 / (18 x 3.1416)
    ("parting_turns", {"parting_quiet_speed": "3 m/min", "parting_diameter": "18 mm"}, 53.052),
    # 30 m/min at 18 mm is 530.5 turns a minute; a third of it, or what stays quiet
    ("parting_speed", {"parting_turns": "200 rpm", "cutting_speed": "30 m/min", "parting_diameter": "18 mm"}, 176.84),
    ("parting_speed", {"parting_turns": "53 rpm", "cutting_speed": "30 m/min", "parting_diameter": "18 mm"}, 53),
    ("parting_speed", {"parting_turns": "0 rpm", "cutting_speed": "30 m/min", "parting_diameter": "0 mm"}, 0),
    # q = 0.6 x 4e9 x 0.002 / (2 x 6e6) = 0.4, z = (1.61245 - 1) / 2 = 0.30623; 0.1e6 x 2 x 3.1416 x 100 x 0.002 / (2 x 6e6 x 0.26623) m/s
    (
        "parting_quiet_speed",
        {
            "machine_stiffness": "6 N/µm",
            "damping": "0.04",
            "parting_slope": "4000 N/mm²",
            "parting_direction": "0.6",
            "process_damping": "0.1 N/µm",
            "sway_frequency": "100 Hz",
            "parting_width": "2 mm",
        },
        2.3600,
    ),
    # 2 x (14 + 14 + 18 + 5 + 11 + 15)
    ("rear_post_length", {**_REAR, "parting_from": "behind"}, 154),
    ("rear_post_length", {**_REAR, "parting_from": "in front"}, 0),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"blade_height": "08", "blade_dip": "08", "blade_height_ratio": "08", "parting_speed": "17"}
