"""Every sentence that a bout can say stands whole in the room it has, at 80 columns and at the least of 60."""

from __future__ import annotations

import pytest

from store.bout.events import Event, Kind
from store.bout.pauses import pause
from store.bout.plan import BoutPlan
from store.bout.state import Mode, SetResult, State, opening
from store.bout.view import View, look
from store.care.live_bout import ELSEWHERE
from tests.bout.player import GLIDES, HOLD, STANCE
from tui.screens.bout_lines import ask_lines, sets_line

PAUSES: tuple[tuple[Kind, dict[str, int]], ...] = (
    (Kind.STOPPED, {}), (Kind.PAUSE, {}), (Kind.PAUSE, {"pain": 10}), (Kind.LEAVE, {}),
    (Kind.GAP, {"ms": 36_000_000}), (Kind.INTERRUPTED, {}), (Kind.INTERRUPTED, {"taken": True}),
)  # fmt: skip
MARGIN = 4  # columns beside the stage
ROOM = 4  # lines under the giant word


def paused(plan: BoutPlan, kind: Kind, data: dict[str, int]) -> View:
    """The bout paused by this event in the middle of its first set."""
    working: State = opening(plan)._replace(mode=Mode.WORKING)
    return look(plan, pause(plan, working, Event(1, kind, 1000, dict(data))), 1000)


@pytest.mark.parametrize("columns", [60, 80])
@pytest.mark.parametrize("slow", [False, True])
@pytest.mark.parametrize("plan", [GLIDES, STANCE, HOLD], ids=lambda plan: plan.kind)
@pytest.mark.parametrize(("kind", "data"), PAUSES)
def test_every_pause_is_told_whole(
    kind: Kind, data: dict[str, int], plan: BoutPlan, slow: bool, columns: int
) -> None:
    advice = "stop this technique" if plan.painless else ""
    view = paused(plan, kind, data)._replace(advice=advice)
    told = ask_lines(view, columns - MARGIN, slow=slow)
    assert view.sentence
    assert view.sentence in " ".join(line.plain for line in told)
    assert all(line.cell_length <= columns - MARGIN for line in told)
    assert len(told) <= ROOM


def test_what_a_bout_that_was_taken_over_says_fits_on_two_lines() -> None:
    view = paused(STANCE, Kind.PAUSE, {})._replace(sentence=ELSEWHERE)
    assert len(ask_lines(view, 56)) <= 2


@pytest.mark.parametrize(
    ("pain", "width", "graded"), [(None, 76, True), (2, 76, False), (2, 110, True), (None, 56, False)]
)
def test_the_sets_of_a_hold_stand_on_one_line_with_control_by_its_name_where_there_is_room(
    pain: int | None, width: int, graded: bool
) -> None:
    done = tuple(
        SetResult(turn, side, turn, faults=turn, pain=pain, control=3, complete=True)
        for side in HOLD.sides
        for turn in (1, 2, 3)
    )
    line = sets_line(HOLD, look(HOLD, opening(HOLD), 0)._replace(done=done), width)
    assert line.cell_length <= width
    assert ("control 3 3 3" in line.plain) is graded
    assert line.plain.count("pain 2 2 2") == (2 if pain else 0)
    assert line.plain.split()[:5] == ["faults", "left", "1", "2", "3"]
