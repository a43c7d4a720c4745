"""Dividing: results worked by hand, and what moves nothing or is only shown."""

import types

_HERE, _BOUGHT = (
    types.SimpleNamespace(part=lambda name, choices, how=how: types.SimpleNamespace(how=how))
    for how in ("make it here", "bought")
)
_NONE = types.SimpleNamespace(part=lambda name, choices: None)
_WANTED = {"dial_divisions": "100", "change_wheels": "20, 30, 35, 50", "dials_here": "1", "wheels_here": "1"}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("dials_here", {"making": _HERE}, 1),
    ("dials_here", {"making": _BOUGHT}, 0),
    ("wheels_here", {"making": _HERE, "threading": "yes", "feed_drive": "by hand"}, 1),
    ("wheels_here", {"making": _NONE, "threading": "no", "feed_drive": "by hand"}, 0),
    ("divided_here", {"dials_here": "1", "wheels_here": "1"}, 2),
    # of 100 lines, and 20, 30, 35 and 50 teeth, sixty holes give 20 and 30
    ("undivided", {**_WANTED, "dividing": "holes in the spindle pulley"}, 3),
    ("undivided", {**_WANTED, "dividing": "holes in the spindle pulley", "dial_divisions": "60", "wheels_here": "0"}, 0),
    ("undivided", {**_WANTED, "dividing": "holes in the spindle pulley", "dial_divisions": "20", "wheels_here": "0"}, 0),
    ("undivided", {**_WANTED, "dividing": "holes in the spindle pulley", "dial_divisions": "120", "wheels_here": "0"}, 1),
    ("undivided", {**_WANTED, "dividing": "plate and detent"}, 0),
    ("ring_diameter", {"dividing": "plate and detent", "centre_height": "75 mm", "largest_driven": "140 mm"}, 99.75),
    ("ring_diameter", {"dividing": "holes in the spindle pulley", "centre_height": "75 mm", "largest_driven": "140 mm"}, 112),
    ("line_error", {"division_error": "0.1 mm", "dial_diameter": "40 mm", "ring_diameter": "100 mm"}, 0.04),
    ("tooth_error", {"division_error": "0.1 mm", "tip_diameter": "65 mm", "ring_diameter": "100 mm"}, 0.065),
    # lines 1.2566 mm apart
    ("line_unevenness", {"line_error": "0.04 mm", "dial_diameter": "40 mm", "dial_divisions": "100"}, 3.1831),
]
