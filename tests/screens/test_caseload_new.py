"""A record that was made by the start, perhaps by a slip in its name, says so; and the help names the file."""

from __future__ import annotations

from pathlib import Path

from store.care.care import open_care
from store.knowledge.time import SetClock
from tests.helpers.fit import text_of
from tests.screens.made import NOW
from tests.screens.theatre import Theatre


async def test_a_record_that_was_just_made_says_so_with_its_path(tmp_path: Path) -> None:
    file, clock = tmp_path / "typo.sqlite", SetClock(NOW)
    care = open_care(file, clock, create=True)
    app = Theatre(care, clock, tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        shown = text_of(app)
        assert f"Anewrecord:{file}" in "".join(shown.split())  # a long path is wrapped
        assert "ctrl+q leaves this one empty" in shown
        await pilot.press("f1")
        await pilot.pause()
        assert f"Therecord:{file}" in "".join(text_of(app).split())
    app = Theatre(open_care(file, clock, create=True), clock, tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "Nobody is in this record yet" in text_of(app)
        assert "A new record" not in text_of(app)
