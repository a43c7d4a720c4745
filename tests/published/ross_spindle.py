"""Spindles in ross, a general rotor-dynamics library: the second program for deflection, slope and critical speed."""

import itertools
from dataclasses import dataclass

import numpy as np
from later import Later

eigh = Later("scipy.linalg", "eigh")
ross = Later("ross")

STEEL = {"elastic_modulus": 207e9, "shear_modulus": 79.3e9, "density": 7850.0}


@dataclass(frozen=True)
class Spindle:
    """A spindle as ``critical_speed`` takes it, with the cut's ``reach`` beyond the nose; SI."""

    overhang: float
    span: float
    reach: float
    diameter: float
    bore: float
    front_stiffness: float
    rear_stiffness: float
    pulley_overhang: float
    pulley_mass: float
    chuck_mass: float
    chuck_length: float
    chuck_diameter: float


#: from a watchmaker's size to a stout one, bearings soft and hard, chuck light and heavy, pulley near and far
SPINDLES = [
    Spindle(0.050, 0.120, 0.000, 0.035, 0.018, 120e6, 80e6, 0.010, 0.0, 3.0, 0.05, 0.10),
    Spindle(0.045, 0.110, 0.060, 0.035, 0.020, 250e6, 200e6, 0.025, 0.6, 3.0, 0.06, 0.10),
    Spindle(0.030, 0.180, 0.020, 0.025, 0.000, 50e6, 50e6, 0.030, 0.3, 0.8, 0.04, 0.05),
    Spindle(0.020, 0.060, 0.030, 0.016, 0.006, 30e6, 30e6, 0.015, 0.1, 0.4, 0.03, 0.05),
    Spindle(0.055, 0.180, 0.080, 0.050, 0.025, 400e6, 300e6, 0.035, 1.5, 8.0, 0.08, 0.16),
    Spindle(0.028, 0.095, 0.035, 0.022, 0.009, 40e6, 40e6, 0.020, 0.2, 0.9, 0.035, 0.063),
    Spindle(0.080, 0.090, 0.100, 0.030, 0.020, 500e6, 500e6, 0.020, 0.5, 5.0, 0.07, 0.125),
    Spindle(0.015, 0.300, 0.010, 0.045, 0.038, 150e6, 150e6, 0.060, 2.0, 2.0, 0.05, 0.08),
    Spindle(0.060, 0.250, 0.150, 0.060, 0.040, 20e6, 20e6, 0.050, 3.0, 12.0, 0.10, 0.20),
    Spindle(0.040, 0.045, 0.050, 0.040, 0.010, 200e6, 200e6, 0.015, 0.8, 3.0, 0.05, 0.10),
]


def built(one: Spindle, steps: int = 4, chuck: bool = True, reach: bool = False):
    """The spindle in ross, ``steps`` elements between stations; rigid and without mass beyond the nose.

    The free end is the middle of the chuck, or with ``reach`` the place of the cut.
    """
    steel = ross.Material("steel", rho=STEEL["density"], E=STEEL["elastic_modulus"], G_s=STEEL["shear_modulus"])
    stiff = ross.Material("stiff", rho=1e-6, E=STEEL["elastic_modulus"] * 1e4, G_s=STEEL["shear_modulus"] * 1e4)
    tail = max(one.pulley_overhang, 0.02 * one.span)
    stations = np.cumsum([0.0, tail, one.span, one.overhang])
    points = np.concatenate([np.linspace(a, b, steps + 1)[:-1] for a, b in itertools.pairwise(stations)] + [stations[-1:]])
    shaft = [ross.ShaftElement(b - a, one.bore, one.diameter, material=steel) for a, b in itertools.pairwise(points)]
    beyond = one.reach if reach else one.chuck_length / 2
    if beyond:
        shaft.append(ross.ShaftElement(beyond, 0, one.diameter, material=stiff))
    disks = []
    if chuck:
        across = one.chuck_mass * (one.chuck_length**2 / 12 + one.chuck_diameter**2 / 16)
        disks = [
            ross.DiskElement(0, one.pulley_mass, 0, 0),
            ross.DiskElement(len(shaft), one.chuck_mass, across, one.chuck_mass * one.chuck_diameter**2 / 8),
        ]
    bearings = [
        ross.BearingElement(steps, kxx=one.rear_stiffness, cxx=0),
        ross.BearingElement(2 * steps, kxx=one.front_stiffness, cxx=0),
    ]
    return ross.Rotor(shaft, disks, bearings)


def bent(one: Spindle, steps: int = 4) -> tuple[float, float]:
    """Deflection at the cut and slope in the front bearing under one newton there: m and rad."""
    rotor = built(one, steps, chuck=False, reach=True)
    stiffness = np.asarray(rotor.K(0))
    each = stiffness.shape[0] // len(rotor.nodes)
    plane = np.array(
        [[each * node, each * node + each - 2] for node in range(len(rotor.nodes))]
    ).ravel()  # sideways, and the slope there
    force = np.zeros(len(plane))
    force[-2] = 1.0
    moved = np.linalg.solve(stiffness[np.ix_(plane, plane)], force)
    return float(moved[-2]), float(abs(moved[2 * 2 * steps + 1]))


def whirl(one: Spindle, steps: int = 4) -> float:
    """Lowest forward critical speed, rad/s, from the library's matrices of stiffness, mass and gyroscopic effect.

    At a critical speed the shaft swings as fast as it turns: K q = ω² (M - iG) q, forward where y
    follows x a quarter turn later.  (The library's own search gives the same in a hundred times the time.)
    """
    rotor = built(one, steps)
    each = np.asarray(rotor.K(0)).shape[0] // len(rotor.nodes)
    kept = [each * node + place for node in range(len(rotor.nodes)) for place in (0, 1, each - 3, each - 2)]
    stiffness, mass, gyro = (np.asarray(matrix)[np.ix_(kept, kept)] for matrix in (rotor.K(0), rotor.M(0), rotor.G()))
    shares, shapes = eigh(mass - 1j * gyro, stiffness)
    forward = np.sum(np.imag(np.conj(shapes[0::4]) * shapes[1::4]), axis=0) < 0
    return float(1 / np.sqrt(np.max(shares[forward])))


def searched(one: Spindle, steps: int = 4) -> np.ndarray:
    """Critical speeds by the library's own search, backward and forward by turns."""
    return np.asarray(built(one, steps).run_critical_speed(num_modes=12).wn(), float)
