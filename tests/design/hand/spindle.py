"""Spindle: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # 2200 a minute times 35 mm times 1.39
    ("speed_number", {"fastest_speed": "2200 rpm", "spindle_diameter": "35 mm", "bearing_mean_ratio": "1.39"}, 107_030),
    ("taper_wall", {"spindle_diameter": "35 mm", "taper_diameter": "23.825 mm"}, 5.5875),
    ("taper_wall", {"spindle_diameter": "20 mm", "taper_diameter": "23.825 mm"}, 0),
    ("span_over_best", {"bearing_span": "110 mm", "best_span": "88 mm"}, 1.25),
    ("span_over_best", {"bearing_span": "88 mm", "best_span": "110 mm"}, 1.25),
    ("bore_ratio", {"spindle_bore": "19 mm", "spindle_diameter": "38 mm"}, 50),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING = {}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"bore_share": "06", "spindle_give": "06", "front_bearing_load": "06"}
