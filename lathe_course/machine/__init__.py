"""What a lathe does to metal and metal to a lathe: formulas, one room for each chapter."""
from . import alignment, bed, bed_forms, belts, change_gears, cutting_speeds, finish, forces, joints, lubrication, motors, posture, ribs, rigidity, screws, sections, slides, spindle, supports, tailstock, threads  # noqa: F401
