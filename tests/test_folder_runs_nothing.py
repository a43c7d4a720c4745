"""A working folder handed round runs nothing by itself: a stranger's files lie everywhere in it, and none of them runs or sets anything."""

import ast
import json
import os
import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from jupyter_client import BlockingKernelClient
from started import COMMAND, SCRIPT, Started

from lathe_course.course.folder import lab_settings, workspace
from lathe_course.course.printed import brief_sections
from lathe_course.course.printed.brief import brief_html, write_brief
from lathe_course.course.printed.wall_charts import write_wall_charts
from lathe_course.course.sheets.written import drawing_written
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files.design_file import load
from lathe_course.design.files.progress_log import LogBook
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem

#: of the standard library, of what the course needs, of what those would like to have; and what Python or Jupyter run unasked
MODULES = (
    "random",
    "json",
    "re",
    "tornado",
    "jupyterlab",
    "jupyter_server",
    "lathe_course",
    "matplotlib",
    "numpy",
    "scipy",
    "pint",
    "uncertainties",
    "ipykernel",
    "ipykernel_launcher",
    "IPython",
    "ipywidgets",
    "usual_helper",
    "sitecustomize",
    "usercustomize",
    "jupyter_config",
    "jupyter_server_config",
    "jupyter_lab_config",
    "jupyter_notebook_config",
    "ipython_config",
    "ipython_kernel_config",
    "profile_default/startup/00-first",
    "profile_default/ipython_config",
    "profile_default/ipython_kernel_config",
)
#: where they lie: the folder and its shelves, and what an older course or another program would take as settings
PLACES = (
    "",
    "notebooks",
    "exercises",
    ".lathe-course-lab",
    ".lathe-course-lab/ipython",
    ".ipython",
    ".jupyter",
    ".config/jupyter",
)


class Handed:
    """A working folder as a stranger hands it on; what runs of it tells its name in the file ``ran``."""

    def __init__(self, place: Path):
        self.folder, self.ran = place / "my-lathe", place / "ran.txt"
        workspace.prepare(self.folder)
        for shelf in PLACES:
            for module in MODULES:
                self.lay(shelf, f"{module}.py", self.code(f"{shelf}/{module}.py"))
            self.lay(shelf, "z.pth", "import pathlib; " + self.code(f"{shelf}/z.pth"))
            self.lay(shelf, "pyvenv.cfg", "home = /nowhere\n")
            self.lay(shelf, "matplotlibrc", "lines.linewidth: 31\nxtick.major.size: 31\naxes.xmargin: 0.4\n")
            server = {
                "ServerApp": {"allow_origin": "*"},
                "LabApp": {"custom_css": True},
                "MappingKernelManager": {"default_kernel_name": "theirs"},
            }
            for name in ("jupyter_config", "jupyter_server_config", "jupyter_lab_config"):
                self.lay(shelf, f"{name}.json", json.dumps(server))
            self.lay(
                shelf,
                "ipython_kernel_config.json",
                json.dumps({"IPKernelApp": {"exec_lines": [self.code(f"{shelf}/exec_lines")]}}),
            )
            for kernel in ("python3", "theirs"):
                argv = [sys.executable, "-c", self.code(f"{shelf}/kernels/{kernel}"), "{connection_file}"]
                spec = json.dumps({"argv": argv, "display_name": "Theirs", "language": "python"})
                for share in ("", "share/jupyter/", "data/"):
                    self.lay(shelf, f"{share}kernels/{kernel}/kernel.json", spec)
            # how a page of a notebook is written, and what JupyterLab looks like
            for share in ("", "nbconvert/templates/"):
                self.lay(shelf, f"{share}lab/index.html.j2", "a stranger's template")
                self.lay(shelf, f"{share}lab/conf.json", json.dumps({"base_template": "base", "mimetypes": {"text/html": True}}))
            self.lay(
                shelf,
                "labconfig/default_setting_overrides.json",
                json.dumps({"@jupyterlab/apputils-extension:themes": {"theme": "a stranger's"}}),
            )
            self.lay(
                shelf, "labconfig/page_config.json", json.dumps({"disabledExtensions": {"@jupyterlab/notebook-extension": True}})
            )
            for settings in ("lab/user-settings", "settings"):
                self.lay(
                    shelf, f"{settings}/@jupyterlab/apputils-extension/themes.jupyterlab-settings", '{"theme": "a stranger\'s"}'
                )
            self.lay(shelf, "custom/custom.css", "body { display: none }")

    def code(self, name: str) -> str:
        return f"open({str(self.ran)!r}, 'a').write({name + chr(10)!r})\n"

    def lay(self, shelf: str, name: str, text: str) -> None:
        path = self.folder / shelf / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")

    def nothing_ran(self) -> bool:
        return not self.ran.exists() or self.ran.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def handed(tmp_path_factory) -> Handed:
    return Handed(tmp_path_factory.mktemp("handed"))


def test_what_is_laid_here_does_run_where_python_is_left_to_itself(handed):
    """Or the tests below could not fail."""
    subprocess.run([sys.executable, "-c", "import random"], cwd=handed.folder, check=True, timeout=300)
    assert handed.nothing_ran() == "/random.py\n"
    handed.ran.unlink()
    told = subprocess.run(
        [sys.executable, "-P", "-c", "import matplotlib; print(matplotlib.rcParams['lines.linewidth'])"],
        cwd=handed.folder,
        capture_output=True,
        text=True,
        check=True,
        timeout=300,
    )
    assert float(told.stdout) == 31


# --- the verbs, by one who stands in the folder -----------------------------------------------------
@pytest.mark.parametrize(
    "shelf, words",
    [
        pytest.param("", ["findings"], marks=pytest.mark.walk),
        ("", ["compare", ".", "boat_shed"]),
        ("", ["start", "--folder-only", "."]),
        ("notebooks", ["answers", "03", "--name", "Ana"]),
        ("notebooks", ["drawing", "--to", "{out}.svg"]),
        pytest.param("notebooks", ["brief", "--to", "{out}.html"], marks=pytest.mark.walk),
    ],
    ids=["findings", "compare", "start", "answers", "drawing", "brief"],
)
def test_a_verb_runs_nothing(handed, tmp_path, shelf, words):
    out = tmp_path / "out"
    done = subprocess.run(
        [*SCRIPT, *(word.format(out=out) for word in words)],
        cwd=handed.folder / shelf,
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout and handed.nothing_ran() is True
    for written in tmp_path.iterdir():
        ours = (
            brief_html(load(handed.folder / "design.toml", LATHE)).encode()
            if words[0] == "brief"
            else drawing_written(evaluate(demo("boat_shed")), ".svg")
        )
        assert written.read_bytes() == ours, "a setting of theirs moved a stroke"


def test_python_asked_by_its_dash_m_takes_no_module_of_the_learners(tmp_path):
    (tmp_path / "random.py").write_text("raise SystemExit('mine')\n")
    done = subprocess.run(
        [*COMMAND, "answers", "03", "--name", "Ana"], cwd=tmp_path, capture_output=True, text=True, timeout=300, check=False
    )
    assert done.returncode == 0 and "answer:" in done.stdout


# --- links in the folder ----------------------------------------------------------------------------
@pytest.mark.skipif(os.name == "nt", reason="links need rights on Windows")
def test_what_the_course_writes_does_not_go_through_a_link_to_what_others_run(tmp_path, monkeypatch):
    """Such as the file a terminal runs when it opens: names in a design could be words of command there."""
    monkeypatch.setattr(brief_sections, "turned_by", lambda *_: [])  # which levers there are is no matter here
    theirs, mine = tmp_path / "folder", tmp_path / "profile"
    theirs.mkdir()
    mine.write_text("my own\n")
    for name, write in (("brief.html", write_brief), ("wall_charts.html", write_wall_charts)):
        (theirs / name).symlink_to(mine)
        write(demo("boat_shed"), theirs / name)
        assert mine.read_text() == "my own\n" and "<!DOCTYPE html>" in (theirs / name).read_text(encoding="utf-8")
    for there in ("profile", "not-there-yet"):
        log = theirs / f"{there}.log.csv"
        log.symlink_to(tmp_path / there)
        mine.write_text("")
        with pytest.raises(
            InputProblem, match="it is a link to a file that holds no log; take the link away|the file or its folder is gone"
        ):
            LogBook(log).append("2031-03-09", "money", "2.50", words="$(as if)")
        assert mine.read_text() == "" and not (tmp_path / "not-there-yet").exists()


# --- the course, opened there -----------------------------------------------------------------------
_LOOK = """
import json, os, sys
import matplotlib, matplotlib.pyplot
import random, tornado, IPython
try:
    import usual_helper
except ImportError as problem:
    missed = str(problem)
from lathe_course.course import open_chapter
chapter = open_chapter("06")
shown = chapter.play("bent_spindle", "spindle_diameter")
told = json.dumps({"stands_in": os.getcwd(), "path": sys.path, "line": matplotlib.rcParams["lines.linewidth"], "missed": missed,
    "backend": matplotlib.get_backend(), "profile": get_ipython().profile_dir.location, "works_on": chapter.session.where,
    "files": [getattr(module, "__file__", None) or "" for module in list(sys.modules.values())]})
"""


@pytest.fixture(scope="module")
def opened(handed):
    """The course, started by one who stands in that folder."""
    if os.name != "posix":
        pytest.skip("ends the command by signals")
    runs, share = handed.folder.parent / "runs", handed.folder.parent / "share"
    runs.mkdir()
    other = share / "kernels" / "other" / "kernel.json"  # of this account, for other work
    other.parent.mkdir(parents=True)
    other.write_text(
        json.dumps({"argv": [sys.executable, "-m", "ipykernel_launcher"], "display_name": "Other", "language": "python"})
    )
    started = Started(handed.folder, 8920, stands_in=handed.folder, TMPDIR=str(runs), JUPYTER_PATH=str(share))
    started.runs = runs
    yield started
    assert started.end(signal.SIGINT) == 0


def test_the_course_opens_and_blames_no_file(opened, handed):
    status, _ = opened.get("/api/status")
    assert status == 200 and handed.nothing_ran() is True
    assert "install" not in opened.text() and "random" not in opened.text()
    assert ".lathe-course-lab is not used any more" in opened.text()


def test_jupyterlab_takes_no_setting_and_no_kernel_from_the_folder(opened, handed):
    kernels = json.loads(opened.get("/api/kernelspecs")[1])
    assert list(kernels["kernelspecs"]) == ["python3"] and kernels["default"] == "python3"
    assert kernels["kernelspecs"]["python3"]["spec"]["argv"][:2] == [sys.executable, "-P"]
    themes = json.loads(opened.get("/lab/api/settings/@jupyterlab/apputils-extension:themes")[1])
    assert "stranger" not in json.dumps(themes)
    page = opened.get("/lab")[1].decode()
    config = json.loads(re.search(r'<script id="jupyter-config-data"[^>]*>(.*?)</script>', page, re.DOTALL)[1])
    assert not config["disabledExtensions"] and "custom.css" not in page
    status, exported = opened.get("/nbconvert/html/notebooks/00_start_here.ipynb")
    assert status == 200 and b"Start here" in exported and b"a stranger's template" not in exported
    assert handed.nothing_ran() is True


def test_the_kernel_of_a_notebook_takes_nothing_from_the_folder(opened, handed):
    found = look(opened, "notebooks/06_spindle_and_bearings.ipynb", _LOOK)
    assert handed.nothing_ran() is True
    folder = handed.folder.resolve()
    assert found["stands_in"] == str(folder / "notebooks") and "in design.toml" in found["works_on"]
    assert "" not in found["path"]
    assert not [place for place in (*found["path"], *found["files"], found["profile"]) if Path(place).is_relative_to(folder)]
    assert found["line"] != 31 and "inline" in found["backend"]
    assert found["missed"] == "No module named 'usual_helper'"


def look(opened: Started, notebook: str, code: str) -> dict:
    """What a cell of a notebook leaves in ``told``, its kernel started as JupyterLab asks for it."""
    session = {"path": notebook, "name": notebook, "type": "notebook", "kernel": {"name": "python3"}}
    status, made = opened.send("POST", "/api/sessions", session)
    assert status == 201, made
    kernel = json.loads(made)["kernel"]["id"]
    client = BlockingKernelClient(connection_file=str(next(opened.runs.glob(f"*/kernel-{kernel}.json"))))
    client.load_connection_file()
    client.start_channels(iopub=False, stdin=False, hb=False, control=False)
    try:
        reply = client.execute(code, user_expressions={"told": "told"}, reply=True, timeout=300)["content"]
    finally:
        client.stop_channels()
    assert reply["status"] == "ok", reply
    return json.loads(ast.literal_eval(reply["user_expressions"]["told"]["data"]["text/plain"]))


# --- what the learner arranges ----------------------------------------------------------------------
def test_what_is_arranged_in_jupyterlab_is_kept_in_the_account_and_not_in_the_folder(opened, handed):
    before = set(handed.folder.rglob("*"))
    dark = {"raw": '{"theme": "JupyterLab Dark"}'}
    assert opened.send("PUT", "/lab/api/settings/@jupyterlab/apputils-extension:themes", dark)[0] == 204
    tabs = {"data": {"layout-restorer:data": {}}, "metadata": {"id": "default"}}
    assert opened.send("PUT", "/lab/api/workspaces/default", tabs)[0] == 204
    assert set(handed.folder.rglob("*")) == before
    state = handed.folder.parent / "state" / "lathe-course"
    assert len(list(state.rglob("*.jupyterlab-settings"))) == len(list(state.rglob("*.jupyterlab-workspace"))) == 1


@pytest.fixture
def account(tmp_path, monkeypatch) -> Path:
    """Where this account keeps what programs remember."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "account"))
    return tmp_path / "account" / "lathe-course"


def laid(tmp_path: Path, folder: str, number: int) -> tuple[dict[str, str], list[str]]:
    """The environment of JupyterLab for a folder, in the run of that number, and what was said."""
    said = []
    (tmp_path / f"run-{number}").mkdir()
    return lab_settings.lay(tmp_path / folder, tmp_path / f"run-{number}", said.append)[1], said


def test_a_theme_is_kept_for_all_folders_and_open_tabs_for_each(tmp_path, account):
    (first, _), (again, _), (other, said) = (laid(tmp_path, folder, number) for number, folder in enumerate(("a", "a", "b")))
    assert first["JUPYTERLAB_SETTINGS_DIR"] == other["JUPYTERLAB_SETTINGS_DIR"]
    assert first["JUPYTERLAB_WORKSPACES_DIR"] == again["JUPYTERLAB_WORKSPACES_DIR"] != other["JUPYTERLAB_WORKSPACES_DIR"]
    assert account.is_dir() and said == []
    for name in ("JUPYTERLAB_SETTINGS_DIR", "JUPYTERLAB_WORKSPACES_DIR", "JUPYTER_DATA_DIR"):
        assert Path(first[name]).is_relative_to(account)
    for name in ("JUPYTER_CONFIG_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR"):
        assert Path(first[name]).is_relative_to(tmp_path / "run-0")


def test_an_account_that_keeps_nothing_is_told_so_and_the_course_goes_on(tmp_path, account):
    account.parent.write_text("a file where the folder would be")
    environment, said = laid(tmp_path, "a", 0)
    assert len(said) == 1 and re.fullmatch(
        r"What you arrange in JupyterLab, such as its theme, is not kept this time: .+\.", said[0]
    )
    assert Path(environment["JUPYTERLAB_SETTINGS_DIR"]).is_relative_to(tmp_path / "run-0")


def test_only_full_paths_are_passed_on_to_a_kernel(tmp_path, account, monkeypatch):
    """An empty one, as ``PYTHONPATH=:more`` has, would be the folder of the notebook."""
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join(["", ".", "lib", str(tmp_path)]))
    assert laid(tmp_path, "a", 0)[0]["PYTHONPATH"] == str(tmp_path)
    monkeypatch.setenv("PYTHONPATH", os.pathsep)
    assert "PYTHONPATH" not in laid(tmp_path, "a", 1)[0]


@pytest.mark.parametrize(
    "platform, environment, place",
    [
        ("linux", {}, ".local/state"),
        ("linux", {"XDG_STATE_HOME": "here"}, ".local/state"),
        ("darwin", {}, "Library/Application Support"),
        ("win32", {}, "AppData/Local"),
        ("win32", {"LOCALAPPDATA": "/given"}, "/given"),
    ],
)
def test_where_an_account_keeps_it(monkeypatch, platform, environment, place):
    monkeypatch.setattr(sys, "platform", platform)
    for name in ("XDG_STATE_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    assert lab_settings.state_folder() == Path.home() / place / "lathe-course"
