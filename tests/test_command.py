"""The command as people type it: what it says, where it says it, and how it ends."""

import json
import os
import re
import signal
import socket
import subprocess
import sys
import urllib.parse
from pathlib import Path

import pytest
from started import COMMAND, Started

from lathe_course import command
from lathe_course.course.folder import serve, server, workspace
from lathe_course.course.shown import essentials, plain_text
from lathe_course.design.asked.levers import levers
from lathe_course.design.asked.together import together
from lathe_course.design.chain.luck import DRAWS
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files import design_file
from lathe_course.design.lathe import LATHE
from lathe_course.units import InputProblem


def run(*words: str, cwd: Path, **more) -> subprocess.CompletedProcess:
    return subprocess.run([*COMMAND, *words], cwd=cwd, capture_output=True, text=True, timeout=300, check=False, **more)


# --- in words ---------------------------------------------------------------------------------------
def test_help_names_every_verb(tmp_path):
    done = run("--help", cwd=tmp_path)
    assert done.returncode == 0
    for verb in command.VERBS:
        assert re.search(rf"^ +{verb.name}\s+\S", done.stdout, re.MULTILINE)


@pytest.mark.parametrize("verb", [verb.name for verb in command.VERBS])
def test_every_verb_explains_itself(verb, capsys):
    with pytest.raises(SystemExit) as ended:
        command.main([verb, "--help"])
    assert ended.value.code == 0
    assert f"lathe-course {verb}" in capsys.readouterr().out


def test_the_folder_alone(tmp_path):
    done = run("start", "--folder-only", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith(f"Made your working folder: {tmp_path / 'my-lathe'}\n")
    assert (tmp_path / "my-lathe" / ".lathe-course.json").is_file()


def test_bad_input_is_a_sentence_and_no_traceback(tmp_path):
    (tmp_path / "taken").write_text("x")
    done = run("start", "taken", cwd=tmp_path)
    assert done.returncode == 2 and done.stdout == ""
    assert done.stderr == f"{tmp_path / 'taken'} is a file, not a folder. Choose another name for your working folder.\n"


@pytest.mark.parametrize("words", [[], ["stop"], ["start", "--port", "many"], ["start", "a", "b"]])
def test_words_the_command_does_not_know(words, capsys):
    with pytest.raises(SystemExit) as ended:
        command.main(words)
    assert ended.value.code == 2
    assert "usage: lathe-course" in capsys.readouterr().err


@pytest.mark.parametrize(
    "raised, code, told",
    [
        (InputProblem([("a", "first sentence."), ("b", "second sentence.")]), 2, "first sentence.\nsecond sentence.\n"),
        (KeyboardInterrupt(), 130, "\n"),
    ],
)
def test_how_a_verb_ends(monkeypatch, capsys, raised, code, told):
    def act(options):
        raise raised

    monkeypatch.setattr(command, "VERBS", (command.Verb("try", "try it", (), act),))
    assert command.main(["try"]) == code
    assert capsys.readouterr().err == told


def test_output_cut_off_by_the_reader_is_no_error(tmp_path):
    reader, writer = os.pipe()
    os.close(reader)
    done = subprocess.run(
        [*COMMAND, "start", "--folder-only"], cwd=tmp_path, stdout=writer, stderr=subprocess.PIPE, timeout=300, check=False
    )
    os.close(writer)
    assert done.stderr == b"" and done.returncode == 1


# --- a design, held and compared --------------------------------------------------------------------
@pytest.fixture
def here(tmp_path, monkeypatch):
    """A folder to stand in, with a working folder ``my-lathe``."""
    monkeypatch.chdir(tmp_path)
    workspace.prepare("my-lathe")
    return tmp_path


def failing(here: Path) -> list[str]:
    design = design_file.load(here / "my-lathe" / "design.toml", LATHE)
    return [finding.label for finding in evaluate(design, draws=1000).findings.values() if finding.status == "fails"]


@pytest.mark.parametrize("words", [[], ["my-lathe"], ["my-lathe/design.toml"]])
def test_findings_of_a_design(here, capsys, words, without_levers):
    assert command.main(["findings", *words]) == 0
    told = capsys.readouterr().out
    design = design_file.load(here / "my-lathe" / "design.toml", LATHE)
    assert told.startswith(design.name + "\n")
    verdicts = [finding.status for finding in evaluate(design).findings.values()]
    for mark, status in (("≈", "tight"), ("✗", "fails")):
        assert len(re.findall(f"^  {mark} {status} ", told, re.MULTILINE)) == verdicts.count(status)
    assert f"{len(verdicts)} findings: {verdicts.count('holds')} hold" in told
    assert max(len(line) for line in told.splitlines() if line.startswith("  ✓")) <= 120
    for chapter in {limit.chapter for limit in LATHE.limits.values()}:
        assert re.search(f"^{chapter} \\w", told, re.MULTILINE)
    assert told.count("✗ fails") == len(failing(here)) > 0


@pytest.fixture
def without_levers(monkeypatch):
    """Findings told without a search for levers, for tests of other things."""
    monkeypatch.setattr(plain_text, "turned_by", lambda *_: [])


def test_findings_from_inside_the_working_folder(here, monkeypatch, capsys, without_levers):
    (here / "my-lathe" / "notebooks" / "mine").mkdir(parents=True)
    monkeypatch.chdir(here / "my-lathe" / "notebooks" / "mine")
    assert command.main(["findings"]) == 0
    assert "holds" in capsys.readouterr().out


def test_findings_tell_what_of_the_file_is_not_as_written(here, capsys, without_levers):
    file = here / "my-lathe" / "design.toml"
    assert command.main(["findings", "my-lathe"]) == 0 and "centre_hight" not in capsys.readouterr().out
    file.write_text(
        file.read_text().replace(
            "[decisions.centre_height]", "[decisions.centre_hight]\nvalue = '1 mm'\n[decisions.centre_height]", 1
        )
    )
    assert command.main(["findings", "my-lathe"]) == 0
    assert re.search(
        r"^Mind: design\.toml.*'centre_hight' is not known; did you mean centre_height", capsys.readouterr().out, re.MULTILINE
    )


def test_no_design_to_be_found(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert command.main(["findings"]) == 2
    assert capsys.readouterr().err == (
        "You do not stand in a working folder, so say which design is meant, for example: ~/my-lathe/design.toml\n"
    )


def test_a_damaged_design_is_told_by_its_line(here, capsys):
    (here / "my-lathe" / "design.toml").write_text("format = 2\nname = \n")
    assert command.main(["findings"]) == 2
    said = capsys.readouterr()
    assert said.out == "" and "line 2" in said.err and "Traceback" not in said.err


def test_words_of_a_file_are_shown_and_not_obeyed_by_the_terminal(here, capsys, without_levers):
    """A colour, a title of the window, a line drawn over: a file that was handed round may hold them."""
    path = here / "my-lathe" / "design.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(
        re.sub("^name = .*", r'name = "Red \\u001b[31mShed\\u001b]0;mine\\u0007\\u009b2J"', text, flags=re.MULTILINE),
        encoding="utf-8",
    )
    assert command.main(["findings", "my-lathe"]) == 0
    said = capsys.readouterr().out
    assert r"Red \x1b[31mShed\x1b]0;mine\x07\x9b2J" in said and not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f]", said)
    path.write_text(re.sub("^system = .*", r'system = "\\u001b[2J"', text, flags=re.MULTILINE), encoding="utf-8")
    assert command.main(["findings", "my-lathe"]) == 2
    assert r"\x1b[2J" in (said := capsys.readouterr().err) and "\x1b" not in said
    with pytest.raises(SystemExit):
        command.main(["\x1b[31m"])
    assert "\x1b" not in capsys.readouterr().err


def test_compare_shows_what_differs(here, capsys):
    mine = here / "my-lathe" / "design.toml"
    other = here / "other.toml"
    design_file.new(other)
    design_file.DesignFile(other, LATHE).save_change(lambda design: design.with_("to try", centre_height="90 mm"))
    other.write_text(
        re.sub("^name = .*", 'name = "Other"', other.read_text(encoding="utf-8"), flags=re.MULTILINE), encoding="utf-8"
    )
    assert command.main(["compare", str(mine), "other.toml", "my-lathe"]) == 0
    told = capsys.readouterr().out
    parts = {part.partition("  ")[0]: part.splitlines() for part in told.split("\n\n")}
    assert list(parts)[:3] == ["what fails or differs", "key results", "decisions that differ"], "what fails comes first"
    assert re.split("  +", parts["decisions that differ"][0])[1:] == ["my-lathe", "other", "my-lathe (2)"], (
        "each by the name of its own folder"
    )
    assert [re.split("  +", line) for line in parts["decisions that differ"][2:3]] == [
        [LATHE.decisions["centre_height"].label, "75 mm", "90 mm", "75 mm"]
    ]
    assert parts["decisions that differ"][3:] == ["centre height, other: to try"], "and why, of those that were decided"
    statuses = [re.findall(r"\b(holds|tight|fails|open)\b", line)[-3:] for line in parts["what fails or differs"][2:]]
    assert all("fails" in row or len(set(row)) > 1 for row in statuses)
    fails = [row.count("fails") for row in statuses]
    assert fails == sorted(fails, reverse=True) and fails[0] == 3
    assert len(re.findall(r"(?m)^(my-lathe|other|my-lathe \(2\)): \d+ hold, \d+ tight, \d+ fail, \d+ open$", told)) == 3
    here_fail = {finding.label for finding in evaluate(demo("boat_shed"), DRAWS).findings.values() if finding.status == "fails"}
    assert here_fail <= {line.partition("  ")[0] for line in parts["what fails or differs"]}


def test_compare_writes_a_page_with_names_and_reasons(here, capsys):
    other = here / "Werkbank <2>"
    other.mkdir()
    design_file.new(other / "design.toml")
    design_file.DesignFile(other / "design.toml", LATHE).save_change(
        lambda design: design.with_("to try <b>it</b>", centre_height="90 mm")
    )
    assert command.main(["compare", "my-lathe", str(other), "--to", "wall.html"]) == 0
    page = (here / "wall.html").read_text(encoding="utf-8")
    assert "Werkbank &lt;2&gt;" in page and "to try &lt;b&gt;it&lt;/b&gt;" in page and "90 mm" in page
    assert "<main>" in page and "http" not in page and "<script" not in page
    assert command.main(["compare", "my-lathe", "cabin", "--to", "wall.txt"]) == 2
    assert "must end in .html" in capsys.readouterr().err


def test_compare_tells_no_figure_where_nothing_was_asked_and_never_as_never(here, capsys):
    poor = here / "poor.toml"
    design_file.new(poor)
    design_file.DesignFile(poor, LATHE).save_change(
        lambda design: design.with_("to try", money_can="1 EUR/month", money_should="1 EUR/month")
    )
    assert command.main(["compare", "boat_shed", "poor.toml"]) == 0
    rows = capsys.readouterr().out.splitlines()
    assert not any(row.startswith("sessions are kept") for row in rows), "open in both, so it neither fails nor differs"
    assert next(row for row in rows if row.startswith("finished before patience ends")).endswith("✗ fails never")


def test_compare_designs_that_are_the_same(here, capsys):
    assert command.main(["compare", "my-lathe", "my-lathe"]) == 0
    told = capsys.readouterr().out
    assert "decisions that differ" not in told
    fails = [line for line in told.partition("key results")[0].splitlines() if "✗ fails " in line]
    assert fails and all(line.count("✗ fails ") == 2 for line in fails), "what fails is told all the same"


def test_compare_shows_key_results_and_takes_demos_by_name(here, capsys):
    assert command.main(["compare", "my-lathe", "shared_barn", "cabin"]) == 0
    told = capsys.readouterr().out
    results = told[told.index("key results") : told.index("decisions that differ")]
    mine = design_file.load("my-lathe/design.toml", LATHE)  # the boat shed, but that no electrician was asked yet
    worked = [evaluate(one, DRAWS) for one in (mine, demo("shared_barn"), demo("cabin"))]
    for name in (*essentials.KEY_RESULTS, *essentials.BUILD_OR_BUY):
        shown = [one.shown_spread(name) for one in worked]
        line = next(line for line in results.splitlines() if line.startswith(LATHE.part(name).label + "  "))
        assert re.split("  +", line)[1:] == shown
    assert max(map(len, told.splitlines())) <= 160  # words of a learner are cut short to stand side by side


@pytest.mark.parametrize(
    "words, told",
    [
        (["cabn", "cabin"], "There is no file or folder called 'cabn'.\nThere is no demo called 'cabn'; did you mean cabin?\n"),
        (
            ["cabin", "other.toml"],
            "The design file other.toml cannot be read: there is no such file; lay a new one, or put it back where it was.\n",
        ),
        (["cabin"], "Name at least two designs to compare, for example: my-lathe boat_shed\n"),
    ],
)
def test_compare_refuses_with_a_sentence(tmp_path, monkeypatch, capsys, words, told):
    monkeypatch.chdir(tmp_path)
    assert command.main(["compare", *words]) == 2
    said = capsys.readouterr()
    assert said.err == told and said.out == ""


def test_findings_of_a_demo_with_levers_for_what_fails_or_is_tight(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert command.main(["findings", "--demo", "cabin"]) == 0
    told = capsys.readouterr().out
    design = demo("cabin")
    here = evaluate(design, DRAWS)
    for finding in here.findings.values():
        if not finding.presses:
            assert finding.label in " ".join(told.split())
        else:
            line = told.index(f"{finding.mark} {finding.status}  {finding.sentence}")
            found = levers(here, finding.name, most=3)
            if finding.status == "fails" and all(lever.breaks for lever in found):
                pair = together(here, finding.name)
                assert (f"lever: {pair}" if pair else "no one decision mends it") in told[line:]
            else:
                assert all(f"lever: {lever}" in told[line:] for lever in found)
    assert "of all draws it is met" in told and "Sure to" not in told


def test_findings_of_an_unknown_demo(capsys):
    assert command.main(["findings", "--demo", "barn"]) == 2
    assert capsys.readouterr().err == "There is no demo called 'barn'; did you mean shared_barn?\n"


def test_answers_for_a_mentor(capsys):
    assert command.main(["answers", "03", "--name", "learner one"]) == 0
    assert "answer:" in capsys.readouterr().out
    assert command.main(["answers", "99", "--name", "learner one"]) == 2
    assert "There are no exercises for chapter '99'" in capsys.readouterr().err


def test_answers_of_several_names_in_one_short_table(capsys):
    assert command.main(["answers", "03", "--short", "--name", "learner one", "--name", "pupil 2"]) == 0
    head, *rows = capsys.readouterr().out.splitlines()[1:]
    assert head.split("  ")[-1].strip() == "pupil 2" and "learner one" in head
    assert len(rows) == 12 and all(row.startswith("03.") for row in rows)
    share = next(row for row in rows if row.startswith("03.11"))
    assert share.count("%") == 2, "a share in per cent"


def test_a_blank_name_is_asked_for(capsys):
    assert command.main(["answers", "03", "--name", " "]) == 2
    assert "is no name" in capsys.readouterr().err


def test_questions_of_ones_own_are_tried_from_a_template(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert command.main(["questions"]) == 2
    assert "which file of questions is meant" in capsys.readouterr().err
    assert command.main(["questions", "--template"]) == 0
    path = tmp_path / "mine.toml"
    path.write_text(capsys.readouterr().out, encoding="utf-8")
    assert command.main(["questions", str(path)]) == 0
    path.write_text(path.read_text(encoding="utf-8").replace("driven_speed", "drivn_speed"), encoding="utf-8")
    assert command.main(["questions", str(path)]) == 2
    assert "did you mean driven_speed" in capsys.readouterr().err


def test_tries_that_were_handed_over(capsys, tmp_path):
    path = tmp_path / "design.exercises.csv"
    assert command.main(["tries", str(tmp_path)]) == 2
    assert "no tries" in capsys.readouterr().err
    path.write_text(
        "date,name,question,round,stands,slip,given\n2031-03-03,learner one,03.3,0,slip,radius,5 rpm\n", encoding="utf-8"
    )
    for given in (path, tmp_path):
        assert command.main(["tries", str(given)]) == 0
        assert "learner one: 0 of 1 tried are right" in capsys.readouterr().out


def test_a_terminal_without_our_signs(here):
    done = run("answers", "03", "--name", "Ana", cwd=here, env=os.environ | {"PYTHONIOENCODING": "ascii"})
    assert done.returncode == 0 and "1/?" in done.stdout  # a ratio by its sign


# --- the port ---------------------------------------------------------------------------------------
@pytest.fixture
def taken_port():
    with socket.socket() as held:
        held.bind((serve.HOST, 0))
        held.listen()
        yield held.getsockname()[1]


def test_a_port_in_use_gives_way_to_the_next(taken_port):
    assert taken_port < serve.free_port(taken_port) < taken_port + 50


@pytest.mark.parametrize("port", [0, -1, 65536, 10**9])
def test_a_port_that_does_not_exist(port, tmp_path):
    with pytest.raises(InputProblem, match=f"Port {port} does not exist; a port is a number from 1 to 65535"):
        serve.free_port(port)


def test_no_free_port(monkeypatch, taken_port):
    monkeypatch.setattr(serve, "_PORTS_TRIED", 1)
    with pytest.raises(InputProblem, match=f"No port from {taken_port} to {taken_port} is free; choose another with --port."):
        serve.free_port(taken_port)


# --- JupyterLab behind it ---------------------------------------------------------------------------
@pytest.mark.skipif(os.name != "posix", reason="ends the command by signals")
def test_start_serves_the_folder_until_it_is_ended(tmp_path, taken_port):
    own = tmp_path / "own-settings"
    own.mkdir()
    started = Started(tmp_path / "my-lathe", taken_port, JUPYTER_CONFIG_DIR=str(own), JUPYTER_TOKEN="guessed")
    try:
        port, token = started.address.port, urllib.parse.parse_qs(started.address.query)["token"][0]
        assert started.address.hostname == "127.0.0.1" and port != taken_port
        assert f"Port {taken_port} is in use; using {port}." in started.text()
        assert started.address.path == "/lab/tree/notebooks/00_start_here.ipynb"
        assert len(token) >= 32
        # the token is wanted, and the printed one is right
        assert started.get("/api/contents", token=False)[0] == 403
        status, listed = started.get("/api/contents")
        assert status == 200 and "design.toml" in {entry["name"] for entry in json.loads(listed)["content"]}
        # only this machine can reach it
        with pytest.raises(OSError), socket.create_connection(("127.0.0.2", port), timeout=60):
            pass
        # no news pop-up, and the learner's own settings are left as they were
        status, settings = started.get("/lab/api/settings/@jupyterlab/apputils-extension:notification")
        assert status == 200
        defaults = json.loads(settings)["schema"]["properties"]
        assert defaults["fetchNews"]["default"] == "false" and defaults["checkForUpdates"]["default"] is False
        assert not list(own.iterdir())
    finally:
        code = started.end(signal.SIGINT)
    assert code == 0
    assert started.text().rstrip().endswith("The course has ended. Your work is in the folder.")
    with pytest.raises(OSError), socket.create_connection(("127.0.0.1", port), timeout=60):
        pass


@pytest.mark.skipif(os.name != "posix", reason="ends the command by signals")
def test_a_closed_terminal_ends_the_server_too(tmp_path):
    started = Started(tmp_path / "my-lathe", 8900)
    assert started.end(signal.SIGHUP) == 0
    with pytest.raises(OSError), socket.create_connection(("127.0.0.1", started.address.port), timeout=60):
        pass


def test_jupyterlab_that_cannot_start_is_told_in_its_own_words(tmp_path, monkeypatch):
    (tmp_path / "jupyterlab.py").write_text("raise SystemExit('no module of that name')\n")
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    with pytest.raises(InputProblem) as refused:
        serve.run(tmp_path, 8950, say=lambda line: None)
    assert "JupyterLab did not start. The last it said was:\n  no module of that name\n" in str(refused.value)
    left = {one.name for one in tmp_path.iterdir()} - {"__pycache__"}  # Python's own, where it keeps what it compiled
    assert left == {"jupyterlab.py", "state"}, "what it said is left nowhere in the folder"


@pytest.mark.parametrize("environment, expected", [({}, False), ({"DISPLAY": ":0"}, True), ({"WAYLAND_DISPLAY": "w"}, True)])
def test_a_browser_opens_only_where_there_is_a_screen(monkeypatch, environment, expected):
    monkeypatch.setattr(sys, "platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    assert serve.can_open_browser() is expected


def test_jupyterlab_looks_for_modules_neither_in_the_folder_nor_where_it_stands(tmp_path, monkeypatch):
    """Two locks on one door: -P keeps where it stands out of Python's path, and it does not stand in the learner's folder."""
    asked = {}
    monkeypatch.setattr(serve.subprocess, "Popen", lambda words, **more: asked.update(more, words=words))
    folder, runtime = tmp_path / "folder", tmp_path / "runtime"
    workspace.prepare(folder)
    runtime.mkdir()
    serve._launch(folder, 8931, False, runtime, tmp_path / "log", lambda *_: None)
    assert asked["words"][:5] == [sys.executable, "-P", "-m", server.__name__, "jupyterlab"] and asked["cwd"] == runtime


def test_a_server_loads_nothing_that_takes_longer_than_itself(tmp_path):
    (tmp_path / "asks.py").write_text("import sys, jsonschema; print(bool(sys.modules.get('rfc3987_syntax')), *sys.argv[1:])")
    words = [sys.executable, "-P", "-m", server.__name__, "asks", "--an-option"]
    done = subprocess.run(words, check=True, env=os.environ | {"PYTHONPATH": str(tmp_path)}, capture_output=True, text=True)
    assert done.stdout.split() == ["False", "--an-option"]
