"""The chain of a lathe: every decision, figure, result and limit of the chapters, joined once."""
from .chain.graph import Chain
from .chain.luck import SHARED
from .chapters import (
                       alignment,
                       bearings,
                       bed,
                       budget,
                       chatter,
                       cut_limits,
                       cutting_speeds,
                       drive,
                       forces,
                       holding,
                       made,
                       measured,
                       part_sizes,
                       parts,
                       people,
                       place,
                       progress,
                       purpose,
                       rigidity,
                       screws,
                       slides,
                       specification,
                       spindle,
                       start_stop,
                       threads,
                       timescale,
                       workholding,
)
from .chapters import ownership as keeping

__all__ = ["CHAPTERS", "LATHE"]

_ROOMS = (purpose, specification, cutting_speeds, forces, drive, start_stop, spindle, bearings, workholding, bed, rigidity,
          measured, holding, chatter, cut_limits, slides, screws, threads, alignment, made, place, people, part_sizes, parts, budget, timescale, keeping,
          progress)

#: number of a chapter -> its title
CHAPTERS = {"00": "Start here", "00b": "The first round", "01": "Purpose", "02": "Specification", "03": "Cutting speeds", "04": "Forces and power",
            "05": "Drive", "06": "Spindle and bearings", "07": "Bed", "08": "Rigidity", "09": "Slides, screws and threads",
            "10": "Parts and ways", "11": "Budget", "12": "Timescale", "13": "Place and people",
            "14": "Lessons of others", "15": "Closing the loop", "16": "The build", "17": "Commissioning"}

LATHE = Chain(
    decisions=[d for room in _ROOMS for d in room.DECISIONS],
    figures=[f for room in _ROOMS for f in room.FIGURES],
    results=[r for room in _ROOMS for r in room.RESULTS],
    limits=sorted((f for room in _ROOMS for f in room.LIMITS), key=lambda limit: limit.chapter),
    given=("jobs", "building", "making", "log", "draws"),
    sheets=[s for room in _ROOMS for s in getattr(room, "SHEETS", ())],
    luck=SHARED,
)
