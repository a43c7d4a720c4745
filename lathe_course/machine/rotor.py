"""The spindle as a turning beam: the speed at which it whirls.

Beam elements with bending, shear and the inertia of tilting sections, lumped masses and
springs, put together for one spindle or for ten thousand draws at once.  Only numpy: ten
unknowns need no library.

Every node has a deflection w and a slope of the section.  Lengths are told in spans, stiffness
in E I / L³ and mass in that of the shaft between the bearings, so that all matrices have
figures near one and no units.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated, Any

import numpy as np

from ..formula import SI, formula, possible
from ..units import Density, Length, Mass, Ratio, RotationalSpeed, Stiffness, Stress
from .sections import tube_area, tube_moment
from .spindle import shear_coefficient


# --- one element -----------------------------------------------------------------------------------
def _polynomials() -> tuple[np.ndarray, ...]:
    """Stiffness and mass of an element of length 1 in powers of its shear number, from its own bent shape.

    The shape between the nodes is the exact one under loads at the nodes: a cubic whose terms
    carry the shear number once.  Its products are integrated by Gauss's rule, exact here.
    """
    points, weights = np.polynomial.legendre.leggauss(4)
    x, weights = (points + 1) / 2, weights / 2
    zero, one = np.zeros_like(x), np.ones_like(x)
    sunk = (
        np.stack([1 - 3 * x**2 + 2 * x**3, x - 2 * x**2 + x**3, 3 * x**2 - 2 * x**3, x**3 - x**2]),
        np.stack([1 - x, (x - x**2) / 2, x, (x**2 - x) / 2]),
    )
    tilt = (
        np.stack([6 * (x**2 - x), 1 - 4 * x + 3 * x**2, 6 * (x - x**2), 3 * x**2 - 2 * x]),
        np.stack([zero, one - x, zero, x]),
    )
    bend = (np.stack([6 * (2 * x - 1), 6 * x - 4, 6 * (1 - 2 * x), 6 * x - 2]), np.stack([zero, -one, zero, one]))

    def products(shape: tuple[np.ndarray, np.ndarray]) -> np.ndarray:
        whole = np.einsum("pig,qjg,g->pqij", shape, shape, weights)
        return np.stack([whole[0, 0], whole[0, 1] + whole[1, 0], whole[1, 1]])

    # the shear strain of a beam under end loads is the same all along: bending and shear work together give this
    shear = np.array([1.0, 0.5, -1.0, 0.5])
    return products(sunk), products(tilt), products(bend), np.outer(shear, shear)


_SUNK, _TILT, _BEND, _SHEAR = _polynomials()


def beam_elements(lengths: Any, shear: Any, gyration: Any) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Stiffness, mass and tilting inertia of elements; ``lengths`` in spans, shape (..., elements).

    ``shear`` is 12 E I / (share · G A L²) with the span L, ``gyration`` the square of the radius
    of gyration of the section over the square of the span; shapes like ``lengths``.
    """
    phi = shear / lengths**2
    one = np.ones_like(lengths)
    scale = np.stack([one, lengths, one, lengths], axis=-1)
    scale = scale[..., :, None] * scale[..., None, :]

    def sum_of(powers: np.ndarray) -> np.ndarray:
        p = phi[..., None, None]
        return scale * (powers[0] + p * powers[1] + p**2 * powers[2])

    under = (1 + phi)[..., None, None] ** 2
    long = lengths[..., None, None]
    stiffness = (sum_of(_BEND) + scale * 12 * phi[..., None, None] * _SHEAR) / (under * long**3)
    return stiffness, long * sum_of(_SUNK) / under, gyration[..., None, None] * sum_of(_TILT) / (under * long)


def _assembled(elements: np.ndarray) -> np.ndarray:
    """The matrix of the whole beam from those of its elements, (..., elements, 4, 4)."""
    count = elements.shape[-3]
    whole = np.zeros((*elements.shape[:-3], 2 * count + 2, 2 * count + 2))
    for one in range(count):
        whole[..., 2 * one : 2 * one + 4, 2 * one : 2 * one + 4] += elements[..., one, :, :]
    return whole


def first_whirl(stiffness: np.ndarray, mass: np.ndarray) -> np.ndarray:
    """Smallest square of a circular frequency of (..., n, n) matrices; stiffness positive definite.

    The mass may be indefinite: on a whirling rotor a disc counts with the difference of its
    two moments of inertia.  Then the largest share of mass over stiffness is looked for.  NaN
    where a stiffness is not positive definite, as of lengths so unlike that the digits do not tell them apart.
    """
    try:
        half = np.linalg.inv(np.linalg.cholesky(stiffness))
    except np.linalg.LinAlgError:
        ends = np.linalg.eigvalsh(np.nan_to_num(stiffness, posinf=0.0, neginf=0.0))
        firm = ends[..., 0] > 1e-12 * ends[..., -1]
        if np.all(firm):
            raise
        return np.where(firm, first_whirl(np.where(firm[..., None, None], stiffness, np.eye(stiffness.shape[-1])), mass), np.nan)
    return 1 / np.linalg.eigvalsh(half @ mass @ np.swapaxes(half, -1, -2))[..., -1]


# --- the spindle -------------------------------------------------------------------------------------
#: the tail behind the rear bearing is taken at least this long, in spans, so that no element vanishes
_SHORTEST_TAIL = 0.02


@formula(
    r"n_c = \operatorname{whirl}(a, L, p, D, d, E, G, \rho, k_1, k_2, m, l, w, m_p)",
    source=("timoshenko, beams with shear and inertia of tilting", "finite_elements, four beam elements and two sprung bearings"),
    limits="one diameter from end to end up to the nose; chuck and work one stiff body; headstock rigid; forward whirl with the turning; "
    "bearings alike in all directions",
    rises_with=("front_stiffness", "rear_stiffness", "elastic_modulus"),
    falls_with=("pulley_mass",),
    requires={"The bore must be smaller than the diameter of the spindle.": lambda diameter, bore: bore < diameter},
)
def critical_speed(
    overhang: Annotated[SI, Length("mm", "a", at_least=2, at_most=500)],
    span: Annotated[SI, Length("mm", "L", at_least=10, at_most=2000)],
    pulley_overhang: Annotated[SI, Length("mm", "p", at_least=0, at_most=500)],
    diameter: Annotated[SI, Length("mm", "D", at_least=3, at_most=300)],
    bore: Annotated[SI, Length("mm", "d", at_least=0, at_most=290)],
    elastic_modulus: Annotated[SI, Stress("GPa", "E", at_least=1, at_most=1000)],
    shear_modulus: Annotated[SI, Stress("GPa", "G", at_least=0.5, at_most=1e5)],
    density: Annotated[SI, Density("kg/m³", r"\rho", at_least=100, at_most=20_000)],
    front_stiffness: Annotated[SI, Stiffness("N/µm", "k_1", at_least=0.1, at_most=1e5)],
    rear_stiffness: Annotated[SI, Stiffness("N/µm", "k_2", at_least=0.1, at_most=1e5)],
    chuck_mass: Annotated[SI, Mass("kg", "m", at_least=0, at_most=200)],
    chuck_length: Annotated[SI, Length("mm", "l", at_least=0, at_most=500)],
    chuck_diameter: Annotated[SI, Length("mm", "w", at_least=0, at_most=1000)],
    pulley_mass: Annotated[SI, Mass("kg", "m_p", at_least=0, at_most=50)],
) -> Annotated[SI, RotationalSpeed("rpm", "n_c")]:
    """Lowest speed at which the unbalance of the spindle would swing it out without end.

    Nodes stand at the pulley, at the rear bearing, midway, at the front bearing and at the nose.
    Chuck and work are one cylinder of its mass, length and diameter, fixed to the nose.
    """
    shaft = np.broadcast_arrays(
        *(
            np.asarray(one, float)
            for one in (overhang, span, pulley_overhang, diameter, bore, elastic_modulus, shear_modulus, density)
        )
    )
    held = np.broadcast_arrays(
        *(
            np.asarray(one, float)
            for one in (front_stiffness, rear_stiffness, chuck_mass, chuck_length, chuck_diameter, pulley_mass)
        )
    )
    hollow, known = (shaft[4] < shaft[3]) & np.isfinite(sum(shaft)), np.isfinite(sum(held))
    sound = hollow & known
    a, l, p, d, b, e, g, rho = (np.where(hollow, one, 1.0) for one in shaft)
    k1, k2, m, lc, dc, mp = (np.where(known, one, 1.0) for one in held)
    b = np.where(hollow, b, 0.0)
    area, moment = tube_area.si(d, b), tube_moment.si(d, b)
    of_force, of_mass = e * moment / l**3, rho * area * l

    tail = np.maximum(p / l, _SHORTEST_TAIL)
    half = np.full_like(tail, 0.5)
    lengths = np.stack([tail, half, half, a / l], axis=-1)
    shear = 12 * e * moment / (shear_coefficient.si(d, b, e, g) * g * area * l**2)
    bends, moves, tilts = beam_elements(lengths, shear[..., None] * np.ones(4), (moment / area / l**2)[..., None] * np.ones(4))
    # forward whirl at the speed of turning: a section counts with its inertia of tilting less twice as much of turning
    # a shaft that is the same for all draws is put together once
    stiffness, mass = (
        np.broadcast_to(one, (*sound.shape, *one.shape[-2:])).copy() for one in (_assembled(bends), _assembled(moves - tilts))
    )
    stiffness[..., 2, 2] += np.where(sound, k2 / of_force, 1.0)
    stiffness[..., 6, 6] += np.where(sound, k1 / of_force, 1.0)
    mass[..., 0, 0] += mp / of_mass
    arm, share = lc / l / 2, m / of_mass
    mass[..., 8, 8] += share
    mass[..., 8, 9] += share * arm
    mass[..., 9, 8] += share * arm
    mass[..., 9, 9] += share * (arm**2 + (lc**2 / 12 - dc**2 / 16) / l**2)
    return possible(sound, np.sqrt(first_whirl(stiffness, mass) * of_force / of_mass))[()]


@formula(
    r"S = \frac{n_c}{n}",
    source="shigley, critical speeds",
    limits="steady running; twice the top speed is the usual least",
    rises_with=("critical_speed",),
    falls_with=("spindle_speed",),
)
def speed_below_whirl(
    critical_speed: Annotated[SI, RotationalSpeed("rpm", "n_c", above=0)],
    spindle_speed: Annotated[SI, RotationalSpeed("rpm", "n", above=0)],
) -> Annotated[SI, Ratio("", "S")]:
    """How many times the running speed the first critical speed is."""
    return critical_speed / spindle_speed
