"""Jobs as they are held: which errors of the machine reach them, in the chain."""

import numpy as np
import pytest

from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.jobs import Jobs
from lathe_course.design.lathe import LATHE
from lathe_course.machine import holding

BOLTED = demo("boat_shed").trying(feet="four feet bolted down").with_(stand_change="10 µm", twist_unevenness="10 %")


def with_jobs(design, **changes):
    """A design whose jobs are written afresh with some fields changed, such as holding="chuck alone"."""
    from dataclasses import replace

    from lathe_course.design.jobs import Job

    return replace(design, jobs=Jobs([Job.read({**job.written, **changes}) for job in design.jobs]))


def of_job(e, name, result):
    return float(e[result][[job.name for job in e.design.jobs].index(name)])


def test_twist_reaches_the_bush_in_the_chuck_and_hardly_the_long_shaft_between_centres():
    e = evaluate(BOLTED)
    # 10 µm over a bed of 120 mm, from foot to foot, the tool 115 mm above the line of twist
    steep = 10e-6 / 0.12 / e["foot_spacing"]
    assert of_job(e, "stern bush", "job_twists") == pytest.approx(2 * 0.115 * steep * 0.090, rel=1e-3)
    assert of_job(e, "propeller shaft", "job_twists") == pytest.approx(0.1 * 2 * 0.115 * steep * 0.280, rel=1e-3)
    assert e["twist_error"] == pytest.approx(of_job(e, "stern bush", "job_twists"))
    # were the shaft held in the chuck, all of it would come out
    assert of_job(evaluate(with_jobs(BOLTED, holding="chuck alone")), "propeller shaft", "job_twists") == pytest.approx(
        2 * 0.115 * steep * 0.280, rel=1e-3
    )


def test_each_holding_of_one_job_leaves_its_own_shape():
    shapes = {
        how: of_job(evaluate(with_jobs(demo("boat_shed"), holding=how)), "rudder pin", "job_shapes") for how in holding.HOLDINGS
    }
    assert shapes["chuck alone"] > 2 * shapes["chuck and centre"]
    assert len({round(shape * 1e9) for shape in shapes.values()}) == 4


def test_a_soft_tailstock_spoils_jobs_at_a_centre_and_no_other():
    soft, stiff = (evaluate(demo("boat_shed").with_(tailstock_link=give)) for give in ("90 µm/kN", "10 µm/kN"))
    for job in soft.design.jobs:
        moved = of_job(soft, job.name, "job_shapes") != pytest.approx(of_job(stiff, job.name, "job_shapes"), rel=1e-9)
        assert moved == (holding.offset_reach(job.holding) > 0 and job.material != "hardwood"), job.name


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("how", holding.HOLDINGS)
def test_no_holding_leaves_a_figure_without_a_number(name, how):
    e = evaluate(with_jobs(demo(name).trying(work_support=how), holding=how), draws=20)
    for one in (
        "twist_share",
        "shape_share",
        "axis_work_limit",
        "level_work_limit",
        "taper_at_class_limit",
        "shape_error",
        "size_error",
        "roundness_error",
    ):
        assert np.all(np.isfinite(e[one])) and np.all(np.asarray(e[one]) >= 0), one
    assert all("nan" not in found.sentence and "inf" not in found.sentence for found in e.findings.values())


def test_between_centres_the_axis_sets_no_limit_and_the_tailstock_does():
    chuck, centres = (
        evaluate(with_jobs(demo("boat_shed").trying(work_support=how), holding=how)) for how in ("chuck alone", "between centres")
    )
    assert centres["axis_work_limit"] == centres["axis_class_limit"] and chuck["axis_work_limit"] < chuck["axis_class_limit"]
    assert (chuck["offset_taper"], centres["axis_taper"]) == (0, 0)
    assert centres["taper_at_class_limit"] == pytest.approx(13e-6 * 60 / 100)
    assert {"job_twists", "job_leans", "job_tapers", "job_shapes", "axis_work_limit", "level_work_limit"} <= LATHE.downstream(
        "jobs"
    )


def test_axis_and_tailstock_at_the_limit_of_their_class_lean_each_job_as_it_is_held():
    """Class "general": the axis 8 µm out in 150 mm, a bar between centres 13 µm in 100 mm.  In a chuck work follows the axis, on both sides; between centres the tailstock."""
    e = evaluate(demo("boat_shed"))
    assert (of_job(e, "stern bush", "job_leans"), of_job(e, "stern bush", "job_tapers")) == (
        pytest.approx(2 * 8e-6 * 90 / 150),
        0,
    )
    assert (of_job(e, "propeller shaft", "job_leans"), of_job(e, "propeller shaft", "job_tapers")) == (
        0,
        pytest.approx(13e-6 * 280 / 100),
    )


def test_a_collet_in_the_taper_holds_small_work_closer_than_the_chuck_and_one_on_the_nose_does_not():
    small = {
        "material": "brass",
        "diameter": "5 mm",
        "smallest": "",
        "length": "12 mm",
        "bar": "",
        "pitch": "",
        "holding": "chuck alone",
    }
    design = with_jobs(demo("cabin"), **small)
    chuck, taper, nose = (
        evaluate(design.trying(collets=one)) for one in ("none", "drawn into the taper", "in a chuck on the nose")
    )
    assert (taper["job_shapes"] < 0.97 * chuck["job_shapes"]).all() and nose["job_shapes"] == pytest.approx(chuck["job_shapes"])
    # 12.1 mm of taper take 6 mm; thicker work stays in the chuck
    thick = {**small, "diameter": "8 mm"}
    chuck, taper = (evaluate(with_jobs(demo("cabin"), **thick).trying(collets=one)) for one in ("none", "drawn into the taper"))
    assert taper["job_shapes"] == pytest.approx(chuck["job_shapes"]) and taper["collet_jobs"] == 0
