"""The house has floors: imports run downwards only, and each room keeps to its own tools."""

import ast
import graphlib
import re
import subprocess
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest
from cases import every

import lathe_course

PACKAGE = Path(lathe_course.__file__).parent
NAME = "lathe_course"
PROJECT = Path(__file__).parents[1]

#: floors from the ground up; rooms of one floor do not know each other, modules of one room do
FLOORS = (("ground",), ("machine", "planning"), ("design",), ("course",), ("command",))
FLOOR = {room: number for number, rooms in enumerate(FLOORS) for room in rooms}
#: rooms of ``design`` from the ground up; "" is what a design is, at the top of the package, and "lathe" joins the chapters
OF_DESIGN = ("chain", "", "measured", "chapters", "lathe", "demos", "files", "asked", "draft", "drawn")
GROUND = (
    "nearest",
    "problems",
    "unit_words",
    "unit_limits",
    "units",
    "written",
    "ranges",
    "sources",
    "formula",
    "trace",
    "working",
    "tables",
    "evidence",
)
#: who may use what from outside
ONLY_IN = {
    "pint": ("lathe_course.units",),
    "tomlkit": ("lathe_course.design.files",),
    "filelock": ("lathe_course.design.files",),
    "scipy": ("lathe_course.planning.mix", "lathe_course.planning.cutting"),
    "matplotlib": ("lathe_course.course",),
    "ipywidgets": ("lathe_course.course",),
    "IPython": ("lathe_course.course",),
    "jupyterlab": ("lathe_course.course",),
    "jupyter_server": ("lathe_course.course",),
    "jupyter_core": ("lathe_course.course",),
    "jupyterhub": ("lathe_course.course.one_server",),
    "tornado": ("lathe_course.course.one_server",),
    "nbconvert": ("lathe_course.course.printed.prose",),
    "nbformat": ("lathe_course.course",),
}


def modules() -> dict[str, Path]:
    """Every module of the package, by its full name."""
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def room(module: str) -> str:
    """The room a module stands in: 'ground', 'machine', 'planning', 'design', 'course' or 'command'."""
    first = (module.split(".") + [""])[1]
    if first in ("", *GROUND):
        return "ground"
    return "command" if first == "__main__" else first


def imports(module: str, path: Path, text: str, known: dict[str, Path], everywhere: bool = True) -> list[str]:
    """Full names of what a module imports: inside functions too, or at its top only."""
    package = module.split(".") if path.name == "__init__.py" else module.split(".")[:-1]
    tree = ast.parse(text)
    found = []
    for node in ast.walk(tree) if everywhere else tree.body:
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            whole = ".".join([*base, *([node.module] if node.module else [])])
            found += [f"{whole}.{alias.name}" if f"{whole}.{alias.name}" in known else whole for alias in node.names]
    return found


def wrongs(module: str, imported: list[str]) -> list[str]:
    """What a module must not import, as sentences."""
    said = []
    here = room(module)
    for name in imported:
        top = name.split(".")[0]
        if top == NAME:
            there = room(name)
            if FLOOR[there] > FLOOR[here]:
                said.append(f"{module} reaches up to {name}")
            elif FLOOR[there] == FLOOR[here] and there != here:
                said.append(f"{module} reaches across to {name}")
        elif top in ONLY_IN and not any(module == may or module.startswith(may + ".") for may in ONLY_IN[top]):
            said.append(f"{module} uses {top}, which belongs to {' or '.join(ONLY_IN[top])}")
    return said


MODULES = modules()


def test_every_module_stands_in_a_room():
    assert {room(module) for module in MODULES} <= set(FLOOR)


@every("module", MODULES)
def test_imports_run_downwards(module):
    path = MODULES[module]
    assert not wrongs(module, imports(module, path, path.read_text(encoding="utf-8"), MODULES))


def within_design(module: str) -> int | None:
    """How high the room of ``design`` lies in which a module stands; None for another package."""
    parts = [*module.split("."), "", ""]
    if parts[1] != "design":
        return None
    return OF_DESIGN.index(parts[2] if parts[2] in OF_DESIGN else "")


@every("module", [module for module in MODULES if within_design(module) is not None])
def test_the_rooms_of_design_lie_one_above_the_other(module):
    for name in imports(module, MODULES[module], MODULES[module].read_text(encoding="utf-8"), MODULES):
        there = within_design(name)
        assert there is None or there <= within_design(module), f"{module} reaches up to {name}"


def test_files_go_in_no_circle():
    """Nor by an import within a function; what is named for its type alone does not count."""
    graph = {
        module: {
            name
            for name in imports(module, path, _without_types(path.read_text(encoding="utf-8")), MODULES)
            if name in MODULES and name != module
        }
        for module, path in MODULES.items()
    }
    for module, needs in graph.items():  # a package and its own modules are one when they load
        needs -= {name for name in needs if module.startswith(name + ".") or name.startswith(module + ".")}
    for package in graph:  # one that imports all its modules needs what they need
        if "iter_modules" in MODULES[package].read_text(encoding="utf-8"):
            graph[package] |= {name for name in graph if name.startswith(package + ".")}
    graphlib.TopologicalSorter(graph).prepare()


def _without_types(text: str) -> str:
    return re.sub(r"(?m)^if TYPE_CHECKING:\n(?:    .*\n)+", "", text)


@every(
    "module, line, wrong",
    [
        ("lathe_course.machine.spindle", "from ..design import chain", "reaches up"),
        ("lathe_course.machine.spindle", "from lathe_course.course.pictures import draw", "reaches up"),
        ("lathe_course.machine.spindle", "import lathe_course.planning.cost", "reaches across"),
        ("lathe_course.planning.cost", "def f():\n    from ..machine import forces", "reaches across"),
        ("lathe_course.units", "from .tables import table\nfrom .machine import forces", "reaches up"),
        ("lathe_course.design.chain", "from .. import command", "reaches up"),
        ("lathe_course.machine.spindle", "import pint", "uses pint"),
        ("lathe_course.design.chain", "from matplotlib.figure import Figure", "uses matplotlib"),
        ("lathe_course.command", "import IPython.display", "uses IPython"),
        ("lathe_course.course.folder.workspace", "import tomlkit", "uses tomlkit"),
    ],
)
def test_a_wrong_import_is_seen(module, line, wrong):
    known = {**MODULES, "lathe_course.machine.forces": PACKAGE}
    said = wrongs(module, imports(module, Path("x.py"), line, known))
    assert len(said) == 1 and wrong in said[0]


@pytest.mark.parametrize(
    "module, line",
    [
        ("lathe_course.machine.spindle", "from ..units import Length\nfrom .sections import pipe\nimport numpy"),
        ("lathe_course.design.chain", "from ..machine import forces\nfrom ..planning import cost"),
        ("lathe_course.course.frame", "import ipywidgets\nfrom .. import units\nfrom ..design import chain"),
        ("lathe_course.command", "from .course import serve"),
    ],
)
def test_a_right_import_passes(module, line):
    assert not wrongs(module, imports(module, Path("x.py"), line, MODULES))


def test_what_is_shown_works_nothing_out():
    """Figures come of the chain, of what is asked of a design, or of a working that is shown; curves of pictures and answers to questions are drawn and judged."""
    found = [
        f"{module}: line {text[: match.start()].count(chr(10)) + 1}"
        for module, path in MODULES.items()
        if module.startswith(f"{NAME}.course.")
        and not module.startswith((f"{NAME}.course.pictures.", f"{NAME}.course.teaching.questions."))
        for text in [path.read_text(encoding="utf-8")]
        for match in re.finditer(r"\.si\(", text)
    ]
    assert not found


#: who writes markup, and why; whatever else is shown is made of the blocks of ``text/values.py``
RENDERERS = {
    "text.markup": "sets out blocks for notebook and paper",
    "printed.paper": "sets out pieces of paper with the height of each",
    "printed.document": "the frame of a document",
    "printed.handout": "reads folds out of a notebook, and marks words of the trade in prose that is set already",
    "printed.prose": "sets out the Markdown of a notebook",
    "printed.still": "sets out widgets on paper",
    "printed.typeset": "draws formulas",
    "pictures.style": "frames a drawing for a screen reader",
    "sheets.written": "frames a drawing on paper",
    "shown.board_view": "sets out the board, which design/asked/board.py describes, for screen and sheet",
    "shown.projector": "a switch of the browser's own, which works while no kernel runs",
    "teaching.evening": "reads folds out of a notebook",
}
_TAG = re.compile(
    r"</?(?:a|b|br|caption|col|colgroup|dd|details|div|dl|dt|em|figure|h[1-6]|header|i|img|input|label|li|mark|ol|p|pre|q|s|section|small|span|"
    r"strong|style|sub|summary|sup|svg|table|tbody|td|th|thead|tr|title|ul)(?=[\s>/{]|$)"
)


def _writes_tags(text: str) -> bool:
    tree = ast.parse(text)
    for node in ast.walk(tree):
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef)) and ast.get_docstring(node) is not None:
            del node.body[0]
    return any(
        isinstance(node, ast.Constant) and isinstance(node.value, str) and _TAG.search(node.value) for node in ast.walk(tree)
    )


def test_nobody_but_the_renderers_writes_markup():
    """So that a page is told once: what reads well as HTML is read in the terminal, by a screen reader and on paper as well."""
    of_course = f"{NAME}.course."
    found = {
        module.removeprefix(of_course)
        for module, path in MODULES.items()
        if module.startswith((of_course, f"{NAME}.command")) and _writes_tags(path.read_text(encoding="utf-8"))
    }
    assert found == set(RENDERERS)


@pytest.mark.parametrize(
    "text, seen",
    [
        ('said = "<p>words</p>"', True),
        ("said = f'<td class={kind}>'", True),
        ('"""<p>"""', False),
        ('said = "a < b, <question 05.3>"', False),
    ],
)
def test_a_tag_is_seen(text, seen):
    assert _writes_tags(text) is seen


def test_only_declared_packages_are_imported():
    project = tomllib.loads((PROJECT / "pyproject.toml").read_text(encoding="utf-8"))["project"]

    def named(needs: list[str]) -> set[str]:
        return {re.split(r"[<>=~! ;\[]", need)[0].lower().replace("_", "-") for need in needs}

    declared, of_a_class = named(project["dependencies"]), named(project["optional-dependencies"]["class"])
    provided = packages_distributions()
    for module, path in MODULES.items():
        asked = declared | (of_a_class if module.startswith("lathe_course.course.one_server.") else set())
        for name in imports(module, path, path.read_text(encoding="utf-8"), MODULES):
            top = name.split(".")[0]
            if top != NAME and top not in sys.stdlib_module_names:
                # what an extra brings may not be installed, and goes by its own name then
                homes = {home.lower().replace("_", "-") for home in provided.get(top, [top])}
                assert homes & asked or top == "IPython", f"{module} imports {top}, which pyproject.toml does not ask for"


@pytest.mark.parametrize(
    "ask, absent",
    [
        ("lathe_course", ("pint", "numpy", "matplotlib", "ipywidgets", "IPython")),
        ("lathe_course.formula", ("matplotlib", "ipywidgets", "IPython")),
        ("lathe_course.command", ("matplotlib", "ipywidgets", "IPython", "jupyterlab")),
        ("lathe_course.machine", ("matplotlib", "ipywidgets", "IPython", "tomlkit")),
        ("lathe_course.design.evaluation", ("matplotlib", "ipywidgets", "IPython")),
    ],
)
def test_who_wants_a_formula_does_not_pay_for_pictures(ask, absent):
    code = f"import sys, {ask}; print(*sorted(set(sys.modules) & set({absent!r})))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == []
