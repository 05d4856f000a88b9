"""Two files become one: nothing of either is lost, and doing it twice adds nothing."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from store.knowledge.time import SetClock
from store.knowledge.words import BoutRow, Episode, Person, Reading, Side, Visit
from store.record import bouts, episodes, people, readings
from store.record.amendments import amendments_of
from store.record.backup import backup
from store.record.check import check
from store.record.faults import FaultKind, RecordFault
from store.record.file import Record, open_record
from store.record.merge import Merged, merge
from tests.record.later import be_one_version_later
from tests.record.made import event, hold, lunge

NOTHING = Merged(0, 0, 0)


@pytest.fixture
def kept(record: Record, visit: Visit, clock: SetClock) -> Reading:
    return readings.add_readings(record, [lunge(visit, clock, Side.LEFT, 10.2)])[0]


@pytest.fixture
def bout(record: Record, visit: Visit, clock: SetClock) -> BoutRow:
    made = bouts.add_bout(record, hold(visit, clock))
    bouts.add_event(record, event(made, clock, 1))
    return made


@pytest.fixture
def other(record: Record, kept: Reading, bout: BoutRow, tmp_path: Path, clock: SetClock) -> Iterator[Record]:
    """The same file on another machine."""
    assert kept.id != bout.id
    with open_record(backup(record, tmp_path / "other.sqlite"), clock) as opened:
        yield opened


def content(record: Record, table: str = "reading") -> set[tuple[object, ...]]:
    return set(record.db.execute(f"SELECT * FROM {table}").fetchall())


def versions(record: Record, row_id: str) -> set[object]:
    """Every value a reading ever had, with the one that stands last."""
    return {one.was["value"] for one in amendments_of(record, "reading", row_id)}


def test_a_copy_of_itself_adds_nothing(record: Record, other: Record) -> None:
    assert merge(record, other.path) == NOTHING


def test_what_is_new_there_is_new_here(
    record: Record, other: Record, visit: Visit, episode: Episode, clock: SetClock
) -> None:
    newcomer = people.add_person(other, Person("", "T.M."))
    second = episodes.add_episode(other, Episode("", episode.person, Side.LEFT, clock.now()))
    episodes.link_episodes(other, episode.id, second.id, by="AB", because="both injured")
    [theirs] = readings.add_readings(other, [lunge(visit, clock, Side.RIGHT, 4.8)])
    assert merge(record, other.path) == Merged(added=3, amended=1, kept=2)
    assert people.person(record, newcomer.id) == newcomer
    assert readings.reading(record, theirs.id) == theirs
    assert [one.linked_episode for one in episodes.episodes_of_person(record, episode.person)] == [
        second.id,
        episode.id,
    ]
    assert merge(record, other.path) == NOTHING
    assert check(record) == []


@pytest.mark.parametrize("ours_last", [True, False])
def test_of_a_row_amended_on_both_sides_the_highest_revision_stands(
    record: Record, other: Record, kept: Reading, ours_last: bool
) -> None:
    first, last = (other, record) if ours_last else (record, other)
    readings.revise_reading(first, kept._replace(value=11.0), by="AB", because="misread")
    stands = readings.revise_reading(last, kept._replace(value=12.0), by="CD", because="misread too")
    merge(record, other.path)
    merge(other, record.path)
    for each in (record, other):
        assert readings.reading(each, kept.id) == stands
        assert versions(each, kept.id) == {10.2, 11.0}
        assert check(each) == []
    assert content(record) == content(other)
    assert merge(record, other.path) == merge(other, record.path) == NOTHING


def test_who_corrected_what_and_why_is_kept_from_both_sides(record: Record, other: Record, kept: Reading) -> None:
    ours = readings.revise_reading(record, kept._replace(value=11.0), by="AB", because="misread")
    theirs = readings.revise_reading(other, kept._replace(value=12.0), by="CD", because="wrong side")
    again = readings.revise_reading(other, theirs._replace(value=12.5), by="CD", because="half a centimetre more")
    merge(record, other.path)
    told = {
        (one.was["revised_by"], one.was["revised_because"]) for one in amendments_of(record, "reading", kept.id)
    }
    assert told == {("AB", ""), ("AB", "misread"), ("CD", "wrong side")}
    assert readings.reading(record, kept.id) == again
    assert again.revision > ours.revision


def test_an_earlier_amendment_there_and_none_here(record: Record, other: Record, kept: Reading) -> None:
    [theirs] = readings.retract_readings(other, [kept.id], by="CD", because="undo")
    assert merge(record, other.path) == Merged(added=0, amended=1, kept=1)
    assert readings.reading(record, kept.id) == theirs
    assert [one.because for one in amendments_of(record, "reading", kept.id)] == ["undo"]
    assert check(record) == []


def test_a_bout_that_went_on_there_goes_on_here(
    record: Record, other: Record, bout: BoutRow, clock: SetClock
) -> None:
    bouts.add_events(other, [event(bout, clock, 2), event(bout, clock, 3)])
    assert merge(record, other.path) == Merged(added=2, amended=0, kept=0)
    assert bouts.events_of(record, bout.id) == bouts.events_of(other, bout.id)
    assert merge(record, other.path) == merge(other, record.path) == NOTHING


def test_a_bout_that_went_on_in_both_is_not_mixed_and_nothing_is_lost(
    record: Record, other: Record, bout: BoutRow, clock: SetClock
) -> None:
    bouts.add_event(record, event(bout, clock, 2, "paused"))
    bouts.add_events(other, [event(bout, clock, 2, "lost"), event(bout, clock, 3, "ended")])
    ours = bouts.events_of(record, bout.id)
    assert merge(record, other.path) == Merged(added=0, amended=0, kept=2)
    assert bouts.events_of(record, bout.id) == ours
    beside = [amendments_of(record, "bout_event", f"{bout.id} {seq}")[0].was["kind"] for seq in (2, 3)]
    assert beside == ["lost", "ended"]
    assert merge(record, other.path) == NOTHING
    assert check(record) == []


def test_an_older_file_is_merged_from_a_copy_brought_up_to_date(
    record: Record, other: Record, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    newcomer = people.add_person(other, Person("", "T.M."))
    other.close()
    record.close()
    before = other.path.read_bytes()
    be_one_version_later(monkeypatch)
    with open_record(record.path, clock) as newer:
        assert merge(newer, other.path) == Merged(added=1, amended=0, kept=0)
        assert people.person(newer, newcomer.id) == newcomer
    assert other.path.read_bytes() == before


def test_a_merge_that_fails_leaves_the_record_as_it_was(record: Record, other: Record, kept: Reading) -> None:
    people.add_person(other, Person("", "T.M."))
    with other.write_tx() as db:  # a row that refers to nobody, as another tool might leave it
        db.execute("PRAGMA defer_foreign_keys = ON")
    other.db.execute("PRAGMA foreign_keys = OFF")
    readings.add_readings(other, [kept._replace(id="", person="nobody", episode=None, visit=None)])
    before = content(record), content(record, "person")
    with pytest.raises(RecordFault, match="refers to something"):
        merge(record, other.path)
    assert (content(record), content(record, "person")) == before


def test_the_file_itself_and_what_is_no_record_are_refused(record: Record, tmp_path: Path) -> None:
    with pytest.raises(RecordFault, match="the file that is open"):
        merge(record, record.path)
    (tmp_path / "letter.txt").write_text("dear colleague")
    with pytest.raises(RecordFault) as fault:
        merge(record, tmp_path / "letter.txt")
    assert fault.value.kind is FaultKind.NOT_SQLITE
