"""Pages and panels of the chapters, shown by name: ``chapter.show("name", ...)``."""

import pkgutil
from importlib import import_module

from .register import PAGES, PANELS, page, panel, show

__all__ = ["PAGES", "PANELS", "page", "panel", "show"]

for _module in pkgutil.iter_modules(__path__):  # importing them fills the lists
    import_module(f"{__name__}.{_module.name}")
