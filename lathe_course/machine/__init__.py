"""What a lathe does to metal and metal to a lathe: formulas, one room for each chapter."""
from . import alignment, bed, bed_forms, cutting_speeds, finish, forces, lubrication, posture, rigidity, sections, spindle  # noqa: F401
