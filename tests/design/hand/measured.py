"""Give as measured: results worked by hand, and what is only shown."""

_SIDES = {
    "spindle_compliance": "75 µm/kN",
    "chuck_give": "12 µm/kN",
    "headstock_give": "6 µm/kN",
    "bed_compliance": "11 µm/kN",
    "saddle_give": "10 µm/kN",
    "cross_slide_give": "14 µm/kN",
    "top_give": "16 µm/kN",
    "toolpost_give": "8 µm/kN",
    "shank_compliance": "1 µm/kN",
}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    (
        "machine_compliance",
        {"give_from": "worked out", "measured_compliance": "160 µm/kN", "predicted_compliance": "140 µm/kN"},
        140,
    ),
    (
        "machine_compliance",
        {"give_from": "measured", "measured_compliance": "160 µm/kN", "predicted_compliance": "140 µm/kN"},
        160,
    ),
    ("machine_compliance", {"give_from": "measured", "measured_compliance": "0 µm/kN", "predicted_compliance": "140 µm/kN"}, 140),
    ("softest_side", {"measured_compliance": "60 µm/kN", **_SIDES}, 93),
    ("softest_side", {"measured_compliance": "0 µm/kN", **_SIDES}, 0),
    ("readings_wanted", {"give_from": "measured"}, 4),
    ("readings_wanted", {"give_from": "worked out"}, 0),
    ("apart", {"measured_compliance": "70 µm/kN", "predicted_compliance": "140 µm/kN"}, 2),
    ("apart", {"measured_compliance": "210 µm/kN", "predicted_compliance": "140 µm/kN"}, 1.5),
    ("apart", {"measured_compliance": "0 µm/kN", "predicted_compliance": "140 µm/kN"}, 0),
]
