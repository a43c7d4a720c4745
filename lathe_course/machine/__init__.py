"""What a lathe does to metal and metal to a lathe: formulas, one room for each chapter."""
from . import alignment, bed, bed_forms, belts, cutting_speeds, finish, forces, joints, lubrication, motors, posture, ribs, rigidity, screws, sections, slides, spindle, supports, tailstock  # noqa: F401
