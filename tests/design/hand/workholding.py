"""Workholding: results worked by hand, and what moves nothing or is only shown."""

_NOSE = {
    "nose_tightening": "4 N·m",
    "nose_friction": "0.15",
    "spindle_diameter": "40 mm",
    "bolt_proof": "580 N/mm²",
    "bolt_share": "0.6",
    "spindle_taper": "MT3",
}
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
    ("jaws_front", {"chuck_length": "60 mm", "chuck_diameter": "100 mm"}, 72),
    ("bar_room", {"spindle_bore": "19 mm", "nose_kind": "thread"}, 19),
    ("bar_room", {"spindle_bore": "19 mm", "nose_kind": "taper and drawbar"}, 0),
    # 80 N at 50 mm
    ("nose_tightening", {"hand_on_rim": "80 N", "chuck_diameter": "100 mm"}, 4),
    # thread 40 x 4: pitch diameter 37.402, lead over its round 0.03404, rub 0.15 / cos 30 = 0.17321; shoulder 0.15 x 24 = 3.6 mm
    # off 18.701 x 0.13917 / 1.0059 + 3.6 = 6.1873, on 18.701 x 0.20725 / 0.99410 + 3.6 = 7.4987
    ("nose_hold", {**_NOSE, "nose_kind": "thread"}, 4 * 6.1873 / 7.4987),
    # two screws 6 mm thick: (6 - 0.9382 x 0.93)² x π/4 = 20.646 mm², at 348 N/mm² 7184.8 N each; x 2 x 0.15 x 20 mm = 43.109 N·m
    ("nose_hold", {**_NOSE, "nose_kind": "thread and lock"}, 4 * 6.1873 / 7.4987 + 43.109),
    # three of 9.2 mm: 48.541 mm², 16892 N each; x 3 x 0.15 x 28 mm
    ("nose_hold", {**_NOSE, "nose_kind": "bolted flange"}, 212.84),
    # one of 11.2 mm: 71.938 mm², 25034 N; MT3: (23.825 + 19.76) / (4 x 0.025090) = 434.29 mm; x 0.15
    ("nose_hold", {**_NOSE, "nose_kind": "taper and drawbar"}, 1630.8),
    ("nose_work", {"nose_kind": "thread and lock"}, 1.12),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"rim_stress": "06", "jaw_loss": "06", "faceplate_stress": "06", "iron_density": "06"}
