"""Hand-worked results of every room of the chain, joined."""

import pkgutil
from importlib import import_module

_ROOMS = [import_module(f"{__name__}.{module.name}") for module in pkgutil.iter_modules(__path__)]

HAND = [case for room in _ROOMS for case in room.HAND]
MOVES_NOTHING = {name: why for room in _ROOMS for name, why in getattr(room, "MOVES_NOTHING", {}).items()}
ONLY_SHOWN = {name: chapter for room in _ROOMS for name, chapter in getattr(room, "ONLY_SHOWN", {}).items()}
