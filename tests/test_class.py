"""A class on one server: a real hub and proxy, six who sign in and work at once, and a mentor who looks and changes nothing."""

import asyncio
import http.cookiejar
import importlib.util
import json
import os
import re
import secrets
import shutil
import signal
import ssl
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.parse
import urllib.request
import uuid
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date
from pathlib import Path
from types import SimpleNamespace

import pytest
from started import COMMAND
from test_folder_runs_nothing import Handed
from tornado.httpclient import HTTPRequest
from tornado.websocket import websocket_connect

from lathe_course.command import main
from lathe_course.course.folder import WORKING_FOLDER, workspace
from lathe_course.course.one_server import handed as handing
from lathe_course.course.one_server import place as placing
from lathe_course.course.one_server import seen as seeing
from lathe_course.course.one_server import server
from lathe_course.course.one_server.hub import TheClass
from lathe_course.problems import InputProblem

if sys.platform != "linux":
    pytest.skip("a class is served on Linux", allow_module_level=True)
from lathe_course.course.one_server import accounts

_PATIENCE = 600.0
CHAPTER = "notebooks/06_spindle_and_bearings.ipynb"


# --- what is handed to the mentor, and what the page makes of it -------------------------------------
def made(tmp_path: Path, name: str = "ana") -> Path:
    folder = tmp_path / name / WORKING_FOLDER
    workspace.prepare(folder)
    return folder


def looked(tmp_path: Path, folder: Path, name: str = "ana") -> seeing.Seen:
    """What the mentor's page reads out of a folder."""
    place = tmp_path / f"copy-{secrets.token_hex(4)}"
    place.mkdir()
    return seeing.seen(name, json.dumps(handing.handed(folder)).encode(), place, date(2031, 3, 9))


def test_only_plain_files_of_the_design_are_handed_over(tmp_path):
    folder = made(tmp_path)
    (folder / "design.log.csv").write_text("date,what\n")
    os.mkfifo(folder / "design.parts.csv")
    (folder / "design.ways.csv").mkdir()
    (folder / "design.prices.csv").symlink_to(tmp_path / "nowhere")
    (folder / "design.survey.csv").write_bytes(b"x" * (handing.LARGEST + 1))
    (folder / "diary.txt").write_text("mine")
    assert sorted(handing.handed(folder)) == ["design.log.csv", "design.toml"]


def test_of_very_many_files_forty_are_handed_over_and_the_design_is_among_them(tmp_path):
    folder = made(tmp_path)
    for place in range(60):
        (folder / f"design.{'abcdefgh'[place // 8]}{'abcdefgh'[place % 8]}.csv").write_text("a\n")
    handed = handing.handed(folder)
    assert len(handed) == 40
    (folder / "design.toml").rename(folder / "design.aa.csv")
    assert len(handing.handed(folder)) == 40


def test_the_page_tells_each_design_and_what_cannot_be_read(tmp_path):
    ana, ben = (made(tmp_path, name) for name in ("ana", "ben"))
    (ben / "design.toml").write_text("format = \n")
    found = [looked(tmp_path, ana), looked(tmp_path, ben, "<b>ben"), seeing.seen("cleo", b"{}", tmp_path, date(2031, 3, 9))]
    found.append(seeing.seen("dora", b"\xff[", tmp_path, date(2031, 3, 9)))
    page = seeing.class_html(found, "19:30")
    assert re.search(r"\d+ hold, \d+ tight, \d+ fail", page) and "&lt;b&gt;ben" in page and "<b>ben" not in page
    assert "has not opened the course yet" in page and "could not be read this time" in page
    assert found[1].design is None and "design.toml" in found[1].said and str(tmp_path) not in page
    assert "<script" not in page and "http" not in re.sub(r"<title>.*", "", page)
    assert "design.toml" in seeing.learner_html(found[1], "19:30")


@pytest.mark.parametrize(
    "raw", [b"", b"[]", b'{"design.toml": 3}', b'{"design.toml": "?"}', b'{"../design.toml": "YQ=="}', b"[" * 100_000]
)
def test_whatever_a_learners_account_hands_over_is_answered(tmp_path, raw):
    found = seeing.seen("ana", raw, tmp_path, date(2031, 3, 9))
    assert found.design is None and found.said and [*tmp_path.parent.glob("design.toml")] == []


def test_a_place_is_closed_to_others_and_its_kernel_has_no_port(tmp_path, monkeypatch):
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    older = tmp_path / "lathe-class-older"
    older.mkdir()
    options, environment, runtime = placing.options_and_environment(tmp_path)
    assert "--ConnectionFileMixin.transport=ipc" in options and not older.exists()
    for folder in (runtime, tmp_path / WORKING_FOLDER):
        assert folder.stat().st_mode & 0o077 == 0
    assert environment["JUPYTER_RUNTIME_DIR"] == str(runtime) and f"--ServerApp.root_dir={tmp_path / WORKING_FOLDER}" in options


# --- who may take part, and what must be there --------------------------------------------------------
def test_accounts_that_cannot_take_part_are_told_all_together():
    with pytest.raises(InputProblem) as told:
        accounts.checked(["no-such-account", "root", "Ana", "no-such-account"], "root")
    said = str(told.value)
    for part in (
        "no account 'no-such-account'",
        "root is an account of the machine",
        "Ana has capital letters",
        "no-such-account is named more than once",
    ):
        assert part in said


def test_an_account_needs_a_home_that_is_a_folder_and_may_read_the_course(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("")
    monkeypatch.setattr(accounts, "_can_run_the_course", lambda name: name != "cleo")
    homes = {"ana": tmp_path, "ben": tmp_path / "gone", "cleo": tmp_path, "dora": tmp_path / "file"}
    monkeypatch.setattr(
        accounts.pwd, "getpwnam", lambda name: SimpleNamespace(pw_uid=1234, pw_dir=str(homes.get(name, tmp_path)))
    )
    accounts.checked(["ana"], "eva")
    for name, says in (("ben", "has no home folder"), ("dora", "has no home folder"), ("cleo", "may not read the course")):
        with pytest.raises(InputProblem, match=f"{name} {says}"):
            accounts.checked([name], "eva")


@pytest.mark.parametrize(
    "address, papers, says",
    [
        ("0.0.0.0", ("", ""), "is not the address"),
        ("the shed", ("", ""), "is not the address"),
        ("127.0.0.1", ("cert.pem", ""), "belong together"),
        ("127.0.0.1", ("no.pem", "no.key"), "no file no.pem"),
    ],
)
def test_what_is_typed_wrongly_is_told(monkeypatch, address, papers, says):
    monkeypatch.setattr(server, "_machine", lambda: None)
    monkeypatch.setattr(accounts, "checked", lambda *names: None)
    with pytest.raises(InputProblem, match=says):
        server.run(["ana"], "eva", address, None, *papers)


def test_what_is_missing_on_this_machine_is_told(monkeypatch):
    monkeypatch.setattr(server.importlib.util, "find_spec", lambda name: None)
    with pytest.raises(InputProblem, match=r"pip install '\.\[class\]'"):
        server.run(["ana"], "eva", "127.0.0.1")
    monkeypatch.setattr(server.importlib.util, "find_spec", lambda name: name)
    monkeypatch.setattr(server.shutil, "which", lambda *words, **more: "traefik")
    monkeypatch.setattr(server.serve, "is_root", lambda: False)
    with pytest.raises(InputProblem, match="begin the line with sudo"):
        server.run(["ana"], "eva", "127.0.0.1")
    monkeypatch.setattr(server.sys, "platform", "darwin")
    with pytest.raises(InputProblem, match="needs a machine with Linux"):
        server.run(["ana"], "eva", "127.0.0.1")


def test_a_class_is_open_to_this_machine_alone_unless_an_address_is_told(monkeypatch):
    asked = []
    monkeypatch.setattr(server, "run", lambda learners, mentor, address, *more: asked.append((learners, mentor, address)) or 0)
    assert main(["class", "ana", "ben", "--mentor", "eva"]) == 0
    assert main(["class", "ana", "--mentor", "eva", "--address", "192.168.1.5"]) == 0
    assert asked == [(["ana", "ben"], "eva", "127.0.0.1"), (["ana"], "eva", "192.168.1.5")]


def test_what_is_not_protected_is_said_at_the_start():
    told = TheClass(("ana", "root"), "eva", "192.168.1.5", 8888)
    said = "\n".join(server._announced(told, accounts.stronger(["root"])))
    assert "http://192.168.1.5:8888/services/mentor/" in said and "passwords cross the room as plain text" in said
    assert "root is in the group root and may act for anybody" in said
    assert "ana is in the group wheel and may act" in "\n".join(server._announced(told, {"ana": "wheel"}))
    for other in (replace(told, address="127.0.0.1"), replace(told, certificate="c.pem", key="k.pem")):
        assert "Caution" not in "\n".join(server._announced(other, {}))
    assert replace(told, certificate="c.pem", address="fe80::1").url == "https://[fe80::1]:8888/"


# --- the real thing -----------------------------------------------------------------------------------
def unfit() -> str:
    """Why no class can be served by whoever runs these tests; empty where one can."""
    if os.geteuid() != 0:
        return "only root may act as other accounts"
    if missing := [name for name in ("jupyterhub", "jupyterhub_traefik_proxy") if importlib.util.find_spec(name) is None]:
        return f"not installed: {', '.join(missing)} (pip install '.[class]')"
    if not shutil.which("useradd"):
        return "no useradd on this machine"
    nobody = accounts.as_account("nobody")
    if subprocess.run(["test", "-x", sys.executable], check=False, **nobody).returncode:
        return f"other accounts may not run {sys.executable}"
    return ""


class Visitor:
    """One who signs in at ``url`` as a browser would."""

    def __init__(self, url: str, name: str, password: str, certificate: Path | None = None):
        self.url, self.name, self.place = url.rstrip("/"), name, f"/user/{name}/"
        self._jar = http.cookiejar.CookieJar()
        trusted = ssl.create_default_context(cafile=certificate)
        self._open = urllib.request.build_opener(
            urllib.request.HTTPCookieProcessor(self._jar), urllib.request.HTTPSHandler(context=trusted)
        ).open
        self.ask("/hub/login")
        form = {"username": name, "password": password, "_xsrf": self._xsrf("/hub/")}
        self.status, self.page = self.ask("/hub/login?next=/hub/home", urllib.parse.urlencode(form).encode())

    def ask(self, path: str, form: bytes | None = None, **headers: str) -> tuple[int, str]:
        """Status and text of what is answered in the end; ``at`` is then the address of that."""
        try:
            with self._open(urllib.request.Request(self.url + path, form, headers), timeout=_PATIENCE) as answer:
                self.at = urllib.parse.urlsplit(answer.url).path
                return answer.status, answer.read().decode()
        except urllib.error.HTTPError as refused:
            return refused.code, refused.read().decode()

    def _xsrf(self, path: str) -> str:
        return next(cookie.value for cookie in self._jar if cookie.name == "_xsrf" and cookie.path == path)

    def arrives(self) -> str:
        """Ask for one's own place and wait for it; the path of the page that opens."""
        self.ask("/hub/spawn")
        deadline = time.monotonic() + _PATIENCE
        while time.monotonic() < deadline:
            status, said = self.ask(self.place)
            if status == 200 and self.at.startswith(f"{self.place}lab"):
                return self.at.removeprefix(self.place)
            time.sleep(0.5)
        raise AssertionError(f"{self.name}: {status} {said}")

    def api(self, path: str, what: object = None) -> object:
        body = None if what is None else json.dumps(what).encode()
        more = {"X-XSRFToken": self._xsrf(self.place), "Content-Type": "application/json"}
        status, said = self.ask(f"{self.place}api/{path}", body, **more)
        assert status in (200, 201), (self.name, path, said)
        return json.loads(said)

    def runs(self, notebook: str, *more: str) -> list[str]:
        """Run every cell of code of a notebook in one's own folder and ``more`` after it; what those print."""
        cells = [cell["source"] for cell in self.api(f"contents/{notebook}")["content"]["cells"] if cell["cell_type"] == "code"]
        session = self.api("sessions", {"path": notebook, "name": notebook, "type": "notebook", "kernel": {"name": "python3"}})
        return asyncio.run(self._executed(session["kernel"]["id"], [*cells, *more]))[len(cells) :]

    async def _executed(self, kernel: str, cells: list[str]) -> list[str]:
        address = f"ws{self.url.removeprefix('http')}{self.place}api/kernels/{kernel}/channels?_xsrf={self._xsrf(self.place)}"
        cookies = "; ".join(f"{one.name}={one.value}" for one in self._jar if self.place.startswith(one.path))
        asked = HTTPRequest(address, headers={"Cookie": cookies, "Origin": self.url}, request_timeout=_PATIENCE)
        line = await websocket_connect(asked, max_message_size=1 << 28)
        told = [await self._cell(line, cell) for cell in cells]
        line.close()
        return told

    async def _cell(self, line, cell: str) -> str:
        head = {
            "msg_id": uuid.uuid4().hex,
            "msg_type": "execute_request",
            "username": "",
            "session": "s",
            "version": "5.3",
            "date": "",
        }
        content = {
            "code": cell,
            "silent": False,
            "store_history": True,
            "user_expressions": {},
            "allow_stdin": False,
            "stop_on_error": True,
        }
        message = {"header": head, "parent_header": {}, "metadata": {}, "content": content, "channel": "shell", "buffers": []}
        line.write_message(json.dumps(message))
        printed, open_ends = "", {"execute_reply", "idle"}
        while open_ends:
            got = await asyncio.wait_for(line.read_message(), _PATIENCE)
            said = json.loads(got) if isinstance(got, str) else {"parent_header": {}}
            if said["parent_header"].get("msg_id") != head["msg_id"]:
                continue
            if said["msg_type"] == "execute_reply":
                assert said["content"]["status"] == "ok", (self.name, cell, said["content"])
            printed += said["content"]["text"] if said["msg_type"] == "stream" else ""
            open_ends -= {said["msg_type"], said["content"].get("execution_state")}
        return printed


class Class:
    """Six learners, their mentor and one who is not of the class, with accounts for the time of the test; and the server."""

    def __init__(self):
        self.homes = Path(tempfile.mkdtemp(prefix="class-"))
        os.chmod(self.homes, 0o755)
        mark = secrets.token_hex(2)
        self.learners = [f"lc{mark}{letter}" for letter in "abcdef"]
        self.mentor, self.stranger = f"lc{mark}m", f"lc{mark}x"
        self.passwords = {name: secrets.token_urlsafe(9) for name in (*self.learners, self.mentor, self.stranger)}
        self.said = self.homes / "said.txt"
        for name, password in self.passwords.items():
            subprocess.run(["useradd", "-m", "-d", self.homes / name, "-s", "/bin/sh", name], check=True)
            subprocess.run(["chpasswd"], input=f"{name}:{password}\n", text=True, check=True)

    def starts(self, *more: str) -> None:
        words = [*COMMAND, "class", *self.learners, "--mentor", self.mentor, *more]
        with open(self.said, "wb") as said:
            self.process = subprocess.Popen(
                words, cwd=self.homes, stdin=subprocess.DEVNULL, stdout=said, stderr=subprocess.STDOUT
            )
        deadline = time.monotonic() + _PATIENCE
        while "Leave this window open" not in self.said.read_text():
            assert self.process.poll() is None and time.monotonic() < deadline, self.said.read_text()
            time.sleep(0.2)
        self.url = re.search(r"https?://\S+/(?=\n)", self.said.read_text())[0]

    def signed_in(self, name: str) -> Visitor:
        return Visitor(self.url, name, self.passwords[name])

    def folder(self, name: str) -> Path:
        return self.homes / name / WORKING_FOLDER

    def processes(self, name: str) -> list[Path]:
        owner = self.homes.joinpath(name).stat().st_uid
        found = []
        for path in Path("/proc").glob("[0-9]*"):
            try:
                found += [path] if path.stat().st_uid == owner else []
            except OSError:
                continue
        return found

    def memory(self, name: str) -> float:
        """MiB of a learner's processes, what they share with others in shares."""
        told = "".join((path / "smaps_rollup").read_text() for path in self.processes(name))
        return sum(map(int, re.findall(r"^Pss: +(\d+) kB", told, re.MULTILINE))) / 1024

    def ends(self) -> None:
        if hasattr(self, "process") and self.process.poll() is None:
            self.process.terminate()  # politely, or JupyterHub would live on
            self.process.wait(_PATIENCE)
        own = {self.homes.joinpath(name).stat().st_uid for name in self.passwords}
        for name in self.passwords:
            for path in self.processes(name):
                os.kill(int(path.name), signal.SIGKILL)
            subprocess.run(["userdel", "--force", name], check=False, capture_output=True)
        for left in Path(tempfile.gettempdir()).glob("lathe-class-*"):
            if left.lstat().st_uid in own:
                shutil.rmtree(left, ignore_errors=True)
        shutil.rmtree(self.homes, ignore_errors=True)


_WORK = """
import json, os, pathlib, random
from datetime import date
from lathe_course.course.teaching.questions.tries import Try, keep
others = [path for path in map(pathlib.Path, {others!r}) if os.access(path / "my-lathe", os.R_OK) or os.access(path / "my-lathe" / "design.toml", os.R_OK)]
chapter.keep(spindle_diameter={size!r}, because="as we said in the room")
keep(pathlib.Path("../design.exercises.csv"), Try(date(2031, 3, 9), "Ana", "06.1", 0, "right"))
print(json.dumps({{"uid": os.getuid(), "stands_in": os.getcwd(), "reads": [str(path) for path in others], "random": random.__file__,
    "works_on": chapter.session.where, "runtime": [path.name for path in pathlib.Path(os.environ["JUPYTER_RUNTIME_DIR"]).glob("kernel-*-ipc-*")]}}))
"""


@pytest.fixture(scope="module")
def room() -> Iterator[Class]:
    if reason := unfit():
        pytest.skip(reason)
    room = Class()
    try:
        stranger = Handed(room.homes / room.learners[0])  # a folder that was handed round
        for path in (stranger.folder, *stranger.folder.rglob("*")):
            shutil.chown(path, room.learners[0], room.learners[0])
        room.handed = stranger
        room.starts()
        yield room
    finally:
        room.ends()


@pytest.fixture(scope="module")
def worked(room, pytestconfig) -> dict[str, dict]:
    """What each of the six finds after running a chapter, all at once; memory and time of it are told."""

    def one(number: int) -> tuple[str, dict]:
        name = room.learners[number]
        visitor, begun = room.signed_in(name), time.monotonic()
        page = visitor.arrives()
        up = time.monotonic()
        others = [str(room.homes / other) for other in room.passwords if other != name]
        told = json.loads(visitor.runs(CHAPTER, _WORK.format(others=others, size=f"{30 + number} mm"))[0])
        return name, told | {"page": page, "visitor": visitor, "up": up - begun, "ran": time.monotonic() - up}

    with ThreadPoolExecutor(len(room.learners)) as pool:
        found = dict(pool.map(one, range(len(room.learners))))
    with pytestconfig.pluginmanager.getplugin("capturemanager").global_and_fixture_disabled():
        for name, told in found.items():
            print(
                f"\n{name}: place open after {told['up']:.1f} s, chapter 06 run in {told['ran']:.1f} s, {room.memory(name):.0f} MiB",
                end="",
            )
    return found


@pytest.mark.walk
def test_six_run_a_chapter_at_once_each_in_a_folder_of_their_own(room, worked):
    for name, told in worked.items():
        home = room.homes / name
        assert told["uid"] == home.stat().st_uid and told["stands_in"] == str(room.folder(name) / "notebooks")
        assert told["page"] == "lab/tree/notebooks/00_start_here.ipynb" and "in design.toml" in told["works_on"]
        assert room.folder(name).stat().st_mode & 0o077 == 0 and told["reads"] == []
        assert told["runtime"], "a kernel that listens on a port is read along by every account"
    assert len({room.folder(name).stat().st_uid for name in room.learners}) == 6


@pytest.mark.walk
def test_a_place_has_the_settings_of_start_and_takes_nothing_from_the_folder(room, worked):
    first = worked[room.learners[0]]
    assert room.handed.nothing_ran() is True and not Path(first["random"]).is_relative_to(room.homes)
    for told in (first, worked[room.learners[1]]):
        kernels = told["visitor"].api("kernelspecs")
        assert list(kernels["kernelspecs"]) == ["python3"] and kernels["kernelspecs"]["python3"]["spec"]["argv"][:2] == [
            sys.executable,
            "-P",
        ]
        page = told["visitor"].ask(f"{told['visitor'].place}lab")[1]
        config = json.loads(re.search(r'<script id="jupyter-config-data"[^>]*>(.*?)</script>', page, re.DOTALL)[1])
        assert json.loads(config["latheCourseCells"]) == workspace.known_cells()
        assert "lathe-course-page" in json.dumps(config["federated_extensions"])
        assert not config["disabledExtensions"] and "stranger" not in json.dumps(config)


@pytest.mark.walk
def test_nobody_is_let_in_where_they_do_not_belong(room, worked):
    ana, ben = room.learners[:2]
    assert (
        Visitor(room.url, ana, room.passwords[ben]).status == 403
        and Visitor(room.url, room.mentor, room.passwords[ana]).status == 403
    )
    assert Visitor(room.url, ana, "").status == 403
    assert room.signed_in(room.stranger).status == 403, "an account of the machine, but not of this class"
    mentor, learner = room.signed_in(room.mentor), worked[ana]["visitor"]
    for path in (
        "/services/mentor/",
        f"/services/mentor/?of={ben}",
        f"/user/{ben}/lab",
        f"/user/{ben}/api/contents/design.toml",
        "/hub/admin",
        "/hub/api/users",
    ):
        assert learner.ask(path)[0] in (403, 404), path
    for path in (f"/user/{ana}/lab", f"/user/{ana}/api/contents/design.toml", "/hub/admin", "/hub/api/users"):
        assert mentor.ask(path)[0] in (403, 404), f"the mentor reads by the page alone: {path}"


@pytest.mark.walk
def test_the_mentor_sees_all_and_changes_nothing(room, worked):
    secret = room.homes / "secret"
    secret.write_text("known to root alone")
    secret.chmod(0o600)
    ben, cleo = room.learners[1:3]
    (room.folder(ben) / "design.parts.csv").symlink_to(secret)
    os.mkfifo(room.folder(cleo) / "design.log.csv")
    before = {
        path: (path.lstat().st_mtime_ns, path.lstat().st_size) for name in room.learners for path in room.folder(name).glob("*")
    }
    mentor = room.signed_in(room.mentor)
    status, page = mentor.ask("/services/mentor/")
    assert status == 200 and "known to root" not in page
    for number, name in enumerate(room.learners):
        assert f">{name}</a>" in page and f"<td>{30 + number} mm" in page
    assert page.count("1 of 1 are right") == 6 and page.count("<td>1</td>") == 6
    status, alone = mentor.ask(f"/services/mentor/?of={cleo}")
    assert (
        status == 200 and "lever: " in alone and "as we said in the room" in alone and "06.1" in alone and "Decided last" in alone
    )
    assert mentor.ask("/services/mentor/?of=root")[0] == 404
    assert before == {
        path: (path.lstat().st_mtime_ns, path.lstat().st_size) for name in room.learners for path in room.folder(name).glob("*")
    }


@pytest.mark.walk
def test_ctrl_c_ends_all_of_it_and_the_work_stays(room, worked):
    """After all the others, for nothing is left to ask then."""
    room.process.send_signal(signal.SIGINT)
    assert room.process.wait(_PATIENCE) == 0 and "Everybody's work is in their own folder." in room.said.read_text()
    assert [path for name in room.learners for path in room.processes(name)] == []
    for name in room.learners:
        assert "as we said in the room" in (room.folder(name) / "design.toml").read_text(encoding="utf-8")


@pytest.mark.walk
def test_with_a_certificate_nothing_crosses_the_room_as_plain_text(room, worked):
    """The class once more, after it has ended."""
    paper, key = room.homes / "cert.pem", room.homes / "key.pem"
    signed = [
        "-x509",
        "-nodes",
        "-newkey",
        "rsa:2048",
        "-days",
        "2",
        "-subj",
        "/CN=127.0.0.1",
        "-addext",
        "subjectAltName=IP:127.0.0.1",
    ]
    subprocess.run(["openssl", "req", *signed, "-keyout", key, "-out", paper], check=True, capture_output=True)
    room.starts("--certificate", str(paper), "--key", str(key))
    assert room.url.startswith("https://")
    assert Visitor(room.url, room.mentor, room.passwords[room.mentor], paper).status == 200
    with pytest.raises(urllib.error.URLError, match="certificate verify failed"):
        Visitor(room.url, room.mentor, "", None)
    room.process.send_signal(signal.SIGTERM)
    assert room.process.wait(_PATIENCE) == 0
