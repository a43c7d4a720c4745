"""The chapters as notebooks: each in its frame, tidy when stored, and all in order on one design file."""

import json
import re
import subprocess
import sys
from pathlib import Path

import ipywidgets as widgets
import nbformat
import pytest
from classroom import NOTEBOOKS, cells, run
from IPython.core.formatters import DisplayFormatter
from ipywidgets.widgets.widget import _instances
from nbclient import NotebookClient
from nbformat.v4 import new_code_cell

from lathe_course.course.folder import workspace
from lathe_course.design.files import design_file as files
from lathe_course.design.lathe import CHAPTERS, LATHE

#: chapters whose decisions stand in the chain already, while the notebook comes later
LATER: set[str] = set()
WIDGET = "application/vnd.jupyter.widget-view+json"

#: exercises, and what vouches for the course
PAGES = sorted(
    {*workspace.material("notebooks").glob("*.ipynb"), *workspace.material("exercises").glob("*.ipynb")} - {*NOTEBOOKS}
)

each = pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)


def read(path):
    return nbformat.read(path, as_version=4)


def number(path):
    return path.stem.partition("_")[0]


def text(path):
    """All that is written between the code cells."""
    return "\n\n".join(cell.source for cell in read(path).cells if cell.cell_type == "markdown")


# --- the frame --------------------------------------------------------------------------------------
def test_every_chapter_has_its_notebook_and_every_notebook_its_chapter():
    assert [number(path) for path in NOTEBOOKS] == [chapter for chapter in CHAPTERS if chapter not in LATER]


@each
def test_the_head_says_question_time_and_what_is_needed(path):
    head = read(path).cells[0].source
    assert head.startswith(f"# {number(path)} {CHAPTERS[number(path)]}\n")
    assert re.search(r"^\*\*.+\?\*\*$", head, re.MULTILINE), "the question of the chapter, in bold"
    assert "*You need:*" in head and "Run All Cells" in head
    assert 5 <= int(re.search(r"\*Time:\* (\d+) minutes", head)[1]) <= 30


def test_the_first_answer_comes_in_the_first_half_hour_after_the_first_page():
    start, first_round = (next(path for path in NOTEBOOKS if number(path) == wanted) for wanted in ("00", "00b"))
    assert int(re.search(r"\*Time:\* (\d+) minutes", text(start))[1]) <= 10
    assert int(re.search(r"\*Time:\* (\d+) minutes", text(first_round))[1]) <= 30, "a sitting"


@each
def test_the_first_cell_opens_the_chapter(path):
    assert cells(path)[0] == f'from lathe_course.course import open_chapter\nchapter = open_chapter("{number(path)}")\nchapter'


@each
def test_little_code_is_visible(path):
    sources = cells(path)
    for source in sources:
        most = 6 if source.startswith("chapter.check(") else 4  # a check lists its answers
        assert len(source.splitlines()) <= most, source
        assert len([line for line in source.splitlines() if re.match(r"chapter\.", line)]) <= 1, f"one call a cell: {source}"
    assert len(sources) <= 17
    code, prose = sum(map(len, sources)), len(text(path))
    assert code < prose / 3, f"{code} letters of code beside {prose} of prose"


@each
def test_cautions_stand_where_the_findings_have_them(path):
    cautions = [rule for rule in LATHE.limits.values() if rule.chapter == number(path) and rule.caution]
    if cautions:
        assert "\n## Caution\n" in "\n" + text(path)
        caution = ("\n" + text(path)).split("\n## Caution\n")[1].split("\n## ")[0]
        assert re.search(r"rules|licensed|guidance|local|stamped", caution), "it defers to those who know the place"


@each
def test_the_mentor_s_note_is_folded(path):
    last = [cell for cell in read(path).cells if cell.cell_type == "markdown"][-1].source
    assert (
        last.startswith("<details>")
        and "<summary><b>For the mentor</b></summary>" in last
        and last.rstrip().endswith("</details>")
    )
    assert "<details open" not in text(path)
    assert len(last.split()) > 60, "something to do at a real machine"


@each
def test_only_chapters_that_exist_are_named(path):
    there = {number(path) for path in NOTEBOOKS}
    for named in re.findall(r"[Cc]hapters? (\d\d)", text(path)):
        assert named in there, f"chapter {named}"


@each
def test_every_name_in_a_cell_is_known(path, nowhere, monkeypatch):
    """Running it asks each name of the chain, the pictures and the findings; here every decision is of the chain too."""
    lesson = run(path, monkeypatch)
    everything_made_is_shown(lesson)
    shows_what_is_stored(path, lesson)
    assert lesson.chapter.number == number(path)
    assert all(set(play.controls) <= set(LATHE.decisions) for _, play in lesson.plays)
    decided = [name for keep in lesson.keeps for name in keep.controls]
    assert len(decided) == len(set(decided)), "a decision is settled once in a chapter"
    settled_here = {name for name, decision in LATHE.decisions.items() if decision.chapter == number(path)}
    if settled_here and decided:
        assert settled_here <= set(decided), f"not settled anywhere: {sorted(settled_here - set(decided))}"


# --- what is stored ---------------------------------------------------------------------------------
def shows_what_is_stored(path, lesson):
    """Word for word; a widget has a name of its own each time.  That a kernel says the same is held by nbval, in the continuous check."""
    stored = [cell.get("outputs") for cell in read(path).cells if cell.cell_type == "code"]
    for outputs, shown, source in zip(stored, lesson.shown, cells(path), strict=True):
        made = [] if shown is None else [DisplayFormatter().format(shown)[0]]
        assert [dict(output.data) | {WIDGET: ""} for output in outputs] == [data | {WIDGET: ""} for data in made], source


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.stem)
def test_a_page_beside_the_chapters_shows_what_is_stored(path, nowhere, monkeypatch):
    lesson = run(path, monkeypatch)
    everything_made_is_shown(lesson)
    shows_what_is_stored(path, lesson)


#: what comes into a panel only where there is something for it to do
_ON_NEED = {"Back to my design", "Lay an empty survey", "Read it again", "Write the papers", "a job struck out"}


def everything_made_is_shown(lesson):
    """Every button, box and slider, and every place where something is said, stands in a panel that a cell shows."""

    def within(widget):
        yield widget.model_id
        for child in getattr(widget, "children", ()):
            yield from within(child)

    panels = [*lesson.shown, *lesson.keeps, *(play for _, play in lesson.plays)]
    shown = {one for panel in panels if hasattr(panel, "widget") for one in within(panel.widget)}
    lost = [
        getattr(widget, "description", "") or repr(widget)
        for widget in _instances.values()
        if isinstance(widget, widgets.DOMWidget) and not isinstance(widget, widgets.Box) and widget.model_id not in shown
    ]
    assert not {*lost} - _ON_NEED, f"made and shown nowhere: {lost}"


@each
def test_stored_outputs_hold_nothing_of_one_machine_or_one_day(path):
    notebook = read(path)
    nbformat.validate(notebook)
    assert notebook.metadata.kernelspec.name == "python3" and "widgets" not in notebook.metadata
    for cell in notebook.cells:
        if cell.cell_type != "code":
            assert not cell.get("attachments")
            continue
        assert cell.execution_count and cell.outputs, f"not stored: {cell.source}"
        for output in cell.outputs:
            assert output.output_type in ("execute_result", "display_data") or output.get("name") == "stdout", output
            stored = json.dumps(output)
            for what, pattern in {
                "an address": r"0x[0-9a-f]{6}",
                "a date": r"\b20\d\d-\d\d-\d\d\b",
                "a path": r"(?<![\w/.<])/(home|tmp|root|usr|Users|work|opt)/",
                "a Windows path": r"[A-Z]:\\\\\\\\",
                "an object": r"<[\w.]+ object",
            }.items():
                assert not re.search(pattern, stored), f"{what} in {re.search(pattern, stored)[0]!r} of {cell.source}"


@each
def test_every_widget_has_a_plain_twin(path):
    for cell in read(path).cells:
        for output in cell.get("outputs", ()):
            data = output.get("data", {})
            if WIDGET in data:
                assert data[WIDGET]["model_id"] == "made-when-run"
                twin = data.get("text/plain", "")
                assert twin and "HTML(" not in twin and "VBox(" not in twin, cell.source
            assert "<svg" not in json.dumps(data), "pictures are drawn when the notebook runs"


@each
def test_size_of_the_stored_file(path):
    assert path.stat().st_size < 150_000


# --- all in order -----------------------------------------------------------------------------------
#: the chapter that goes round once more: what others settled may be moved there
REVISES = "15"
#: stands below every guess and every panel of decisions: what a learner's hand does there
_GUESS = """guess = list(chapter._guesses.values())[-1]
guess.entry.value = chapter.evaluation.shown(guess.result)
print(guess.reply.value.split(">")[-4] if "Kept." not in guess.reply.value else "Kept.")"""
_DECIDE = """import json
moved, kept = {}, True
for keep in chapter.last_keeps:
    for name, one in keep.controls.items():
        if one.decision.free_text:
            one.widget.value = one.decision.example or f"our own {name}"
        elif one.decision.numeric and not one.decision.preferred:
            stops = [v for _, v in getattr(one.widget, "options", ())] or [one.widget.value - one.widget.step, one.widget.value + one.widget.step]
            one.widget.value = stops[-1] if one.widget.value < getattr(one.widget, "max", stops[-1]) else stops[0]
    if all(one.decision.options for one in keep.controls.values()):         # nothing but choices: the last is made otherwise
        one.widget.value = next(option for option in one.decision.options if option != one.widget.value)
    keep.reason.value = f"settled in {chapter.number}"
    moved |= {name: one.written for name, one in keep.controls.items() if one.moved}
    keep.button.click()
    kept = kept and "Kept in design.toml." in keep.reply.value
print(json.dumps([moved, kept]))"""
_LAST = "import json; print(json.dumps({name: choice.written for name, choice in chapter.session.design.choices.items()}))"


def attend(path):
    """Run a notebook of a working folder with a learner's hand in it; gives the notebook and what was settled in it."""
    notebook, settled = read(path), {}
    for place in range(len(notebook.cells) - 1, -1, -1):
        source = notebook.cells[place].source
        if notebook.cells[place].cell_type == "code":
            for call, hand in (("chapter.guess(", _GUESS), ("chapter.decide(", _DECIDE)):
                if source.startswith(call):
                    notebook.cells.insert(place + 1, new_code_cell(hand))
    notebook.cells.append(new_code_cell(_LAST))
    NotebookClient(
        notebook, timeout=300, kernel_name="python3", resources={"metadata": {"path": str(path.parent)}}, store_widget_state=False
    ).execute()
    for cell in notebook.cells:
        for output in cell.get("outputs", ()):
            assert output.output_type != "error", f"{path.name}: {output}"  # a callback's error does not stop a run
            assert output.get("name") != "stderr", f"{path.name}: {output}"
        if cell.cell_type == "code" and cell.source == _GUESS:
            assert cell.outputs[0].text.strip() == "Kept.", cell.outputs
        if cell.cell_type == "code" and cell.source == _DECIDE:
            moved, kept = json.loads(cell.outputs[0].text)
            assert kept and moved
            settled |= moved
    return notebook, settled


def plain(notebook):
    """What a notebook shows, as plain text."""
    return "\n".join(
        output.data.get("text/plain", "")
        for cell in notebook.cells
        for output in cell.get("outputs", ())
        if output.output_type == "execute_result"
    )


@pytest.mark.walk
def test_all_chapters_in_order_on_one_design_file(tmp_path):
    settled = attended(tmp_path, NOTEBOOKS)
    assert {LATHE.decisions[name].chapter for name in settled} == {decision.chapter for decision in LATHE.decisions.values()}


def test_a_chapter_works_on_what_another_settled(tmp_path):
    """The shortest piece of the long walk: two chapters after each other, each in a kernel of its own."""
    assert attended(tmp_path, [path for path in NOTEBOOKS if number(path) in ("03", "04")])


def attended(tmp_path, paths):
    """Go through chapters in order with a learner's hand in a new working folder; gives what is settled then."""
    folder = tmp_path / "my-lathe"
    workspace.prepare(folder)
    design = folder / workspace.DESIGN_FILE
    settled, where, before = {}, {}, ""
    for path in [folder / "notebooks" / one.name for one in paths]:
        notebook, here = attend(path)
        assert number(path) == REVISES or not set(here) & set(settled), "each chapter settles its own"
        settled |= here
        where |= dict.fromkeys(here, number(path))
        found = json.loads(notebook.cells[-1].outputs[0].text)
        assert {name: found[name] for name in settled} == settled, f"{path.name} does not work on what was settled before it"
        head = notebook.cells[1].outputs[0].data["text/plain"]
        assert "in design.toml" in head
        assert (
            len(paths) < len(NOTEBOOKS)
            or "Still from the demo" not in head
            or all(chapter in LATER for chapter in re.findall(r"\b\d\d\b", head.split("Still")[1].splitlines()[0]))
        ), head
        if before:
            assert plain(notebook) != plain(read(workspace.material("notebooks") / path.name)), (
                "it shows the demo's figures still"
            )
        before = path.name
    kept = files.load(design, LATHE)
    assert {name for name, choice in kept.choices.items() if choice.decided} >= set(settled)
    for name, written in settled.items():
        assert kept.choices[name].written == written
        assert kept.choices[name].reason == f"settled in {where[name]}"
    assert set(kept.guesses) == {number(path) for path in paths if "chapter.guess(" in "\n".join(cells(path))}
    for name, written in settled.items():
        if LATHE.decisions[name].free_text:
            assert written == (LATHE.decisions[name].example or f"our own {name}")
    return {name for name, choice in kept.choices.items() if choice.decided}


@pytest.mark.walk
def test_stored_outputs_are_made_by_the_tool_that_is_named(tmp_path):
    """The script that stores outputs gives a notebook back as it lies here."""
    path = NOTEBOOKS[0]
    copy = tmp_path / path.name
    copy.write_bytes(path.read_bytes())
    script = Path(__file__).parents[1] / "store_outputs.py"
    subprocess.run([sys.executable, script, copy], check=True, timeout=300, capture_output=True)
    assert copy.read_text(encoding="utf-8") == path.read_text(encoding="utf-8")
