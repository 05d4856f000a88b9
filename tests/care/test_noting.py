"""The note of a visit: what its draft says, what may be edited, what signing locks, and what comes after."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from store.care import ending, noting
from store.care.faults import CareFault
from store.care.note_state import state_words
from store.record import notes
from tests.care.begun import Begun, begun

SAID = "pain 2 worst 4 morning 1 gaveway 0 home 5/7 consent y"
BEFORE = "lunge l 10.2 10.3 10.1 r 4.8 4.9 4.7"
AFTER = "lunge l 10.2 10.3 10.1 r 6.8 6.9 6.7 after"


def done(tmp_path: Path) -> Begun:
    hand = begun(tmp_path)
    hand.says(SAID)
    for line in (BEFORE, AFTER):
        hand.clock.move(120)
        hand.line(line)
    return hand


def test_the_draft_says_what_was_said_and_measured(tmp_path: Path) -> None:
    hand = done(tmp_path)
    drafted = noting.note_of(hand.care, hand.visit_id).sections
    assert tuple(drafted) == noting.SECTIONS
    for words in ("now 2, worst 4, next morning 1", "not once", "5 of 7 days", "given at"):
        assert words in drafted["subjective"]
    for words in ("left 10.2, right 4.8 cm", "re-test left 10.2, right 6.8 cm", "right 4.8 4.9 4.7", "MDC within"):
        assert words in drafted["objective"]
    assert drafted["objective"].index("left 10.2") < drafted["objective"].index("right 4.8")
    assert "lunge right: +2.0, clear gain" in drafted["assessment"]
    assert "criteria of walk" in drafted["assessment"]
    assert "next visit: not planned yet" in drafted["plan"]


def test_nothing_blind_is_in_a_draft_and_it_cannot_be_signed(tmp_path: Path) -> None:
    hand = begun(tmp_path)
    hand.line(BEFORE)
    drafted = "\n".join(noting.note_of(hand.care, hand.visit_id).sections.values())
    assert "hidden until the re-test is in" in drafted
    assert not [value for value in ("10.2", "4.8", "5.4") if value in drafted]
    with pytest.raises(CareFault, match="the re-test of lunge is still to come"):
        noting.sign(hand.care, hand.visit_id)
    assert notes.notes_of_visit(hand.care.record, hand.visit_id) == []


def test_an_edited_section_stays_and_the_others_are_drafted_again(tmp_path: Path) -> None:
    hand = done(tmp_path)
    noting.edit(hand.care, hand.visit_id, "plan", "brace for games\r\nsee again")
    hand.line("pain_walk 1")
    shown = noting.note_of(hand.care, hand.visit_id)
    assert shown.sections["plan"] == "brace for games\nsee again"
    assert shown.edited == {"plan"}
    assert "1" in shown.sections["objective"] or "1" in shown.sections["subjective"]
    back = noting.edit(hand.care, hand.visit_id, "plan", "  ")
    assert back.edited == frozenset()
    assert "next visit" in back.sections["plan"]


def test_signing_ends_the_visit_and_locks_what_was_on_show_with_its_rules(tmp_path: Path) -> None:
    hand = done(tmp_path)
    shown = noting.note_of(hand.care, hand.visit_id)
    signed = noting.sign(hand.care, hand.visit_id)
    assert hand.visit.ended is not None
    assert signed.sections == shown.sections
    assert signed.kept is not None
    assert (signed.kept.signed_by, signed.kept.signed, signed.late) == ("AB", hand.clock.now(), False)
    rules = notes.rules(hand.care.record, signed.kept.rules or "")
    assert rules is not None
    assert rules["measures"]["lunge"]["error"]["sem_within"]["value"] == 0.5
    assert rules["criteria"]["stage"] == "walk"
    with pytest.raises(CareFault, match="signed and locked"):
        noting.edit(hand.care, hand.visit_id, "plan", "other")
    with pytest.raises(CareFault, match="signed and locked"):
        noting.sign(hand.care, hand.visit_id)
    with sqlite3.connect(hand.care.record.path) as tool, pytest.raises(sqlite3.IntegrityError, match="locked"):
        tool.execute("UPDATE note SET sections = '{}', revision = 'z'")


def test_a_visit_whose_note_is_signed_is_not_opened_again(tmp_path: Path) -> None:
    hand = done(tmp_path)
    noting.sign(hand.care, hand.visit_id)
    with pytest.raises(CareFault, match="note is signed"):
        ending.open_again(hand.care, hand.visit)


def test_a_signed_note_does_not_change_with_what_comes_later(tmp_path: Path) -> None:
    hand = done(tmp_path)
    signed = noting.sign(hand.care, hand.visit_id)
    hand.clock.move(3 * 86_400)
    later = noting.note_of(hand.care, hand.visit_id)
    assert later.sections == signed.sections


def test_additions_carry_their_own_time_and_name(tmp_path: Path) -> None:
    hand = done(tmp_path)
    with pytest.raises(CareFault, match="not signed yet"):
        noting.add(hand.care, hand.visit_id, "called back")
    noting.sign(hand.care, hand.visit_id)
    hand.clock.move(86_400)
    added = noting.add(hand.care, hand.visit_id, "called back: no pain")
    (one,) = added.additions
    assert one.sections == {"addition": "called back: no pain"}
    assert (one.signed, one.signed_by) == (hand.clock.now(), "AB")


def test_a_students_note_wants_a_countersign_by_somebody_else(tmp_path: Path) -> None:
    hand = done(tmp_path)
    signed = noting.sign(hand.care, hand.visit_id, student=True)
    assert signed.wants_countersign
    assert state_words(hand.care, hand.visit_id) == (True, "signed, countersign wanted")
    with pytest.raises(CareFault, match="somebody else"):
        noting.countersign(hand.care, hand.visit_id, "ab")
    counter = noting.countersign(hand.care, hand.visit_id, "C.D.")
    assert counter.kept is not None
    assert (counter.kept.countersigned_by, counter.wants_countersign) == ("C.D.", False)
    with pytest.raises(CareFault, match="only one"):
        noting.countersign(hand.care, hand.visit_id, "E.F.")


def test_a_note_signed_on_a_later_day_is_a_late_entry(tmp_path: Path) -> None:
    hand = done(tmp_path)
    hand.clock.move(2 * 86_400)
    assert noting.sign(hand.care, hand.visit_id).late


def test_what_cannot_be_kept_is_refused_in_a_sentence(tmp_path: Path) -> None:
    hand = done(tmp_path)
    with pytest.raises(CareFault, match="at most 10000 characters"):
        noting.edit(hand.care, hand.visit_id, "plan", "x" * 10_001)
    kept = noting.edit(hand.care, hand.visit_id, "plan", "a\x1b[2Jb")
    assert kept.sections["plan"] == "aU+001B[2Jb"
