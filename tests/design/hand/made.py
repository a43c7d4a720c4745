"""Tests to expect and what carries the machine: results worked by hand, and what is only shown."""

_WOOD = {
    "machine_weight": "600 N",
    "bench_span": "1200 mm",
    "bearers": "3",
    "bearer_width": "44 mm",
    "bearer_height": "144 mm",
    "bearer_modulus": "9 GPa",
}
_ROCKS = {
    "stand_rocking": "600 rpm",
    "spindle_height": "1100 mm",
    "machine_sag": "1 mm",
    "floor_sag": "0 mm",
    "floor_bears": "2 kN/m²",
    "machine_weight": "600 N",
    "stand_mass": "30 kg",
    "person_mass": "70 kg",
    "standing_area": "0.6 m²",
}
_TAPERS = {
    "expected_axis_set": "0 µm",
    "level_setting": "0 mm/m",
    "way_plane": "0 mm/m",
    "stand_twist": "0 mrad",
    "way_crook": "0 mm/m",
    "crook_sideways": "50 %",
    "offset_setting": "0 mm",
    "twist_lever": "100 mm",
    "between_centres": "300 mm",
    "foot_spacing": "400 mm",
    "twist_unevenness": "10 %",
    "work_support": "chuck alone",
    "work_length": "75 mm",
}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # 600 x 1.2^3 / (4 x 3 x 9e9 x 0.044 x 0.144^3)
    ("machine_sag", {"stands_on": "a wooden bench", **_WOOD}, 0.07307),
    ("machine_sag", {"stands_on": "a steel bench or stand", **_WOOD}, 0),
    # 3, 4, 5
    ("foot_change", {"stand_change": "0.03 mm", "bench_unrest": "10 %", "machine_sag": "0.4 mm"}, 0.05),
    # by itself 10 Hz; a sag of 1 mm bounces at 15.76 Hz; in a row 1 / 10² + 1 / 15.76²
    ("rocking_speed", _ROCKS, 506.6),
    # twice as high: half, and nothing that sags
    ("rocking_speed", {**_ROCKS, "spindle_height": "2200 mm", "machine_sag": "0 mm"}, 300),
    # the floor at a load of (600 + 981) / 0.6 N/m² of 2000: it sags as it does under what it bears, times 1.3175
    ("rocking_speed", {**_ROCKS, "machine_sag": "0 mm", "floor_sag": "1 mm", "stand_rocking": "60000 rpm"}, 823.8),
    # 3 kg x 0.04 mm / (2 x 0.05 x (60 + 40) kg)
    (
        "rocking_shake",
        {
            "chuck_mass": "3 kg",
            "chuck_off_centre": "0.04 mm",
            "machine_weight": "588.6 N",
            "stand_mass": "40 kg",
            "rocking_damping": "0.05",
        },
        12,
    ),
    ("expected_level", {"level_setting": "0.02 mm/m", "way_plane": "0.03 mm/m", "stand_twist": "0.06 mrad"}, 0.07),
    ("expected_straight", {"way_crook": "0.05 mm/m"}, 15),
    ("expected_nose", {"nose_as_made": "0.012 mm"}, 12),
    ("expected_slip", {"slip_as_made": "0.008 mm"}, 8),
    ("expected_taper", {"taper_as_made": "0.02 mm"}, 20),
    ("expected_rise", {"rise_as_made": "0.1 mm/m"}, 15),
    ("expected_axis", {"axis_as_made": "0.12 mm/m", "axis_moved": "0.05 mm/m"}, 19.5),
    # 5 µm over 100 mm is 0.05 mm/m
    (
        "expected_axis_set",
        {"axis_setting": "0.12 mm/m", "shim_left": "5 µm", "fixing_spacing": "100 mm", "expected_axis": "60 µm"},
        19.5,
    ),
    # what is better as it is stays
    (
        "expected_axis_set",
        {"axis_setting": "0.12 mm/m", "shim_left": "5 µm", "fixing_spacing": "100 mm", "expected_axis": "6 µm"},
        6,
    ),
    ("expected_square", {"square_as_made": "0.2 mm/m"}, 10),
    ("expected_disc", {"square_as_made": "0.2 mm/m"}, 10),
    ("expected_barrel_rise", {"barrel_rise_as_made": "0.25 mm/m"}, 20),
    ("expected_barrel_side", {"barrel_side_as_made": "0.25 mm/m"}, 20),
    ("expected_height", {"height_as_made": "0.03 mm"}, 30),
    ("expected_lead", {"leadscrew_error": "0.02 %", "threading": "yes"}, 60),
    ("expected_lead", {"leadscrew_error": "0.02 %", "threading": "no"}, 0),
    # axis 2 x 9 x 100 / 150 = 12; twist 2 x 100 x 0.075 mm/m x a third of the bed = 5
    (
        "expected_collars",
        {"expected_axis_set": "9 µm", "expected_level": "0.075 mm/m", "twist_lever": "100 mm", "between_centres": "300 mm"},
        13,
    ),
    # each cause by itself: 2 x 12 x 75 / 150; 2 x 100 x 0.08 x 75 / 300; 2 x 100 x 0.08 x 75 / 400; a bow of 32 µm in 300, half of it sideways, is 1 µm in 75
    ("set_taper", {**_TAPERS, "expected_axis_set": "12 µm"}, 12),
    ("set_taper", {**_TAPERS, "level_setting": "0.08 mm/m"}, 4),
    ("set_taper", {**_TAPERS, "way_plane": "0.08 mm/m"}, 4),
    ("set_taper", {**_TAPERS, "stand_twist": "0.08 mrad"}, 3),
    ("set_taper", {**_TAPERS, "way_crook": "0.106667 mm/m"}, 2),
    # in the chuck the tailstock is not felt; between centres it is, and the axis is not
    ("set_taper", {**_TAPERS, "offset_setting": "0.006 mm"}, 0),
    ("set_taper", {**_TAPERS, "offset_setting": "0.006 mm", "expected_axis_set": "12 µm", "work_support": "between centres"}, 6),
    # 12 and 5
    ("set_taper", {**_TAPERS, "expected_axis_set": "12 µm", "level_setting": "0.1 mm/m"}, 13),
    ("infeed_error", {"lead_of_cross_screw": "0.3 mm/m"}, 6),
    # 0.1 mrad and 0.011 mm over 110 mm
    ("bearing_tilt", {"bearing_slope": "0.1 mrad", "seats_as_made": "0.011 mm", "bearing_span": "110 mm"}, 0.2),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {
    **dict.fromkeys(
        (
            "slip_as_made",
            "rise_as_made",
            "square_as_made",
            "height_as_made",
            "barrel_rise_as_made",
            "barrel_side_as_made",
            "expected_level",
            "expected_straight",
            "expected_nose",
            "expected_slip",
            "expected_taper",
            "expected_rise",
            "expected_square",
            "expected_barrel_rise",
            "expected_barrel_side",
            "expected_height",
            "expected_lead",
            "expected_collars",
            "expected_disc",
        ),
        "17",
    ),
    **dict.fromkeys(
        ("chuck_off_centre", "stand_rocking", "floor_sag", "rocking_damping", "rocking_speed", "rocking_shake"), "07"
    ),
    **dict.fromkeys(("lead_of_cross_screw", "infeed_error"), "09"),
}
