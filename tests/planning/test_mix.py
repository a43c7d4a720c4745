"""The best mix of ways: against every mix tried by hand, against another method at full size, and at its bounds."""

import itertools

import numpy as np
import pytest
from demo_build import choices, parts_only

from lathe_course.planning.mix import NONE, WEEKS_IN_A_MONTH, Choice, Choices, Wish, best, frontier, soonest
from lathe_course.units import InputProblem

SHED = choices()
SEEDS = range(12)
#: mixes closer than this are alike to the solver, which then looks at what was not wished for
ALIKE = 0.03


def random_choices(seed, parts=5, tools=2):
    """A small case with tools that several parts share, a machine that serves in place of either of two, and costs that do not fall into line."""
    rng = np.random.default_rng(seed)
    made = []
    for part in range(parts):
        for how in range(rng.integers(1, 4)):
            called = tuple(frozenset({f"tool {tool}"}) for tool in range(tools) if rng.random() < 0.3)
            called += (frozenset({"mill", "lathe"}),) if rng.random() < 0.3 else ()
            made.append(
                Choice(
                    f"part {part}",
                    f"way {how}",
                    float(rng.integers(5, 300)),
                    float(rng.integers(1, 60)) / 2,
                    float(rng.integers(1, 9)),
                    called,
                    bool(rng.random() < 0.3),
                )
            )
    for tool in range(tools):
        made += [
            Choice(f"tool {tool}", "bought", float(rng.integers(5, 120)), 0.0, sort="tool"),
            Choice(f"tool {tool}", "found", float(rng.integers(5, 60)), 3.0, 4.0, sort="tool"),
            Choice(f"tool {tool}", NONE, 0.0, 0.0, sort="tool"),
        ]
    for machine in ("mill", "lathe"):
        price = float(rng.integers(100, 300))
        made += [
            Choice(machine, "sold again", price, 4.0, 6.0, back=0.7 * price, sort="machine"),
            Choice(machine, NONE, 0.0, 0.0, sort="machine"),
        ]
    return Choices(tuple(made), 50.0, 9.0)


class Tried:
    """One mix tried out by hand: every part and thing by some way, and every call met."""

    def __init__(self, given, chosen):
        comes = {one.part for one in chosen if one.how != NONE}
        self.possible = all(call & comes for one in chosen for call in one.calls)
        self.money = given.fixed_money + sum(one.money for one in chosen)
        self.cost = self.money - sum(one.back for one in chosen)
        self.hours = given.fixed_hours + sum(one.hours for one in chosen)
        self.weeks = max(one.weeks for one in chosen)
        self.borrowed = sum(one.hours for one in chosen if one.borrowed)

    def months(self, hours, money):
        return max(self.hours / hours, self.money / money, self.weeks / WEEKS_IN_A_MONTH)


def every_mix(given):
    tried = (Tried(given, chosen) for chosen in itertools.product(*given.of_part.values()))
    return [one for one in tried if one.possible]


def inside(mix, wish):
    return mix.money <= wish.most_money and mix.hours <= wish.most_hours and mix.weeks <= wish.most_weeks


# --- against brute force --------------------------------------------------------------------------------
@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize(
    "wish",
    [
        Wish(money=1),
        Wish(hours=1),
        Wish(lead=1),
        Wish(money=1, hours=8),
        Wish(money=1, hours=-6),
        Wish(money=1, hours=3, lead=20),
        Wish(money=1, most_hours=45),
        Wish(hours=1, most_money=600),
        Wish(money=1, most_weeks=4),
    ],
    ids=str,
)
def test_no_mix_is_better_than_the_best(seed, wish):
    given = random_choices(seed)
    allowed = [mix for mix in every_mix(given) if inside(mix, wish)]
    found = best(given, wish)
    if not allowed:
        assert found is None
        return

    def cost(mix):
        return wish.money * mix.cost + wish.hours * mix.hours + wish.lead * mix.weeks

    assert found.proven and inside(found, wish)
    assert cost(found) == pytest.approx(min(map(cost, allowed)), abs=ALIKE)


@pytest.mark.parametrize("company", [4, 15])
def test_hours_in_company_are_worth_what_is_said_of_them(company):
    """Against every mix tried by hand: an hour on a borrowed machine costs what an hour costs, less what company is worth."""
    borrowed = []
    for seed in SEEDS:
        given = random_choices(seed)
        found = best(given, Wish(money=1, hours=8, company=company))
        borrowed.append(found.borrowed_hours - best(given, Wish(money=1, hours=8)).borrowed_hours)
        assert found.cost + 8 * found.hours - company * found.borrowed_hours == pytest.approx(
            min(mix.cost + 8 * mix.hours - company * mix.borrowed for mix in every_mix(given)), abs=ALIKE
        )
    assert min(borrowed) >= 0 < max(borrowed)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("rates", [(20, 120), (5, 400), (200, 30), (60, 500)])
def test_no_mix_is_done_sooner_than_the_soonest(seed, rates):
    given = random_choices(seed)
    found = soonest(given, *rates)
    assert found.months(*rates) == pytest.approx(min(mix.months(*rates) for mix in every_mix(given)), abs=ALIKE)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_frontier_is_the_one_that_trying_everything_finds(seed):
    given = random_choices(seed)
    mixes = every_mix(given)
    wanted = sorted(
        {
            (mix.hours, round(mix.cost, 6))
            for mix in mixes
            if not any(
                other.hours <= mix.hours
                and other.cost <= mix.cost + 1e-9
                and (other.hours, round(other.cost, 6)) != (mix.hours, round(mix.cost, 6))
                for other in mixes
            )
        },
        reverse=True,
    )
    found = [(mix.hours, mix.cost) for mix in frontier(given, step=0)]
    assert len(found) == len(wanted) and np.array(found) == pytest.approx(np.array(wanted))


def test_what_was_not_wished_for_decides_between_mixes_that_are_alike():
    given = Choices(
        (
            Choice("a", "long", 10, 9, 3),
            Choice("a", "short", 10, 2, 3),
            Choice("b", "dear", 50, 1, 1),
            Choice("b", "cheap", 20, 1, 1),
        )
    )
    assert best(given, Wish(money=1)).hows == {"a": "short", "b": "cheap"}
    assert best(given, Wish(hours=1)).hows == {"a": "short", "b": "cheap"}


# --- at full size, by another method ----------------------------------------------------------------------
def dynamic(given, quantum=0.5):
    """Least money for each number of own hours, part by part; exact where hours fall on the grid and no tools are shared."""
    reach = {0: given.fixed_money}
    for ones in given.of_part.values():
        further = {}
        for spent, money in reach.items():
            for one in ones:
                step = spent + round(one.hours / quantum)
                further[step] = min(further.get(step, np.inf), money + one.money)
        reach = further
    return {given.fixed_hours + steps * quantum: money for steps, money in sorted(reach.items())}


def test_the_frontier_of_the_boat_shed_agrees_with_dynamic_programming():
    plain = Choices(
        tuple(Choice(one.part, one.how, one.money, round(one.hours * 2) / 2) for one in parts_only(choices())), 100.0, 99.0
    )
    table = dynamic(plain)
    found = frontier(plain, step=10)
    assert len(found) > 10
    for mix in found:
        assert mix.money == pytest.approx(min(money for hours, money in table.items() if hours <= mix.hours + 1e-9), abs=ALIKE)


def test_each_mix_of_the_frontier_is_better_than_the_last_in_one_thing_and_worse_in_the_other():
    found = frontier(SHED, step=5)
    assert all(mix.proven for mix in found)
    for before, after in itertools.pairwise(found):
        assert after.hours <= before.hours - 5 + 1e-6 or after is found[-1]
        assert after.money > before.money
    assert found[0].money == pytest.approx(best(SHED, Wish(money=1)).money, abs=ALIKE)
    assert found[-1].hours == pytest.approx(best(SHED, Wish(hours=1)).hours, abs=ALIKE)


def test_the_frontier_tells_how_far_it_is():
    told = []
    frontier(SHED, step=40, progress=told.append)
    assert told == sorted(told) and 0 <= told[0] < 0.2 and told[-1] == 1.0 and len(told) > 4


def test_a_bounded_frontier_keeps_its_bounds():
    found = frontier(SHED, step=30, wish=Wish(most_hours=400, most_weeks=5))
    assert found and all(mix.hours <= 400 and mix.weeks <= 5 for mix in found)
    assert frontier(SHED, wish=Wish(most_hours=10)) == ()


def test_a_library_that_talks_past_python_is_not_heard(capfd):
    frontier(SHED, step=3)
    assert capfd.readouterr() == ("", "")


# --- what a mix says ------------------------------------------------------------------------------------------
SAW = (frozenset({"saw"}),)
SAW_FOR_SALE = (Choice("saw", "bought", 40.0, 0.0, sort="tool"), Choice("saw", NONE, 0.0, 0.0, sort="tool"))


def test_a_tool_is_bought_once_for_all_that_call_for_it():
    given = Choices(
        (Choice("a", "x", 10, 1, calls=SAW), Choice("b", "x", 10, 1, calls=SAW), Choice("b", "y", 45, 1), *SAW_FOR_SALE), 5.0, 2.0
    )
    mix = best(given, Wish(money=1))
    assert (
        mix.hows == {"a": "x", "b": "x", "saw": "bought"}
        and mix.money == 5 + 20 + 40
        and mix.hours == 4
        and mix.things == {"saw"}
    )
    assert given.picked({"a": "x", "b": "y"}).money == 5 + 10 + 45 + 40, "what a way calls for comes with it"


def test_a_dear_tool_keeps_its_work_outside():
    given = Choices((Choice("a", "here", 10, 1, calls=SAW), Choice("a", "outside", 45, 0.5), *SAW_FOR_SALE))
    assert best(given, Wish(money=1)).hows == {"a": "outside"}


def test_a_machine_is_bought_where_what_it_saves_is_more_than_what_it_loses():
    """By hand: 300 paid, 240 back, so 60 in the end; two parts cost 20 each on it and 70 and 40 outside."""
    mill = (frozenset({"mill"}),)
    parts = (
        Choice("a", "here", 20, 8, calls=mill),
        Choice("a", "outside", 70, 1),
        Choice("b", "here", 20, 6, calls=mill),
        Choice("b", "outside", 40, 1),
    )
    sale = (Choice("mill", "sold", 300, 5, 8, back=240, sort="machine"), Choice("mill", NONE, 0, 0, sort="machine"))
    mix = best(Choices((*parts, *sale)), Wish(money=1))
    assert mix.hows == {"a": "here", "b": "here", "mill": "sold"} and (mix.money, mix.back, mix.cost, mix.hours, mix.weeks) == (
        340,
        240,
        100,
        19,
        8,
    )
    dearer = best(Choices((*parts, Choice("mill", "sold", 300, 5, 8, back=220, sort="machine"), sale[1])), Wish(money=1))
    assert dearer.hows == {"a": "outside", "b": "outside", "mill": NONE} and dearer.cost == 110, (
        "80 lost, and 70 saved on the parts"
    )
    tight = best(Choices((*parts, *sale)), Wish(money=1, most_money=200))
    assert tight.hows["mill"] == NONE, "money that comes back must still be there first"


def test_months_are_those_of_the_scarcest():
    mix = SHED.picked(best(SHED, Wish(money=1)).hows)
    assert mix.months(1, 1e6) == pytest.approx(mix.hours)
    assert mix.months(1e6, 1) == pytest.approx(mix.money)
    assert mix.months(1e6, 1e6) == pytest.approx(mix.weeks / WEEKS_IN_A_MONTH)


def test_a_mix_chosen_by_name_is_not_called_proven_and_tells_what_is_missing():
    proven = best(SHED, Wish(money=1))
    again = SHED.picked(proven.hows)
    assert not again.proven and again.money == pytest.approx(proven.money)
    assert SHED.picked(best(SHED, Wish(hours=1)).hows).changes(again)["bed plate"][1] == again.hows["bed plate"]
    with pytest.raises(InputProblem) as caught:
        SHED.picked({**proven.hows, "spindle": "make it here"} | {"saddle": "prayed for"})
    assert "the spindle cannot be had 'make it here' here" in str(
        caught.value
    ) and "the saddle cannot be had 'prayed for'" in str(caught.value)
    with pytest.raises(InputProblem, match="no way is chosen for the bed plate"):
        SHED.picked({})
    assert sum(proven.counts().values()) == 44


@pytest.mark.parametrize("rates", [(0, 100), (10, 0), (-5, 100), (float("nan"), 100)])
def test_nothing_a_month_is_refused(rates):
    with pytest.raises(InputProblem, match="nothing ever gets done"):
        soonest(SHED, *rates)


def test_what_comes_in_any_case_is_in_the_sums_though_nobody_chose_it():
    """A tool that cannot be left out, and a part, by their cheapest ways; one that may be left out, and that nothing calls for, not."""
    given = Choices(
        (
            Choice("part", "dear", 20.0, 1.0),
            Choice("part", "cheap", 10.0, 3.0),
            Choice("vice", "bought", 50.0, 0.5, sort="tool"),
            Choice("vice", "found", 30.0, 2.0, sort="tool"),
            Choice("reamer", "bought", 7.0, 0.0, sort="tool"),
            Choice("reamer", NONE, 0.0, 0.0, sort="tool"),
        ),
        100.0,
        5.0,
    )
    nothing = given.mix(())
    assert nothing.money == 100 + 10 + 30 and nothing.hours == 5 + 3 + 2
    assert nothing.hows == {"part": "cheap", "vice": "found"}
    assert given.mix([given.of_part["vice"][0]]).money == 100 + 10 + 50


def test_nothing_to_choose_from_is_refused():
    with pytest.raises(InputProblem, match="no way to choose from"):
        best(Choices(()), Wish(money=1))
    with pytest.raises(ValueError, match="called for, and not to be had: saw"):
        Choices((Choice("a", "x", 1, 1, calls=SAW),))
