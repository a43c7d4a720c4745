"""Height of the machine: results worked by hand, and what is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("spindle_height", {"bench_height": "850 mm", "riser_height": "40 mm", "bed_depth": "80 mm", "centre_height": "75 mm"}, 1045),
    ("elbow_above_spindle", {"elbow_height": "1110 mm", "spindle_height": "1045 mm"}, 65),
    ("elbow_above_spindle", {"elbow_height": "1000 mm", "spindle_height": "1045 mm"}, -45),
    ("off_the_elbow", {"elbow_above_spindle": "-45 mm"}, 45),
    ("riser_wanted", {"riser_height": "40 mm", "elbow_above_spindle": "65 mm"}, 105),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"riser_wanted": "13"}
