from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

from store.care.warning import Warned, not_asked, warned
from store.knowledge.load import load
from store.knowledge.words import Episode, Person
from tests.care.bouts import Ward, ward

KNOWN = load()


def both(at: Ward) -> tuple[Episode, Person]:
    assert at.visit.episode is not None
    return at.care.episode(at.visit.episode), at.care.person(at.visit.person)


def told(activity: str, episode: Episode, person: Person, today: date = date(2026, 11, 25)) -> list[Warned]:
    return list(warned(KNOWN, KNOWN.activities[activity], episode, person, today))


def test_the_usual_cautions_stand_in_their_order_when_none_is_in_force(tmp_path: Path) -> None:
    episode, person = both(ward(tmp_path))
    found = told("mobilisation_belt", episode, person)
    usual = KNOWN.activities["mobilisation_belt"].cautions
    assert {"first_days", "growth_plates"} < set(usual)  # of an injury of weeks ago, and of somebody grown up
    assert [one.id for one in found] == [each for each in usual if each not in ("first_days", "growth_plates")]
    assert not any(one.in_force for one in found)


def test_those_in_force_come_first_with_their_reason(tmp_path: Path) -> None:
    episode, person = both(ward(tmp_path, anticoagulant=True))
    first, *rest = told("mobilisation_belt", episode, person)
    assert (first.id, first.text) == ("anticoagulants", first.says)
    assert first.says.startswith("On anticoagulants: ask first")
    assert not any(one.in_force for one in rest)


def test_what_was_answered_with_no_does_not_warn_and_what_is_not_known_does(tmp_path: Path) -> None:
    episode, person = both(ward(tmp_path))
    unknown = {
        one.id for one in told("mobilisation_belt", episode._replace(injured_on=None), person._replace(born=None))
    }
    assert {"first_days", "growth_plates", "anticoagulants", "hypermobility"} <= unknown
    asked = episode._replace(anticoagulant=False, hypermobility=False)
    found = {one.id for one in told("mobilisation_belt", asked, person)}
    assert found == unknown - {"first_days", "growth_plates", "anticoagulants", "hypermobility"}


def test_the_first_days_and_an_age_under_eighteen_put_theirs_in_force(tmp_path: Path) -> None:
    episode, person = both(ward(tmp_path))
    assert episode.injured_on is not None
    on_day = {
        days: [
            one.because for one in told("mobilisation_belt", episode, person, episode.injured_on + timedelta(days))
        ]
        for days in (0, 3, 4)
    }
    assert "day 0" in on_day[0]
    assert "day 3" in on_day[3]
    assert not any(on_day[4])
    young = person._replace(born="2009-11-26")
    assert told("hold_firm", episode, young)[0].because == "16 years old"


def test_what_the_episode_says_warns_of_any_loading_though_the_table_does_not_name_it(tmp_path: Path) -> None:
    episode, person = both(ward(tmp_path, loss_of_feeling=True))
    assert "loss_of_feeling" not in KNOWN.activities["hold_firm"].cautions
    assert told("hold_firm", episode, person)[0].id == "loss_of_feeling"


def test_what_nobody_asked_is_named_where_it_matters(tmp_path: Path) -> None:
    episode, _ = both(ward(tmp_path, anticoagulant=False))
    belt, hold = KNOWN.activities["mobilisation_belt"], KNOWN.activities["hold_firm"]
    assert not_asked(belt, episode) == ("loss of feeling", "hypermobility")
    assert not_asked(hold, episode) == ()
