"""Episodes come back whole, and the caseload is in the order of labels."""

from __future__ import annotations

from datetime import date

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import Episode, Grade, Person, Side
from store.record import episodes
from store.record.faults import RecordFault
from store.record.file import Record
from store.record.people import add_person
from store.record.text import fold


@pytest.fixture
def whole(person: Person, clock: SetClock) -> Episode:
    """An episode with every field filled."""
    return Episode(
        id="",
        person=person.id,
        side=Side.LEFT,
        opened=clock.now(),
        structure="syndesmosis",
        grade=Grade.II,
        injured_on=date(2026, 11, 20),
        goal="21 km forest race",
        goal_on=date(2027, 3, 14),
        sport="orienteering",
        level="club",
        sprains_left=2,
        sprains_right=0,
        anticoagulant=False,
        loss_of_feeling=True,
        hypermobility=None,
        brace="lace-up",
        main_measure="lunge_angle",
        closed=clock.now(),
    )


def test_an_episode_comes_back_as_added(record: Record, whole: Episode) -> None:
    kept = episodes.add_episode(record, whole)
    assert kept == whole._replace(id=kept.id, revision=kept.revision)
    assert episodes.episode(record, kept.id) == kept
    assert episodes.episode(record, "no such") is None


def test_the_caseload_is_by_label_and_paged(record: Record, clock: SetClock) -> None:
    for label in ("b", "A", "c", "B"):
        someone = add_person(record, Person("", label))
        episodes.add_episode(record, Episode("", someone.id, Side.LEFT, clock.now()))
    listed = episodes.open_episodes(record)
    assert [person.label for person, _ in listed] == ["A", "B", "b", "c"]
    assert all(episode.person == person.id for person, episode in listed)
    assert episodes.open_episodes(record, limit=2, offset=1) == listed[1:3]
    assert episodes.open_episodes(record, find="B") == listed[1:3]
    assert episodes.count_open(record) == 4


@pytest.mark.parametrize(
    "find",
    ["a", "A", "å", "o", "%", "_", "\\", "a%c", "a_c", "z", "ss", "ß", "'", "b\0", "x" * 60_000, "%" * 9_999],
)
def test_a_label_is_found_by_each_of_its_letters_and_by_no_pattern(
    record: Record, clock: SetClock, find: str
) -> None:
    labels = ["abc", "A%C", "a_c", "Åse", "Straße", "a\\b", "O'B", "ab\0c", "z" * 300, "%" * 9_999]
    someone = [add_person(record, Person("", label)) for label in labels]
    held = {label for label in labels if fold(find) in fold(label)}
    assert {one.label for one in episodes.without_episode(record, find=find)} == held
    for each in someone:
        episodes.add_episode(record, Episode("", each.id, Side.LEFT, clock.now()))
    assert {one.label for one, _ in episodes.open_episodes(record, find=find)} == held
    for _, one in episodes.open_episodes(record):
        episodes.revise_episode(record, one._replace(closed=clock.now()), by="AB", because="discharged")
    assert {one.label for one, _ in episodes.closed_episodes(record, find=find)} == held


def test_closing_moves_an_episode_from_one_list_to_the_other(
    record: Record, person: Person, episode: Episode, clock: SetClock
) -> None:
    closed = episodes.revise_episode(record, episode._replace(closed=clock.now()), by="AB", because="discharged")
    assert episodes.open_episodes(record) == []
    assert episodes.count_open(record) == 0
    assert episodes.closed_episodes(record) == [(person, closed)]
    assert episodes.closed_episodes(record, find="x") == []


def test_two_injured_ankles_are_linked_with_each_other(record: Record, person: Person, episode: Episode) -> None:
    second = episodes.add_episode(record, Episode("", person.id, Side.LEFT, episode.opened))
    linked = episodes.link_episodes(record, episode.id, second.id, by="AB", because="both injured")
    assert [one.linked_episode for one in linked] == [second.id, episode.id]
    assert episodes.episodes_of_person(record, person.id) == list(linked)


def test_only_left_and_right_of_one_person_are_linked(record: Record, episode: Episode) -> None:
    someone = add_person(record, Person("", "T.M."))
    theirs = episodes.add_episode(record, Episode("", someone.id, Side.LEFT, episode.opened))
    same = episodes.add_episode(record, Episode("", episode.person, Side.RIGHT, episode.opened))
    for other in (theirs.id, same.id, "no such"):
        with pytest.raises(RecordFault, match="left and right"):
            episodes.link_episodes(record, episode.id, other, by="AB", because="both injured")
    assert episodes.episode(record, episode.id) == episode


@pytest.mark.parametrize(
    ("column", "value", "rule"),
    [
        ("side", "both", "side is left or right"),
        ("grade", "IV", "grade is I or II or III"),
        ("injured_on", "2026-02-30", "injured_on is a date"),
        ("sprains_left", -1, "sprains_left is a count"),
        ("hypermobility", 2, "hypermobility is 1 for yes or 0 for no"),
        ("opened_on", "2026-11-24", "local date fit"),
    ],
)
def test_the_file_itself_refuses_what_cannot_be(
    record: Record, episode: Episode, column: str, value: object, rule: str
) -> None:
    with pytest.raises(RecordFault, match=rule), record.write_tx() as db:
        db.execute(
            f"UPDATE episode SET {column} = ?, revision = ? WHERE id = ?", (value, record.new_id(), episode.id)
        )
    assert episodes.episode(record, episode.id) == episode
