"""The bench measures on a record that is one: rows the program itself would read and accept."""

from __future__ import annotations

import re
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from store.care.care import open_care
from store.care.caseload import caseload
from store.care.standing import standing
from store.knowledge.time import SetClock
from tests.bench.filled import LABEL, READINGS_EACH, Size, fill
from tests.terminal.peek import one, rows

NOW = datetime(2026, 11, 25, 10, tzinfo=UTC)


def test_a_filled_record_holds_what_it_says(tmp_path: Path) -> None:
    path = tmp_path / "tiny.sqlite"
    fill(path, Size("tiny", people=5, open_episodes=2), NOW)
    assert one(path, "SELECT count(*) FROM person") == 5
    assert one(path, "SELECT count(*) FROM episode WHERE closed_at IS NULL") == 2
    assert READINGS_EACH == 200
    assert rows(path, "SELECT count(*) FROM reading GROUP BY episode") == [(200,), (200,)]
    assert one(path, "SELECT max(taken_at) FROM reading") < NOW.isoformat()  # type: ignore[operator]  # it is text
    with closing(open_care(path, SetClock(NOW))) as care:
        found = caseload(care)
        assert len(found) == 2
        assert all(re.fullmatch(LABEL.decode(), row.label) for row in found)
        main = standing(care, str(found[0].episode)).main
        assert main is not None
        assert main.gap is not None
