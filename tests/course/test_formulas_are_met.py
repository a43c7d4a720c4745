"""Every formula is met by a learner: the chain works with it, or what they read and play with names it.

The chain is watched while it works, over all demos and every choice, so that a formula
counts only where it really runs.  Elsewhere a name counts where code uses it or quotes it
whole: a word that merely stands in a sentence does not.
"""

import ast
import re
from functools import cache
from pathlib import Path

import nbformat
import pytest
from cases import every
from classroom import NOTEBOOKS

import lathe_course
from lathe_course.course import open_chapter
from lathe_course.course.shown.vouching import what_vouches
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import LATHE
from lathe_course.formula import FORMULAS
from lathe_course.trace import traced

what_vouches()  # brings in every module that defines a formula
HOUSE = Path(lathe_course.__file__).parent


@cache
def run_by_the_chain() -> frozenset[str]:
    """Names of the formulas whose bodies run while the demos are worked out, choice by choice."""
    choices = [(decision.name, option) for decision in LATHE.decisions.values() for option in decision.options]
    here = evaluate(demo())
    with traced() as calls:
        for name in DEMOS:
            evaluate(
                demo(name).with_(decided="", centre_height="73.7 mm")
            )  # a size nobody had yet: what is worked out already calls nothing
        for name, option in choices:
            evaluate(demo().with_(decided="", **{name: option}), earlier=here)  # what no option touches was called above
    return frozenset(call.formula.name for call in calls)


def names_in(code: str) -> set[str]:
    """What a piece of code calls by name, or quotes as a whole string."""
    found = set()
    for node in ast.walk(ast.parse(code)):
        if isinstance(node, ast.Name):
            found.add(node.id)
        elif isinstance(node, ast.Attribute):
            found.add(node.attr)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            found.add(node.value)
    return found


def code_of(path: Path) -> list[str]:
    """The code cells of a chapter, and the calls its text invites to type."""
    cells = nbformat.read(path, 4).cells
    return [cell.source for cell in cells if cell.cell_type == "code"] + [
        call for cell in cells if cell.cell_type == "markdown" for call in re.findall(r"`(chapter\.[^`]*)`", cell.source)
    ]


@cache
def named() -> frozenset[str]:
    """Names in the code of the chapters, in the pages, panels and pictures, and in what readings tell."""
    modules = [
        *(HOUSE / "course").rglob("*.py"),
        *(path for path in (HOUSE / "design").rglob("*.py") if path.parent.name != "chapters"),
    ]
    codes = [*(code for path in NOTEBOOKS for code in code_of(path)), *(path.read_text(encoding="utf-8") for path in modules)]
    return frozenset().union(*map(names_in, codes))


@every("name", FORMULAS)
def test_a_learner_meets_the_formula(name):
    assert name in run_by_the_chain() or name in named(), (
        f"No learner meets {name}: let the chain work with it, or show its working in a chapter."
    )


def test_a_word_in_a_sentence_is_no_meeting():
    assert "weight" not in names_in('show("the weight of the bed")')
    assert {"weight", "bed_mass"} <= names_in('bed_mass(working("weight"))')


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_what_the_text_invites_to_type_can_be_typed(path, nowhere):
    chapter = open_chapter(path.stem.partition("_")[0])
    for call in re.findall(
        r"`(chapter\.[^`]*\))`", "\n".join(cell.source for cell in nbformat.read(path, 4).cells if cell.cell_type == "markdown")
    ):
        assert repr(eval(call, {"chapter": chapter})), call
