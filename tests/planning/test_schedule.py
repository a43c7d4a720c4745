"""Many builds side by side: by hand where it is simple, and against an event-by-event simulation where it is not."""

from dataclasses import replace

import numpy as np
import pytest
from later import Later

from lathe_course.planning.network import Network
from lathe_course.planning.schedule import Calendar, Means, Work, schedule
from lathe_course.units import InputProblem

simpy = Later("simpy")


def work(after: dict, hours, money=0.0, lead=0.0, evenings=0.0, order=None) -> Work:
    network = Network.of(after)
    size = len(network.names)
    return Work(
        network,
        np.asarray(hours, float),
        *(np.broadcast_to(np.asarray(one, float), (size,)) for one in (money, lead, evenings)),
        np.arange(size) if order is None else np.asarray(order),
    )


THREE = {"bed": (), "headstock": ("bed",), "motor": ()}


# --- by hand -------------------------------------------------------------------------------------------
def test_hours_alone_add_up():
    found = schedule(work(THREE, [30, 20, 10]), Means(hours=20, money=100))
    assert found.end == pytest.approx([3.0])
    assert found.done[0] == pytest.approx([1.5, 2.5, 3.0])


def test_what_is_ordered_comes_in_its_own_time_while_the_hands_work_elsewhere():
    found = schedule(work(THREE, [10, 10, 20], lead=[2, 0, 0]), Means(hours=20, money=100))
    assert found.begun[0] == pytest.approx([2.0, 2.5, 0.0]) and found.end == pytest.approx([3.0])


def test_money_must_be_there_before_it_is_spent_and_in_the_order_of_preference():
    found = schedule(work(THREE, [1, 1, 1], money=[300, 100, 50], order=[1, 2, 0]), Means(hours=100, money=100, saved=50))
    assert found.ordered[0] == pytest.approx([3.0, 4.0, 0.0])
    assert found.spent(np.array([0, 2.9, 3, 4]))[0] == pytest.approx([50, 50, 350, 450])


def test_what_costs_nothing_waits_for_no_money_behind_what_is_dear():
    found = schedule(work(THREE, [20, 20, 20], money=[500, 0, 0], order=[0, 1, 2]), Means(hours=20, money=100))
    assert found.ordered[0] == pytest.approx([5.0, 0.0, 0.0]) and found.done[0][2] == pytest.approx(1.0)


def test_months_away_move_the_work_and_not_the_post():
    away = Calendar((1, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1))
    found = schedule(work({"bed": (), "paint": ("bed",)}, [30, 0], lead=[0, 0]), Means(20, 10, calendar=away))
    assert found.end == pytest.approx([2.5])
    later = schedule(work({"bed": ()}, [30]), Means(20, 10, calendar=Calendar(away.share, first=2)))
    assert later.end == pytest.approx([2.5])  # February away first, then a month and a half


def test_a_borrowed_machine_is_there_a_few_hours_a_month():
    found = schedule(work({"bed": (), "rest": ()}, [20, 10], evenings=[1.0, 0.0]), Means(20, 10, borrowed=5.0))
    assert found.done[0] == pytest.approx([4.0, 1.5])  # the hands go on meanwhile


def test_the_longest_stretch_without_anything_done():
    found = schedule(work(THREE, [5, 60, 10]), Means(20, 100))
    assert found.longest_gap() == pytest.approx([3.0])
    assert found.done_by(("bed", "motor")) == pytest.approx([max(found.done[0, 0], found.done[0, 2])])


def test_as_many_builds_as_the_longest_array_and_each_by_itself():
    hours = np.array([[30, 20, 10], [3, 2, 1]])
    found = schedule(work(THREE, hours), Means(hours=np.array([20.0, 10.0]), money=100))
    singles = [schedule(work(THREE, one), Means(rate, 100)).end[0] for one, rate in zip(hours, (20, 10))]
    assert found.end == pytest.approx(singles) and found.end.shape == (2,)


def test_a_few_builds_go_as_they_do_among_many():
    """Plain numbers for a few, arrays for many: two ways to the same months, over all that can hold a build up."""
    chance = np.random.default_rng(7)
    for _ in range(60):
        size = int(chance.integers(1, 25))
        after = {f"task {i}": tuple(f"task {j}" for j in range(i) if chance.random() < 0.15) for i in range(size)}
        # round figures, so that many tasks could begin at the same moment and the order of preference decides
        one = work(
            after,
            np.round(chance.exponential(8, size)) * (chance.random(size) < 0.8),
            money=np.round(chance.exponential(60, size), -1),
            lead=np.round(chance.exponential(1, size)),
            evenings=chance.choice([0.0, 0.5, 1.0], size),
            order=chance.permutation(size),
        )
        means = Means(
            hours=float(chance.choice([0.05, 5, 20])),
            money=100.0,
            saved=200.0,
            borrowed=float(chance.choice([0.5, 6.0])),
            calendar=Calendar(tuple(chance.choice([0.0, 0.5, 1.0], 11)) + (1.0,), int(chance.integers(1, 13))),
        )
        hours = means.hours * np.linspace(1, 2, 50)
        few, among = schedule(one, replace(means, hours=hours[:3])), schedule(one, replace(means, hours=hours))
        for times in ("ordered", "begun", "done"):
            np.testing.assert_allclose(getattr(few, times), getattr(among, times)[:3], rtol=1e-12, err_msg=times)


# --- what can never end ----------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "means, said",
    [
        (Means(hours=0, money=100), "With no hours a month the build never ends"),
        (Means(hours=20, money=0, saved=100), "450 EUR are needed and 100 EUR are saved, with nothing coming in"),
        (Means(hours=20, money=100, borrowed=0), "no hours on one"),
    ],
)
def test_what_can_never_end_is_told(means, said):
    with pytest.raises(InputProblem, match=said):
        schedule(work(THREE, [1, 1, 1], money=[300, 100, 50], evenings=[0, 1, 0]), means)


def test_what_is_done_before_the_money_ends_stays_done():
    """Nearly no money comes in: the bed is built, the rest waits for ever."""
    found = schedule(work(THREE, [30, 20, 10], money=[0, 500, 500]), Means(hours=20, money=1e-9, saved=100))
    assert found.done[0] == pytest.approx([1.5, np.inf, np.inf]) and found.end == pytest.approx([np.inf])


def test_a_year_all_away_is_refused():
    with pytest.raises(InputProblem, match="every month of the calendar is away"):
        Calendar((0,) * 12)
    with pytest.raises(InputProblem, match="twelve shares"):
        Calendar((1, 1))


# --- event by event ----------------------------------------------------------------------------------------
def event_by_event(
    work: Work, hours: float, money: float, saved: float, borrowed: float, share: tuple[float, ...]
) -> dict[str, float]:
    """One build, minute by minute as it were: a process for each order, one for the hands."""
    env = simpy.Environment()
    names, done = work.network.names, {}
    arrived = {name: env.event() for name in names}
    finished = {name: env.event() for name in names}
    purse = simpy.Container(env, init=saved)

    def income():
        while True:
            yield env.timeout(1 / 64)
            yield purse.put(money / 64)

    def deliver(place):
        yield env.timeout(work.lead[place])
        arrived[names[place]].succeed()

    def free_orders():
        for place in range(len(names)):
            if work.money[place] == 0:
                env.process(deliver(place))
        yield env.timeout(0)

    def paid_orders():
        for place in np.argsort(work.order, kind="stable"):
            if work.money[place] > 0:
                yield purse.get(work.money[place])
                env.process(deliver(place))

    def toil(need):
        """Work some hours through the months, month by month."""
        while need > 1e-12:
            month = int(env.now + 1e-9)
            until = month + 1 - env.now
            a_month = hours * share[month % 12]
            if a_month * until >= need:
                yield env.timeout(need / a_month)
                return
            need -= a_month * until
            yield env.timeout(until)

    def machine(name, wait):
        yield env.timeout(wait)
        done[name] = max(env.now, done.get(name, 0.0))
        finished[name].succeed()

    def hands():
        left = set(range(len(names)))
        while left:
            able = [
                place
                for place in left
                if arrived[names[place]].triggered
                and all(finished[names[other]].triggered for other in work.network.before[place])
            ]
            if not able:
                waited = [arrived[names[place]] for place in left] + [one for one in finished.values() if not one.triggered]
                yield env.any_of([one for one in waited if not one.triggered])
                yield env.timeout(0)
                continue
            place = min(able, key=lambda one: work.order[one])
            left.remove(place)
            start = env.now
            yield env.process(toil(work.hours[place]))
            late = (
                start + work.hours[place] * work.evenings[place] / borrowed
                if work.evenings[place] and work.hours[place]
                else env.now
            )
            done[names[place]] = env.now
            if late > env.now + 1e-12:
                env.process(machine(names[place], late - env.now))
            else:
                finished[names[place]].succeed()

    env.process(income())
    env.process(free_orders())
    env.process(paid_orders())
    env.process(hands())
    env.run(until=400)
    return done


def some_build(rng, size=12):
    after = {
        f"t{i}": tuple(f"t{j}" for j in rng.choice(i, min(i, int(rng.integers(0, 3))), replace=False)) if i else ()
        for i in range(size)
    }
    return work(
        after,
        rng.uniform(3, 40, size),
        np.where(rng.random(size) < 0.6, rng.uniform(20, 300, size), 0.0),
        np.where(rng.random(size) < 0.4, rng.uniform(0.3, 3, size), 0.0),
        np.where(rng.random(size) < 0.3, 1.0, 0.0),
        rng.permutation(size),
    )


@pytest.mark.parametrize("seed", range(12))
def test_it_ends_when_an_event_by_event_simulation_ends(seed):
    """Another program, which knows events and not arrays; its purse is filled in steps of a 64th of a month."""
    rng = np.random.default_rng(seed)
    one = some_build(rng)
    share = tuple(rng.choice([0.0, 0.5, 1.0], 12, p=[0.1, 0.2, 0.7]))
    share = share if max(share) else (1.0,) * 12
    means = {
        "hours": rng.uniform(10, 40),
        "money": rng.uniform(60, 250),
        "saved": rng.uniform(0, 300),
        "borrowed": rng.uniform(6, 30),
    }
    events = event_by_event(one, share=share, **means)
    ours = schedule(one, Means(means["hours"], means["money"], means["saved"], means["borrowed"], Calendar(share)))
    assert ours.end[0] == pytest.approx(max(events.values()), abs=0.08)
