"""A guess is kept, survives, is played back beside the figure, and nonsense is refused in words."""

import re

import pytest
from classroom import press, words

from lathe_course.course.chapter import open_chapter
from lathe_course.design.files import design_file as files
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem


def asked(chapter, result="nose_stiffness", key="stiff"):
    chapter.guess(key, "How stiff is the nose?", result)
    return chapter._guesses[key]


def typed(guess, text):
    """Type a guess, then press the button, as a learner does."""
    guess.entry.value = text
    press(guess.button)
    return words(guess.reply)


def test_a_guess_is_kept_in_the_file_and_survives(design_file):
    assert typed(asked(open_chapter("06")), " 60 N/µm ").startswith("Kept.")
    assert files.load(design_file, LATHE).guesses["06"] == {"stiff": "60 N/µm"}
    again = open_chapter("06")
    guess = asked(again)
    assert guess.entry.value == "60 N/µm"
    assert "You guessed 60 N/µm" in repr(again.play_back("stiff"))


def test_another_guess_takes_its_place(design_file):
    guess = asked(open_chapter("06"))
    typed(guess, "60 N/µm")
    typed(guess, "80 N/µm")
    assert files.load(design_file, LATHE).guesses["06"] == {"stiff": "80 N/µm"}


def test_guesses_of_chapters_do_not_mix(design_file):
    typed(asked(open_chapter("06")), "60 N/µm")
    typed(asked(open_chapter("08")), "70 N/µm")
    assert files.load(design_file, LATHE).guesses == {"06": {"stiff": "60 N/µm"}, "08": {"stiff": "70 N/µm"}}


@pytest.mark.parametrize(
    "text, said",
    [
        ("", "does not start with a number; write it as in '60 N/µm'"),
        ("60", "has no unit; is it '60 N/µm' (or '60 lbf/thou')? Write the number with its unit."),
        ("60 mm", "is a length (mm), but a stiffness is needed, for example '60 N/µm'."),
        ("stiff enough", "does not start with a number"),
        ("60 N/µmm", "is not known"),
        ("<b>60</b>", "does not start with a number"),
    ],
)
def test_nonsense_is_refused_in_words(design_file, text, said):
    guess = asked(open_chapter("06"))
    before = design_file.read_bytes()
    reply = typed(guess, text)
    assert reply.startswith("your guess") and said in reply
    assert "<b>60" not in guess.reply.value
    assert design_file.read_bytes() == before


def test_any_unit_of_the_kind_will_do(nowhere):
    chapter = open_chapter("06")
    assert typed(asked(chapter), "6e7 N/m").startswith("Kept.")
    assert "You guessed 60 N/µm" in repr(chapter.play_back("stiff"))


def test_the_figure_is_not_given_away_before_the_guess(nowhere):
    chapter = open_chapter("06")
    guess = asked(chapter)
    page = chapter.play_back("stiff")
    assert "You kept no guess yet." in words(page.widget)
    assert "<details>" in page.widget.value, "the figure is folded away"
    typed(guess, "60 N/µm")
    assert "You guessed 60 N/µm" in page.plain and "<details>" not in page.widget.value


def test_how_far_off_is_said_in_words(nowhere):
    chapter = open_chapter("06")
    guess, page = asked(chapter), chapter.play_back("stiff", spread=False)
    figure = chapter.evaluation["nose_stiffness"] / 1e6  # N/µm
    for times, said in (
        (1.0, "That is close."),
        (1.2, "That is close."),
        (3.0, "Your guess was 3 times as large."),
        (0.25, "It is 4 times as large as you guessed."),
        (0.0, ""),
    ):
        typed(guess, f"{times * figure:.6g} N/µm")
        assert page.plain.endswith(said or "N/µm."), (times, page.plain)


def test_too_little_is_judged_as_too_much_is(nowhere):
    """A guess so many times too small is as close as one so many times too large; half again is not close."""
    chapter = open_chapter("06")
    guess, page = asked(chapter), chapter.play_back("stiff", spread=False)
    figure = chapter.evaluation["nose_stiffness"] / 1e6  # N/µm
    close = {}
    for times in (1.1, 1.2, 1.3, 1.5, 1.9):
        for share in (times, 1 / times):
            typed(guess, f"{share * figure:.6g} N/µm")
            close.setdefault(times, []).append(page.plain.endswith("That is close."))
    assert all(more == less for more, less in close.values()) and close[1.1] == [True, True] and close[1.5] == [False, False]


def test_a_guess_inside_the_spread_is_right_as_far_as_can_be_known(nowhere):
    chapter = open_chapter("06")
    guess, page = asked(chapter), chapter.play_back("stiff")
    typed(guess, f"{chapter.evaluation['nose_stiffness'] / 1e6:.4g} N/µm")
    assert "That lies inside what can be known so far." in page.plain


def test_a_guess_belongs_to_the_design_it_was_made_on(design_file):
    """Made on one lathe it is not scored against another, and the figure as it is now stands beside it."""
    chapter = open_chapter("06")
    then = chapter.evaluation.shown("nose_stiffness")
    typed(asked(chapter), then)
    page = chapter.play_back("stiff", spread=False)
    assert page.plain.endswith("That is close.") and "when it was" not in page.plain
    chapter.keep(spindle_diameter="50 mm")
    now = chapter.evaluation.shown("nose_stiffness")
    assert now != then and f"when it was {then} on your design. That is close." in page.plain and f"is now {now}" in page.plain
    again = open_chapter("06")  # another day
    asked(again)
    assert again.play_back("stiff", spread=False).plain == page.plain
    typed(asked(again), now)  # guessed anew, on the lathe of today
    assert again.play_back("stiff", spread=False).plain.endswith("That is close.")


@pytest.mark.parametrize(
    "chapter, result, text",
    [("02", "parts_mass", "-5 kg"), ("06", "nose_stiffness", "-60 N/µm"), ("12", "months_to_finish", "-3 months")],
)
def test_a_guess_that_cannot_be_is_refused(chapter, result, text, design_file):
    guess = asked(open_chapter(chapter), result)
    before = design_file.read_bytes()
    assert "is below zero, and this cannot be" in typed(guess, text)
    assert design_file.read_bytes() == before


def test_money_may_come_out_below_zero(design_file):
    assert typed(asked(open_chapter("15"), "building_by_parts"), "-200 EUR").startswith("Kept.")


def test_a_guess_spoilt_by_hand_is_told_and_stops_nothing(design_file):
    typed(asked(open_chapter("06")), "60 N/µm")
    design_file.write_text(design_file.read_text().replace("60 N/µm", "sixty"))
    chapter = open_chapter("06")
    guess = asked(chapter)
    page = chapter.play_back("stiff")
    assert "'sixty' does not start with a number" in page.plain and "Keep another one." in page.plain
    chapter.keep(spindle_diameter="40 mm")
    typed(guess, "60 N/µm")
    assert "You guessed 60 N/µm" in page.plain


def test_after_a_change_the_guess_is_told_beside_the_figure_it_was_made_on(design_file):
    chapter = open_chapter("06")
    then = chapter.session.evaluation.shown("nose_stiffness")
    typed(asked(chapter), "60 N/µm")
    chapter.keep("a thicker one", spindle_diameter="50 mm")
    told = chapter.play_back("stiff").plain
    assert f"You guessed 60 N/µm when it was {then} on your design." in told
    low, high = map(float, re.search(r"is now (\d+) to (\d+) N/µm\.$", told).groups())
    assert float(then.split()[0]) < low < chapter.session.evaluation["nose_stiffness"] / 1e6 < high


def test_in_inches_it_is_played_back_in_inches(design_file):
    design_file.write_text(design_file.read_text().replace('system = "mm"', 'system = "inch"'))
    chapter = open_chapter("06")
    guess = asked(chapter)
    assert "lbf/thou" in guess.entry.placeholder
    typed(guess, "60 N/µm")
    assert "You guessed 343 lbf/thou" in repr(chapter.play_back("stiff"))  # 60/4.44822 · 25.4 = 342.6


def test_a_guess_that_cannot_be_kept_says_why(design_file):
    guess = asked(open_chapter("06"))
    design_file.unlink()
    assert "there is no such file" in typed(guess, "60 N/µm")


def test_a_guess_never_asked_is_told(nowhere):
    with pytest.raises(InputProblem, match="run the cell that asks for it first"):
        open_chapter("06").play_back("stiff")
