"""The set of change gears as a learner writes it, and the threads it serves."""

import numpy as np
import pytest

from lathe_course.design.chain.wheel_set import EXAMPLE, Drive, read_wheels, wheels_of
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.jobs import Job, Jobs
from lathe_course.machine.change_gears import ratio_errors
from lathe_course.units import InputProblem


@pytest.mark.parametrize(
    "text, even",
    [
        ("20 25 30", "20, 25, 30"),
        ("60,25;30 and 2 x 40 teeth", "25, 30, 40, 40, 60"),
        ("[20, 25, 30]", "20, 25, 30"),
        ("3×60", "60, 60, 60"),
        ("20 wheels 30\n40", "20, 30, 40"),
        (EXAMPLE, EXAMPLE),
    ],
)
def test_a_set_is_read_however_it_is_written(text, even):
    assert read_wheels(text) == even and read_wheels(even) == even
    assert wheels_of(text) == tuple(map(int, even.split(", ")))


@pytest.mark.parametrize(
    "text, words",
    [
        ("", "the set of change gears has none; 3 are the least"),
        ("20, 40", "has 2; 3 are the least"),
        ("20, 20.5, 30", "'20.5' in the set of change gears is no number of teeth"),
        ("20, many, 30", "'many' in the set"),
        ("12, 20, 30", "a change gear of 12 teeth is hardly to be had; gears have 16 to 127"),
        ("20, 30, 200", "of 200 teeth"),
        ("40 x 20", "has 25 gears"),
        ("-20, 30, 40", "'-20' in the set"),
        (None, "'None' in the set"),
    ],
)
def test_what_is_no_set_is_refused_in_a_sentence(text, words):
    with pytest.raises(InputProblem, match="change gear|the set") as caught:
        read_wheels(text)
    assert words in str(caught.value)


def test_all_that_is_wrong_is_told_at_once():
    with pytest.raises(InputProblem) as caught:
        read_wheels("twenty, 12, 200")
    assert len(caught.value.problems) == 3


def test_a_design_keeps_what_was_written_and_works_with_what_was_meant():
    design = demo().with_(change_wheels="20 40 2x60")
    assert design["change_wheels"] == "20, 40, 60, 60" and design.choices["change_wheels"].written == "20 40 2x60"
    with pytest.raises(InputProblem, match="3 are the least"):
        demo().with_(change_wheels="20")
    assert wheels_of("no wheels at all") == () == wheels_of("12, 999")


def jobs(*pitches):
    common = {
        "name": "pin",
        "material": "mild steel",
        "diameter": "20 mm",
        "length": "60 mm",
        "tolerance": "50 µm",
        "roughness": "3.2 µm",
        "share": "0.5",
    }
    return Jobs(Job.read({**common, "pitch": pitch}) for pitch in pitches)


def with_threads(*pitches, **changes):
    from dataclasses import replace

    return evaluate(replace(demo().trying(**changes), jobs=jobs(*pitches)))


def test_an_inch_thread_on_the_list_is_judged_by_the_nearest_train():
    """18 to the inch on 3 mm: 0.34 per cent with wheels in fives and 63; eight of them come within 0.0125 per cent."""
    worked = with_threads("18 per inch", "8 per inch", "2 mm", "2 mm")
    assert worked["thread_errors"]["pitch"] == pytest.approx([25.4e-3 / 18, 2e-3, 25.4e-3 / 8])
    assert worked["worst_pitch_error"] == pytest.approx(0.00344, abs=2e-5)
    found = worked.findings["threads_can_be_cut"]
    assert found.status == "fails" and "0.344 %" in found.sentence
    assert with_threads("8 per inch").findings["threads_can_be_cut"].status == "holds"


def test_no_thread_on_the_list_asks_for_nothing():
    worked = with_threads("0 mm")
    assert worked["worst_pitch_error"] == 0 and worked["thread_errors"]["pitch"].size == 0
    assert worked.findings["threads_can_be_cut"].sentence.startswith("No thread is on the list.")


def test_a_leadscrew_that_no_train_reaches_stands_still():
    worked = with_threads("2 mm", gear_centres=0.2)
    assert worked["worst_pitch_error"] == 1 and worked["cut_pitch"] == 0 and worked["practice_error"] == -1
    assert worked.findings["threads_can_be_cut"].status == worked.findings["thread_enters_nut"].status == "fails"


@pytest.mark.parametrize("name", ["boat_shed", "cabin", "shared_barn"])
def test_the_drive_of_a_design_is_what_the_chain_works_with(name):
    worked = evaluate(demo(name))
    drive = Drive.of(worked.middle)
    wanted = drive.ratio(worked["practice_pitch"])
    assert wanted == worked["wanted_ratio"]
    place = drive.place
    error = ratio_errors(drive.teeth, place.module, place.centres, place.reach, place.shaft, wanted)
    assert worked["practice_error"] == pytest.approx(error, abs=1e-12) and np.isclose(
        worked["nearest_ratio"], wanted * (1 + error)
    )
