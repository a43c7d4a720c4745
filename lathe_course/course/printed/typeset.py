"""Formulas set as drawings, so that a page needs neither a network nor a program to show them."""

from __future__ import annotations

import functools
import html
import re

import numpy as np

from ...working import plain_equation
from ..pictures.style import FontProperties, text_to_path

_BLOCK = re.compile(r"\$\$(.+?)\$\$", re.DOTALL)
_INLINE = re.compile(r"(?<![\\$\w])\$(?!\s)([^$<>\n]{1,200}?)(?<!\s)\$(?!\d)")
_ALIGNED = re.compile(r"\\(?:begin|end)\{aligned\}")
_LINE = re.compile(r"\\\\(?:\[\d+pt\])?")
#: what our equations use and the letters here do not know
_UNKNOWN = ((r"\scriptstyle", ""), (r"\lvert", "|"), (r"\rvert", "|"))
#: a name of several words
_NAME = re.compile(r"\\(?:operatorname|mathrm|text)\{[a-z]+(?: [a-z]+)+\}")
#: a function behind a factor stands a little apart from it
_FUNCTION = re.compile(r"(?<=[\w})])\s*\\(a?(?:rc)?(?:sin|cos|tan)h?|ln|log|exp|min|max)(?![a-z])")
_SIZE = 100.0  # points the strokes are laid out at; one em
_CODES = {1: "M", 2: "L", 3: "Q", 4: "C", 79: "Z"}
_POINTS = {1: 1, 2: 1, 3: 2, 4: 3, 79: 1}


def typeset(markup: str) -> str:
    """Markup in which each formula between dollars is a drawing; what cannot be set stands in plain letters."""
    return _INLINE.sub(
        lambda found: formula(html.unescape(found[1])), _BLOCK.sub(lambda found: _block(html.unescape(found[1])), markup)
    )


def _block(latex: str) -> str:
    """The lines of an equation below each other, their signs in one column."""
    rows = []
    for line in _LINE.split(_ALIGNED.sub("", latex).strip()):
        left, _, right = _displayed(line).partition("&")
        rows.append(
            f"<tr><td>{formula(left.strip())}</td><td>{formula(right.strip())}</td></tr>"
            if right
            else f"<tr><td colspan='2'>{formula(left.strip())}</td></tr>"
        )
    return f'<table class="formula" role="presentation">{"".join(rows)}</table>'


@functools.lru_cache(maxsize=4096)
def formula(latex: str) -> str:
    """One line of LaTeX as an SVG as tall as the letters around it, read aloud in plain words; in plain letters where it cannot be set."""
    said = html.escape(plain_equation(latex))
    if not latex:
        return ""
    for ours, theirs in _UNKNOWN:
        latex = latex.replace(ours, theirs)
    latex = _NAME.sub(lambda found: found[0].replace(" ", r"\ "), latex)
    latex = _FUNCTION.sub(r"\\,\\\1", latex)
    font = FontProperties(size=_SIZE, math_fontfamily="stix")
    try:
        width, *_ = text_to_path.get_text_width_height_descent(f"${latex}$", font, ismath=True)
        points, codes = text_to_path.get_text_path(font, f"${latex}$", ismath=True)
    except ValueError:
        return f"<span>{said}</span>"
    if not len(codes):
        return ""
    strokes, place, points = [], 0, np.asarray(points)
    left, low, right, high = *points.min(axis=0), *points.max(axis=0)
    left, right = min(left, 0.0), max(right, width)
    while place < len(codes):
        code = int(codes[place])
        taken = points[place : place + _POINTS[code]]
        strokes.append("Z" if code == 79 else _CODES[code] + " ".join(f"{x - left:.0f} {high - y:.0f}" for x, y in taken))
        place += _POINTS[code]
    wide, tall = right - left, high - low
    return (
        f'<svg class="formula" role="img" aria-label="{said}" viewBox="-4 -4 {wide + 8:.0f} {tall + 8:.0f}" '
        f'style="width:{(wide + 8) / _SIZE:.2f}em;vertical-align:{(low - 4) / _SIZE:.2f}em"><path fill="currentColor" d="{"".join(strokes)}"/></svg>'
    )


def _displayed(latex: str) -> str:
    """Fractions that stand by themselves in full size, as in an equation on a line of its own."""
    depth, out, place = 0, [], 0
    for found in re.finditer(r"[{}]|\\frac(?![a-z])", latex):
        depth += {"{": 1, "}": -1}.get(found[0], 0)
        if found[0] == r"\frac" and depth == 0:
            out += [latex[place : found.start()], r"\dfrac"]
            place = found.end()
    return "".join(out) + latex[place:]
