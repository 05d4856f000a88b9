"""A home programme of three things for the person whose right ankle was sprained, invented."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

from store.care import home, visits
from store.care.home import HomeStanding, home_standing
from store.care.home_items import new_item
from store.knowledge.home_item import HomeItem
from store.knowledge.papers import Programme
from store.knowledge.words import Visit
from tests.care.begun import Begun, begun

USUAL = ("band_mobilisation", "hold_firm", "heel_raises")


@dataclass(slots=True)
class AtHome:
    """The visit in hand, with the short ways to hand out a programme and to read what stands of it."""

    now: Begun

    @property
    def held(self) -> HomeStanding:
        return home_standing(self.now.care, self.now.episode.id)

    def item(self, activity: str) -> HomeItem:
        return new_item(self.now.care, self.now.care.knowledge.activities[activity], self.now.episode)

    def hand_out(self, *activities: str, visit: Visit | None = None) -> Programme:
        items = [self.item(each) for each in activities or USUAL]
        review = home.review_day(self.now.care, self.held)
        return home.issue(self.now.care, self.held, items, review, visit or self.now.visit)

    def days_later(self, days: int) -> None:
        """The visit ends, and another one begins so many days later."""
        if self.now.visit.ended is None:
            visits.end_visit(self.now.care, self.now.visit)
        self.now.clock.put(self.now.clock.now().local.replace(tzinfo=self.now.clock.zone) + timedelta(days=days))
        self.now.visit_id = visits.start_visit(self.now.care, self.now.episode).id


def at_home(tmp_path: Path) -> AtHome:
    return AtHome(begun(tmp_path))
