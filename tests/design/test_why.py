"""Why a result is what it is: the tree behind it."""

import re

import pytest
from tiers import short_of
from toys import chain, decision, design_on, figure, named

from lathe_course.design.asked.why import Why, account, why
from lathe_course.design.chain.entries import node
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import LATHE
from lathe_course.machine.forces import chip_thickness
from lathe_course.units import InputProblem

KINDLESS = {name for name, part in LATHE.results.items() if part.kind is None}


def nodes(part: Why):
    yield part
    for one in part.behind:
        yield from nodes(one)


@pytest.fixture(scope="module", params=short_of(DEMOS, "boat_shed"))
def worked(request):
    return evaluate(demo(request.param))


@pytest.mark.parametrize("third", short_of(range(3), 0))
def test_the_tree_behind_a_result_ends_in_decisions_and_figures_and_holds_all_above_it(worked, third):
    """Behind each third result in every run, behind the others on the long walk."""
    for name in [*LATHE.results][third::3]:
        tree = list(nodes(why(worked, name)))
        assert all(part.sort in ("decision", "figure") for part in tree if not part.behind), name
        assert {part.name for part in tree} == LATHE.upstream(name) | {name}
        for part in tree:
            assert part.label and bool(part.shown) == (part.name not in KINDLESS), (name, part.name)
            assert part.sort != "figure" or part.source, (name, part.name)
            assert part.sort != "result" or part.explanation, (name, part.name)


def test_every_result_can_be_accounted_for(worked):
    """As LaTeX and as plain text, with what it rests on; a result that is a formula comes to its value."""
    for name, result in LATHE.results.items():
        told = account(worked, name)
        if result.formula is not None:
            assert told.result == pytest.approx(worked[name])
        else:
            assert len(told.fed) == len(set(told.fed)) and set(map(len, told.fed)) != {0} and result.label in str(told)
        for text in (str(told), told._repr_markdown_()):
            assert not set(re.findall(r"\bnan\b|np\.|array\(|<[a-z]+ |\{'", text)), (name, text)


def test_what_is_decided_or_looked_up_has_no_account():
    for name, how in (("centre_height", "decided"), ("steel_expansion", "looked up")):
        with pytest.raises(InputProblem, match=f"is {how}, not worked out"):
            account(evaluate(demo()), name)


def test_the_outline_shows_each_thing_once_with_its_value_and_who_settled_it():
    lines = str(why(evaluate(demo()), "machine_length")).split("\n")
    assert lines[0].startswith("length of the whole machine = 900 mm: The bed, and in proportion")
    assert any(line.lstrip().startswith("between centres = 300 mm: ") and "the longest shaft is 280 mm" in line for line in lines)
    assert any(
        line.startswith("  machine length beyond the bed, in centre heights = 3.5: a figure, common practice") for line in lines
    )
    whole = str(why(evaluate(demo()), "size_error"))
    assert "{" not in whole and "np." not in whole and "_" not in whole and "nan" not in whole
    opened = [line for line in whole.split("\n") if line.lstrip().startswith("section of the bed:")]
    assert len(opened) > 1 and sum("(see above)" not in line for line in opened) == 1


def test_a_figure_that_is_looked_up_opens_to_what_it_is_looked_up_by():
    tree = why(evaluate(demo()), "used_price")
    assert {"centre_height", "between_centres"} <= {part.name for part in nodes(tree)}


def test_a_figure_of_the_learners_own_comes_from_nowhere_else():
    own = demo().with_(used_price="700 EUR")
    part = next(part for part in nodes(why(evaluate(own), "used_total")) if part.name == "used_price")
    assert part.behind == () and part.source == "your own" and part.shown == "700 EUR"


def test_a_learners_reason_is_told():
    own = demo().with_(because="a friend has one over", motor_power="550 W", decided="2020-02-02")
    assert "motor power = 550 W: you decided: a friend has one over" in str(why(evaluate(own), "spindle_power"))


def test_the_tree_can_be_cut_short():
    tree = why(evaluate(demo()), "size_error", depth=1)
    assert tree.behind and all(not part.behind for part in tree.behind)
    assert why(evaluate(demo()), "size_error", depth=0).behind == ()


def test_an_input_held_at_one_value_is_no_branch():
    graph = chain(
        decision("feed"),
        figure("share", 1, 2, 3),
        node(chip_thickness, "01", fixed={"entering_angle": 30.0}),
        named("most", lambda chip_thickness, share: chip_thickness * share),
    )
    tree = why(evaluate(design_on(graph, feed=0.0002)), "most")
    assert [part.name for part in tree.behind] == ["chip_thickness", "share"] and [
        part.name for part in tree.behind[0].behind
    ] == ["feed"]


def test_the_jobs_are_a_leaf():
    tree = why(evaluate(demo()), "largest_shaft")
    # wood on a rest of the bed need only clear the bed
    assert sorted((part.label, part.shown, part.sort) for part in tree.behind) == [
        ("list of jobs", "6 entries", "decision"),
        ("rest for tools held by hand", "in the toolpost", "decision"),
    ]


def test_what_comes_from_the_log_says_so():
    from lathe_course.design.files.progress_log import invented_log

    log = invented_log()
    assert f"log of the build = {len(log)} lines: a figure, what you wrote down" in str(
        why(evaluate(demo().with_log(log)), "hours_worked")
    )
