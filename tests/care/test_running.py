"""Running on a real record: planned after a question, told in a line, planned on by the rule, taken back whole."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from store.care import safety, stages
from store.care.faults import CareFault, EntryError
from store.care.note_rules import rules_of
from store.care.noting import note_of, sign
from store.care.people import close_episode
from store.care.run_acts import AskedFirst, RunAct, plan, take_back, tell
from store.care.run_against import stands_against
from store.care.run_words import check_words, last_words, next_words, rung_words, running_lines, stale_words
from store.care.running import RunStanding, running_standing
from store.care.standing import standing
from store.care.visits import end_visit, start_visit
from store.knowledge.criteria import Stage
from store.knowledge.load import load
from store.knowledge.settings import NOTHING_SET
from store.record import notes, runs
from store.record.amendments import amendments_of
from store.record.check import check
from tests.care.begun import Begun, begun

WED = date(2026, 11, 25)  # today, as the clock stands


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Begun]:
    """A person whose clinician decided that the ankle may jog."""
    found = begun(tmp_path)
    stages.decide(found.care, standing(found.care, found.episode.id), Stage.JOG, "walks well")
    yield found
    found.care.close()


def held(room: Begun) -> RunStanding:
    return running_standing(room.care, room.episode.id)


def planned(room: Begun) -> list[tuple[int, int]]:
    """The sessions to come in the record: days from today's Wednesday, and rung."""
    return [((one.planned_on - WED).days, one.rung) for one in held(room).planned if one.planned_on]


def act(room: Begun, line: str) -> RunAct:
    return tell(room.care, room.episode.id, line)


def days_pass(room: Begun, days: int) -> None:
    room.clock.move(days * 86_400)


def rows(room: Begun) -> list[tuple[object, ...]]:
    columns = "id, rung, planned_on, done_on, pain_during, pain_morning, swelling"
    return room.care.record.db.execute(
        f"SELECT {columns} FROM run_session WHERE retracted_at IS NULL ORDER BY id"
    ).fetchall()


# planning


def test_a_plan_writes_down_its_sessions_for_six_whole_weeks(room: Begun) -> None:
    made = plan(room.care, room.episode.id, "mon wed fri")
    assert planned(room)[:6] == [(0, 1), (2, 1), (5, 2), (7, 2), (9, 3), (12, 3)]
    assert len(planned(room)) == 2 + 6 * 3
    assert planned(room)[-1] == (44, 9)  # the last Friday
    assert made.says == "planned: next Wed 25 Nov, 1:4x5"
    found = held(room)
    assert found.continuous_on == WED + timedelta(days=37)
    assert [week.load.minutes for week in found.weeks][:3] == [10, 35, 55]
    assert [week.change for week in found.weeks][:3] == [None, None, pytest.approx(57.142857)]
    assert rung_words(found) == "rung 1 of 9, 1:4x5, 0 of 2 clean"
    assert check(room.care.record) == []


def test_a_stage_that_is_not_decided_is_asked_for_and_a_yes_is_kept(tmp_path: Path) -> None:
    room = begun(tmp_path)
    with pytest.raises(AskedFirst, match=r"jog is not decided.*Enter again plans it all the same"):
        plan(room.care, room.episode.id, "mon thu")
    assert rows(room) == []
    plan(room.care, room.episode.id, "mon thu", all_the_same=True)
    kept = runs.last_plan(room.care.record, room.episode.id)
    assert kept is not None
    assert kept.reason == "goes on all the same: jog not decided"


def test_a_referral_that_stands_is_asked_for(room: Begun) -> None:
    draft = safety.answer(safety.begin(room.care, room.episode.id), "calf_squeeze", "yes")
    safety.keep(room.care, draft)
    with pytest.raises(AskedFirst, match="settle it on the safety screen"):
        plan(room.care, room.episode.id, "mon wed fri")
    assert rows(room) == []
    safety.settle(room.care, room.episode.id, "seen, tendon whole")
    plan(room.care, room.episode.id, "mon wed fri")
    assert held(room).plan is not None


def test_a_referral_that_stands_is_told_after_the_plan_too_until_it_is_settled(room: Begun) -> None:
    draft = safety.answer(safety.begin(room.care, room.episode.id), "calf_squeeze", "yes")
    safety.keep(room.care, draft)
    plan(room.care, room.episode.id, "mon wed fri", all_the_same=True)
    (told,) = stands_against(room.care, held(room), standing(room.care, room.episode.id))
    assert told.endswith("settle it on the safety screen (s) with a reason, or do not load.")
    assert " stands, " in told
    safety.settle(room.care, room.episode.id, "seen, tendon whole")
    assert stands_against(room.care, held(room), standing(room.care, room.episode.id)) == ()


def test_days_too_near_or_too_many_are_refused(room: Begun) -> None:
    with pytest.raises(CareFault, match="at most 3 days a week, 1 free between"):
        plan(room.care, room.episode.id, "mon tue")
    with pytest.raises(EntryError, match="not understood"):
        plan(room.care, room.episode.id, "whenever")
    assert rows(room) == []


def test_other_days_move_the_same_rows_and_keep_what_was_climbed(room: Begun) -> None:
    plan(room.care, room.episode.id, "wed fri")
    act(room, "1:4x5 pain 0 swelling no")
    before = [one.id for one in held(room).planned]
    plan(room.care, room.episode.id, "tue sat")
    after = held(room).planned
    assert [one.id for one in after][: len(before)] == before
    assert [one.planned_on.weekday() for one in after[:2] if one.planned_on] == [5, 1]
    assert held(room).climb is not None
    assert held(room).last is not None  # the session told before is still of this plan
    assert amendments_of(room.care.record, "run_session", after[0].id)[-1].because == "planned anew"


def test_a_plan_from_another_rung_or_ladder_begins_anew(room: Begun) -> None:
    plan(room.care, room.episode.id, "wed fri")
    act(room, "1:4x5 pain 0 swelling no")
    plan(room.care, room.episode.id, "rung 4 mon from 7 dec")
    found = held(room)
    assert found.last is None
    assert [(one.planned_on, one.rung) for one in found.planned][:2] == [
        (date(2026, 12, 7), 4),
        (date(2026, 12, 14), 4),
    ]
    plan(room.care, room.episode.id, "soldiers alternate")
    assert held(room).ladder == room.care.knowledge.running.ladders["soldiers"]


def test_off_calls_the_sessions_off_and_undo_brings_them_back(room: Begun) -> None:
    plan(room.care, room.episode.id, "mon wed fri")
    before = rows(room)
    off = plan(room.care, room.episode.id, "off")
    assert (held(room).plan, rows(room)) == (None, [])
    take_back(room.care, off)
    assert rows(room) == before


def test_in_a_closed_episode_nothing_is_planned_or_told(room: Begun) -> None:
    plan(room.care, room.episode.id, "mon wed fri")
    end_visit(room.care, room.visit)
    close_episode(room.care, room.care.episode(room.episode.id))
    for do in (plan, tell):
        with pytest.raises(CareFault, match="this episode is closed"):
            do(room.care, room.episode.id, "mon")
    assert not held(room).stale


# telling


def test_a_session_waits_for_its_morning_and_is_clean_with_it(room: Begun) -> None:
    plan(room.care, room.episode.id, "mon wed fri")
    told = act(room, "1:4x5 pain 1 swelling no")
    assert told.says == (
        "saved Wed 25 Nov, 1:4x5, pain 1 during, no swelling: waiting for tomorrow; next Fri 27 Nov, 1:4x5, if "
        "the morning is as usual"
    )
    with pytest.raises(CareFault, match="tomorrow's morning is not known yet"):
        act(room, "morning 0")
    days_pass(room, 1)
    assert last_words(held(room)).endswith("waiting: next morning not told")
    assert "clean; next Fri 27 Nov, 1:4x5" in act(room, "morning 0").says
    assert rung_words(held(room)) == "rung 1 of 9, 1:4x5, 1 of 2 clean"
    assert planned(room)[:3] == [(2, 1), (5, 2), (7, 2)]


def test_what_was_not_told_is_not_clean(room: Begun) -> None:
    plan(room.care, room.episode.id, "mon wed fri")
    act(room, "pain 1")
    days_pass(room, 1)
    assert "not clean: swelling not told" in act(room, "morning 0").says
    assert planned(room)[:3] == [(2, 1), (5, 1), (7, 2)]
    assert "clean;" in act(room, "morning 0 swelling no").says


def test_a_bad_reaction_leads_down_and_two_days_off_move_the_next_one(room: Begun) -> None:
    plan(room.care, room.episode.id, "rung 3 wed fri mon")
    told = act(room, "3:2x5 pain 6 swelling yes")
    assert "bad reaction: pain 6 during, above 5, swelling" in told.says
    assert planned(room)[:3] == [(5, 2), (7, 2), (9, 3)]  # not Friday: two days off
    take_back(room.care, told)
    assert planned(room)[:3] == [(0, 3), (2, 3), (5, 4)]


def test_the_usual_morning_is_what_it_was_after_the_last_clean_one(room: Begun) -> None:
    plan(room.care, room.episode.id, "wed fri mon")
    act(room, "pain 0 swelling no usual 2")
    days_pass(room, 1)
    act(room, "morning 1")
    days_pass(room, 1)
    act(room, "pain 0 swelling no")
    days_pass(room, 1)
    assert "bad reaction: pain 2 next morning, usually 1" in act(room, "morning 2").says


def test_a_session_run_a_day_early_is_the_planned_one(room: Begun) -> None:
    plan(room.care, room.episode.id, "thu sat")
    first = held(room).planned[0]
    act(room, "pain 0 swelling no")
    found = held(room)
    assert found.last is not None
    assert (found.last[0].id, found.last[0].done_on) == (first.id, WED)
    assert found.last[0].minutes == 5
    assert planned(room)[0] == (3, 1)  # Thursday would be too soon


def test_a_session_that_was_left_out_makes_the_plan_stale(room: Begun) -> None:
    plan(room.care, room.episode.id, "mon wed fri")
    days_pass(room, 1)
    found = held(room)
    assert found.stale
    assert stale_words(found) == "Wed 25 Nov was planned and not told: tell it, or plan on (e)"
    assert found.weeks[0].load.minutes == 5  # what was left out is no work done
    plan(room.care, room.episode.id, "mon wed fri")
    assert not held(room).stale
    assert planned(room)[:2] == [(2, 1), (5, 1)]
    days_pass(room, 1)
    assert not held(room).stale


def test_a_run_in_one_piece_is_held_against_the_longest_of_thirty_days(room: Begun) -> None:
    plan(room.care, room.episode.id, "rung 9 mon wed fri")
    act(room, "mon continuous 30 min 5 km pain 0 morning 0 swelling no")
    assert check_words(held(room))[0].startswith("next run at most 5.5 km: 110 % of the longest in 30 days, 5 km")
    act(room, "continuous 42 min 7 km pain 0 swelling no")
    assert check_words(held(room))[0] == (
        "the last run was 40 % longer than the longest in 30 days, 5 km: injury 1.52 times as often in a study "
        "(read)"
    )
    assert "30 continuous: reached" in running_lines(held(room))


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("morning 0", "no session was told yet"),
        ("mon morning 0", "no session was told on 23 Nov"),
        ("7:7x7 pain 0", "no rung of this ladder"),
    ],
)
def test_what_cannot_be_told_is_refused_and_nothing_kept(room: Begun, line: str, says: str) -> None:
    plan(room.care, room.episode.id, "mon wed fri")
    before = rows(room)
    with pytest.raises((CareFault, EntryError), match=says):
        act(room, line)
    assert rows(room) == before


def test_twice_on_a_day_or_before_the_injury_is_refused(room: Begun) -> None:
    plan(room.care, room.episode.id, "mon wed fri")
    act(room, "pain 0")
    with pytest.raises(CareFault, match="a session of 25 Nov is kept already"):
        act(room, "pain 1")
    with pytest.raises(CareFault, match="before the injury"):
        act(room, "2026-02-20 rung 1 pain 0")


def test_without_a_plan_nothing_is_told(room: Begun) -> None:
    with pytest.raises(CareFault, match="plan it first"):
        act(room, "pain 0")
    assert running_lines(held(room)) == []


def test_a_clinic_s_own_ladder_and_rule_hold_and_are_named(tmp_path: Path) -> None:
    room = begun(tmp_path)
    room.care.knowledge = load(settings=NOTHING_SET._replace(ladder="soldiers"))
    plan(room.care, room.episode.id, "mon thu", all_the_same=True)
    found = held(room)
    assert found.plan is not None
    assert found.plan.ladder == "soldiers"
    room.care.knowledge = load()
    assert held(room).ladder is not None  # a plan keeps the ladder it was made with


def test_a_ladder_that_this_copy_does_not_know_is_said_and_not_climbed(room: Begun) -> None:
    plan(room.care, room.episode.id, "mon wed fri")
    record = room.care.record
    kept = runs.last_plan(record, room.episode.id)
    assert kept is not None
    runs.PLAN.revise(record, kept._replace(ladder="ice"), by="AB", because="from elsewhere")
    found = held(room)
    assert found.unknown_ladder == "ice"
    assert "does not know" in running_lines(found)[0]
    with pytest.raises(CareFault, match="does not know the ladder ice"):
        act(room, "pain 0")


def test_everything_told_is_taken_back_whole_and_kept_as_amended(room: Begun) -> None:
    first = plan(room.care, room.episode.id, "mon wed fri")
    before = rows(room)
    told = act(room, "1:4x5 pain 7 swelling yes")
    assert take_back(room.care, told).startswith("took back: Wed 25 Nov, 1:4x5, pain 7 during")
    assert rows(room) == before
    take_back(room.care, first)
    assert (held(room).plan, rows(room)) == (None, [])
    assert check(room.care.record) == []


def test_a_screen_reader_is_told_all_of_it(room: Begun) -> None:
    plan(room.care, room.episode.id, "mon wed fri")
    act(room, "pain 1 swelling no")
    lines = running_lines(held(room))
    assert lines[0] == "running: rung 1 of 9, 1:4x5, 0 of 2 clean; nine rungs; Mon Wed Fri"
    assert lines[1] == "last run Wed 25 Nov, 1:4x5, pain 1 during, no swelling: waiting for tomorrow"
    assert lines[2] == next_words(held(room)) == "next Fri 27 Nov, 1:4x5, if the morning is as usual"
    assert lines[3] == "30 continuous 1 Jan 2027 if all are clean"
    assert "planned Mon 30 Nov, 2:3x5" in lines
    assert lines[-1] == "This supports a licensed clinician and local protocol, and replaces neither."


def test_the_next_visit_and_its_note_tell_what_was_run_since(room: Begun) -> None:
    plan(room.care, room.episode.id, "wed fri mon")
    room.line("confidence 7")
    end_visit(room.care, room.visit)
    days_pass(room, 2)
    act(room, "pain 1 swelling no")
    days_pass(room, 1)
    act(room, "morning 0")
    room.visit_id = start_visit(room.care, room.episode).id
    room.says("pain 1")
    assert room.view.ran == (("ran Fri 27 Nov", "1:4x5, clean"),)
    sections = note_of(room.care, room.visit_id).sections
    told = "run Fri 27 Nov, 1:4x5, pain 1 during, no swelling, next morning 0: clean"
    assert told in sections["subjective"].splitlines()
    planned = "running: rung 1 of 9, 1:4x5, 1 of 2 clean; next Mon 30 Nov, 1:4x5"
    assert planned in sections["plan"].splitlines()
    signed = sign(room.care, room.visit_id)
    rules = notes.rules(room.care.record, signed.kept.rules or "") if signed.kept else None
    assert rules is not None
    assert rules["running"]["ladder"] == "nine_rungs"
    assert rules["running"]["rule"]["clean_to_rise"]["value"] == 2


def test_a_note_and_the_rules_it_is_signed_by_read_the_running_once(room: Begun) -> None:
    plan(room.care, room.episode.id, "wed fri mon")
    act(room, "pain 1 swelling no")
    room.says("pain 1")
    read: list[str] = []
    room.care.record.db.set_trace_callback(read.append)
    shown = note_of(room.care, room.visit_id)
    rules_of(room.care, shown.facts)
    room.care.record.db.set_trace_callback(None)
    for table in ("run_plan", "run_session"):
        assert sum(f"FROM {table} WHERE retracted_at IS NULL AND episode" in one for one in read) == 1, table


def test_a_visit_of_somebody_who_does_not_run_tells_nothing_of_it(room: Begun) -> None:
    room.line("confidence 7")
    assert room.view.ran == ()
    assert "running" not in note_of(room.care, room.visit_id).sections["plan"]
