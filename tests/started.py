"""``lathe-course start`` as people type it, in a process of its own."""

from __future__ import annotations

import http.client
import json
import os
import re
import subprocess
import sys
import time
import urllib.parse
from pathlib import Path

COMMAND = [sys.executable, "-m", "lathe_course"]
#: as it is installed
SCRIPT = [str(Path(sys.executable).with_name("lathe-course" + (".exe" if os.name == "nt" else "")))]


class Started:
    """``lathe-course start`` in its own process, with the address it printed."""

    def __init__(self, folder: Path, port: int, stands_in: Path | None = None, **environment: str):
        """What JupyterLab keeps goes beside ``folder``, not into the account of whoever runs the tests."""
        environment = {"XDG_STATE_HOME": str(folder.parent / "state")} | environment
        self.said = folder.parent / "said.txt"
        with open(self.said, "wb") as said:
            self.process = subprocess.Popen(
                [*(SCRIPT if stands_in else COMMAND), "start", str(folder), "--no-browser", "--port", str(port)],
                cwd=stands_in or folder.parent,
                env=os.environ | environment,
                stdin=subprocess.DEVNULL,
                stdout=said,
                stderr=subprocess.STDOUT,
            )
        deadline = time.monotonic() + 300
        while not (found := re.search(r"http://\S+(?=\n)", self.text())):
            assert self.process.poll() is None and time.monotonic() < deadline, self.text()
            time.sleep(0.1)
        self.address = urllib.parse.urlsplit(found[0])

    def text(self) -> str:
        return self.said.read_text(encoding="utf-8")

    def get(self, path: str, token: bool = True) -> tuple[int, bytes]:
        return self._ask("GET", path + ("?" + self.address.query if token else ""))

    def send(self, how: str, path: str, what: object) -> tuple[int, bytes]:
        """What the server answers to ``what``, sent as JSON by POST or PUT."""
        token = urllib.parse.parse_qs(self.address.query)["token"][0]
        return self._ask(how, path, json.dumps(what), {"Authorization": f"token {token}"})

    def _ask(self, *request: object) -> tuple[int, bytes]:
        connection = http.client.HTTPConnection(self.address.hostname, self.address.port, timeout=300)
        connection.request(*request)
        answer = connection.getresponse()
        return answer.status, answer.read()

    def end(self, how: int) -> int:
        self.process.send_signal(how)
        return self.process.wait(300)
