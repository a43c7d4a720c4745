"""Every formula of the course, by its name."""

from __future__ import annotations

import functools
import importlib
import pkgutil
from collections.abc import Mapping

from .... import machine, planning
from ....formula import FORMULAS, Formula


@functools.cache
def every_formula() -> Mapping[str, Formula]:
    """They list themselves when their modules are imported, so all modules are."""
    for package in (machine, planning):
        for found in pkgutil.iter_modules(getattr(package, "__path__", ())):
            importlib.import_module(f"{package.__name__}.{found.name}")
    return FORMULAS
