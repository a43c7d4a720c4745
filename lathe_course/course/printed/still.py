"""What a panel shows, on paper: its text and pictures as they stand, and lines to write on where there are boxes to type in."""

from __future__ import annotations

import html

import ipywidgets as widgets

from .typeset import typeset

LINE = '<span class="line"></span>'
_EMPTY = "\u200b"


def still(widget: widgets.Widget) -> str:
    """A widget and all within it as markup; buttons have nothing to say on paper."""
    if "lc-figure" in widget._dom_classes:  # a slider, with its figure to be typed beside it: told once
        return still(widget.children[0])
    if widget.layout is not None and (widget.layout.display == "none" or widget.layout.visibility == "hidden"):
        return ""
    match widget:
        case widgets.Accordion():
            return "".join(
                f"<h3>{html.escape(title or '')}</h3>{still(child)}"
                for title, child in zip(widget.titles, widget.children, strict=False)
            )
        case widgets.Box():
            return _boxed("".join(map(still, widget.children)), widget._dom_classes)
        case widgets.HTMLMath():
            return typeset(widget.value)
        case widgets.HTML():
            return widget.value if widget.description in ("", _EMPTY) else field(widget.description, widget.value)
        case widgets.RadioButtons():
            return (
                "<ul class='tick'>" + "".join(f"<li>☐ {html.escape(str(one))}</li>" for one in widget._options_labels) + "</ul>"
            )
        case widgets.Dropdown() | widgets.SelectionSlider() | widgets.ToggleButtons():
            return field(_label(widget), html.escape(widget._options_labels[widget.index]) if widget.index is not None else LINE)
        case widgets.FloatSlider() | widgets.IntSlider():
            return field(widget.description, f"{widget.value:.6g}")
        case widgets.Checkbox():
            return f"<p>{'☑' if widget.value else '☐'} {html.escape(widget.description)}</p>"
        case widgets.Text() | widgets.Textarea():
            return field(_label(widget), html.escape(widget.value) if widget.value.strip() else LINE)
        case widgets.Label():
            return f"<p>{html.escape(widget.value)}</p>"
    return ""


def _label(widget: widgets.Widget) -> str:
    """The words at a box; none where they stand above it already."""
    return "" if "lc-unseen" in widget._dom_classes else widget.description


def field(label: str, markup: str) -> str:
    """A label with what stands there, or a line to write on."""
    label = label.strip(_EMPTY)
    return (
        f"<p class='field'>{html.escape(label)}: <b>{markup}</b></p>" if label else f"<p class='field blank'><b>{markup}</b></p>"
    )


def _boxed(markup: str, classes: tuple[str, ...]) -> str:
    ours = " ".join(one for one in classes if one.startswith("lc"))
    return f'<div class="{ours}">{markup}</div>' if ours and markup else markup
