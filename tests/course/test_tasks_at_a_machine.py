"""What a mentor is asked to do at a machine: each task says first whether the plug is drawn, or who stands at the stop while it runs."""

import re

import nbformat
import pytest
from classroom import NOTEBOOKS

FOLD = re.compile(r"<details>.*?</details>", re.DOTALL)
#: a paragraph of a fold that speaks of these has hands at a machine
MACHINE = re.compile(
    r"\b(lathe|chuck|spindle|drill|saddle|toolpost|headstock|tailstock|machine|belt|turned? (three|the)|pieces)\b"
)
#: paragraphs in which nobody does anything at a machine: they tell of slips and limits, or of what to type
TALK = (
    "Where ",
    "Limits",
    "More figures",
    "For talk",
    "A club evening",
    "For a club evening",
    "With two apprentices",
    "With a group",
    "At the bench",
    "The sheet of partners",
)
PLUG, RUNS = (
    r"Plug drawn( first| at the lathe)?[.:]",
    r"Running: (glasses on, guard shut|guard shut, glasses on), and say who stands at the stop",
)


def tasks():
    for path in NOTEBOOKS:
        for cell in nbformat.read(path, as_version=4).cells:
            for fold in FOLD.findall(cell.source) if cell.cell_type == "markdown" else ():
                for paragraph in re.split(r"\n\s*\n", fold):
                    heading = re.match(r"\s*\*\*(?P<words>.+?)\*\*\s*(?P<task>.*)", paragraph, re.DOTALL)
                    if heading and not heading["words"].startswith(TALK) and MACHINE.search(paragraph):
                        yield path.stem, heading["words"], heading["task"]


TASKS = list(tasks())


def test_every_chapter_with_hands_in_it_is_looked_at():
    assert len(TASKS) >= 20 and {stem[:2] for stem, *_ in TASKS} >= {
        "00",
        "02",
        "03",
        "04",
        "05",
        "06",
        "07",
        "08",
        "09",
        "10",
        "13",
        "14",
        "15",
        "16",
        "17",
    }


@pytest.mark.parametrize(("stem", "words", "task"), TASKS, ids=[f"{stem[:2]}-{words[:40]}" for stem, words, _ in TASKS])
def test_a_task_begins_with_the_plug_or_with_who_stands_at_the_stop(stem, words, task):
    assert re.match(f"({PLUG}|{RUNS})", task), f"{stem}: {words} begins with {task[:60]!r}"


@pytest.mark.parametrize(("stem", "words", "task"), TASKS, ids=[f"{stem[:2]}-{words[:40]}" for stem, words, _ in TASKS])
def test_no_metal_is_cut_where_only_the_plug_is_spoken_of(stem, words, task):
    """Turning, drilling, a speed to be counted or a run to get warm asks for glasses, guard and stop in the same paragraph."""
    under_power = re.search(
        r"\b(run the slowest|run half an hour|take the cut|while turning|cut again|slow pass|spindle from top speed|took off the work|half an hour at a)\b",
        task,
    )
    assert not under_power or re.search(RUNS, task), f"{stem}: {words}"


def test_what_was_unsafe_is_gone():
    written = {path.stem[:2]: "\n".join(cell.source for cell in nbformat.read(path, as_version=4).cells) for path in NOTEBOOKS}
    assert "scales under the vice" not in written["04"] and "clamp the vice to the table" in written["04"]
    assert "10 kg chuck close to the body" not in written["13"] and "5 kg" in written["13"]
    assert "until its rating is known" in written["06"]
