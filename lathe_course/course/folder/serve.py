"""Opens a working folder in JupyterLab, on this machine only.

JupyterLab runs as a child process with settings of its own (``lab_settings``), so that
the learner's other notebooks and settings are neither used nor touched, and nothing in
the folder is imported or taken as a setting.  It listens on 127.0.0.1 only and asks for
its token.
"""

from __future__ import annotations

import contextlib
import errno
import http.client
import json
import os
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.parse
from collections.abc import Callable, Iterator
from pathlib import Path

from lathe_course.course.folder import lab_settings, server
from lathe_course.design.files.whole_file import in_words
from lathe_course.units import InputProblem

HOST = "127.0.0.1"
FIRST_PORT = 8888
FIRST_PAGE = "notebooks/00_start_here.ipynb"

_PORTS_TRIED = 50
_PATIENCE = 300.0  # seconds; a first start on a slow disk takes half a minute, longer beside busy neighbours
_FAREWELL = 10.0  # seconds for kernels to end before the server is stopped by force


def run(folder: Path, port: int | None = None, open_browser: bool = False, say: Callable[[str], None] = print) -> int:
    """Serve ``folder`` until Ctrl-C or until JupyterLab is shut down from its own menu; return an exit code.

    ``port`` is where to begin looking for a free one.  ``say`` gets each line meant for the learner.
    Raises InputProblem if JupyterLab cannot start.
    """
    asked = FIRST_PORT if port is None else port
    port = free_port(asked)
    if port != asked:
        say(f"Port {asked} is in use; using {port}.")
    if is_root():
        say("Caution: you are running as root. Notebooks can change anything on this machine then; an ordinary account is safer.")
    with stoppable(), tempfile.TemporaryDirectory(prefix="lathe-course-") as runtime:
        log = Path(runtime) / "jupyterlab.log"
        server, page = _launch(folder, port, open_browser, Path(runtime), log, say)
        try:
            address = _address(server, Path(runtime), log, page)
            say("Open this address in a browser on this machine:")
            say(f"  {address}")
            say("Leave this window open while you work. Ctrl-C here ends the course; your work stays in the folder.")
            server.wait()
        except KeyboardInterrupt:
            say("")
            say("The course has ended. Your work is in the folder.")
        finally:
            end(server, _FAREWELL)
    return 0


def free_port(first: int, host: str = HOST) -> int:
    """The first free port at or above ``first`` at that address of this machine, or InputProblem."""
    if not 1 <= first <= 65535:
        raise InputProblem.about(
            "port", f"Port {first} does not exist; a port is a number from 1 to 65535, for example --port {FIRST_PORT}."
        )
    for port in range(first, min(first + _PORTS_TRIED, 65536)):
        with socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET) as trial:
            if os.name == "posix":  # as JupyterLab does: a port left a moment ago counts as free
                trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                trial.bind((host, port))
            except OSError as problem:
                if problem.errno in (errno.EACCES, errno.EPERM):
                    raise InputProblem.about(
                        "port",
                        f"Port {port} is not open to ordinary users; choose one above 1023, for example --port {FIRST_PORT}.",
                    ) from problem
                continue
            return port
    raise InputProblem.about(
        "port", f"No port from {first} to {min(first + _PORTS_TRIED, 65536) - 1} is free; choose another with --port."
    )


def can_open_browser() -> bool:
    """Whether this machine has a screen that a browser could open on."""
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


# --- the child process ------------------------------------------------------------------------------
def _launch(
    folder: Path, port: int, open_browser: bool, runtime: Path, log: Path, say: Callable[[str], None]
) -> tuple[subprocess.Popen, str]:
    """The server, and the page it opens first: the one last worked on."""
    try:
        options, environment = lab_settings.lay(folder, runtime, say)
    except OSError as problem:
        raise InputProblem.about(
            "jupyterlab",
            f"JupyterLab's settings for this run cannot be written to {runtime}: {in_words(problem)}. "
            "Make room there and start again.",
        ) from problem
    page = urllib.parse.quote(lab_settings.last_page(folder, environment) or FIRST_PAGE)
    # -P and a place of its own: Python, JupyterLab and its parts all look for modules, templates or tools where they are started
    words = [
        sys.executable,
        "-P",
        "-m",
        server.__name__,
        "jupyterlab",
        *options,
        f"--ServerApp.open_browser={open_browser}",
        f"--ServerApp.ip={HOST}",
        f"--ServerApp.port={port}",
        f"--ServerApp.port_retries={_PORTS_TRIED}",
        f"--LabApp.default_url=/lab/tree/{page}",
    ]
    if is_root():
        words.append("--allow-root")
    # Its own session, on Windows its own group: Ctrl-C reaches this process only, which then ends the server in good order.
    with open(log, "wb") as sink:
        return subprocess.Popen(
            words,
            cwd=runtime,
            env=environment,
            stdin=subprocess.DEVNULL,
            stdout=sink,
            stderr=subprocess.STDOUT,
            start_new_session=True,
            creationflags=getattr(subprocess, "CREATE_NEW_PROCESS_GROUP", 0),
        ), page


def _address(server: subprocess.Popen, runtime: Path, log: Path, page: str) -> str:
    """Wait until the server answers; return the address of the first page, with its token."""
    deadline = time.monotonic() + _PATIENCE
    while time.monotonic() < deadline:
        if server.poll() is not None:
            break
        about = _about(runtime / f"jpserver-{server.pid}.json")
        if about and _answers(about["port"]):
            return f"http://{HOST}:{about['port']}/lab/tree/{page}?token={about['token']}"
        time.sleep(0.1)
    told = "\n".join("  " + line for line in log.read_text(errors="replace").splitlines()[-12:])
    what = "did not start" if server.poll() is not None else f"did not answer within {_PATIENCE:g} s"
    raise InputProblem.about(
        "jupyterlab",
        f"JupyterLab {what}. The last it said was:\n{told}\n"
        "If a package is missing, install the course again as its README says.",
    )


def _about(path: Path) -> dict | None:
    try:
        return json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None  # not there yet, or half written


def _answers(port: int) -> bool:
    connection = http.client.HTTPConnection(HOST, port, timeout=2)
    try:
        connection.request("GET", "/api")
        return connection.getresponse().status == 200
    except (OSError, http.client.HTTPException):
        return False
    finally:
        connection.close()


def end(server: subprocess.Popen, farewell: float) -> None:
    """End a child politely, and after ``farewell`` seconds by force."""
    if server.poll() is None:
        server.terminate()
        try:
            server.wait(farewell)
        except subprocess.TimeoutExpired:
            server.kill()
            server.wait()


@contextlib.contextmanager
def stoppable() -> Iterator[None]:
    """Take a polite request to end, or a closed terminal, as Ctrl-C, so that the server is ended as well."""

    def interrupt(number: int, frame: object) -> None:
        raise KeyboardInterrupt

    # SIGINT as well: it is ignored from birth in a process that a script starts in the background
    names = [getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)]
    before = {name: signal.signal(name, interrupt) for name in names}
    try:
        yield
    finally:
        for name, handler in before.items():
            signal.signal(name, handler)


def is_root() -> bool:
    """Whether we may do anything on this machine."""
    return hasattr(os, "geteuid") and os.geteuid() == 0
