"""What the chain says today of what others have measured: figures of ``evidence/predicted.toml``, worked out anew."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from ...evidence.measured import Prediction
from ...units import Kind, Ratio, read
from ..chain.luck import DRAWS
from ..demos import demo
from ..evaluation import evaluate
from ..jobs import Job, Jobs

#: the middle four fifths of the draws, as everywhere in the course
_SHARES = (0.1, 0.5, 0.9)


def kind_of(prediction: Prediction) -> Kind:
    """The kind of figure it is."""
    return Ratio() if prediction.over else demo().chain.part(prediction.result).kind


def first_told(prediction: Prediction) -> np.ndarray:
    """Low, middling and high as they were first told, in SI."""
    return np.array([read(text, kind_of(prediction), prediction.id) for text in prediction.first])


@functools.cache
def _drawn(result: str, decisions: frozenset[tuple[str, str]], material: str) -> np.ndarray:
    design = demo()
    if material:
        design = replace(design, jobs=Jobs([Job.read({**design.jobs[0].written, "material": material})]))
    return np.asarray(evaluate(design.with_("as it was measured", **dict(decisions)), draws=DRAWS)[result], float)


def predicted(prediction: Prediction) -> np.ndarray:
    """Low, middling and high as the chain has them today, in SI, from as many draws as always."""

    def drawn(decisions: Mapping[str, str]) -> np.ndarray:
        return _drawn(prediction.result, frozenset(decisions.items()), prediction.material)

    values = drawn(prediction.decisions)
    if prediction.over:  # two tools: the luck of one is not that of the other
        other = drawn({**prediction.decisions, **prediction.over})
        values = values / np.random.default_rng(1).permutation(other)
    return np.quantile(values, _SHARES)
