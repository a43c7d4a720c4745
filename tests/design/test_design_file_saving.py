"""The design file saved: what has not changed stays as it was written, letter by letter."""

import dataclasses
import tempfile
from pathlib import Path

import pytest
from file_of_small import higher
from hypothesis import given, settings
from hypothesis import strategies as st
from small_chain import SMALL, TEXT, WRITTEN

from lathe_course.design.design import Design
from lathe_course.design.files import file_format
from lathe_course.design.files.design_file import DesignFile, DesignFileProblem, backup_of, load
from lathe_course.design.files.toml_text import decode
from lathe_course.design.jobs import Job, Jobs
from lathe_course.units import InputProblem


# --- saving ----------------------------------------------------------------------------------------
def test_a_save_changes_only_what_changed(path):
    file = DesignFile(path, SMALL)
    design = file.save_change(higher)
    assert design.written() == load(path, SMALL).written()
    assert path.read_text() == TEXT.replace(
        """\
value = "75 mm"          # measured twice
reason = "the largest disc"
decided = 2026-01-31
# older thoughts
earlier = [ { value = "80 mm", reason = "to be safe", decided = "2026-01-10" } ]
""",
        """\
value = "85 mm"          # measured twice
reason = "a larger disc"
decided = "2026-02-03"
# older thoughts
earlier = [
    { value = "80 mm", reason = "to be safe", decided = "2026-01-10" },
    {value = "75 mm", reason = "the largest disc", decided = "2026-01-31"},
]
""",
    )
    assert backup_of(path).read_text() == TEXT


def test_everything_a_design_can_change_comes_back(path):
    def change(design: Design) -> Design:
        design = design.with_(
            centre_height=("70 mm", "75 mm", "80 mm"), motor_power="1/2 hp", bed_form="two bars", efficiency="0.6"
        )
        return dataclasses.replace(
            design.guess("04", 'how "much"?', "plenty").note("floor", "earth\nand gravel"), name="Another", system="inch"
        )

    made = DesignFile(path, SMALL).save_change(change)
    found = load(path, SMALL)
    assert found.written() == made.written()
    assert found["efficiency"] == 0.6 and found.system == "inch" and found.notes["floor"] == "earth\nand gravel"
    assert found["centre_height"] == pytest.approx((0.07, 0.075, 0.08))
    assert "# my lathe; this line is mine" in path.read_text()
    DesignFile(path, SMALL).save_change(lambda design: dataclasses.replace(design, figures={}, notes={}))
    assert load(path, SMALL).figures == {} and load(path, SMALL).notes == {}


def test_jobs_are_changed_added_moved_and_taken_out_with_their_comments(path):
    file = DesignFile(path, SMALL)
    bush, pin = file.read().jobs
    longer = Job.read({**bush.written, "length": "55 mm"})
    knob = Job.read({**pin.written, "name": "knob"})
    for jobs in ([longer, pin], [longer, pin, knob], [knob, longer], [longer]):
        file.save_change(lambda design, jobs=jobs: dataclasses.replace(design, jobs=Jobs(jobs)))
        assert load(path, SMALL).jobs == Jobs(jobs)
        assert "# the first part" in path.read_text() and "# most of the time" in path.read_text()
    with pytest.raises(InputProblem, match="list of jobs is empty"):
        file.save_change(lambda design: dataclasses.replace(design, jobs=Jobs([])))
    assert load(path, SMALL).jobs == Jobs([longer])


def test_jobs_in_one_line_each(path):
    start, end = TEXT.index("[[jobs]]"), TEXT.index("[guesses")
    rows = [", ".join(f'{key} = "{value}"' for key, value in job.items()) for job in WRITTEN["jobs"]]
    path.write_text("jobs = [\n  { " + rows[0] + " }, # first\n  { " + rows[1] + " },\n]\n" + TEXT[:start] + TEXT[end:])
    file = DesignFile(path, SMALL)
    bush, pin = file.read().jobs
    for jobs in ([pin, bush], [Job.read({**pin.written, "length": "9 mm"}), bush], [bush]):
        file.save_change(lambda design, jobs=jobs: dataclasses.replace(design, jobs=Jobs(jobs)))
        assert load(path, SMALL).jobs == Jobs(jobs)


def test_without_a_change_nothing_is_written(path):
    DesignFile(path, SMALL).save_change(lambda design: design)
    assert path.read_text() == TEXT and not backup_of(path).exists()


def test_a_change_that_fails_leaves_the_file(path):
    with pytest.raises(InputProblem, match="no unit"):
        DesignFile(path, SMALL).save_change(lambda design: design.with_(centre_height="85"))
    with pytest.raises(InputProblem, match="centre height"):
        DesignFile(path, SMALL).save_change(lambda design: design.trying(centre_height=0.08))
    assert path.read_text() == TEXT and not backup_of(path).exists()


@pytest.mark.parametrize("before", [b"\xef\xbb\xbf", b""])
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_byte_order_mark_and_line_ends_survive(path, before, newline):
    path.write_bytes(before + TEXT.replace("\n", newline).encode())
    file = DesignFile(path, SMALL)
    assert file.read().written() == WRITTEN
    file.save_change(lambda design: higher(design).note("two lines", "one\r\nand two"))
    raw = path.read_bytes()
    assert raw.startswith(before + b"# my lathe")
    assert raw.count(b"\r\n") == (raw.count(b"\n") if newline == "\r\n" else 0) and raw.count(b"\r") == raw.count(b"\r\n")
    assert load(path, SMALL).notes["two lines"] == "one\nand two"


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    st.text(st.characters(exclude_categories=["Cs"]), max_size=40), st.text(st.characters(exclude_categories=["Cs"]), max_size=15)
)
def test_any_text_comes_back(text, key):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "design.toml"
        path.write_text(TEXT, encoding="utf-8")
        file = DesignFile(path, SMALL)
        file.save_change(lambda d: d.with_(centre_height="85 mm", because=text).note(key, text).guess("04", key, text))
        design = load(path, SMALL)
        said = text.replace("\r\n", "\n").replace("\r", "\n")
        assert design.choices["centre_height"].reason == said == design.notes[key] == design.guesses["04"][key]
        file.save_change(lambda d: d.with_(centre_height="86 mm"))
        assert load(path, SMALL).choices["centre_height"].earlier[-1].reason == said


def test_a_text_that_no_file_can_hold_is_refused(path):
    with pytest.raises(DesignFileProblem, match="character that no file can hold"):
        DesignFile(path, SMALL).save_change(lambda design: design.note("a", "half a sign \ud800"))
    assert path.read_text() == TEXT


@pytest.mark.parametrize(
    "old, fresh",
    [
        (
            TEXT[TEXT.index("[decisions.centre_height]") : TEXT.index("[decisions.bed_form]")],
            '[decisions]\ncentre_height.value = "75 mm"\nmotor_power = { value = "0.4 kW", reason = "there" }\n',
        ),
        (
            TEXT[TEXT.index("[decisions.centre_height]") : TEXT.index("[[jobs]]")],
            'decisions.centre_height.value = "75 mm"\ndecisions.motor_power.value = "1 kW"\ndecisions.bed_form = "two bars"\n',
        ),
        (
            TEXT[TEXT.index("[decisions.centre_height]") : TEXT.index("[[jobs]]")],
            'decisions = { centre_height = "75 mm", motor_power = {value = "1 kW"}, bed_form = "two bars" }\n',
        ),
        ('[guesses.03]\nfastest = "400 rpm"\n\n[notes]\nfloor = "stone, level"\n', ""),
        ("[decisions.bed_form]", "[extra]\na = 1\n[decisions.bed_form]"),
        ('value = "75 mm" ', "value = '''75 mm''' "),
    ],
)
def test_other_layouts_are_saved_rightly_or_refused_whole(path, old, fresh):
    assert old in TEXT
    text = TEXT.replace(old, fresh)
    path.write_text(text)
    file = DesignFile(path, SMALL)
    file.read()

    def change(design: Design) -> Design:
        return higher(design).with_(motor_power="2 kW", efficiency=0.5).note("a", "b").guess("03", "c", "d")

    try:
        made = file.save_change(change)
    except DesignFileProblem as problem:
        assert "laid out in a way" in str(problem) and path.read_text() == text
    else:
        assert load(path, SMALL).written() == made.written() == change(Design.from_written(SMALL, decode_known(text))).written()


def decode_known(text: str) -> dict:
    return file_format.sift(decode(text.encode()).plain, SMALL).known
