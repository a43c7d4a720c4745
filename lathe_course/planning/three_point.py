"""Three-point estimates: what low, likely and high come to, alone and added up.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from statistics import NormalDist
from typing import Annotated

import numpy as np

from ..formula import SI, formula
from ..units import LabourTime, Money, Months, Ratio

_STANDARD = NormalDist()
_ORDER = {"low, likely and high must rise in this order": lambda low, likely, high: (low <= likely) & (likely <= high)}
#: the same sums serve hours, money and months; the textbook's are shown in hours, those of a budget in money
Low = Annotated[SI, LabourTime("h", "a", at_least=0)]
Likely = Annotated[SI, LabourTime("h", "m", at_least=0)]
High = Annotated[SI, LabourTime("h", "b", at_least=0)]
Cheap = Annotated[SI, Money("EUR", "a", at_least=0)]
Usual = Annotated[SI, Money("EUR", "m", at_least=0)]
Dear = Annotated[SI, Money("EUR", "b", at_least=0)]
Confidence = Annotated[SI, Ratio("%", "P", above=0, below=100)]


def _in_order(low, likely, high, value):
    return np.where((low <= likely) & (likely <= high), value, np.nan)


@formula(
    r"\mu = \frac{a + 4 m + b}{6}",
    source="hillier_lieberman, three-estimate approach",
    rises_with=("low", "likely", "high"),
    requires=_ORDER,
    limits="a and b are hardly ever passed; the likely figure counts four times",
)
def beta_mean(low: Low, likely: Likely, high: High) -> Annotated[SI, LabourTime("h", r"\mu")]:
    """Mean of a three-point estimate that counts its likely figure four times."""
    return _in_order(low, likely, high, (low + 4 * likely + high) / 6)


@formula(
    r"\sigma = \frac{b - a}{6}",
    source="hillier_lieberman, three-estimate approach",
    rises_with=("high",),
    falls_with=("low",),
    requires={"low must not be above high": lambda low, high: low <= high},
    limits="the whole range is taken as six standard deviations",
)
def beta_spread(low: Low, high: High) -> Annotated[SI, LabourTime("h", r"\sigma")]:
    """Standard deviation of the same estimate."""
    return np.where(low <= high, (high - low) / 6, np.nan)


@formula(
    r"\mu = \frac{a + m + b}{3}",
    source="definition",
    rises_with=("low", "likely", "high"),
    requires=_ORDER,
    limits="every figure between the ends is possible, and none beyond",
)
def triangular_mean(low: Cheap, likely: Usual, high: Dear) -> Annotated[SI, Money("EUR", r"\mu")]:
    """Mean of a three-point estimate drawn as a triangle; the high end pulls as hard as the likely figure."""
    return _in_order(low, likely, high, (low + likely + high) / 3)


@formula(
    r"\sigma = \sqrt{\frac{(b - a)^2 - (m - a)(b - m)}{18}}",
    source="definition",
    requires=_ORDER,
    limits="every figure between the ends is possible, and none beyond",
)
def triangular_spread(low: Cheap, likely: Usual, high: Dear) -> Annotated[SI, Money("EUR", r"\sigma")]:
    """Standard deviation of the same triangle."""
    return _in_order(low, likely, high, np.sqrt(np.maximum((high - low) ** 2 - (likely - low) * (high - likely), 0.0) / 18))


@formula(
    r"\sigma = \sqrt{(1 - r)\, \sigma_i^2 + r\, \sigma_t^2}",
    source="definition",
    rises_with=("independent", "together"),
    limits="every pair of items is tied alike",
    requires={
        "added together the spreads are at least what they are when independent": lambda independent, together: (
            independent <= together
        )
    },
)
def sum_spread(
    independent: Annotated[SI, Money("EUR", r"\sigma_i", at_least=0)],
    together: Annotated[SI, Money("EUR", r"\sigma_t", at_least=0)],
    shared: Annotated[SI, Ratio("", "r", at_least=0, at_most=1)],
) -> Annotated[SI, Money("EUR", r"\sigma")]:
    """Standard deviation of a sum whose items share a part of their luck.

    ``independent`` is the root of the sum of squares, ``together`` the plain sum of the standard
    deviations; ``shared`` is the correlation of any two items.  A slow worker is slow everywhere.
    """
    return np.where(independent <= together, np.sqrt((1 - shared) * independent**2 + shared * together**2), np.nan)


def _z(confidence):
    """Standard normal quantile of a probability."""
    found = np.frompyfunc(_STANDARD.inv_cdf, 1, 1)(np.clip(confidence, 1e-12, 1 - 1e-12))
    return np.asarray(found, float) if np.ndim(found) else float(found)


def _odds(z):
    found = np.frompyfunc(_STANDARD.cdf, 1, 1)(np.clip(z, -40.0, 40.0))
    return np.asarray(found, float) if np.ndim(found) else float(found)


@formula(
    r"M_P = \mu + \Phi^{-1}(P)\, \sigma",
    source="hillier_lieberman, normal approximation of a sum",
    rises_with=("mean", "confidence"),
    limits="a sum of many items, none of which outweighs the rest",
)
def money_at(
    mean: Annotated[SI, Money("EUR", r"\mu", at_least=0)],
    spread: Annotated[SI, Money("EUR", r"\sigma", at_least=0)],
    confidence: Confidence,
) -> Annotated[SI, Money("EUR", "M_P")]:
    """The sum that suffices in a given share of all cases; beyond the mean it is the contingency."""
    return mean + _z(confidence) * spread


@formula(
    r"t_P = \mu + \Phi^{-1}(P)\, \sigma",
    source="hillier_lieberman, normal approximation of a sum",
    rises_with=("mean", "confidence"),
    limits="one chain of tasks, none of which outweighs the rest; chains that merge come later than this",
)
def months_at(
    mean: Annotated[SI, Months("months", r"\mu", at_least=0)],
    spread: Annotated[SI, Months("months", r"\sigma", at_least=0)],
    confidence: Confidence,
) -> Annotated[SI, Months("months", "t_P")]:
    """The date by which it is done in a given share of all cases."""
    return mean + _z(confidence) * spread


@formula(
    r"P = \Phi\left(\frac{t - \mu}{\sigma}\right)",
    source="hillier_lieberman, probability of meeting a deadline",
    rises_with=("deadline",),
    falls_with=("mean",),
    limits="one chain of tasks, none of which outweighs the rest; chains that merge make it too hopeful",
)
def odds_by(
    deadline: Annotated[SI, Months("months", "t", at_least=0)],
    mean: Annotated[SI, Months("months", r"\mu", at_least=0)],
    spread: Annotated[SI, Months("months", r"\sigma", above=0)],
) -> Annotated[SI, Ratio("%", "P")]:
    """Odds of being done by a date, from mean and standard deviation of the longest chain."""
    return _odds((deadline - mean) / spread)
