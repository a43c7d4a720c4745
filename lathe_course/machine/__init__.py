"""What a lathe does to metal and metal to a lathe: formulas, one room for each chapter."""
from . import cutting_speeds, finish, forces  # noqa: F401
