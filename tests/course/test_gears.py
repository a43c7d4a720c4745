"""What the course tells and draws of change wheels, against the search itself."""

from dataclasses import replace

import numpy as np
import pytest
from matplotlib.patches import Polygon

from lathe_course.course import open_chapter
from lathe_course.course.pages import PAGES
from lathe_course.course.pictures import PICTURES
from lathe_course.course.pictures.gears import pitch_said
from lathe_course.course.pictures.style import Canvas
from lathe_course.design.chain.wheel_set import Drive
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.machine.change_gears import ranked
from lathe_course.units import InputProblem


def told(page, system="mm", start="boat_shed", changes=None, **asked):
    return PAGES[page](evaluate(replace(demo(start).trying(**(changes or {})), system=system)), **asked).plain


@pytest.mark.parametrize("pitch, wheels", [("1.25 mm", "25/60 with 45 between"), ("3 mm", "50/25 × 30/60")])
def test_a_pitch_that_can_be_cut_exactly_heads_its_list(pitch, wheels):
    lines = told("trains", pitch=pitch).split("\n")
    assert lines[2].startswith(wheels) and " exact " in lines[2] and lines[2].endswith("yes")
    assert f"{wheels} cuts it exactly" in lines[-2]


def test_a_pitch_that_no_train_reaches_is_told_with_what_it_means_in_a_nut():
    """18 to the inch on 3 mm with wheels in fives and 63: 0.34 per cent fine; over 8 mm 28 µm, on the flanks 48 µm."""
    said = told("trains", pitch="18 per inch")
    assert (
        "0.34 % fine. Over a nut of 8 mm it drifts by 28 µm" in said
        and "uses up 48 µm of the play" in said
        and "only 31 µm" in said
    )
    assert "no: the wheels are too small to span from shaft to shaft" in said and "right-hand thread" in said


def test_a_pitch_far_from_all_trains_is_another_thread_and_told_with_what_would_help():
    """0.1 mm with wheels of 20 to 63 on 3 mm: the nearest cuts 0.397 mm, 297 per cent coarse; 80 turns in 8 mm, 240 of them lost."""
    said = told("trains", pitch="0.1 mm")
    assert (
        "No train of this set cuts this pitch." in said
        and "cuts 0.3968 mm" in said
        and "with its 80 turns it drifts by 240 turns" in said
    )
    assert "a leadscrew of finer pitch" in said and "of coarser pitch" in told("trains", pitch="25 mm")


def test_the_sums_of_the_best_train_stand_beside_it():
    """25/60 through 45 with wheels of module 1: 25 + 45 and 45 + 60 teeth are 35 mm and 52.5 mm from shaft to shaft."""
    said = told("trains", pitch="1.25 mm")
    assert "u = (25 · 1)/(60 · 1) = 0.417" in said and "P_c = 0.417 · 1 · 3 mm = 1.25 mm/rev" in said
    assert "(25 + 45) = 35 mm" in said and "(45 + 60) = 52.5 mm" in said
    assert "(45 + 40) = 42.5 mm" in told("trains", pitch="18 per inch") and "The sums of" not in told(
        "trains", changes={"gear_centres": 0.2}
    )


def test_the_list_is_the_head_of_the_whole_ranking():
    e = evaluate(demo())
    drive = Drive.of(e.middle)
    _, errors, _ = ranked(drive.teeth, drive.place, float(drive.ratio(25.4e-3 / 11)))
    first = np.unique(np.abs(errors))[:5]
    lines = told("trains", pitch="11 per inch").split("\n")[2:7]
    assert [float(line.split(" % ")[0].rsplit("  ", 1)[1]) for line in lines] == pytest.approx(100 * first, rel=0.06)


def test_a_leadscrew_out_of_reach_is_told_and_not_drawn():
    far = {"gear_centres": 0.2}
    assert "No train can be put on: the leadscrew is 200 mm from the first driver" in told("trains", changes=far)
    assert "none can be put on" in told("job_threads", changes=far)
    assert "none can be put on" in told("wheels_cut", changes=far)
    e = evaluate(demo().trying(**far))
    assert "No train of your wheels spans from shaft to shaft" in PICTURES["gear_train"].describe(e)


def test_the_threads_of_the_list_and_the_wheel_that_would_help():
    assert "No wheel more is needed." in told("job_threads")
    assert "and 1.05 mm further while a hand sees the mark" in told(
        "job_threads"
    ) and "of 63 teeth, is 65 mm over its teeth" in told("job_threads")
    cabin = told("job_threads", start="cabin")
    assert (
        "\nNo thread on your list is cut with a single point." in cabin
        and "give 0.333 mm/rev" in cabin
        and "sees the mark" not in cabin
    )
    barn = told("job_threads", start="shared_barn")
    assert "if it had 127 teeth: it brings 2 of the 2 that miss" in barn and barn.count("short nuts only") == 2


def test_whole_rows_of_threads():
    inch, metric = told("wheels_cut"), told("wheels_cut", series="metric")
    assert "1.411 mm (18 per inch)" in inch and "0.34 % fine" in inch and "6 of 15 come within" in inch
    assert "13 of 14 come within" in metric and "brings the one that misses" in metric
    assert "18 per inch " in told("wheels_cut", system="inch") and "mm" not in told("wheels_cut", system="inch").split("\n")[3]


def test_the_sheet_of_a_thread_gives_the_reading_over_wires():
    """M10 6g: pitch diameter 8.862 to 8.994 mm; with best wires 1.299 mm more is read."""
    assert "reads between 10.16 mm and 10.293 mm" in told("job_threads")


def test_pitches_are_named_as_their_reader_knows_them():
    mm, inch = (evaluate(replace(demo(), system=system)) for system in ("mm", "inch"))
    assert pitch_said(mm, 1.25e-3) == "1.25 mm" and pitch_said(mm, 25.4e-3 / 8) == "3.175 mm (8 per inch)"
    assert pitch_said(inch, 25.4e-3 / 11.5) == "11.5 per inch" and pitch_said(inch, 1.25e-3, both=True) == "0.04921 in (1.25 mm)"
    assert pitch_said(inch, 1.25e-3) == "0.04921 in"


def test_a_pitch_that_cannot_be_read_is_refused_in_words(nowhere):
    chapter = open_chapter("09")
    with pytest.raises(InputProblem, match="has no unit; is it '8 mm' .or '8 per inch'"):
        chapter.show("trains", pitch="8")
    with pytest.raises(InputProblem, match="must be at most 25 mm"):
        chapter.show("trains", pitch="1 per inch")
    with pytest.raises(InputProblem, match="must be more than zero"):
        chapter.show("trains", pitch="0 mm")


@pytest.mark.parametrize("pitch", ["1.5 mm", "18 per inch"])
def test_a_train_is_drawn_to_scale_and_its_wheels_touch(pitch):
    axes = Canvas().figure(PICTURES["gear_train"], evaluate(demo()), pitch=pitch).axes[0]
    across, up = (np.diff(limits)[0] for limits in (axes.get_xlim(), axes.get_ylim()))
    assert across / up == pytest.approx(axes.bbox.width / axes.bbox.height)
    wheels = [one.get_xy() for one in axes.patches if isinstance(one, Polygon)]
    sizes = [np.ptp(wheel[:, 1]) / 2 for wheel in wheels]
    middles = [(wheel.min(axis=0) + wheel.max(axis=0)) / 2 for wheel in wheels]
    for one, other in ((0, 1), (1, 2)) if len(wheels) == 3 else ((0, 1), (2, 3)):
        apart = np.hypot(*(middles[one] - middles[other]))
        assert apart == pytest.approx(sizes[one] + sizes[other] - 2e-3, abs=0.4e-3)  # two modules of teeth stand in each other


def test_a_set_that_cannot_be_is_not_kept_and_says_why(design_file):
    chapter = open_chapter("09")
    chapter.decide("change_wheels")
    keep = chapter.last_keep
    keep.controls["change_wheels"].widget.value = "20, forty, 60"
    keep.button.click()
    assert "Not kept" in keep.reply.value and "'forty' in the set of change gears is no number of teeth" in keep.reply.value
    keep.controls["change_wheels"].widget.value = "60 40 20 2x30"
    keep.button.click()
    assert "Kept in design.toml" in keep.reply.value
    assert chapter.session.design["change_wheels"] == "20, 30, 30, 40, 60"
    assert keep.controls["change_wheels"].widget.value == "20, 30, 30, 40, 60"


def test_half_a_word_typed_while_playing_harms_nothing(nowhere):
    chapter = open_chapter("09")
    chapter.play("gear_train", "change_wheels", "gear_centres", findings=["threads_can_be_cut"])
    box = chapter.last_play.controls["change_wheels"].widget
    for text in ("20, 30, 4", "20", "", "no wheels", "20, 30, 40, 50, 60"):
        box.value = text
        assert chapter.last_play.figures.value
    assert "meet the pitch" in chapter.last_play.figures.value


@pytest.mark.parametrize(
    ("drive", "said"),
    [
        ("by hand", "yours is wound by hand"),
        ("change wheels", "gives 0.397 mm/rev; a finer finish is wound by hand"),
        ("change wheels and a second stud", "with the second stud"),
        ("separate shaft or motor", "a shaft or motor of its own"),
    ],
)
def test_what_is_told_of_the_feed_follows_its_drive(drive, said):
    assert said in told("job_threads", changes={"feed_drive": drive})


def test_a_lathe_without_topslide_or_threads_is_told_so_on_the_sheet_of_its_first_thread():
    cabin, boat = told("job_threads", start="cabin"), told("job_threads")
    assert "cuts no threads with a leadscrew" in cabin and "straight in" in cabin and "swung topslide" not in cabin
    assert "cuts no threads" not in boat and "29.5 deg" in boat and "swung topslide" in boat
