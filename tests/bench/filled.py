"""A large and a small record for the bench: invented figures, written in one transaction straight into the file.

A fixture, not the demo: the rows are well formed and many, and tell no story.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from store.knowledge.load import load
from store.knowledge.time import SetClock, Stamp
from store.knowledge.words import Episode, Moment, Person, Reading, Side, Visit
from store.record.episodes import add_episode
from store.record.file import open_record
from store.record.people import add_person
from store.record.readings import add_readings
from store.record.uuid7 import Ids
from store.record.visits import add_visit

LABEL = rb"[A-Z]{2}\d{5}"
"""What a label looks like on the screen."""

VISITS = 10
_EVERY_DAYS = 4
_BOTH = (Side.LEFT, Side.RIGHT)
_SINGLE: tuple[Side | None, ...] = (None,)
# Twenty readings a visit: measure, sides, moment, a usual value.
_TAKEN: tuple[tuple[str, tuple[Side | None, ...], Moment | None, float], ...] = (
    ("pain_now", _SINGLE, None, 2.0),
    ("pain_worst", _SINGLE, None, 4.0),
    ("pain_morning", _SINGLE, None, 1.0),
    ("pain_walk", _SINGLE, None, 1.0),
    ("confidence", _SINGLE, None, 6.0),
    ("girth", _BOTH, Moment.BEFORE, 52.0),
    ("lunge", _BOTH, Moment.BEFORE, 8.0),
    ("lunge_angle", _BOTH, Moment.BEFORE, 35.0),
    ("stance_open", _BOTH, Moment.BEFORE, 25.0),
    ("stance_closed", _BOTH, Moment.BEFORE, 9.0),
    ("heel_raise", _BOTH, Moment.BEFORE, 18.0),
    ("lunge", _BOTH, Moment.AFTER, 9.0),
    ("pain_now", _SINGLE, Moment.AFTER, 1.0),
)
READINGS_EACH = VISITS * sum(len(sides) for _, sides, _, _ in _TAKEN)


@dataclass(frozen=True, slots=True)
class Size:
    """How much a record holds. Whoever has no open episode has a closed one, without readings."""

    name: str
    people: int
    open_episodes: int

    @property
    def in_words(self) -> str:
        """The size in one line."""
        return (
            f"{self.name}: {self.people} people, {self.open_episodes} open episodes, {READINGS_EACH} readings each"
        )


LARGE = Size("large", people=10_000, open_episodes=400)
SMALL = Size("small", people=100, open_episodes=100)  # an episode each: as many as 100 people hold


def fill(path: Path, size: Size, now: datetime) -> None:
    """Make a record of this size whose last visits lie in the days before `now` (an aware time)."""
    chance = random.Random(size.people)
    started = now - timedelta(days=VISITS * _EVERY_DAYS + 20)
    clock = SetClock(started)
    with open_record(path, clock, create=True, ids=Ids(chance.getrandbits)) as record, record.write_tx():
        people = [Person(record.new_id(), _label(chance, n), str(1950 + n % 60)) for n in range(size.people)]
        episodes = [
            _episode(record.new_id(), person, n, started, is_open=n < size.open_episodes)
            for n, person in enumerate(chance.sample(people, len(people)))
        ]
        for person in people:
            add_person(record, person, by="bench")
        for episode in episodes:
            add_episode(record, episode, by="bench")
        for nth in range(VISITS):
            clock.put(started + timedelta(days=10 + nth * _EVERY_DAYS))
            for episode in episodes[: size.open_episodes]:
                visit = add_visit(record, _visit(record.new_id(), episode, clock.now()), by="bench")
                add_readings(record, list(_readings(visit, record.new_id, chance)), by="bench")


def _label(chance: random.Random, n: int) -> str:
    first, last = (chance.choice("ABCDEFGHIJKLMNOPRSTVW") for _ in range(2))
    return f"{first}{last}{n:05d}"


def _episode(episode_id: str, person: Person, n: int, opened: datetime, *, is_open: bool) -> Episode:
    return Episode(
        id=episode_id,
        person=person.id,
        side=_BOTH[n % 2],
        opened=Stamp.of(opened),
        injured_on=opened.date(),
        goal="run to the bus",
        goal_on=opened.date() + timedelta(days=120),
        closed=None if is_open else Stamp.of(opened + timedelta(days=1)),
    )


def _visit(visit_id: str, episode: Episode, at: Stamp) -> Visit:
    ended = Stamp(at.at + timedelta(minutes=28), at.offset_min)
    return Visit(visit_id, episode.person, at, episode.id, ended=ended, examiner="bench", consent=at)


def _readings(visit: Visit, new_id: Callable[[], str], chance: random.Random) -> Iterator[Reading]:
    measures = load().measures
    for minute, (name, sides, moment, usual) in enumerate(_TAKEN):
        measure = measures[name]
        for side in sides:
            value = min(max(round(usual * chance.uniform(0.8, 1.2), 1), measure.low), measure.high)
            yield Reading(
                id=new_id(),
                person=visit.person,
                measure=name,
                unit=measure.unit,
                taken=Stamp(visit.started.at + timedelta(minutes=minute), visit.started.offset_min),
                side=side,
                value=value,
                moment=moment,
                trials=(value,) * measure.counted,
                episode=visit.episode,
                visit=visit.id,
                examiner=visit.examiner,
                protocol=measure.protocol,
            )


def utc_now() -> datetime:
    """The time now; the bench runs on the machine's own clock, as the program does."""
    return datetime.now(UTC)
