"""A beam of finite elements of our own, with shear, springs and masses: the second program for spindle, bed and work.

Each element has a deflection and a slope at either end.  Stiffness after Timoshenko's beam
theory; a shear stiffness of infinity gives the beam without shear.
"""

import itertools

import numpy as np


class Beam:
    """Elements between ``points`` along the axis, in SI; ``ei``, ``gaq`` (shear) and ``mass`` (a metre) may differ by element."""

    def __init__(self, points, ei, gaq=np.inf, mass=0.0):
        self.points = np.asarray(points, float)
        self.size = 2 * len(self.points)
        self.k, self.m = np.zeros((self.size, self.size)), np.zeros((self.size, self.size))
        lengths = np.diff(self.points)
        for i, (l, ei_i, gaq_i, mass_i) in enumerate(zip(lengths, *(np.broadcast_to(v, lengths.shape) for v in (ei, gaq, mass)))):
            shear = 12 * ei_i / (gaq_i * l**2)
            own = slice(2 * i, 2 * i + 4)
            self.k[own, own] += (
                ei_i
                / ((1 + shear) * l**3)
                * np.array(
                    [
                        [12, 6 * l, -12, 6 * l],
                        [6 * l, (4 + shear) * l**2, -6 * l, (2 - shear) * l**2],
                        [-12, -6 * l, 12, -6 * l],
                        [6 * l, (2 - shear) * l**2, -6 * l, (4 + shear) * l**2],
                    ]
                )
            )
            self.m[own, own] += (
                mass_i
                * l
                / 420
                * np.array(
                    [
                        [156, 22 * l, 54, -13 * l],
                        [22 * l, 4 * l**2, 13 * l, -3 * l**2],
                        [54, 13 * l, 156, -22 * l],
                        [-13 * l, -3 * l**2, -22 * l, 4 * l**2],
                    ]
                )
            )
        self.held = []

    def at(self, x):
        """Number of the deflection at a point."""
        return 2 * int(np.argmin(np.abs(self.points - x)))

    def spring(self, x, stiffness):
        self.k[self.at(x), self.at(x)] += stiffness
        return self

    def weight(self, x, mass):
        self.m[self.at(x), self.at(x)] += mass
        return self

    def pin(self, x):
        self.held.append(self.at(x))
        return self

    def clamp(self, x):
        self.held += [self.at(x), self.at(x) + 1]
        return self

    def under(self, loads=(), moments=(), spread=0.0):
        """Deflections and slopes under ``loads`` [(x, force)], ``moments`` [(x, moment)] and a ``spread`` load [N/m]."""
        force = np.zeros(self.size)
        for x, load in loads:
            force[self.at(x)] += load
        for x, moment in moments:
            force[self.at(x) + 1] += moment
        for i, l in enumerate(np.diff(self.points)):
            force[2 * i : 2 * i + 4] += spread * np.array([l / 2, l**2 / 12, l / 2, -(l**2) / 12])
        free = np.setdiff1d(np.arange(self.size), self.held)
        moved = np.zeros(self.size)
        moved[free] = np.linalg.solve(self.k[np.ix_(free, free)], force[free])
        return moved

    def frequencies(self):
        """Natural frequencies in rad/s, lowest first."""
        from scipy.linalg import eigh

        free = np.setdiff1d(np.arange(self.size), self.held)
        return np.sqrt(np.abs(eigh(self.k[np.ix_(free, free)], self.m[np.ix_(free, free)], eigvals_only=True)))


def ladder(*stations, steps=12):
    """Points along an axis with every station among them and ``steps`` elements between neighbours."""
    parts = [np.linspace(a, b, steps + 1)[:-1] for a, b in itertools.pairwise(stations)]
    return np.concatenate([*parts, stations[-1:]])
