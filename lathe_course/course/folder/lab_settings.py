"""What JupyterLab and its kernels run and are set by: nothing of it lies in the working folder.

Working folders are handed round.  What JupyterLab would take from one as settings, modules or
kernels could run a stranger's code as soon as the folder is opened, so all of that is laid in
a private folder for one run, and what the learner arranges in JupyterLab (its theme, the open
tabs, which notebooks are trusted) is kept in their own account.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
from collections.abc import Callable
from pathlib import Path

from lathe_course.course.folder.workspace import known_cells
from lathe_course.course.shown.glossary import for_the_browser
from lathe_course.design.files.whole_file import in_words

#: holds the course's own extension of JupyterLab, which no other JupyterLab of the account loads
_EXTENSIONS = Path(__file__).parent / "lab"

KERNEL = "python3"  # the name that the notebooks ask for

#: what a newcomer needs changed in JupyterLab
_OVERRIDES = {
    "@jupyterlab/apputils-extension:notification": {"fetchNews": "false", "checkForUpdates": False},
    # Moves of controls come one after the other, in the thread that runs the cells.
    "@jupyterlab/apputils-extension:kernels-settings": {"commsOverSubshells": "disabled"},
    # Every cell stays on the page, so a picture and its controls do not blink when scrolled out of sight.
    # A chapter that is closed gives its memory back.
    "@jupyterlab/notebook-extension:tracker": {"windowingMode": "none", "kernelShutdown": True},
}

#: the kernel of the course; -P leaves the notebook's folder out of what Python imports from, and older IPythons would put it back
_KERNEL_SPEC = {
    "argv": [
        sys.executable,
        "-P",
        "-m",
        "lathe_course.course.folder.kernel",
        "-f",
        "{connection_file}",
        "--IPKernelApp.ignore_cwd=True",
    ],
    "display_name": "Python 3",
    "language": "python",
    "metadata": {"debugger": True},
    "kernel_protocol_version": "5.5",
}
_NOT_PASSED_ON = ("JUPYTER_TOKEN", "JUPYTER_PORT", "JUPYTER_IP", "PYTHONPATH", "PYTHONSTARTUP")


def lay(folder: Path, runtime: Path, say: Callable[[str], None]) -> tuple[list[str], dict[str, str]]:
    """Lay settings and kernel for one run in ``runtime``; return JupyterLab's options and its environment.

    Raises OSError if ``runtime`` cannot be written.
    """
    config, share = runtime / "config", runtime / "share"
    _write(config / "labconfig" / "default_setting_overrides.json", _OVERRIDES)
    _write(
        config / "labconfig" / "page_config.json",
        {"latheCourseCells": json.dumps(known_cells()), "latheCourseWords": json.dumps(for_the_browser())},
    )
    _write(share / "kernels" / KERNEL / "kernel.json", _KERNEL_SPEC)
    kept = _kept(runtime, say)
    environment = {name: value for name, value in os.environ.items() if name not in _NOT_PASSED_ON}
    environment |= {
        "JUPYTER_CONFIG_DIR": str(config),
        "JUPYTER_RUNTIME_DIR": str(runtime),
        "JUPYTER_DATA_DIR": str(kept / "data"),
        "JUPYTERLAB_SETTINGS_DIR": str(kept / "settings"),
        "JUPYTERLAB_WORKSPACES_DIR": str(kept / "workspaces" / hashlib.sha256(os.fsencode(folder)).hexdigest()[:16]),
        "IPYTHONDIR": str(runtime / "ipython"),
        # The kernel of the course comes before one of the same name, wherever that lies.
        "JUPYTER_PATH": os.pathsep.join([str(share), *_full_paths("JUPYTER_PATH")]),
        "JUPYTER_PREFER_ENV_PATH": "1",
    }
    if imported_from := _full_paths("PYTHONPATH"):
        environment["PYTHONPATH"] = os.pathsep.join(imported_from)
    # Kernels of other names would start in the notebook's folder in ways of their own.
    return [
        f"--ServerApp.root_dir={folder}",
        f"--KernelSpecManager.allowed_kernelspecs={KERNEL}",
        f"--LabApp.extra_labextensions_path={_EXTENSIONS}",
    ], environment


def last_page(folder: Path, environment: dict[str, str]) -> str | None:
    """The notebook of the folder that lay on top when JupyterLab was left, by its path there; None if there is none.

    Read from what JupyterLab keeps of its tabs in the account, never from the folder.
    """
    kept = sorted(
        Path(environment["JUPYTERLAB_WORKSPACES_DIR"]).glob("*.jupyterlab-workspace"), key=lambda path: path.stat().st_mtime
    )
    for path in reversed(kept):
        try:
            tab = json.loads(path.read_text(encoding="utf-8"))["data"]["layout-restorer:data"]["main"]["current"]
            kind, _, name = tab.partition(":")
        except (OSError, ValueError, KeyError, TypeError, AttributeError):
            continue
        if kind == "notebook" and name.endswith(".ipynb") and (folder / name).is_file():
            return name
    return None


def state_folder() -> Path:
    """Where an account keeps what programs remember from run to run, for this course; not made here."""
    given = os.environ.get("XDG_STATE_HOME", "")
    if os.path.isabs(given):
        base = Path(given)
    elif sys.platform == "win32":
        base = Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Application Support"
    else:
        base = Path.home() / ".local" / "state"
    return base / "lathe-course"


def _kept(runtime: Path, say: Callable[[str], None]) -> Path:
    """The account's own folder for what is arranged in JupyterLab; ``runtime`` where it cannot be written."""
    try:
        kept = state_folder()
        kept.mkdir(parents=True, exist_ok=True, mode=0o700)
        if not os.access(kept, os.W_OK):
            raise PermissionError(13, "")
        return kept
    except OSError as problem:
        say(
            f"What you arrange in JupyterLab, such as its theme, is not kept this time: {in_words(problem)} ({problem.filename or kept})."
        )
    except RuntimeError:  # an account without a home
        say("What you arrange in JupyterLab, such as its theme, is not kept this time: your account has no folder of its own.")
    return runtime / "kept"


def _full_paths(name: str) -> list[str]:
    """The full paths of a list in the environment; an empty or relative one would mean the folder a notebook lies in."""
    return [path for path in os.environ.get(name, "").split(os.pathsep) if os.path.isabs(path)]


def _write(path: Path, content: object) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(json.dumps(content, indent=1), encoding="utf-8")
