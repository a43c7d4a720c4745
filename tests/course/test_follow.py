"""Everything on a page follows what is kept, here or in another notebook, and a ripple tells its own change."""

import asyncio

import pytest
from classroom import NOTEBOOKS, cells, press, run, words, working_folder
from tiers import short_of

from lathe_course.course import open_chapter
from lathe_course.course.session import Session
from lathe_course.course.shown.panels import Live, LiveWorking


@pytest.fixture
def folder(tmp_path, monkeypatch):
    path = working_folder(tmp_path / "my-lathe")
    monkeypatch.chdir(path.parent)
    return path


# --- one notebook ----------------------------------------------------------------------------------------
def test_a_working_and_a_what_if_are_written_anew(folder):
    chapter = open_chapter("03")
    worked, tried = chapter.working("step_ratio"), chapter.what_if(speed_steps="12")
    assert "number of spindle speeds: 8" in worked.plain and "number of spindle speeds 8 → 12" in tried.plain
    chapter.keep(speed_steps="6")
    assert "number of spindle speeds: 6" in worked.plain and "number of spindle speeds 6 → 12" in tried.plain
    assert "number of spindle speeds" in words(worked.widget.value) and worked._repr_mimebundle_()["text/plain"] == worked.plain
    assert r"\begin{aligned}" in worked.widget.value and "(6 - 1)" in worked.widget.value.replace("{", "").replace("}", "")


@pytest.mark.parametrize("number", short_of(["03", "05", "07"], "03"))
def test_nothing_a_notebook_shows_tells_of_the_design_before(number, folder, monkeypatch):
    """After a kept decision every page says what a page written then would say."""
    path = next(path for path in NOTEBOOKS if path.name.startswith(number))
    lesson = run(path, monkeypatch)
    chapter = lesson.chapter
    for keep in chapter.last_keeps:
        name = next((name for name, one in keep.controls.items() if one.decision.numeric), None)
        if name:
            chapter.keep(**{name: f"{1.2 * keep.controls[name].widget.value:g} {keep.controls[name].unit}".strip()})
    again = run(path, monkeypatch)
    for source, old, new in zip(cells(path), lesson.shown, again.shown, strict=True):
        if isinstance(old, (Live, LiveWorking)):
            assert old.plain == new.plain, source


def test_what_is_nearest_is_written_first_and_each_by_itself(folder):
    chapter = open_chapter("06")
    session, order = chapter.session, []
    for place in "abcdefg":
        session.when_changed(lambda place=place: order.append(place))
    near = session._listeners[4][1]

    async def kept():
        session.change(lambda design: design.with_(bearing_span="120 mm"), near)
        assert not order, "the answer to the press goes out before all that follows"
        while len(order) < 7:
            seen = len(order)
            await asyncio.sleep(0)
            assert len(order) <= seen + 1, "one at a time, so that another touch need not wait for all"

    asyncio.run(kept())
    assert "".join(order) == "efdgcba"


def test_what_takes_long_comes_last_and_says_so_meanwhile(folder, monkeypatch):
    from lathe_course.course import session as module

    chapter, order = open_chapter("06"), []
    chapter.session.when_changed(lambda: order.append("slow"), lambda: order.append("wait for it"))
    chapter.session.when_changed(lambda: order.append("quick"))
    slow = next(listener for _, listener in chapter.session._listeners)

    async def kept(span):
        order.clear()
        chapter.session.keep(bearing_span=span)
        while chapter.session._writing:
            await asyncio.sleep(0)

    asyncio.run(kept("120 mm"))
    assert order == ["slow", "quick"]
    chapter.session._took[slow] = 2 * module._SLOW
    asyncio.run(kept("125 mm"))
    assert order == ["wait for it", "quick", "slow"]


# --- two notebooks ---------------------------------------------------------------------------------------
def test_the_other_notebook_notices_at_its_next_touch_and_says_so(folder):
    here, there = open_chapter("06"), open_chapter("06")
    here.play("bent_spindle", "spindle_diameter", "spindle_overhang", show=["nose_stiffness"])
    play, live = here.last_play, here.your_design("nose_stiffness")
    old = live.plain
    there.keep(spindle_diameter="40 mm")
    assert live.plain == old, "nobody has touched it yet"
    play.controls["spindle_overhang"].widget.value += 5
    assert here.session.design["spindle_diameter"] == pytest.approx(0.040)
    assert "Kept elsewhere meanwhile" in words(play.figures) and "spindle diameter: 40 mm" in words(play.figures)
    assert live.plain == there.your_design("nose_stiffness").plain != old
    assert play.controls["spindle_diameter"].widget.value == 40 and play.controls["spindle_overhang"].moved, (
        "what is tried out here stays"
    )
    play.controls["spindle_overhang"].widget.value += 5
    here.keep(spindle_overhang="50 mm")
    assert "Kept elsewhere" not in words(play.figures)


def test_a_ripple_tells_only_its_own_change(folder):
    here, there = open_chapter("06"), open_chapter("02")
    here.decide("spindle_diameter")
    there.keep(centre_height="60 mm")
    keep = here.last_keep
    keep.controls["spindle_diameter"].widget.value = 40
    press(keep.button)
    reply = words(keep.reply)
    told = reply.split("This page follows.")[-1]
    assert "spindle diameter 35 mm → 40 mm" in told and "centre height" not in told.split("No verdict")[0].split("Verdicts")[0]
    assert "swing over the bed" not in told, "that moved by the other's decision"


def test_a_press_without_a_touch_before_it_tells_what_the_other_kept(folder):
    here, there = open_chapter("06"), open_chapter("02")
    here.decide("spindle_diameter")
    there.keep(centre_height="60 mm")
    press(here.last_keep.button)
    reply = words(here.last_keep.reply)
    assert "centre height: 60 mm" in reply and "Nothing moved." in reply


def test_one_s_own_keeping_is_not_told_as_another_s(folder):
    session = Session()
    session.keep(centre_height="60 mm")
    assert session.noticed == "" and session.look() == ""
    folder.write_bytes(folder.read_bytes())  # touched, and nothing changed in it
    assert session.look() == ""


def test_a_file_that_is_half_written_is_left_for_the_next_look(folder):
    here, there = open_chapter("06"), open_chapter("02")
    there.keep(centre_height="60 mm")
    whole = folder.read_bytes()
    folder.write_bytes(whole[: len(whole) // 2] + b'\n"')
    assert here.session.look() == "" and here.session.design["centre_height"] == pytest.approx(0.075)
    folder.write_bytes(whole)
    assert "centre height: 60 mm" in here.session.look()
