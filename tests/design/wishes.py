"""Invented wishes with fixed seeds: parts of 25 to 125 mm of all materials, clock and wood work, rich and poor in hours, money, practice and machines."""

from dataclasses import replace

import numpy as np

from lathe_course.design.draft.wish import COMMON_JOBS, Wish, common_job
from lathe_course.design.jobs import Job, Jobs

SEED = 12
COUNT = 200
_SHOPS = (
    "hand tools",
    "hand tools + hand drill in a stand",
    "hand tools + bench drill 13 mm",
    "hand tools + bench drill 16 mm + mill 300 x 120 mm",
    "hand tools + bench drill 13 mm + lathe of a club + mill of a club",
    "hand tools + bench drill 25 mm + mill 600 x 200 mm + small lathe 250 x 600 mm + surface plate + dividing head",
)
#: sorts of list, and the parts they are drawn from
_SORTS = {
    "clocks": ("clock arbor", "clock wheel blank", "clock pillar", "spacer"),
    "wood": ("knob or handle", "bowl", "roller"),
    "mixed": tuple(name for name in COMMON_JOBS if not name.startswith("clock")),
}
#: parts that have sizes of their own, mm: longer shafts are refused in a sentence, and smaller turned wood asks for more than 4000 rpm, which is named; both are tested by themselves
_SIZES = {
    "shaft": (12, 69),
    "bowl": (60, 125),
    "knob or handle": (32, 80),
    "clock arbor": (4, 8),
    "clock pillar": (8, 14),
    "pin": (10, 25),
    "threaded stud": (10, 25),
    "stainless spindle": (10, 22),
    "valve or fitting": (14, 40),
}


def with_jobs(wish: Wish, written) -> Wish:
    """The wish with these jobs, as written."""
    return replace(wish, jobs=Jobs(map(Job.read, written)))


def wish(number: int, seed: int = SEED) -> Wish:
    """The wish of this number and seed; always the same."""
    rng = np.random.default_rng([seed, number])
    sort = rng.choice(["clocks", "wood", "mixed", "mixed", "mixed", "mixed"])
    size = 25 + 100 * rng.random()
    jobs = []
    for name in rng.choice(_SORTS[sort], size=min(int(rng.integers(1, 6)), len(_SORTS[sort])), replace=False):
        low, high = _SIZES.get(str(name), (min(25, size), size))
        jobs.append(
            common_job(
                str(name), f"{rng.uniform(low, max(low + 1, min(high, size))):.0f} mm", share=f"{rng.uniform(0.1, 0.4):.2f}"
            )
        )
    answers = {
        "hours_can": f"{rng.choice([4, 8, 12, 20, 40])} h/month",
        "money_can": f"{rng.choice([20, 50, 100, 200, 350])} EUR/month",
        "skill": str(rng.choice(["first machine", "some practice", "old hand"])),
        "machines": str(rng.choice(_SHOPS)),
        "home": str(rng.choice(["settled", "settled", "renting", "moving about"])),
        "patience": f"{rng.choice([18, 36, 60])} months",
        "space_length": f"{rng.choice([700, 1000, 1500])} mm",
        "mass_limit": f"{rng.choice([40, 100, 250])} kg",
    }
    known = {name: text for name, text in answers.items() if rng.random() < 0.75}
    return with_jobs(Wish().with_(**known), jobs)
