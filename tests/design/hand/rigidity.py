"""Rigidity: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # 2000 x 0.1^-0.25 = 3556.6 N/mm²; x 1.2 x 0.5 mm x 0.1 mm
    ("finish_force", {"kc11": "2000 N/mm²", "exponent": "0.25", "finish_feed": "0.1 mm/rev", "finish_depth": "0.5 mm", "entering_angle": "90 deg",
                      "cut_condition": "1.2"}, 213.39),
    # at 30 deg the chip is 0.05 mm thick and 1 mm wide: 2000 x 0.05^-0.25 = 4229.5; x 1.2 x 1 x 0.05
    ("finish_force", {"kc11": "2000 N/mm²", "exponent": "0.25", "finish_feed": "0.1 mm/rev", "finish_depth": "0.5 mm", "entering_angle": "30 deg",
                      "cut_condition": "1.2"}, 253.77),
    # I = π 18⁴ / 64 = 5153 mm⁴; 60³ / (3 x 207 000 x 5153) mm/N
    ("work_compliance", {"work_length": "60 mm", "work_diameter": "18 mm", "work_support": "chuck alone", "steel_modulus": "207 GPa"}, 67.5),
    # 60³ / (48 x 207 000 x 5153)
    ("work_compliance", {"work_length": "60 mm", "work_diameter": "18 mm", "work_support": "between centres", "steel_modulus": "207 GPa"}, 4.219),
    # held at one end, propped at the other, tool at 0.586 l: 0.586³ x 0.414² x 3.414 / 12 = 0.00981 of F l³ / EI
    ("work_compliance", {"work_length": "60 mm", "work_diameter": "18 mm", "work_support": "chuck and centre", "steel_modulus": "207 GPa"}, 1.987),
    ("overhang_ratio", {"tool_overhang": "15 mm", "tool_shank": "10 mm"}, 1.5),
    ("work_slenderness", {"work_length": "60 mm", "work_diameter": "20 mm"}, 3),
    ("slenderness_limit", {"work_support": "chuck alone"}, 4),
    ("slenderness_limit", {"work_support": "chuck and centre"}, 10),
    ("chuck_give", {"chuck_link": "12 µm/kN", "centre_height": "75 mm"}, 12),
    ("chuck_give", {"chuck_link": "12 µm/kN", "centre_height": "150 mm"}, 6),
    ("changing_force", {"finish_force": "30 N", "radial_share": "0.4", "force_change": "0.4"}, 4.8),
    ("rough_radial_force", {"cutting_force": "267 N", "radial_share": "0.4"}, 106.8),
    ("allowed_error", {"tolerance": "20 µm", "error_share": "0.3"}, 6),
    # twice, for a diameter has two sides: 2 x 5 N x 0.2 µm/N
    ("size_error", {"changing_force": "5 N", "loop_compliance": "200 µm/kN"}, 2),
    ("finish_radial_force", {"finish_force": "30 N", "radial_share": "0.4"}, 12),
    # the steady push on the work alone: 2 x 12 N x 0.0675 µm/N
    ("shape_error", {"finish_radial_force": "12 N", "work_compliance": "67.5 µm/kN"}, 1.62),
    # 2 x 10 000 N/mm x 0.03 x 1.03 / (0.4 x 2500 N/mm²)
    ("chatter_free_width", {"machine_stiffness": "10 N/µm", "damping": "0.03", "specific_cutting_force": "2500 N/mm²", "direction_factor": "0.4"}, 0.618),
    ("machine_compliance", dict.fromkeys(("spindle_compliance", "chuck_give", "headstock_give", "bed_compliance", "saddle_give", "cross_slide_give",
                                          "top_give", "toolpost_give"), "10 µm/kN"), 80),
    ("loop_compliance", {"machine_compliance": "150 µm/kN", "work_compliance": "70 µm/kN"}, 220),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING = {}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"rough_radial_force": "08", "tool_stiffness": "08"}
