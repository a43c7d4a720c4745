"""What the pictures draw is what is stored, as what the notebooks show is: nothing in them moves, turns or goes unseen."""

import itertools

import pytest
from stored_pictures import alike, pictures, stored
from tiers import short_of

from lathe_course.design.demos import DEMOS


@pytest.mark.parametrize("name", short_of(DEMOS, next(iter(DEMOS))))
def test_every_picture_draws_what_is_stored(name):
    """After a change that is meant: ``python tests/course/stored_pictures.py``, and read the diff."""
    held = {title: lines for title, lines in stored().items() if title.partition(",")[0] == name}
    moved = []
    for title, lines in pictures(name):
        for here, there in itertools.zip_longest(lines, held.pop(title, ()), fillvalue=""):
            if not alike(here, there):
                moved.append(f"{title}:\n  stored {there}\n  drawn  {here}")
                break
    assert not moved, "\n".join(moved)
    assert not held, f"stored, and no longer drawn: {', '.join(held)}"


def test_two_places_are_alike_within_two_points_and_words_to_the_letter():
    assert alike("note “33” 354 257; 346 257", "note “33” 355 255; 346 257")
    assert not alike("note “33” 354 257", "note “33” 354 260")
    assert not alike("note “33” 354 257", "note “34” 354 257") and not alike("text “a” left 3 4", "text “a” right 3 4")
    assert not alike("line “2” 1 2; 3 4", "")
