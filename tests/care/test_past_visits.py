"""What earlier visits held, read back whole: said, measured, timed; nothing that is blind, and no empty visit."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.bout.state import SetResult, Shift
from store.care import visits
from store.care.past_visits import PastVisit, past_visit, past_visits, visit_before, visits_that_count
from store.care.past_words import in_lines, line_says, sections_of, set_says, title
from store.care.timing import planned
from store.care.undoing import undo
from store.knowledge.words import Side, Step
from store.record import visits as kept_visits
from tests.care.begun import Begun, begun, walked

DAY = 24 * 3600


def whole(now: Begun) -> PastVisit:
    return past_visit(now.care, now.visit, now.episode)


def lines(now: Begun) -> list[str]:
    return in_lines(sections_of(whole(now)))


def next_visit(now: Begun, days: int = 7) -> None:
    now.clock.move(days * DAY)
    now.visit_id = visits.start_visit(now.care, now.episode).id


# what a visit held


def test_what_was_said_measured_and_timed_is_read_back(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 2 worst 4 morning 1 gaveway 1 home 5/7 confidence 6 consent y")
    now.line("lunge l 10.2 10.2 10.2 r 4.8 4.8 4.8")
    now.line("girth l 51 r 52 tape")
    live = walked(now.bout("mobilisation_belt"), now.clock, 80)
    live.pain(0)
    live.end()
    now.line("lunge l 10.3 10.3 10.3 r 6.9 6.9 6.9")
    now.clock.move(60)
    visits.end_visit(now.care, now.visit)
    assert lines(now) == [
        "pain: now 2, worst 4, next morning 1",
        "gave way: 1 time",
        "confidence: 6 of 10",
        "home programme: 5 of 7 days planned",
        "consent: given at 10:38",
        "lunge: left 10.2, right 4.8 cm; re-test left 10.3, right 6.9 cm, taken blind; "
        "left +0.1, within measurement error; right +2.1, clear gain",
        "girth: left 51.0 in tape, right 52.0 cm in tape",
        "mobilisation, belt: right, 1 of 3 sets, 10 reps each, ended early; set 1: pain 0",
    ]
    assert title(whole(now)) == "Wed 25 Nov 2026 10:38, week 39, clinic, examiner AB, 2 min"
    assert line_says(now.visit, now.episode, goes_on=False) == "week 39, AB"
    assert line_says(now.visit._replace(ended=None), now.episode, goes_on=True) == "week 39, open"


def test_an_ended_visit_in_which_little_was_done_says_what_was_not(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("consent n")
    assert lines(now) == ["consent: refused", "nothing measured", "nothing timed"]
    assert title(whole(now)).endswith("examiner AB, still open")


def test_pauses_and_a_bout_left_paused_are_told(tmp_path: Path) -> None:
    now = begun(tmp_path)
    live = walked(now.bout("mobilisation_belt"), now.clock, 20)
    live.pause_or_resume()
    now.clock.move(30)
    live.pause_or_resume()
    for _ in range(70):
        now.clock.move(1)
        live.tick()
    live.end()
    (bout,) = whole(now).bouts
    assert (bout.pauses, bout.early, bout.row.ended is not None) == (1, True, True)
    walked(now.bout("hold_firm"), now.clock, 5).leave()
    assert lines(now)[-1] == "single-leg hold: left and right, 0 of 6 sets, kept paused"


@pytest.mark.parametrize(
    ("activity", "result", "says"),
    [
        ("mobilisation_belt", SetResult(0, Side.RIGHT, 1, reps=6, pain_during=(1, 3), pain=4),
         "6 reps of 10, pain during 1 3, pain after 4, cut short"),
        ("hold_firm", SetResult(0, Side.RIGHT, 1, worked_ms=30000, faults=1, control=1, complete=True),
         "30 s, 1 fault, control 1, large corrections"),
        ("direction_shifts", SetResult(0, Side.RIGHT, 1, complete=True, shifts=(
            Shift("forward"), Shift("back", False), Shift("in", False), Shift("back", False))),
         "1 of 4 in control, lost: back 2, in 1"),
    ],
)  # fmt: skip
def test_a_set_in_words(tmp_path: Path, activity: str, result: SetResult, says: str) -> None:
    known = begun(tmp_path).care.knowledge.activities[activity]
    assert set_says(planned(known, Side.RIGHT), result) == says


def test_a_bout_that_this_copy_cannot_read_says_why_and_the_rest_stands(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 2")
    live = walked(now.bout("mobilisation_belt"), now.clock, 10)
    now.care.record.db.execute(
        "INSERT INTO bout_event SELECT bout, 999, 'levitated', at_ms, wall_at, wall_offset_min, data "
        "FROM bout_event WHERE bout = ? LIMIT 1",
        (live.row.id,),
    )
    assert "mobilisation, belt: This bout holds 'levitated', which this version does not know." in lines(now)
    assert "pain: now 2" in lines(now)


# which visits count


def test_visits_come_newest_first_and_one_that_was_only_opened_is_none(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 4")
    first = now.visit_id
    next_visit(now)  # opened and left
    next_visit(now)
    empty = [now.view.empty]
    now.line("lunge l 10.2 r 5.8")
    assert [*empty, now.view.empty] == [True, False]
    assert [one.id for one in visits_that_count(now.care, now.episode)] == [now.visit_id, first]
    assert [one.visit.id for one in past_visits(now.care, now.episode, 1)] == [now.visit_id]
    before = visit_before(now.care, now.visit)
    assert before is not None
    assert before.visit.id == first
    last = now.view.last_visit
    assert last is not None
    assert (last.visit.id, last.days) == (first, 14)


def test_an_empty_visit_of_today_is_the_same_one_when_it_is_opened_again(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.clock.move(600)
    assert visits.start_visit(now.care, now.episode).id == now.visit_id
    assert visits_that_count(now.care, now.episode) == []


def test_a_visit_of_which_all_was_taken_back_is_none(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.says("pain 4")
    now.line("girth l 51 r 52")
    undo(now.care, now.visit)
    assert len(visits_that_count(now.care, now.episode)) == 1
    undo(now.care, now.visit)
    assert visits_that_count(now.care, now.episode) == []


# blindness


def test_while_a_re_test_is_blind_the_visit_in_hand_hides_what_came_before_it(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("lunge l 10.2 r 4.8")
    past = whole(now)
    assert past.hidden == {"lunge"}
    assert past.readings == ()
    assert "lunge: today's values are hidden until the re-test is in" in lines(now)
    now.line("lunge l 10.3 r 6.9")
    assert len(whole(now).readings) == 4
    assert any("right 4.8 cm; re-test" in line for line in lines(now))


def test_a_test_that_was_timed_is_hidden_with_its_value(tmp_path: Path) -> None:
    now = begun(tmp_path)
    retest = Step("stance_retest", "retest", "stance_open")
    planned_so = now.visit._replace(plan=(*now.visit.plan, retest))
    kept_visits.revise_visit(now.care.record, planned_so, by="AB", because="one step more")
    live = walked(now.bout("stance_open_test"), now.clock, 20)
    live.press()
    live.end()
    (bout,) = whole(now).bouts
    assert (bout.hidden, bout.sets, bout.done) == (True, (), None)
    assert lines(now)[-1].endswith("hidden until the re-test is in")
    now.line("stance_open l 45 r 17.3 after")
    assert [one.seconds for one in whole(now).bouts[0].sets] == [17]


def test_a_visit_left_open_on_an_earlier_day_hides_nothing_any_more(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("lunge l 10.2 r 4.8")
    now.clock.move(2 * DAY)
    assert len(whole(now).readings) == 2
    assert title(whole(now)).endswith("not ended")
