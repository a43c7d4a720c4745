"""Second program for dividing: a ring with holes out of their places, turned from hole to hole as complex numbers."""

import cmath
import random

from evidence import agrees, vouches

from lathe_course.machine import dividing


@vouches("carried_error", evidence="second program", source="definition, a ring turned from hole to hole in the complex plane")
def test_marks_on_work_lie_out_as_the_holes_of_its_ring_do():
    """Sixty holes, each out along the ring by chance; the work is turned until the hole meets its pin and marked: marks lie out in the proportion of the diameters."""
    ring, work, holes, chance = 0.112, 0.040, 60, random.Random(7)
    for number in range(holes):
        out = chance.uniform(-2e-4, 2e-4)
        hole = ring / 2 * cmath.exp(2j * cmath.pi * number / holes) * cmath.exp(1j * out / (ring / 2))
        turned = hole.conjugate() / abs(hole)  # brings the hole to the pin
        mark = work / 2 * turned.conjugate()  # where the scriber at the pin's side touches, seen from the work
        meant = work / 2 * cmath.exp(2j * cmath.pi * number / holes)
        arc = cmath.phase(mark / meant) * work / 2
        if abs(out) > 1e-6:
            agrees(dividing.carried_error.si(abs(out), work, ring), abs(arc), rel=1e-6)
