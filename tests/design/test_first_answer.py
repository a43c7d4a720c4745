"""The first answer covers what the finished plan tells, and narrows with what is settled."""

import functools

import numpy as np
import pytest
from tiers import many, short_of
from wishes import wish

from lathe_course.design.demos import demo
from lathe_course.design.draft.first_answer import FIGURES, first_answer, unsettled
from lathe_course.design.draft.first_draft import draft
from lathe_course.design.draft.sizing import written
from lathe_course.design.evaluation import evaluate

#: wishes whose draft is had as it is
NUMBERS = (0, 2, 10, 12)[: many(2, 4)]


@functools.cache
def drafted(number):
    return draft(wish(number)).design


def widths(answer):
    return {name: high / low for name, (low, _, high) in answer.items()}


@pytest.mark.parametrize("number", short_of(NUMBERS, 0))
def test_it_covers_what_the_draft_itself_and_finished_plans_tell(number):
    """Plans finished from the draft: every unsettled size up to a fifth otherwise, all one way in half of them; options and means as they fall."""
    e = evaluate(drafted(number))
    answer = first_answer(e)
    inside = []
    for seed in range(many(6, 20)):
        rng = np.random.default_rng([number, seed])
        lean = rng.uniform(-0.2, 0.2) if seed % 2 else None
        settled = {}
        for name in unsettled(e):
            part = e.chain.decisions[name]
            if part.numeric:
                value = float(e.design[name]) * (1 + (rng.uniform(-0.2, 0.2) if lean is None else lean))
                settled[name] = written(
                    part, max(value, part.low * part.kind.factor) if not getattr(part.kind, "whole", False) else e.design[name]
                )
            elif rng.random() < 0.3:
                settled[name] = str(rng.choice(part.options))
        finished = evaluate(e.design.with_("settled", decided="2026-01-31", **settled))
        inside += [low <= finished[name] <= high for name, (low, _, high) in answer.items()]
    assert np.mean(inside) >= 0.9
    assert all(low <= e[name] <= high for name, (low, _, high) in answer.items())


def test_each_decision_of_ones_own_narrows_it_and_none_widens_it():
    design = drafted(NUMBERS[0])
    before = widths(first_answer(evaluate(design)))
    for name in ("bed_width", "bed_form", "material_prices", "centre_height"):
        design = design.with_("so be it", decided="2026-01-31", **{name: design.choices[name].written})
        after = widths(first_answer(evaluate(design)))
        assert all(after[figure] <= before[figure] * (1 + 1e-9) for figure in FIGURES), name
        assert any(after[figure] < before[figure] * (1 - 1e-6) for figure in FIGURES), name
        before = after


def test_settled_altogether_only_the_draws_are_left():
    design = demo("cabin")
    own = design.with_("mine", decided="2026-01-31", **{name: choice.written for name, choice in design.choices.items()})
    own = own.with_ways(**{one.way.part: one.way.how for one in evaluate(own)["ways_chosen"]})
    for one in evaluate(own)["ways_chosen"]:
        own = own.note(f"way of the {one.way.part}", "so we chose")
    drawn = evaluate(own, 2000)
    for name, (low, middle, high) in first_answer(drawn).items():
        assert np.allclose((low, middle, high), drawn.spread(name)), name
