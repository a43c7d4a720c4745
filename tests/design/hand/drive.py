"""Drive: results worked by hand, and what is only shown."""

_ONE_SPEED = {"kind_slowest_share": "1", "kind_fastest_share": "1"}
_INVERTER = {"kind_slowest_share": "0.1", "kind_fastest_share": "2"}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("motor_low", {"slowest_share": "20 %"} | _INVERTER, 20),
    ("motor_low", {"slowest_share": "5 %"} | _INVERTER, 10),
    ("motor_low", {"slowest_share": "20 %"} | _ONE_SPEED, 100),
    ("motor_high", {"fastest_share": "150 %", "motor_low": "20 %", "kind_fastest_share": "2"}, 150),
    ("motor_high", {"fastest_share": "150 %", "motor_low": "100 %", "kind_fastest_share": "1"}, 100),
    # 480 W out of 80 per cent at 48 V
    ("unit_current", {"motor_power": "480 W", "motor_efficiency": "80 %", "unit_voltage": "48 V"}, 12.5),
    ("unit_current", {"motor_power": "480 W", "motor_efficiency": "80 %", "unit_voltage": "0 V"}, 0),
    # 1400 / 4.667
    ("full_power_speed", {"motor_speed": "1400 rpm", "largest_reduction": "4.667"}, 299.98),
    ("overrun_limit", {"fastest_speed": "2200 rpm", "chuck_top_speed": "3000 rpm"}, 2420),
    ("overrun_limit", {"fastest_speed": "2200 rpm", "chuck_top_speed": "1500 rpm"}, 1500),
    # 60 rpm is a fifth of 300; 40 rpm cannot be had; at 700 the motor would have to run at 233 per cent
    (
        "slow_share",
        {
            "slowest_speed": "60 rpm",
            "drive_slowest": "60 rpm",
            "full_power_speed": "300 rpm",
            "motor_low": "0.2",
            "motor_high": "1.5",
        },
        20,
    ),
    (
        "slow_share",
        {
            "slowest_speed": "40 rpm",
            "drive_slowest": "60 rpm",
            "full_power_speed": "300 rpm",
            "motor_low": "0.2",
            "motor_high": "1.5",
        },
        20,
    ),
    (
        "slow_share",
        {
            "slowest_speed": "700 rpm",
            "drive_slowest": "60 rpm",
            "full_power_speed": "300 rpm",
            "motor_low": "0.2",
            "motor_high": "1.5",
        },
        150,
    ),
    # 2.524 x 0.7 x 4.667 x 0.7
    (
        "low_speed_torque",
        {"motor_torque_slow": "2.524 N·m", "slow_cooling": "70 %", "largest_reduction": "4.667", "geared_efficiency": "70 %"},
        5.772,
    ),
    # 0.9 x 0.9 x 0.85, and with two pairs of wheels x 0.95 x 0.95
    (
        "drive_efficiency",
        {"belt_efficiency": "90 %", "belt_stages": "2", "gear_efficiency": "95 %", "bearing_efficiency": "85 %"},
        68.85,
    ),
    (
        "geared_efficiency",
        {
            "belt_efficiency": "90 %",
            "belt_stages": "2",
            "gear_efficiency": "95 %",
            "back_gear_pairs": "2",
            "bearing_efficiency": "85 %",
        },
        62.137,
    ),
    ("belt_stages", {"countershaft_ratio": "1"}, 1),
    ("belt_stages", {"countershaft_ratio": "2.5"}, 2),
    ("back_gear_pairs", {"back_gear_ratio": "1"}, 0),
    ("back_gear_pairs", {"back_gear_ratio": "6"}, 2),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"first_step_speed": "05"}
