"""Opens the course for one of a class, in a process that is the learner's own.

JupyterHub starts it as the learner's account.  The working folder is laid here and not by
JupyterHub, which may do everything: what a learner's own process lays cannot be led elsewhere
by a link.  Settings and kernel are those of ``start``.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import sys
import tempfile
import urllib.parse
from pathlib import Path
from typing import NoReturn

from lathe_course.course.folder import WORKING_FOLDER, lab_settings, serve, server, workspace
from lathe_course.design.files.whole_file import in_words
from lathe_course.problems import InputProblem

#: begins a line that is meant for the mentor, among all that servers say
TOLD = "lathe-course: "
_RUNTIME = "lathe-class-"


def options_and_environment(home: Path) -> tuple[list[str], dict[str, str], Path]:
    """Lay the working folder and JupyterLab's settings for this run; return JupyterLab's options, its environment, and where to start it.

    Nobody else may look into the folder.  Raises InputProblem if that cannot be done.
    """
    folder = workspace.prepare(home / WORKING_FOLDER).folder
    try:
        os.chmod(folder, 0o700)
        runtime = _runtime()
        options, environment = lab_settings.lay(folder, runtime, _tell)
    except OSError as problem:
        raise InputProblem.about(
            "folder",
            f"The course cannot be opened in {folder}: {in_words(problem)} ({problem.filename}). Make room there, or mend its rights, and start again.",
        ) from problem
    page = urllib.parse.quote(lab_settings.last_page(folder, environment) or serve.FIRST_PAGE)
    # Over a port of this machine every account could read along what a kernel shows.
    return [*options, "--ConnectionFileMixin.transport=ipc", f"--ServerApp.default_url=/lab/tree/{page}"], environment, runtime


def _runtime() -> Path:
    """A folder for this run that nobody else may enter, its name short, since the path of a socket in it may have 107 signs; those of earlier runs are swept."""
    for old in Path(tempfile.gettempdir()).glob(f"{_RUNTIME}*"):
        with contextlib.suppress(OSError):  # another of the class sweeps its own meanwhile
            if old.lstat().st_uid == os.getuid():
                shutil.rmtree(old, ignore_errors=True)  # refuses a link
    return Path(tempfile.mkdtemp(prefix=_RUNTIME))


def main() -> NoReturn:
    """Become this learner's JupyterLab, or end with a sentence for the mentor."""
    os.umask(0o077)
    try:
        options, environment, runtime = options_and_environment(Path.home())
    except InputProblem as problem:
        _tell(str(problem))
        sys.exit(2)
    os.chdir(runtime)
    os.execve(sys.executable, [sys.executable, "-P", "-s", "-m", server.__name__, "jupyterhub.singleuser", *options], environment)


def _tell(sentence: str) -> None:
    for line in sentence.splitlines():
        print(f"{TOLD}{os.environ.get('JUPYTERHUB_USER', '')}: {line}", file=sys.stderr, flush=True)


if __name__ == "__main__":
    main()
