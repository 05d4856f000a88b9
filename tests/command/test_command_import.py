"""`import`: a table from a spreadsheet, what is said of it, and what is not kept. The people are invented."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest

from store.record import people, readings
from tests.command.conftest import Shell
from tui.progress import PATIENCE_S, Progress

TABLE = """\ufeffperson;injured_side;grade;injured_on;taken_at;measure;side;value;moment;examiner
Pip;left;II;1.11.2026;5.11.2026 18:05;lunge;left;4,2|4,4|4,3;;KV
Pip;left;II;1.11.2026;5.11.2026 18:05;lunge;right;10,2|10,4|10,3;;KV
Ode;;;;17.8.2026;heel raise;left;unable;;
"""
BAD = TABLE + 'Ode;;;;17.8.2026;heel raise;right;"9\n8";;\nOde;;;;17.8.2026;lunje;right;9;;\n'


@pytest.fixture
def table(tmp_path: Path) -> Path:
    path = tmp_path / "list.csv"
    path.write_text(TABLE, encoding="utf-8")
    return path


def kept(shell: Shell, label: str) -> list[float | None]:
    care = shell.care()
    found = [
        reading.value
        for person in people.people_labelled(care.record, label)
        for reading in readings.readings_of_person(care.record, person.id)
    ]
    care.close()
    return found


def test_a_table_is_imported_and_the_second_time_adds_nothing(own: Shell, table: Path) -> None:
    done = own("import", str(table))
    assert done.status == 0
    assert done.out == (
        "added 3 readings\nnew people (2): Pip, Ode\nnew episodes (1): Pip left grade II of 1 Nov 2026\n"
    )
    assert done.err == (
        "1 reading with a day and no time: kept as of the start of the day\n"
        "1 reading without an examiner: --examiner names one for all of them\n"
    )
    assert kept(own, "Pip") == [4.3, 10.3]
    again = own("import", str(table))
    assert (again.status, again.out, again.err) == (0, "no new reading; 3 readings here already\n", "")
    assert kept(own, "Pip") == [4.3, 10.3]
    assert "lunge" in own("show", "Pip").out
    assert "without a visit: 2 readings on 5 Nov 2026, all of them from a table" in own("show", "Pip").out


def test_a_dry_run_says_what_would_be_done(own: Shell, table: Path) -> None:
    done = own("import", str(table), "--dry-run", "--examiner", "ZZ")
    assert done.status == 0
    assert done.out.startswith("would add 3 readings\nnew people (2): Pip, Ode\n")
    assert done.out.endswith("nothing was written: leave --dry-run out to import it\n")
    assert "without an examiner" not in done.err
    assert kept(own, "Pip") == []
    care = own.care()
    assert care.examiner == ""
    care.close()


def test_bad_lines_are_all_listed_and_nothing_is_kept(own: Shell, table: Path) -> None:
    table.write_text(BAD, encoding="utf-8")
    done = own("import", str(table))
    assert (done.status, done.out) == (2, "")
    first, five, seven = done.err.splitlines()
    assert first.startswith(
        "bothfeet: 2 of 5 lines are bad, and nothing was imported: put them right, or add --skip"
    )
    assert five.startswith("  line 5: value: ")
    assert seven == "  line 7: measure: lunje: no measure has this name; did you mean lunge?"
    assert kept(own, "Pip") == []
    assert own("import", str(table), "--dry-run").status == 2


def test_bad_lines_are_skipped_on_purpose_and_named(own: Shell, table: Path) -> None:
    table.write_text(BAD, encoding="utf-8")
    done = own("import", str(table), "--skip-bad")
    assert done.status == 0
    assert done.out.startswith("added 3 readings\n")
    assert done.err.startswith("left out, 2 bad lines:\n  line 5: value: ")
    assert kept(own, "Ode") == [None]


def test_the_examiner_who_is_named_is_of_lines_that_name_none_and_is_kept(own: Shell, table: Path) -> None:
    own("import", str(table), "--examiner", "ZZ")
    care = own.care()
    (ode,) = people.people_labelled(care.record, "Ode")
    assert [one.examiner for one in readings.readings_of_person(care.record, ode.id)] == ["ZZ"]
    assert care.examiner == "ZZ"
    care.close()


def test_a_file_that_is_none_is_refused(own: Shell, tmp_path: Path) -> None:
    none = own("import", str(tmp_path / "none.csv"))
    assert (none.status, none.err) == (2, f"bothfeet: there is no file {tmp_path / 'none.csv'}: check the name\n")
    folder = own("import", str(tmp_path))
    assert (folder.status, folder.err) == (2, f"bothfeet: {tmp_path} is a folder: name the file in it\n")
    assert own("import").status == 2


def test_what_a_cell_holds_cannot_steer_the_terminal(own: Shell, table: Path) -> None:
    table.write_text("person,taken_at,measure,value\nA\x1b[2J,2026-11-05,pain now,3\n", encoding="utf-8")
    done = own("import", str(table))
    assert done.status == 2
    assert "\x1b" not in done.err


# progress


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_is_said_past_half_a_second_and_cleared(own: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stderr", stream := Terminal())
    with Progress(own.clock) as progress:
        progress("reading", 0, 2000)
        own.clock.move(PATIENCE_S - 0.1)
        progress("reading", 500, 2000)
        assert stream.getvalue() == ""
        own.clock.move(0.1)
        progress("reading", 1000, 2000)
        progress("reading", 1500, 2000)
        assert stream.getvalue() == "\rreading: 1,000 of 2,000"
    assert stream.getvalue().endswith("\r" + " " * len("reading: 1,000 of 2,000") + "\r")


def test_no_progress_is_said_but_on_a_terminal(own: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stderr", stream := io.StringIO())
    with Progress(own.clock) as progress:
        own.clock.move(9)
        progress("reading", 1000, 2000)
    assert stream.getvalue() == ""
