"""Cutting speeds: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # 18 000 mm/min / (π x 60/min)
    ("largest_at_speed", {"cutting_speed": "18 m/min", "slowest_speed": "60 rpm"}, 95.49),
    ("shoulder_speed", {"coarsest_pitch": "2 mm", "slowest_speed": "60 rpm"}, 2),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"largest_at_speed": "03"}
