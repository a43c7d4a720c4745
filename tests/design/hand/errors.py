"""What give leaves on the work: results worked by hand, and what is only shown."""

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
    ("overhang_ratio", {"tool_overhang": "15 mm", "tool_shank": "10 mm"}, 1.5),
    ("work_slenderness", {"work_length": "60 mm", "work_diameter": "20 mm"}, 3),
    ("slenderness_limit", {"work_support": "chuck alone"}, 4),
    ("slenderness_limit", {"work_support": "chuck and centre"}, 10),
    ("tool_scatter", {"post_back": "25 µm"}, 50),
    ("jaw_unevenness", {"chuck_unevenness": "20 %", "chuck_jaws": "4"}, 14),
    ("changing_force", {"finish_radial_force": "12 N", "force_change": "0.4"}, 4.8),
    ("rough_radial_force", {"cutting_force": "267 N", "radial_share": "0.4"}, 106.8),
    ("allowed_error", {"tolerance": "20 µm", "error_share": "0.3"}, 6),
    # twice, for a diameter has two sides: 2 x 5 N x 0.2 µm/N
    ("size_error", {"changing_force": "5 N", "loop_compliance": "200 µm/kN"}, 2),
    ("finish_radial_force", {"finish_force": "30 N", "finish_radial_share": "0.4"}, 12),
    # the steady push on the work alone: 2 x 12 N x 0.0675 µm/N
    ("shape_error", {"finish_radial_force": "12 N", "give_difference": "67.5 µm/kN"}, 1.62),
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
    ("practical_roughness", {"roughness_rise": "1.25", "ideal_roughness": "0.2 µm", "finish_floor": "1 µm"}, 1.25),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {
    "nod_error": "08",
    "rough_move": "08",
    "rough_error": "08",
    "upright_drop": "08",
    "upright_error": "08",
    "tool_scatter": "08",
}
