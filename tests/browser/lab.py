"""Drives the course in a real browser, begun by the learner's own command.

The server is ``lathe-course start FOLDER``; the browser is the Chromium of the machine.
JupyterLab is asked for its own promises rather than watched for signs of rest: its
idle mark says idle before the kernel is connected, and a "run all" sent then is lost.
"""

from __future__ import annotations

import ctypes
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self
from urllib.parse import unquote
from urllib.request import Request, urlopen

import nbformat
from nbformat.v4 import new_code_cell, new_notebook

from lathe_course.course.folder import workspace

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Locator, Page

START_WITHIN = 300.0  # seconds, for the server to print its address; waiting asserts nothing, so there is no hurry
ANSWER_WITHIN = 300_000  # milliseconds, for anything in the browser
FLAGS = ["--no-sandbox", "--disable-background-networking", "--disable-component-update", "--disable-gpu"]
_SIZE = {"width": 1400, "height": 1000}

_OPEN = """async path => {
    const app = window.jupyterapp;
    await app.restored;
    const panel = await app.commands.execute('docmanager:open', {path, factory: 'Notebook'});
    await panel.context.ready;
    await panel.sessionContext.ready;
    await panel.sessionContext.session.kernel.info;
    await panel.revealed;
    app.shell.activateById(panel.id);
    // the current page is told by its focus, which may have come before anybody listened
    for (let tries = 0; app.shell.currentWidget !== panel; tries++) {
        await new Promise(done => setTimeout(done, 50));
        if (tries % 10 === 9) { document.activeElement?.blur(); app.shell.activateById(panel.id); }
    }
}"""
_SHOWS = """async () => {
    const panel = window.jupyterapp.shell.currentWidget;
    while (['unread', 'running'].includes(panel.node.dataset.latheCourse)) await new Promise(done => setTimeout(done, 50));
    return panel.node.dataset.latheCourse ?? null;
}"""
_RUN_ALL = """async () => {
    const app = window.jupyterapp;
    const panel = app.shell.currentWidget;
    while (['unread', 'running'].includes(panel.node.dataset.latheCourse)) await new Promise(done => setTimeout(done, 50));
    const cells = [...panel.content.model.cells].filter(cell => cell.type === 'code' && cell.sharedModel.getSource().trim());
    // a page that has shown itself is not run again the first time
    const itself = panel.node.dataset.latheCourse === 'ready' && !panel.node.ranOnce && cells.every(cell => cell.executionCount);
    panel.node.ranOnce = true;
    if (!itself) await app.commands.execute('notebook:run-all-cells');
    const errors = [];
    for (const cell of app.shell.currentWidget.content.model.cells) {
        for (const output of cell.toJSON().outputs ?? []) {
            if (output.output_type === 'error') errors.push(output.ename + ': ' + output.evalue);
        }
    }
    return errors;
}"""
_RESTART = """async () => {
    const panel = window.jupyterapp.shell.currentWidget;
    await panel.sessionContext.restartKernel();
    await panel.sessionContext.session.kernel.info;
}"""
_CLOSE_ALL = """async () => {
    for (const panel of [...window.jupyterapp.shell.widgets('main')]) {
        await panel.sessionContext?.shutdown();
        if (panel.context) panel.context.model.dirty = false;
        panel.dispose();
    }
}"""
_AT_REST = "async () => { await window.jupyterapp.shell.currentWidget.sessionContext.session.kernel.requestKernelInfo(); }"
_PATH = "async () => window.jupyterapp.shell.currentWidget?.context?.path ?? null"
_SAVE = "async () => { await window.jupyterapp.shell.currentWidget.context.save(); }"
_IN_TIME = """async ([work, given, patience]) => {
    const late = new Promise((_, fail) => setTimeout(() => fail(new Error('no answer in time from ' + work)), patience));
    return await Promise.race([eval(work)(given), late]);
}"""
_IMAGE = """async image => {
    const bytes = new Uint8Array(await (await fetch(image.src)).arrayBuffer());
    return Array.from(bytes);
}"""


def chromium() -> str | None:
    """Path of the machine's Chromium, or None."""
    return shutil.which("chromium") or shutil.which("chromium-browser")


class Lab:
    """JupyterLab on a working folder, and one page of a browser on it. Use in a ``with`` statement."""

    page: Page
    address: str

    def __init__(self, folder: Path, private: Path, browser: Browser, opened: bool = True):
        """``folder`` becomes the working folder; ``private`` takes what else the server writes.  The printed address is ``opened``, or no page yet."""
        self.folder = folder
        self.private = private
        self._browser = browser
        self._opened = opened
        self._emptied = 0

    def __enter__(self) -> Self:
        self._pages: list[Page] = []
        self._command = self._start_command()
        try:
            self.address = self._printed_address()
            if self._opened:
                self.new_page()
        except BaseException:
            self._end_command()
            raise
        return self

    def __exit__(self, *error: object) -> None:
        try:
            self._close_pages()
        finally:
            self._end_command()

    # --- what a learner does ------------------------------------------------------------------------
    def new_page(self) -> None:
        """Open the printed address on a page of its own, which is the current one from now on."""
        self._open_page(self.address)
        # the address opens the first chapter, after what was open last; it would lie over what a test opens meanwhile
        self.changed(lambda: self.open_path() == unquote(self._first), False)

    def empty_page(self) -> None:
        """A page of its own on which no notebook is open, nor will be by itself: no kernel starts that no test asks for."""
        self._emptied += 1  # what JupyterLab arranges is kept by this name
        self._open_page(self.address.replace(f"/lab/tree/{self._first}", f"/lab/workspaces/empty-{self._emptied}"))

    def _open_page(self, address: str) -> None:
        self.blank_page()
        self.page.goto(address)
        self.page.wait_for_function("window.jupyterapp !== undefined")
        self._evaluate("async () => { await window.jupyterapp.restored; }")

    def begin_again(self) -> None:
        """As on the first day: no page, no kernel, and a new working folder with nothing beside it."""
        self._close_pages()
        for kind in ("sessions", "kernels"):
            for one in self.ask(kind):
                self.ask(f"{kind}/{one['id']}", "DELETE")
        for path in (*self.folder.iterdir(), *(beside for beside in self.folder.parent.iterdir() if beside != self.folder)):
            if path.is_dir() and not path.is_symlink():
                shutil.rmtree(path)
            else:
                path.unlink()
        workspace.prepare(self.folder)

    def blank_page(self) -> None:
        """A page of its own with nothing on it yet, which is the current one from now on."""
        self.page = self._browser.new_page(viewport=_SIZE)
        self.page.set_default_timeout(ANSWER_WITHIN)
        self._pages.append(self.page)

    def own_notebook(self, *cells: str) -> str:
        """A notebook of the learner's own with these cells; its path in the working folder."""
        kernel = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
        path = "notebooks/trial.ipynb"
        nbformat.write(new_notebook(cells=[new_code_cell(cell) for cell in cells], metadata=kernel), self.folder / path)
        return path

    def close_all(self) -> None:
        """Close every notebook of the page, with its kernel; what was not saved is gone."""
        self._evaluate(_CLOSE_ALL)

    def open_notebook(self, path: str) -> None:
        """Open a notebook, by its path in the working folder, and wait for its kernel.

        The notebook must name its kernel: JupyterLab asks for one in a dialogue otherwise, and waits.
        """
        self._evaluate(_OPEN, path)

    def shows_itself(self) -> str | None:
        """Wait until the open page of the course is done with what it does by itself; what it says of itself then, None for any other notebook."""
        return self._evaluate(_SHOWS)

    def run_all(self) -> None:
        """Run every cell of the open notebook to its end, unless it has just done so by itself; a cell that raises fails the test."""
        errors = self._evaluate(_RUN_ALL)
        assert not errors, "cells raised: " + "; ".join(errors)

    def restart_kernel(self) -> None:
        """Begin the open notebook again with a fresh kernel."""
        self._evaluate(_RESTART)

    def at_rest(self) -> None:
        """Wait until all that was sent to the kernel is done and its answers are here.

        A value that is still on its way back would take the place of one that is set meanwhile.
        """
        self._evaluate(_AT_REST)

    def open_path(self) -> str | None:
        """Path in the working folder of the document that lies on top, None while there is none."""
        return self._evaluate(_PATH)

    def save(self) -> None:
        """Save the open notebook."""
        self._evaluate(_SAVE)

    def slider(self, label: str) -> Locator:
        """The handle of a slider: ``.press("ArrowRight")`` moves it, ``aria-valuenow`` is its value."""
        return self._widget(".widget-slider", label).locator("[role=slider]").first

    def text_box(self, label: str) -> Locator:
        """The field of a text widget, one line or several."""
        return self._widget(".widget-text, .widget-textarea", label).locator("input, textarea").first

    def button(self, label: str) -> Locator:
        """A button that bears a text."""
        return self._on_top.locator(".jupyter-widgets.jupyter-button", has_text=label).first

    def _evaluate(self, work: str, given: object = None) -> Any:
        """The answer of a function in the page; a promise that is never kept fails the test."""
        return self.page.evaluate(_IN_TIME, [work, given, ANSWER_WITHIN])

    @property
    def _on_top(self) -> Locator:
        """The notebook that is seen; others that lie open have shown themselves as well."""
        return self.page.locator(".jp-NotebookPanel:not(.lm-mod-hidden)")

    def _widget(self, kind: str, label: str) -> Locator:
        return self._on_top.locator(kind, has=self.page.locator(".widget-label", has_text=label)).first

    # --- what a learner sees ------------------------------------------------------------------------
    def text_of(self, selector: str) -> str:
        """The text of the first place that ``selector`` names."""
        return self.page.locator(selector).first.inner_text()

    def image_bytes(self, selector: str = "img.widget-image") -> bytes:
        """The file shown by an image widget, as the browser got it."""
        return bytes(self.page.locator(selector).first.evaluate(_IMAGE))

    def changed(self, look: Callable[[], Any], before: Any, within: float = START_WITHIN) -> Any:
        """Look again until what is seen differs from ``before``; return it."""
        deadline = time.monotonic() + within
        while (seen := look()) == before:
            assert time.monotonic() < deadline, f"nothing changed within {within:g} s; still {str(seen)[:200]!r}"
            time.sleep(0.05)
        return seen

    def screenshot(self, path: Path) -> None:
        """The page as a PNG file."""
        self.page.screenshot(path=path)

    # --- the server ---------------------------------------------------------------------------------
    def ask(self, what: str, how: str = "GET") -> Any:
        """What the server answers for a part of its interface, such as the kernels it has."""
        server, token = self.address.partition("/lab/")[0], self.address.partition("token=")[2]
        with urlopen(Request(f"{server}/api/{what}?token={token}", method=how), timeout=START_WITHIN) as answer:
            return json.loads(answer.read() or "null")

    @property
    def _first(self) -> str:
        """The page that the printed address opens, as it is written there."""
        return self.address.partition("/lab/tree/")[2].partition("?")[0]

    def _close_pages(self) -> None:
        for page in self._pages:
            page.context.close()
        self._pages.clear()

    def _start_command(self) -> subprocess.Popen:
        settings = self.private / "config"
        settings.mkdir(parents=True, exist_ok=True)
        (settings / "jupyter_lab_config.json").write_text(json.dumps({"LabApp": {"expose_app_in_browser": True}}))
        environment = os.environ | {"JUPYTER_CONFIG_PATH": str(settings), "XDG_STATE_HOME": str(self.private / "state")}
        with open(self.private / "printed.txt", "wb") as printed:
            return subprocess.Popen(
                [sys.executable, "-m", "lathe_course", "start", str(self.folder), "--no-browser"],
                cwd=self.private,
                env=environment,
                stdin=subprocess.DEVNULL,
                stdout=printed,
                stderr=subprocess.STDOUT,
                preexec_fn=_end_with_parent,  # noqa: PLW1509
            )

    def printed(self) -> str:
        """What the command has said so far."""
        return (self.private / "printed.txt").read_text(encoding="utf-8")

    def _printed_address(self) -> str:
        deadline = time.monotonic() + START_WITHIN
        while time.monotonic() < deadline and self._command.poll() is None:
            for line in self.printed().splitlines(keepends=True):
                if line.strip().startswith("http://") and line.endswith("\n"):
                    return line.strip()
            time.sleep(0.1)
        raise AssertionError(f"the command printed no address; it said:\n{self.printed()}")

    def _end_command(self) -> None:
        self._command.send_signal(signal.SIGINT)  # a learner's Ctrl-C
        try:
            self._command.wait(START_WITHIN)
        except subprocess.TimeoutExpired:
            self._command.kill()
            self._command.wait()
            raise


def _end_with_parent() -> None:
    """In the child, before it becomes the command: ask Linux to end it should the test die."""
    if sys.platform == "linux":
        pr_set_pdeathsig = 1
        ctypes.CDLL(None).prctl(pr_set_pdeathsig, signal.SIGTERM)
