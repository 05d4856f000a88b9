"""A visit of an invented person in which bouts can be done, and the clock it goes by."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from store.care import visits
from store.care.care import Care
from store.care.people import EpisodeForm, new_person
from store.care.timing import LiveBout, Overrides, begin
from store.knowledge.time import SetClock
from store.knowledge.words import Grade, Side, Visit
from tests.helpers.once import new_record

NOW = datetime(2026, 11, 25, 10, 38, tzinfo=ZoneInfo("Europe/Brussels"))


@dataclass(slots=True)
class Ward:
    """R.K., a forest orienteer with a sprained right ankle, in a visit that goes on."""

    care: Care
    clock: SetClock
    visit: Visit

    def begin(self, activity: str, **overrides: Any) -> LiveBout:  # noqa: ANN401 - fields of a dose
        """A new bout, ready to start."""
        asked = Overrides(**overrides)
        return begin(self.care, self.care.knowledge.activities[activity], self.visit, overrides=asked, seed=1)

    def go(self, live: LiveBout, seconds: float) -> None:
        """Let time go by as the driver does: it ticks at least once a second."""
        while seconds > 0:
            self.clock.move(min(1.0, seconds))
            live.tick()
            seconds = round(seconds - 1.0, 9)

    def start(self, live: LiveBout) -> None:
        """Press, and let the countdown of three seconds run out."""
        self.go(live, 1)
        live.press()
        self.go(live, 3)


def ward(tmp_path: Path, **form: Any) -> Ward:  # noqa: ANN401 - fields of an episode
    """The ward in a new file."""
    clock = SetClock(NOW)
    care = new_record(tmp_path / "ward.sqlite", clock)
    asked = EpisodeForm(Side.RIGHT, grade=Grade.II, injured_on=date(2026, 11, 1), **form)
    _, episode = new_person(care, "R.K.", "1995", asked)
    assert episode is not None
    return Ward(care, clock, visits.start_visit(care, episode))
