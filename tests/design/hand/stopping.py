"""Stopping: results worked by hand."""

_STOPS = {
    "plate_torque": "2.5 N·m",
    "top_reduction": "0.8",
    "brake_ratio": "0.15",
    "idle_share": "50 %",
    "drive_efficiency": "70 %",
}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("self_starts", {"stop_gear": "plain switch"}, 1),
    ("self_starts", {"stop_gear": "no-volt release"}, 0),
    ("stops_missing", {"stop_gear": "no-volt release"}, 1),
    ("stops_missing", {"stop_gear": "emergency stop that cuts the mains"}, 0),
    # 2 N·m at the spindle: half of three tenths is friction, and 0.15 of brake beside it
    ("emergency_torque", {**_STOPS, "stop_gear": "emergency stop that cuts the mains"}, 0.3),
    ("emergency_torque", {**_STOPS, "stop_gear": "emergency stop that brakes first"}, 0.6),
    ("hand_reach", {"hand_way": "4 m", "chuck_guard": "shield with a switch"}, 4000),
    ("hand_reach", {"hand_way": "4 m", "chuck_guard": "shield locked until it stands"}, 0),
]
