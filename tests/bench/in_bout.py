"""The program in a pseudo-terminal with a bout under way, reached by keys only."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from pathlib import Path

from tests.bench.place import Place
from tests.terminal.driver import Terminal
from tests.terminal.view import View

ACTIVITY = "mobilisation, belt"
PHASE_S = 2.0  # each of its phases, as its dose stands in the table
COUNTDOWN_S = 3
_LINES_BEFORE = 3  # of the plan: what has changed, the safety screen, the lunge
_ASKS = "space again goes on"
_HELD_S = 0.8  # a press so soon after the screen opened counts as the one before, still held
_OPEN = "SELECT label FROM episode JOIN person ON person.id = person WHERE closed_at IS NULL ORDER BY episode.id"


class Bouts:
    """A copy of the large record in which each bout is another person's."""

    def __init__(self, place: Place, name: str) -> None:
        self._place = place
        self.file = place.folder / f"{name}.sqlite"
        shutil.copyfile(place.large, self.file)
        with closing(_read_only(self.file)) as connection:
            self._labels: Iterator[str] = iter([row[0] for row in connection.execute(_OPEN)])

    @contextmanager
    def begun(self, sounding: str = "") -> Iterator[Terminal]:
        """A program whose bout has just been started and counts down; with sound where a place is named."""
        label = next(self._labels)
        place = self._place
        started = place.sounding(sounding, self.file) if sounding else place.bothfeet(self.file)
        with started as terminal:
            terminal.wait_for("open,")
            terminal.type(label)
            terminal.wait_until(lambda view: _rows(view) == 1, what=f"only {label}")
            terminal.press("f8")
            terminal.wait_for(ACTIVITY)
            for _ in range(_LINES_BEFORE):
                terminal.press("down")
            terminal.wait_until(
                lambda view: ACTIVITY in view.line_with("▸"), what="the cursor on the mobilisation"
            )
            terminal.press("enter")
            terminal.wait_until(
                lambda view: "space start" in view.text or _ASKS in view.text,
                what="the timer, or what is asked first",
            )
            if _ASKS in terminal.view().text:  # somebody under 18: the step is asked about once
                terminal.watch(_HELD_S)  # a second tap is no answer
                terminal.press("space")
            terminal.wait_for("space start")
            terminal.watch(_HELD_S)
            terminal.press("space")
            yield terminal

    def last_start(self) -> datetime:
        """When the newest bout was started, as its record says."""
        sql = "SELECT wall_at FROM bout_event WHERE kind = 'set_started' ORDER BY bout DESC, seq LIMIT 1"
        with closing(_read_only(self.file)) as connection:
            return datetime.fromisoformat(connection.execute(sql).fetchone()[0])


def _rows(view: View) -> int:
    return sum("not yet graded" in line for line in view.lines)


def _read_only(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)
