"""Second programs are slow to load: each is imported when it is first called, not by every worker that looks for tests."""

import contextlib
import functools
import importlib
import io
import warnings
from typing import Any


@functools.cache
def _found(module: str, name: str) -> Any:
    with warnings.catch_warnings(), contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        warnings.simplefilter("ignore")  # what a library says of itself while it loads
        loaded = importlib.import_module(module)
    return getattr(loaded, name) if name else loaded


class Later:
    """Stands for ``name`` of ``module``, or for the module itself, until it is called or asked for something."""

    def __init__(self, module: str, name: str = ""):
        self._from = module, name

    def __call__(self, *given: Any, **more: Any) -> Any:
        return _found(*self._from)(*given, **more)

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_"):  # whoever looks for tests asks such of everything in a module
            raise AttributeError(name)
        return getattr(_found(*self._from), name)
