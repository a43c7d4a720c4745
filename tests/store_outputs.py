"""Run notebooks and store their outputs, so that the suite can compare them: python tests/store_outputs.py notebooks/06*.ipynb

Stored are outputs and counts only: no widget state, no model ids, no version of this Python.
"""

from __future__ import annotations

import sys
from pathlib import Path

import nbformat
from nbclient import NotebookClient

KERNEL = {
    "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
    "language_info": {"name": "python"},
}
VIEW = "application/vnd.jupyter.widget-view+json"


def store(path: Path) -> None:
    """Run one notebook in its own folder and write it back with clean outputs."""
    notebook = nbformat.read(path, as_version=4)
    notebook.metadata = nbformat.from_dict(KERNEL)
    NotebookClient(
        notebook, timeout=120, kernel_name="python3", resources={"metadata": {"path": str(path.parent)}}, store_widget_state=False
    ).execute()
    notebook.metadata = nbformat.from_dict(KERNEL)
    for number, cell in enumerate(notebook.cells, 1):
        cell.id = f"cell-{number:02d}"
        if cell.cell_type != "code":
            continue
        cell.metadata = nbformat.from_dict({k: v for k, v in cell.metadata.items() if k in ("tags", "jupyter")})
        for output in cell.outputs:
            view = output.get("data", {}).get(VIEW)
            if view:
                view["model_id"] = "made-when-run"
            output.pop("metadata", None)
            if output.output_type in ("execute_result", "display_data"):
                output["metadata"] = {}
    nbformat.validate(notebook)
    path.write_text(nbformat.writes(notebook, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    for name in sys.argv[1:]:
        print(name)
        store(Path(name))
