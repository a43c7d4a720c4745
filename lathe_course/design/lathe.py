"""The chain of a lathe: every decision, figure, result and limit of the chapters, joined once."""
from .chain import Chain
from .chapters import bed, cutting_speeds, forces, purpose, rigidity, specification, spindle

__all__ = ["CHAPTERS", "LATHE"]

_ROOMS = (purpose, specification, cutting_speeds, forces, spindle, bed, rigidity)

#: number of a chapter -> its title
CHAPTERS = {"00": "Start here", "01": "Purpose", "02": "Specification", "03": "Cutting speeds", "04": "Forces and power",
            "06": "Spindle and bearings", "07": "Bed", "08": "Rigidity", "15": "Closing the loop"}

LATHE = Chain(
    decisions=[d for room in _ROOMS for d in room.DECISIONS],
    figures=[f for room in _ROOMS for f in room.FIGURES],
    results=[r for room in _ROOMS for r in room.RESULTS],
    limits=[f for room in _ROOMS for f in room.LIMITS],
    given=("jobs",),
)
