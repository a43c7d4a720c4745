"""Workholding: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("chuck_length", {"chuck_diameter": "100 mm", "chuck_length_ratio": "0.6"}, 60),
    # π/4 x 1 dm² x 0.6 dm x 0.75 x 7.85 kg/dm³
    (
        "chuck_mass",
        {"chuck_diameter": "100 mm", "chuck_length": "60 mm", "chuck_fill": "0.75", "chuck_density": "7850 kg/m³"},
        2.7744,
    ),
    ("jaw_mass", {"chuck_diameter": "200 mm", "jaw_mass_reference": "0.15 kg"}, 1.2),
    ("jaw_radius", {"chuck_diameter": "100 mm", "jaw_radius_ratio": "0.32"}, 32),
    ("static_grip", {"chuck_diameter": "200 mm", "grip_reference": "8000 N"}, 32_000),
    # 3 x 0.15 x 0.032 x (2π x 2000 / 60)² = 631.7
    (
        "grip_at_speed",
        {"static_grip": "8000 N", "chuck_jaws": "3", "jaw_mass": "0.15 kg", "jaw_radius": "32 mm", "fastest_speed": "2000 rpm"},
        7368.3,
    ),
    ("grip_left", {"grip_at_speed": "6000 N", "static_grip": "8000 N"}, 75),
    ("held_diameter", {"torque_diameter": "60 mm", "held_share": "0.7"}, 42),
    # 0.15 x 7000 x 0.021
    ("grip_torque", {"jaw_friction": "0.15", "grip_at_speed": "7000 N", "held_diameter": "42 mm"}, 22.05),
    ("grip_reserve", {"grip_torque": "22 N·m", "torque_needed": "8 N·m"}, 2.75),
    # π x 0.1 x 2000
    ("rim_speed", {"chuck_diameter": "100 mm", "fastest_speed": "2000 rpm"}, 628.3),
    # 7200 x 10.472² in N/mm²
    ("rim_stress", {"iron_density": "7200 kg/m³", "chuck_diameter": "100 mm", "fastest_speed": "2000 rpm"}, 0.78957),
    # 0.15 x 0.032 x 209.44²
    ("jaw_loss", {"jaw_mass": "0.15 kg", "jaw_radius": "32 mm", "fastest_speed": "2000 rpm"}, 210.55),
    # 7200 x 209.44² x (3.21 x 0.01 + 0.79 x 0.001225) / 16 = 652 700 Pa
    (
        "faceplate_stress",
        {"iron_density": "7200 kg/m³", "chuck_diameter": "100 mm", "spindle_diameter": "35 mm", "fastest_speed": "2000 rpm"},
        0.65271,
    ),
]
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING = {}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"rim_stress": "06", "jaw_loss": "06", "faceplate_stress": "06", "iron_density": "06"}
