"""What vouches for the course is told as it is: weakest first, differences seen, nothing left out."""

import re

import nbformat
import numpy as np
import pytest
from cases import every
from classroom import cells
from drawn_pictures import covering, noted

from lathe_course.course import what_vouches
from lathe_course.course.folder import workspace
from lathe_course.course.pictures.beside_measured import Beside, beside_picture
from lathe_course.course.pictures.style import Canvas
from lathe_course.course.shown import beside_measured
from lathe_course.course.shown.shared_luck import CAUSES, sharers
from lathe_course.course.shown.vouching import WORTH
from lathe_course.course.text.markup import escape
from lathe_course.design.asked.predictions import first_told, kind_of
from lathe_course.design.chain.luck import SHARED
from lathe_course.evidence import EVIDENCE, Check, SecondProgram, standing
from lathe_course.evidence.measured import GROUPS, measured, predictions
from lathe_course.formula import FORMULAS
from lathe_course.units import InputProblem, in_unit, number, read


@pytest.fixture(scope="module")
def vouching():
    return what_vouches()


def test_every_formula_is_there_once_and_the_weakest_come_first(vouching):
    names = [one.formula.name for one in vouching.found]
    assert sorted(names) == sorted(FORMULAS) and len(set(names)) == len(names)
    ranks = [one.rank for one in vouching.found]
    assert ranks == sorted(ranks, reverse=True)
    assert sum(map(len, vouching.rooms.values())) == len(names)


def test_it_is_told_in_short_and_adds_up(vouching):
    told = str(vouching.in_short())
    assert sum(int(n) for n in re.findall(r"^[a-z ]+?  +(\d+) ", told, re.MULTILINE)) == len(vouching.found)
    assert set(WORTH) == {*EVIDENCE, "none"} and "No formula differs" in told


def test_a_figure_stands_beside_the_books_in_the_units_of_the_book(vouching):
    page = vouching.of("cutting_speeds")
    assert re.search(r"<td>549 rpm</td><td>549\.\d rpm</td><td>[\d.]+ %</td><td>holds</td>", page._repr_html_())
    assert "Spindle speed that gives a wanted cutting speed" in str(page) and not page.markup.split("<details>")[0], (
        "at first sight a module is one line"
    )
    assert "bearing top speed" in str(vouching.weakest())


def test_what_it_says_reads_as_plain_words(vouching):
    pages = [str(vouching.of(room)) for room in vouching.rooms]
    assert not any("`" in page or "apart none" in page or "apart compared" in page for page in pages)
    assert any("no difference seen" in page for page in pages) and any("apart within" in page for page in pages)
    assert max(map(len, repr(vouching).splitlines())) <= 80
    same_ends = re.findall(r"<td>([\d.]+) to ([\d.]+), likely", vouching.judged_figures()._repr_html_())
    assert same_ends and all(low != high for low, high in same_ends)


def test_a_book_that_says_otherwise_is_not_hidden(vouching, monkeypatch):
    wrong = Check(
        "x.toml",
        "a",
        "spindle_speed",
        {"cutting_speed": "30 m/min", "diameter": "40 mm"},
        "300 rpm",
        "made up",
        "recalled from memory",
        "definition",
        tolerance=0.01,
    )
    monkeypatch.setattr(standing, "checks", lambda: (wrong,))
    found = type(vouching)(standing.standings())
    assert "Beyond what was allowed: spindle speed." in str(found.in_short())
    assert re.search(
        r"<td>300 rpm</td><td>238\.7 rpm</td><td>20 %</td><td>differs</td>", found.of("cutting_speeds")._repr_html_()
    )


@pytest.mark.parametrize(
    ("within", "allowed", "said"),
    [
        (1e-6, 1e-9, "within 1 in 1,000,000"),
        (1e-5, 2e-3, "within 1 in 100,000"),
        (1e-5, 2.7e-6, "within 1 in 100,000"),
        (1e-4, 1e-4, "within 1 in 10,000"),
        (1e-3, 3e-4, "within 0.03 %"),
        (1e-3, 0.01, "within 0.1 %"),
        (0.05, 0.035, "within 3.5 %"),
        (0.2, 0.5, "within 20 %"),
        (0.0, 0.0, "compared by behaviour"),
    ],
)
def test_how_far_a_second_program_is_apart_is_told_as_a_ceiling(within, allowed, said, monkeypatch):
    one = SecondProgram(
        "test_it", "Another way.", ("spindle_speed",), "second program", "definition", within=within, allowed=allowed
    )
    monkeypatch.setattr(standing, "second_programs", lambda: (one,))
    piece = next(
        piece
        for found in standing.standings()
        if found.formula.name == "spindle_speed"
        for piece in found.pieces
        if piece.case == "Another way"
    )
    assert (piece.apart, piece.verdict) == (said, "holds")


def test_an_unknown_room_is_told(vouching):
    with pytest.raises(InputProblem, match="no formulas in 'spindel'.*spindle"):
        vouching.of("spindel")


def test_judged_figures_are_counted_by_chapter_and_listed(vouching):
    page = vouching.judged_figures()
    assert "topslide or block" in page._repr_html_() and re.search(r"08 Rigidity: \d+ judged figures", str(page))


def test_every_figure_that_shares_its_luck_is_told_under_what_it_shares(vouching):
    page = str(vouching.shared_luck()) + vouching.shared_luck()._repr_html_()
    told = sharers()
    assert set(told) <= set(CAUSES) and {cause for luck in SHARED.values() for cause, _ in luck} <= set(CAUSES)
    for cause, rows in told.items():
        assert re.search(rf"{CAUSES[cause]}: {len(rows)} figures?\b", page)
        assert all(escape(label) in page for label, _ in rows)
    assert "49 %" in page and "the other way round" in page  # 0.7 of hands, and of the stiffness that good hands raise


# --- beside what was measured ---------------------------------------------------------------------------
def test_how_many_of_all_the_range_holds_is_told_and_counted(vouching):
    told = str(vouching.beside_measured())
    known, theirs = predictions(), measured()
    ends = {id: [in_unit(end, kind_of(one)) for end in first_told(one)] for id, one in known.items()}
    held = [
        id
        for id, (low, _, high) in ends.items()
        if low <= in_unit(read(theirs[id].figure, kind_of(known[id]), id), kind_of(known[id])) <= high
    ]
    assert f"Our range as first told holds {len(held)} of {len(known)} measured figures" in told
    assert len(re.findall(r"(?:holds it|does not)(?:; holds it today)?  +\S", told)) == len(known)


def test_how_many_times_as_wide_a_range_would_keep_its_word():
    """Ranges from 5 to 20 about 10: of five figures the fourth furthest lies at 40, twice as far off in ratios as the end; within 5 to 20 nothing is missing."""

    def line(figure):
        return Beside("", np.array([5.0, 10.0, 20.0]), np.array([5.0, 10.0, 20.0]), figure, "", False)

    assert beside_measured.widened([line(figure) for figure in (10.0, 12.0, 20.0, 40.0, 40.0)]) == pytest.approx(2.0)
    assert beside_measured.widened([line(figure) for figure in (10.0, 8.0, 5.0, 2.5, 2.5)]) == pytest.approx(2.0)
    assert beside_measured.widened([line(figure) for figure in (9.0, 10.0, 11.0)]) == 1.0
    told = str(beside_measured.measured_page())
    found = [beside_measured.lines()[id] for id, one in predictions().items() if one.group == "cutting force"]
    assert re.search(rf"cutting force +15 +[\d.]+ +{number(beside_measured.widened(found), 2)}\b", told)


@every("group", GROUPS)
def test_bars_and_marks_lie_where_the_figures_are(group):
    known, theirs = predictions(), measured()
    ids = [id for id, one in known.items() if one.group == group]
    kind = kind_of(known[ids[0]])
    picture = beside_picture(group, GROUPS[group], kind, [beside_measured.lines()[id] for id in ids])
    with pytest.MonkeyPatch.context() as patch:
        texts = noted(patch)
        canvas = Canvas()
        canvas.draw(picture, None)
    (axes,) = canvas.figure(picture, None).axes
    bars = [patch for patch in axes.patches if patch.get_gid() == "ours"]
    marks = [line for line in axes.lines if line.get_gid() == "measured"]
    assert len(bars) == len(marks) == len(ids)
    for id, bar, mark in zip(ids, bars, marks):
        low, _, high = (in_unit(end, kind) for end in first_told(known[id]))
        figure = in_unit(read(theirs[id].figure, kind, id), kind)
        assert (bar.get_x(), bar.get_x() + bar.get_width()) == pytest.approx((low, high))
        assert mark.get_xdata()[0] == pytest.approx(figure)
        assert (mark.get_markerfacecolor() == "white") == (not low <= figure <= high)  # never told by colour alone
        assert theirs[id].figure in picture.words(None)
    assert not list(covering(texts)) and not any("…" in words for words, _ in texts)


# --- the notebook -------------------------------------------------------------------------------------
NOTEBOOK = workspace.material("notebooks") / "what_vouches_for_it.ipynb"


def test_every_room_of_formulas_has_its_place_in_the_notebook(vouching):
    asked = [
        name
        for source in cells(NOTEBOOK)
        for call in re.findall(r"vouching\.of\((.*)\)", source)
        for name in re.findall(r'"(\w+)"', call)
    ]
    assert sorted(asked) == sorted(vouching.rooms), "a room of formulas is missing in the notebook, or stands there twice"


def test_the_notebook_is_stored_and_of_bearable_size():
    notebook = nbformat.read(NOTEBOOK, as_version=4)
    assert all(cell.outputs for cell in notebook.cells if cell.cell_type == "code")
    assert NOTEBOOK.stat().st_size < 700_000
