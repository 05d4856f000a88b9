"""A person whose right ankle was sprained, invented, with a visit begun under a set clock."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from store.care import measuring, visits
from store.care.care import Care
from store.care.measuring import Saved
from store.care.people import EpisodeForm, new_person
from store.care.timing import LiveBout, begin
from store.care.visit_view import VisitView, view
from store.knowledge.time import SetClock
from store.knowledge.words import Episode, Reading, Side, Visit
from store.record import readings
from tests.screens.made import NOW, opened


@dataclass(slots=True)
class Begun:
    """A visit in hand, with the short ways to act in it."""

    care: Care
    clock: SetClock
    episode: Episode
    visit_id: str

    @property
    def visit(self) -> Visit:
        return self.care.visit(self.visit_id)

    @property
    def view(self) -> VisitView:
        return view(self.care, self.visit_id)

    @property
    def kept(self) -> list[Reading]:
        return readings.readings_of_visit(self.care.record, self.visit_id)

    def line(self, text: str) -> Saved:
        subject = measuring.subject_of(self.care, self.visit)
        return measuring.save(self.care, subject, measuring.read_line(self.care, subject, text))

    def says(self, text: str) -> None:
        visits.said(self.care, self.visit, text)

    def bout(self, activity: str) -> LiveBout:
        return begin(self.care, self.care.knowledge.activities[activity], self.visit)

    def line_of(self, step: str) -> tuple[str, bool]:
        """What a line of the plan says, and whether it is done."""
        shown = next(shown for shown in self.view.lines if shown.line.step.id == step)
        return shown.says, shown.line.done


def begun(tmp_path: Path, now: datetime = NOW, side: Side = Side.RIGHT) -> Begun:
    care, clock = opened(tmp_path, now)
    _, episode = new_person(care, "R.K.", "1995", EpisodeForm(side, injured_on=date(2026, 3, 1)))
    assert episode is not None
    visit = visits.start_visit(care, episode)
    return Begun(care, clock, episode, visit.id)


def walked(live: LiveBout, clock: SetClock, seconds: float = 30) -> LiveBout:
    """A bout that has been started and run for a while."""
    live.press()
    for _ in range(int(seconds)):
        clock.move(1)
        live.tick()
    return live
