"""Pictures: functions ``(evaluation, axes)``, one for each idea, in the list ``PICTURES``."""
from . import closing, considerations, cut, give, lathe, purpose, size, speeds, spindle, tradeoff, work
from .register import PICTURES, NothingToDraw, Picture

__all__ = ["PICTURES", "NothingToDraw", "Picture"]

_MODULES = (closing, considerations, cut, give, lathe, purpose, size, speeds, spindle, tradeoff, work)           # importing them fills the list
