"""What is said of what others call: its examples are true, and what it raises stands there."""

import ast
import doctest
import importlib
from pathlib import Path

from cases import every

import lathe_course

PACKAGE = Path(lathe_course.__file__).parent
#: called from outside: the ground, the formulas, and a design with its chain and files
CALLED = [
    path
    for pattern in (
        "*.py",
        "tables/*.py",
        "evidence/*.py",
        "machine/*.py",
        "planning/*.py",
        "design/*.py",
        "design/chain/*.py",
        "design/files/*.py",
    )
    for path in sorted(PACKAGE.glob(pattern))
]
WITH_EXAMPLES = [path for path in sorted(PACKAGE.rglob("*.py")) if ">>> " in path.read_text(encoding="utf-8")]
_A_MATTER_OF_PYTHON = {"KeyError", "AttributeError", "AssertionError", "NotImplementedError"}


def name_of(path: Path) -> str:
    return path.relative_to(PACKAGE.parent).with_suffix("").as_posix().replace("/", ".")


@every("path", WITH_EXAMPLES)
def test_an_example_is_true(path):
    module = importlib.import_module(name_of(path))
    tried = doctest.testmod(module)
    assert tried.attempted and not tried.failed


def public(body: list[ast.stmt], inside: str = ""):
    """Every public function and method, by its name."""
    for one in body:
        if isinstance(one, ast.ClassDef) and not one.name.startswith("_"):
            yield from public(one.body, f"{one.name}.")
        elif isinstance(one, ast.FunctionDef) and not one.name.startswith("_"):
            yield inside + one.name, one


def raised(function: ast.FunctionDef) -> set[str]:
    """Names of what its own lines raise."""
    made = (
        one.exc.func if isinstance(one.exc, ast.Call) else one.exc for one in ast.walk(function) if isinstance(one, ast.Raise)
    )
    return {one.id for one in made if isinstance(one, ast.Name) and not one.id.startswith("_")}


@every("path", CALLED)
def test_what_is_raised_stands_in_the_docstring(path):
    for name, function in public(ast.parse(path.read_text(encoding="utf-8")).body):
        missing = [one for one in raised(function) - _A_MATTER_OF_PYTHON if one not in (ast.get_docstring(function) or "")]
        assert not missing, f"{name_of(path)}.{name} raises {', '.join(missing)} and does not say so"
