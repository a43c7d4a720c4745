"""The list of jobs: what a learner writes of a part, and what the chain gets of it."""

import numpy as np
import pytest
from small_chain import WRITTEN

from lathe_course.design.jobs import JOB_FIELDS, Job, Jobs
from lathe_course.units import InputProblem, Length, quantity

BUSH, PIN = WRITTEN["jobs"]


def complaints(**changes) -> list[tuple[str, str]]:
    with pytest.raises(InputProblem) as caught:
        Job.read({key: value for key, value in {**BUSH, **changes}.items() if value is not None})
    return caught.value.problems


def test_a_job_is_read_into_si():
    job = Job.read(PIN)
    assert (job.name, job.material) == ("pin", "mild steel")
    assert [job.diameter, job.smallest, job.length, job.tolerance, job.roughness, job.share] == pytest.approx(
        [0.012, 0.008, 0.06, 40e-6, 3.2e-6, 0.25]
    )
    assert job.written == PIN


def test_what_may_be_left_out():
    job = Job.read(BUSH)
    assert job.bar == job.pitch == 0
    assert job.smallest == job.diameter == pytest.approx(0.04)
    assert Job.read({**BUSH, "bar": "", "smallest": ""}) != job  # it was written differently ...
    assert Job.read({**BUSH, "bar": ""}).bar == 0  # ... and means the same


@pytest.mark.parametrize("field", [field for field in JOB_FIELDS if field not in ("bar", "pitch", "smallest", "holding")])
def test_what_may_not_be_left_out(field):
    for gone in (None, ""):
        problems = complaints(**{field: gone})
        assert [name for name, _ in problems] == [field]
        assert "missing" in problems[0][1] and JOB_FIELDS[field][1] in problems[0][1]


def test_a_holding_is_proposed_by_length_over_diameter_and_a_written_one_counts():
    assert (Job.read(PIN).holding, Job.read(PIN).holding_proposed) == ("chuck and centre", True)  # 60 mm of 12
    written = Job.read({**PIN, "holding": "between centres"})
    assert (written.holding, written.holding_proposed) == ("between centres", False)
    assert "did you mean between centres" in complaints(holding="between centers")[0][1]
    assert "choose one of" in complaints(holding="glue")[0][1]


def test_inches_and_quantities_are_read():
    assert Job.read({**BUSH, "diameter": "1 1/2 in"}).diameter == pytest.approx(0.0381)
    assert Job.read({**BUSH, "diameter": quantity(0.04, Length("mm"))}).diameter == pytest.approx(0.04)


def test_all_that_is_wrong_is_told_together_with_the_jobs_name():
    problems = complaints(
        diameter="40",
        length="-5 mm",
        tolerance="20 kg",
        roughness="rough",
        pitch="-1 mm",
        share="120 %",
        material="bronce",
        colour="red",
    )
    assert [name for name, _ in problems] == [
        "colour",
        "diameter",
        "length",
        "tolerance",
        "roughness",
        "pitch",
        "share",
        "material",
    ]
    assert all("job 'bush'" in sentence for _, sentence in problems)
    said = dict(problems)
    assert "fields are name, material" in said["colour"] and "no unit" in said["diameter"] and "bronze" in said["material"]
    assert "at most 1" in said["share"] and "more than zero" in said["length"]


def test_one_figure_is_not_a_list():
    for field, given in (
        ("share", [0.1, 0.2]),
        ("smallest", ["8 mm", "9 mm"]),
        ("diameter", quantity(np.array([0.1, 0.2]), Length("mm"))),
    ):
        assert [(name, "one figure is needed" in sentence) for name, sentence in complaints(**{field: given})] == [(field, True)]


def test_smallest_and_largest_exchanged():
    assert complaints(smallest="50 mm")[0][0] == "smallest"
    assert Job.read({**BUSH, "smallest": "40 mm"}).smallest == pytest.approx(0.04)
    assert Job.read({**BUSH, "smallest": "4 cm"}).smallest == pytest.approx(0.04)


def test_a_disc_is_thinner_than_half_its_width():
    assert Job.read({**BUSH, "length": "19 mm"}).is_disc
    assert not Job.read({**BUSH, "length": "21 mm"}).is_disc


def test_columns():
    jobs = Jobs([Job.read(BUSH), Job.read({**PIN, "length": "5 mm"})])
    np.testing.assert_allclose(jobs.column("diameter"), [0.04, 0.012])
    np.testing.assert_allclose(jobs.column("smallest"), [0.04, 0.008])
    assert jobs.discs.tolist() == [False, True]
    assert Jobs([*jobs, jobs[0]]).materials == ("bronze", "mild steel")
    assert Jobs().column("share").shape == (0,) and Jobs().discs.dtype == bool
    with pytest.raises(KeyError):
        jobs.column("material")


def test_jobs_are_the_same_if_they_say_the_same():
    assert Jobs([Job.read(BUSH)]) == Jobs([Job.read(dict(BUSH))])
    assert Jobs([Job.read(BUSH)]) != Jobs([Job.read({**BUSH, "length": "51 mm"})])


def test_a_bar_that_turns_is_no_thicker_than_the_largest_diameter():
    assert Job.read({**BUSH, "bar": BUSH["diameter"]}).bar == pytest.approx(0.04)
    ((name, said),) = complaints(bar="41 mm")
    assert name == "bar" and "thicker than the largest diameter that must turn" in said
