"""A chapter's calls: bad input ends in sentences, nothing breaks on an absurd design, and what is the demo's is said."""

import re

import pytest
from classroom import NOTEBOOKS, run, words
from IPython.core.interactiveshell import InteractiveShell
from IPython.utils.capture import capture_output
from tiers import many, short_of

from lathe_course.course.chapter import open_chapter
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files import design_file as files
from lathe_course.design.lathe import CHAPTERS, LATHE
from lathe_course.formula import FORMULAS
from lathe_course.units import InputProblem


def kept(path, name):
    return files.load(path, LATHE).choices[name]


@pytest.fixture
def learner():
    """Runs a cell as a notebook does; gives what stands under it."""
    shell = InteractiveShell()

    def cell(source):
        with capture_output(display=False) as seen:
            shell.run_cell(source, store_history=False)
        return re.sub(r"\x1b\[[0-9;]*m", "", seen.stdout + seen.stderr)

    cell("from lathe_course.course import open_chapter")
    return cell


# --- the head ---------------------------------------------------------------------------------------
def test_a_chapter_says_what_it_works_on(nowhere):
    said = repr(open_chapter("06"))
    assert said.startswith("Chapter 06, Spindle and bearings: on the demo “Lathe for the boat shed”")
    assert "shown in mm." in said


def test_a_chapter_says_first_what_is_settled_in_it(nowhere):
    mine = [decision.label for decision in LATHE.decisions.values() if decision.chapter == "06"]
    assert (
        f"You settle here: {mine[0]}; {mine[1]}; {mine[2]} and {len(mine) - 3} more." in repr(open_chapter("06")).splitlines()[:2]
    )
    assert "You settle here" not in repr(open_chapter("14")), "nothing is decided there"


def test_while_nothing_is_one_s_own_a_chapter_leads_to_the_first_round_and_says_no_more(design_file):
    design_file.unlink()
    files.new(design_file)  # as a folder is really laid: what only the learner can ask is open in it
    said = words(open_chapter("06")._repr_mimebundle_()["text/html"])
    assert "Nothing here is yours yet. The first round" in said and "Still from the demo" not in said


def test_a_chapter_run_before_those_it_builds_on_says_whose_figures_it_uses(design_file):
    open_chapter("01").keep(company_share="90 %")
    chapter = open_chapter("06")
    said = repr(chapter)
    assert re.search(r"Still from the demo: chapters 02, .*What you keep there is used here", said)
    assert "Nothing here is yours" not in said
    assert "Still from the demo" in words(chapter._repr_mimebundle_()["text/html"])
    assert "from the demo" in repr(chapter.decisions())
    assert "from the demo" in repr(chapter.why("nose_stiffness"))
    for number in ("02", "04"):
        chapter.keep(
            **{
                name: chapter.session.design.choices[name].written
                for name, decision in LATHE.decisions.items()
                if decision.chapter == number
            }
        )
    still = repr(open_chapter("06")).partition("Still from the demo")[2]
    assert "02" not in still and "04" not in still


def test_chapters_still_from_the_demo_stand_in_their_order(design_file):
    """Chapter 17 rests on 13, whose bench stands before 10 in the chain."""
    open_chapter("01").keep(company_share="90 %")
    found = re.findall(r"\b\d\d\b", repr(open_chapter("17")).split("Still from the demo")[1].splitlines()[0])
    assert len(found) > 6 and found == sorted(found)
    for number in ("02", "05", "09", "13"):
        still = re.findall(r"\b\d\d\b", repr(open_chapter(number)).partition("Still from the demo")[2].split("What you")[0])
        assert all(one < number for one in still), "a chapter rests on those before it, and settles its own"


def test_the_first_chapter_builds_on_nothing(design_file):
    assert "Still from the demo" not in repr(open_chapter("00"))


@pytest.mark.parametrize("number", CHAPTERS)
def test_every_chapter_opens(number, design_file):
    assert CHAPTERS[number] in repr(open_chapter(number))


def test_a_chapter_that_is_not_there():
    with pytest.raises(InputProblem, match="there is no chapter '6'; choose one of 00, 00b, 01"):
        open_chapter("6")


# --- what a learner sees of a mistake ---------------------------------------------------------------
MISTAKES = {
    'chapter.keep(centre_height="75")': "centre height '75' has no unit; is it '75 mm' (or '75 in')? Write the number with its unit.",
    "chapter.keep(centre_height=75)": "centre height 75 has no unit; is it '75 mm' (or '75 in')? Write the number with its unit.",
    'chapter.keep(centre_height="0 mm")': "centre height '0 mm' must be more than zero.",
    'chapter.keep(centre_height="-75 mm")': "centre height '-75 mm' must be more than zero.",
    'chapter.keep(centre_height="75 kg")': "centre height '75 kg' is a mass (kg), but a length is needed, for example '75 mm'.",
    'chapter.keep(centre_height="75 mmm")': "did you mean",
    'chapter.keep(centre_height="seventy-five")': "does not start with a number; write it as in '75 mm'.",
    'chapter.keep(centre_height="")': "write it as in '75 mm'",
    'chapter.keep(centre_height="inf mm")': "centre height",
    'chapter.keep(centre_height="1e400 mm")': "centre height",
    "chapter.keep(centre_height=None)": "centre height",
    'chapter.keep(centre_height=["75 mm", "80 mm"])': "centre height is a list; one figure is needed",
    'chapter.keep(centre_height=dict(low="80 mm", likely="75 mm", high="90 mm"))': "low, likely and high must rise",
    'chapter.keep(centre_hight="75 mm")': "there is no decision called 'centre_hight'; did you mean centre_height",
    'chapter.keep(nose_stiffness="60 N/µm")': "there is no decision called 'nose_stiffness'",
    'chapter.keep(work_material="unobtainium")': "hardest work material cannot be 'unobtainium'; choose one of: mild steel",
    'chapter.keep(bearing_kind="ball")': "choose one of:",
    'chapter.keep(speed_steps="8.5")': "must be a whole number",
    'chapter.what_if(slowest_speed="60 mm")': "but a rotational speed is needed",
    'chapter.what_if(feed="0.1 N")': "but a feed per revolution is needed",
    'chapter.what_if(patience="3 kg")': "but a number of months is needed",
    'chapter.levers("nose_stif_enough")': "did you mean nose_stiff_enough",
    'chapter.room("spindle_taper")': "'spindle_taper' is no figure",
    'chapter.room("nose_stiffness")': "worked out, not decided",
    'chapter.decide("nose_stiffness")': "worked out, not decided",
    'chapter.why("nose_stifness")': "did you mean nose_stiffness",
    'chapter.your_design("nose_stifness")': "did you mean nose_stiffness",
    'chapter.working("nose_stifness")': "did you mean nose_stiffness",
    'chapter.working("centre_height")': "is decided, not worked out",
    'chapter.guess("g", "?", result="bed_form")': "is no figure",
    'chapter.play_back("gess")': "run the cell that asks for it first",
    'chapter.check("?", "nose_stiffness", {"thicker": {"spindle_diameter": "40"}})': "has no unit",
    'chapter.check("?", "nose_stiffness", {"thicker": {"spindel_diameter": "40 mm"}})': "did you mean spindle_diameter",
    'open_chapter("6")': "there is no chapter '6'",
    'open_chapter("06", demo="boatshed")': "no demo called 'boatshed'; did you mean boat_shed?",
}


@pytest.mark.parametrize("source", MISTAKES)
def test_a_mistake_is_a_sentence(source, learner, design_file):
    before = design_file.read_bytes()
    learner('chapter = open_chapter("06")')
    seen = learner(source)
    assert MISTAKES[source] in seen
    assert "Traceback" not in seen and "File " not in seen and "lathe_course" not in seen
    assert all(line.strip()[-1:] in ".?" for line in seen.splitlines() if line.strip()), "whole sentences"
    assert design_file.read_bytes() == before, "nothing was kept"


def test_all_mistakes_are_told_together(learner, design_file):
    learner('chapter = open_chapter("06")')
    seen = learner('chapter.keep(centre_height="75", spindle_diameter="35 kg", bearing_kind="ball", bearing_span="110 mm")')
    assert len(seen.strip().splitlines()) == 3
    assert kept(design_file, "bearing_span").decided == "", "a good one among them is not kept either"


def test_a_good_line_shows_its_ripple(learner, design_file):
    learner('chapter = open_chapter("06")')
    seen = learner('chapter.keep("thicker", spindle_diameter="40 mm")')
    assert "spindle diameter 35 mm → 40 mm" in seen and "what moved" in seen
    assert kept(design_file, "spindle_diameter").reason == "thicker"
    seen = learner('chapter.what_if(spindle_diameter="50 mm")')
    assert "40 mm → 50 mm" in seen
    assert kept(design_file, "spindle_diameter").written == "40 mm", "what_if keeps nothing"


def test_a_range_may_be_typed(learner, design_file):
    learner('chapter = open_chapter("06")')
    learner('chapter.keep(spindle_diameter=dict(low="34 mm", likely="35 mm", high="38 mm"))')
    assert dict(kept(design_file, "spindle_diameter").written) == {"low": "34 mm", "likely": "35 mm", "high": "38 mm"}
    assert " to " in repr(open_chapter("06").your_design("nose_stiffness"))


def test_inches_may_be_typed_in_a_design_in_millimetres(learner, design_file):
    learner('chapter = open_chapter("02")')
    learner('chapter.keep(centre_height="3 in")')
    assert kept(design_file, "centre_height").written == "3 in"
    assert kept(design_file, "centre_height").value == pytest.approx(0.0762)


def test_outside_of_what_a_formula_was_made_for_it_minds(learner, nowhere):
    formula, name, kind = next(
        (formula, name, kind) for formula in FORMULAS.values() for name, kind in formula.inputs.items() if kind.valid
    )
    given = {other: k.example for other, k in formula.inputs.items()} | {name: f"{kind.valid[1] * 1.5:g} {kind.unit}".strip()}
    learner('chapter = open_chapter("04")')
    seen = learner(f"chapter.working({formula.name!r}, **{given!r})")
    assert "Mind: " in seen and "the result is a rough guide only" in seen
    assert "Warning" not in seen and ".py" not in seen


# --- absurd, but possible ---------------------------------------------------------------------------
ABSURD = {
    "work larger than the swing": {"centre_height": "5 mm"},
    "a slide above the centres": {"slide_height": "200 mm"},
    "a bore wider than the spindle": {"spindle_bore": "90 mm"},
    "walls thicker than the bed": {"bed_wall": "300 mm"},
    "a lathe as long as a house, with the motor of a locomotive": {
        "between_centres": "3 m",
        "centre_height": "400 mm",
        "motor_power": "2 MW",
    },
    "a needle for a spindle": {"spindle_diameter": "1 µm", "spindle_bore": "0 mm"},
    "a cut as deep as a hand, no time and no money": {
        "depth_of_cut": "100 mm",
        "feed": "10 mm/rev",
        "hours_can": "0.001 h/month",
        "hours_should": "0.001 h/month",
        "money_can": "0.01 EUR/month",
        "money_should": "0.01 EUR/month",
    },
    "speeds the wrong way round, for no reason": {
        "slowest_speed": "3000 rpm",
        "fastest_speed": "20 rpm",
        **{f"reason_{what}": "0" for what in ("learning", "making", "company", "parts", "saving")},
    },
}


@pytest.mark.parametrize("case", short_of(ABSURD, "speeds the wrong way round, for no reason"))
def test_every_chapter_runs_on_an_absurd_design(case, design_file, monkeypatch):
    """Each design in the chapters that settle it and, by turns, in a quarter of the others; in the long run in every one."""
    chapter = open_chapter("02")
    chapter.keep(**ABSURD[case])
    evaluation = chapter.evaluation
    assert any(finding.status == "fails" for finding in evaluation.findings.values())
    settled_in = {LATHE.decisions[name].chapter for name in ABSURD[case]}
    turn, of = list(ABSURD).index(case), many(4, 1)
    for notebook in (one for place, one in enumerate(NOTEBOOKS) if (place + turn) % of == 0 or one.stem[:2] in settled_in):
        lesson = run(notebook, monkeypatch)
        for shown in lesson.shown:
            for text in (repr(shown), words(getattr(getattr(shown, "widget", None), "value", "") or "")):
                assert not re.search(r"\bnan\b|\binf\b|None", text), f"{notebook.name}: {text[:300]}"
        for keep in lesson.keeps:
            assert "nan" not in words(keep.room)


def test_work_larger_than_the_swing_is_found(nowhere):
    chapter = open_chapter("02")
    chapter.keep(centre_height="50 mm")
    said = repr(chapter.your_design("swing_over_bed"))
    # by hand: twice 50 mm is 100 mm; the flange ring is 120 mm across, and a twentieth more is left for a jaw
    assert "✗ fails  the largest disc clears the bed. 100 mm turns over the bed; the largest disc needs 126 mm." in said
    assert "centre height: from 50 mm to" in repr(chapter.levers("disc_clears_bed"))


def test_a_design_that_cannot_stand_says_so(nowhere):
    chapter = open_chapter("06")
    chapter.keep(spindle_bore="90 mm")
    assert "The bore must be smaller than the diameter of the spindle: spindle diameter 35 mm, spindle bore 90 mm." in repr(
        chapter.your_design("nose_stiffness")
    )
    assert "–" in repr(chapter.your_design("nose_stiffness")), "a figure there is none of is shown as a dash"


# --- reading ----------------------------------------------------------------------------------------
def test_pages_follow_the_design(nowhere):
    chapter = open_chapter("06")
    pages = [
        chapter.your_design("nose_stiffness"),
        chapter.decisions(),
        chapter.all_findings(),
        chapter.levers("nose_stiff_enough"),
        chapter.room("spindle_diameter"),
        chapter.why("nose_stiffness"),
    ]
    before = [page.plain for page in pages]
    chapter.keep(spindle_diameter="22 mm")
    for page, was in zip(pages, before):
        assert page.plain != was
        assert page.widget.value == page._repr_mimebundle_()["text/html"]


def test_what_moved_since_the_chapter_was_opened(nowhere):
    chapter = open_chapter("06")
    assert repr(chapter.ripple()) == "Nothing moved."
    chapter.keep(spindle_diameter="40 mm")
    chapter.keep(bearing_span="120 mm")
    said = repr(chapter.ripple())
    assert "35 mm → 40 mm" in said and "110 mm → 120 mm" in said


def test_what_if_shows_what_keeping_would(nowhere):
    chapter = open_chapter("06")
    tried = repr(chapter.what_if(spindle_diameter="40 mm"))
    assert chapter.session.design["spindle_diameter"] == pytest.approx(0.035)
    assert tried == repr(chapter.keep(spindle_diameter="40 mm"))


def test_results_are_those_of_the_chain(nowhere):
    chapter = open_chapter("06")
    evaluation = evaluate(chapter.session.design, 2000)
    said = repr(chapter.your_design("nose_stiffness", "best_span"))
    assert evaluation.shown_spread("nose_stiffness") in said and evaluation.shown_spread("best_span") in said
    certain = repr(chapter.your_design("nose_stiffness", spread=False))
    assert evaluate(chapter.session.design).shown("nose_stiffness") in certain


def test_what_lies_beyond_what_makes_sense_is_kept_with_a_word_of_warning():
    chapter = open_chapter("06")
    beyond = "Mind: spindle diameter lies beyond 16 mm to 70 mm"
    assert beyond in repr(chapter.what_if(spindle_diameter="900 mm"))
    assert beyond in repr(chapter.keep(spindle_diameter="900 mm"))
    assert beyond in repr(chapter.your_design("nose_stiffness"))
    chapter.decide("spindle_diameter")
    chapter.last_keep._keep()
    assert "<b>Mind:</b> spindle diameter lies beyond" in chapter.last_keep.reply.value
    assert "Mind:" not in repr(chapter.keep(spindle_diameter="36 mm"))


def test_what_a_decision_pushes_on_is_told_by_chapter():
    chapter = open_chapter("15")
    said = repr(chapter.pushes_on("bearing_span"))
    for name in LATHE.downstream("bearing_span"):
        assert LATHE.part(name).label in said or getattr(LATHE.part(name), "kind", "") is None  # a bundle of figures is not told
    chapters = [line[:2] for line in said.splitlines()[1:]]
    assert chapters == sorted(chapters) and {"05", "06", "07", "08", "10", "11", "12"} <= set(chapters), (
        "the machine, and the build of its spindle"
    )
    with pytest.raises(InputProblem, match="worked out, not decided"):
        chapter.pushes_on("nose_stiffness")
