"""The twelve answers: asked, read, kept, taken back."""

import pytest
from cases import every

from lathe_course.design.at_hand import MACHINES, machines_at_hand, read_machines
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.design import Design
from lathe_course.design.draft.first_draft import draft
from lathe_course.design.draft.wish import ANSWERS, CHARACTERS, COMMON_JOBS, GROUPS, Wish, answered, common_job, taken, wish_of
from lathe_course.design.evaluation import evaluate
from lathe_course.design.jobs import Job, Jobs
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem


def test_there_are_twelve_answers_and_each_has_a_question_an_example_and_a_word_for_not_knowing():
    assert len(GROUPS) == 12
    assert list(dict.fromkeys(one.group for one in ANSWERS.values())) == list(GROUPS)
    for name, one in ANSWERS.items():
        assert one.name == name and one.question.endswith(("?", ".", ")")) and one.example and one.unknown.endswith("."), name
        assert (name in LATHE.decisions) == one.decision, name


@every("name", ANSWERS)
def test_the_example_of_each_answer_is_taken(name):
    one = ANSWERS[name]
    if name != "jobs":
        assert Wish().with_(**{name: one.example}).known(name)
    if one.stands_for and one.decision:
        LATHE.decisions[name].read(one.stands_for)


@every("name", COMMON_JOBS)
def test_every_common_part_is_a_job(name):
    for size in ("", "30 mm", "2 in"):
        job = Job.read(common_job(name, size))
        assert job.smallest <= job.diameter and job.bar <= job.diameter


@every("name", MACHINES)
def test_every_tick_is_a_machine_with_its_size(name):
    one = MACHINES[name]
    (machine,) = read_machines(f"{name} {one.size_example}".strip())
    assert machine.name == name and read_machines(name)[0].can == machine.can
    assert "{" not in machine.can


def test_the_size_that_is_written_is_what_the_machine_can_do():
    (mill,) = read_machines("mill 500 x 150 mm")
    assert "milling 500 x 150 mm" in mill.can
    assert "milling 508 x 152.4 mm" in read_machines("mill 20 x 6 in")[0].can


@every(
    "said, sentence",
    [("bench dril 13 mm", "bench drill"), ("mill 300 mm", "mill 300 x 120 mm"), ("mill big", "mill 300 x 120 mm")],
)
def test_a_machine_that_cannot_be_read_is_told(said, sentence):
    with pytest.raises(InputProblem, match=sentence):
        Wish().with_(machines=said)


@every(
    "name, said, sentence",
    [
        ("hours_can", "0 h/month", "no hours a month no lathe is built"),
        ("money_can", "0", "no money a month"),
        ("hours_can", "much", "hours"),
        ("home", "afloat", "settled"),
        ("builders", "0", "Somebody must build it"),
        ("patience", "0 months", "one that is bought"),
        ("character", "poor", "none of the answers"),
        ("moneycan", "3", "no answer called"),
    ],
)
def test_bad_answers_are_told_in_a_sentence(name, said, sentence):
    with pytest.raises(InputProblem, match=sentence):
        Wish().with_(**{name: said})
    with pytest.raises(InputProblem, match=sentence):
        answered(demo(), {name: said})


def test_all_that_is_wrong_is_told_together():
    with pytest.raises(InputProblem) as told:
        Wish().with_(hours_can="0 h/month", home="afloat")
    assert len(told.value.problems) == 2


def test_answers_are_kept_once_as_decisions_or_words_and_come_back_from_the_file():
    given = {
        "hours_can": "12 h/month",
        "machines": "hand tools + bench drill 13 mm",
        "gives_way": "the garden",
        "character": "I need the parts",
    }
    design = answered(demo(), given, [common_job("bush", "40 mm")])
    back = Design.from_written(LATHE, design.written())
    for one in (design, back):
        wish = wish_of(one)
        assert wish.answers == {**CHARACTERS["I need the parts"], **given}
        assert [job.name for job in wish.jobs] == ["bush"]
        assert one.building.shop.machines == ("hand tools", "bench drill")
        assert set(one.wish) == {"gives_way", "machines", "character"}  # what is a decision is not kept twice
    own = answered(design, {"reason_saving": "4"})
    assert (
        "character" not in own.wish and own.choices["reason_saving"].written == "4" and own.choices["reason_parts"].written == "5"
    )


def test_sums_may_stand_in_ones_own_money():
    wish = Wish().with_(currency="SEK: bar 230, hour 700", money_can="900 SEK/month")
    said = taken(wish)
    design = answered(demo(), wish.answers)
    assert said["money_should"][0].endswith("EUR/month") and wish_of(design).answers == dict(wish.answers)
    assert 0.75 < float(said["money_should"][0].split()[0]) / design["money_can"] < 0.85


def test_the_last_job_stays():
    with pytest.raises(InputProblem, match="last job"):
        answered(demo(), {}, [])


def test_an_answer_taken_back_is_free_again_and_not_lost():
    kept = answered(demo(), {"hours_can": "12 h/month", "gives_way": "the garden"})
    back = answered(kept, {"hours_can": "", "gives_way": ""})
    assert not wish_of(back).answers and back.origin("hours_can") == "draft"
    assert [old.written for old in back.choices["hours_can"].earlier][-1] == "12 h/month"


def test_a_demo_answers_only_when_it_is_asked_to():
    for name in DEMOS:
        assert not wish_of(demo(name)).answers and not wish_of(demo(name)).jobs
        assert wish_of(demo(name), borrowed=True).jobs == demo(name).jobs
        assert wish_of(demo(name), borrowed=True).answers["home"] == demo(name)["home"]


def test_what_is_not_known_is_said_so_and_should_follows_can():
    said = taken(Wish().with_(hours_can="20 h/month"))
    assert said["hours_should"][0] == "16 h/month" and "hours_can" not in said
    assert all(why.startswith("not known yet") for _, why in said.values())


def test_machines_of_a_wish_take_the_place_of_the_shop_of_a_demo():
    design = answered(demo(), {"machines": "hand tools"})
    assert design.building.shop.machines == ("hand tools",) and demo().building.shop.machines != ("hand tools",)
    assert machines_at_hand("hand tools") is machines_at_hand("hand tools")
    written = design.written()
    written["wish"]["machines"] = "anvil of gold"
    with pytest.raises(InputProblem, match="anvil of gold"):
        Design.from_written(LATHE, written)


# --- the machines at hand: ticked here, told in chapter 01 --------------------------------------------------
def machines_of(design):
    return [one.name for one in design.building.machines if one.whose != "for sale"]


def test_machines_ticked_after_a_draft_are_those_that_chapter_01_and_the_board_tell():
    drafted = draft(Wish(jobs=Jobs([Job.read(common_job("bush", "40 mm"))]))).design
    ticked = answered(drafted, {"machines": "hand tools + mill 300 x 120 mm"})
    assert ticked["at_hand"] == "hand tools + mill 300 x 120 mm" and machines_of(ticked) == ["hand tools", "mill"]
    own = answered(ticked.with_(at_hand="hand tools + bench drill 16 mm"), {"machines": "hand tools"})
    assert own["at_hand"] == "hand tools" and machines_of(own) == ["hand tools"]


def test_a_machine_lost_in_chapter_01_is_lost_for_the_parts():
    ticked = answered(demo(), {"machines": "hand tools + mill 300 x 120 mm"})
    lost = ticked.with_(at_hand="hand tools")
    assert machines_of(lost) == ["hand tools"] and wish_of(lost).answers["machines"] == "hand tools"
    e = evaluate(lost)
    assert e["cash_total"] != evaluate(ticked)["cash_total"] and not [one for one in e.doubts(["at_hand"]) if "ticked" in one]


def test_words_from_which_no_machine_can_be_read_say_so():
    ticked = answered(demo(), {"machines": "hand tools + mill 300 x 120 mm"})
    said = evaluate(ticked.with_(at_hand="my uncle's old mill")).doubts(["at_hand"])
    assert len(said) == 1 and "what was ticked counts (hand tools + mill 300 x 120 mm)" in said[0] and "uncle" in said[0]
    assert machines_of(ticked.with_(at_hand="my uncle's old mill")) == ["hand tools", "mill"]
    assert evaluate(ticked).doubts(["at_hand"]) == [] == evaluate(demo()).doubts(["at_hand"])
