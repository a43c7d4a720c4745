"""Chatter: results worked by hand, and what is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
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
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"slow_speed_width": "08", "stout_work_width": "08"}
