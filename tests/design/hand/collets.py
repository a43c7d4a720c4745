"""Collets: results worked by hand, and what moves nothing or is only shown."""

from lathe_course.design.jobs import Job, Jobs


def _job(name, diameter, tolerance, share, bar="0 mm", material="brass", length="30 mm", holding="chuck alone"):
    return Job.read(
        {
            "name": name,
            "material": material,
            "diameter": diameter,
            "length": length,
            "bar": bar,
            "tolerance": tolerance,
            "roughness": "1.6 µm",
            "share": share,
            "holding": holding,
        }
    )


#: two that a collet of 12 mm holds, one of them off a bar; and what none does: thick, between centres, wood, a disc
_JOBS = Jobs(
    [
        _job("pillar", "10 mm", "50 µm", "0.2"),
        _job("arbor", "6 mm", "20 µm", "0.1", bar="6 mm"),
        _job("bush", "30 mm", "10 µm", "0.3"),
        _job("rod", "8 mm", "15 µm", "0.2", length="90 mm", holding="between centres"),
        _job("peg", "10 mm", "300 µm", "0.1", material="hardwood"),
        _job("washer", "12 mm", "30 µm", "0.1", length="2 mm"),
    ]
)
_ALL = {"jobs": _JOBS, "collet_room": "12 mm", "collet_bar": "12 mm"}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("collet_room", {"collets": "none", "taper_diameter": "24 mm", "chuck_diameter": "100 mm"}, 0),
    ("collet_room", {"collets": "drawn into the taper", "taper_diameter": "24 mm", "chuck_diameter": "100 mm"}, 12),
    ("collet_room", {"collets": "in a chuck on the nose", "taper_diameter": "24 mm", "chuck_diameter": "100 mm"}, 20),
    ("collet_bar", {"collets": "drawn into the taper", "collet_room": "12 mm", "bar_room": "19 mm"}, 0),
    ("collet_bar", {"collets": "in a chuck on the nose", "collet_room": "20 mm", "bar_room": "19 mm"}, 19),
    ("collet_jobs", _ALL, 2),
    ("collet_jobs", {**_ALL, "collet_bar": "0 mm"}, 1),
    ("collet_jobs", {**_ALL, "collet_room": "0 mm"}, 0),
    ("collet_share", _ALL, 30),
    ("collet_sets", {"collets": "none"}, 0),
    ("collet_sets", {"collets": "drawn into the taper"}, 1),
    # 3, 4 and 5; 5, 12 and 13
    ("chuck_runout", {"nose_as_made": "0.03 mm", "jaws_runout": "0.04 mm"}, 0.05),
    (
        "small_runout",
        {
            "collets": "drawn into the taper",
            "taper_as_made": "0.012 mm",
            "nose_as_made": "0.02 mm",
            "collet_class": "0.005 mm",
            "chuck_runout": "0.05 mm",
        },
        0.013,
    ),
    (
        "small_runout",
        {
            "collets": "in a chuck on the nose",
            "taper_as_made": "0.012 mm",
            "nose_as_made": "0.02 mm",
            "collet_class": "0.015 mm",
            "chuck_runout": "0.05 mm",
        },
        0.025,
    ),
    (
        "small_runout",
        {
            "collets": "none",
            "taper_as_made": "0.012 mm",
            "nose_as_made": "0.02 mm",
            "collet_class": "0.015 mm",
            "chuck_runout": "0.05 mm",
        },
        0.05,
    ),
    ("collet_gain", {"chuck_runout": "0.06 mm", "small_runout": "0.02 mm"}, 3),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING: dict[str, str] = {}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"collet_share": "06"}
