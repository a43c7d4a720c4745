"""Our figures beside measurements that others have published: each stands as it was first told."""

import numpy as np
import pytest
from cases import every

from lathe_course.design.asked.predictions import first_told, kind_of, predicted
from lathe_course.evidence.measured import GROUPS, measured, predictions
from lathe_course.sources import source_of
from lathe_course.tables import table
from lathe_course.units import read

PREDICTIONS, MEASURED = predictions(), measured()


@every("id", PREDICTIONS)
def test_the_chain_says_what_was_first_told_or_the_file_says_why_not(id):
    one = PREDICTIONS[id]
    low, middle, high = first = first_told(one)
    assert low < middle < high and one.group in GROUPS and one.assumed
    same = np.allclose(predicted(one), first, rtol=0.01)  # told to three figures
    assert same != bool(one.since), (
        f"{id}: first told {one.first}; today {predicted(one)} in SI; say in `since` why it moved, and only then"
    )


def test_no_two_are_the_same_question():
    asked = [
        (one.result, *sorted(one.decisions.items()), one.material) for one in PREDICTIONS.values() if one.group == "cutting force"
    ]
    assert len(asked) == len(set(asked))


@every("id", PREDICTIONS)
def test_each_stands_beside_a_figure_that_was_read_and_a_miss_is_explained(id):
    ours, theirs = PREDICTIONS[id], MEASURED[id]
    assert source_of(theirs.source).seen and "," in theirs.source, f"{id}: say where the figure was read"
    low, _, high = first_told(ours)
    holds = low <= read(theirs.figure, kind_of(ours), id) <= high
    assert holds != bool(theirs.why), (
        f"{id}: measured {theirs.figure}, first told {ours.first}; a miss is explained, and nothing else"
    )


def test_two_tools_have_luck_of_their_own():
    """Worn over sharp against two tables of triangles drawn apart from each other."""
    worn = next(one for one in PREDICTIONS.values() if one.over and one.decisions["edge_state"] == "worn")
    draw = np.random.default_rng(7).triangular
    rows = (table("tool_conditions")[name]["factor"] for name in ("carbide, worn", "carbide, sharp, about 100 m/min"))
    above, below = (draw(*row, size=200_000) for row in rows)
    assert predicted(worn) == pytest.approx(np.quantile(above / below, [0.1, 0.5, 0.9]), rel=0.01)


def test_nothing_measured_is_left_over():
    assert set(MEASURED) == set(PREDICTIONS)
