"""The page at three widths: controls beside their picture on one screen, no bar under an output, large letters by a key."""

import pytest
from tiers import short_of

pytestmark = pytest.mark.browser

CHAPTER = "notebooks/06_spindle_and_bearings.ipynb"
PURPOSE = "notebooks/01_purpose.ipynb"
SWITCH = "from lathe_course.course.shown.projector import projector\nprojector()"

#: places of the open notebook in which something must be moved sideways to be read
_BARS = """() => [...document.querySelectorAll('.jp-Notebook .jp-OutputArea-output, .jp-Notebook .jp-OutputArea-output *')]
    .filter(place => place.clientWidth > 0 && place.scrollWidth > place.clientWidth + 1 && ['auto', 'scroll'].includes(getComputedStyle(place).overflowX))
    .map(place => `${place.className}: ${place.scrollWidth} in ${place.clientWidth}`)"""
_PLACES = """play => ['.lc-controls', '.lc-picture svg', '.lc-figures'].map(part => {
    const place = play.querySelector(part).getBoundingClientRect();
    return {left: place.left, right: place.right, top: place.top, bottom: place.bottom};
})"""
_ROOM = "() => Math.max(...[...document.querySelectorAll('.jp-WindowedPanel-outer')].map(place => place.clientHeight))"
_ZOOM = "() => Number(getComputedStyle(document.body).zoom)"


def seen_at(lab, width, height):
    lab.page.set_viewport_size({"width": width, "height": height})
    return lab.changed(lambda: lab.page.evaluate("() => document.body.clientWidth"), None) and lab.page.evaluate(_BARS)


def test_controls_stand_beside_the_picture_and_nothing_must_be_moved_sideways(lab):
    lab.open_notebook(CHAPTER)
    lab.run_all()
    plays = lab.page.locator(".lc-play:visible")
    plays.first.locator("svg").first.wait_for()
    worked = lab.page.locator(".lc-working:visible mjx-container")
    worked.first.wait_for()
    assert worked.first.bounding_box()["width"] > 100, "a working is typeset"
    for width, height in ((760, 1000), (1366, 768), (1920, 1080)):
        assert not seen_at(lab, width, height), f"at {width} px something must be moved sideways"
        room = lab.page.evaluate(_ROOM)
        for play in plays.all():
            controls, picture, figures = play.evaluate(_PLACES)
            slider = play.locator(".widget-slider").first
            track, label = (slider.locator(part).first.bounding_box() for part in (".noUi-target", ".widget-label"))
            assert track["width"] > 150, f"at {width} px a slider is {track['width']:g} px long"
            assert track["y"] - 5 > label["y"] + label["height"], "the label stands above the slider, clear of its handle"
            if width == 760:
                assert controls["bottom"] <= picture["top"] + 1 and picture["bottom"] <= figures["top"] + 1, "one below the other"
                continue
            assert controls["right"] <= picture["left"] and abs(controls["top"] - picture["top"]) < 20, (
                f"controls beside the picture at {width} px"
            )
            assert max(controls["bottom"], picture["bottom"]) - min(controls["top"], picture["top"]) <= room, (
                f"both on one screen at {width} px"
            )
            assert figures["top"] >= controls["bottom"] - 1


@pytest.mark.parametrize("path", short_of(["the switch alone", PURPOSE], "the switch alone"))
def test_a_key_makes_all_letters_larger_and_small_again(lab, path):
    lab.page.set_viewport_size({"width": 1920, "height": 1080})
    lab.open_notebook(path if path == PURPOSE else lab.own_notebook(SWITCH))
    lab.run_all()
    switch = lab.page.locator("input.lc-projector").first
    switch.wait_for()
    assert lab.page.evaluate(_ZOOM) == 1
    keyboard = lab.page.context.new_cdp_session(
        lab.page
    )  # an access key is known by its letter, which playwright leaves out beside Alt
    for how in ("keyDown", "keyUp"):
        keyboard.send(
            "Input.dispatchKeyEvent",
            {
                "type": how,
                "modifiers": 1,
                "key": "l",
                "code": "KeyL",
                "windowsVirtualKeyCode": 76,
                "text": "l",
                "unmodifiedText": "l",
            },
        )
    assert lab.changed(lambda: lab.page.evaluate(_ZOOM), 1) == 1.5
    sheet = lab.page.locator(".jp-NotebookPanel:visible").first
    assert lab.changed(lambda: (box := sheet.bounding_box())["x"] + box["width"] <= 1921, False), (
        "at once, and not when the window is moved next"
    )
    assert not seen_at(lab, 1920, 1080), "nothing is cut at the side on a projector"
    main = lab.page.locator("#main").bounding_box()
    assert main["width"] <= 1921 and main["height"] <= 1081, "the page ends where the screen does"
    switch.click()
    assert lab.page.evaluate(_ZOOM) == 1
