"""Hand-outs: every chapter as one page, with pictures and typeset formulas, without code, and nothing of a handed-on copy is run."""

import functools
import html
import json
import re
from dataclasses import replace

import nbformat
import pytest
from classroom import NOTEBOOKS, working_folder
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output
from tiers import short_of

from lathe_course.command import main
from lathe_course.course import chapter as chapter_module
from lathe_course.course.printed.handout import chapter_path, handout
from lathe_course.course.printed.prose import prose, without_calls
from lathe_course.course.printed.typeset import formula, typeset
from lathe_course.course.session import Session
from lathe_course.formula import FORMULAS
from lathe_course.units import InputProblem

NUMBERS = [path.stem.partition("_")[0] for path in NOTEBOOKS]
#: a call, a name in a call, or what only a screen has
CODE = re.compile(r"\bchapter\.\w|open_chapter|\b\w+\(\"|Run All|\bimport\b [a-z]|=\"\w")
PNG = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="


@functools.cache
def made(number, system="mm"):
    session = Session(alone=True)
    session.design = replace(session.design, system=system)
    return handout(chapter_path(number), session)


def words(page):
    """What a reader sees of the page, pictures left out."""
    body = re.sub(r"<(svg|style)\b.*?</\1>", " ", page, flags=re.DOTALL)
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", body)).split())


def copy_of(folder, cells, name="06_mine.ipynb"):
    """A notebook of one's own beside one's own design, which opens chapter 06."""
    path = working_folder(folder).parent / "notebooks" / name
    opening = new_code_cell('from lathe_course.course import open_chapter\nchapter = open_chapter("06")\nchapter')
    path.write_text(nbformat.writes(new_notebook(cells=[opening, *cells])), encoding="utf-8")
    return path


@pytest.mark.parametrize(
    "chapter",
    short_of([*((number, "mm") for number in NUMBERS), ("06", "inch")], ("00b", "mm"), ("06", "mm"), ("06", "inch")),
    ids="-".join,
)
def test_every_chapter_is_one_page_without_code(chapter):
    number, _ = chapter
    page = made(*chapter)
    assert not page.failed
    assert not re.search(r"<script|<link|<iframe|@import|url\((?!#)|(?:src|xlink:href)=\"(?!data:|#)|\son\w+=", page.markup), (
        "nothing is fetched or run"
    )
    said = words(page.markup)
    assert not CODE.search(said), CODE.search(said)
    assert "$" not in said and "\\frac" not in said and "<style>" not in page.markup.partition("<main")[2]
    pictures = re.findall(r"<svg\b[^>]*role=\"img\"[^>]*>(.{0,40000}?)(?:</desc>|<path)|(<img\b[^>]*>)", page.markup, re.DOTALL)
    assert page.markup.count("<svg") == len(re.findall(r"<svg\b[^>]*role=\"img\"", page.markup)), (
        "every drawing is a picture that is read aloud"
    )
    for root in re.findall(r"<svg\b[^>]*>(?:<title[^>]*>[^<]+</title><desc[^>]*>[^<]+)?", page.markup):
        assert re.search(r'aria-label="[^"]+"', root) or "</title><desc" in root, root[:200]
    assert number in ("00", "10", "14") or len(pictures) >= 1
    names = re.findall(r' id="([^"]+)"', page.markup)
    assert len(names) == len(set(names)), "no two parts of a page share a name"
    # what the cells show is there: every working is set, every play has its picture, and the chapter ends with its caution
    cells = [cell.source for cell in nbformat.read(chapter_path(number), 4).cells]
    workings = sum(cell.startswith("chapter.working(") for cell in cells)
    assert page.markup.count('<table class="formula"') >= workings
    assert page.markup.count("<figure") == sum(cell.startswith("chapter.play(") for cell in cells)
    assert ("Caution" in said) == any("## Caution" in cell for cell in cells)
    assert "For the mentor" not in said


def test_figures_are_of_the_design_and_in_its_units():
    assert "35 mm" in words(made("06").markup)
    assert re.search(r"1\.38 in\b", words(made("06", "inch").markup)), "35 mm in inches"


def test_the_mentor_s_note_comes_when_asked_for():
    page = handout(chapter_path("06"), Session(alone=True), mentor=True)
    assert "At a real lathe, ten minutes." in words(page.markup) and not CODE.search(words(page.markup))


# --- a copy of one's own ---------------------------------------------------------------------------------
def test_a_copy_of_one_s_own_on_one_s_own_design(tmp_path, capsys):
    path = copy_of(
        tmp_path / "mine",
        [
            new_markdown_cell("## What we found\nWe measured `chapter.working` twice & liked $a^2$."),
            new_code_cell('chapter.your_design("nose_stiffness")'),
            new_markdown_cell(
                "![our bench](attachment:bench.png) and ![gone](http://somewhere.invalid/x.png)",
                attachments={"bench.png": {"image/png": PNG}},
            ),
            new_code_cell("2 + 2", outputs=[new_output("execute_result", {"text/plain": "4 <b>"})]),
        ],
    )
    design = path.parents[1] / "design.toml"
    design.write_text(
        design.read_text("utf-8").replace(
            '[decisions.spindle_diameter]\nvalue = "35 mm"', '[decisions.spindle_diameter]\nvalue = "41 mm"'
        ),
        encoding="utf-8",
    )
    before = {one: one.read_bytes() for one in path.parents[1].rglob("*") if one.is_file()}
    assert main(["handout", str(path), "--to", str(tmp_path / "out.html")]) == 0
    page = (tmp_path / "out.html").read_text("utf-8")
    assert "chapter.working twice & liked" in words(page), "what one wrote oneself stands as it was written"
    assert 'alt="our bench" src="data:image/png' in page and "somewhere.invalid" not in page and "[gone]" in page
    assert "<pre>4 &lt;b&gt;</pre>" in page, "another cell is told by what it showed"
    stiff = re.search(r"stiffness at the spindle nose ([\d.]+)", words(page))[1]
    assert float(stiff) > float(re.search(r"stiffness at the spindle nose ([\d.]+)", words(made("06").markup))[1]), (
        "a thicker spindle is stiffer"
    )
    assert before == {one: one.read_bytes() for one in path.parents[1].rglob("*") if one.is_file()}, (
        "nothing of the folder is touched"
    )


def test_a_notebook_that_keeps_its_text_as_lines_says_the_same(tmp_path):
    """Both are allowed by the format of notebooks, version 4: a text, or a list of its lines with their ends."""
    path = copy_of(tmp_path / "mine", [new_markdown_cell("## Found\nFirst line\ngoes on.\n\n- one\n- two")])
    notebook, pages = json.loads(path.read_text(encoding="utf-8")), []
    for shape in (lambda text: text, lambda text: text.splitlines(keepends=True)):
        for cell in notebook["cells"]:
            cell["source"] = shape("".join(cell["source"]))
        path.write_text(json.dumps(notebook), encoding="utf-8")
        pages.append(handout(path, Session(path.parents[1])).markup)
    assert pages[0] == pages[1] and "First line goes on." in words(pages[0])


def test_nothing_that_lies_in_a_notebook_is_run(tmp_path):
    flag = tmp_path / "run"
    cells = [
        f"open({str(flag)!r}, 'w')",
        f"chapter.show(open({str(flag)!r}, 'w').name)",
        'chapter.keep("because", spindle_diameter="50 mm")',
        "chapter.brief()",
        "chapter.__init__('07', None)",
        "chapter.session.keep('x', spindle_diameter='50 mm')",
        "chapter.show('way_page'); chapter",
        "chapter.show(",
        "(" * 400,
    ]
    path = copy_of(
        tmp_path / "theirs",
        [
            *map(new_code_cell, cells),
            new_markdown_cell("<script>alert(1)</script><img src=x onerror=alert(1)>\n\n[here](javascript:alert(1)) `<script>`"),
            new_code_cell(
                "x",
                outputs=[
                    new_output(
                        "display_data",
                        {"text/html": "<script>1</script>", "image/svg+xml": "<svg onload='x'/>", "image/png": '"><script>'},
                    )
                ],
            ),
        ],
    )
    design = (path.parents[1] / "design.toml").read_bytes()
    page = handout(path, Session(path.parents[1]))
    assert (
        not flag.exists()
        and (path.parents[1] / "design.toml").read_bytes() == design
        and not (path.parents[1] / "brief.html").exists()
    )
    assert not re.search(r"<script|<img|javascript:|onload", page.markup) and "&lt;script" in page.markup


# --- what goes wrong -------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "content, told",
    [
        (b"{", "damaged"),
        (b"[1]", "damaged"),
        (b'{"cells": 3}', "damaged"),
        (b"\xff\xfe", "damaged"),
        (json.dumps(new_notebook()).encode(), "opens no chapter"),
        (json.dumps(new_notebook(cells=[new_code_cell("chapter = open_chapter('99')")])).encode(), "opens no chapter"),
    ],
)
def test_a_damaged_notebook_is_told_in_a_sentence(tmp_path, capsys, content, told):
    path = tmp_path / "06_mine.ipynb"
    path.write_bytes(content)
    assert main(["handout", str(path), "--demo", "cabin", "--to", str(tmp_path / "out.html")]) == 2
    said = capsys.readouterr().err
    assert told in said and "06_mine.ipynb" in said and "Traceback" not in said
    assert not (tmp_path / "out.html").exists()


@pytest.mark.parametrize(
    "words_given, told",
    [
        (["99"], "no chapter '99'"),
        (["nowhere.ipynb"], "cannot be read"),
        (["06", "--to", "x.pdf"], "must end in .html"),
        (["06", "--to", "no/such/place/x.html"], "not written"),
    ],
)
def test_what_cannot_be_made_is_told(tmp_path, monkeypatch, capsys, words_given, told):
    monkeypatch.chdir(tmp_path)
    assert main(["handout", *words_given, "--demo", "cabin", *([] if "--to" in words_given else ["--to", "x.html"])]) == 2
    assert told in capsys.readouterr().err


def test_a_part_that_fails_is_told_on_the_page_and_the_rest_stands(monkeypatch, tmp_path, capsys):
    def broken(self, *given, **more):
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr(chapter_module.Chapter, "working", broken)
    assert main(["handout", "06", "--demo", "boat_shed", "--to", str(tmp_path / "out.html")]) == 0
    sentence = "Part 10 of 06_spindle_and_bearings.ipynb could not be made for this design: ZeroDivisionError: division by zero"
    page = words((tmp_path / "out.html").read_text("utf-8"))
    assert sentence in page and sentence in capsys.readouterr().err
    workings = sum(cell.source.startswith("chapter.working(") for cell in nbformat.read(chapter_path("06"), 4).cells)
    assert "What holds the work" in page and page.count("could not be made") == workings


def test_a_design_that_cannot_be_read_is_told_and_no_demo_stands_in(tmp_path, capsys):
    design = working_folder(tmp_path / "mine")
    design.write_text("not toml [", encoding="utf-8")
    assert main(["handout", "06", str(design), "--to", str(tmp_path / "out.html")]) == 2
    assert "design.toml" in capsys.readouterr().err and not (tmp_path / "out.html").exists()


# --- formulas --------------------------------------------------------------------------------------------
def test_every_equation_of_the_course_can_be_set():
    in_letters = [name for name, one in FORMULAS.items() if "<svg" not in formula(one.equation)]
    assert not in_letters


def test_a_formula_is_read_aloud_and_a_strange_one_stands_in_letters():
    assert 'aria-label="v = π d n"' in formula(r"v = \pi d n")
    assert formula(r"\nosuchthing{x}").startswith("<span>")
    assert typeset("costs 3 $ and 4 $ more") == "costs 3 $ and 4 $ more"
    page = typeset("$$\\begin{aligned}\na &= b + c\\\\[4pt]\na &= 3\n\\end{aligned}$$")
    assert page.count("<tr>") == 2 and page.count("<svg") == 4 and 'aria-label="= b + c"' in page


# --- prose -----------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "source, left",
    [
        ('It has no source (`chapter.show("x")` has it); see.', "It has no source; see."),
        ('Put it in: `chapter.keep(a="4 kN")`. Then go on.', "Put it in. Then go on."),
        ('Ask for it, for example `chapter.levers("x")`; and `chapter.why("y")` opens it.', "Ask for it."),
        ('All are honest; ask `chapter.levers("x")`.\nNext', "All are honest.\nNext"),
        ('`chapter.show("x")` tells it. Write `75 mm`.', "Write `75 mm`."),
        ('**More.** `chapter.show("x")` tells.\n\nB', "\nB"),
        ("- Stuck? *Run All Cells* again. A name is answered.\n- Two", "- Stuck? A name is answered.\n- Two"),
        ("Nothing. Here, 3.5 mm; e.g. this.", "Nothing. Here, 3.5 mm; e.g. this."),
    ],
)
def test_calls_go_out_of_the_prose_by_the_piece_or_the_sentence(source, left):
    assert without_calls(source).strip(" ") == left


def test_markdown_becomes_markup():
    page = prose("# Head\n\n**Bold** <details><summary>S</summary>\n\n- a\n</details>\n\n[there](x.ipynb)")
    assert re.search(r"<h1[^>]*>Head</h1>", page) and "<strong>Bold</strong>" in page and "<details>" in page and "<li>a" in page
    assert "there" in page and "<a" not in page


def test_the_course_has_a_hand_out_of_every_chapter_by_number():
    assert [chapter_path(number) for number in NUMBERS] == NOTEBOOKS
    with pytest.raises(InputProblem, match="did you mean"):
        chapter_path("6")


def test_a_word_of_the_trade_leads_to_its_line_where_it_is_first_met():
    page = made("09").markup
    lines = dict(re.findall(r'<dt id="([^"]+)"><b>[^<]+</b></dt><dd>([^<]+)</dd>', page))
    assert lines["word-gib"].startswith("A thin strip in a slide")
    leads = re.findall(r'<a class="word" href="#([^"]+)">([^<]+)</a>', page)
    assert dict(leads).keys() == lines.keys() and len(leads) == len(lines), "each once, and each line is led to"
    assert ("word-leadscrew", "leadscrew") in leads and page.index("word-leadscrew") == page.index('href="#word-leadscrew') + len(
        'href="#'
    )
    before = page[: page.index('href="#word-leadscrew')]
    assert "leadscrew" not in words(re.sub(r"<h\d\b.*?</h\d>", "", before, flags=re.DOTALL)), (
        "it is the first place, headings apart"
    )
