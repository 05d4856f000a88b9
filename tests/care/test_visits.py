from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from store.care import measuring, visits
from store.care.faults import CareFault
from store.care.standing import standing
from store.care.visit_view import slot_now
from store.entry.errors import EntryError
from tests.care.begun import begun, walked
from tests.screens.made import BRUSSELS

BEFORE_MIDNIGHT = datetime(2026, 11, 25, 23, 50, tzinfo=BRUSSELS)


# what the person says


def test_what_is_said_is_kept_as_one_and_shown_in_words(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 2 worst 4 morning 1 gaveway 0 home 5/7 consent y")
    assert now.view.said == {
        "pain": "2", "worst": "4", "morning": "1", "gaveway": "0", "home": "5/7", "consent": "y",
    }  # fmt: skip
    assert now.line_of("said") == ("told, consent given", True)
    assert {one.revision for one in now.kept} == {now.kept[0].revision}
    assert now.visit.consent is not None


def test_a_line_that_cannot_be_read_keeps_nothing(tmp_path: Path) -> None:
    now = begun(tmp_path)
    with pytest.raises(EntryError, match="pain now goes from 0 to 10"):
        now.says("worst 4 pain 12")
    assert now.kept == []
    assert now.line_of("said")[1] is False


def test_consent_that_is_refused_is_said_and_leaves_no_time(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 3 consent n")
    refused = now.visit
    assert refused.consent is None
    assert now.line_of("said")[0] == "told, no consent"
    now.says("consent y")
    assert now.visit.consent is not None
    assert now.view.said["consent"] == "y"


@pytest.mark.parametrize("line", ["consent n", "CONSENT N", "pain 3 consent  no", "consent\tn; pain 3"])
def test_a_refusal_is_shown_however_it_was_typed(tmp_path: Path, line: str) -> None:
    now = begun(tmp_path)
    now.says(line)
    assert now.view.said["consent"] == "n"
    assert now.line_of("said")[0].endswith("no consent")


@pytest.mark.parametrize(
    ("line", "says"),
    [("consent y", "consent given"), ("consent n", "no consent"), ("pain 2", "told, consent not asked")],
)
def test_the_plan_tells_only_that_it_was_said(tmp_path: Path, line: str, says: str) -> None:
    """The figures stand beside the plan already, and twice they take the room of what was done last time."""
    now = begun(tmp_path)
    now.says(line)
    assert now.line_of("said") == (says, True)


def test_saying_it_again_replaces_that_part_and_leaves_the_rest(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 2 worst 4")
    now.says("pain 5 home 3/7")
    assert now.view.said == {"pain": "5", "worst": "4", "home": "3/7"}
    assert sorted(one.measure for one in now.kept) == ["pain_now", "pain_worst"]


def test_the_unusual_is_asked_about(tmp_path: Path) -> None:
    now = begun(tmp_path)
    assert visits.said_asks(now.care, "home 9/7") == ("home 9/7: more done than planned. Is it right?",)
    assert visits.said_asks(now.care, "home 5/7") == ()


# minutes, midnight, daylight saving, a clock set back


def test_minutes_run_against_the_slot_and_the_step_in_hand_uses_its_own(tmp_path: Path) -> None:
    now = begun(tmp_path)
    visits.drop_step(now.care, now.visit, "safety")  # a minute in hand
    shown = now.view
    for minutes, over in ((0, -1.0), (2, -1.0), (3, -1.0), (5, 1.0)):
        now.clock.move(minutes * 60 - slot_now(now.care, shown).gone * 60)
        slot = slot_now(now.care, shown)
        assert slot.over == pytest.approx(over)
        assert (slot.drop is not None) is (over > 0)
    now.says("pain 2 consent y")
    shown = now.view
    assert shown.slot.over == pytest.approx(1)  # what was lost stays lost
    now.clock.move(60)
    assert slot_now(now.care, shown).over == pytest.approx(1)
    now.line("lunge l 10.2")  # a side of the step in hand does not make it begin anew
    now.clock.move(180)
    assert now.view.slot.over == pytest.approx(1)


def test_a_clock_set_back_makes_the_visit_no_younger_and_never_negative(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.clock.move(600)
    assert visits.minutes_gone(now.care, now.visit) == pytest.approx(10)
    now.clock.put(now.clock.now().local.replace(tzinfo=BRUSSELS) - timedelta(hours=1))
    assert visits.minutes_gone(now.care, now.visit) == pytest.approx(10)
    now.clock.move(120)
    assert visits.minutes_gone(now.care, now.visit) == pytest.approx(12)
    visits.end_visit(now.care, now.visit)
    assert visits.minutes_gone(now.care, now.visit) == 0
    assert now.visit.ended == now.visit.started


def test_a_laptop_that_slept_counts_by_the_wall(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.clock.put(now.clock.now().local.replace(tzinfo=BRUSSELS) + timedelta(minutes=20))
    assert visits.minutes_gone(now.care, now.visit) == pytest.approx(20)


def test_midnight_inside_a_visit_neither_ends_nor_uncovers_it(tmp_path: Path) -> None:
    now = begun(tmp_path, BEFORE_MIDNIGHT)
    now.line("lunge l 10.2 r 4.8")
    now.clock.move(20 * 60)
    assert now.clock.now().on != now.visit.started.on
    open_visit = visits.open_visit(now.care, now.episode)
    assert open_visit is not None
    assert open_visit.id == now.visit_id
    assert visits.start_visit(now.care, now.episode).id == now.visit_id
    held = standing(now.care, now.episode.id)
    assert held.open_visit is not None
    assert held.of("lunge").hidden
    assert held.of("lunge").of(held.episode.side) is None
    assert visits.minutes_gone(now.care, now.visit) == pytest.approx(20)
    now.line("lunge l 10.2 r 5.9")
    assert {one.taken.on.day for one in now.kept} == {25, 26}


def test_the_hour_that_comes_twice_is_not_counted_twice(tmp_path: Path) -> None:
    amsterdam = ZoneInfo("Europe/Amsterdam")
    now = begun(tmp_path, datetime(2026, 10, 25, 2, 50, tzinfo=amsterdam))
    now.clock.move(20 * 60)
    assert now.clock.now().local.hour == 2  # 02:10 for the second time
    assert now.clock.now().local < now.visit.started.local
    assert visits.minutes_gone(now.care, now.visit) == pytest.approx(20)
    assert visits.start_visit(now.care, now.episode).id == now.visit_id


def test_the_hour_that_is_left_out_is_not_counted(tmp_path: Path) -> None:
    now = begun(tmp_path, datetime(2026, 3, 29, 1, 50, tzinfo=BRUSSELS))
    now.clock.move(20 * 60)
    assert now.clock.now().local.hour == 3
    assert visits.minutes_gone(now.care, now.visit) == pytest.approx(20)


def test_a_visit_left_open_yesterday_ends_with_its_last_act_when_the_next_begins(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.clock.move(300)
    now.line("lunge l 10.2 r 4.8")
    last = now.clock.now()
    now.clock.move(24 * 3600)
    assert visits.open_visit(now.care, now.episode) is None
    assert not standing(now.care, now.episode.id).of("lunge").hidden
    today = visits.start_visit(now.care, now.episode)
    assert today.id != now.visit_id
    assert now.visit.ended == last
    with pytest.raises(CareFault, match="this visit has ended: start a new one"):
        now.says("pain 2")


# the end


def test_nothing_is_saved_in_a_visit_that_ended_in_another_window(tmp_path: Path) -> None:
    now = begun(tmp_path)
    subject = measuring.subject_of(now.care, now.visit)
    entry = measuring.read_line(now.care, subject, "girth l 51 r 52")
    visits.end_visit(now.care, now.visit)
    with pytest.raises(CareFault, match="this visit has ended"):
        measuring.save(now.care, subject, entry)


def test_a_bout_left_paused_is_told_first(tmp_path: Path) -> None:
    now = begun(tmp_path)
    live = walked(now.bout("mobilisation_belt"), now.clock, 80)
    live.leave()
    (left,) = now.view.unfinished
    assert left.says == "mobilisation, belt kept paused at set 2"
    assert now.line_of("mobilisation") == ("kept paused", False)
    now.bout("hold_firm")
    assert now.view.unfinished[1].says == "single-leg hold opened, nothing done yet"


def test_the_last_visit_is_told_with_its_days_and_untreated_values(tmp_path: Path) -> None:
    now = begun(tmp_path)
    first = now.view
    assert first.last_visit is None
    now.line("lunge l 10.2 r 4.8")
    now.line("lunge l 10.3 r 6.0")
    visits.end_visit(now.care, now.visit)
    now.clock.move(7 * 24 * 3600)
    now.visit_id = visits.start_visit(now.care, now.episode).id
    last = now.view.last_visit
    assert last is not None
    assert last.days == 7
    ((measure, taken),) = last.values
    assert measure.id == "lunge"
    assert [one.value for one in taken] == [10.2, 4.8]
