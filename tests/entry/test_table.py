"""A table of readings: what is read of a file, and the line on which each fault of it is."""

from __future__ import annotations

import csv
import io
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.entry.table import COLUMNS, LONGEST_CELL, TableError, defused, table_of, undone

HEADING = "person,taken_at,measure,side,value"


def told(text: str) -> list[tuple[int, dict[str, str]]]:
    return [(row.line, dict(row.cells)) for row in table_of(text.encode()).rows]


def refused(data: bytes | str) -> str:
    with pytest.raises(TableError) as found:
        table_of(data.encode() if isinstance(data, str) else data)
    return str(found.value)


def test_columns_may_stand_in_any_order_and_case() -> None:
    (row,) = told("Value,Measure,PERSON,taken at,Injured-Side\n10,lunge,A,2026-08-14,left\n")
    cells = {"value": "10", "measure": "lunge", "person": "A", "taken_at": "2026-08-14", "injured_side": "left"}
    assert row == (2, cells)


@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("delimiter", [",", ";"])
def test_comma_or_semicolon_any_line_end_and_a_byte_order_mark(delimiter: str, end: str, mark: str) -> None:
    lines = [COLUMNS, ["x"] * len(COLUMNS)]
    text = mark + "".join(delimiter.join(line) + end for line in lines)
    assert told(text) == [(2, dict.fromkeys(COLUMNS, "x"))]


def test_a_decimal_comma_stands_between_semicolons() -> None:
    text = HEADING.replace(",", ";") + "\nA;2026-08-14;lunge;left;10,2|10,4\n"
    assert told(text)[0][1]["value"] == "10,2|10,4"


def test_the_line_is_the_one_in_the_file_behind_quoted_line_breaks_and_blank_lines() -> None:
    text = f'\n{HEADING}\n"A\nB",2026-08-14,lunge,left,10\n\n,,,,\n"C\r\nD\r",2026-08-14,lunge,left,11\nE,,,,\n'
    assert [(line, cells["person"]) for line, cells in told(text)] == [(3, "A\nB"), (7, "C\r\nD\r"), (10, "E")]


def test_a_short_row_has_no_cells_at_its_end_and_a_long_one_tells_what_is_beyond() -> None:
    short, blank, long = table_of(f"{HEADING}\nA,x\nB,1,2,3,4,,\nC,1,2,left,10,2\n".encode()).rows
    assert dict(short.cells) == {"person": "A", "taken_at": "x"}
    assert (blank.beyond, long.beyond) == ("", "2")


def test_cells_under_an_empty_heading_are_counted_and_not_read() -> None:
    table = table_of(f"{HEADING},,\nA,1,2,3,4,remark,\nB,1,2,3,4,,\n".encode())
    assert table.unread == 1
    assert set(table.rows[0].cells) == set(HEADING.split(","))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "the file is empty: its first line names the columns, such as person,taken_at,measure,value"),
        ("\ufeff\n , ,\n", "the file is empty"),
        ("A,2026-08-14,lunge,left,10\n", "line 1 names no column that is read"),
        (f"{HEADING},momment\n", "the column momment is not one that is read: did you mean moment?"),
        (
            f"{HEADING},remark\n",
            "the column remark is not one that is read: empty its heading to leave it out",
        ),
        (f"{HEADING},\x1b[31m\n", "the column U+001B[31m is not one"),
        (f"{HEADING},Side\n", "there are two columns side"),
        ("person,side\n", "line 1 names no column taken_at and none measure and none value"),
        (HEADING.replace(",", "\t"), "the columns are parted by tabs"),
        (f'{HEADING}\nA,1,2,3,4\n"B,1,2,3,4\nC,1,2,3,4\n', "from line 3 on .* a quote is opened and never closed"),
        (f'{HEADING}\nA,1,2,3,4\n"B"x,1,2,3,4\n', "from line 3 on .* something stands behind a closing quote"),
        (f'{HEADING}\n"{"x" * (LONGEST_CELL + 1)}",1,2,3,4\n', "from line 2 on .* a cell has more than"),
    ],
)
def test_a_file_that_is_no_such_table_is_refused_with_a_sentence(text: str, says: str) -> None:
    assert re.search(says.replace("?", r"\?").replace("[31m", r"\[31m").replace("+", r"\+"), refused(text))


def test_bytes_that_are_no_utf8_name_their_line_and_how_to_save() -> None:
    data = f"{HEADING}\r\nA,1,2,3,4\r\n".encode() + "Zoë,1,2,3,4\r\n".encode("latin-1")
    for mark in (b"", b"\xef\xbb\xbf"):
        says = refused(mark + data)
        assert says.startswith("line 3 is not in UTF-8")
        assert "save it again as CSV in UTF-8" in says


def test_what_no_text_holds_is_refused() -> None:
    assert refused(f"{HEADING}\nA,\x00,2,3,4\n").startswith("line 2 holds a NUL byte")
    assert refused(HEADING.encode("utf-16")).startswith("this is a text in UTF-16")
    assert refused(b"PK\x03\x04" + bytes(40)).startswith("this is a spreadsheet and no CSV")


@pytest.mark.parametrize("text", ["=1+1", "+x", "-x", "@x", "\tx", "'=x", "''@x", "'x", "x", "", "'", "O'Neil"])
def test_a_formula_is_defused_and_given_back(text: str) -> None:
    assert not defused(text).startswith(("=", "+", "-", "@", "\t"))
    assert undone(defused(text)) == text


@given(st.text())
def test_any_text_comes_back_from_being_defused(text: str) -> None:
    assert undone(defused(text)) == text


CELLS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=12)
ROWS = st.lists(st.lists(CELLS, min_size=len(COLUMNS), max_size=len(COLUMNS)), max_size=6)


@given(ROWS, st.permutations(COLUMNS), st.sampled_from(",;"), st.booleans())
def test_whatever_csv_writes_comes_back_with_the_line_it_begins_on(
    rows: list[list[str]], columns: list[str], delimiter: str, quoted: bool
) -> None:
    # with no \r in its line ends, the writer leaves a \r in a cell without the quotes it needs
    text = io.StringIO(newline="")
    if quoted:
        writer = csv.writer(text, delimiter=delimiter, quoting=csv.QUOTE_ALL, lineterminator="\n")
    else:
        writer = csv.writer(text, delimiter=delimiter, lineterminator="\r\n")
    writer.writerow(columns)
    expected = []
    for row in rows:
        line = len(re.findall(r"\r\n|\r|\n", text.getvalue())) + 1
        writer.writerow(row)
        if any(cell.strip() for cell in row):
            expected.append((line, dict(zip(columns, row, strict=True))))
    assert told(text.getvalue()) == expected


@given(
    st.binary(max_size=200)
    | st.text(max_size=200).map(lambda text: f"{HEADING}\n{text}".encode("utf-8", "replace"))
)
def test_any_bytes_are_a_table_or_refused_in_one_line(data: bytes) -> None:
    says = _says_of(data)
    assert says.isprintable()
    assert len(says) < 400


def _says_of(data: bytes) -> str:
    """What is said of a file; nothing but TableError is caught."""
    try:
        return f"{len(table_of(data).rows)} rows"
    except TableError as error:
        return str(error)
