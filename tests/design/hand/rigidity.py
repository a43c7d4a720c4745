"""Rigidity: results worked by hand, and what moves nothing or is only shown."""

import numpy as np

_CHUCK = {"chuck_at_size": "12 µm/kN", "centre_height": "75 mm"}
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
_TAIL = {"barrel_overhang": "60 mm", "bed_width": "120 mm", "centre_height": "75 mm", "joint_shear_ratio": "0.4"}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # the bottom of the nose: 0.1 up, √(0.4² - 0.3²) = 0.264575 along
    ("finish_angle", {"finish_depth": "0.1 mm", "nose_radius": "0.4 mm", "entering_angle": "90 deg"}, 20.705),
    # at 30 deg the chip is half as thick as the feed, and twice as wide as deep
    ("finish_chip_thickness", {"finish_feed": "0.1 mm/rev", "finish_angle": "30 deg"}, 0.05),
    ("finish_chip_width", {"finish_depth": "0.5 mm", "finish_angle": "30 deg"}, 1),
    # 2000 x 0.05^-0.25
    ("finish_specific_force", {"kc11": "2000 N/mm²", "exponent": "0.25", "finish_chip_thickness": "0.05 mm"}, 4229.5),
    # 4229.5 x 1.2 x 1 x 0.05
    (
        "finish_force",
        {
            "finish_specific_force": "4229.5 N/mm²",
            "finish_chip_width": "1 mm",
            "finish_chip_thickness": "0.05 mm",
            "cut_condition": "1.2",
        },
        253.77,
    ),
    # 0.6 x cos 20.705 deg
    ("finish_radial_share", {"thrust_share": "60 %", "finish_angle": "20.705 deg"}, 56.12),
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
    ("overhang_ratio", {"tool_overhang": "15 mm", "tool_shank": "10 mm"}, 1.5),
    ("work_slenderness", {"work_length": "60 mm", "work_diameter": "20 mm"}, 3),
    ("slenderness_limit", {"work_support": "chuck alone"}, 4),
    ("slenderness_limit", {"work_support": "chuck and centre"}, 10),
    ("chuck_at_size", {"chuck_link": "12 µm/kN", "centre_height": "75 mm"}, 12),
    ("chuck_at_size", {"chuck_link": "12 µm/kN", "centre_height": "150 mm"}, 6),
    ("chuck_give", {**_CHUCK, "chuck_diameter": "100 mm", "chuck_jaws": "3", "nose_seat": "1"}, 12),
    # 1.6 times as large: 12 / 2 x (2.56 + 0.75 / 1.6)
    ("chuck_give", {**_CHUCK, "chuck_diameter": "160 mm", "chuck_jaws": "4", "nose_seat": "1"}, 18.1725),
    ("toolpost_give", {"toolpost_at_size": "8 µm/kN", "post_give": "1.4"}, 11.2),
    ("tool_scatter", {"post_back": "25 µm"}, 50),
    # in the taper: 12 / 2 x (1.4 + 1)
    ("chuck_give", {**_CHUCK, "chuck_diameter": "100 mm", "chuck_jaws": "3", "nose_seat": "1.4"}, 14.4),
    ("jaw_unevenness", {"chuck_unevenness": "20 %", "chuck_jaws": "4"}, 14),
    ("headstock_give", {"headstock_at_size": "10 µm/kN", "seat_share": "60 %", "seat_proportion": "2"}, 16),
    ("cross_slide_give", {"cross_slide_at_size": "12 µm/kN", "gib_give": "2 µm/kN"}, 14),
    ("tail_give", {"tail_at_size": "12 µm/kN", "tail_proportion": "1.5", "barrel_compliance": "14 µm/kN"}, 32),
    ("tail_proportion", {**_TAIL, "tailstock_base": "95.25 mm"}, 1),
    # half the base: on half the face; 12 x 75²/120², 1/0.4, and 12 x 83.8125² / (0.4 x (120² + 47.625²)) beside 12 x 107.625² / (0.4 x (120² + 95.25²))
    ("tail_proportion", {**_TAIL, "tailstock_base": "47.625 mm"}, 2 * (4.6875 + 2.5 + 12.643) / (4.6875 + 2.5 + 14.805)),
    ("changing_force", {"finish_radial_force": "12 N", "force_change": "0.4"}, 4.8),
    ("rough_radial_force", {"cutting_force": "267 N", "radial_share": "0.4"}, 106.8),
    ("allowed_error", {"tolerance": "20 µm", "error_share": "0.3"}, 6),
    # twice, for a diameter has two sides: 2 x 5 N x 0.2 µm/N
    ("size_error", {"changing_force": "5 N", "loop_compliance": "200 µm/kN"}, 2),
    ("finish_radial_force", {"finish_force": "30 N", "finish_radial_share": "0.4"}, 12),
    # the steady push on the work alone: 2 x 12 N x 0.0675 µm/N
    ("shape_error", {"finish_radial_force": "12 N", "give_difference": "67.5 µm/kN"}, 1.62),
    # 2 x 10 000 N/mm x 0.03 x 1.03 / (0.4 x 2500 N/mm²)
    (
        "chatter_free_width",
        {"loop_stiffness": "10 N/µm", "damping": "0.03", "cutting_stiffness": "2500 N/mm²", "direction_factor": "0.4"},
        0.618,
    ),
    (
        "stout_work_width",
        {"machine_stiffness": "20 N/µm", "damping": "0.03", "cutting_stiffness": "2500 N/mm²", "direction_factor": "0.4"},
        1.236,
    ),
    # 1.4 x 0.75 x 4000
    ("cutting_stiffness", {"specific_cutting_force": "4000 N/mm²", "exponent": "0.25", "cut_condition": "1.4"}, 4200),
    ("loop_stiffness", {"loop_compliance": "200 µm/kN"}, 5),
    ("main_edge_width", {"depth_of_cut": "0.5 mm", "entering_angle": "90 deg"}, 0.5),
    ("main_edge_width", {"depth_of_cut": "0.5 mm", "entering_angle": "45 deg"}, 0.70711),
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
    ("nod_error", {"finish_force": "30 N", "shank_nod": "2.84 µm/kN"}, 0.1704),
    ("rough_move", {"rough_radial_force": "150 N", "machine_compliance": "120 µm/kN"}, 18),
    ("rough_error", {"rough_move": "18 µm"}, 36),
    ("upright_drop", {"cutting_force": "250 N", "upright_compliance": "100 µm/kN"}, 25),
    # 4 z² / (2 d) as the root opens: 2 x 0.025² / 18 mm
    ("upright_error", {"upright_drop": "25 µm", "work_diameter": "18 mm"}, 0.069444),
    ("rough_force_slope", {"rough_radial_force": "100 N", "depth_of_cut": "0.5 mm"}, 200),
    ("finish_force_slope", {"finish_radial_force": "12 N", "finish_depth": "0.1 mm"}, 120),
    # 0.22 µm/N x 0.2 N/µm = 0.044; 0.044 / 1.044
    ("copied_by_roughing", {"loop_compliance": "220 µm/kN", "rough_force_slope": "200 N/mm"}, 0.042146),
    ("copied_by_finishing", {"loop_compliance": "220 µm/kN", "finish_force_slope": "120 N/mm"}, 0.025721),
    ("copied_error", {"stock_runout": "0.2 mm", "copied_by_roughing": "0.04", "copied_by_finishing": "0.025"}, 0.2),
    ("uneven_error", {"finish_radial_force": "12 N", "uneven_give": "12 µm/kN", "jaw_unevenness": "15 %"}, 0.0216),
    ("roundness_error", {"copied_error": "0.2 µm", "uneven_error": "0.02 µm"}, 0.22),
    ("swaying_mass", {"parts_mass": "80 kg", "swaying_share": "12 %"}, 9.6),
    # √(7 N/µm over 9.6 kg) / 2π
    ("sway_frequency", {"machine_stiffness": "7 N/µm", "swaying_mass": "9.6 kg"}, 135.905),
    ("sway_factor", {"radial_share": "0.4", "sway_angle": "0 deg"}, 0.4),
    # falling outwards by 30 deg, both pushes drive the tool out: 0.4 x 0.75 + 0.5 x 0.86603
    ("sway_factor", {"radial_share": "0.4", "sway_angle": "-30 deg"}, 0.73301),
    # rising outwards, the push down drives it in: 0.3 - 0.43301
    ("sway_factor", {"radial_share": "0.4", "sway_angle": "30 deg"}, -0.13301),
    ("direction_factor", {"sway_factor": "0.4"}, 0.4),
    ("direction_factor", {"sway_factor": "-0.2"}, 0.2),
    ("direction_factor", {"sway_factor": "-0.01"}, 0.05),
    ("practical_roughness", {"roughness_rise": "1.25", "ideal_roughness": "0.2 µm", "finish_floor": "1 µm"}, 1.25),
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
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING = {}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = dict.fromkeys(
    (
        "tool_stiffness",
        "work_compliance",
        "upright_compliance",
        "force_angle",
        "give_along_push",
        "shank_nod",
        "nod_error",
        "rough_move",
        "rough_error",
        "upright_drop",
        "upright_error",
        "slow_speed_width",
        "tool_scatter",
        "post_back",
        "stout_work_width",
        *(f"{link}_upright" for link in ("chuck", "headstock", "saddle", "cross_slide", "top", "toolpost")),
    ),
    "08",
)
