"""Bearings: results worked by hand, and what moves nothing or is only shown."""

_ROLLERS = {"bearing_kind": "taper roller", "contact_angle": "13 deg", "static_rating": "50 kN"}
_LOADS = {"front_bearing_load": "700 N", "rear_bearing_load": "800 N", "preload": "100 N"}
_SQUEEZE = {"element_count": "19", "element_diameter": "7 mm", "roller_length_ratio": "1.8", "contact_angle": "13 deg"}
_WARM = {
    "steel_expansion": "10.8 um/(m*K)",
    "spindle_above_housing": "10 K",
    "bearing_span": "110 mm",
    "bearing_width": "17.85 mm",
    "bearing_mean_diameter": "48.65 mm",
    "contact_angle": "13 deg",
}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("element_diameter", {"spindle_diameter": "35 mm", "element_ratio": "0.2"}, 7),
    # γ = 7 cos 13° / 48.65 = 0.1402, factor 87.75; 1.1 x 87.75 x (12.6 x 0.9744)^(7/9) x 19^0.75 x 7^(29/27)
    (
        "reckoned_dynamic",
        {
            "bearing_kind": "taper roller",
            "element_diameter": "7 mm",
            "bearing_mean_diameter": "48.65 mm",
            "contact_angle": "13 deg",
            "element_count": "19",
            "roller_length_ratio": "1.8",
        },
        49_940,
    ),
    # 44 x (1 - 0.1402) x 19 x 12.6 x 7 x cos 13°
    (
        "reckoned_static",
        {
            "bearing_kind": "taper roller",
            "element_diameter": "7 mm",
            "bearing_mean_diameter": "48.65 mm",
            "contact_angle": "13 deg",
            "element_count": "19",
            "roller_length_ratio": "1.8",
        },
        61_770,
    ),
    # 16 deg steps aside: balls of 8 mm, γ = 0.1644, f_0 = 16.4 - 0.644 x 2.4 = 14.85; x 11 x 64
    (
        "reckoned_static",
        {
            "bearing_kind": "deep groove",
            "element_diameter": "8 mm",
            "bearing_mean_diameter": "48.65 mm",
            "contact_angle": "0 deg",
            "element_count": "11",
            "roller_length_ratio": "0",
        },
        10_456,
    ),
    (
        "reckoned_static",
        {
            "bearing_kind": "plain bronze",
            "element_diameter": "8 mm",
            "bearing_mean_diameter": "35 mm",
            "contact_angle": "0 deg",
            "element_count": "11",
            "roller_length_ratio": "0",
        },
        0,
    ),
    ("dynamic_rating", {"own_dynamic_rating": "0 N", "reckoned_dynamic": "45 kN"}, 45_000),
    ("dynamic_rating", {"own_dynamic_rating": "41 kN", "reckoned_dynamic": "45 kN"}, 41_000),
    ("static_rating", {"own_static_rating": "52 kN", "reckoned_static": "45 kN"}, 52_000),
    ("static_rating", {"own_static_rating": "0 N", "reckoned_static": "45 kN"}, 45_000),
    # (70/35)² x 100
    ("usual_preload", {"preload_reference": "100 N", "spindle_diameter": "70 mm"}, 400),
    # (10 x 0.6) / 2
    ("bearing_approach", {"squeezed_when_warm": "10 µm", "seat_give_share": "40 %"}, 3),
    ("preload", {**_SQUEEZE, "bearing_kind": "deep groove", "usual_preload": "80 N", "bearing_approach": "3 µm"}, 80),
    ("preload", {**_SQUEEZE, "bearing_kind": "taper roller", "usual_preload": "80 N", "bearing_approach": "0 µm"}, 0),
    # 3 µm x sin 13° = 0.6749 µm; 12.6^0.8 = 7.591; 0.0006749 x 7.591 / 0.0000768 = 66.70; ^(1/0.9) = 106.4 N a roller; x 19 x 0.22495
    ("preload", {**_SQUEEZE, "bearing_kind": "taper roller", "usual_preload": "80 N", "bearing_approach": "3 µm"}, 454.7),
    # no play, none of it usual: as the table has it; other kinds as they are
    (
        "front_stiffness_at_size",
        {
            **_SQUEEZE,
            "bearing_kind": "deep groove",
            "front_stiffness_set_well": "50 N/µm",
            "spindle_diameter": "35 mm",
            "loose_when_warm": "5 µm",
            "preload": "0 N",
            "usual_preload": "80 N",
        },
        50,
    ),
    (
        "rear_stiffness_at_size",
        {
            **_SQUEEZE,
            "bearing_kind": "taper roller",
            "rear_stiffness_set_well": "250 N/µm",
            "spindle_diameter": "35 mm",
            "loose_when_warm": "0 µm",
            "preload": "100 N",
            "usual_preload": "100 N",
        },
        250,
    ),
    ("loose_when_cold", {"cold_end_play": "12 µm", "bearing_kind": "taper roller"}, 12),
    ("loose_when_cold", {"cold_end_play": "-3 µm", "bearing_kind": "taper roller"}, 0),
    ("squeezed_when_cold", {"cold_end_play": "-3 µm", "bearing_kind": "taper roller"}, 3),
    ("squeezed_when_cold", {"cold_end_play": "-3 µm", "bearing_kind": "deep groove"}, 0),
    # at half the speed 2^(-5/3) = 0.315 of 40 W; plain, a quarter
    (
        "grease_drag",
        {
            "bearing_kind": "taper roller",
            "bearing_drag": "40 W",
            "spindle_diameter": "35 mm",
            "bearing_reference": "35 mm",
            "fastest_speed": "1000 rpm",
        },
        12.599,
    ),
    (
        "grease_drag",
        {
            "bearing_kind": "plain bronze",
            "bearing_drag": "40 W",
            "spindle_diameter": "35 mm",
            "bearing_reference": "35 mm",
            "fastest_speed": "1000 rpm",
        },
        10,
    ),
    # half the diameter, an eighth of the drag
    (
        "grease_drag",
        {
            "bearing_kind": "taper roller",
            "bearing_drag": "40 W",
            "spindle_diameter": "17.5 mm",
            "bearing_reference": "35 mm",
            "fastest_speed": "2000 rpm",
        },
        5,
    ),
    # Y = 1.7326; 0.0004 x 2 x 1.7326 x 400 N x 0.05 m = 0.02772 N·m; at 209.44 rad/s 5.806 W, twice
    (
        "preload_drag",
        {
            "bearing_kind": "taper roller",
            "roller_friction": "0.0004",
            "contact_angle": "13 deg",
            "preload": "400 N",
            "bearing_mean_diameter": "50 mm",
            "fastest_speed": "2000 rpm",
        },
        11.61,
    ),
    (
        "preload_drag",
        {
            "bearing_kind": "deep groove",
            "roller_friction": "0.0004",
            "contact_angle": "0 deg",
            "preload": "400 N",
            "bearing_mean_diameter": "50 mm",
            "fastest_speed": "2000 rpm",
        },
        0,
    ),
    ("drag_at_top_speed", {"grease_drag": "30 W", "preload_drag": "11 W"}, 41),
    ("cut_thrust", {"cutting_force": "300 N", "feed_share": "0.4"}, 120),
    # Y = 0.4 / tan 13° = 1.7326; partner pushes 800 / 3.465 = 230.9; with the cut 350.9: 0.4 x 700 + 1.7326 x 350.9
    ("tiring_load", {**_ROLLERS, **_LOADS, "cut_thrust": "120 N"}, 887.9),
    # without thrust and preload the rear, alone, carries 800 and no more
    (
        "tiring_load",
        {**_ROLLERS, "front_bearing_load": "700 N", "rear_bearing_load": "900 N", "preload": "0 N", "cut_thrust": "0 N"},
        900,
    ),
    ("tiring_load", {**_ROLLERS, **_LOADS, "cut_thrust": "120 N", "bearing_kind": "plain bronze"}, 0),
    # the drill: 230.9 + 1000 along; Y0 = 0.22 / tan 13° = 0.9529; 0.5 x 700 + 0.9529 x 1230.9
    ("rest_load", {**_ROLLERS, **_LOADS, "cut_thrust": "120 N", "drilling_thrust": "1000 N"}, 1523),
    # a pair at 25 degrees: 1 x 700 + 0.76 x 1100
    (
        "rest_load",
        {
            **_ROLLERS,
            **_LOADS,
            "cut_thrust": "120 N",
            "drilling_thrust": "1000 N",
            "bearing_kind": "angular contact pair",
            "contact_angle": "25 deg",
        },
        1536,
    ),
    # 220 along is less than 0.68 of 700, so both rows carry: 700 + 0.92 x 220; the rear 800 + 0.92 x 100 = 892
    (
        "tiring_load",
        {**_ROLLERS, **_LOADS, "cut_thrust": "120 N", "bearing_kind": "angular contact pair", "contact_angle": "25 deg"},
        902.4,
    ),
    # 1900 along, much more than 0.68 of 700: 0.67 x 700 + 1.41 x 1900
    (
        "tiring_load",
        {**_ROLLERS, **_LOADS, "cut_thrust": "1800 N", "bearing_kind": "angular contact pair", "contact_angle": "25 deg"},
        3148,
    ),
    # deep groove: 0.6 x 700 + 0.5 x 1100
    ("rest_load", {**_ROLLERS, **_LOADS, "cut_thrust": "120 N", "drilling_thrust": "1000 N", "bearing_kind": "deep groove"}, 970),
    ("safety_asked", {"bearing_kind": "taper roller"}, 2),
    ("safety_asked", {"bearing_kind": "plain bronze"}, 0),
    # 45000 x (10⁶ / (60 x 2000 x 4000))^0.3
    (
        "load_for_life",
        {"dynamic_rating": "45 kN", "life_exponent": "3.3333333333", "wished_life": "4000 hours", "fastest_speed": "2000 rpm"},
        7060,
    ),
    # 10⁶/(60 x 2000) x 10³
    ("bearing_life", {"dynamic_rating": "10 kN", "tiring_load": "1 kN", "life_exponent": "3", "fastest_speed": "2000 rpm"}, 8333),
    ("static_safety", {"static_rating": "45 kN", "rest_load": "1.5 kN"}, 30),
    # 700 / (35 x 42)
    (
        "journal_pressure",
        {"bearing_kind": "plain bronze", "front_bearing_load": "700 N", "spindle_diameter": "35 mm", "bearing_width": "42 mm"},
        0.4762,
    ),
    (
        "journal_pressure",
        {"bearing_kind": "taper roller", "front_bearing_load": "700 N", "spindle_diameter": "35 mm", "bearing_width": "18 mm"},
        0,
    ),
    # 0.108 µm/mm x (110 - 48.65 / tan 13°) mm
    ("play_gained", {**_WARM, "bearing_kind": "taper roller", "bearing_arrangement": "back to back"}, -10.88),
    ("play_gained", {**_WARM, "bearing_kind": "taper roller", "bearing_arrangement": "face to face"}, -34.64),
    # a pair side by side: (8.925 - 210.73) x 0.108
    ("play_gained", {**_WARM, "bearing_kind": "angular contact pair", "bearing_arrangement": "back to back"}, -21.79),
    ("play_gained", {**_WARM, "bearing_kind": "deep groove", "bearing_arrangement": "back to back"}, 0),
    ("warm_end_play", {"bearing_kind": "taper roller", "cold_end_play": "12 µm", "play_gained": "-10.9 µm"}, 1.1),
    ("warm_end_play", {"bearing_kind": "deep groove", "cold_end_play": "12 µm", "play_gained": "0 µm"}, 0),
    ("loose_when_warm", {"warm_end_play": "3 µm"}, 3),
    ("loose_when_warm", {"warm_end_play": "-3 µm"}, 0),
    ("squeezed_when_warm", {"warm_end_play": "-3 µm"}, 3),
    ("squeezed_when_warm", {"warm_end_play": "3 µm"}, 0),
    ("growing_length", {"spindle_overhang": "45 mm", "cut_reach": "60 mm"}, 105),
    ("bearing_drag_share", {"drag_at_top_speed": "40 W", "motor_power": "400 W"}, 10),
    # at half the speed of the table the drag, and with it the difference, is 0.5^(5/3) of the table's
    ("spindle_above_housing", {"bearing_kind": "taper roller", "spindle_warmer": "10 K", "fastest_speed": "1000 rpm"}, 3.150),
    # 100 x 140 + 2 x 120 x (140 + 100) mm²
    ("headstock_surface", {"headstock_width": "100 mm", "headstock_height": "120 mm", "headstock_length": "140 mm"}, 71600),
    # 42 W over 35 W/(m²K) on 0.06 m²
    ("housing_rise", {"drag_at_top_speed": "42 W", "headstock_passes": "35 W/(m²·K)", "headstock_surface": "60000 mm²"}, 20),
    ("spindle_rise", {"housing_rise": "15 K", "spindle_above_housing": "10 K"}, 25),
    # 10.8 x 0.075 x 15
    ("axis_rise", {"steel_expansion": "10.8 um/(m*K)", "centre_height": "75 mm", "housing_rise": "15 K"}, 12.15),
    ("nose_creep", {"steel_expansion": "10.8 um/(m*K)", "growing_length": "105 mm", "spindle_rise": "25 K"}, 28.35),
    ("cooling", {"work_expansion": "17.3 um/(m*K)", "work_diameter": "18 mm", "work_rise": "10 K"}, 3.114),
    # 2 x 12.15² / 18 000 µm
    ("height_heat_error", {"axis_rise": "12.15 µm", "work_diameter": "18 mm"}, 0.016403),
    ("heat_error", {"cooling": "3 µm", "axis_rise": "12 µm", "drift_share": "0.2", "height_heat_error": "0.1 µm"}, 7.9),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"bearing_life": "06", "nose_creep": "06", "spindle_rise": "06", "growing_length": "06"}
