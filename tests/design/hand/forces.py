"""Forces and power: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("spindle_power", {"motor_power": "370 W", "drive_efficiency": "0.7"}, 259),
    ("torque_speed", {"slowest_speed": "60 rpm", "full_power_speed": "300 rpm"}, 300),
    ("torque_speed", {"slowest_speed": "60 rpm", "full_power_speed": "40 rpm"}, 60),
    # 259 W / (2π x 5/s)
    ("low_speed_torque", {"spindle_power": "259 W", "torque_speed": "300 rpm"}, 8.244),
    ("torque_needed", {"cutting_force": "267 N", "torque_diameter": "60 mm"}, 8.01),
    # 370 / (0.65 x 230 x 0.75)
    ("supply_current", {"motor_power": "370 W", "supply_voltage": "230 V", "motor_efficiency": "0.65", "power_factor": "0.75"}, 3.300),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING = {}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"removal_rate": "04"}
