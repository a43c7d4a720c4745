"""The board: every finding and decision on one line, figures of the chain, and what a moved answer lights up."""

import re

import numpy as np
import pytest
from random_designs import random_design
from tiers import many

from lathe_course.design.asked import board as boards
from lathe_course.design.asked.board import GROUPS, LINES, answers_to_move, board, findings_of_line, line_of, moved
from lathe_course.design.asked.ripple import ripple
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.draft.starting import without_job
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import LATHE
from lathe_course.design.origins import DEMO

DRAWS = 200
BASES = {name: evaluate(demo(name)) for name in DEMOS}


def line(found, key):
    return next(one for one in found.lines if one.rule.key == key)


def test_a_dozen_lines_in_four_groups():
    assert [rule.group for rule in LINES.values()] == sorted((rule.group for rule in LINES.values()), key=GROUPS.index)
    assert set(GROUPS) == {rule.group for rule in LINES.values()} and 12 <= len(LINES) <= 14


def test_every_finding_and_decision_stands_on_one_line():
    told = [name for key in LINES for name in findings_of_line(LATHE, key)]
    assert sorted(told) == sorted(LATHE.limits)
    assert {line_of(LATHE, name) for name in LATHE.decisions} <= set(LINES)
    strange = [
        name for names in boards._NAMED.values() for name in names if name not in LATHE.decisions and name not in LATHE.limits
    ]
    assert strange == [], "named, and not in the chain"
    figures = [name for rule in LINES.values() for name in rule.figures]
    assert not set(figures) & set(LATHE.decisions) and len(figures) == len(set(figures)), "what follows, each once"
    twice = [name for names in boards._NAMED.values() for name in names]
    assert len(twice) == len(set(twice))
    assert sum(board(BASES["cabin"]).counts.values()) == len(LATHE.decisions) == board(BASES["cabin"]).counts[DEMO]


def test_an_answer_to_move_is_shown_on_its_own_line_or_moves_it():
    for key, name in answers_to_move():
        below = LATHE.downstream(name)
        assert name in LINES[key].settled or below & {*LINES[key].figures, *findings_of_line(LATHE, key)}, (key, name)


@pytest.mark.parametrize("number", range(many(6, 60)))
def test_figures_are_those_of_the_chain(number):
    """Each figure with two ends spans the middle four fifths of the chain's own draws; one alone is the chain's value."""
    e = evaluate(random_design(number), DRAWS)
    for one in board(e).lines:
        if one.rule.key == "learned":
            continue
        assert [figure.name for figure in one.figures] == list(one.rule.figures)
        for figure in one.figures:
            part = LATHE.part(figure.name)
            assert figure.label == part.label
            draws = np.atleast_1d(np.asarray(e[figure.name], float))
            ends = [float(end) for end in re.findall(r"[-−]?\d[\d.]*(?:e[-+]?\d+)?", figure.shown.replace("−", "-"))][:2]
            if not np.isfinite(draws).all() or not ends:
                continue
            shown = [end * part.kind.factor for end in ends]
            low, high = np.quantile(draws, (0.1, 0.9))
            slack = 0.06 * max(abs(low), abs(high)) + 1e-12  # two digits
            assert abs(shown[0] - low) <= slack and abs(shown[-1] - high) <= slack, (figure, low, high)
        verdicts = {finding.name: finding.status for finding in one.findings}
        assert verdicts == {name: e.findings[name].status for name in findings_of_line(LATHE, one.rule.key)}
        failing = [name for name, status in verdicts.items() if status == "fails"]
        assert (
            (one.worst is not None and one.worst.name in failing)
            if failing
            else (one.worst is None or one.worst.status == "tight")
        )


@pytest.mark.parametrize("start", DEMOS)
def test_a_moved_answer_lights_what_rests_on_it_and_nothing_else(start):
    base = BASES[start]
    for key, name in answers_to_move():
        decision, here = LATHE.decisions[name], base.design[name]
        values = [v for v in (decision.values() if decision.numeric else decision.options) if v != here]
        value = values[len(values) // 2]
        after = evaluate(base.design.trying(**{name: float(value) if decision.numeric else value}), earlier=base)
        lit = moved(base, after)
        below = LATHE.downstream(name)
        for one in LINES.values():
            names = {*one.figures, *one.settled, *findings_of_line(LATHE, one.key)}
            if one.key in lit:
                assert name in one.settled or below & names or (one.key == "learned" and below), (name, one.key)
        if name in LINES[key].settled and decision.label in {label for label, _ in line(board(after), key).settled}:
            assert any(label == decision.label for label, _, _ in lit[key].settled), name
        told = ripple(base, after)
        for before, then in told.findings:  # whatever verdict turns lights its line
            assert (before.name, then.status) in [(a.name, b.status) for a, b in lit[line_of(LATHE, before.name)].verdicts]
        for one in told.results:  # and whatever figure of the board moves
            for key_of, rule in LINES.items():
                if one.name in rule.figures and one.before != one.after:
                    assert (one.label, one.before, one.after) in lit[key_of].figures


def test_nothing_moved_lights_nothing():
    base = BASES["boat_shed"]
    assert moved(base, base) == {}
    assert moved(base, evaluate(demo("boat_shed").trying(centre_height=base.design["centre_height"]), earlier=base)) == {}


def test_a_job_struck_out_lights_the_jobs():
    base = BASES["boat_shed"]
    after = evaluate(without_job(base.design, "locker knob"), earlier=base)
    assert ("locker knob", "5%", "–") in moved(base, after)["jobs"].settled


def test_a_line_without_a_figure_has_words_to_show():
    for e in BASES.values():
        for one in board(e).lines:
            assert one.figures or one.words, one.rule.key


def test_what_fails_stands_before_what_is_tight():
    for e in BASES.values():
        statuses = [one.status for one in board(e).pressing]
        assert statuses == sorted(statuses, key=("fails", "tight").index)
        assert sorted(one.name for one in board(e).pressing) == sorted(name for name, one in e.findings.items() if one.presses)
