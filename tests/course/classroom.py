"""What tests of the course share: its notebooks run cell by cell in this process, a working folder, and a learner's hand."""

from __future__ import annotations

import ast
import functools
import html
import re
import shutil
import tempfile
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import ipywidgets as widgets
import nbformat

from lathe_course.course import chapter as chapter_module
from lathe_course.course.folder import workspace
from lathe_course.course.shown.check import WhichCheck
from lathe_course.course.shown.play import Keep, Play
from lathe_course.design.demos import demo_text

#: the chapters; what vouches for the course is a page beside them
NOTEBOOKS = sorted(workspace.material("notebooks").glob("[0-9][0-9]*_*.ipynb"))


def cells(path: Path) -> list[str]:
    """The code cells of a notebook, as text."""
    return [cell.source for cell in nbformat.read(path, as_version=4).cells if cell.cell_type == "code"]


@dataclass
class Lesson:
    """One notebook that was run: what its cells gave, and every panel they made."""

    path: Path
    names: dict[str, Any] = field(default_factory=dict)
    shown: list[Any] = field(default_factory=list)
    plays: list[tuple[str, Play]] = field(default_factory=list)
    keeps: list[Keep] = field(default_factory=list)
    checks: list[WhichCheck] = field(default_factory=list)

    @property
    def chapter(self) -> chapter_module.Chapter:
        return self.names["chapter"]


def run(path: Path, monkeypatch: Any, only: str = "") -> Lesson:
    """Run every code cell of a notebook, or, of those that call the chapter, ``only`` the ones that call this method of it.

    What a cell raises is raised here.
    """
    lesson = Lesson(path)

    def noted(method: str, note: Callable[[Any, tuple], None]) -> Callable[..., Any]:
        usual = getattr(chapter_module.Chapter, method)

        def call(self: Any, *given: Any, **more: Any) -> Any:
            made = usual(self, *given, **more)
            note(self, given)
            return made

        return call

    notes = {
        "play": lambda chapter, given: lesson.plays.append((given[0], chapter.last_play)),
        "decide": lambda chapter, given: lesson.keeps.extend(chapter.last_keeps),
        "check": lambda chapter, given: lesson.checks.append(chapter.last_check),
    }
    with monkeypatch.context() as watched:
        for method, note in notes.items():
            watched.setattr(chapter_module.Chapter, method, noted(method, note))
        for source in cells(path):
            if only and "chapter." in source and f"chapter.{only}(" not in source:
                continue
            lesson.shown.append(_last_value(source, lesson.names))
    return lesson


def _last_value(source: str, names: dict[str, Any]) -> Any:
    """Run a cell; the value of its last line is what it shows."""
    tree = ast.parse(source)
    last = tree.body.pop() if isinstance(tree.body[-1], ast.Expr) else None
    exec(compile(tree, "<cell>", "exec"), names)  # noqa: S102  our own notebooks
    return None if last is None else eval(compile(ast.Expression(last.value), "<cell>", "eval"), names)


@functools.cache
def _freshly_laid() -> tempfile.TemporaryDirectory:
    """A new working folder to copy: laying one reads and writes every notebook."""
    laid = tempfile.TemporaryDirectory()
    workspace.prepare(laid.name)
    return laid


def working_folder(folder: Path, demo: str = "boat_shed", **changes: str) -> Path:
    """A working folder on a demo, with the values of some decisions replaced, written as in the file; gives the design file."""
    shutil.copytree(_freshly_laid().name, folder, dirs_exist_ok=True)
    text = demo_text(demo)
    for name, value in changes.items():
        text, found = re.subn(rf"(?<=\[decisions\.{name}\]\nvalue = ).*", value, text)
        assert found == 1, name
    path = folder / workspace.DESIGN_FILE
    path.write_text(text, encoding="utf-8")
    return path


def press(button: widgets.Button) -> None:
    """Press a button; unlike ``button.click()`` this lets out what its callbacks raise."""
    for callback in button._click_handlers.callbacks:
        callback(button)


def words(widget: widgets.HTML | str) -> str:
    """What a reader sees of a piece of HTML, on one line."""
    markup = widget if isinstance(widget, str) else widget.value
    plain = html.unescape(re.sub(r"<style>.*?</style>|<[^>]+>", " ", markup, flags=re.DOTALL))
    return " ".join(plain.split())


def strokes(svg: str) -> str:
    """An SVG without its title, its description and the names of its parts: what is drawn."""
    svg = re.sub(r"<title.*?</desc>", "", svg, flags=re.DOTALL)
    return re.sub(r"\bp[0-9a-f]{12}\b", "", svg)
