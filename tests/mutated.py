"""Files as disks, editors, spreadsheets and strangers leave them: a sound file, changed by chance in a few places."""

import random
import re
from collections.abc import Callable, Sequence

#: what stands in no sound file, or at the edge of what may
STRANGE = [
    one if isinstance(one, bytes) else one.encode()
    for one in (
        b"",
        b"\0",
        b"\xff\xfe",
        b"\xef\xbb\xbf",
        b"\xff",
        b"\xed\xa0\x80",
        b"\x85",
        b"\x1a",
        b"\x1b[31m",
        "\u2028",
        "\u202e",
        "\ufeff",
        "٣",
        "½",
        "²",
        "−5",
        "日本",
        "\r",
        "\n",
        "\r\n",
        "\t",
        '"',
        "'",
        '"""',
        "'''",
        "#",
        "[",
        "]",
        "[[",
        "]]",
        "{",
        "}",
        "{}",
        "=",
        ",",
        ";",
        ".",
        "|",
        " + ",
        "\\",
        "\\u0041",
        "\\ud800",
        "0",
        "-0",
        "-1",
        "1e999",
        "-1e999",
        "1e-999",
        "nan",
        "-nan",
        "inf",
        "-inf",
        "NaN",
        "0x7fffffff",
        "0b1",
        "1_000",
        "1/0",
        "1/3",
        "9" * 30,
        "9" * 400,
        "9" * 5000,
        "." * 50,
        "1." + "0" * 500 + "1",
        "true",
        "false",
        "null",
        "None",
        "1979-05-27",
        "1979-05-27T07:32:00Z",
        "07:32:00",
        "9999-12-31",
        "0000-00-00",
        "99999-01-01",
        "31/31/2024",
        "1e5 mm",
        "75 mm",
        "75mm",
        "75 furlong",
        "mm",
        "75 mm²",
        "1 mm**9**9",
        "10 km/h",
        "1e300 mm",
        "-3 rpm",
        "3 to 5 mm",
        "20 %",
        "75,5 mm",
        "1,234.5",
        "1.234,5",
        "1 1/0 in",
        "=1+1",
        "@x",
        "a" * 300,
        "a" * 140_000,
        "a." * 3000 + "a = 1",
        "[" * 3000,
        "{a=" * 600,
        '"' * 999,
        "[a.b.c]\n",
        "[[jobs]]\n",
        "[decisions]\n",
        "[[question]]\n",
        "format = 99\n",
        "format = -1\n",
        "value = {}\n",
        "x = [1, 'a', {}]\n",
        "__class__",
        "{0.__class__}",
        "%s%n",
        "<script>",
        "../../x",
        "/",
        "C:\\",
        "hours",
        "money",
        "accepted",
        "ordered",
        "delivered",
        "begun",
    )
]


def mutated(sound: bytes, rng: random.Random, others: Sequence[bytes] = ()) -> bytes:
    """The bytes of a sound file with one to four changes; ``others`` are files of which a piece may get into it."""
    raw = sound
    for _ in range(rng.choice((1, 1, 1, 2, 2, 3, 4))):
        raw = rng.choice(_WAYS)(raw, rng, others)
    return raw


def _span(raw: bytes, rng: random.Random, most: int = 40) -> tuple[int, int]:
    start = rng.randint(0, len(raw))
    return start, min(len(raw), start + rng.randint(0, most))


def _lines(raw: bytes, rng: random.Random) -> tuple[list[bytes], int]:
    lines = raw.splitlines(keepends=True) or [b""]
    return lines, rng.randrange(len(lines))


def _cut_off(raw: bytes, rng: random.Random, others: Sequence[bytes]) -> bytes:
    return raw[: rng.randint(0, len(raw))]


def _taken_out(raw: bytes, rng: random.Random, others: Sequence[bytes]) -> bytes:
    start, end = _span(raw, rng)
    return raw[:start] + raw[end:]


def _put_in(raw: bytes, rng: random.Random, others: Sequence[bytes]) -> bytes:
    start, end = _span(raw, rng, rng.choice((0, 0, 8)))
    return raw[:start] + rng.choice(STRANGE) + raw[end:]


def _flipped(raw: bytes, rng: random.Random, others: Sequence[bytes]) -> bytes:
    if not raw:
        return raw
    at = rng.randrange(len(raw))
    return raw[:at] + bytes([raw[at] ^ 1 << rng.randrange(8)]) + raw[at + 1 :]


def _line_twice(raw: bytes, rng: random.Random, others: Sequence[bytes]) -> bytes:
    lines, at = _lines(raw, rng)
    lines.insert(rng.randint(0, len(lines)), lines[at])
    return b"".join(lines)


def _lines_swapped(raw: bytes, rng: random.Random, others: Sequence[bytes]) -> bytes:
    lines, at = _lines(raw, rng)
    other = rng.randrange(len(lines))
    lines[at], lines[other] = lines[other], lines[at]
    return b"".join(lines)


def _line_gone(raw: bytes, rng: random.Random, others: Sequence[bytes]) -> bytes:
    lines, at = _lines(raw, rng)
    return b"".join(lines[:at] + lines[at + 1 :])


def _value_changed(raw: bytes, rng: random.Random, others: Sequence[bytes]) -> bytes:
    """What stands behind an equals sign, or one cell of a row."""
    lines, at = _lines(raw, rng)
    line = lines[at].rstrip(b"\r\n")
    if b"=" in line and not line.lstrip().startswith(b"#"):
        name, _, value = line.partition(b"=")
        strange = rng.choice(STRANGE)
        lines[at] = (
            name
            + b"= "
            + rng.choice(
                (strange, b'"' + strange + b'"', b"[" + strange + b"]", b"{ value = " + strange + b" }", value + strange)
            )
            + b"\n"
        )
    else:
        sign = max((b",", b";", b"\t"), key=line.count)
        cells = line.split(sign)
        cells[rng.randrange(len(cells))] = rng.choice(STRANGE)
        lines[at] = sign.join(cells) + b"\n"
    return b"".join(lines)


def _figure_changed(raw: bytes, rng: random.Random, others: Sequence[bytes]) -> bytes:
    """A figure that is too small, too large, or nothing, in the place of another."""
    found = list(re.finditer(rb"(?<![\w.])\d+(\.\d+)?", raw))
    if not found:
        return raw
    one = rng.choice(found)
    return (
        raw[: one.start()]
        + rng.choice((b"0", b"1", b"2", b"0.5", b"1e-12", b"0.001", b"1000", b"1e6", b"1e12", b"1e300", b"-1"))
        + raw[one.end() :]
    )


def _word_changed(raw: bytes, rng: random.Random, others: Sequence[bytes]) -> bytes:
    """A word of the file in the place of another."""
    words = raw.split(b" ")
    words[rng.randrange(len(words))] = rng.choice(words)
    return b" ".join(words)


def _spliced(raw: bytes, rng: random.Random, others: Sequence[bytes]) -> bytes:
    other = rng.choice(others) if others else raw
    start, end = _span(other, rng, 400)
    at = rng.randint(0, len(raw))
    return raw[:at] + other[start:end] + raw[at:]


def _another_dress(raw: bytes, rng: random.Random, others: Sequence[bytes]) -> bytes:
    """Another code page, another mark between cells, other line ends."""
    how = rng.randrange(5)
    text = raw.decode("utf-8", "replace")
    return (
        text.encode("utf-16"),
        text.encode("cp1252", "replace"),
        raw.replace(b",", b";"),
        raw.replace(b"\n", b"\r"),
        raw.replace(b"\n", b"\r\n"),
    )[how]


_WAYS: tuple[Callable[[bytes, random.Random, Sequence[bytes]], bytes], ...] = (
    _cut_off,
    _taken_out,
    _put_in,
    _put_in,
    _flipped,
    _line_twice,
    _lines_swapped,
    _line_gone,
    _value_changed,
    _value_changed,
    _figure_changed,
    _figure_changed,
    _figure_changed,
    _figure_changed,
    _word_changed,
    _spliced,
    _another_dress,
)
