"""Bed: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("bed_length", {"between_centres": "300 mm", "centre_height": "75 mm"}, 637.5),
    ("loop_length", {"bearing_span": "110 mm", "spindle_overhang": "45 mm", "cut_reach": "60 mm"}, 160),
    ("twist_lever", {"centre_height": "75 mm", "bed_section": {"shear_centre": 0.04}}, 115),
    ("bar_spacing", {"bed_section": {"spacing": 0.08}}, 80),
    # (2256 mm² x 7850 + 7344 mm² x 2300) kg/m³ x 637.5 mm
    ("bed_mass", {"bed_section": {"area": 2256e-6, "fill_area": 7344e-6}, "bed_density": "7850 kg/m³", "fill_density": "2300 kg/m³", "bed_length": "637.5 mm"}, 22.06),
    ("bed_compliance", {"bed_compliance_ideal": "8 µm/kN", "bed_joint_share": "0.8"}, 10),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING = {}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"bed_density": "07", "fill_density": "07", "bed_length": "07", "bed_mass": "07", "bed_shear_vertical": "07"}
