"""What every picture draws, as lines of text: which shapes and words, and where they lie, in points on the picture.

``python tests/course/stored_pictures.py`` stores it in ``stored_pictures.txt``, to be read as a diff; ``test_stored_pictures.py``
compares.  No letter is measured but by the font that comes with matplotlib, so it is the same on every machine.
"""

import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import Collection
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch, Rectangle
from matplotlib.spines import Spine
from matplotlib.text import Annotation, Text

from lathe_course.course.pictures import PICTURES
from lathe_course.course.pictures.style import Canvas
from lathe_course.course.sheets.general import general_arrangement
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.measured.acceptance import TESTS

STORE = Path(__file__).with_name("stored_pictures.txt")
DRAWS = 400
#: choices beside those a picture opens with
OTHERS = [("test_set_up", {"test": name}) for name in TESTS]
#: points of a curve that are kept, evenly along it
_KEPT = 5
_FIGURE, _WORDS = re.compile(r"-?\d+"), re.compile(r"“[^”]*”")


def pictures(name: str) -> Iterator[tuple[str, list[str]]]:
    """Title and lines of every picture of a demo and of its drawing on paper; of the first demo in the choices of ``OTHERS`` as well."""
    e = evaluate(demo(name), DRAWS)
    others = OTHERS if name == next(iter(DEMOS)) else []
    for picture, extra in [*((picture, {}) for picture in sorted(PICTURES)), *others]:
        title = ", ".join((name, picture, *extra.values()))
        told = f"told “{PICTURES[picture].describe(e, **extra)}”"
        yield title, [told, *lines_of(Canvas().figure(PICTURES[picture], e, **extra))]
    yield f"{name}, drawing on paper", lines_of(general_arrangement(e, "A4").figure)


def lines_of(figure: Figure) -> list[str]:
    """A line for each shape and each piece of text."""
    found = []
    for number, axes in enumerate(figure.axes):
        axes.apply_aspect()
        if axes.axison:
            (left, right), (low, high) = axes.get_xlim(), axes.get_ylim()
            ends = f"“{left:.3g} to {right:.3g}, {low:.3g} to {high:.3g}”"
            found.append(f"axes {number} {ends} “{axes.get_xlabel()}” “{axes.get_ylabel()}”")
        found += [
            told for one in axes.get_children() if one is not axes.patch and one.get_visible() and (told := _line(axes, one))
        ]
    return found


def _line(axes: Axes, one: object) -> str:
    if isinstance(one, Annotation):
        tip = _placed(axes, one.xy, one.xycoords)
        place = _placed(axes, one.xyann, one.anncoords, tip)
        return f"{'arrow' if one.arrow_patch else 'note'} {_words(one)} {_points([place, tip])}"
    if isinstance(one, Text):
        return f"text {_words(one)} {_points(one.get_transform().transform([one.get_position()]))}" if one.get_text() else ""
    if isinstance(one, Line2D):
        style = f"{one.get_linestyle()} {one.get_marker()} {to_hex(one.get_color())}"
        points = one.get_transform().transform(_finite(one.get_xydata()))
        return f"line “{style}{f', {len(points)} points' if len(points) > _KEPT else ''}” {_some(points)}"
    if isinstance(one, Patch) and not isinstance(one, Spine):
        style = f"{type(one).__name__} {one.get_hatch() or ''} {to_hex(one.get_facecolor())}"
        points = one.get_transform().transform_path(one.get_path()).vertices
        if isinstance(one, Rectangle):
            return f"shape “{style}” {_points(_reach(points))}"
        return f"shape “{style}” {_some(points)}"
    if isinstance(one, Collection):
        paths = [_finite(one.get_transform().transform_path(path).vertices) for path in one.get_paths()]
        spots = one.get_offset_transform().transform(one.get_offsets())
        if len(spots) > 1:
            return f"spots {_some(spots)}"
        if len(paths) > 1:  # of each how far it reaches
            return f"areas “{one.get_hatch() or ''}” {_points([end for path in paths if len(path) for end in _reach(path)])}"
        return f"area “{one.get_hatch() or ''}” {_some(np.concatenate(paths))}" if paths else ""
    return ""


def _words(one: Text) -> str:
    return f"“{' / '.join(one.get_text().splitlines())}” {one.get_ha()} {one.get_va()}"


def _placed(axes: Axes, xy: tuple, systems: object, tip: np.ndarray | None = None) -> np.ndarray:
    """A place told in matplotlib's systems, in points: one inch of these pictures has 72 dots."""
    systems = systems if isinstance(systems, tuple) else (systems, systems)
    within = {"axes points": axes.bbox, "figure points": axes.figure.bbox}
    by = {"data": axes.transData, "axes fraction": axes.transAxes, "figure fraction": axes.figure.transFigure}
    found = []
    for which, (system, value) in enumerate(zip(systems, xy)):
        if system == "offset points":
            found.append(tip[which] + value)
        elif system in within:  # from the other side where it is negative
            found.append(getattr(within[system], "max" if value < 0 else "min")[which] + value)
        else:
            found.append(by[system].transform(xy)[which])
    return np.array(found)


def _finite(points: object) -> np.ndarray:
    points = np.ma.filled(np.ma.asarray(points, float), np.nan)
    return points[np.isfinite(points).all(axis=1)]


def _reach(points: np.ndarray) -> list[np.ndarray]:
    """The corners of the least box around points."""
    return [points.min(axis=0), points.max(axis=0)]


def _some(points: object) -> str:
    """Some of the points; of many also how far all of them reach.  How many make up a circle is matplotlib's affair."""
    points = _finite(points)
    if not len(points):
        return "nowhere"
    kept = points[np.unique(np.linspace(0, len(points) - 1, _KEPT).round().astype(int))]
    return _points(kept) if len(kept) == len(points) else f"{_points(kept)} within {_points(_reach(points))}"


def _points(xy: object) -> str:
    return "; ".join(f"{x:.0f} {y:.0f}" for x, y in np.clip(np.asarray(xy, float), -9999, 9999))


# --- the store ----------------------------------------------------------------------------------------
def stored() -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for line in STORE.read_text(encoding="utf-8").splitlines():
        if line.startswith("# "):
            found[line[2:]] = here = []
        elif line:
            here.append(line)
    return found


def alike(one: str, other: str) -> bool:
    """Same words, and every place within two points."""
    words, places = zip(
        *(
            (_WORDS.findall(text) + [_FIGURE.sub("", _WORDS.sub("", text))], _FIGURE.findall(_WORDS.sub("", text)))
            for text in (one, other)
        )
    )
    return words[0] == words[1] and all(abs(int(a) - int(b)) <= 2 for a, b in zip(*places, strict=True))


def main() -> None:
    told = [f"# {title}\n" + "".join(f"{line}\n" for line in lines) for name in DEMOS for title, lines in pictures(name)]
    STORE.write_text("\n".join(told), encoding="utf-8")


if __name__ == "__main__":
    main()
