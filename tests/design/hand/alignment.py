"""Commissioning: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("spindle_height", {"bench_height": "850 mm", "riser_height": "40 mm", "bed_height": "80 mm", "centre_height": "75 mm"}, 1045),
    ("elbow_above_spindle", {"elbow_height": "1110 mm", "spindle_height": "1045 mm"}, 65),
    ("elbow_above_spindle", {"elbow_height": "1000 mm", "spindle_height": "1045 mm"}, -45),
    ("off_the_elbow", {"elbow_above_spindle": "-45 mm"}, 45),
    ("riser_wanted", {"riser_height": "40 mm", "elbow_above_spindle": "65 mm"}, 105),
    # 6 µm of 20, over 300 of 60 mm, on both sides: 15 µm at the tool, 75 mm above the ways
    ("level_work_limit", {"tolerance": "20 µm", "error_share": "30 %", "between_centres": "300 mm", "work_length": "60 mm", "centre_height": "75 mm"}, 0.2),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING = {}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"axis_class_limit": "17", "axis_work_limit": "17", "taper_at_class_limit": "17", "finest_shim": "17", "level_work_limit": "17",
              "finest_lift": "17", "riser_wanted": "17"}
