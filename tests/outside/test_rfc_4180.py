"""A table against RFC 4180 (2005, Common Format and MIME Type for CSV Files).

Section 2: records end in CRLF (1); the first may be a heading (3); each has as many fields (4); fields with line
breaks, quotes and commas stand in double quotes (6), and a quote within is written twice (7). Formulas: OWASP,
"CSV Injection": a single quote before = + - @, tab and CR.
"""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from pathlib import Path

from store.care.everything import everything_of
from store.papers.csv_out import csv_parts
from tests.care.begun import begun


def test_a_table_is_as_the_rfc_has_it(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("girth l 51 51 51 r 53 53 53")
    held = everything_of(now.care, now.care.person(now.episode.person))
    person = held.person._replace(label='said "stiff, sore"\nthen left')
    readings = tuple(one._replace(examiner="=SUM(A1)", value=-1.5, trials=()) for one in held.readings)
    text = b"".join(csv_parts([replace(held, person=person, readings=readings)])).decode("utf-8")
    row = (
        '"said ""stiff, sore""\nthen left",right,,2026-03-01,2026-11-25T10:38:00+01:00,girth,{},-1.5,,'
        "'=SUM(A1),cm,measured,\r\n"
    )
    heading = (
        "person,injured_side,grade,injured_on,taken_at,measure,side,value,moment,examiner,"
        "unit,status,conditions\r\n"
    )
    assert text == heading + row.format("left") + row.format("right")
    assert {len(fields) for fields in csv.reader(io.StringIO(text, newline=""), strict=True)} == {13}
