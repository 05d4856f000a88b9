"""The application with a visit of R.K. in hand, invented, and the screens that walk it."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from store.care import visits
from store.care.care import Care
from store.care.measuring import read_line, save, subject_of
from store.care.timing import begin
from store.care.visit_view import VisitView, view
from store.knowledge.time import SetClock
from store.knowledge.words import Episode, Reading
from store.record import readings
from tests.helpers.passing import passing_folder
from tests.screens.made import NOW, opened, orienteer
from tui.app import BothFeetApp
from tui.widgets import commands

NOTED = frozenset({commands.BOUT, commands.CHART, commands.SOURCE})


class VisitStage(BothFeetApp):
    """Opens a visit on the caseload. What `noted` names is only written down."""

    def __init__(self, care: Care, clock: SetClock, folder: Path, noted: set[str] | None = None) -> None:
        super().__init__(care, clock, theme="dark", log_folder=folder / "logs")
        self.set_clock = clock
        self.noted = set(NOTED if noted is None else noted)
        self.opened: list[tuple[str, dict[str, object]]] = []
        self.episode: Episode
        self.visit_id = ""
        self.then = ""
        self.arguments: dict[str, object] = {}

    def open(self, name: str, **arguments: object) -> None:
        self.opened.append((name, arguments))
        if name not in self.noted:
            super().open(name, **arguments)

    def on_mount(self) -> None:
        self.open(commands.VISIT, visit=self.visit_id)
        if self.then:
            self.open(self.then, visit=self.visit_id, **self.arguments)

    @property
    def view(self) -> VisitView:
        return view(self.care, self.visit_id)

    @property
    def kept(self) -> list[Reading]:
        return readings.readings_of_visit(self.care.record, self.visit_id)


def staged(folder: Path, now: datetime = NOW, noted: set[str] | None = None) -> VisitStage:
    """A visit of R.K. just begun, the sixth one."""
    care, clock = opened(folder, now)
    app = VisitStage(care, clock, folder, noted)
    app.episode = orienteer(care, clock)
    app.visit_id = visits.start_visit(care, app.episode).id
    return app


def fresh() -> VisitStage:
    """For a look at the screen as it opens."""
    return staged(passing_folder())


def lunge() -> VisitStage:
    """For a look at trial by trial."""
    app = fresh()
    app.then, app.arguments = commands.TRIALS, {"measure": "lunge"}
    return app


def line() -> VisitStage:
    """For a look at one line."""
    app = fresh()
    app.then = commands.LINE
    return app


def pick() -> VisitStage:
    """For a look at the choice of timers."""
    app = fresh()
    app.then = commands.PICK
    return app


def late() -> VisitStage:
    """For a look at a visit whose re-test is in, with a bout kept paused and too little time."""
    app = fresh()
    care, visit = app.care, app.care.visit(app.visit_id)
    visits.said(care, visit, "pain 2 worst 4 morning 1 gaveway 0 home 5/7 consent y")
    for line in ("lunge l 10.2 10.3 10.1 r 4.8 4.9 4.7", "lunge l 10.2 10.3 10.1 r 6.8 6.9 6.7"):
        subject = subject_of(care, visit)
        save(care, subject, read_line(care, subject, line))
        app.set_clock.move(300)
    live = begin(care, care.knowledge.activities["mobilisation_belt"], visit)
    live.press()
    for _ in range(80):
        app.set_clock.move(1)
        live.tick()
    live.leave()
    app.set_clock.move(600)
    return app
