"""What it takes to get a lathe: hours, money, months, one room for each chapter."""
from . import first_estimate, network, partners, place, progress, schedule, three_point  # noqa: F401
