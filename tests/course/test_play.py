"""Playing keeps nothing and moves everything; deciding keeps what was meant and nothing else."""

import asyncio
import os
import xml.dom.minidom
from concurrent.futures import ThreadPoolExecutor

import ipywidgets as widgets
import pytest
from classroom import NOTEBOOKS, press, run, strokes, words, working_folder
from tiers import LONG, short_of

from lathe_course.course.chapter import open_chapter
from lathe_course.design.asked.ripple import ripple
from lathe_course.design.demos import DEMOS
from lathe_course.design.files import design_file as files
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem

#: texts to write where the example is what the demo has already
_OTHER = {"currency": "CHF", "months_away": "July"}


def kept(path, name):
    return files.load(path, LATHE).choices[name]


def seen(play):
    """Picture and figures as a reader has them."""
    return strokes(play.picture.value), play.figures.value


def ends(control):
    """Where a control can go, but for where it is: the two ends of a slider, every option of a choice, what a text takes."""
    widget, here = control.widget, control.widget.value
    if control.decision.free_text:
        places = [control.decision.example or "other words"]
    elif not control.decision.numeric:
        places = list(widget.options)
    elif isinstance(widget, widgets.SelectionSlider):
        places = [widget.options[0][1], widget.options[-1][1]]
    else:
        places = [widget.min, widget.max]
    return [place for place in places if place != here]


# --- playing ----------------------------------------------------------------------------------------
@pytest.mark.parametrize("notebook", short_of(NOTEBOOKS, *NOTEBOOKS[4::12]), ids=lambda path: path.stem)
def test_every_control_moves_its_picture_or_its_figures(notebook, tmp_path, monkeypatch):
    """To both ends and back: one that changes nothing on any demo is named.

    A bed of bars has no wall and a spindle on bushes no arrangement, so a control may rest on one demo and not on another;
    one that moves on the first is moved on the others in the long run only.
    """
    alive: dict[tuple[int, str, str], bool] = {}
    for demo_name in DEMOS:
        path = working_folder(tmp_path / demo_name, demo_name)
        monkeypatch.chdir(path.parent / "notebooks")
        before = path.read_bytes()
        for number, (picture, play) in enumerate(run(notebook, monkeypatch, only="play").plays):
            xml.dom.minidom.parseString(play.picture.value)
            at_rest = seen(play)
            for name, control in play.controls.items():
                if alive.get((number, picture, name)) and not LONG:
                    continue
                for place in ends(control):
                    control.widget.value = place
                    alive[number, picture, name] = alive.get((number, picture, name), False) or seen(play) != at_rest
                play.reset()
                assert seen(play) == at_rest, f"{picture}: {name} does not come back"
        assert path.read_bytes() == before, "playing kept something"
    dead = [f"{picture}: {name}" for (_, picture, name), moves in alive.items() if not moves]
    assert not dead, f"these move nothing on any demo: {', '.join(dead)}"


def test_playing_keeps_nothing(design_file):
    chapter = open_chapter("06")
    chapter.play("bent_spindle", "spindle_diameter", show=["nose_stiffness"])
    play, before, design = chapter.last_play, design_file.read_bytes(), chapter.session.design
    play.controls["spindle_diameter"].widget.value = 60
    assert play.now.design["spindle_diameter"] == pytest.approx(0.060)
    assert chapter.session.design is design
    assert design_file.read_bytes() == before
    assert "57.2 N/µm" in words(chapter.your_design("nose_stiffness").widget)


def test_figures_stand_beside_the_kept_ones(nowhere):
    chapter = open_chapter("02")
    chapter.play("lathe_to_scale", "centre_height", show=["swing_over_bed"], findings=["disc_clears_bed"])
    play = chapter.last_play
    play.controls["centre_height"].widget.value = 50
    assert "swing over the bed 100 mm 150 mm" in words(play.figures)
    assert "✗ fails" in words(play.figures)
    assert "100 mm" in play.picture.value, "the picture tells it in words as well"


@pytest.mark.parametrize("system", ["mm", "inch"])
def test_back_to_my_design(tmp_path, monkeypatch, system):
    path = working_folder(
        tmp_path / "my-lathe", motor_power='{ low = "0.3 kW", likely = "0.37 kW", high = "0.4 kW" }', centre_height='"77.7 mm"'
    )
    path.write_text(path.read_text().replace('system = "mm"', f'system = "{system}"'))
    monkeypatch.chdir(path.parent)
    chapter = open_chapter("04")
    chapter.play(
        "torque_over_speed",
        "motor_power",
        "depth_of_cut",
        "centre_height",
        draws=True,
        show=["motor_power_needed", "low_speed_torque"],
    )
    play = chapter.last_play
    at_rest = seen(play)
    for control in play.controls.values():
        for place in ends(control):
            control.widget.value = place
    assert seen(play) != at_rest
    press(play.back)
    assert seen(play) == at_rest
    assert not any(control.moved for control in play.controls.values())


def test_a_move_works_out_only_what_it_touches(nowhere):
    chapter = open_chapter("06")
    chapter.play("bent_spindle", "spindle_diameter")
    play = chapter.last_play
    before = play.now
    play.controls["spindle_diameter"].widget.value = 50
    touched = LATHE.downstream("spindle_diameter")
    assert all(play.now[name] is before[name] for name in LATHE.results if name not in touched)


def test_draws_come_when_the_finger_rests(nowhere, monkeypatch):
    monkeypatch.setattr("lathe_course.course.turns.AT_REST", 0.01)
    chapter = open_chapter("04")
    chapter.play("torque_over_speed", "motor_power", draws=True, show=["low_speed_torque"], findings=["torque_suffices"])
    play = chapter.last_play

    async def move():
        for place in ends(play.controls["motor_power"]):
            play.controls["motor_power"].widget.value = place
            assert play.now.draws is None and "of all draws" not in words(play.figures)
        before = play.figures.value
        while play.now.draws is None:
            await asyncio.sleep(0.01)
        return before

    assert asyncio.run(move()) != play.figures.value
    assert play.now.draws == play.draws and play.now.design["motor_power"] == play.controls["motor_power"].value


def test_a_kept_decision_reaches_the_other_panels(nowhere):
    chapter = open_chapter("06")
    chapter.play("bent_spindle", "spindle_diameter", show=["nose_stiffness"])
    play, live = chapter.last_play, chapter.your_design("nose_stiffness")
    before = live.plain
    chapter.keep(spindle_diameter="50 mm")
    assert play.controls["spindle_diameter"].widget.value == 50
    assert not play.controls["spindle_diameter"].moved
    assert live.plain != before
    now = chapter.evaluation.shown("nose_stiffness")
    assert f"{now} {now}" in words(play.figures), "now and kept are the same again"


def test_sliders_follow_a_change_of_units(nowhere):
    chapter = open_chapter("00")
    chapter.play("lathe_to_scale", "centre_height", show=["swing_over_bed"])
    play = chapter.last_play
    chapter.start()
    chapter.last_start.system.value = "inch"
    slider = play.controls["centre_height"].widget  # made anew
    assert slider.description.endswith("[in]") and slider.value == pytest.approx(2.95276)
    assert "5.91 in" in words(play.figures)  # 150/25.4 = 5.906
    slider.value = 3.0
    assert "6 in" in words(play.figures)


def test_names_that_do_not_fit_are_told(nowhere):
    chapter = open_chapter("06")
    for wrong, said in (
        (lambda: chapter.play("bend_spindle"), "no picture called 'bend_spindle'"),
        (lambda: chapter.play("bent_spindle", "spindle_diametre"), "did you mean spindle_diameter"),
        (lambda: chapter.play("bent_spindle", "nose_stiffness"), "worked out, not decided"),
        (lambda: chapter.play("bent_spindle", show=["stiffness_nose"]), "no decision or result called"),
        (lambda: chapter.play("bent_spindle", findings=["nose_stif_enough"]), "did you mean nose_stiff_enough"),
    ):
        with pytest.raises(InputProblem, match=said):
            wrong()


# --- deciding ---------------------------------------------------------------------------------------
def deciding(chapter, *names):
    chapter.decide(*names)
    return chapter.last_keep


@pytest.mark.parametrize("notebook", short_of(NOTEBOOKS, *NOTEBOOKS[::6]), ids=lambda path: path.stem)
def test_every_decision_of_a_notebook_can_be_moved_and_kept(notebook, design_file, monkeypatch):
    for number, keep in enumerate(run(notebook, monkeypatch, only="decide").keeps):
        names = [name for name, control in keep.controls.items() if control.decision.free_text or ends(control)]
        for name in names:
            widget = keep.controls[name].widget
            own = _OTHER.get(name, keep.controls[name].decision.example or f"in our own words {number}")
            widget.value = own if keep.controls[name].decision.free_text else ends(keep.controls[name])[-1]
        meant = {name: (keep.controls[name].written, keep.controls[name].value) for name in names}
        keep.reason.value = f"because of {notebook.stem}"
        press(keep.button)
        assert "Kept in design.toml" in words(keep.reply), words(keep.reply)
        for name, (written, value) in meant.items():
            choice = kept(design_file, name)
            assert choice.written == written and choice.reason == f"because of {notebook.stem}" and choice.decided, name
            assert choice.value == value or choice.value == pytest.approx(value), name


def test_keeping_writes_the_file_and_shows_the_ripple(design_file):
    chapter = open_chapter("06")
    keep = deciding(chapter, "spindle_diameter", "bearing_span")
    was = chapter.evaluation
    keep.controls["spindle_diameter"].widget.value = 22
    keep.reason.value = "  a bar that lay there  "
    press(keep.button)
    choice = kept(design_file, "spindle_diameter")
    assert (choice.written, choice.reason) == ("22 mm", "a bar that lay there")
    reply = words(keep.reply)
    assert "Kept in design.toml." in reply
    assert "spindle diameter 35 mm → 22 mm" in reply
    most = ripple(was, chapter.evaluation).results[0]
    assert most.label in reply and most.before in reply and most.after in reply
    assert "Findings that changed" in reply and "✗ fails" in reply
    assert files.load(files.backup_of(design_file), LATHE)["spindle_diameter"] == pytest.approx(0.035)


def test_without_a_working_folder_it_says_where_it_is_kept(nowhere):
    keep = deciding(open_chapter("06"), "spindle_diameter")
    keep.controls["spindle_diameter"].widget.value = 40
    press(keep.button)
    assert "Kept in this notebook only: there is no working folder." in words(keep.reply)


def test_a_reason_is_invited_and_never_demanded(design_file):
    keep = deciding(open_chapter("06"), "spindle_diameter")
    keep.controls["spindle_diameter"].widget.value = 40
    press(keep.button)
    assert kept(design_file, "spindle_diameter").reason == ""
    assert "Kept in" in words(keep.reply)


def test_the_reason_goes_to_what_was_moved(design_file):
    chapter = open_chapter("06")
    chapter.keep(bearing_span="110 mm", because="the bar is that long")
    assert kept(design_file, "bearing_kind").reason != "", "the demo has a reason of its own here"
    keep = deciding(chapter, "spindle_diameter", "bearing_kind", "bearing_span")
    keep.controls["spindle_diameter"].widget.value = 40
    keep.reason.value = "thicker"
    press(keep.button)
    assert kept(design_file, "spindle_diameter").reason == "thicker"
    assert kept(design_file, "bearing_kind").reason == "", "the demo's words are not the learner's"
    assert kept(design_file, "bearing_span").reason == "the bar is that long"
    assert all(kept(design_file, name).decided for name in keep.controls), "all of the panel is the learner's now"


def test_with_nothing_moved_the_demo_s_figures_become_the_learner_s(design_file):
    keep = deciding(open_chapter("06"), "spindle_diameter", "bearing_kind")
    keep.reason.value = "we looked at it and agree"
    press(keep.button)
    for name, written in (("spindle_diameter", "35 mm"), ("bearing_kind", "taper roller")):
        choice = kept(design_file, name)
        assert (choice.written, choice.reason) == (written, "we looked at it and agree") and choice.decided
    assert "Nothing moved." in words(keep.reply)


def test_a_range_left_alone_stays_a_range(tmp_path, monkeypatch):
    path = working_folder(tmp_path / "my-lathe", motor_power='{ low = "0.3 kW", likely = "0.37 kW", high = "0.4 kW" }')
    monkeypatch.chdir(path.parent)
    keep = deciding(open_chapter("04"), "motor_power", "depth_of_cut")
    assert keep.controls["motor_power"].widget.value == 370
    keep.controls["depth_of_cut"].widget.value = 1.0
    press(keep.button)
    assert dict(kept(path, "motor_power").written) == {"low": "0.3 kW", "likely": "0.37 kW", "high": "0.4 kW"}
    assert kept(path, "motor_power").decided
    keep.controls["motor_power"].widget.value = 550  # moved, it becomes a figure
    press(keep.button)
    assert kept(path, "motor_power").written == "550 W"


def test_in_inches_only_what_was_moved_is_written_in_inches(tmp_path, monkeypatch):
    path = working_folder(tmp_path / "my-lathe")
    path.write_text(path.read_text().replace('system = "mm"', 'system = "inch"'))
    monkeypatch.chdir(path.parent)
    chapter = open_chapter("02")
    keep = deciding(chapter, "centre_height", "between_centres", "slide_height", "spindle_bore", "left_out")
    press(keep.button)
    assert kept(path, "centre_height").written == "75 mm" and "Nothing moved" in words(keep.reply)
    keep.controls["centre_height"].widget.value = 3.2
    press(keep.button)
    assert kept(path, "centre_height").written == "3.2 in"
    assert kept(path, "centre_height").value == pytest.approx(0.08128)
    assert kept(path, "between_centres").written == "300 mm"
    assert "2.95 in → 3.2 in" in words(keep.reply)


def test_a_decision_another_notebook_kept_meanwhile_is_not_put_back(design_file):
    here, there = open_chapter("02"), open_chapter("02")
    keep = deciding(here, "centre_height", "between_centres")
    there.keep("the other one", centre_height="90 mm")
    keep.controls["between_centres"].widget.value = 350
    keep.reason.value = "longer"
    press(keep.button)
    assert (kept(design_file, "centre_height").written, kept(design_file, "centre_height").reason) == ("90 mm", "the other one")
    assert kept(design_file, "between_centres").written == "350 mm"
    assert keep.controls["centre_height"].widget.value == 90, "and it is shown from now on"
    press(keep.button)
    assert kept(design_file, "centre_height").written == "90 mm"


def test_what_is_about_to_be_settled_survives_another_change(nowhere):
    chapter = open_chapter("02")
    keep = deciding(chapter, "centre_height", "between_centres")
    keep.controls["centre_height"].widget.value = 90
    keep.reason.value = "half written"
    chapter.keep(between_centres="350 mm")
    assert keep.controls["centre_height"].widget.value == 90
    assert keep.controls["between_centres"].widget.value == 350
    assert keep.reason.value == "half written"


def test_what_cannot_be_kept_is_told_and_left(design_file, monkeypatch):
    keep = deciding(open_chapter("02"), "centre_height")
    keep.controls["centre_height"].widget.value = 90
    before = design_file.read_bytes()
    with monkeypatch.context() as closed:
        usual = os.access
        closed.setattr(os, "access", lambda path, mode, **more: mode != os.W_OK and usual(path, mode, **more))
        press(keep.button)
    assert words(keep.reply).startswith("Not kept.") and "read-only" in words(keep.reply)
    assert design_file.read_bytes() == before
    assert keep.controls["centre_height"].moved, "the learner's figure still stands there"
    press(keep.button)
    assert kept(design_file, "centre_height").written == "90 mm"


def test_a_reason_is_text_and_nothing_else(design_file):
    chapter = open_chapter("02")
    keep = deciding(chapter, "centre_height", "left_out")
    reason = '<script>alert("x")</script> "quoted" \'\'\' \\ {value} 75 mm\n[decisions]\n'
    keep.controls["left_out"].widget.value = reason
    keep.reason.value = reason
    press(keep.button)
    assert kept(design_file, "left_out").reason == reason.strip()
    assert kept(design_file, "left_out").written == reason
    page = chapter.decisions("left_out")
    assert "<script>" not in page.widget.value and "&lt;script&gt;" in page.widget.value
    assert "<script>" not in keep.reply.value


def test_room_is_told_below_the_button(nowhere):
    chapter = open_chapter("02")
    keep = deciding(chapter, "centre_height")
    shown, _, folded = keep.room.value.partition("</summary>")
    assert "centre height 75 mm" in words(shown) and "Centre height is" not in words(shown), "what stops it lies in the fold"
    assert "Centre height is 75 mm." in words(folded)
    chapter.keep(centre_height="80 mm")
    assert "Centre height is 80 mm." in words(keep.room)


# --- two hands at once ------------------------------------------------------------------------------
@pytest.mark.parametrize("times", short_of([2, 5], 2))
def test_moves_that_arrive_in_several_threads_at_once(times, design_file):
    """As JupyterLab may send them: the controls of one picture, a decision kept, and a cell that is run."""
    chapter = open_chapter("06")
    chapter.play("bent_spindle", "spindle_diameter", "spindle_overhang", show=["nose_stiffness"])
    play = chapter.last_play
    keep = deciding(chapter, "bearing_span")

    def move(name, values):
        for value in values:
            play.controls[name].widget.value = value

    def settle(values):
        for value in values:
            keep.controls["bearing_span"].widget.value = value
            press(keep.button)

    with ThreadPoolExecutor() as hands:
        work = [
            hands.submit(move, "spindle_diameter", [30, 40, 50, 60] * times),
            hands.submit(move, "spindle_overhang", [30, 40, 50, 60] * times),
            hands.submit(settle, [100, 120, 140, 160]),
            hands.submit(lambda: [chapter.play("span_curve") for _ in range(2 * times)]),
        ]
        for one in work:
            one.result()  # lets out what was raised in a thread
    assert kept(design_file, "bearing_span").written == "160 mm"
    play.reset()
    at_rest = seen(play)
    chapter.play("bent_spindle", "spindle_diameter", "spindle_overhang", show=["nose_stiffness"])
    assert seen(chapter.last_play) == at_rest
