"""What is most worth saying about a design: its key results, and the sizes asked for first."""

#: results a reader wants to see side by side, in the order of the chapters
KEY_RESULTS = (
    "swing_over_bed",
    "swing_over_slide",
    "share_that_fits",
    "machine_length",
    "step_ratio",
    "shoulder_speed",
    "cutting_force",
    "motor_power_needed",
    "low_speed_torque",
    "torque_needed",
    "supply_current",
    "nose_stiffness",
    "spindle_give",
    "bed_mass",
    "machine_stiffness",
    "size_error",
    "chatter_free_width",
    "practical_roughness",
)
#: what building takes, and what a used machine of the size would
BUILD_OR_BUY = (
    "parts_mass",
    "cash_total",
    "charged_total",
    "own_hours",
    "months_to_finish",
    "months_to_finish_should",
    "hour_cost",
    "building_by_parts",
    "used_price",
    "used_hours",
    "used_total",
    "price_of_learning",
)
#: decisions whose room says most: what the machine could still become
SIZES = ("centre_height", "between_centres", "spindle_diameter", "fastest_speed", "depth_of_cut")
#: results for which it is asked what blurs them
BLURRED = ("size_error", "chatter_free_width", "nose_stiffness", "motor_power_needed", "months_to_finish", "building_by_parts")
