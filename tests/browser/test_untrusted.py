"""A notebook that a stranger handed on, with outputs: opened, it shows what it may and runs nothing in the page."""

import json

import nbformat
import pytest
from nbformat.sign import NotebookNotary
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output

from lathe_course.course.folder import workspace

pytestmark = pytest.mark.browser
CHAPTER = "notebooks/00_start_here.ipynb"
_RAN = "async () => window.ran ?? []"


def acts(name):
    """Markup that acts as soon as it is on a page, and tells its name."""
    return f"<img src='data:,' onerror=\"(window.ran ??= []).push('{name}')\"><b>shown by {name}</b>"


def shown(name, **data):
    output = new_output("execute_result", data={"text/plain": f"plain {name}", **data}, execution_count=1)
    return new_code_cell(f"'{name}'", execution_count=1, outputs=[output], metadata={"trusted": True})


def notebook():
    model = {"model_module": "@jupyter-widgets/controls", "model_module_version": "2.0.0"}
    state = {
        "m": {**model, "model_name": "HTMLModel", "state": {"value": acts("widget"), "layout": "IPY_MODEL_l"}},
        "l": {"model_module": "@jupyter-widgets/base", "model_module_version": "2.0.0", "model_name": "LayoutModel", "state": {}},
    }
    return new_notebook(
        cells=[
            new_markdown_cell("a stranger's\n\n" + acts("prose")),
            shown("html", **{"text/html": acts("html") + "<script>(window.ran ??= []).push('script')</script>"}),
            shown("javascript", **{"application/javascript": "(window.ran ??= []).push('javascript')"}),
            shown(
                "svg", **{"image/svg+xml": "<svg xmlns='http://www.w3.org/2000/svg' onload=\"(window.ran ??= []).push('svg')\"/>"}
            ),
            shown("markdown", **{"text/markdown": acts("markdown")}),
            shown("latex", **{"text/latex": "$x$ " + acts("latex")}),
            shown(
                "widget",
                **{"application/vnd.jupyter.widget-view+json": {"model_id": "m", "version_major": 2, "version_minor": 0}},
            ),
            new_code_cell(f"from IPython.display import HTML\nHTML({acts('a cell the learner ran')!r})"),
        ],
        metadata={
            "kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"},
            "trusted": True,
            "widgets": {"application/vnd.jupyter.widget-state+json": {"version_major": 2, "version_minor": 0, "state": state}},
        },
    )


def test_outputs_that_came_with_the_folder_do_not_act(open_lab, tmp_path):
    folder = tmp_path / "my-lathe"
    workspace.prepare(folder)
    (folder / CHAPTER).write_text(json.dumps(notebook()), encoding="utf-8")  # nbformat would leave out that it is trusted
    theirs = nbformat.read(folder / CHAPTER, as_version=4)
    # signed by them, with what they signed it with laid where an older course, or JupyterLab itself, might look
    for place in (".lathe-course-lab", ".lathe-course-lab/data", ".local/share/jupyter", ".jupyter"):
        (folder / place).mkdir(parents=True, exist_ok=True)
        NotebookNotary(data_dir=str(folder / place)).sign(theirs)
        settings = {
            "NotebookNotary": {
                "db_file": str(folder / place / "nbsignatures.db"),
                "secret_file": str(folder / place / "notebook_secret"),
            }
        }
        (folder / place / "jupyter_server_config.json").write_text(json.dumps(settings))
    lab = open_lab(folder)
    lab.open_notebook(CHAPTER)
    lab.page.get_by_text("shown by prose", exact=True).wait_for()
    lab.changed(lambda: lab.page.locator(".jp-OutputArea-output").count(), 0)
    lab.page.locator(".jp-OutputArea-output b", has_text="shown by html").wait_for()
    assert lab._evaluate(_RAN) == []
    # what the learner runs does act, so the look above is one that sees
    lab.run_all()
    lab.changed(lambda: lab._evaluate(_RAN), [])
    assert set(lab._evaluate(_RAN)) == {"a cell the learner ran"}
