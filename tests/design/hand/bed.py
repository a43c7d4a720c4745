"""Bed: results worked by hand, and what moves nothing or is only shown."""

_TIPS = {
    "machine_weight": "500 N",
    "bed_width": "120 mm",
    "weight_place": "0.35",
    "bed_height": "80 mm",
    "way_height": "0 mm",
    "centre_height": "75 mm",
    "riser_height": "0 mm",
}
_TWISTS = {"forced_twist": "0.08 mrad", "weight_twist": "0.02 mrad"}

_SEAT = {
    "bed_width": "120 mm",
    "bearing_span": "110.025 mm",
    "joint_grip": "155.885 mm",
    "centre_height": "75 mm",
    "loop_length": "159.975 mm",
    "bolt_stress_area": "58 mm2",
    "joint_exponent": "0.5",
    "joint_shear_ratio": "0.4",
}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # 157 / 2 + 110 / 2 + 45 + 357 + 0.9 x 95
    (
        "along_bed",
        {
            "headstock_length": "157 mm",
            "bearing_span": "110 mm",
            "spindle_overhang": "45 mm",
            "tail_reach_in": "357 mm",
            "barrel_out": "0 mm",
            "tailstock_base": "95 mm",
        },
        621,
    ),
    ("bed_length", {"between_centres": "300 mm", "centre_height": "75 mm", "along_bed": "621 mm"}, 637.5),
    ("bed_length", {"between_centres": "300 mm", "centre_height": "75 mm", "along_bed": "640 mm"}, 640),
    ("bed_depth", {"bed_form": "profiled rails on a box", "bed_height": "80 mm", "bed_wall": "6 mm", "way_height": "28 mm"}, 108),
    ("bed_depth", {"bed_form": "round bars on a plate", "bed_height": "30 mm", "bed_wall": "12 mm", "way_height": "0 mm"}, 42),
    ("loop_length", {"bearing_span": "110 mm", "spindle_overhang": "45 mm", "cut_reach": "60 mm"}, 160),
    ("twist_lever", {"centre_height": "75 mm", "bed_section": {"shear_centre": 0.04}, "way_height": "16 mm"}, 131),
    ("bar_spacing", {"bed_section": {"spacing": 0.08}}, 80),
    # ((2256 mm² x 7850 + 7344 mm² x 2300) kg/m³ + 4 kg/m) x 637.5 mm
    (
        "bed_mass",
        {
            "bed_section": {"area": 2256e-6, "fill_area": 7344e-6},
            "bed_density": "7850 kg/m³",
            "fill_density": "2300 kg/m³",
            "way_mass": "4 kg/m",
            "bed_length": "637.5 mm",
        },
        24.61,
    ),
    # (17.71 kg/m x 3.5 x 2 + 16.89 kg/m x 6 + 500) EUR/m x 0.6375 m
    (
        "bed_price",
        {
            "bed_section": {"area": 2256e-6, "fill_area": 7344e-6},
            "bed_density": "7850 kg/m³",
            "fill_density": "2300 kg/m³",
            "bed_metal_price": "3.5 EUR/kg",
            "bed_price_ratio": "2",
            "fill_price": "6 EUR/kg",
            "way_price": "500 EUR/m",
            "bed_length": "637.5 mm",
        },
        462.4,
    ),
    ("bed_compliance", {"bed_compliance_ideal": "8 µm/kN", "bed_joint_share": "0.8"}, 10),
    ("bed_upright_compliance", {"bed_upright_ideal": "6 µm/kN", "bed_joint_share": "0.8"}, 7.5),
    ("bed_share", {"bed_compliance": "10 µm/kN", "bed_upright_compliance": "12 µm/kN", "predicted_compliance": "150 µm/kN"}, 8),
    # 2 x (π/64 x 30⁴ + π/4 x 30² x 40²) mm⁴
    (
        "bed_if_tied",
        {"bed_form": "two round bars", "bed_width": "110 mm", "bed_height": "30 mm", "bed_wall": "10 mm", "bar_spacing": "80 mm"},
        2_341_500,
    ),
    # 2 x (40 x 12³ / 12 + 12 x 40 x 54²) mm⁴
    (
        "bed_if_tied",
        {
            "bed_form": "two flat rails",
            "bed_width": "120 mm",
            "bed_height": "40 mm",
            "bed_wall": "12 mm",
            "bar_spacing": "108 mm",
        },
        2_810_880,
    ),
    (
        "bed_if_tied",
        {"bed_form": "plate", "bed_width": "120 mm", "bed_height": "40 mm", "bed_wall": "12 mm", "bar_spacing": "0 mm"},
        0,
    ),
    # 300 N x 131 mm x 160 mm / (79.3 GPa x 4 540 000 mm⁴) = 0.01747 mrad
    (
        "bed_cut_twist",
        {
            "bar_spacing": "0 mm",
            "cutting_force": "300 N",
            "twist_lever": "131 mm",
            "loop_length": "160 mm",
            "bed_shear_modulus": "79.3 GPa",
            "bed_torsion": "4540000 mm⁴",
        },
        0.017466,
    ),
    (
        "bed_cut_twist",
        {
            "bar_spacing": "80 mm",
            "cutting_force": "300 N",
            "twist_lever": "131 mm",
            "loop_length": "160 mm",
            "bed_shear_modulus": "79.3 GPa",
            "bed_torsion": "4540000 mm⁴",
        },
        0,
    ),
    ("stand_twist", {"feet": "three feet", **_TWISTS}, 0),
    ("stand_twist", {"feet": "four feet standing free", **_TWISTS}, 0.02),
    ("stand_twist", {"feet": "four feet bolted down", **_TWISTS}, 0.08),
    # arm 120 x 0.65 / 2 = 39 mm, 155 mm up
    ("tipping_push", {"feet": "three feet", **_TIPS}, 125.806),
    ("tipping_push", {"feet": "four feet standing free", **_TIPS}, 193.5),
    # 155 mm of riser under it: twice as high, half the push
    ("tipping_push", {"feet": "four feet standing free", **_TIPS, "riser_height": "155 mm"}, 96.77),
    ("base_ratio", {"bed_width": "120 mm", "bearing_span": "110 mm", "centre_height": "75 mm"}, 2.3467),
    ("joint_grip", {"fixing_spacing": "90 mm"}, 155.885),
    # the seat of the table; then a quarter of the pull, which a root makes half as stiff
    ("seat_proportion", _SEAT, 1),
    ("seat_proportion", {**_SEAT, "bolt_stress_area": "14.5 mm2"}, 2),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = dict.fromkeys(
    (
        "bed_cut_twist",
        "bed_if_tied",
        "way_price",
        "bed_metal_price",
        "bed_price_ratio",
        "fill_price",
        "bed_price",
        "weight_place",
        "tipping_push",
        "bolt_preload",
        "tightening_torque",
        "way_mass",
        "bed_mass",
    ),
    "07",
)
