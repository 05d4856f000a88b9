"""A walk-run of the timer and the line that tells of it: what the bout knows, and never twice. Invented."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from store.care import run_acts
from store.care.run_timed import timed_run
from store.care.running import running_standing
from store.care.timing import begin
from store.record import bouts
from tests.care.bouts import Ward, ward


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Ward]:
    """R.K. runs by the nine rungs, today from the first one: 1:4x5, five minutes run in all."""
    found = ward(tmp_path)
    assert found.visit.episode is not None
    run_acts.plan(found.care, found.visit.episode, "mon wed fri", all_the_same=True)
    yield found
    found.care.close()


def timed(room: Ward, seconds: float, pain: int | None = None, skip_at: float | None = None) -> None:
    """The next session's rung in the timer, ended after so many seconds; an interval skipped on the way."""
    care, episode = room.care, str(room.visit.episode)
    live = begin(care, run_acts.rung_activity(care, running_standing(care, episode)), room.visit, seed=1)
    room.start(live)
    if skip_at is not None:
        room.go(live, skip_at)
        live.press()
        seconds -= skip_at
    room.go(live, seconds)
    if pain is not None:
        live.pain(pain)
    live.end()


def line(room: Ward) -> str | None:
    found = timed_run(room.care, running_standing(room.care, str(room.visit.episode)))
    return found.words if found is not None else None


def test_nothing_is_known_where_nothing_was_timed(room: Ward) -> None:
    assert line(room) is None


@pytest.mark.parametrize(
    ("seconds", "pain", "skip_at", "says"),
    [
        (1500, None, None, "1:4x5 5 min"),
        (1500, 1, None, "1:4x5 5 min pain 1"),
        (700, 3, None, '1:4x5 2 min pain 3 note "stopped early, 2 of 5 runs"'),
        (870, 4, None, '1:4x5 2.5 min pain 4 note "stopped early, 2 of 5 runs"'),
        (100, None, None, '1:4x5 note "stopped early, 0 of 5 runs"'),
        (1470, None, 270, '1:4x5 4.5 min note "4 of 5 runs whole"'),
    ],
)
def test_minutes_runs_pain_and_an_early_end_stand_in_the_line(
    room: Ward, seconds: float, pain: int | None, skip_at: float | None, says: str
) -> None:
    timed(room, seconds, pain, skip_at)
    assert line(room) == says
    run_acts.tell(room.care, str(room.visit.episode), f"{says} swelling no")
    held = running_standing(room.care, str(room.visit.episode))
    assert held.last is not None
    told = held.last[0]
    assert (told.rung, told.pain_during, told.swelling) == (1, pain, False)
    assert told.note == (says.partition('"')[2].removesuffix('"'))
    assert line(room) is None  # it is told, and is not offered again


def test_of_a_day_before_it_stands_with_its_day_and_soon_no_longer(room: Ward) -> None:
    timed(room, 1500, 0)
    room.clock.move(2 * 86_400)
    assert line(room) == "wed 1:4x5 5 min pain 0"
    run_acts.tell(room.care, str(room.visit.episode), "wed 1:4x5 5 min pain 0")
    assert line(room) is None


def test_one_that_goes_on_was_undone_or_is_long_past_is_not_offered(room: Ward) -> None:
    care = room.care
    live = begin(care, care.knowledge.activities["walk_run"], room.visit, seed=1)
    room.start(live)
    room.go(live, 600)
    assert line(room) is None
    live.end()
    assert line(room) is not None
    row = live.row
    bouts.revise_bout(care.record, row._replace(retracted=care.clock.now()), by="AB", because="taken back")
    assert line(room) is None
    timed(room, 1500)
    room.clock.move(4 * 86_400)
    assert line(room) is None


def test_other_times_than_those_of_a_rung_leave_the_planned_one(room: Ward) -> None:
    live = room.begin("walk_run", reps=2)
    room.start(live)
    room.go(live, 600)
    live.end()
    assert line(room) == "1:4x5 2 min"
