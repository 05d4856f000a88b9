"""The re-sprain log: kept in a visit or after discharge, told in note, text and data, taken back."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path

import pytest

from store.care import resprain, visits
from store.care.faults import CareFault
from store.care.noting import note_of
from store.care.people import close_episode
from store.knowledge.words import Side
from store.record.amendments import amendments_of
from tests.care.begun import Begun, begun


@pytest.fixture
def now(tmp_path: Path) -> Begun:
    return begun(tmp_path)


def test_one_told_in_a_visit_stands_in_its_note(now: Begun) -> None:
    made = resprain.log(now.care, now.episode.id, "20 nov on the stairs, two days off")
    assert (made.side, made.day, made.visit) == (Side.RIGHT, date(2026, 11, 20), now.visit_id)
    says = "new sprain of the right ankle, 20 Nov 2026: on the stairs, two days off"
    assert resprain.resprain_lines(now.care, now.episode.id) == [says]
    assert says in note_of(now.care, now.visit_id).sections["subjective"].splitlines()
    (told,) = resprain.resprain_data(now.care, now.episode.id)
    assert (told["side"], told["day_on"]) == ("right", "2026-11-20")
    assert json.dumps(told)


def test_one_is_logged_after_discharge_and_the_closing_stands(now: Begun) -> None:
    visits.end_visit(now.care, now.visit)
    closed = close_episode(now.care, now.care.episode(now.episode.id))
    made = resprain.log(now.care, closed.id, "yesterday left")
    assert (made.side, made.visit) == (Side.LEFT, None)
    assert now.care.episode(closed.id) == closed
    assert "a, a new episode" in resprain.next_step_words(closed)


def test_it_is_taken_back_and_stays_in_the_file(now: Begun) -> None:
    made = resprain.log(now.care, now.episode.id, "mon")
    assert resprain.take_back(now.care, made) == "took back: new sprain of the right ankle, 23 Nov 2026"
    assert resprain.logged(now.care, now.episode.id) == ()
    (kept,) = amendments_of(now.care.record, "resprain", made.id)
    assert kept.because == "taken back by undo"


def test_what_cannot_be_is_refused_and_nothing_is_kept(now: Begun) -> None:
    with pytest.raises(CareFault, match="not after the injury of 1 Mar 2026"):
        resprain.log(now.care, now.episode.id, "1 mar")
    with pytest.raises(CareFault, match="at most 200"):
        resprain.log(now.care, now.episode.id, "mon " + "x" * 201)
    resprain.log(now.care, now.episode.id, "mon")
    with pytest.raises(CareFault, match="kept for 23 Nov 2026 already"):
        resprain.log(now.care, now.episode.id, "23 nov on the kerb")
    resprain.log(now.care, now.episode.id, "mon left")  # the other ankle is another one
    assert len(resprain.logged(now.care, now.episode.id)) == 2


@pytest.mark.parametrize(
    ("days", "says"), [(0, "new sprain left, 24 Nov"), (299, "new sprain left, 24 Nov"), (300, "24 Nov 2026")]
)
def test_in_a_head_the_year_is_told_where_it_is_long_ago(tmp_path: Path, days: int, says: str) -> None:
    now = begun(tmp_path)
    made = resprain.log(now.care, now.episode.id, "24 nov left")
    assert resprain.short_words(made, date(2026, 11, 24) + timedelta(days=days)).endswith(says)
