from __future__ import annotations

from pathlib import Path

import pytest

from store.care import measuring, visits
from store.care.faults import CareFault
from store.care.measuring import Preview, save_side, start_trials, subject_of, swapped_trials
from store.care.trials import Trials, back, enter, exchange
from store.knowledge.words import Moment, Side, Status
from store.record import readings
from tests.care.begun import Begun, begun


def preview(now: Begun, line: str) -> Preview:
    subject = subject_of(now.care, now.visit)
    return measuring.preview(now.care, subject, measuring.read_line(now.care, subject, line))


def trials_of(now: Begun, measure: str, moment: Moment | None) -> tuple[Trials, list[str]]:
    subject = subject_of(now.care, now.visit)
    trials, kept = start_trials(now.care, subject, now.care.knowledge.measures[measure], moment)
    return trials, [one.id for one in kept]


# one line


def test_the_preview_says_the_gap_in_words_the_lsi_and_the_change(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("heel l 20 r 7")
    shown = preview(now, "heel l 20 r 11")
    assert shown.saves == "heel raise: left 20, right 11"
    assert shown.says[0] == "right 9 short"
    assert shown.says[1] == "LSI 55 %"
    assert shown.says[2].startswith("right since earlier in this visit +4, ")


def test_a_value_after_treatment_is_held_against_the_one_before_it(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("girth l 50 50 50 r 52 52 52")
    says = preview(now, "girth l 50 50 50 r 51 51 51 after").says
    assert says == ("right 1.0 larger", "right since before treatment -1.0, clear gain")
    assert preview(now, "girth r 51 51 51").says[-1].startswith("right since earlier in this visit -1.0, ")


def test_the_preview_holds_each_value_against_its_own_kind_by_its_own_error(tmp_path: Path) -> None:
    """1.5 cm on the lunge is past the error within a visit (1.4) and not past the one between visits (1.9)."""
    now = begun(tmp_path)
    visits.drop_step(now.care, now.visit, "lunge_retest")
    now.line("lunge l 10 10 10 r 4.0 4.0 4.0 before")
    visits.end_visit(now.care, now.visit)
    now.clock.move(3 * 24 * 3600)
    now.visit_id = visits.start_visit(now.care, now.episode).id
    visits.drop_step(now.care, now.visit, "lunge_retest")
    first = "right since last time +1.5, within measurement error"
    assert preview(now, "lunge r 5.5 5.5 5.5 before").says[-1] == first
    now.line("lunge r 5.5 5.5 5.5 before")
    again = "right since last time +1.6, within measurement error"
    assert preview(now, "lunge r 5.6 5.6 5.6 before").says[-1] == again
    after = "right since before treatment +1.5, clear gain"
    assert preview(now, "lunge r 7.0 7.0 7.0 after").says[-1] == after


def test_a_line_without_a_moment_takes_the_plans(tmp_path: Path) -> None:
    now = begun(tmp_path)
    assert now.line("lunge l 10.2").readings[0].moment is Moment.BEFORE
    assert now.line("lunge r 4.8").readings[0].moment is Moment.BEFORE
    assert now.line("lunge l 10.2 r 5.8").readings[0].moment is Moment.AFTER
    assert now.line("girth l 51 r 52").readings[0].moment is None
    assert now.line("lunge l 10.2 r 5.8 before").readings[0].moment is Moment.BEFORE


def test_with_the_retest_left_out_a_second_measuring_is_before_too(tmp_path: Path) -> None:
    now = begun(tmp_path)
    visits.drop_step(now.care, now.visit, "lunge_retest")
    now.line("lunge l 10.2 r 4.8")
    assert now.line("lunge l 10.2 r 4.9").readings[0].moment is Moment.BEFORE


def test_the_injured_side_clearly_better_asks_whether_they_were_swapped(tmp_path: Path) -> None:
    now = begun(tmp_path)
    shown = preview(now, "lunge l 4.8 r 10.2")
    assert shown.swapped
    swapped = measuring.swap_sides(shown.entry)
    assert [(side.side, side.trials) for side in swapped.sides] == [(Side.LEFT, (10.2,)), (Side.RIGHT, (4.8,))]
    assert not preview(now, "lunge l 10.2 r 4.8").swapped
    assert not preview(now, "lunge r 10.2").swapped


def test_the_unusual_is_asked_about(tmp_path: Path) -> None:
    now = begun(tmp_path)
    assert preview(now, "girth l 51 r 79").asks


# trial by trial


def test_a_side_is_kept_when_it_is_whole_and_changed_by_retracting(tmp_path: Path) -> None:
    now = begun(tmp_path)
    subject = subject_of(now.care, now.visit)
    trials, _ = trials_of(now, "girth", None)
    trials = enter(trials, "51 51.1 51.2")
    saved = save_side(now.care, subject, trials, Side.LEFT)
    assert saved.says == "saved girth left 51.1 cm"
    changed = enter(back(trials), "51.8")
    again = save_side(now.care, subject, changed, Side.LEFT, saved.readings)
    assert [one.trials for one in now.kept] == [(51.0, 51.1, 51.8)]
    first = readings.reading(now.care.record, saved.readings[0].id)
    assert first is not None
    assert first.retracted is not None
    empty = back(back(back(changed)))
    assert save_side(now.care, subject, empty, Side.LEFT, again.readings).says == "took back girth left"
    assert now.kept == []


def test_fewer_trials_are_kept_as_what_they_are(tmp_path: Path) -> None:
    now = begun(tmp_path)
    trials, _ = trials_of(now, "girth", None)
    saved = save_side(now.care, subject_of(now.care, now.visit), enter(trials, "51"), Side.LEFT)
    assert saved.readings[0].trials == (51.0,)
    assert saved.readings[0].status is Status.MEASURED


def test_it_goes_on_where_it_was_left_and_begins_anew_when_it_was_whole(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("lunge l 10.2 10.3 10.1")
    now.line("lunge r 4.8 before")
    trials, kept = trials_of(now, "lunge", Moment.BEFORE)
    assert trials.current.side is Side.RIGHT
    assert trials.current.values == (4.8,)
    assert len(kept) == 2
    now.line("lunge r 4.8 4.9 4.7 before")
    trials, kept = trials_of(now, "lunge", Moment.BEFORE)
    assert not trials.begun
    assert kept == []


def test_a_retest_does_not_take_up_the_before_values(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("lunge l 10.2 r 4.8")
    trials, kept = trials_of(now, "lunge", Moment.AFTER)
    assert not trials.begun
    assert kept == []


def test_sides_taken_the_wrong_way_round_are_suspected_and_exchanged(tmp_path: Path) -> None:
    now = begun(tmp_path)
    subject = subject_of(now.care, now.visit)
    trials, _ = trials_of(now, "lunge", Moment.BEFORE)
    trials = enter(trials, "4.8 4.9 4.7")
    assert not swapped_trials(subject, trials)
    trials = enter(trials, "10.2 10.3 10.1")
    assert swapped_trials(subject, trials)
    assert not swapped_trials(subject, exchange(trials))


def test_trials_of_an_ended_visit_are_not_kept_and_say_why(tmp_path: Path) -> None:
    now = begun(tmp_path)
    subject = subject_of(now.care, now.visit)
    trials, _ = trials_of(now, "girth", None)
    visits.end_visit(now.care, now.visit)
    with pytest.raises(CareFault, match="has ended"):
        save_side(now.care, subject, enter(trials, "51"), Side.LEFT)
