"""Installed from a wheel, away from the checkout, the course finds everything it needs."""

import os
import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest

PROJECT = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory) -> Path:
    """The wheel that pyproject.toml builds."""
    out = tmp_path_factory.mktemp("wheel")
    done = subprocess.run(
        [
            sys.executable,
            "-m",
            "pip",
            "wheel",
            "--quiet",
            "--no-deps",
            "--no-build-isolation",
            "--wheel-dir",
            str(out),
            str(PROJECT),
        ],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return next(out.glob("lathe_course-*.whl"))


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory) -> Path:
    """The Python of a fresh environment that holds the wheel; its dependencies are borrowed from this one."""
    home = tmp_path_factory.mktemp("environment")
    venv.create(home, with_pip=False)
    python = home / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    site = Path(
        subprocess.run(
            [python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"], capture_output=True, text=True, check=True
        ).stdout.strip()
    )
    done = subprocess.run(
        [sys.executable, "-m", "pip", "--python", str(python), "install", "--quiet", "--no-deps", str(wheel)],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    # Appended as plain folders: ways back to the checkout in their .pth files are not followed.
    (site / "borrowed.pth").write_text("\n".join(path for path in sys.path if path.endswith("site-packages")) + "\n")
    return python


def run(python: Path, *words: str, cwd: Path) -> str:
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    done = subprocess.run([python, *words], cwd=cwd, env=environment, capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


def files_of(folder: Path) -> set[str]:
    return {
        path.relative_to(folder).as_posix()
        for path in folder.rglob("*")
        if path.is_file() and not any(part.startswith((".", "__")) for part in path.relative_to(folder).parts)
    }


def test_the_wheel_holds_the_package_with_its_data_and_the_course_material(wheel):
    held = set(zipfile.ZipFile(wheel).namelist())
    wanted = {f"lathe_course/{name}" for name in files_of(PROJECT / "lathe_course") if not name.endswith(".pyc")}
    wanted |= {
        f"lathe_course/{path.relative_to(PROJECT / 'lathe_course').as_posix()}"
        for path in (PROJECT / "lathe_course").rglob("__init__.py")
    }
    for shelf in ("notebooks", "exercises"):
        wanted |= {f"lathe_course/_material/{shelf}/{name}" for name in files_of(PROJECT / shelf)}
    assert not wanted - held
    assert "lathe_course/py.typed" in held, "or no tool reads the annotations"
    assert any(name.endswith(".csv") for name in held) and any(name.endswith(".toml") for name in held)


def test_the_wheel_holds_nothing_else(wheel):
    strays = [
        name
        for name in zipfile.ZipFile(wheel).namelist()
        if not name.startswith(("lathe_course/", "lathe_course-")) or "checkpoint" in name or name.endswith(".pyc")
    ]
    assert not strays


def test_the_installed_course_is_the_one_in_use(installed, tmp_path):
    place = Path(run(installed, "-c", "import lathe_course; print(lathe_course.__file__)", cwd=tmp_path).strip())
    assert place.is_relative_to(installed.parents[1])


def test_the_installed_course_lays_a_working_folder(installed, tmp_path):
    run(installed, "-m", "lathe_course", "start", "my-lathe", "--folder-only", cwd=tmp_path)
    for shelf in ("notebooks", "exercises"):
        notebooks = {
            name for name in files_of(PROJECT / shelf) if name.endswith(".ipynb")
        }  # data of exercises stay with the course
        assert files_of(tmp_path / "my-lathe" / shelf) == notebooks
    assert (tmp_path / "my-lathe" / "design.toml").is_file()


def test_the_installed_course_works_out_a_design(installed, tmp_path):
    run(installed, "-m", "lathe_course", "start", "my-lathe", "--folder-only", cwd=tmp_path)
    assert "holds" in run(installed, "-m", "lathe_course", "findings", "my-lathe", cwd=tmp_path)


def test_the_installed_course_has_the_answers(installed, tmp_path):
    words = "answers", "03", "--name", "Ana"
    said = run(installed, "-m", "lathe_course", *words, cwd=tmp_path)
    assert said.count("answer:") >= 6
    script = installed.with_name("lathe-course" + (".exe" if os.name == "nt" else ""))
    assert run(script, *words, cwd=tmp_path) == said
