"""A long import in a real terminal: it says how far it is, and ctrl+c leaves the record as it was."""

from __future__ import annotations

import sqlite3
import sys
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

from store.care.care import open_care
from store.knowledge.time import SetClock
from tests.terminal.driver import Terminal

BOTHFEET = Path(sys.executable).parent / "bothfeet"
LINES = 12_000
DAY = datetime(2025, 3, 1, 8, tzinfo=UTC)


def test_ctrl_c_while_it_imports_leaves_nothing_half_done(tmp_path: Path) -> None:
    record, table = tmp_path / "record.sqlite", tmp_path / "list.csv"
    open_care(record, SetClock(DAY), create=True).close()
    with table.open("w", encoding="utf-8") as file:
        file.write("person,taken_at,measure,side,value\n")
        for n in range(LINES):
            at = DAY + timedelta(minutes=n)
            file.write(f"P{n % 300},{at.isoformat()},lunge,left,{n % 100 / 10}\n")
    words: list[str | Path] = [BOTHFEET, "import", table, "--file", record]
    with Terminal(words, home=tmp_path / "home") as program:
        program.wait_for("saving: ", f" of {LINES:,}")
        program.press("ctrl+c")
        assert program.wait_exit() == 130
        assert "added" not in program.view().text
    with closing(sqlite3.connect(record)) as db:
        assert db.execute(
            "SELECT count(*) FROM (SELECT id FROM reading UNION ALL SELECT id FROM person)"
        ).fetchone() == (0,)
        assert db.execute("PRAGMA integrity_check").fetchone() == ("ok",)
