"""The sources a design really leans on."""
from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from ...design.evaluation import Evaluation
from ...sources import KINDS, citations, source_of
from ...tables import table

__all__ = ["sources_used"]


def sources_used(evaluation: Evaluation) -> dict[str, list[tuple[str, int]]]:
    """By standing: title, and in how many places (formulas, figures, limits and rows of tables behind this design)."""
    counted = Counter(source_of(citation) for citation in _cited(evaluation))
    found: dict[str, list[tuple[str, int]]] = {}
    for source in sorted(counted, key=lambda source: (KINDS.index(source.kind), not source.seen, source.title.lower())):
        found.setdefault(source.standing, []).append((source.title, counted[source]))
    return found


def _cited(evaluation: Evaluation) -> Iterator[str]:
    chain, design = evaluation.chain, evaluation.design
    for part in (*chain.results.values(), *(figure for figure in chain.figures.values() if figure.name not in design.figures),
                 *chain.limits.values()):
        for text in (part.source,) if isinstance(part.source, str) else part.source:
            yield from citations(text)
    rows = [("materials", name) for name in sorted({*design.jobs.materials, design["work_material"], design["bed_material"]})]
    rows += [("bearings", design["bearing_kind"]), ("tapers", design["spindle_taper"]), ("tapers", design["tailstock_taper"])]
    for name, row in rows:
        yield from citations(table(name)[row]["source"])
