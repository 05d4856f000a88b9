"""What was asked is put right later, an episode closed and opened again; each can be undone."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from store.care import correcting, measuring, visits
from store.care.addressing import address
from store.care.care import Care, open_care
from store.care.correcting import correct, form_of, open_again, undo
from store.care.faults import CareFault
from store.care.people import EpisodeForm, close_episode, new_episode, new_person
from store.care.undoing import newest
from store.knowledge.time import SetClock
from store.knowledge.words import Episode, Grade, Person, Side
from store.record import amendments
from store.record.faults import RecordFault
from store.record.file import open_record
from tests.record.later import be_version_six
from tests.screens.made import NOW, opened


@pytest.fixture
def room(tmp_path: Path) -> Iterator[tuple[Care, SetClock, Person, Episode]]:
    care, clock = opened(tmp_path)
    person, episode = new_person(care, "R.K.", "1995", EpisodeForm(Side.RIGHT, goal="a race"))
    assert episode is not None
    with closing(care):
        yield care, clock, person, episode


Room = tuple[Care, SetClock, Person, Episode]


def test_every_field_is_put_right_and_the_original_stays_in_the_file(room: Room) -> None:
    care, _, person, episode = room
    form = EpisodeForm(
        Side.LEFT, "syndesmosis", Grade.II, date(2026, 11, 1), "the stairs", date(2027, 2, 1), "fencing", "club",
        1, 2, True, False, None, "tape",
    )  # fmt: skip
    now, asked = correct(care, person, episode, "R.L.", "1996-02-03", form)
    assert (care.person(person.id), care.episode(episode.id)) == (now, asked)
    assert (now.label, now.born, form_of(asked)) == ("R.L.", "1996-02-03", form)
    (was,) = amendments.amendments_of(care.record, "episode", episode.id)
    assert (was.was["side"], was.was["goal"], was.by) == ("right", "a race", care.examiner)
    assert was.because == "corrected, with the person"
    (of_person,) = amendments.amendments_of(care.record, "person", person.id)
    assert (of_person.was["label"], of_person.was["born"]) == ("R.K.", "1995")


def test_a_grade_is_given_later_and_taken_back(room: Room) -> None:
    care, _, person, episode = room
    correct(care, person, episode, "R.K.", "1995", replace(form_of(episode), grade=Grade.III))
    assert care.episode(episode.id).grade is Grade.III
    assert undo(care, episode) == "took back the correction of grade"
    assert care.episode(episode.id).grade is None
    with pytest.raises(CareFault, match="nothing to undo here today"):
        undo(care, episode)


def test_undo_goes_back_one_correction_after_another_and_takes_the_person_with_it(room: Room) -> None:
    care, _, person, episode = room
    form = form_of(episode)
    person2, episode2 = correct(care, person, episode, "A", "", replace(form, goal="one"))
    correct(care, person2, episode2, "A", "", replace(form, goal="two"))
    assert undo(care, episode) == "took back the correction of goal"
    assert care.episode(episode.id).goal == "one"
    assert undo(care, episode) == "took back the correction of label, born, goal"
    assert care.episode(episode.id).goal == "a race"
    assert (care.person(person.id).label, care.person(person.id).born) == ("R.K.", "1995")
    assert len(amendments.amendments_of(care.record, "episode", episode.id)) == 4


OF_SIX = """INSERT INTO person (id, label, revision, revised_at, revised_offset_min)
  VALUES ('p', 'R.K.', '0', '2026-11-25T09:00:00.000Z', 60);
INSERT INTO episode (id, person, side, opened_at, opened_on, opened_offset_min, structure, goal, main_measure,
  revision, revised_at, revised_offset_min) VALUES ('e', 'p', 'right', '2026-11-25T09:00:00.000Z', '2026-11-25',
  60, 'lateral ligament', 'one', 'lunge', '0', '2026-11-25T09:00:00.000Z', 60);
UPDATE episode SET goal = 'two', revision = '00', revised_because = 'corrected';
UPDATE episode SET goal = 'three', revision = '000', revised_because = 'corrected';"""


def test_what_was_amended_before_there_was_a_column_is_taken_back_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In a file of version 6 nobody could name whom a letter goes to."""
    path, clock = tmp_path / "six.sqlite", SetClock(NOW)
    with monkeypatch.context() as patched:
        be_version_six(patched)
        with open_record(path, clock, create=True) as old:
            old.db.executescript(OF_SIX)
    with closing(open_care(path, clock, examiner="AB")) as care:
        episode = care.episode("e")
        assert (episode.letter_to, episode.goal) == (None, "three")
        assert undo(care, episode) == "took back the correction of goal"
        assert undo(care, episode) == "took back the correction of goal"
        assert care.episode("e").goal == "one"


def test_whom_a_letter_goes_to_is_amended_and_stands_when_a_correction_is_taken_back(room: Room) -> None:
    care, _, person, episode = room
    correct(care, person, episode, "R.K.", "1995", replace(form_of(episode), goal="one"))
    assert address(care, episode.id, " the\nclub's  doctor ") == "the club's doctor"
    assert amendments.amendments_of(care.record, "episode", episode.id)[-1].because == "whom the letter goes to"
    assert address(care, episode.id, "the club's doctor")
    assert len(amendments.amendments_of(care.record, "episode", episode.id)) == 2
    assert undo(care, episode) == "took back the correction of goal"
    assert (care.episode(episode.id).goal, care.episode(episode.id).letter_to) == ("a race", "the club's doctor")
    care.settings = care.settings._replace(letter_to="Dr N. N.")
    address(care, episode.id, "Dr N. N.")  # as the settings say, whatever they say later
    assert care.episode(episode.id).letter_to is None
    with pytest.raises(CareFault, match="at most 120 characters"):
        address(care, episode.id, "x" * 121)


def test_a_label_alone_is_put_right_and_taken_back(room: Room) -> None:
    care, _, person, episode = room
    correct(care, person, episode, "B", "1995", form_of(episode))
    assert amendments.amendments_of(care.record, "episode", episode.id) == []
    assert undo(care, episode) == "took back the correction of label"
    assert care.person(person.id).label == "R.K."


def test_what_was_linked_since_stands_when_a_correction_is_taken_back(room: Room) -> None:
    care, _, person, episode = room
    correct(care, person, episode, "R.K.", "1995", replace(form_of(episode), goal="one"))
    other = new_episode(care, person, EpisodeForm(Side.LEFT))
    undo(care, episode)
    back = care.episode(episode.id)
    assert (back.goal, back.linked_episode) == ("a race", other.id)


def test_nothing_of_another_day_is_taken_back(room: Room) -> None:
    care, clock, person, episode = room
    correct(care, person, episode, "R.K.", "1995", replace(form_of(episode), goal="one"))
    clock.move(24 * 3600)
    with pytest.raises(CareFault, match="nothing to undo here today"):
        undo(care, episode)


def test_another_window_changed_it_meanwhile(room: Room) -> None:
    care, clock, person, episode = room
    with closing(open_care(care.record.path, clock)) as second:
        correct(second, person, episode, "R.K.", "1995", replace(form_of(episode), goal="theirs"))
    with pytest.raises(RecordFault, match="changed in another window meanwhile"):
        correct(care, person, episode, "mine", "1995", replace(form_of(episode), goal="mine"))
    assert (care.person(person.id).label, care.episode(episode.id).goal) == ("R.K.", "theirs")


def test_the_side_stays_once_something_was_measured(room: Room) -> None:
    care, _, person, episode = room
    visit = visits.start_visit(care, episode)
    subject = measuring.subject_of(care, visit)
    measuring.save(care, subject, measuring.read_line(care, subject, "lunge l 10 10 10 r 5 5 5"))
    with pytest.raises(CareFault, match="the side stays right: something was measured"):
        correct(care, person, episode, "R.K.", "1995", replace(form_of(episode), side=Side.LEFT))
    assert care.episode(episode.id) == episode


def test_the_side_stays_where_the_other_ankle_has_an_episode(room: Room) -> None:
    care, _, person, episode = room
    new_episode(care, person, EpisodeForm(Side.LEFT))
    now = care.episode(episode.id)
    with pytest.raises(CareFault, match="the left ankle has an episode of its own"):
        correct(care, person, now, "R.K.", "1995", replace(form_of(now), side=Side.LEFT))


@pytest.mark.parametrize(
    ("born", "injured", "says"),
    [
        ("2026-11-10", date(2026, 11, 1), "before birth"),
        ("1995", date(2026, 12, 1), "lies in the future"),
        ("2030", None, "lies in the future"),
    ],
)
def test_what_cannot_be_is_refused(room: Room, born: str, injured: date | None, says: str) -> None:
    care, _, person, episode = room
    with pytest.raises(CareFault, match=says):
        correct(care, person, episode, "R.K.", born, replace(form_of(episode), injured_on=injured))
    assert (care.person(person.id), care.episode(episode.id)) == (person, episode)


def test_an_injury_after_the_first_contact_is_refused(room: Room) -> None:
    care, clock, person, episode = room
    clock.move(5 * 24 * 3600)
    late = episode.opened.on + timedelta(days=2)
    with pytest.raises(CareFault, match="after the first contact on 25 Nov 2026"):
        correct(care, person, episode, "R.K.", "1995", replace(form_of(episode), injured_on=late))


def test_closed_opened_again_and_both_taken_back(room: Room) -> None:
    care, _, _, episode = room
    closed = close_episode(care, episode, reason="moved away")
    assert amendments.amendments_of(care.record, "episode", episode.id)[-1].because == "moved away"
    assert open_again(care, closed).closed is None
    assert undo(care, episode) == "took back the opening again"
    assert care.episode(episode.id).closed == closed.closed
    assert undo(care, episode) == "took back the closing"
    assert care.episode(episode.id).closed is None


def test_an_episode_of_that_ankle_opened_since_keeps_the_earlier_one_closed(room: Room) -> None:
    care, clock, person, episode = room
    closed = close_episode(care, episode)
    clock.move(60)
    new_episode(care, person, EpisodeForm(Side.RIGHT))
    with pytest.raises(CareFault, match="another episode of the right ankle was opened on 25 Nov 2026"):
        open_again(care, closed)
    with pytest.raises(CareFault, match="another episode of the right ankle"):
        undo(care, closed)
    assert care.episode(episode.id).closed is not None


def test_a_day_of_closing_is_no_earlier_than_the_last_visit_and_not_in_the_future(room: Room) -> None:
    care, clock, _, episode = room
    visits.start_visit(care, episode)
    clock.move(5 * 24 * 3600)
    with pytest.raises(CareFault, match="something was done in this episode on 2026-11-25"):
        close_episode(care, episode, date(2026, 11, 24))
    with pytest.raises(CareFault, match="lies in the future"):
        close_episode(care, episode, date(2026, 12, 24))
    closed = close_episode(care, episode, date(2026, 11, 27))
    assert closed.closed is not None
    assert closed.closed.on == date(2026, 11, 27)
    assert visits.open_visit(care, closed) is None


def test_the_newest_of_a_visit_and_of_a_correction_can_be_told_apart(room: Room) -> None:
    care, _, person, episode = room
    visit = visits.start_visit(care, episode)
    visits.said(care, visit, "pain 2")
    correct(care, person, episode, "R.K.", "1995", replace(form_of(episode), goal="one"))
    act = correcting.newest(care, episode)
    assert act is not None
    assert act.revision > newest(care, care.visit(visit.id))
    visits.said(care, care.visit(visit.id), "pain 3")
    assert act.revision < newest(care, care.visit(visit.id))
