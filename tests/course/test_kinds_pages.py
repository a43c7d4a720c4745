"""Kinds of nose, toolpost and dividing side by side: each is tried on the design, and told with its verdict."""

import pytest

from lathe_course.course.pages import PAGES
from lathe_course.course.pages.kinds import _KINDS
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.tables import table
from lathe_course.units import InputProblem


@pytest.mark.parametrize("of", _KINDS)
def test_every_kind_is_told_as_the_chain_has_it(of):
    e, asked = evaluate(demo()), _KINDS[of]
    told = PAGES["kinds_compared"](e, of=of).plain
    assert f"{e[of]} (yours)" in told and set(table(asked.rows)) == set(e.chain.decisions[of].options)
    for kind, row in table(asked.rows).items():
        tried = evaluate(e.design.trying(**{of: kind}), earlier=e)
        assert kind in told and row["strong"] in told and row["weak"] in told
        assert all(tried.shown(name) in told for name in asked.figures)


def test_a_verdict_is_given_only_where_it_is_asked():
    bought, made = (PAGES["kinds_compared"](evaluate(demo(name)), of="dividing").plain for name in ("boat_shed", "cabin"))
    assert "not asked" in bought and "not asked" not in made and "fails" in made
    nose = PAGES["kinds_compared"](evaluate(demo()), of="nose_kind").plain
    assert "tight" in nose and "holds" in nose


def test_what_is_not_compared_is_answered_with_what_is():
    with pytest.raises(InputProblem, match="no kinds of 'nose' are compared; .*nose_kind"):
        PAGES["kinds_compared"](evaluate(demo()), of="nose")


def test_of_several_the_first_stands_open_and_the_others_lie_in_folds():
    e = evaluate(demo("boat_shed"))
    one, other = (PAGES["kinds_compared"](e, of=name) for name in ("nose_kind", "collets"))
    both = PAGES["kinds_compared"](e, of=("nose_kind", "collets"))
    assert both.blocks[:-1] == one.blocks and both.blocks[-1].inside == other.blocks and not both.blocks[-1].opened
    assert both.blocks[-1].summary == f"The same for {e.chain.decisions['collets'].label}"
