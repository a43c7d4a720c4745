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


#: arithmetic that is left in what is shown, function by function, and why it may stand there; curves of pictures and answers to questions are drawn and judged
_SHARE = "tells one figure as a share of another"
_DRAWS = "tells the middle, the ends or the odds of draws that the chain made"
_UNIT = "tells a figure in another unit, or a share in per cent"
_PLACE = "places or rounds what is shown, or compares within rounding"
_FEEDS = "feeds a formula, whose working is shown, with what the reader asks"
LEFT_IN_PAGES = {
    "pages.alignment": {"chatter_marks": _FEEDS, "run_in": "speeds of a plan, as shares of the top speed"},
    "pages.budget": {
        "_at_least": "rounds a sum up, so that whoever follows it is not short by the rounding",
        "_ends": _DRAWS,
        "_mending": "months in which a missing sum comes together",
        "_purse_row": _DRAWS,
        "money_split": _DRAWS,
        "spared": "months in which a sum comes together",
        "why_the_list_is_too_low": _DRAWS,
    },
    "pages.closing": {"keeping_it": _DRAWS},
    "pages.drive": {"_span": _PLACE, "drive_kinds.speeds": _UNIT, "job_torque": _SHARE, "pulleys": _PLACE},
    "pages.forces": {"tool_conditions": _UNIT},
    "pages.gears": {
        "_error_said": _UNIT,
        "_inch": _UNIT,
        "_judged": "four times the length a drift is told on",
        "_one_more": _UNIT,
        "_worked": "the wheels of one mesh named twice",
        "wheels_cut": _UNIT,
    },
    "pages.holding": {"jobs_as_held": "the share of a tolerance that give may take"},
    "pages.lessons": {"QuestionsPanel.__init__": "counts the questions that are folded"},
    "pages.lubrication": {"_grade": _UNIT},
    "pages.measured": {"give_measured": _SHARE},
    "pages.mixes": {"three_builds_compared": _DRAWS},
    "pages.parts": {"_in_iron": _PLACE, "_told_find": "how long a search takes nine times in ten, of its mean"},
    "pages.place": {"_percent": _UNIT, "_scenes": "halves a decision, to ask the chain what if"},
    "pages.progress": {"repeats_learnt": "hours of so many pieces without learning", "where_it_stands": _DRAWS},
    "pages.rigidity": {"give_budget_table": _UNIT, "two_ways_of_giving": "of a diameter, one side", "which_link_first": _SHARE},
    "pages.slides": {
        "_is_round": _PLACE,
        "_step": _UNIT,
        "_thread": _UNIT,
        "dial_choices": "the room of a mark on the dial as it would be made",
    },
    "pages.spindle": {"_hours": _UNIT, "_taper": "the slope of a taper as one to so many"},
    "pages.timescale": {"_four_fifths": _DRAWS, "_middle": _DRAWS, "odds_of_being_done": _DRAWS, "what_governs": _DRAWS},
    "printed.brief_drawing": {"": _PLACE, "drawing_to_scale": _PLACE},
    "printed.brief_sections": {"_margin": _UNIT, "findings": _PLACE, "machine": _PLACE, "money_and_time": _PLACE, "parts": _UNIT},
    "printed.shop_papers": {"_day": _UNIT, "falls_in.put": _UNIT},
    "printed.wall_charts": {"_feeds": _PLACE, "_speeds": _UNIT},
    "shown.beside_measured": {"_how_much_wider": _SHARE, "widened": _SHARE},
    "shown.closing": {"nothing_fails": _DRAWS},
    "shown.controls": {
        "Control._made_for": _UNIT,
        "Control._scale": _PLACE,
        "Control.value": _UNIT,
        "_round_125": _PLACE,
        "_stops": _PLACE,
    },
    "shown.first_choices": {"without_each_job_page": _SHARE},
    "shown.guess": {"Guess.page": _PLACE, "_how_far": _SHARE},
    "shown.play": {"steps_of": _PLACE},
    "shown.relative": {"_figure": "a change told from where a decision stands", "_had": "the steps a decision can have"},
    "shown.shared_luck": {"shared_luck_page": _SHARE},
    "shown.speed_plate": {"_drive_said": _PLACE, "_jobs": _SHARE, "speed_plate": _UNIT},
    "shown.views": {"change_of": _SHARE},
    "teaching.club": {
        "ClubEvening.at": "minutes of an evening",
        "ClubEvening.clock": "minutes of an evening",
        "_times": "minutes of an evening",
    },
    "teaching.setbacks": {"_take": _PLACE, "_text": "a setback that multiplies a figure"},
}
_PLACED = ("printed.paper", "printed.typeset")  # heights and letters on paper
_STATISTICS = {"average", "corrcoef", "cumsum", "dot", "mean", "median", "percentile", "prod", "quantile", "std", "var"}


def _textual(node: ast.AST) -> bool:
    """Is this text or a path, where a sign of arithmetic means something else?"""
    match node:
        case ast.BinOp(left, _, right):
            return _textual(left) or _textual(right)
        case ast.Call(ast.Attribute(_, name)):
            return name in ("format", "expanduser")
        case ast.Call(ast.Name(name)):
            return name == "folder"
        case ast.Name(name) | ast.Attribute(_, name):
            return name in ("DESIGN_FILE", "parent") or name == "path"
    return isinstance(node, ast.JoinedStr | ast.List) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def sums_in(text: str) -> set[str]:
    """The functions of a module that multiply, divide or take a statistic of something; "" is the module itself."""
    found: set[str] = set()

    def visit(node: ast.AST, where: str) -> None:
        for child in ast.iter_child_nodes(node):
            inner = f"{where}.{child.name}".lstrip(".") if isinstance(child, (ast.ClassDef, ast.FunctionDef)) else where
            match child:
                case ast.BinOp(_, ast.Mult() | ast.Div() | ast.Pow()) if not _textual(child):
                    found.add(where)
                case ast.Call(ast.Attribute(_, name)) if name in _STATISTICS:
                    found.add(where)
            visit(child, inner)

    visit(ast.parse(text), "")
    return found


def test_arithmetic_in_what_is_shown_has_its_reason():
    """A figure of the design is a result, what one asks beside it stands in ``design/asked``; what is left says why it may."""
    of_course, found = f"{NAME}.course.", {}
    for module, path in MODULES.items():
        name = module.removeprefix(of_course)
        left_out = ("pictures", "sheets", "teaching.questions", "folder", "one_server", *_PLACED)
        if module.startswith(of_course) and not name.startswith(left_out):
            found[name] = sums_in(path.read_text(encoding="utf-8"))
    assert {name: some for name, some in found.items() if some} == {name: set(some) for name, some in LEFT_IN_PAGES.items()}


@pytest.mark.parametrize(
    "text, where",
    [
        ("def page(e):\n    return e['force'] * e['give']", {"page"}),
        ("class P:\n    def show(self):\n        return np.mean(self.draws)", {"P.show"}),
        ("def page(e):\n    return e.shown('move') + ' more'", set()),
        ("def page(path):\n    return path / DESIGN_FILE", set()),
    ],
)
def test_a_sum_in_a_page_is_seen(text, where):
    assert sums_in(text) == where


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
        ("lathe_course.course.printed.prose", ("rfc3987_syntax",)),
    ],
)
def test_who_wants_a_formula_does_not_pay_for_pictures(ask, absent):
    code = f"import sys, {ask}; print(*sorted(set(sys.modules) & set({absent!r})))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == []
