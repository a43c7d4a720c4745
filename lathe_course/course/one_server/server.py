"""``lathe-course class``: the course for a class on this machine, served by JupyterHub.

It wants the right to act as each learner, so it runs as root; what it starts for a learner runs
with that learner's rights alone.
"""

from __future__ import annotations

import importlib.util
import ipaddress
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from lathe_course.course.folder import serve
from lathe_course.problems import InputProblem, tellable

from .hub import CLASS, MENTORS_PAGE, TheClass
from .place import TOLD

_READY = "JupyterHub is now running"
_PATIENCE = 120.0  # seconds until JupyterHub answers
_FAREWELL = 90.0  # seconds for the servers of a whole class to end in good order
_BESIDE = Path(sys.executable).parent  # where pip lays programs


def run(
    learners: Sequence[str],
    mentor: str,
    address: str,
    port: int | None = None,
    certificate: str = "",
    key: str = "",
    say: Callable[[str], None] = print,
) -> int:
    """Serve a class until Ctrl-C; return an exit code.

    Raises InputProblem for what is missing on this machine, accounts that cannot take part, and if JupyterHub cannot start.
    """
    _machine()
    from . import accounts

    accounts.checked(learners, mentor)
    address = _address(address)
    papers = _papers(certificate, key)
    asked = serve.FIRST_PORT if port is None else port
    told = TheClass(tuple(learners), mentor, address, serve.free_port(asked, address), *papers)
    with serve.stoppable(), tempfile.TemporaryDirectory(prefix="lathe-course-class-") as runtime:
        log = Path(runtime) / "hub.log"
        with open(log, "ab") as sink:  # learners' servers write to its end as well
            hub = subprocess.Popen(
                [sys.executable, "-P", "-s", "-m", "jupyterhub", "-f", str(Path(__file__).with_name("jupyterhub_config.py"))],
                cwd=runtime,
                env={**_environment(), CLASS: told.text()},
                stdin=subprocess.DEVNULL,
                stdout=sink,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )
        try:
            _wait(hub, log)
            for line in _announced(told, accounts.stronger([*learners])):
                say(line)
            _listen(hub, log, say)
        except KeyboardInterrupt:
            say("")
            say("The class has ended. Everybody's work is in their own folder.")
        finally:
            serve.end(hub, _FAREWELL)
    return 0


# --- what must be there -----------------------------------------------------------------------------
def _machine() -> None:
    if sys.platform != "linux":
        raise InputProblem.about(
            "class",
            "A class needs a machine with Linux, for accounts of the machine keep learners apart; on this one each learner can use 'lathe-course start'.",
        )
    missing = [name for name in ("jupyterhub", "jupyterhub_traefik_proxy", "pamela") if importlib.util.find_spec(name) is None]
    if missing or _proxy() is None:
        raise InputProblem.about(
            "class",
            f"What serves a class is not installed ({', '.join(missing) or 'traefik'}). In the folder of the README: .venv/bin/pip install '.[class]'",
        )
    if not serve.is_root():
        raise InputProblem.about(
            "class", "Serving a class means to act as each learner's account, which only root may; begin the line with sudo."
        )


def _proxy() -> str | None:
    return shutil.which("traefik", path=os.pathsep.join([str(_BESIDE), os.environ.get("PATH", os.defpath)]))


def _environment() -> dict[str, str]:
    """Ours without what is meant for another JupyterHub, with the proxy that pip laid beside Python."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("JUPYTER", "CONFIGPROXY", "PYTHON"))}
    return kept | {"PATH": os.pathsep.join([str(_BESIDE), kept.get("PATH", os.defpath)])}


def _address(text: str) -> str:
    try:
        address = ipaddress.ip_address(text)
        if address.is_unspecified:
            raise ValueError
    except ValueError:
        raise InputProblem.about(
            "address",
            f"{text!r} is not the address of this machine; write its numbers in the room's network, such as 192.168.1.5 ('hostname -I' tells them).",
        ) from None
    return str(address)


def _papers(certificate: str, key: str) -> tuple[str, str]:
    if bool(certificate) != bool(key):
        raise InputProblem.about("certificate", "--certificate and --key belong together; give both or neither.")
    for what, path in (("certificate", certificate), ("key", key)):
        if path and not os.path.isfile(Path(path).expanduser()):
            raise InputProblem.about(what, f"There is no file {path}, which should hold the {what}.")
    return (str(Path(certificate).expanduser().resolve()), str(Path(key).expanduser().resolve())) if certificate else ("", "")


# --- while it runs ----------------------------------------------------------------------------------
def _wait(hub: subprocess.Popen, log: Path) -> None:
    deadline = time.monotonic() + _PATIENCE
    while time.monotonic() < deadline and hub.poll() is None:
        if _READY in log.read_text(errors="replace"):
            return
        time.sleep(0.2)
    said = "\n".join("  " + line for line in log.read_text(errors="replace").splitlines()[-12:])
    raise InputProblem.about(
        "class",
        f"JupyterHub did not start. The last it said was:\n{said}\nIf a package is missing or does not fit, install the course again as its README says.",
    )


def _announced(told: TheClass, strong: dict[str, str]) -> list[str]:
    said = [
        f"Open this address in a browser, and sign in with an account of this machine and its password: {told.url}",
        f"  learners: {', '.join(told.learners)}",
        f"The mentor, {told.mentor}, signs in there as well and finds everybody's findings, progress and designs at {told.url.rstrip('/')}{MENTORS_PAGE}",
    ]
    for name, group in strong.items():
        said.append(
            f"Caution: {name} is in the group {group} and may act for anybody on this machine, so nobody's work is kept apart from {name}."
        )
    if not told.certificate and not ipaddress.ip_address(told.address).is_loopback:
        said.append(
            "Caution: without --certificate and --key passwords cross the room as plain text, and whoever listens in on its network can use them. "
            "Only in a network you trust, with passwords used for nothing else."
        )
    said.append("Leave this window open while the class works. Ctrl-C here ends it; everybody's work stays in their folder.")
    return said


def _listen(hub: subprocess.Popen, log: Path, say: Callable[[str], None]) -> None:
    """Say what learners' places have to tell, until JupyterHub ends."""
    with open(log, encoding="utf-8", errors="replace") as told:
        line = ""
        while hub.poll() is None:
            line += told.readline()
            if not line.endswith("\n"):
                time.sleep(0.5)
                continue
            if line.startswith(TOLD):
                say(tellable(line.removeprefix(TOLD).rstrip()))
            line = ""
