"""Changes told from where the design stands: what they come to on three lathes, and on the smallest that can be."""

import pytest

from lathe_course.course import open_chapter
from lathe_course.course.shown.relative import from_here
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem


def put(design, **changes):
    return from_here(design, changes)


# centre heights of the demos as their files have them: 75, 50 and 110 mm
@pytest.mark.parametrize(
    "name, less, more, twice",
    [
        ("boat_shed", "65 mm", "80 mm", "150 mm"),
        ("cabin", "40 mm", "55 mm", "100 mm"),
        ("shared_barn", "100 mm", "115 mm", "220 mm"),
    ],
)
def test_the_same_words_suit_each_lathe(name, less, more, twice):
    design = demo(name)
    assert [put(design, centre_height=words)["centre_height"] for words in ("10 mm less", "5 mm more", "2 times")] == [
        less,
        more,
        twice,
    ]


def test_what_can_be_had_is_proposed_and_always_something_else():
    design = demo("boat_shed")  # a motor of 370 W, in preferred sizes
    assert put(design, motor_power="1.5 times") == {"motor_power": "550 W"}
    assert put(design, motor_power="1 W more") == {"motor_power": "550 W"}, "the next one at least"
    for name, decision in LATHE.decisions.items():
        if decision.numeric and design[name]:
            for words in ("1.5 times", "0.5 times"):
                found = decision.read(put(design, **{name: words})[name])
                if found == design[name]:  # a weight of 5 of 5: there is no more
                    assert found in decision.kind.limits_si, name
                    continue
                assert found != pytest.approx(design[name]) and (found > design[name]) is (words == "1.5 times"), name


def test_a_task_suits_the_smallest_lathe_too():
    tiny = demo("cabin").with_(centre_height="8 mm")
    assert 0 < LATHE.decisions["centre_height"].read(put(tiny, centre_height="10 mm less")["centre_height"]) < 0.008


def test_figures_and_options_stay_as_they_are():
    given = {"centre_height": "65 mm", "tool_material": "carbide", "months_away": "June", "damping": "0.02"}
    assert from_here(demo("boat_shed"), given) == given


@pytest.mark.parametrize("words", ["10 N more", "a bit less", "0 mm more"])
def test_what_cannot_be_read_is_told(words):
    with pytest.raises(InputProblem):
        put(demo("boat_shed"), centre_height=words)


@pytest.mark.parametrize("name", DEMOS)
def test_what_if_and_check_start_from_the_reader_s_own(name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    chapter = open_chapter("02", demo=name)
    tried = chapter.what_if(centre_height="10 mm less")
    here = chapter.evaluation.shown("centre_height")
    assert tried.plain.startswith(f"centre height {here} → ")
    chapter.keep(centre_height="60 mm")
    assert tried.plain.startswith("centre height 60 mm → 50 mm"), "and it follows"
