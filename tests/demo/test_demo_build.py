"""The invented record is made by the acts of care, is whole, says that it is invented, and can be made again."""

from __future__ import annotations

import ast
import sqlite3
import subprocess
import sys
from collections import Counter
from datetime import UTC, date, datetime, timedelta, timezone
from itertools import pairwise
from pathlib import Path

import pytest

import store.demo
from store.care.care import Care, open_care
from store.care.caseload import everybody
from store.care.invented import INVENTED, is_invented
from store.care.keeping import check
from store.demo import build
from store.knowledge.time import SetClock, Stamp
from store.record.backup import copy
from store.record.faults import RecordFault
from store.record.visits import visits_of_person
from tests.demo.conftest import MONDAY
from tests.demo.dump import content, pragma
from tests.house.files import ROOT

KEPT = ROOT / "demo.sqlite"


def test_the_same_day_gives_the_same_content(built: Path, tmp_path: Path) -> None:
    build(tmp_path / "again.sqlite", MONDAY)
    assert content(tmp_path / "again.sqlite") == content(built)


def test_the_file_at_the_top_is_the_build_of_its_monday(built: Path) -> None:
    fresh, kept = content(built), content(KEPT)
    wrong = [table for table in fresh if fresh[table] != kept.get(table)]
    assert not wrong, "make it again: rm demo.sqlite; python -m store.demo demo.sqlite 2026-11-23"


def test_the_file_at_the_top_is_one_file_for_any_tool() -> None:
    assert pragma(KEPT, "journal_mode") == "delete"
    assert not list(KEPT.parent.glob("demo.sqlite-*"))


def test_the_record_is_whole(built: Path) -> None:
    assert check(built) == ()


def test_it_says_that_it_is_invented(care: Care, tmp_path: Path) -> None:
    assert is_invented(care)
    rows = care.record.db.execute(
        "SELECT DISTINCT examiner FROM reading UNION SELECT DISTINCT examiner FROM visit"
    )
    assert rows.fetchall() == [(INVENTED,)]
    own = open_care(tmp_path / "own.sqlite", care.clock, create=True)
    assert not is_invented(own)
    own.close()


def test_nobody_comes_on_a_weekend_or_after_today(care: Care) -> None:
    visits = [visit for row in everybody(care) for visit in visits_of_person(care.record, row.person)]
    assert visits
    assert all(visit.started.on.weekday() < 5 for visit in visits)
    assert all(visit.ended is not None and visit.ended <= care.clock.now() for visit in visits)


def test_no_two_visits_overlap(care: Care) -> None:
    people = {row.person for row in everybody(care)}
    visits = sorted(
        (visit for person in people for visit in visits_of_person(care.record, person)),
        key=lambda one: one.started,
    )
    for earlier, later in pairwise(visits):
        assert earlier.ended is not None
        assert earlier.ended <= later.started


def test_time_runs_forward_through_all_that_is_kept(care: Care) -> None:
    for table in ("visit", "reading", "bout", "episode"):
        revised = [row[0] for row in care.record.db.execute(f"SELECT revised_at FROM {table} ORDER BY revision")]
        assert revised == sorted(revised)


@pytest.mark.parametrize(
    ("weekday", "offset_min"), [(0, 60), (1, -480), (2, 0), (3, 330), (4, 60), (5, -480), (6, 765)]
)
def test_any_day_will_do(tmp_path: Path, weekday: int, offset_min: int) -> None:
    """Soon after midnight, too, when whoever came last was seen before it."""
    local = datetime(2027, 2, 1 + weekday, 0, 20, tzinfo=timezone(timedelta(minutes=offset_min)))
    path = tmp_path / "demo.sqlite"
    build(path, Stamp.of(local))
    care = open_care(path, SetClock(local))
    assert len(everybody(care)) == 19
    last = care.record.db.execute("SELECT max(coalesce(ended_at, started_at)) FROM visit").fetchone()[0]
    assert last <= care.clock.now().text
    care.close()


def test_what_stands_already_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "mine.sqlite"
    path.write_bytes(b"mine")
    with pytest.raises(RecordFault, match="is there already and stays as it is"):
        build(path, MONDAY)
    assert path.read_bytes() == b"mine"


def test_a_build_that_fails_leaves_nothing(tmp_path: Path) -> None:
    with pytest.raises(RecordFault):
        build(tmp_path / "nowhere" / "demo.sqlite", MONDAY)
    assert list(tmp_path.iterdir()) == []


def test_no_disk_is_waited_for_before_it_is_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is built stands in memory: the one thing written is the copy."""
    files: set[str] = set()

    def copied(db: sqlite3.Connection, to: Path) -> None:
        files.update(row[2] for row in db.execute("PRAGMA database_list"))
        assert list(tmp_path.iterdir()) == []
        copy(db, to)

    monkeypatch.setattr("store.demo.telling.copy", copied)
    build(tmp_path / "demo.sqlite", MONDAY)
    assert files == {""}
    assert pragma(tmp_path / "demo.sqlite", "journal_mode") == "delete"
    assert check(tmp_path / "demo.sqlite") == ()


def test_only_its_owner_may_read_it(built: Path) -> None:
    assert built.stat().st_mode & 0o077 == 0


def test_a_module_run_by_name_builds_the_day_it_is_given(built: Path, tmp_path: Path) -> None:
    words = [sys.executable, "-m", "store.demo", str(tmp_path / "x.sqlite"), MONDAY.isoformat()]
    for status in (0, 2):  # the second time the file stands already
        done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, timeout=60)
        assert done.returncode == status, done.stderr
    assert "is there already" in done.stderr
    assert "Traceback" not in done.stderr
    assert content(tmp_path / "x.sqlite") == content(built)


def test_no_story_writes_rows_by_itself() -> None:
    """Stories and hands import the acts of care and plain values, but nothing that writes to the record."""
    folder = Path(store.demo.__file__).parent
    imported: Counter[str] = Counter()
    for path in folder.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("store.record"):
                imported.update(f"{node.module}:{alias.name}" for alias in node.names)
    # to begin a record, to name its ids, to copy it when it is whole; no function that adds or amends a row
    assert set(imported) == {
        "store.record.backup:copy",
        "store.record.faults:FaultKind",
        "store.record.faults:RecordFault",
        "store.record.faults:fault",
        "store.record.file:open_in_memory",
        "store.record.uuid7:Ids",
    }


def test_a_day_alone_means_its_noon(built: Path, tmp_path: Path) -> None:
    build(tmp_path / "noon.sqlite", Stamp.of(datetime(2026, 11, 23, 12, 0, tzinfo=UTC)))
    assert content(tmp_path / "noon.sqlite") == content(built)
    assert date(2026, 11, 23) == MONDAY
