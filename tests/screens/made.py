"""An invented record for the screens, made by the acts of care under a set clock. R.K. is a forest orienteer."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from store.care import measuring, visits
from store.care.care import Care
from store.care.people import EpisodeForm, new_episode, new_person
from store.knowledge.time import SetClock
from store.knowledge.words import Episode, Grade, Side, Visit
from store.record import episodes
from tests.helpers.once import new_record, once

BRUSSELS = ZoneInfo("Europe/Brussels")
NOW = datetime(2026, 11, 25, 10, 38, tzinfo=BRUSSELS)
INJURED = date(2026, 11, 1)

COURSE = (  # days since the injury: what was typed then
    (4, ("lunge l 10.1 10.2 10.0 r 2.6 2.8 2.7", "girth l 51.0 51.1 50.9 r 53.4 53.5 53.3", "pain_now 4")),
    (9, ("lunge l 10.3 10.2 10.1 r 2.9 3.1 3.0", "girth l 51.0 51.0 51.1 r 53.0 52.9 53.1", "heel l 24 r 4")),
    (12, ("lunge l 10.2 10.2 10.2 r 3.4 3.3 3.2", "stance l 45 45 44 r 11 13 12", "pain_now 3")),
    (17, ("lunge l 10.1 10.3 10.2 r 4.0 4.2 4.1", "stance l 45 45 45 r 14 17 15", "heel l 24 r 7", "pain_now 2")),
    (22, ("lunge l 10.2 10.3 10.1 r 4.9 4.8 4.7", "girth l 51.0 51.0 51.0 r 52.2 52.2 52.2", "confidence 5")),
)


def at(day: date, hour: int = 10, minute: int = 0) -> datetime:
    """A local time on a day."""
    return datetime(day.year, day.month, day.day, hour, minute, tzinfo=BRUSSELS)


def opened(tmp_path: Path, now: datetime = NOW, examiner: str = "AB") -> tuple[Care, SetClock]:
    """An empty record, and the clock it goes by."""
    clock = SetClock(now)
    return new_record(tmp_path / "ward.sqlite", clock, examiner), clock


def take(care: Care, visit: Visit, line: str) -> None:
    """Keep one typed line in a visit."""
    subject = measuring.subject_of(care, visit)
    measuring.save(care, subject, measuring.read_line(care, subject, line))


def orienteer(care: Care, clock: SetClock) -> Episode:
    """R.K., in week 4 after a grade II sprain of the right ankle, with five visits; the clock ends as it was."""
    return once(care, ("orienteer", care.examiner), lambda: _orienteer(care, clock))


def _orienteer(care: Care, clock: SetClock) -> Episode:
    until = clock.now().local.replace(tzinfo=BRUSSELS)
    clock.put(at(INJURED + timedelta(days=3)))
    form = EpisodeForm(
        Side.RIGHT,
        grade=Grade.II,
        injured_on=INJURED,
        goal="21 km forest race",
        goal_on=date(2027, 3, 14),
        sport="orienteering",
        sprains_right=1,
        loss_of_feeling=False,
    )
    _, episode = new_person(care, "R.K.", "1995", form)
    assert episode is not None
    for days, lines in COURSE:
        clock.put(at(INJURED + timedelta(days=days)))
        visit = visits.start_visit(care, episode, planned=False)
        for line in lines:
            clock.move(60)
            take(care, visit, line)
        visits.end_visit(care, visit)
    clock.put(until)
    return episode


def ward(care: Care, clock: SetClock) -> dict[str, Episode]:
    """Half a dozen people, by label: R.K. with a course; J.V. not measured; S.L. with both ankles; P.D. closed."""
    return dict(once(care, ("ward", care.examiner, clock.now()), lambda: _ward(care, clock)))


def _ward(care: Care, clock: SetClock) -> dict[str, Episode]:
    found = {"R.K.": orienteer(care, clock)}
    for label, form in (
        ("A.O.", EpisodeForm(Side.LEFT, grade=Grade.II, injured_on=date(2026, 9, 25), goal="hockey final")),
        ("J.V.", EpisodeForm(Side.LEFT, injured_on=date(2026, 11, 23))),
        ("T.M.", EpisodeForm(Side.LEFT, grade=Grade.I, injured_on=date(2026, 11, 14), anticoagulant=True)),
        ("S.L.", EpisodeForm(Side.LEFT, grade=Grade.III, injured_on=date(2026, 9, 12), sport="fencing")),
        ("P.D.", EpisodeForm(Side.RIGHT, grade=Grade.I, injured_on=date(2026, 8, 1))),
    ):
        person, episode = new_person(care, label, "", form)
        assert episode is not None
        found[label] = episode
        if label == "S.L.":
            found["S.L. right"] = new_episode(care, person, replace(form, side=Side.RIGHT, grade=Grade.I))
    visit = visits.start_visit(care, found["A.O."], planned=False)
    take(care, visit, "heel l 15 r 24")
    take(care, visit, "lunge l 8.0 8.1 8.0 r 9.0 9.0 9.1")
    visits.end_visit(care, visit)
    closed = found["P.D."]._replace(closed=clock.now())
    found["P.D."] = episodes.revise_episode(care.record, closed, by="AB", because="discharged")
    return found
