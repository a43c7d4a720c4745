"""A chapter as a learner meets it: a slider by keyboard, a decision kept, and the file on disk."""

import pytest

from lathe_course.design.files import design_file as files
from lathe_course.design.lathe import LATHE

pytestmark = pytest.mark.browser

CHAPTER = "notebooks/06_spindle_and_bearings.ipynb"
_STROKES = """image => {
    const copy = image.cloneNode(true);
    copy.querySelectorAll('title, desc').forEach(words => words.remove());
    return copy.innerHTML.replace(/p[0-9a-f]{12}/g, '');
}"""


class Chapter:
    """Chapter 06 on the screen: its first picture with controls, its panel of decisions, its guess."""

    def __init__(self, lab):
        self.lab = lab
        box = lab.page.locator(".jp-OutputArea-output > .widget-vbox")
        control = lab.page.locator(".decision-spindle_diameter")
        self.play = box.filter(has=control).filter(has=lab.page.locator("svg")).first
        self.decide = box.filter(has=control).filter(has_text="Keep this decision").first
        self.guess = box.filter(has_text="Keep my guess").first

    def press(self, place, key):
        """A key on the slider, once nothing is on its way any more."""
        self.lab.at_rest()
        self.slider(place).press(key)

    def slider(self, place):
        return place.locator(".decision-spindle_diameter [role=slider]").first

    def value(self, place):
        return float(self.slider(place).get_attribute("aria-valuenow"))

    def picture(self):
        return self.play.locator("svg").first.evaluate(_STROKES)

    def figures(self):
        return self.play.locator("table").first.inner_text()


def on_disk(lab):
    return files.load(lab.folder / "design.toml", LATHE)


def test_from_play_to_a_kept_decision(lab):
    lab.open_notebook(CHAPTER)
    lab.run_all()
    chapter = Chapter(lab)
    chapter.play.locator("svg").first.wait_for()

    # play: a slider moved by keyboard moves picture and figures, and keeps nothing
    before = (lab.folder / "design.toml").read_bytes()
    picture, figures = chapter.picture(), chapter.figures()
    assert chapter.value(chapter.play) == 35
    chapter.press(chapter.play, "ArrowRight")
    assert lab.changed(chapter.figures, figures).count("N/µm") == 2
    lab.changed(chapter.picture, picture)
    moved = chapter.value(chapter.play)
    assert moved > 35
    chapter.play.get_by_role("button", name="Back to my design").click()
    lab.changed(lambda: chapter.value(chapter.play), moved)
    assert chapter.value(chapter.play) == 35
    lab.changed(lambda: chapter.picture() == picture and chapter.figures() == figures, False)
    assert (lab.folder / "design.toml").read_bytes() == before, "playing keeps nothing"

    # guess: Enter keeps it
    field = chapter.guess.locator("input").first
    field.fill("12 µm")
    field.press("Enter")
    chapter.guess.get_by_text("Kept.").wait_for()
    assert on_disk(lab).guesses["06"] == {"give": "12 µm"}
    lab.page.get_by_text("You guessed 12 µm").first.wait_for()

    # decide: value and reason, and the other panels follow
    for _ in range(3):
        chapter.press(chapter.decide, "ArrowRight")
    chosen = chapter.value(chapter.decide)
    assert chosen > moved
    chapter.decide.locator("textarea").last.fill("a bar of that size lay there")
    chapter.decide.get_by_role("button", name="Keep this decision").click()
    chapter.decide.get_by_text("Kept in design.toml.").wait_for()
    assert f"35 mm → {chosen:g} mm" in chapter.decide.inner_text()
    choice = on_disk(lab).choices["spindle_diameter"]
    assert (choice.written, choice.reason) == (f"{chosen:g} mm", "a bar of that size lay there")
    lab.changed(lambda: chapter.value(chapter.play), 35)
    assert chapter.value(chapter.play) == chosen, "the picture further up shows what was kept"
    lab.save()

    # another kernel: what was kept is there
    lab.close_all()
    lab.open_notebook(CHAPTER)
    lab.run_all()
    again = Chapter(lab)
    again.play.locator("svg").first.wait_for()
    assert again.value(again.play) == again.value(again.decide) == chosen
    assert again.guess.locator("input").first.input_value() == "12 µm"
    lab.page.get_by_text("You guessed 12 µm").first.wait_for()
    assert again.picture() != picture


@pytest.mark.walk
def test_inches_on_the_screen_are_what_is_kept(lab):
    """A browser may pull a value to a step of its slider; what nobody moved must not be written so."""
    design = lab.folder / "design.toml"
    design.write_text(design.read_text().replace('system = "mm"', 'system = "inch"'))
    lab.open_notebook(CHAPTER)
    lab.run_all()
    chapter = Chapter(lab)
    chapter.decide.get_by_role("button", name="Keep this decision").click()
    chapter.decide.get_by_text("Kept in design.toml.").wait_for()
    assert on_disk(lab).choices["spindle_diameter"].written == "35 mm"
    assert "Nothing moved." in chapter.decide.inner_text()
    figure = chapter.decide.locator(".lc-figure", has=lab.page.locator(".decision-spindle_diameter")).locator("input").first
    assert figure.input_value() == "1.37795"  # 35/25.4
    chapter.press(chapter.decide, "ArrowRight")
    assert lab.changed(figure.input_value, "1.37795") == "1.4"
    chapter.decide.get_by_role("button", name="Keep this decision").click()
    chapter.decide.get_by_text("1.38 in → 1.4 in").wait_for()
    assert on_disk(lab).choices["spindle_diameter"].written == "1.4 in"
    # kept, it stands on a step: from now on the slider is a plain one, and the next step is round as well
    chapter.press(chapter.decide, "ArrowRight")
    assert lab.changed(figure.input_value, "1.4") == "1.45"
    chapter.decide.get_by_role("button", name="Keep this decision").click()
    chapter.decide.get_by_text("1.4 in → 1.45 in").wait_for()
    assert on_disk(lab).choices["spindle_diameter"].written == "1.45 in"
