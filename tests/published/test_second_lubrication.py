"""Second program for plain bearings: Reynolds' equation of the film, solved on a grid."""

import numpy as np
import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.machine import lubrication

coo_matrix = Later("scipy.sparse", "coo_matrix")
spsolve = Later("scipy.sparse.linalg", "spsolve")

VISCOSITY, SPEED, DIAMETER, CLEARANCE = 0.025, 1000 * 2 * np.pi / 60, 0.04, 20e-6


def film(eccentricity, slenderness, around=240, along=41):
    """Load, N, and torque on the bearing, N·m, of a full bearing on a grid of ``around`` by ``along`` places.

    The pressure is solved from Reynolds' equation; where it would pull, the film is taken to have broken.
    """
    angle, step = np.linspace(0, 2 * np.pi, around, endpoint=False), 2 * np.pi / around
    across = 2.0 / (along - 1)
    gap = 1 + eccentricity * np.cos(angle)
    half = (1 + eccentricity * np.cos(angle + step / 2)) ** 3  # between one place and the next round
    lengthwise = gap**3 / (slenderness * across) ** 2
    rows, columns, values = [], [], []
    index = np.arange(around * (along - 2)).reshape(around, along - 2)
    for place in range(around):
        for line in range(along - 2):
            here, before, after = index[place, line], index[place - 1, line], index[(place + 1) % around, line]
            east, west = half[place] / step**2, half[place - 1] / step**2
            rows += [here, here, here]
            columns += [here, after, before]
            values += [-(east + west + 2 * lengthwise[place]), east, west]
            for beside in (line - 1, line + 1):
                if 0 <= beside < along - 2:
                    rows.append(here)
                    columns.append(index[place, beside])
                    values.append(lengthwise[place])
    source = np.repeat(-eccentricity * np.sin(angle), along - 2)
    pressure = spsolve(coo_matrix((values, (rows, columns))).tocsr(), source).reshape(around, along - 2)
    pressure = np.maximum(pressure, 0) * 6 * VISCOSITY * SPEED * (DIAMETER / 2 / CLEARANCE) ** 2
    length = slenderness * DIAMETER
    area = step * DIAMETER / 2 * across * length / 2
    load = area * np.hypot(np.sum(pressure * np.cos(angle)[:, None]), np.sum(pressure * np.sin(angle)[:, None]))
    shear = VISCOSITY * SPEED * DIAMETER / 2 / (CLEARANCE * gap)
    return load, np.sum(shear) * step * DIAMETER / 2 * length * DIAMETER / 2


@vouches(
    "least_film",
    "sommerfeld_number",
    evidence="second program",
    source="geometry_in_space, Reynolds' equation on a grid",
    because="a bearing of a tenth of its diameter still loses a little oil round the journal",
)
@pytest.mark.parametrize("eccentricity", [0.3, 0.6, 0.8])
def test_film_of_a_very_short_bearing(eccentricity):
    """Load at a known eccentricity from the whole equation, and the film the short theory finds for that load."""
    load, _ = film(eccentricity, 0.1)
    found = lubrication.least_film.si(load, VISCOSITY, SPEED, DIAMETER, 0.1 * DIAMETER, CLEARANCE)
    agrees(found, CLEARANCE * (1 - eccentricity), rel=0.03)
    # the number that carries this load, by its own definition: viscosity times turns a second over pressure
    pressure = load / (DIAMETER * 0.1 * DIAMETER)
    agrees(
        lubrication.sommerfeld_number.si(load, VISCOSITY, SPEED, DIAMETER, 0.1 * DIAMETER, CLEARANCE),
        (DIAMETER / 2 / CLEARANCE) ** 2 * VISCOSITY * (SPEED / 2 / np.pi) / pressure,
        rel=1e-9,
    )


def test_a_longer_bearing_runs_with_less_film_than_the_short_theory_says():
    """The limit the formula states of itself: about a quarter less at a length of one diameter."""
    load, _ = film(0.6, 1.0, along=61)
    said = lubrication.least_film.si(load, VISCOSITY, SPEED, DIAMETER, DIAMETER, CLEARANCE)
    assert 0.70 < CLEARANCE * 0.4 / said < 0.85


@vouches(
    "petroff_torque",
    "petroff_power",
    evidence="second program",
    source="geometry_in_space, Reynolds' equation on a grid",
    because="a hundredth of eccentricity is left",
)
def test_drag_of_a_journal_in_the_middle():
    """Shear of the film summed round the bearing, the journal a hundredth of the clearance out of the middle."""
    _, torque = film(0.01, 1.0, along=11)
    agrees(lubrication.petroff_torque.si(VISCOSITY, SPEED, DIAMETER, DIAMETER, CLEARANCE), torque, rel=1e-4)
    agrees(lubrication.petroff_power.si(VISCOSITY, SPEED, DIAMETER, DIAMETER, CLEARANCE), torque * SPEED, rel=1e-4)
