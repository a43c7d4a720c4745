"""Where a roughing cut ends: results worked by hand, and what is only shown."""

_CUT = {"specific_cutting_force": "2000 N/mm²", "cut_condition": "1.25", "feed": "0.1 mm/rev"}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # 300 W at 20 m/min are 900 N: 900 / (1.25 x 2000 x 0.1)
    ("depth_by_power", {**_CUT, "spindle_power": "300 W", "cutting_speed": "20 m/min"}, 3.6),
    # 6 N·m on 60 mm are 200 N
    ("depth_by_torque", {**_CUT, "pace_torque": "6 N·m", "pace_diameter": "60 mm"}, 0.8),
    # 200 N at 30 mm from the axis
    ("pace_diameter", {"pace_asked": "6 N·m", "cutting_force": "200 N"}, 60),
    # 0.6 x sin 45 deg
    ("depth_by_quiet", {"chatter_free_width": "0.6 mm", "entering_angle": "45 deg"}, 0.42426),
    ("depth_that_goes", {"depth_by_power": "3.6 mm", "depth_by_torque": "0.8 mm", "depth_by_quiet": "0.42 mm"}, 0.42),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {
    "pace_diameter": "08",
    "depth_by_power": "08",
    "depth_by_torque": "08",
    "depth_by_quiet": "08",
    "depth_that_goes": "08",
    "cuts_by_material": "17",
    "finish_feed_had": "09",
}
