"""Textbook relations with figures put in by hand, apart from this course: they hold the sums, and vouch for no relation.

That is why they are no evidence and do not stand on the page of what vouches.  Each names
where its relation is found; the figures are as they were worked out, rounded as they stand.
"""

import pytest
from cases import every

from lathe_course.formula import FORMULAS
from lathe_course.units import number, read

#: formula, inputs, expected, relative tolerance, where the relation is found
WORKED = [
    # cutting
    (
        "specific_cutting_force",
        {"kc11": "2220 N/mm²", "chip_thickness": "0.2 mm", "exponent": 0.14},
        "2781 N/mm²",
        0.001,
        "Kienzle 1952",
    ),
    (
        "cutting_force",
        {"specific_force": "2781 N/mm²", "chip_width": "2 mm", "chip_thickness": "0.2 mm"},
        "1112 N",
        0.001,
        "Kienzle 1952",
    ),
    ("cutting_power", {"cutting_force": "1112 N", "cutting_speed": "100 m/min"}, "1854 W", 0.001, "Kienzle 1952"),
    (
        "specific_cutting_force",
        {"kc11": "2220 N/mm²", "chip_thickness": "0.1 mm", "exponent": 0.14},
        "3064.4 N/mm²",
        0.001,
        "Kienzle, two points of one slope",
    ),
    (
        "specific_cutting_force",
        {"kc11": "2220 N/mm²", "chip_thickness": "0.4 mm", "exponent": 0.14},
        "2523.9 N/mm²",
        0.001,
        "Kienzle, two points of one slope",
    ),
    (
        "cutting_force",
        {"specific_force": "3064.4 N/mm²", "chip_width": "0.5 mm", "chip_thickness": "0.1 mm"},
        "153.2 N",
        0.002,
        "Kienzle 1952, a light cut",
    ),
    ("cutting_power", {"cutting_force": "153.2 N", "cutting_speed": "30 m/min"}, "76.6 W", 0.002, "Kienzle 1952, a light cut"),
    (
        "facing_time",
        {"outer_diameter": "100 mm", "inner_diameter": "20 mm", "feed": "0.1 mm/rev", "cutting_speed": "60 m/min"},
        "1.2566 min",
        0.001,
        "textbooks, facing",
    ),
    ("ideal_peak_height", {"feed": "0.2 mm/rev", "nose_radius": "0.8 mm"}, "6.25 µm", 0.0005, "textbooks, feed marks"),
    (
        "step_ratio",
        {"slowest_speed": "31.5 rpm", "fastest_speed": "1400 rpm", "steps": 12},
        "1.412",
        0.0007,
        "textbooks, speed series",
    ),
    (
        "steps_needed",
        {"slowest_speed": "40 rpm", "fastest_speed": "2000 rpm", "ratio": 1.4125},
        "12.33",
        0.001,
        "textbooks, speed series",
    ),
    # drive
    (
        "belt_length",
        {"large_diameter": "120 mm", "small_diameter": "60 mm", "centres": "300 mm"},
        "885.746 mm",
        3.4e-6,
        "plane geometry, hull of two circles",
    ),
    (
        "belt_length",
        {"large_diameter": "90 mm", "small_diameter": "90 mm", "centres": "300 mm"},
        "882.743 mm",
        3.4e-6,
        "plane geometry, hull of two circles",
    ),
    (
        "usual_belt_length",
        {"large_diameter": "120 mm", "small_diameter": "60 mm", "centres": "300 mm"},
        "885.74 mm",
        2.3e-5,
        "handbooks, approximate belt length",
    ),
    ("torque", {"power": "0.75 kW", "spindle_speed": "1400 rpm"}, "5.116 N·m", 0.001, "power over angular speed"),
    (
        "supply_current",
        {"output_power": "750 W", "voltage": "230 V", "efficiency": 0.72, "power_factor": 0.80},
        "5.66 A",
        0.001,
        "definition",
    ),
    (
        "disc_inertia",
        {"diameter": "125 mm", "bore": "0 mm", "length": "60 mm", "density": "7850 kg/m³"},
        "0.01129 kg·m²",
        0.001,
        "inertia of a disc",
    ),
    (
        "run_up_time",
        {"inertia": "0.01129 kg·m²", "speed": "1500 rpm", "full_power_speed": "1500 rpm", "torque": "3 N·m"},
        "0.591 s",
        0.001,
        "torque held to the end",
    ),
    ("referred_inertia", {"inertia": "0.001 kg·m²", "ratio": 4}, "0.016 kg·m²", 1e-9, "inertia through a reduction"),
    (
        "jaw_force_loss",
        {"jaw_mass": "0.3 kg", "jaw_radius": "50 mm", "spindle_speed": "2000 rpm"},
        "658 N",
        0.001,
        "mass on a circle",
    ),
    (
        "disc_bore_stress",
        {"density": "7850 kg/m³", "poisson_ratio": 0.292, "diameter": "125 mm", "bore": "30 mm", "spindle_speed": "3000 rpm"},
        "2.5216 N/mm²",
        0.001,
        "Shigley and Roark, rotating rings",
    ),
    # screws and threads
    ("flank_infeed", {"depth": "0.1 mm", "slide_angle": "29.5 deg"}, "0.1149 mm", 0.001, "plane geometry"),
    (
        "self_locking_friction",
        {"lead": "4 mm", "pitch_diameter": "14 mm", "flank_angle": "15 deg"},
        "0.0879",
        0.001,
        "friction above tan of the lead angle times cos of the flank",
    ),
    (
        "screw_buckling_load",
        {
            "core_diameter": "15.5 mm",
            "length": "500 mm",
            "elastic_modulus": "207 GPa",
            "yield_strength": "500 N/mm²",
            "end_factor": 1,
        },
        "23.16 kN",
        0.001,
        "Euler",
    ),
    (
        "whirling_speed",
        {
            "end_root": 3.14159265,
            "core_diameter": "15.5 mm",
            "length": "500 mm",
            "elastic_modulus": "207 GPa",
            "density": "7800 kg/m³",
        },
        "7526 rpm",
        0.001,
        "beam, pinned ends",
    ),
    (
        "whirling_speed",
        {
            "end_root": 3.9266,
            "core_diameter": "15.5 mm",
            "length": "500 mm",
            "elastic_modulus": "207 GPa",
            "density": "7800 kg/m³",
        },
        "11756 rpm",
        0.001,
        "beam, fixed and pinned",
    ),
    (
        "whirling_speed",
        {
            "end_root": 1.8751,
            "core_diameter": "15.5 mm",
            "length": "500 mm",
            "elastic_modulus": "207 GPa",
            "density": "7800 kg/m³",
        },
        "2681 rpm",
        0.001,
        "beam, fixed and free",
    ),
    # spindle, at the nose itself
    (
        "shaft_bending_compliance",
        {
            "overhang": "50 mm",
            "span": "120 mm",
            "reach": "0 mm",
            "diameter": "35 mm",
            "bore": "18 mm",
            "elastic_modulus": "207 GPa",
        },
        "9.98967 µm/kN",
        1e-5,
        "Koenigsberger and Slocum, overhanging spindle",
    ),
    (
        "bearing_compliance",
        {"overhang": "50 mm", "span": "120 mm", "reach": "0 mm", "front_stiffness": "120 N/µm", "rear_stiffness": "80 N/µm"},
        "18.89468 µm/kN",
        1e-5,
        "Koenigsberger and Slocum, overhanging spindle",
    ),
    (
        "best_span",
        {
            "overhang": "50 mm",
            "diameter": "35 mm",
            "bore": "18 mm",
            "front_stiffness": "120 N/µm",
            "rear_stiffness": "80 N/µm",
            "elastic_modulus": "207 GPa",
        },
        "159.1266 mm",
        1e-5,
        "Koenigsberger and Slocum, the cubic of the span",
    ),
    # bed
    ("box_area", {"width": "40 mm", "height": "80 mm", "wall": "3 mm"}, "684 mm²", 1e-9, "difference of two rectangles"),
    (
        "box_vertical_moment",
        {"width": "40 mm", "height": "80 mm", "wall": "3 mm"},
        "558532 mm⁴",
        1e-9,
        "difference of two rectangles",
    ),
    (
        "box_lateral_moment",
        {"width": "40 mm", "height": "80 mm", "wall": "3 mm"},
        "184292 mm⁴",
        1e-9,
        "difference of two rectangles",
    ),
    ("box_torsion", {"width": "40 mm", "height": "80 mm", "wall": "3 mm"}, "427200 mm⁴", 1e-5, "Bredt"),
    (
        "twist_angle",
        {"torque": "50 N·m", "length": "500 mm", "shear_modulus": "79.3 GPa", "torsion_constant": "427200 mm⁴"},
        "0.000737965 rad",
        1e-5,
        "twist of a tube",
    ),
    (
        "pair_of_rails_vertical_moment",
        {"rail_width": "20 mm", "height": "40 mm"},
        "213333 mm⁴",
        1e-5,
        "two rectangles side by side",
    ),
    (
        "pair_of_rails_tied_moment",
        {"rail_width": "20 mm", "height": "40 mm", "spacing": "100 mm"},
        "4053333 mm⁴",
        1e-5,
        "parallel axes",
    ),
    # the loop
    (
        "end_support_compliance",
        {"position": "50 mm", "length": "100 mm", "headstock_stiffness": "20 N/µm", "tailstock_stiffness": "10 N/µm"},
        "37.5 µm/kN",
        1e-9,
        "lever on two springs",
    ),
    ("lever_stiffness", {"stiffness": "100 N/µm", "ratio": 2}, "25 N/µm", 1e-9, "virtual work"),
    (
        "chatter_free_width",
        {"stiffness": "5 N/µm", "damping": 0.02, "cutting_stiffness": "2800 N/mm²", "direction_factor": 1},
        "0.0729 mm",
        0.001,
        "Tlusty, limit of one mass",
    ),
    ("half_power_damping", {"lower": "196 Hz", "upper": "204 Hz", "natural": "200 Hz"}, "0.02", 1e-9, "definition"),
    # slides
    (
        "push_needed",
        {"resistance": "300 N", "friction": 0.15, "push_offset": "80 mm", "guide_length": "120 mm"},
        "375 N",
        1e-9,
        "statics of a guide pushed at its side",
    ),
    (
        "peak_way_pressure",
        {"load": "1200 N", "faces": 2, "face_width": "20 mm", "guide_length": "60 mm", "load_offset": "5 mm"},
        "0.75 N/mm²",
        1e-9,
        "beam theory on a bearing face",
    ),
    (
        "crawl_step",
        {"starting_friction": "60 N", "moving_friction": "40 N", "drive_stiffness": "1 N/µm"},
        "40 µm",
        1e-9,
        "Bowden and Leben, Rabinowicz",
    ),
    # alignment
    (
        "taper_from_axis",
        {"axis_error": "0.02 mm", "measured_length": "300 mm", "work_length": "300 mm"},
        "0.04 mm",
        1e-9,
        "twice the radius",
    ),
    ("height_error_on_diameter", {"diameter": "20 mm", "height_error": "0.5 mm"}, "0.02498 mm", 0.001, "Pythagoras"),
    ("height_error_on_diameter", {"diameter": "10 mm", "height_error": "0.1 mm"}, "0.002 mm", 0.001, "Pythagoras"),
    (
        "bar_sag",
        {"diameter": "30 mm", "overhang": "300 mm", "density": "7850 kg/m³", "elastic_modulus": "207 GPa"},
        "6.6941 µm",
        1e-4,
        "cantilever under its own weight",
    ),
    ("level_taper", {"level_difference": "0.02 mm/m", "arm": "75 mm"}, "3 µm", 1e-9, "height times angle, twice"),
    # heat
    (
        "thermal_growth",
        {"expansion": "11.7 µm/(m·K)", "length": "110 mm", "temperature_rise": "15 K"},
        "19.3 µm",
        0.001,
        "definition",
    ),
    # money and time, bench
    (
        "triangular_spread",
        {"low": "3 EUR", "likely": "5 EUR", "high": "13 EUR"},
        "2.1602 EUR",
        0.001,
        "variance of a triangle, 4.667",
    ),
    ("triangular_mean", {"low": "3 EUR", "likely": "5 EUR", "high": "13 EUR"}, "7 EUR", 1e-9, "mean of a triangle"),
    (
        "bench_sag",
        {"force": "540 N", "span": "1200 mm", "width": "44 mm", "height": "94 mm", "elastic_modulus": "9 GPa", "bearers": 2},
        "0.355 mm",
        0.002,
        "F L^3 / 48 E I",
    ),
    (
        "bench_stress",
        {"force": "540 N", "span": "1200 mm", "width": "44 mm", "height": "94 mm", "bearers": 2},
        "1.25 N/mm²",
        0.003,
        "F L / 4 W",
    ),
    (
        "lifting_limit",
        {
            "reach": "35 cm",
            "height": "30 cm",
            "travel": "60 cm",
            "body_turn": "0 deg",
            "frequency_factor": 1,
            "grip_factor": 0.95,
        },
        "12.08 kg",
        0.001,
        "lifting equation, SI",
    ),
]


@every("formula, inputs, expected, tolerance, relation", WORKED)
def test_a_sum_worked_elsewhere_comes_out(formula, inputs, expected, tolerance, relation):
    one = FORMULAS[formula]
    wanted = read(expected, one.output, formula)
    found = float(one.si(**one.bind(**inputs)))
    assert found == pytest.approx(wanted, rel=tolerance), (
        f"{relation}: {expected}, not {number(found / one.output.factor, 6)} {one.output.unit}"
    )


def test_damping_helps_a_little_more_than_in_proportion():
    """Twice the damping: the free width grows by 2 (1 + 0.08)/(1 + 0.04), not by 2."""
    width = FORMULAS["chatter_free_width"].si
    assert width(20e6, 0.08, 2.8e9, 1.0) / width(20e6, 0.04, 2.8e9, 1.0) == pytest.approx(2.077, rel=1e-3)


def test_a_square_thread_that_only_just_holds_wastes_more_than_half():
    """Efficiency at the limit of self-locking, friction 0.05, 0.1 and 0.15: (1 - f²)/2, whatever the load."""
    for friction, expected in ((0.05, 0.49875), (0.1, 0.495), (0.15, 0.48875)):
        lead = 3.14159265 * 0.02 * friction
        torque = FORMULAS["raising_torque"].si(1000.0, lead, 0.02, friction, 0.0)
        assert FORMULAS["screw_efficiency"].si(1000.0, lead, torque) == pytest.approx(expected, rel=1e-4)


def test_the_worst_spindle_speeds_of_the_first_lobes():
    """A mass of 200 Hz and damping 0.04: between the lobes the limit is lowest at these speeds."""
    ratio = (1 + 2 * 0.04) ** 0.5
    for lobe, rpm in enumerate((16493.0, 7101.0, 4525.0, 3320.0)):
        found = FORMULAS["lobe_speed"].si(200 * 2 * 3.14159265, 0.04, ratio, float(lobe))
        assert found / FORMULAS["lobe_speed"].output.factor == pytest.approx(rpm, rel=2e-3)
