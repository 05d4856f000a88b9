"""The table of readings: what stands in it, and that an import gives the same ones. The people are invented."""

from __future__ import annotations

import csv
import io
import shutil
from collections import Counter
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from store.care.care import open_care
from store.care.everything import everything_of, everything_of_everybody
from store.care.importing import bring_in
from store.care.table_cells import COLUMNS
from store.entry.table import table_of, undone
from store.knowledge.time import SetClock
from store.knowledge.words import Reading
from store.papers.csv_out import csv_parts
from store.record import people
from tests.care.begun import begun

ROOT = Path(__file__).parents[2]
MONDAY = datetime(2026, 11, 23, 12, tzinfo=UTC)


def as_measured(reading: Reading, label: str) -> tuple[object, ...]:
    """A reading without what a table does not carry: ids, its visit and bout, protocol, note."""
    return (
        label, reading.measure, reading.unit, reading.taken, reading.side, reading.value, reading.status,
        reading.moment, reading.trials, reading.conditions, reading.examiner,
    )  # fmt: skip


def test_an_import_into_an_empty_record_gives_the_same_readings(tmp_path: Path) -> None:
    shutil.copy(ROOT / "demo.sqlite", tmp_path / "demo.sqlite")
    with closing(open_care(tmp_path / "demo.sqlite", SetClock(MONDAY))) as care:
        held = list(everything_of_everybody(care))
    table = tmp_path / "all.csv"
    table.write_bytes(b"".join(csv_parts(held)))
    with closing(open_care(tmp_path / "new.sqlite", SetClock(MONDAY), create=True)) as care:
        found = bring_in(care, table)
        again = list(everything_of_everybody(care))
    assert found.bad == []
    before = Counter(as_measured(one, each.person.label) for each in held for one in each.standing_readings)
    after = Counter(as_measured(one, each.person.label) for each in again for one in each.standing_readings)
    assert before == after
    assert before.total() == 759
    injured = {(each.person.label, one.side, one.grade, one.injured_on) for each in held for one in each.episodes}
    assert {
        (each.person.label, one.side, one.grade, one.injured_on) for each in again for one in each.episodes
    } <= injured


def rows_of(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8"), newline="")))


def test_a_row_has_the_trials_the_unit_and_the_local_time(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.care.blind = False
    now.line("lunge l 10.2 10.1 10.3 r 4.8 4.9 5.0 before tape")
    now.line("heel r unable")
    data = b"".join(csv_parts([everything_of(now.care, now.care.person(now.episode.person))]))
    left, right, heel = rows_of(data)
    taken = left["taken_at"]
    assert taken == "2026-11-25T10:38:00+01:00"
    assert left == {
        "person": "R.K.", "injured_side": "right", "grade": "", "injured_on": "2026-03-01", "taken_at": taken,
        "measure": "lunge", "side": "left", "value": "10.2|10.1|10.3", "moment": "before", "examiner": "AB",
        "unit": "cm", "status": "measured", "conditions": "tape",
    }  # fmt: skip
    assert right["value"] == "4.8|4.9|5"
    assert (heel["value"], heel["status"]) == ("unable", "unable")


def test_labels_with_formulas_quotes_and_line_breaks_come_back_whole(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("girth l 51 51 51 r 53 53 53")
    for label in (
        '=HYPERLINK("x")',
        "+1",
        "-2",
        "@A1",
        'a "b", c',
        "two\r\nlines",
        "\tx",
        "x" * 10_000,
        "'=1",
        "é",
    ):
        person = now.care.person(now.episode.person)
        people.revise_person(now.care.record, person._replace(label=label), by="AB", because="test")
        held = everything_of(now.care, now.care.person(person.id))
        data = b"".join(csv_parts([held]))
        row = rows_of(data)[0]
        assert undone(row["person"]) == label
        assert not row["person"].startswith(("=", "+", "-", "@", "\t", "\r"))
        assert undone(table_of(data).rows[0].cells["person"]) == label


def test_a_number_is_left_alone_and_a_text_is_not(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("girth l 51 51 51 r 53 53 53")
    held = everything_of(now.care, now.care.person(now.episode.person))
    below = tuple(one._replace(value=-1.5, trials=(), examiner="-1.5") for one in held.readings)
    row = rows_of(b"".join(csv_parts([replace(held, readings=below)])))[0]
    assert (row["value"], row["examiner"]) == ("-1.5", "'-1.5")


def test_nobody_makes_a_table_with_a_heading_only() -> None:
    assert b"".join(csv_parts([])) == ",".join(COLUMNS).encode() + b"\r\n"
