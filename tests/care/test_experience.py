"""The forecast learns from this file's own closed episodes, and says from how many."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from math import exp
from pathlib import Path

import pytest

from store.care import visits
from store.care.ahead_origin import expected
from store.care.care import Care
from store.care.experience import prior_of
from store.care.measuring import read_line, save, subject_of
from store.care.people import EpisodeForm, new_person
from store.care.standing import standing
from store.knowledge.time import SetClock
from store.knowledge.words import Side
from store.reckon.prior import DEFAULT
from store.record import episodes
from tests.screens.made import opened

DAY = 86_400


@pytest.fixture
def room(tmp_path: Path) -> Iterator[tuple[Care, SetClock]]:
    care, clock = opened(tmp_path)
    yield care, clock
    care.close()


def course(care: Care, clock: SetClock, label: str, constant: float, *, closed: bool = True) -> str:
    """Somebody's readings over six weeks, closed at the end."""
    injured = clock.now().on
    _, episode = new_person(care, label, "1995", EpisodeForm(Side.RIGHT, injured_on=injured))
    assert episode is not None
    for _ in range(7):
        clock.move(6 * DAY)
        day = (clock.now().on - injured).days
        visit = visits.start_visit(care, episode)
        subject = subject_of(care, visit)
        save(care, subject, read_line(care, subject, f"lunge 11.0 {11 - 5 * exp(-day / constant):.1f}"))
        visits.end_visit(care, care.visit(visit.id))
    if closed:
        now = clock.now()
        kept = care.episode(episode.id)
        episodes.revise_episode(care.record, kept._replace(closed=now), by="AB", because="discharged")
    clock.move(int(timedelta(days=1).total_seconds()))
    return episode.id


def test_a_file_without_closed_episodes_has_the_programs_prior(room: tuple[Care, SetClock]) -> None:
    care, _ = room
    assert prior_of(care, care.knowledge.measures["lunge"]) == DEFAULT
    assert prior_of(care, care.knowledge.measures["pain_now"]) == DEFAULT


def test_closed_episodes_teach_and_are_counted(room: tuple[Care, SetClock]) -> None:
    care, clock = room
    for number in range(6):
        course(care, clock, f"P.{number}", 50.0)
    current = course(care, clock, "R.K.", 50.0, closed=False)
    prior = prior_of(care, care.knowledge.measures["lunge"])
    assert prior.learned_from == 6
    held = standing(care, current)
    told = expected(care, held, held.of("lunge"))
    assert any("learned in part from 6 closed episodes of this file" in one.says for one in told.statements)
    assert any("proven on simulated recoveries only" in one.known for one in told.statements)
