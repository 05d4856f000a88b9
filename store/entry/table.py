"""A table of readings as a spreadsheet saves it: bytes in, rows with their line in the file out. Pure.

Comma or semicolon, by which of them makes known columns of the heading; quotes as in RFC 4180, so that a cell may
hold line breaks. Formulas that were defused with a single quote are given back as they were.
"""

from __future__ import annotations

import csv
import difflib
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from store.entry.errors import shown

COLUMNS = (
    "person", "injured_side", "grade", "injured_on", "taken_at", "measure", "side", "value", "moment", "examiner",
    "unit", "status", "conditions",
)  # fmt: skip
"""All columns that are read, in any order. The last three are those of a table that an export wrote."""

REQUIRED = ("person", "taken_at", "measure", "value")

LONGEST_CELL = csv.field_size_limit()
"""Characters of a cell, past which a quote was surely not closed."""

_SAVE_AGAIN = "save it again as CSV in UTF-8"
_ZIPPED = b"PK\x03\x04"
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")
_FORMULA = re.compile(r"'*[=+\-@\t\r]")
_DEFUSED = re.compile(r"''*[=+\-@\t\r]")


class TableError(Exception):
    """A table of which no line can be read. Its text is one sentence that says what to do."""


class Row(NamedTuple):
    """One row: the line of the file on which it begins, and its cells by column, as they stand.

    `beyond` is what stands in cells that have no column above them.
    """

    line: int
    cells: Mapping[str, str]
    beyond: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """The rows that have anything in them, and how many cells stood under an empty heading and were not read."""

    rows: tuple[Row, ...]
    unread: int = 0


def table_of(data: bytes) -> Table:
    """The table that a file holds. Raises TableError, and nothing else."""
    text = _text(data)
    delimiter = _delimiter(text)
    records = _records(text, delimiter)
    line, heading = next(records, (1, []))
    if not heading:
        raise TableError(f"the file is empty: its first line names the columns, such as {','.join(REQUIRED)}")
    columns = _columns(line, heading)
    rows, unread = [], 0
    for line, cells in records:
        named = {column: cell for column, cell in zip(columns, cells, strict=False) if column}
        unread += sum(bool(cell.strip()) for column, cell in zip(columns, cells, strict=False) if not column)
        rows.append(Row(line, named, " ".join(cell for cell in cells[len(columns) :] if cell.strip())))
    return Table(tuple(rows), unread)


def defused(text: str) -> str:
    """A text as it may stand in a cell: a single quote before what a spreadsheet would take for a formula."""
    return f"'{text}" if _FORMULA.match(text) else text


def undone(text: str) -> str:
    """The text that was defused; any other as it is."""
    return text[1:] if _DEFUSED.match(text) else text


# the text


def _text(data: bytes) -> str:
    """The text of a file, without a byte-order mark."""
    if data.startswith(_ZIPPED):
        raise TableError(f"this is a spreadsheet and no CSV: open it, and {_SAVE_AGAIN}")
    if data.startswith(_UTF_16):
        raise TableError(f"this is a text in UTF-16: {_SAVE_AGAIN}")
    if b"\x00" in data:
        raise TableError(f"line {_line_at(data, data.index(0))} holds a NUL byte, and no text does: {_SAVE_AGAIN}")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        # the decoder counts from behind the mark
        at = error.start + (len(data) - len(error.object))
        raise TableError(
            f"line {_line_at(data, at)} is not in UTF-8, and its letters would come out wrong: open the file in "
            f"the spreadsheet it comes from, and {_SAVE_AGAIN}"
        ) from None


def _line_at(data: bytes, at: int) -> int:
    before = data[:at].replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    return before.count(b"\n") + 1


def _records(text: str, delimiter: str) -> Iterator[tuple[int, list[str]]]:
    """Each record with the line on which it begins; those with nothing in them are passed over."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    while True:
        line = reader.line_num + 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise TableError(_broken(line, str(error))) from None
        if any(cell.strip() for cell in cells):
            yield line, cells


def _broken(line: int, error: str) -> str:
    if "expected after" in error:
        why = 'something stands behind a closing quote: put the whole cell in quotes, and write " in it twice'
    elif "field limit" in error:
        why = f"a cell has more than {LONGEST_CELL} characters: close its quote, or shorten it"
    else:
        why = "a quote is opened and never closed: close it"
    return f"from line {line} on the file cannot be parted into cells, since {why}"


# the heading


def _delimiter(text: str) -> str:
    """Comma or semicolon, whichever makes more known columns of the heading; comma where neither does."""
    known = {}
    for delimiter in (",", ";", "\t"):
        try:
            _, heading = next(_records(text, delimiter), (1, []))
        except TableError:
            heading = []
        known[delimiter] = sum(_name(cell) in COLUMNS for cell in heading)
    if known["\t"] > max(known[","], known[";"]):
        raise TableError("the columns are parted by tabs: save the file with commas or semicolons between them")
    return ";" if known[";"] > known[","] else ","


def _columns(line: int, heading: list[str]) -> list[str]:
    """The column of each cell, empty under an empty heading."""
    names = [_name(cell) for cell in heading]
    if not set(names) & set(COLUMNS):
        raise TableError(f"line {line} names no column that is read: it begins with {', '.join(COLUMNS)}")
    for at, (name, typed) in enumerate(zip(names, heading, strict=True)):
        if name and name not in COLUMNS:
            raise TableError(f"the column {shown(typed.strip())} is not one that is read: {_instead(name)}")
        if name and name in names[:at]:
            raise TableError(f"there are two columns {name}: leave one of them, or empty the other's heading")
    missing = [name for name in REQUIRED if name not in names]
    if missing:
        raise TableError(f"line {line} names no column {' and none '.join(missing)}: add what is missing")
    return names


def _name(cell: str) -> str:
    return "_".join(undone(cell.strip()).casefold().replace("-", " ").split())


def _instead(name: str) -> str:
    near = difflib.get_close_matches(name[:40], COLUMNS, n=1, cutoff=0.7)
    if near:
        return f"did you mean {near[0]}?"
    return "empty its heading to leave it out"
