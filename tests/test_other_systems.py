"""What goes another way on Windows or macOS, by taking that way here: what these systems refuse, do not have, or write otherwise.

None of it has run there; DEVELOPERS says what stays untried.
"""

import io
import os
import signal
import socket
import subprocess
import sys
from types import SimpleNamespace

import pytest

from lathe_course import command
from lathe_course.course.folder import serve, workspace
from lathe_course.design.files import whole_file


class Other:
    """A module of Python as another system has it: some of it otherwise, some of it missing."""

    def __init__(self, module, *missing: str, **otherwise):
        self._module, self._missing = module, missing
        vars(self).update(otherwise)

    def __getattr__(self, name: str):
        if name in self._missing:
            raise AttributeError(name)
        return getattr(self._module, name)


def held_open(number: int = 32) -> PermissionError:
    """What Windows says while another program has the file to itself."""
    problem = PermissionError(13, "The process cannot access the file")
    problem.winerror = number
    return problem


# --- files that others hold open ------------------------------------------------------------------------
@pytest.fixture
def scanned(monkeypatch):
    """Windows with somebody who looks at a file for some attempts; how often it was tried."""
    tried = []

    def windows(times: int) -> list:
        def replace(new, old) -> None:
            tried.append(new)
            if len(tried) <= times:
                raise held_open()
            os.replace(new, old)

        def opened(path, flags, *more):
            if os.path.isdir(path):
                raise PermissionError(13, "folders cannot be opened")
            return os.open(path, flags & ~0x8000, *more)

        monkeypatch.setattr(whole_file, "os", Other(os, name="nt", replace=replace, open=opened, O_BINARY=0x8000))
        monkeypatch.setattr(whole_file, "time", Other(whole_file.time, sleep=lambda seconds: None))
        return tried

    return windows


def test_a_file_that_a_scanner_looks_at_is_written_all_the_same(tmp_path, scanned):
    path = tmp_path / "design.toml"
    path.write_bytes(b"before")
    tried = scanned(5)
    whole_file.write_whole(path, b"after\r\n")
    assert path.read_bytes() == b"after\r\n" and len(tried) == 6
    assert [one.name for one in tmp_path.iterdir()] == ["design.toml"]


def test_a_file_that_stays_held_is_left_as_it_was_and_told(tmp_path, scanned):
    path = tmp_path / "design.toml"
    path.write_bytes(b"before")
    tried = scanned(1000)
    with pytest.raises(PermissionError) as refused:
        whole_file.write_whole(path, b"after")
    assert path.read_bytes() == b"before" and len(tried) == 20
    assert [one.name for one in tmp_path.iterdir()] == ["design.toml"]
    for reading in (False, True):
        assert whole_file.in_words(refused.value, reading) == "another program holds it open; close it there and try again"
    assert whole_file.in_words(PermissionError(13, "")) == "you may not write there"


# --- signals, ports, screens, rights --------------------------------------------------------------------
def test_a_system_without_a_closed_terminals_signal_is_stopped_by_the_others(monkeypatch):
    monkeypatch.setattr(serve, "signal", Other(signal, "SIGHUP"))
    before = signal.getsignal(signal.SIGTERM)
    with pytest.raises(KeyboardInterrupt), serve.stoppable():
        signal.raise_signal(signal.SIGTERM)
    assert signal.getsignal(signal.SIGTERM) == before


def test_a_port_in_use_is_not_taken_over_where_that_can_be_done(monkeypatch):
    """On Windows the option by which a port left a moment ago counts as free would take a port from whoever holds it."""
    asked = []

    class Socket(socket.socket):
        def setsockopt(self, *words) -> None:
            asked.append(words)
            super().setsockopt(*words)

    monkeypatch.setattr(serve, "socket", Other(socket, socket=Socket))
    with socket.create_server((serve.HOST, 0)) as held:
        taken = held.getsockname()[1]
        monkeypatch.setattr(serve, "os", Other(os, name="nt"))
        assert serve.free_port(taken) > taken and not asked
        monkeypatch.setattr(serve, "os", os)
        serve.free_port(taken)
        assert asked


@pytest.mark.parametrize("platform", ["win32", "darwin"])
def test_there_is_always_a_screen(monkeypatch, platform):
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(sys, "platform", platform)
    assert serve.can_open_browser()


def test_who_has_no_number_is_not_root(monkeypatch):
    monkeypatch.setattr(serve, "os", Other(os, "geteuid"))
    assert not serve.is_root()


def test_ctrl_c_reaches_the_command_alone(monkeypatch, tmp_path):
    """In a console of Windows it goes to the whole group of processes."""
    given = {}
    monkeypatch.setattr(
        serve, "subprocess", Other(subprocess, Popen=lambda words, **more: given.update(more), CREATE_NEW_PROCESS_GROUP=512)
    )
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    serve._launch(tmp_path, 8899, False, tmp_path, tmp_path / "log", lambda line: None)
    assert given["creationflags"] == 512 and given["start_new_session"]
    assert SimpleNamespace(**given).stdin == subprocess.DEVNULL


def test_a_class_is_refused_in_a_sentence_where_there_are_no_accounts_of_that_kind():
    code = "import os, sys; sys.modules['pwd'] = sys.modules['grp'] = None\nfrom lathe_course.course.one_server import server\nserver.sys = type('', (), {'platform': 'win32'})\n"
    code += "try: server.run(['ana'], 'eva', '127.0.0.1')\nexcept server.InputProblem as told: print(told)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=300, check=False)
    assert done.stdout.startswith("A class needs a machine with Linux"), done.stderr


# --- consoles and paths ---------------------------------------------------------------------------------
@pytest.mark.parametrize("encoding", ["cp437", "cp850", "cp1252", "cp932", "mac_roman", "ascii"])
@pytest.mark.parametrize("words", [["words"], ["questions", "--template"], ["findings", "no such folder µ ≈ ✓"]])
def test_an_old_console_shows_a_sign_for_what_it_has_not(monkeypatch, encoding, words):
    out, errors = (io.TextIOWrapper(io.BytesIO(), encoding=encoding, newline="") for _ in range(2))
    monkeypatch.setattr(sys, "stdout", out)
    monkeypatch.setattr(sys, "stderr", errors)
    code = command.main(words)
    out.flush(), errors.flush()
    said = (out.buffer.getvalue() + errors.buffer.getvalue()).decode(encoding)
    assert (code, bool(said)) == (2 if "findings" in words else 0, True) and "Traceback" not in said


def test_a_path_is_read_with_the_strokes_of_windows():
    assert workspace._chosen("notebooks\\03_cutting_speeds.ipynb") == "notebooks/03_cutting_speeds.ipynb"
