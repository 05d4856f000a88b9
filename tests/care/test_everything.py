"""All that is held on a person comes together, but for what a blind re-test hides. The people are invented."""

from __future__ import annotations

from pathlib import Path

from store.care.everything import everything_of, everything_of_everybody, hidden_words
from store.care.people import new_person
from store.knowledge.planned import Member, Squad
from store.record import episodes, readings, squads
from store.record.schema import CLINICAL
from tests.care.begun import begun
from tests.record.made import fill_later_tables


def test_each_table_of_the_record_is_in_it(tmp_path: Path) -> None:
    """A table that is added later fails here until its rows are told; examiners stand in the rows they made."""
    now = begun(tmp_path)
    now.care.blind = False
    now.line("lunge l 10.2 10.1 10.3 r 4.8 4.9 5.0")
    now.bout("hold_firm")
    fill_later_tables(now.care.record, now.visit, now.clock)
    held = everything_of(now.care, now.care.person(now.episode.person))
    found = {
        "person": (held.person,),
        "episode": held.episodes,
        "visit": held.visits,
        "bout": held.bouts,
        "reading": held.readings,
        "squad": held.squads,
        "squad_member": held.squads,
        "appointment": held.appointments,
        "stage_decision": held.decisions,
        "forecast_made": held.forecasts,
        "safety_screen": held.screens,
        "resprain": held.resprains,
        "recheck": held.rechecks,
        "run_plan": held.run_plans,
        "run_session": held.run_sessions,
        "programme": held.programmes,
        "programme_day": held.days,
        "note": held.notes,
    }
    assert set(found) == set(CLINICAL) - {"examiner", "practice_try"}  # of nobody who is cared for
    assert {table for table, rows in found.items() if not rows} == set()
    assert held.events.keys() == {bout.id for bout in held.bouts}


def test_what_was_taken_back_is_in_it_and_so_is_what_stood_before(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("girth l 51 51 51 r 53 53 53")
    left, right = now.kept
    readings.retract_readings(now.care.record, [left.id], by="AB", because="wrong tape")
    episodes.revise_episode(now.care.record, now.episode._replace(goal="a race"), by="AB", because="told later")
    held = everything_of(now.care, now.care.person(now.episode.person))
    assert {one.id for one in held.readings} == {left.id, right.id}
    assert [one.id for one in held.standing_readings] == [right.id]
    told = {(one.row_table, one.because) for one in held.amendments}
    assert {("reading", "wrong tape"), ("episode", "told later")} <= told


def test_a_value_before_a_blind_re_test_is_nowhere_until_the_re_test_is_in(tmp_path: Path) -> None:
    now = begun(tmp_path)
    person = now.care.person(now.episode.person)
    now.line("lunge l 10.2 10.1 10.3 r 4.8 4.9 5.0")
    held = everything_of(now.care, person)
    assert held.readings == ()
    assert "4.9" not in repr(held)
    assert hidden_words(held) == (
        "left out, while their re-test is blind: the values of today before treatment of lunge. "
        "Export again once the re-test is in"
    )
    now.line("lunge l 10.2 10.1 10.3 r 5.8 5.9 6.0 after")
    held = everything_of(now.care, person)
    assert len(held.readings) == 4
    assert hidden_words(held) == ""


def test_a_clinic_that_does_not_re_test_blind_has_all_of_it(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.care.blind = False
    now.line("lunge l 10.2 10.1 10.3 r 4.8 4.9 5.0")
    assert len(everything_of(now.care, now.care.person(now.episode.person)).readings) == 2


def test_everybody_is_told_by_label(tmp_path: Path) -> None:
    now = begun(tmp_path)
    squad = squads.SQUAD.add(now.care.record, Squad("", "hockey"), by="AB")
    person, _ = new_person(now.care, "b.c.")
    squads.MEMBER.add(now.care.record, Member("", squad.id, person.id), by="AB")
    told = list(everything_of_everybody(now.care))
    assert [one.person.label for one in told] == ["b.c.", "R.K."]
    assert [one.name for one in told[0].squads] == ["hockey"]
