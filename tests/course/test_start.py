"""The panels of the first chapters: units, where to start from, a name, and the list of jobs."""

import pytest
from classroom import press, words

from lathe_course.course.chapter import open_chapter
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.draft.starting import without_job
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files import design_file as files
from lathe_course.design.jobs import JOB_FIELDS
from lathe_course.design.lathe import LATHE


def now(path):
    return files.load(path, LATHE)


def starting(chapter):
    chapter.start()
    return chapter.last_start


def jobs(chapter):
    chapter.jobs()
    return chapter.last_jobs


def fill(panel, **fields):
    for name, value in fields.items():
        panel.fields[name].value = value


BUSH = {
    "name": "pump bush",
    "material": "brass",
    "diameter": "40 mm",
    "length": "50 mm",
    "tolerance": "25 µm",
    "roughness": "1.6 µm",
    "share": "0.1",
}


# --- units, demo, name ------------------------------------------------------------------------------
def test_inches_change_what_is_shown_and_nothing_that_was_written(design_file):
    before = now(design_file)
    chapter = open_chapter("00")
    starting(chapter).system.value = "inch"
    after = now(design_file)
    assert after.system == "inch"
    assert {name: choice.written for name, choice in after.choices.items()} == {
        name: choice.written for name, choice in before.choices.items()
    }
    assert "5.91 in" in repr(chapter.your_design("swing_over_bed"))  # 150/25.4
    assert "shown in inch" in repr(open_chapter("06"))
    starting(open_chapter("00")).system.value = "mm"
    assert now(design_file).system == "mm"


@pytest.mark.parametrize("name", [name for name in DEMOS if name != "boat_shed"])
def test_another_demo_to_start_from(design_file, name):
    chapter = open_chapter("00")
    chapter.keep("ours", spindle_diameter="44 mm")
    starting(chapter).start.value = name
    after = now(design_file)
    assert after.started_from == name
    assert after["centre_height"] == demo(name)["centre_height"]
    assert after.choices["spindle_diameter"].reason == "ours", "what was decided stays"
    assert after.jobs == demo(name).jobs


def test_ones_own_jobs_stay_when_the_demo_changes(design_file):
    chapter = open_chapter("01")
    panel = jobs(chapter)
    panel.pick.value = ""
    fill(panel, **BUSH)
    press(panel.keep)
    starting(open_chapter("00")).start.value = "cabin"
    assert [job.name for job in now(design_file).jobs] == [*(job.name for job in demo("boat_shed").jobs), "pump bush"]


def test_a_name_for_the_lathe(design_file):
    panel = starting(open_chapter("00"))
    panel.name.value = '  The "long" one  '
    assert now(design_file).name == 'The "long" one'
    panel.name.value = "   "
    assert words(panel.reply).startswith("Not kept.") and "at least one letter" in words(panel.reply)
    assert now(design_file).name == 'The "long" one'
    assert '“The "long" one”' in open_chapter("06")._repr_mimebundle_()["text/html"]


def test_what_cannot_be_kept_is_told(design_file):
    panel = starting(open_chapter("00"))
    design_file.unlink()
    panel.system.value = "inch"
    assert words(panel.reply).startswith("Not kept.") and "there is no such file" in words(panel.reply)


# --- jobs -------------------------------------------------------------------------------------------
def test_a_job_is_added_changed_and_taken_off(design_file):
    chapter = open_chapter("01")
    panel = jobs(chapter)
    panel.pick.value = ""
    assert all(panel.fields[name].value == "" for name in JOB_FIELDS if name != "material")
    fill(panel, **BUSH)
    press(panel.keep)
    assert words(panel.reply) == "Kept: pump bush."
    job = now(design_file).jobs[-1]
    assert (job.name, job.material) == ("pump bush", "brass")
    assert job.diameter == pytest.approx(0.040) and job.tolerance == pytest.approx(25e-6)
    assert "pump bush" in words(panel.list) and panel.pick.value == "pump bush"

    fill(panel, diameter="1 3/4 in")
    press(panel.keep)
    assert [job.diameter for job in now(design_file).jobs if job.name == "pump bush"] == [pytest.approx(0.04445)]
    assert "1 3/4 in" in words(panel.list)

    press(panel.drop)
    assert "pump bush" not in [job.name for job in now(design_file).jobs]
    assert words(panel.reply) == "Taken off the list: pump bush."


def test_picking_a_job_fills_the_form_as_it_was_written(nowhere):
    panel = jobs(open_chapter("01"))
    for job in demo("boat_shed").jobs:
        panel.pick.value = job.name
        assert {name: field.value for name, field in panel.fields.items() if field.value} == dict(job.written)


@pytest.mark.parametrize(
    "field, value, said",
    [
        (
            "diameter",
            "40",
            "job 'pump bush': diameter '40' has no unit; is it '40 mm' (or '40 in')? Write the number with its unit.",
        ),
        ("diameter", "0 mm", "must be more than zero"),
        ("diameter", "-40 mm", "must be more than zero"),
        ("diameter", "", "job 'pump bush': diameter is missing (largest diameter that must turn); for example '75 mm'."),
        ("length", "50 kg", "is a mass (kg), but a length is needed"),
        ("tolerance", "fine", "does not start with a number"),
        ("share", "2", "must be at most 1"),
        ("share", "0.1 mm", "but a plain number is needed"),
        ("smallest", "60 mm", "larger than the largest"),
        ("name", "", "name is missing"),
    ],
)
def test_a_job_that_cannot_be_is_refused_in_words(design_file, field, value, said):
    panel = jobs(open_chapter("01"))
    panel.pick.value = ""
    fill(panel, **BUSH)
    fill(panel, **{field: value})
    before = design_file.read_bytes()
    press(panel.keep)
    reply = words(panel.reply)
    assert reply.startswith("Not kept.") and said in reply
    assert design_file.read_bytes() == before
    assert panel.fields["length"].value, "what was typed still stands there"


def test_all_that_is_wrong_with_a_job_is_told_together(design_file):
    panel = jobs(open_chapter("01"))
    panel.pick.value = ""
    fill(panel, **BUSH)
    fill(panel, diameter="40", length="50 kg", tolerance="fine")
    press(panel.keep)
    assert all(what in words(panel.reply) for what in ("diameter", "length", "tolerance"))


def test_a_material_that_is_not_in_the_table_is_met_with_the_nearest(design_file):
    design_file.write_text(design_file.read_text().replace('material = "bronze"', 'material = "bronce"', 1))
    said = repr(open_chapter("01"))
    assert "'bronce'" in said and "bronze" in said.split("'bronce'")[1] and "line" in said


def test_the_last_job_stays(design_file):
    panel = jobs(open_chapter("01"))
    for job in demo("boat_shed").jobs[1:]:
        panel.pick.value = job.name
        press(panel.drop)
    assert len(now(design_file).jobs) == 1
    press(panel.drop)
    assert "this is the last job" in words(panel.reply)
    assert len(now(design_file).jobs) == 1


def test_a_large_job_is_found_to_be_too_large(design_file):
    chapter = open_chapter("02")
    panel = jobs(chapter)
    panel.pick.value = "flange ring"
    fill(panel, diameter="300 mm")
    press(panel.keep)
    finding = chapter.evaluation.findings["disc_clears_bed"]
    assert finding.status == "fails" and "150 mm turns over the bed" in finding.sentence


def test_a_job_is_text_and_nothing_else(design_file):
    panel = jobs(open_chapter("01"))
    panel.pick.value = ""
    fill(panel, **BUSH | {"name": "<script>x</script>"})
    press(panel.keep)
    assert "<script>x" not in panel.list.value and "&lt;script&gt;" in panel.list.value
    assert "<script>x" not in panel.reply.value


def test_each_job_struck_out(nowhere):
    chapter = open_chapter("01")
    said = chapter.without_each_job()
    design = chapter.session.design
    for job in design.jobs:
        assert job.name in said.plain
    # by hand: without the 120 mm ring the largest disc is gone; the longest job is the shaft of 280 mm
    spared = evaluate(without_job(design, "propeller shaft"))
    assert f"280 mm → {spared.shown('longest_job')}" in said.plain
    assert evaluate(design)["longest_job"] == pytest.approx(0.280)


def test_another_panel_sees_a_changed_list(nowhere):
    chapter = open_chapter("01")
    page, panel = chapter.your_design("longest_job"), jobs(chapter)
    panel.pick.value = "propeller shaft"
    fill(panel, length="450 mm")
    press(panel.keep)
    assert "450 mm" in page.plain
