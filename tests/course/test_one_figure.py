"""One figure for one thing: whatever page, terminal or brief tells under a label of the chain is that figure and no other.

A label stands for one decision, figure, result or finding.  Where it stands at the head of a line or row, what
follows is its value of the plan, its median or its four fifths; beside a change, its value before.
"""

import html
import re

import nbformat
import numpy as np
import pytest
from classroom import NOTEBOOKS, run, working_folder
from tiers import LONG, many

from lathe_course import units
from lathe_course.course.printed.brief import write_brief
from lathe_course.course.shown.plain_text import findings_text
from lathe_course.course.teaching.side_by_side import compare_text
from lathe_course.design.asked.on_course import whose
from lathe_course.design.chain.luck import DRAWS
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import LATHE

SEED = 61
FIGURES = {
    LATHE.part(name).label: name
    for name in (*LATHE.figures, *LATHE.results, *LATHE.decisions)
    if LATHE.part(name).kind is not None
}
FINDINGS = {limit.label: name for name, limit in LATHE.limits.items()}
_MARKS = "✓≈✗?"


def random_design(number):
    """A demo with some decisions moved by a plain step or two, and so with figures of its own."""
    rng = np.random.default_rng([SEED, number])
    start = demo(list(DEMOS)[number % len(DEMOS)])
    moved = {}
    for name, decision in LATHE.decisions.items():
        if decision.numeric and decision.movable and not decision.preferred and rng.random() < 0.15:
            values, own = decision.values(), start[name]
            moved[name] = float(
                values[np.clip(np.argmin(abs(values - float(np.median(own)))) + rng.integers(-2, 3), 0, len(values) - 1)]
            )
    return start.trying(**moved)


def told(name, *worked_out):
    """The ways in which a figure may be told."""
    return {one.shown(name, digits) for one in worked_out for digits in range(2, 6)} | {
        one.shown_spread(name, digits) for one in worked_out for digits in (2, 3)
    }


_NUMBER = r"[-−]?\d[\d.]*(?: to [-−]?\d[\d.]*)?"


def figure_in(cell, name):
    """The figure at the head of a cell, if it is one of this kind with its unit; of a change, that before it."""
    unit = units.unit_text(LATHE.part(name).kind, "mm")
    found = re.match(
        rf"(?:from (?P<before>{_NUMBER} ?{re.escape(unit)}) to .*|(?P<now>{_NUMBER} ?{re.escape(unit)}))(?![\w/²])", cell
    )
    return found and (found["before"] or found["now"]).strip() if unit else None


def lines(markup):
    """A page of HTML as lines of cells, two spaces between them."""
    rows = re.sub(r"</t[dh]>\s*<t[dh][^>]*>|</dt>\s*<dd[^>]*>", "  ", markup)
    rows = re.sub(r"</tr>|</div>|</p>|</li>|<br>|</h\d>", "\n", rows)
    return html.unescape(re.sub(r"<style>.*?</style>|<svg.*?</svg>|<[^>]+>", "", rows, flags=re.DOTALL))


_ROW = re.compile(r"^\s*(?:\S{1,8}  +)?(?P<label>[^\s:=].*?)(?:: | = |\s{2,})(?P<rest>.*)$")


def two_figures(text, *worked_out):
    """Lines that tell under a label of the chain what it does not stand for."""
    wrong = []
    for line in text.splitlines():
        row = _ROW.match(line)
        if row is None:
            continue
        label, cells = row["label"], re.split(r"\s{2,}", row["rest"].strip())
        if label in FIGURES:
            said = figure_in(cells[0], FIGURES[label])
            if said and said not in told(FIGURES[label], *worked_out):
                wrong.append(f"{line.strip()[:100]} | {sorted(told(FIGURES[label], *worked_out))}")
        elif (
            label in FINDINGS
            and cells[0][:1] in _MARKS
            and cells[0][2:].split(" ")[0] not in ("", *(one.findings[FINDINGS[label]].status for one in worked_out))
        ):
            wrong.append(line.strip()[:120])
    for mark, status, label, sentence in re.findall(rf"([{_MARKS}]) (holds|tight|fails|open)  +([^.\n]+)\. ([^\n]*)", text):
        name = FINDINGS.get(label.strip())
        if name and not any(
            one.findings[name].status == status and one.findings[name].sentence.startswith(sentence[:30]) for one in worked_out
        ):
            wrong.append(f"{mark} {status} {label}. {sentence}"[:160])
    return wrong


def test_a_label_stands_for_one_thing():
    labels = [part.label for group in (LATHE.decisions, LATHE.figures, LATHE.results, LATHE.limits) for part in group.values()]
    assert sorted(labels) == sorted(set(labels))


def test_two_findings_do_not_ask_one_question():
    """One figure against one limit is one finding; and whatever waits for the end of the build is held against patience twice, as one can and as one should."""
    asked = [(limit.value, limit.sense, limit.limit) for limit in LATHE.limits.values()]
    assert len(asked) == len(set(asked))
    assert {name for name, limit in LATHE.limits.items() if limit.limit == "patience"} == {
        "finished_in_time",
        "finished_in_balance",
    }
    assert {name for name, limit in LATHE.limits.items() if limit.limit == "mass_limit"} == {"place_bears_parts"}


def test_the_walk_finds_a_second_figure():
    e = evaluate(demo())
    drawn = evaluate(demo(), DRAWS)
    assert two_figures("mass of the machine: 60.8 kg\nmass of the machine   61 kg  of it", e, drawn) and two_figures(
        "✗ fails  the place bears the mass. It is too heavy.", e, drawn
    )
    assert not two_figures(
        f"mass of the machine: {e.shown('parts_mass')}\nmass of the machine   {e.shown('parts_mass')}  more", e, drawn
    )


CASES = [*list(DEMOS)[: many(0, len(DEMOS))], *range(many(1, 24))]


@pytest.mark.parametrize("case", CASES)
def test_terminal_and_brief_tell_one_figure_for_one_thing(case, tmp_path):
    design = demo(case) if isinstance(case, str) else random_design(case)
    e, drawn = evaluate(design), evaluate(design, DRAWS)
    write_brief(design, tmp_path / "brief.html")
    brief = lines((tmp_path / "brief.html").read_text(encoding="utf-8"))
    texts = {"findings": findings_text(design), "compare": compare_text([design, design]), "brief": brief}
    assert {where: wrong for where, text in texts.items() if (wrong := two_figures(text, e, drawn))} == {}
    for name in ("parts_mass", "cash_total", "months_to_finish", "used_price"):
        label = re.escape(LATHE.part(name).label)
        assert all(re.search(rf"^\s*{label}(: |\s\s)", texts[where], re.MULTILINE) for where in ("compare", "brief")), name


def test_stored_chapters_tell_one_figure_for_one_thing():
    """As they are kept with the notebooks, which are run and compared word for word elsewhere."""
    wrong = {}
    for notebook in NOTEBOOKS:
        told = [
            output["data"]["text/plain"]
            for cell in nbformat.read(notebook, as_version=4).cells
            if cell.cell_type == "code"
            for output in cell.outputs
            if "text/plain" in output.get("data", {})
        ]
        if found := two_figures("\n".join(told), *_worked_out(demo(), notebook)):
            wrong[notebook.stem] = found
    assert wrong == {}


def _worked_out(design, notebook):
    """Chapter 16 tells the log that comes with the demo as well, and says so."""
    designs = [design] + ([whose(evaluate(design), "invented").design] if notebook.stem.startswith("16") else [])
    return [evaluate(one, draws) for one in designs for draws in (None, DRAWS)]


@pytest.mark.skipif(not LONG, reason="every chapter is run for each demo")
@pytest.mark.parametrize("start", DEMOS)
def test_chapters_tell_one_figure_for_one_thing(start, tmp_path, monkeypatch):
    path = working_folder(tmp_path / "my-lathe", start)
    monkeypatch.chdir(path.parent / "notebooks")
    wrong = {}
    for notebook in NOTEBOOKS:
        lesson = run(notebook, monkeypatch)
        if found := two_figures(
            "\n".join(repr(one) for one in lesson.shown if one is not None), *_worked_out(lesson.chapter.session.design, notebook)
        ):
            wrong[notebook.stem] = found
    assert wrong == {}
