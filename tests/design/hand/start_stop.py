"""Starting and stopping: results worked by hand, and what is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("top_full_power", {"motor_speed": "1400 rpm", "top_reduction": "0.95"}, 1473.7),
    # 2.524 x 0.95 x (1.2 - 0.5 x 0.3)
    (
        "starting_torque",
        {
            "plate_torque": "2.524 N·m",
            "top_reduction": "0.95",
            "start_torque_ratio": "1.2",
            "idle_share": "50 %",
            "drive_efficiency": "70 %",
        },
        2.518,
    ),
    # 2.524 x 0.95 x (0.15 + 0.5 x 0.3)
    (
        "braking_torque",
        {
            "plate_torque": "2.524 N·m",
            "top_reduction": "0.95",
            "brake_ratio": "0.15",
            "idle_share": "50 %",
            "drive_efficiency": "70 %",
        },
        0.7193,
    ),
    ("start_current", {"supply_current": "7.2 A", "start_current_ratio": "5"}, 36),
    ("breaker_current", {"supply_limit": "16 A", "breaker_ratio": "4"}, 64),
]
