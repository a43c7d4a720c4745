"""Which uncertain figures blur all findings together, so that finding them out settles most."""

from __future__ import annotations

import numpy as np

from ..evaluation import Evaluation

_LEAST = 0.15  # rank correlation below which a figure is not named


def _ranked(values: np.ndarray) -> np.ndarray:
    """Ranks with mean 0 and length 1, so that a product of two is their rank correlation."""
    ranks = np.argsort(np.argsort(values)).astype(float)
    ranks -= ranks.mean()
    return ranks / np.linalg.norm(ranks)


def blurring(evaluation: Evaluation) -> list[tuple[str, float, list[tuple[str, float]]]]:
    """Uncertain figures with how much they blur all verdicts together, the most first, and the findings they blur; needs draws.

    Each finding counts by how open it is (1 at half and half, 0 where it is settled), and a figure
    by the square of its rank correlation with the margin: the share of the blur that is its own.
    """
    chain = evaluation.chain
    margins = chain.margins(evaluation.values_si)
    ranks = {
        name: _ranked(evaluation[name])
        for name in (*chain.figures, *chain.decisions)
        if np.ndim(evaluation[name]) == 1 and len(evaluation[name]) == evaluation.draws and np.ptp(evaluation[name]) > 0
    }
    found: dict[str, list[tuple[str, float]]] = {}
    score: dict[str, float] = {}
    for name, finding in evaluation.findings.items():
        if finding.sure is None:  # open: nothing is asked, or nothing is there yet to be held against it
            continue
        openness = 4 * finding.sure * (1 - finding.sure)
        margin = np.nan_to_num(np.asarray(margins[name], float), nan=-10.0)
        if openness < 0.02 or np.ndim(margin) == 0:
            continue
        its_own, sources = _ranked(margin), chain.upstream(name)
        for source, own in ranks.items():
            if source in sources and abs(weight := float(own @ its_own)) >= _LEAST:
                found.setdefault(source, []).append((name, weight))
                score[source] = score.get(source, 0.0) + openness * weight**2
    return [
        (name, score[name], sorted(found[name], key=lambda one: -abs(one[1])))
        for name in sorted(score, key=score.get, reverse=True)
    ]
