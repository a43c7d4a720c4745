"""Pictures: functions ``(evaluation, axes)``, one for each idea, in the list ``PICTURES``."""

import pkgutil
from importlib import import_module

from . import style  # noqa: F401   loads matplotlib, before any picture does
from .register import PICTURES, NothingToDraw, Picture

__all__ = ["PICTURES", "NothingToDraw", "Picture"]

for _module in pkgutil.iter_modules(__path__):  # importing them fills the list
    import_module(f"{__name__}.{_module.name}")
