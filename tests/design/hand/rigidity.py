"""Rigidity: results worked by hand, and what is only shown."""

import numpy as np

_CHUCK = {"chuck_at_size": "12 µm/kN", "centre_height": "75 mm"}
_TAIL = {"barrel_overhang": "60 mm", "bed_width": "120 mm", "centre_height": "75 mm", "joint_shear_ratio": "0.4"}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # I = π 18⁴ / 64 = 5153 mm⁴; 60³ / (3 x 207 000 x 5153) mm/N
    (
        "work_compliance",
        {"work_length": "60 mm", "work_diameter": "18 mm", "work_support": "chuck alone", "work_modulus": "207 GPa"},
        67.5,
    ),
    # the same in bronze of 111 000 N/mm²
    (
        "work_compliance",
        {"work_length": "60 mm", "work_diameter": "18 mm", "work_support": "chuck alone", "work_modulus": "111 GPa"},
        125.9,
    ),
    # 60³ / (48 x 207 000 x 5153)
    (
        "work_compliance",
        {"work_length": "60 mm", "work_diameter": "18 mm", "work_support": "between centres", "work_modulus": "207 GPa"},
        4.219,
    ),
    # held at one end, propped at the other, tool at 0.586 l: 0.586³ x 0.414² x 3.414 / 12 = 0.00981 of F l³ / EI
    (
        "work_compliance",
        {"work_length": "60 mm", "work_diameter": "18 mm", "work_support": "chuck and centre", "work_modulus": "207 GPa"},
        1.987,
    ),
    ("chuck_at_size", {"chuck_link": "12 µm/kN", "centre_height": "75 mm"}, 12),
    ("chuck_at_size", {"chuck_link": "12 µm/kN", "centre_height": "150 mm"}, 6),
    ("chuck_give", {**_CHUCK, "chuck_diameter": "100 mm", "chuck_jaws": "3", "nose_seat": "1"}, 12),
    # 1.6 times as large: 12 / 2 x (2.56 + 0.75 / 1.6)
    ("chuck_give", {**_CHUCK, "chuck_diameter": "160 mm", "chuck_jaws": "4", "nose_seat": "1"}, 18.1725),
    ("toolpost_give", {"toolpost_at_size": "8 µm/kN", "post_give": "1.4"}, 11.2),
    # in the taper: 12 / 2 x (1.4 + 1)
    ("chuck_give", {**_CHUCK, "chuck_diameter": "100 mm", "chuck_jaws": "3", "nose_seat": "1.4"}, 14.4),
    ("headstock_give", {"headstock_at_size": "10 µm/kN", "seat_share": "60 %", "seat_proportion": "2"}, 16),
    ("cross_slide_give", {"cross_slide_at_size": "12 µm/kN", "gib_give": "2 µm/kN"}, 14),
    ("tail_give", {"tail_at_size": "12 µm/kN", "tail_proportion": "1.5", "barrel_compliance": "14 µm/kN"}, 32),
    ("tail_proportion", {**_TAIL, "tailstock_base": "95.25 mm"}, 1),
    # half the base: on half the face; 12 x 75²/120², 1/0.4, and 12 x 83.8125² / (0.4 x (120² + 47.625²)) beside 12 x 107.625² / (0.4 x (120² + 95.25²))
    ("tail_proportion", {**_TAIL, "tailstock_base": "47.625 mm"}, 2 * (4.6875 + 2.5 + 12.643) / (4.6875 + 2.5 + 14.805)),
    (
        "predicted_compliance",
        dict.fromkeys(
            (
                "spindle_compliance",
                "chuck_give",
                "headstock_give",
                "bed_compliance",
                "saddle_give",
                "cross_slide_give",
                "top_give",
                "toolpost_give",
                "shank_compliance",
            ),
            "10 µm/kN",
        ),
        90,
    ),
    ("loop_compliance", {"machine_compliance": "150 µm/kN", "holding_extra": "70 µm/kN"}, 220),
    # 15 + 10 + 1000/20 for the shank; the six judged links of 6 x 6 µm/kN at twice the size are half
    (
        "upright_compliance",
        {
            "spindle_compliance": "15 µm/kN",
            "bed_upright_compliance": "10 µm/kN",
            "tool_stiffness": "20 N/µm",
            "centre_height": "150 mm",
            "slide_give": "1",
            **dict.fromkeys(
                (
                    "chuck_upright",
                    "headstock_upright",
                    "saddle_upright",
                    "cross_slide_upright",
                    "top_upright",
                    "toolpost_upright",
                ),
                "6 µm/kN",
            ),
            "post_give": "1",
        },
        93,
    ),
    ("give_difference", {"give_along": np.array([93e-9, 60e-9, 75e-9])}, 33),
    ("holding_extra", {"give_along": np.array([93e-9, 60e-9, 105e-9]), "chuck_side_give": "93 µm/kN"}, 12),
    ("force_angle", {"radial_share": "0.4"}, 68.199),
    # 140 x 0.4² / 1.16 + 100 / 1.16, for the tangent of the angle is 2.5
    (
        "give_along_push",
        {"machine_compliance": "140 µm/kN", "upright_compliance": "100 µm/kN", "force_angle": "68.19859 deg"},
        105.517,
    ),
    # 14 mm / (207 000 N/mm² x 100 mm²), and 3 x 14² / (207 000 x 1000)
    ("shank_compliance", {"tool_overhang": "14 mm", "tool_shank": "10 mm", "steel_modulus": "207 GPa"}, 0.67633),
    ("shank_nod", {"tool_overhang": "14 mm", "tool_shank": "10 mm", "steel_modulus": "207 GPa"}, 2.8406),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {
    "tool_stiffness": "08",
    "work_compliance": "08",
    "upright_compliance": "08",
    "force_angle": "08",
    "give_along_push": "08",
    "shank_nod": "08",
    "post_back": "08",
    "chuck_upright": "08",
    "headstock_upright": "08",
    "saddle_upright": "08",
    "cross_slide_upright": "08",
    "top_upright": "08",
    "toolpost_upright": "08",
}
