"""Forces and power: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("spindle_power", {"motor_power": "370 W", "drive_efficiency": "0.7"}, 259),
    # a hundredth of 8 mm
    ("drill_feed", {"largest_drill": "8 mm", "drill_feed_share": "1 %"}, 0.08),
    # 0.04 mm x sin 59 deg
    ("drill_chip_thickness", {"drill_feed": "0.08 mm/rev"}, 0.034287),
    # half a millimetre up, the nose's 0.4 along
    ("effective_entering_angle", {"depth_of_cut": "0.5 mm", "nose_radius": "0.4 mm", "entering_angle": "90 deg"}, 51.340),
    # the nose ends 0.11716 up and 0.28284 along; 0.88284 more both ways at 45 deg
    ("effective_entering_angle", {"depth_of_cut": "1 mm", "nose_radius": "0.4 mm", "entering_angle": "45 deg"}, 40.626),
    ("radial_share", {"thrust_share": "60 %", "effective_entering_angle": "60 deg"}, 30),
    ("feed_share", {"thrust_share": "60 %", "effective_entering_angle": "60 deg"}, 51.96),
    # (100 / 25)^0.153
    ("speed_effect", {"cutting_speed": "25 m/min"}, 1.2363),
    # 0.65 x 230 x 13 x 0.75
    (
        "supply_power",
        {"supply_voltage": "230 V", "supply_limit": "13 A", "motor_efficiency": "0.65", "power_factor": "0.75"},
        1457.6,
    ),
    ("torque_needed", {"cutting_force": "267 N", "torque_diameter": "60 mm"}, 8.01),
    # 370 / (0.65 x 230 x 0.75)
    (
        "supply_current",
        {"motor_power": "370 W", "supply_voltage": "230 V", "motor_efficiency": "0.65", "power_factor": "0.75"},
        3.300,
    ),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"speed_effect": "04", "removal_rate": "04", "supply_power": "04", "spindle_power": "04"}
