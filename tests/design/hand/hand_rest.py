"""The hand rest: results worked by hand, and what moves nothing or is only shown."""

from lathe_course.design.jobs import Job, Jobs


def _job(name, material, diameter, length, holding="chuck alone"):
    return Job.read(
        {
            "name": name,
            "material": material,
            "diameter": diameter,
            "length": length,
            "tolerance": "500 µm",
            "roughness": "6.3 µm",
            "share": "0.5",
            "holding": holding,
        }
    )


_PIN = _job("pin", "mild steel", "20 mm", "60 mm")
_MALLET, _LEG = _job("mallet", "hardwood", "110 mm", "160 mm"), _job("leg", "hardwood", "110 mm", "200 mm", "chuck and centre")
_JOBS, _CENTRED, _NO_WOOD = Jobs([_PIN, _MALLET]), Jobs([_PIN, _MALLET, _LEG]), Jobs([_PIN])
_BED = {
    "bed_length": "900 mm",
    "headstock_length": "200 mm",
    "bearing_span": "150 mm",
    "spindle_overhang": "55 mm",
    "saddle_length": "160 mm",
    "tail_reach_out": "600 mm",
    "swing_over_slide": "100 mm",
    "hand_rest": "on the bed",
}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("wood_jobs", {"jobs": _JOBS}, 1),
    ("wood_jobs", {"jobs": _NO_WOOD}, 0),
    ("hand_rests", {"hand_rest": "none"}, 0),
    ("hand_rests", {"hand_rest": "in the toolpost"}, 1),
    ("caught_force", {"wood_force": "20 N/mm²", "caught_chip": "8 mm²"}, 160),
    ("handle_pull", {"caught_force": "160 N", "rest_gap": "6 mm", "handle_length": "300 mm"}, 3.2),
    ("hand_rest_load", {"caught_force": "160 N", "rest_gap": "6 mm", "handle_length": "300 mm"}, 163.2),
    ("rest_clamped", {"hand_rest": "on the bed", "wood_jobs": "2"}, 1),
    ("rest_clamped", {"hand_rest": "on the bed", "wood_jobs": "0"}, 0),
    ("rest_clamped", {"hand_rest": "in the toolpost", "wood_jobs": "2"}, 0),
    ("rest_hold", {"clamp_pull": "7000 N", "clamp_friction": "0.15"}, 1050),
    ("wood_over_bed", {"jobs": _JOBS, "swing_over_slide": "100 mm", "hand_rest": "on the bed"}, 1),
    ("wood_over_bed", {"jobs": _JOBS, "swing_over_slide": "110 mm", "hand_rest": "on the bed"}, 0),
    ("wood_over_bed", {"jobs": _JOBS, "swing_over_slide": "100 mm", "hand_rest": "in the toolpost"}, 0),
    ("wood_reach", {"jobs": _JOBS, "swing_over_slide": "100 mm", "hand_rest": "on the bed", "jaws_front": "90 mm"}, 250),
    ("wood_reach", {"jobs": _JOBS, "swing_over_slide": "120 mm", "hand_rest": "on the bed", "jaws_front": "90 mm"}, 0),
    # 900 - 175 - 55 - 160 at the end of the bed; 600 - 160 before a tailstock that holds a leg
    ("saddle_parked", {"jobs": _JOBS, **_BED}, 510),
    ("saddle_parked", {"jobs": _CENTRED, **_BED}, 440),
    # wood need not clear the slide where a rest stands on the bed
    ("largest_shaft", {"jobs": _JOBS, "hand_rest": "on the bed"}, 20),
    ("largest_shaft", {"jobs": _JOBS, "hand_rest": "in the toolpost"}, 110),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING: dict[str, str] = {}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"handle_pull": "08"}
