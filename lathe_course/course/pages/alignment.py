"""Chapter 17: the tests in their order, the sheet filled in, one correction worked out, marks on the work, and the run-in."""

from __future__ import annotations

import ipywidgets as widgets
import numpy as np

from ... import units
from ...design.chain.luck import DRAWS
from ...design.chapters.made import EXPECTED
from ...design.evaluation import Evaluation, evaluate
from ...design.measured.acceptance import TESTS, allowed, called_for, in_order
from ...design.measured.corrections import behind, correction
from ...design.measured.readings_judged import WHEN, Tested, TestSheet, asked_for, judged
from ...machine import alignment
from ...problems import must_be_known
from ...units import Duration, InputProblem, Length, RotationalSpeed, TemperatureRise
from ...working import Working
from ..pictures import PICTURES
from ..pictures.style import Canvas
from ..printed.document import link_to
from ..printed.wall_charts import PAPERS, WALL_CHARTS, write_wall_charts
from ..session import Session
from ..shown.panels import Page, Panel, Place, broad, paragraphs, tabled
from ..text.values import Fold, List, Paragraph, Worked, strong
from .register import page, panel

_MM, _RPM, _MIN, _K = Length("mm"), RotationalSpeed("rpm"), Duration("min"), TemperatureRise("K")


def limit_of(e: Evaluation, name: str, over: float | None = None) -> str:
    test = TESTS[name]
    may = allowed(test, e.central.values_si, over)
    over = over or test.over
    length = f" in {units.shown(over, _MM, e.design.system)}" if over and test.reading != "level ends" else ""
    return f"{units.shown(may.limit, test.kind, e.design.system)}{length}{f', for the {may.work.name}' if may.from_work else ''}"


def to_expect(e: Evaluation) -> dict[str, str]:
    """What the tests will read in four builds of five, as the parts are made."""
    drawn = e if e.draws else evaluate(e.design, DRAWS, wanted=EXPECTED.values())
    return {test: drawn.shown_spread(name, 2) if np.any(drawn[name]) else "not called for" for test, name in EXPECTED.items()}


# --- the order --------------------------------------------------------------------------------------------
@page
def tests_in_order(evaluation: Evaluation) -> Page:
    """Every test in the order in which it can be made, how it is read, how far it may be out, and what to expect as the parts are made."""
    expected = to_expect(evaluation)
    rows = [(TESTS[name], limit_of(evaluation, name), expected.get(name, "")) for name in called_for(evaluation)]
    said = (
        f"Limits of class {evaluation['acceptance_class']}; where a job, or your slimmest work, asks for more as it is held, its name stands beside. "
        "The spindle's axis counts for work in the chuck, a fifth of it with a centre, not at all between centres; the tailstock counts at a centre. Common practice in the form of the lathe tests of ISO 1708; for formal use, buy the standard. To expect: as your parts are made, by whom and in whose hands, of four builds in five; level and collars once all is set, "
        f"the axis before it is set, and then about {evaluation.central.shown('expected_axis_set', 2)}."
    )
    system = evaluation.design.system
    table = []
    for test, limit, due in rows:
        how = f"{_sentence(test.set_up_in(system))} Instrument: {test.instrument}. Write {asked_for(test)}."
        table.append(
            (test.number, Fold(test.name, paragraphs(how).blocks, told=True), limit, due or "–", ", ".join(test.leans_on) or "–")
        )
    head = ("", "test, and how it is read", "allowed", "to expect", "depends on")
    return tabled(table, head, (0, 3), before=[said])


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."


@panel
def set_ups(session: Session, test: str = "axis sideways") -> Panel:
    """A picture of how a test is set up, the test to be chosen from the list."""
    must_be_known(test, TESTS, "test", "test")
    canvas, picture = Canvas(key="set-ups"), PICTURES["test_set_up"]
    chosen = widgets.Dropdown(options=in_order(), value=test, description="test")
    shown = broad()

    def draw(*_: object) -> None:
        shown.value = canvas.draw(picture, session.evaluation, test=chosen.value)

    chosen.observe(draw, names="value")
    session.when_changed(draw)
    draw()
    return Panel(
        widgets.VBox([chosen, shown]), f"[a test to choose, and its picture]\n{picture.describe(session.evaluation, test=test)}"
    )


# --- the sheet ----------------------------------------------------------------------------------------------
@page
def test_sheet(evaluation: Evaluation) -> Page:
    """The readings judged: before, after, and what to do about each test that is out, in the order of doing it."""
    sheet = judged(evaluation)
    if not sheet.tested and not sheet.problems:
        return paragraphs("There are no readings yet: fill in the rows above, and keep them.")
    expected = to_expect(evaluation)
    rows = [(*row[:1], expected.get(name, "–"), *row[1:]) for name in in_order() if (row := _row(evaluation, sheet, name))]
    head = ("test", "to expect", "before", "after", "allowed", "as it stands")
    made = [(name, found) for name in in_order() if (found := sheet.last(name))]
    to_do = [f"{name}: {said}" for name, found in made if (said := _asked(found, sheet, evaluation))]
    done = [
        f"{name}: {said}"
        for name, found in made
        if found.status != "fails"
        and (first := sheet.tested.get((name, "before")))
        and first is not found
        and (said := _asked(first, TestSheet({(name, "before"): first}), evaluation))
    ]
    odd = [
        f"{name}: {note}"
        for name, _ in made
        for when in WHEN
        if (name, when) in sheet.tested
        for note in sheet.tested[name, when].notes
    ]
    odd = list(dict.fromkeys(odd))
    page = tabled(rows, head, (1, 2, 3)) if rows else Page()
    for heading, lines in (
        ("What to do, in this order", to_do),
        ("What the first readings asked for, and has been mended", done),
        ("Not read", list(sheet.problems)),
        ("Mind", [*odd, *_closing(sheet, evaluation)]),
    ):
        listed = List(tuple(lines), ordered=heading.startswith("What"))
        if lines and lines is done:  # it asks for nothing any more
            page += Page(Fold(f"{heading} ({len(lines)})", (listed,), told=True))
        elif lines:
            page += Page(Paragraph(strong(f"{heading}:")), listed)
    return page


def _row(e: Evaluation, sheet: TestSheet, name: str) -> tuple[str, ...] | None:
    last = sheet.last(name)
    if last is None:
        return None
    shown = [
        units.shown(found.value, found.test.kind, e.design.system) if (found := sheet.tested.get((name, when))) else "–"
        for when in ("before", "after")
    ]
    return name, *shown, limit_of(e, name, last.over), f"{last.mark} {last.status}"


def _asked(found: Tested, sheet: TestSheet, e: Evaluation) -> str:
    """The likely cause of a test that is out, and what mends it."""
    made = correction(found, sheet, e)
    return f"{found.test.failing}. {made.says}" if made else ""


def _closing(sheet: TestSheet, e: Evaluation) -> list[str]:
    lines = []
    if once := sheet.once_only:
        were = "One test was" if len(once) == 1 else f"{len(once)} tests were"
        lines.append(f"{were} made in one go only. Three goes tell how far a reading can be trusted.")
    missing = [name for name in called_for(e) if name not in {made for made, _ in sheet.tested}]
    if missing:
        lines.append(f"Not made yet: {', '.join(missing)}.")
    return lines


# --- one correction ---------------------------------------------------------------------------------------------
@page(worked=True)
def correction_worked(evaluation: Evaluation, test: str) -> Page:
    """How one test was worked out, from its first readings: the figure, its limit, and the correction if it is out."""
    must_be_known(test, TESTS, "test", "test")
    sheet, system = judged(evaluation), evaluation.design.system
    made = [sheet.tested[test, when] for when in WHEN if (test, when) in sheet.tested]
    if not made:
        said = f"“{test}” was not read yet."
        return paragraphs(said)
    # the first that was out; what it leans on is told by the sheet, not here
    found = next((one for one in made if one.status == "fails"), made[0])
    done = correction(found, TestSheet({(test, found.when): found}), evaluation)
    folded = Page(Fold("How the figure and its limit came about", tuple(map(Worked, behind(found, evaluation))), told=True))
    if done is None:
        return paragraphs(f"“{test}” is not out, so there is nothing to correct.") + folded
    shown = done.working(system)
    return paragraphs(done.says) + Page(*([Worked(shown)] if shown else [])) + folded


# --- marks on the work --------------------------------------------------------------------------------------------
@page(worked=True)
def chatter_marks(evaluation: Evaluation, diameter: str, pitch: str, speed: str) -> Page:
    """What even marks on turned work come from: their frequency, and how many stand round the work."""
    across, apart, turning = (
        units.read(text, kind, name)
        for text, kind, name in (
            (diameter, Length("mm", above=0), "diameter"),
            (pitch, Length("mm", above=0), "pitch"),
            (speed, RotationalSpeed("rpm", above=0), "speed"),
        )
    )
    system, surface = evaluation.design.system, turning * across / 2
    shown = [
        Working.of(made, fed, system)
        for made, fed in (
            (alignment.mark_frequency, {"surface_speed": surface, "mark_pitch": apart}),
            (alignment.marks_in_a_turn, {"diameter": across, "mark_pitch": apart}),
        )
    ]
    count = shown[-1].result
    whole = abs(count - round(count)) < 0.1 and count < 200
    says = (
        f"{units.number(count)} marks in a turn: near enough a whole number. Change the speed by a tenth and count again. If the number stays, something "
        "geared or belted to the spindle makes them; if it changes, it is a part that rings."
        if whole
        else f"{units.number(count)} marks in a turn, no whole number: a part that rings by itself, or the motor. Look for what has this frequency."
    )
    return paragraphs(says) + Page(*map(Worked, shown))


# --- run-in --------------------------------------------------------------------------------------------------------
#: share of the top speed and minutes at each, and what the housing may rise; common practice
_STEPS, _EACH, _MOST = (0.25, 0.5, 0.75, 1.0), 1800.0, 30.0


@page(worked=True)
def run_in(evaluation: Evaluation) -> Page:
    """Run-in of a new spindle: four speeds, half an hour each, and what the readings foretell."""
    system, top = evaluation.design.system, float(evaluation.central["fastest_speed"])
    plan = [
        (str(number), units.shown(share * top, _RPM, system), units.shown(_EACH, _MIN, system))
        for number, share in enumerate(_STEPS, 1)
    ]
    head = ("step", "speed", "for")
    said = (
        f"Guard shut, the chuck taken off or its key out, and the stop in reach. The housing may rise by {units.shown(_MOST, _K, system)} above the room and must level out; "
        "too hot for the hand is too hot. If it goes on rising, stop, let it cool, and ease the preload by a few micrometres. Then set it again warm. Tighten the belt again after two hours. Common practice, no source."
    )
    read = [sentence for speed in _speeds(evaluation) for sentence in _warming(evaluation, speed)]
    page = tabled(plan, head, (0, 1, 2), after=[said]) + Page(*([List(tuple(read))] if read else []))
    told = [
        one
        for speed in _speeds(evaluation)
        if (three := _last_three(evaluation, speed)) is not None and np.isfinite((one := _levelled(three, system)).result)
    ]
    return page + Page(Fold("How the last of these was foretold", (Worked(told[-1]),), told=True)) if told else page


def _speeds(e: Evaluation) -> list[float]:
    return list(dict.fromkeys(row["speed"] for row in e["run_in_readings"]))


def _rows(e: Evaluation, speed: float) -> list[tuple[float, float]]:
    """Time and rise of the readings at one speed, in order of time."""
    return sorted((row["time"], row["rise"]) for row in e["run_in_readings"] if row["speed"] == speed)


def _last_three(e: Evaluation, speed: float) -> np.ndarray | None:
    """The last three rises at one speed, if they are evenly apart in time."""
    rows = _rows(e, speed)
    if len(rows) < 3:
        return None
    times, rises = np.array(rows[-3:]).T
    return rises if np.isclose(times[1] - times[0], times[2] - times[1], rtol=0.1) else None


def _levelled(rises: np.ndarray, system: str) -> Working:
    """Where three rises, evenly apart in time, level out."""
    return Working.of(alignment.levelled_rise, dict(zip(("first", "second", "third"), map(float, rises))), system)


def _warming(e: Evaluation, speed: float) -> list[str]:
    """What the readings at one speed say."""
    system = e.design.system
    at = units.shown(speed, _RPM, system)
    count = len(_rows(e, speed))
    if count < 3:
        return [f"At {at}: {count} reading{'s' if count > 1 else ''}; three, evenly apart, foretell where it levels out."]
    rises = _last_three(e, speed)
    if rises is None:
        return [f"At {at}: the last three readings are not evenly apart in time; read every ten minutes."]
    level = _levelled(rises, system).result
    if not np.isfinite(level):
        if rises[2] <= rises[1]:
            return [f"At {at}: level at {units.shown(rises[2], _K, system)}. {_hot(rises[2])}"]
        return [f"At {at}: {units.shown(rises[2], _K, system)} and rising as fast as before. Stop; ease the preload."]
    return [f"At {at}: on its way to {units.shown(level, _K, system, 2)} above the room. {_hot(level)}"]


def _hot(rise: float) -> str:
    return (
        "That is within bounds."
        if rise <= _MOST
        else "That is too warm: stop before it gets there, and ease the preload or thin the grease."
    )


# --- charts for the wall -----------------------------------------------------------------------------------------------
@panel
def wall_charts(session: Session, paper: str = "A4") -> Panel:
    """Write the charts for the wall beside the design file, and say where they lie; without a working folder nothing is written."""
    if paper not in PAPERS:
        raise InputProblem.about("paper", f"the paper cannot be {paper!r}; choose {' or '.join(PAPERS)}.")
    if session.path is None:
        said = (
            f"There is no working folder here, so no charts were written. In a working folder this cell writes {WALL_CHARTS} beside your design file: "
            "speeds and feeds, first cuts, and the test sheet to fill in by hand."
        )
        return Panel(Place(said), said)
    written = write_wall_charts(session.design, session.path.with_name(WALL_CHARTS), paper)
    said = f"The charts are written for {paper}: {written.name}, beside {session.path.name}. Run this cell again when you have changed something."
    return Panel(Place(said, (link_to(written, "Open the charts"), f", and print them on {paper}.")), said)
