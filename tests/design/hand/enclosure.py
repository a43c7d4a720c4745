"""The controller's box: results worked by hand."""

_BOX = {"motor_power": "400 W", "controller_loss_share": "5 %"}

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("box_heat", {**_BOX, "controller_box": "closed box", "drive_kind": "three-phase and inverter"}, 20),
    ("box_heat", {**_BOX, "controller_box": "bare behind a wall", "drive_kind": "three-phase and inverter"}, 0),
    ("box_heat", {**_BOX, "controller_box": "closed box", "drive_kind": "single-phase motor"}, 0),
    ("controller_bare", {"controller_box": "bare beside the lathe", "drive_kind": "three-phase and inverter"}, 1),
    ("controller_bare", {"controller_box": "bare beside the lathe", "drive_kind": "single-phase motor"}, 0),
    ("leakage_answered", {"leakage_device": "not asked yet", "drive_kind": "three-phase and inverter"}, 0),
    ("leakage_answered", {"leakage_device": "not asked yet", "drive_kind": "single-phase motor"}, 1),
    ("leakage_answered", {"leakage_device": "the one there serves", "drive_kind": "three-phase and inverter"}, 1),
    ("leakage_questions", {"leakage_answered": "1"}, 0),
]
