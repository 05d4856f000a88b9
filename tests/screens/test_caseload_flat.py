"""Whose ankle has come to a stand has a second line in the caseload, whatever else stands there."""

from __future__ import annotations

import re
import shutil
from datetime import datetime
from pathlib import Path

import pytest

from store.care import safety
from store.care.ahead_words import RE_EXAMINE
from store.care.care import open_care
from store.care.origin import origin
from store.knowledge.time import SetClock
from store.knowledge.words import Episode, Person, Side
from store.record import episodes, people
from tests.helpers.fit import misfits, text_of
from tests.look.arriving import come_to_rest
from tests.screens.filled import Ward
from tests.screens.made import BRUSSELS, opened
from tests.screens.theatre import Theatre
from tui.widgets import commands
from tui.widgets.caseload_list import CaseloadList


@pytest.fixture
def app(tmp_path: Path) -> Ward:
    return Ward(tmp_path)


FLAT = "lunge flat: 0.1 cm a week over 22 days, re-examine"


async def test_who_has_come_to_a_stand_has_a_line_of_their_own_beside_a_referral_too(
    app: Ward, monkeypatch: pytest.MonkeyPatch
) -> None:
    stuck = app.episodes["J.V."].id
    monkeypatch.setattr("store.care.caseload.flat_words", lambda _, episode: FLAT if episode == stuck else "")
    draft = safety.answer(safety.begin(app.care, stuck), "calf_squeeze", "yes")
    safety.keep(app.care, draft)
    async with app.run_test(size=(80, 24)) as pilot:
        await come_to_rest(app, pilot)
        lines = text_of(app).splitlines()
        at = next(n for n, line in enumerate(lines) if "J.V." in line)
        assert "refer" in lines[at]
        assert lines[at + 1].strip() == FLAT
        assert misfits(app) == []
        shown = app.screen.query_one(CaseloadList)
        chosen = [offset for offset, _ in shown.jump_spots() if offset.y == at + 1 - shown.region.y]
        assert chosen == []  # nobody begins on the second line
        following = shown.rows[[row.label for row in shown.rows].index("J.V.") + 1].label
        assert following in lines[at + 2]
        await pilot.click(CaseloadList, offset=(5, at + 1 - shown.region.y))
        assert shown.chosen is not None
        assert shown.chosen.label == "J.V."


async def test_two_lines_a_person_keep_the_cursor_in_sight(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    care, clock = opened(tmp_path)
    monkeypatch.setattr("store.care.caseload.flat_words", lambda *_: FLAT)
    with care.together():
        for n in range(30):
            person = people.add_person(care.record, Person("", f"P.{n:04d}"))
            episodes.add_episode(care.record, Episode("", person.id, Side.LEFT, clock.now()))
    app = Theatre(care, clock, tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await come_to_rest(app, pilot)
        shown = app.screen.query_one(CaseloadList)
        for key in ("down",) * 29 + ("up",) * 29 + ("pagedown", "pagedown", "pageup", "ctrl+end", "ctrl+home"):
            await pilot.press(key)
            await pilot.pause()
            assert shown.chosen is not None
            assert any(shown.chosen.label in line for line in text_of(app).splitlines()), key
        await pilot.press("ctrl+end")
        await come_to_rest(app, pilot)
        lines = text_of(app).splitlines()
        at = next(n for n, line in enumerate(lines) if "P.0029" in line)
        assert FLAT in lines[at + 1]


async def test_the_invented_record_shows_who_is_flat_in_the_smallest_terminal(tmp_path: Path) -> None:
    file = tmp_path / "demo.sqlite"
    shutil.copy(Path(__file__).parents[2] / "demo.sqlite", file)
    clock = SetClock(datetime(2026, 11, 23, 9, 0, tzinfo=BRUSSELS))
    app = Theatre(open_care(file, clock), clock, tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await come_to_rest(app, pilot)
        lines = text_of(app).splitlines()
        at = next(n for n, line in enumerate(lines) if "K.F." in line)
        assert " refer" in lines[at]
        assert re.fullmatch(r" +lunge flat: [\d.]+ cm a week over \d+ days, re-examine", lines[at + 1])
        (episode,) = (row.episode for row in app.screen.query_one(CaseloadList).rows if row.label == "K.F.")
        app.open(commands.CHART, episode=episode, measure="lunge")
        await pilot.pause()
        await pilot.pause()
        assert "look again: front pinch, joint surface, glide, tendons; home days and dose (i)" in text_of(app)
        assert misfits(app) == []
        told = [
            one.says
            for section in origin(app.care, episode or "", "lunge").of_person
            for one in section.statements
        ]
        assert set(RE_EXAMINE) <= set(told)
