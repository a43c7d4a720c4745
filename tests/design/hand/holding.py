"""Work as it is held: results worked by hand, and what moves nothing or is only shown."""

import numpy as np

from lathe_course.design.jobs import Job, Jobs

_JOB = {"material": "mild steel", "roughness": "1.6 µm", "share": "0.5", "tolerance": "20 µm"}
#: a short bush, and a shaft that is proposed for centres
_BUSH = Job.read({**_JOB, "name": "bush", "diameter": "50 mm", "length": "100 mm"})
_SHAFT = Job.read({**_JOB, "name": "shaft", "diameter": "20 mm", "length": "300 mm", "tolerance": "40 µm"})
_SIDES = {"chuck_side_give": "93 µm/kN", "centre_side_give": "55 µm/kN", "plate_side_give": "70 µm/kN"}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("twist_error", {"job_twists": np.array([4.6e-6, 8e-6]), "jobs": Jobs([_BUSH, _SHAFT])}, 4.6),
    ("twist_share", {"job_twists": np.array([4.6e-6, 8e-6]), "jobs": Jobs([_BUSH, _SHAFT])}, 23),
    ("shape_share", {"job_shapes": np.array([2e-6, 8e-6]), "jobs": Jobs([_BUSH, _SHAFT])}, 20),
    ("near_reach", {"spindle_diameter": "35 mm", "cut_reach": "60 mm"}, 35),
    ("near_reach", {"spindle_diameter": "35 mm", "cut_reach": "30 mm"}, 30),
    (
        "centre_side_give",
        {
            "near_spindle_compliance": "40 µm/kN",
            "chuck_give": "12 µm/kN",
            "centre_share": "0.5",
            "headstock_give": "6 µm/kN",
            "give_scale": "1.5",
        },
        78,
    ),
    (
        "plate_side_give",
        {
            "near_spindle_compliance": "40 µm/kN",
            "chuck_give": "12 µm/kN",
            "plate_share": "0.75",
            "headstock_give": "6 µm/kN",
            "give_scale": "1",
        },
        55,
    ),
    ("give_scale", {"machine_compliance": "60 µm/kN", "predicted_compliance": "150 µm/kN"}, 0.4),
    (
        "chuck_side_give",
        {"spindle_compliance": "75 µm/kN", "chuck_give": "12 µm/kN", "headstock_give": "6 µm/kN", "give_scale": "0.4"},
        37.2,
    ),
    ("head_give", {"work_support": "chuck alone", **_SIDES}, 93),
    ("head_give", {"work_support": "chuck and centre", **_SIDES}, 93),
    ("head_give", {"work_support": "between centres", **_SIDES}, 55),
    ("head_give", {"work_support": "faceplate", **_SIDES}, 70),
    (
        "uneven_give",
        {
            "work_support": "chuck alone",
            "chuck_give": "12 µm/kN",
            "centre_share": "0.3",
            "plate_share": "0.7",
            "give_scale": "0.5",
        },
        6,
    ),
    (
        "uneven_give",
        {
            "work_support": "between centres",
            "chuck_give": "12 µm/kN",
            "centre_share": "0.3",
            "plate_share": "0.7",
            "give_scale": "1",
        },
        3.6,
    ),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"twist_error": "07", "job_leans": "17", "job_tapers": "17"}
