"""CSV as spreadsheets leave it: read with tolerance, written in one plain way.

Read: commas, semicolons or tabs; a byte-order mark or none; decimal commas; empty lines; lines
that begin with #, also quoted ones that stand alone in their row; a first line ``sep=;``; old code pages.
Written: commas, points, UTF-8; a text that a spreadsheet would work out, such as one that begins with
an equals sign, or that would read as a remark, gets an apostrophe before it, which is taken off again when it is read.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

_DELIMITERS = ",;\t"
_SEP = re.compile(r"^\s*\"?sep=(.)\"?\s*$", re.IGNORECASE)
_COMMA_FIGURE = re.compile(r"^[-+]?\d+,\d+$")
_THOUSANDS = re.compile(r"^[-+]?[1-9]\d{0,2}(?P<mark>[.,])\d{3}(?:(?P=mark)\d{3})*$")
_FIGURE = re.compile(r"^[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?$")
_QUOTED_REMARK = re.compile(r'\s*"\s*#')
#: what a spreadsheet works out in place of showing it, unless it is a figure, or what reads as a remark; and the same with our mark before it
_WORKED_OUT, _MARKED = re.compile(r"'*(?:[=+\-@\t\r]|\s*#)"), re.compile(r"'+(?:[=+\-@\t\r]|\s*#)")
_PLAIN_FIGURE = re.compile(r"[-+]?[\d.,\s]*\d[\d.,\s]*([eE][-+]?\d+)?%?")


class Unreadable(ValueError):
    """A cell or a whole text cannot be read; the message is a sentence without its full stop."""


@dataclass(frozen=True)
class CsvText:
    """Headings, and rows with the line each begins on.  ``decimal_comma``: some figure is written with one."""

    headings: tuple[str, ...]
    heading_line: int
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    delimiter: str
    decimal_comma: bool
    remarks: tuple[str, ...] = ()


def decode(raw: bytes) -> CsvText:
    """The cells of a file.  Raises Unreadable if there is no heading or a quotation mark is never closed."""
    text, remarks = _text(raw)
    lines = list(io.StringIO(text, newline=""))  # at line ends only, not at every sign that may stand for one
    delimiter = None
    if lines and (found := _SEP.match(lines[0])):
        delimiter, lines[0] = found.group(1), "\n"
    kept = _without_remarks(lines)
    first = next((line for line in kept if line.strip(" \t\r\n,;")), None)
    if first is None:
        raise Unreadable("it holds no row at all; the first row must be the headings")
    delimiter = delimiter or _delimiter(first)
    rows = _rows(kept, delimiter)
    (heading_line, headings), *rows = rows
    comma = delimiter != "," and any(_COMMA_FIGURE.match(cell) for _, cells in rows for cell in cells)
    return CsvText(headings, heading_line, tuple(rows), delimiter, comma, remarks)


def _without_remarks(lines: list[str]) -> list[str]:
    """Lines that begin with # made empty, so that the others keep their numbers; inside a quoted text they stay.

    A spreadsheet quotes a remark that has a comma in it, so above the headings a quoted one is a remark as well; below them it is
    one where nothing else stands in its row, which ``_rows`` sees.
    """
    kept, inside, begun = [], False, False
    for line in lines:
        if not inside and (line.lstrip().startswith("#") or not begun and _QUOTED_REMARK.match(line)):
            kept.append("\n")
        else:
            kept.append(line)
            inside ^= line.count('"') % 2 == 1
            begun = begun or bool(line.strip(" \t\r\n,;"))
    return kept


def _rows(lines: list[str], delimiter: str, strict: bool = True) -> list[tuple[int, tuple[str, ...]]]:
    """The rows that hold anything, each with the line it begins on."""
    reader = csv.reader(lines, delimiter=delimiter, strict=strict)
    rows: list[tuple[int, tuple[str, ...]]] = []
    begins = 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                remark = bool(rows) and cells[0].lstrip().startswith("#") and not any(cell.strip() for cell in cells[1:])
                if not remark:
                    rows.append((begins, tuple(_as_meant(cell.strip()) for cell in cells)))
            begins = reader.line_num + 1
    except csv.Error as problem:
        if "field larger" in str(problem) and sum(line.count('"') for line in lines[begins - 1 :]) % 2 == 0:
            raise Unreadable(
                f"line {begins}: a cell of this row holds more than {csv.field_size_limit()} signs; is this a table?"
            ) from None
        if not strict or "expected after" not in str(problem):
            raise Unreadable(f"line {begins}: a quotation mark of this row is never closed") from None
        return _rows(lines, delimiter, strict=False)  # blanks round a quoted text, which do no harm
    return rows


def _text(raw: bytes) -> tuple[str, tuple[str, ...]]:
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return raw.decode("utf-16", errors="replace"), ()
    try:
        return raw.decode("utf-8-sig"), ()
    except UnicodeDecodeError:
        return raw.decode("cp1252", errors="replace"), (
            "it is not UTF-8; letters beyond plain English were read as western European.",
        )


def _delimiter(line: str) -> str:
    """The sign that parts most cells of the headings, quoted ones counted as one."""

    def cells(sign: str) -> int:
        try:
            return len(next(csv.reader([line], delimiter=sign), []))
        except csv.Error:  # a cell that is too long, which is told when the rows are read
            return 0

    return max(_DELIMITERS, key=cells)


def figure(cell: str, decimal_comma: bool = False) -> float:
    """A figure as people type it in any country; Unreadable where it could be two different ones."""
    plain = re.sub(r"(?<=\d)[ \u00a0\u202f'’](?=\d{3})", "", cell.strip()).replace("−", "-")
    grouped = _THOUSANDS.match(plain)
    if (
        grouped
        and (grouped["mark"] == "," or decimal_comma)
        and plain.count(grouped["mark"]) == 1
        and not (grouped["mark"] == "," and decimal_comma)
    ):
        whole, point = plain.replace(grouped["mark"], ""), plain.replace(grouped["mark"], ".")
        raise Unreadable(f"{cell!r} can be read in two ways; write {whole} or {float(point):g}")
    if grouped and plain.count(grouped["mark"]) > 1:
        plain = plain.replace(grouped["mark"], "")
    elif "," in plain and "." in plain:
        mark = max(",.", key=plain.rfind)  # the last sign parts the decimals
        plain = plain.replace("," if mark == "." else ".", "").replace(mark, ".")
    else:
        plain = plain.replace(",", ".")
    if not _FIGURE.match(plain):
        raise Unreadable(f"{cell!r} is not a figure")
    return float(plain)


def cell_text(cell: str) -> str:
    """A cell as it is written: with an apostrophe before what a spreadsheet would work out or obey, and before the sign of a remark; a figure stays."""
    return f"'{cell}" if _WORKED_OUT.match(cell) and not _PLAIN_FIGURE.fullmatch(cell) else cell


def _as_meant(cell: str) -> str:
    return cell[1:] if _MARKED.match(cell) else cell


def write(headings: Sequence[str], rows: Iterable[Sequence[str]], remarks: Iterable[str] = ()) -> bytes:
    """The bytes of a file: remarks as lines with #, then headings and rows."""
    text = io.StringIO()
    for remark in remarks:
        text.write(f"# {remark}\n")
    csv.writer(text, lineterminator="\n").writerows(
        [cell_text(str(cell).replace("\r\n", "\n").replace("\r", "\n")) for cell in row] for row in (headings, *rows)
    )
    return text.getvalue().encode("utf-8")
