"""Pictures: functions ``(evaluation, axes)``, one for each idea, in the list ``PICTURES``."""
from . import give, lathe, purpose, size, speeds, spindle
from .register import PICTURES, NothingToDraw, Picture

__all__ = ["NothingToDraw", "PICTURES", "Picture"]

_MODULES = (give, lathe, purpose, size, speeds, spindle)           # importing them fills the list
