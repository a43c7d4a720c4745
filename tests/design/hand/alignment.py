"""Commissioning: results worked by hand, and what moves nothing or is only shown."""

from lathe_course.design.jobs import Job, Jobs

_JOB = {"material": "mild steel", "roughness": "1.6 µm", "share": "0.5", "tolerance": "20 µm"}
_WORK = {
    "tolerance": "20 µm",
    "error_share": "30 %",
    "work_length": "60 mm",
    "work_support": "chuck alone",
    "jobs": Jobs(
        [
            Job.read({**_JOB, "name": "bush", "diameter": "50 mm", "length": "100 mm"}),
            Job.read({**_JOB, "name": "shaft", "diameter": "20 mm", "length": "300 mm"}),
        ]
    ),
}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # the bush: 6 µm of 20 on 100 mm, on both sides, is 4.5 in 150, told as the 5 that can be read; the shaft between centres asks nothing of the axis
    ("axis_work_limit", {**_WORK, "axis_class_limit": "8 µm"}, 5),
    ("axis_work_limit", {**_WORK, "tolerance": "40 µm", "work_length": "60 mm", "axis_class_limit": "8 µm", "jobs": Jobs()}, 15),
    ("axis_work_limit", {**_WORK, "work_support": "between centres", "jobs": Jobs(), "axis_class_limit": "8 µm"}, 8),
    ("axis_reach", {"work_support": "chuck alone"}, 1),
    ("axis_reach", {"work_support": "chuck and centre"}, 0.19245),
    ("axis_reach", {"work_support": "between centres"}, 0),
    ("offset_taper", {"work_support": "between centres", "work_length": "280 mm", "tailstock_class_limit": "13 µm"}, 36.4),
    ("offset_taper", {"work_support": "chuck alone", "work_length": "60 mm", "tailstock_class_limit": "13 µm"}, 0),
    ("taper_at_class_limit", {"axis_taper": "6.4 µm", "offset_taper": "1 µm"}, 7.4),
    # 6 µm of 20 on the bush of 100 mm is 18 in 300; half of that at the tool, 115 mm above the line of twist
    (
        "level_work_limit",
        {
            **_WORK,
            "between_centres": "300 mm",
            "twist_lever": "115 mm",
            "foot_spacing": "400 mm",
            "twist_unevenness": "10 %",
            "acceptance_class": "general",
        },
        18 / 2 / 115,
    ),
    (
        "finest_lift",
        {
            "feet": "four feet bolted down",
            "level_work_limit": "0.1 mm/m",
            "bed_width": "120 mm",
            "foot_spacing": "400 mm",
            "between_centres": "300 mm",
        },
        16,
    ),
    (
        "finest_lift",
        {
            "feet": "three feet",
            "level_work_limit": "0.1 mm/m",
            "bed_width": "120 mm",
            "foot_spacing": "400 mm",
            "between_centres": "300 mm",
        },
        0,
    ),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {
    "axis_class_limit": "17",
    "axis_work_limit": "17",
    "axis_reach": "17",
    "axis_taper": "17",
    "offset_taper": "17",
    "tailstock_class_limit": "17",
    "taper_at_class_limit": "17",
    "finest_shim": "17",
    "level_work_limit": "17",
    "finest_lift": "17",
}
