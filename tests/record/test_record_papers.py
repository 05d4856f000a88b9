"""Safety screens, home programmes and notes: kept, found, and a signed note locked."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from store.knowledge.papers import Note, Programme, ProgrammeDay, SafetyScreen
from store.knowledge.time import SetClock
from store.knowledge.words import Visit
from store.record import notes, programmes, safety
from store.record.check import check
from store.record.file import Record, open_record
from store.record.merge import merge
from tests.record.made import note


def test_a_safety_screen_says_only_what_was_answered(record: Record, visit: Visit, clock: SetClock) -> None:
    assert visit.episode is not None
    asked = SafetyScreen(
        "", visit.person, clock.now(), "full", "refer today", {"fibula": "yes"}, episode=visit.episode
    )
    kept = safety.SCREEN.add(record, asked, by="AB")
    assert safety.screens_of(record, visit.episode) == [kept]
    settled = safety.SCREEN.revise(
        record,
        kept._replace(settled=clock.now(), settled_because="film shows no fracture"),
        by="AB",
        because="settled",
    )
    assert safety.screens_of(record, visit.episode) == [settled]
    with pytest.raises(Exception, match="gives its reason"):
        safety.SCREEN.revise(record, settled._replace(settled_because=" "), by="AB", because="slip")


def test_a_programme_and_its_days(record: Record, visit: Visit, clock: SetClock) -> None:
    assert visit.episode is not None
    items = ({"activity": "hold_firm", "sets": 3},)
    given = Programme("", visit.person, visit.episode, clock.now(), items, review_on=clock.now().on)
    kept = programmes.PROGRAMME.add(record, given, by="AB")
    day = programmes.DAY.add(record, ProgrammeDay("", kept.id, visit.person, clock.now().on, 1, 2), by="AB")
    assert programmes.programmes_of(record, visit.episode) == [kept]
    assert programmes.days_of(record, kept.id) == [day]
    with pytest.raises(Exception, match="0 to 10"):
        programmes.DAY.revise(record, day._replace(pain_morning=11), by="AB", because="slip")


def signed(record: Record, visit: Visit, clock: SetClock) -> Note:
    draft = notes.NOTE.add(record, note(visit, clock), by="AB")
    return notes.NOTE.revise(
        record, draft._replace(signed=clock.now(), signed_by="AB", student=True), by="AB", because="signed"
    )


def test_a_signed_note_is_locked_for_any_tool(record: Record, visit: Visit, clock: SetClock) -> None:
    kept = signed(record, visit, clock)
    with pytest.raises(Exception, match="locked"):
        notes.NOTE.revise(record, kept._replace(sections={"plan": "other"}), by="AB", because="slip")
    tool = sqlite3.connect(record.path)
    with pytest.raises(sqlite3.IntegrityError, match="a signed note is locked"):
        tool.execute("UPDATE note SET sections = '{}', revision = 'z'")
    with pytest.raises(sqlite3.IntegrityError, match="a signed note is locked"):
        tool.execute("UPDATE note SET signed_at = NULL, signed_offset_min = NULL, revision = 'z'")
    tool.close()
    assert notes.notes_of_visit(record, visit.id) == [kept]


def test_a_students_note_takes_a_countersign_and_additions(record: Record, visit: Visit, clock: SetClock) -> None:
    kept = signed(record, visit, clock)
    counter = notes.NOTE.revise(
        record, kept._replace(countersigned=clock.now(), countersigned_by="CD"), by="CD", because="countersigned"
    )
    assert counter.countersigned_by == "CD"
    more = note(visit, clock)._replace(kind="addition", adds_to=kept.id, sections={"addition": "called back"})
    added = notes.NOTE.add(record, more, by="AB")
    assert notes.notes_of_visit(record, visit.id) == [counter, added]
    with pytest.raises(Exception, match="adds to a note"):
        notes.NOTE.add(record, more._replace(adds_to=None), by="AB")


def test_rules_are_kept_once_and_merged(record: Record, clock: SetClock, tmp_path: Path) -> None:
    name = notes.keep_rules(record, {"lunge": {"mdc": 1.9}})
    assert notes.keep_rules(record, {"lunge": {"mdc": 1.9}}) == name
    assert notes.rules(record, name) == {"lunge": {"mdc": 1.9}}
    assert notes.rules(record, "none") is None
    with open_record(tmp_path / "other.sqlite", clock, create=True) as other:
        theirs = notes.keep_rules(other, {"lunge": {"mdc": 1.6}})
    assert merge(record, tmp_path / "other.sqlite").added == 1
    assert merge(record, tmp_path / "other.sqlite").added == 0
    assert notes.rules(record, theirs) == {"lunge": {"mdc": 1.6}}
    assert check(record) == []
