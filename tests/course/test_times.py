"""The times that chapters tell are reckoned from what stands on the page, and no sitting is longer than half an hour.

Reading: 180 words a minute, slower than the 238 that adults read of English prose in their own language
(Brysbaert, How many words do we read per minute?, 2019, recalled from memory), for this is technical and many read it
in a second one.  What is done with the hands is judged (no source): minutes for a picture to play with, a decision, and so on.
"""

import ast
import re

import nbformat
import pytest
from classroom import NOTEBOOKS

from lathe_course.course.shown.play import steps_of

WORDS_A_MINUTE = 180
MINUTES = {
    "guess": 1.0,
    "play": 3.5,
    "check": 1.5,
    "jobs": 3.0,
    "readings": 2.0,
    "ways_of_your_parts": 8.0,
    "lesson_questions": 6.0,
    "add_to_log": 2.0,
}
A_DECISION = 0.4
#: words of one output that are read before a reader looks for the row that matters
MOST_WORDS = 150
STOP = "**A good place to stop.**"
CHAPTERS = [path for path in NOTEBOOKS if re.match(r"(0[1-9]|1[0-7])_", path.name)]


def of_cell(cell):
    """Minutes that a cell takes."""
    if cell.cell_type == "markdown":
        return len(re.sub(r"<details>.*?</details>", "", cell.source, flags=re.DOTALL).split()) / WORDS_A_MINUTE
    call = re.match(r'chapter\.(?:show\("(\w+)"|(\w+)\()', cell.source)
    name = call and (call[1] or call[2])
    if name == "decide":
        names = ast.literal_eval("[" + cell.source.removeprefix("chapter.decide(").rstrip().removesuffix(")") + "]")
        return A_DECISION * sum(map(len, steps_of(names)))
    if name in MINUTES:
        return MINUTES[name]
    read = sum(min(len(output.get("data", {}).get("text/plain", "").split()), MOST_WORDS) for output in cell.get("outputs", ()))
    return read / WORDS_A_MINUTE


def sittings(cells):
    """Minutes from one place to stop to the next."""
    found = [0.0]
    for cell in cells:
        if cell.cell_type == "markdown" and cell.source.startswith(STOP):
            found.append(0.0)
        found[-1] += of_cell(cell)
    return found


@pytest.mark.parametrize("path", CHAPTERS, ids=lambda path: path.stem)
def test_a_chapter_tells_the_time_it_takes_and_where_to_stop(path):
    cells = nbformat.read(path, as_version=4).cells
    head = re.search(r"\*Time:\* (.*?)\.", cells[0].source)[1]
    told = [int(minutes) for minutes in re.findall(r"(\d+) minutes", head)]
    reckoned = sittings(cells)
    assert len(told) == len(reckoned), f"{head!r}; places to stop: {len(reckoned) - 1}"
    for said, minutes in zip(told, reckoned, strict=True):
        assert abs(said - minutes) <= 5, f"told: {told}, reckoned: {[round(one) for one in reckoned]}"
        assert said <= 30
