"""The text of a TOML file: read strictly, with the line of every key, and faults in plain words.

The standard library's reader decides what is right; it is stricter than the one that
keeps comments.  Byte order mark and line ends are remembered, so that a file written with
another editor comes back as that editor left it.
"""

from __future__ import annotations

import functools
import re
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

Keys = tuple[str | int, ...]
_BOM = b"\xef\xbb\xbf"


class Damaged(Exception):
    """The text cannot be read: ``line`` (from 1), ``key`` ("" if none is near) and what is wrong."""

    def __init__(self, line: int, key: str, sentence: str):
        super().__init__(sentence)
        self.line, self.key, self.sentence = line, key, sentence


@dataclass(frozen=True)
class TomlText:
    """A TOML file: its text with plain line ends, and what it says as plain Python."""

    text: str
    plain: dict[str, Any]
    bom: bool = False
    newline: str = "\n"

    @property
    def ends_well(self) -> bool:
        """Whether the last line is ended; a file cut off in mid line is not."""
        return self.text.endswith("\n")

    def encode(self, text: str) -> bytes:
        """Another text with the byte order mark and line ends of this one."""
        if not text.endswith("\n"):
            text += "\n"
        return _BOM * self.bom + text.replace("\n", self.newline).encode("utf-8")

    @functools.cached_property
    def _lines(self) -> dict[Keys, int]:
        found: dict[Keys, int] = {}
        for line, path in _statements(self.text):
            found.setdefault(path, line)
        return found

    def line_of(self, path: Sequence[str | int]) -> int | None:
        """Line of a key, or of the nearest key around it."""
        path = tuple(path)
        while path:
            if path in self._lines:
                return self._lines[path]
            path = path[:-1]
        return None


def decode(raw: bytes) -> TomlText:
    """Bytes of a file as text and plain values; Damaged if they are not whole TOML."""
    body = raw.removeprefix(_BOM)
    if body.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise Damaged(1, "", "the file was saved as UTF-16; save it as UTF-8")
    if b"\0" in body:
        raise Damaged(
            _line_at(body, body.index(b"\0")), "", "there are zero bytes in it, as a power cut during writing leaves them"
        )
    try:
        text = body.decode("utf-8")
    except UnicodeDecodeError as problem:
        raise Damaged(
            _line_at(body, problem.start), "", f"the byte {body[problem.start]:#04x} is not UTF-8 text; save the file as UTF-8"
        ) from None
    if not text.strip():
        raise Damaged(1, "", "the file is empty")
    windows = text.count("\r\n")
    newline = "\r\n" if 2 * windows > text.count("\n") else "\n"
    text = text.replace("\r\n", "\n")
    try:
        plain = tomllib.loads(text)
    except tomllib.TOMLDecodeError as problem:
        raise _damaged(text, str(problem)) from None
    except RecursionError:
        raise Damaged(1, "", _TOO_DEEP) from None
    except ValueError:  # the reader gives up at 4300 digits
        digits = re.search(r"\d[\d_]{4000,}", text)
        raise Damaged(_line_at(body, digits.start() if digits else 0), "", _TOO_LARGE) from None
    read = TomlText(text, plain, raw.startswith(_BOM), newline)
    if found := _beyond(plain):
        path, sentence = found
        raise Damaged(read.line_of(path) or 1, key_text(path) if len(path) <= _DEEPEST else "", sentence)
    return read


_DEEPEST = 50  # tables in tables; the course has four
_TOO_DEEP = "lists or tables are nested too deeply"
_TOO_LARGE = "this whole number has more digits than a figure can have; a whole number has up to 18, and a size stands in quotes with its unit"


def _beyond(plain: dict[str, Any]) -> tuple[Keys, str] | None:
    """Where something is nested too deeply, or a whole number is beyond the 64 bits that TOML allows, and what is wrong."""
    waiting: list[tuple[Keys, Any]] = [((), plain)]
    while waiting:
        path, value = waiting.pop()
        if isinstance(value, (dict, list)):
            if len(path) > _DEEPEST:
                return path, _TOO_DEEP
            waiting += [((*path, key), part) for key, part in (value.items() if isinstance(value, dict) else enumerate(value))]
        elif isinstance(value, int) and not -(2**63) <= value < 2**63:
            return path, _TOO_LARGE
    return None


def _line_at(body: bytes, position: int) -> int:
    return body.count(b"\n", 0, position) + 1


# --- faults in plain words -------------------------------------------------------------------------
_AT = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)")
_TWICE = (
    "Cannot overwrite a value",
    "Cannot declare",
    "Cannot mutate immutable",
    "Duplicate inline table key",
    "Cannot redefine namespace",
)
_QUOTES = 'text and figures with a unit stand in quotes, as in value = "75 mm"'
_PLAIN = (
    ("Unclosed array", "a list is opened with [ and not closed"),
    ("Unclosed inline table", "a range or entry is opened with { and not closed"),
    ("Unterminated string", "a text is opened with a quote and not closed"),
    ("Illegal character '\\n'", "a text is opened with a quote and not closed on its line"),
    ("Illegal character", "there is a character that cannot stand here"),
    ("Expected '='", 'after a name an equals sign is needed, as in value = "75 mm"'),
    ("Expected ']", "the name of a table stands between [ and ]"),
    ("Unescaped '\\'", "a backslash in a text is written twice, \\\\"),
    ("Invalid value", f"this is not a value; {_QUOTES}"),
    ("Expected newline", f"something stands behind the value; {_QUOTES}"),
    ("Invalid initial character for a key", "a name is missing or begins with a character that cannot be in one"),
    ("Invalid statement", "a line begins with a name, with [ or with #"),
)


def _damaged(text: str, message: str) -> Damaged:
    """The reader's complaint with its line and key, in words for somebody who never met TOML."""
    at = _AT.search(message)
    given = at[1] if at else None
    at_end = given is None
    line = text.rstrip("\n").count("\n") + 1 if given is None else int(given)
    bare = _AT.sub("", message)
    near = [(start, path) for start, path in _statements(text) if start <= line]
    start, path = near[-1] if near else (line, ())
    if bare.startswith(_TWICE):
        first = next((early for early, other in near[:-1] if other == path), None)
        return Damaged(
            line, key_text(path), f"this is there twice{f' (first in line {first})' if first else ''}; keep one of them"
        )
    sentence = next((words for begins, words in _PLAIN if bare.startswith(begins)), f"this cannot be read ({bare})")
    if at_end:
        sentence += ", and the file ends there; it may have been cut off"
    if at_end or bare.startswith("Unclosed"):
        line = start  # where the mending is, not where the reader gave up
    return Damaged(line, key_text(path), sentence)


def key_text(path: Sequence[str | int]) -> str:
    """A path of keys as people read it: 'decisions.centre_height.value', 'jobs.2.diameter' (counted from 1)."""
    return ".".join(str(part + 1) if isinstance(part, int) else part for part in path)


# --- where each key stands --------------------------------------------------------------------------
_TOKEN = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'|#[^\n]*|[\[{]|[\]}]|\n|=|'
    r'[^\S\n]+|[^"\'#\[\]{}\n=\s]+|.',
    re.DOTALL,
)


def _statements(text: str) -> Iterator[tuple[int, Keys]]:
    """Line and path of every header and every key in front of an equals sign, in order.

    A light scan that also gets through damaged text, up to the damage.
    """
    tables: dict[Keys, int] = {}  # how often each [[list of tables]] was opened so far
    here: Keys = ()
    line, start, depth, left, is_header, found_equals = 1, 1, 0, "", False, False
    for match in _TOKEN.finditer(text + "\n"):
        token = match[0]
        if token == "\n" and (depth <= 0 or is_header):
            if is_header:
                path = _header(left, tables)
                if path is not None:
                    here = path
                    yield start, path
            line += 1
            start, depth, left, is_header, found_equals = line, 0, "", False, False
            continue
        if not left and token == "[":
            is_header = True
        if token == "=" and depth == 0 and not is_header and not found_equals:
            found_equals = True
            key = _key(left)
            if key is not None:
                yield start, here + key
        elif not found_equals and not token.isspace() and not token.startswith("#"):
            left += token
        depth += (token in ("[", "{")) - (token in ("]", "}"))
        line += token.count("\n")


def _key(text: str) -> Keys | None:
    """'a."b c"' as ('a', 'b c')."""
    try:
        found: Any = tomllib.loads(f"{text} = 0")
    except tomllib.TOMLDecodeError:
        return None
    path: list[str] = []
    while isinstance(found, dict):
        if len(found) != 1:
            return None
        name, found = next(iter(found.items()))
        path.append(name)
    return tuple(path)


def _header(text: str, tables: dict[Keys, int]) -> Keys | None:
    several = text.startswith("[[")
    key = _key(text.removeprefix("[[").removesuffix("]]") if several else text.removeprefix("[").removesuffix("]"))
    if key is None:
        return None
    path: Keys = ()
    for position, name in enumerate(key):
        path += (name,)
        if several and position == len(key) - 1:
            tables[path] = tables.get(path, 0) + 1
        if path in tables:
            path += (tables[path] - 1,)
    return path
