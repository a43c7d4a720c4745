"""Pictures: functions ``(evaluation, axes)``, one for each idea, in the list ``PICTURES``."""
from . import give, lathe, speeds, spindle
from .register import PICTURES, NothingToDraw, Picture

__all__ = ["NothingToDraw", "PICTURES", "Picture"]

_MODULES = (give, lathe, speeds, spindle)           # importing them fills the list
