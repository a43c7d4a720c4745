"""Second program for the hand rest: the lever as a beam of finite elements on a stiff rest, held at its end."""

import numpy as np
from beam_elements import Beam, ladder
from evidence import agrees, vouches

from lathe_course.machine import hand_rest


@vouches(
    "handle_pull",
    "hand_rest_load",
    evidence="second program",
    source="finite_elements, our own, a beam on two stiff springs",
    because="the springs that stand for rest and hand give a little",
)
def test_rest_and_hand_carry_a_tool_as_two_springs_carry_a_beam():
    for push, gap, handle in ((160.0, 0.006, 0.3), (500.0, 0.02, 0.2), (90.0, 0.012, 0.4)):
        stiff, places = 1e11, ladder(0, gap, gap + handle)
        bent = Beam(places, 207e9 * 1e-6).spring(gap, stiff).spring(gap + handle, stiff).under([(0.0, push)])
        sag = np.interp([gap, gap + handle], places, bent[0::2])
        agrees(hand_rest.hand_rest_load.si(push, gap, handle), stiff * abs(sag[0]), rel=1e-4)
        agrees(hand_rest.handle_pull.si(push, gap, handle), stiff * abs(sag[1]), rel=1e-4)
