"""Large letters for a wall: a switch that the whole page obeys, by a click or a key, without the kernel."""

from __future__ import annotations

import ipywidgets as widgets

from ..text.markup import framed
from .panels import Panel

#: times as large; 14 px become 21, read from the back of a room
LARGER = 1.5
_KEY = "l"
# The style heeds the switch by itself, so that it works with a sleeping kernel; JupyterLab, which reckons its widths only when the window changes, is told that it has.
_SWITCH = (
    f"<style>body:has(.lc-projector:checked){{zoom:{LARGER}}}"
    "body:has(.lc-projector:checked) .lc table tr>*{padding-right:.5em}"  # so much room has a long table left
    # zoomed, a full window would be half as high and wide again as the screen
    f"body:has(.lc-projector:checked) #main{{width:calc(100vw/{LARGER})!important;height:calc(100vh/{LARGER})!important}}</style>"
    f'<label><input type="checkbox" class="lc-projector" accesskey="{_KEY}" onchange="window.dispatchEvent(new Event(&quot;resize&quot;))"> large letters, for a projector</label> '
    f"<span class=dim>(Alt and {_KEY.upper()}; in Firefox Alt, Shift and {_KEY.upper()}; on a Mac Control, Option and {_KEY.upper()})</span>"
)


def projector() -> Panel:
    """A switch for letters half as large again on the whole page, for as long as its notebook is open."""
    return Panel(widgets.HTML(framed(_SWITCH)), "[a switch: large letters, for a projector]")
