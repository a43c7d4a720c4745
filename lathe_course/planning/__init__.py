"""What it takes to get a lathe: hours, money, months, one room for each chapter."""

from . import costs, first_estimate, network, partners, place, progress, scaling, schedule, three_point  # noqa: F401
