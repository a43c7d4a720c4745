"""Where each key of a file stands, whatever its values look like; and what counts as the same."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lathe_course.design.files.toml_edit import same
from lathe_course.design.files.toml_text import decode

#: values as one may write them, some over several lines, some with signs that open or close something elsewhere
WRITTEN = (
    "1",
    '"75 mm"  # [measured]',
    "'a # b = ['",
    '"a \\" # = ["',
    '"""two\nlines = 3"""',
    '"""it ends in a quote""""',
    '"""it ends in two"""""',
    '"""it ends in one""""  # and "[" is part of a remark',
    "'''it ends in one''''  # and '[' is part of a remark",
    '"""a \\""" within\n# no remark"""',
    "'''one\n\n= two'''''",
    '[ # [ a list\n  "1", # ] of\n  { a = [2, 3] },\n]',
    '{ value = [1,\n 2], reason = "x = \'" }',
    "[[1, 2],\n[3]]",
    "2026-01-31",
)


@pytest.mark.parametrize("seed", range(12))
def test_each_key_is_found_on_the_line_on_which_it_begins(seed):
    """The lines are counted while the file is put together."""
    rng, lines, stands = random.Random(seed), [], {}

    def some(path, names):
        for name in names:
            lines.extend(rng.choice((["# remark = 1"], [""], [])))
            stands[*path, name] = len(lines) + 1
            lines.extend(f"{name} = {rng.choice(WRITTEN)}".split("\n"))

    some((), ["format", '"a key"'])
    for table in ("decisions", "figures"):
        lines.append(f"[{table}]")
        some((table,), ["one", "two", "three"])
    for row in range(3):
        lines.append("[[jobs]]  # [a job]")
        stands["jobs", row] = len(lines)
        some(("jobs", row), ["name", "diameter"])
    read = decode("\n".join(lines).encode())
    for path, line in stands.items():
        assert read.line_of(tuple(key.strip('"') if isinstance(key, str) else key for key in path)) == line, path


@pytest.mark.parametrize(
    "one, other",
    [(1, 1.0), (1, True), (0, False), ("1", 1), ([1], [1, 1]), ({"a": 1}, {"a": 1, "b": 2}), ({"a": [1]}, {"a": [1.0]})],
)
def test_what_is_written_differently_is_not_the_same(one, other):
    """A file in which 1 became true says something else, though Python calls both equal."""
    assert not same(one, other) and not same(other, one)
    assert same(one, one) and same(other, other)


@settings(max_examples=50, deadline=None, derandomize=True)
@given(
    st.recursive(
        st.one_of(st.integers(), st.floats(), st.booleans(), st.text(max_size=3)), lambda part: st.lists(part, max_size=3)
    )
)
def test_everything_is_the_same_as_itself(value):
    assert same(value, value)
