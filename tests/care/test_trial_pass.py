from __future__ import annotations

from pathlib import Path

import pytest

from store.care import visits
from store.care.faults import CareFault
from store.care.trial_pass import Doubt, TrialPass, start
from store.entry.errors import EntryError
from store.knowledge.words import Moment, Side, Status
from store.record.faults import FaultKind, RecordFault
from tests.care.begun import Begun, begun


def taken(now: Begun, *texts: str, measure: str = "lunge", moment: Moment | None = None) -> TrialPass:
    one = start(now.care, now.visit_id, measure, moment)
    for text in texts:
        one.enter(text)
    return one


def kept(now: Begun) -> list[tuple[str | None, tuple[float, ...]]]:
    return [(reading.side, reading.trials) for reading in now.kept]


def test_a_side_is_on_disk_as_soon_as_it_is_whole(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = taken(now, "10.2", "10.3")
    assert now.kept == []
    one.enter("10.1")
    assert kept(now) == [("left", (10.2, 10.3, 10.1))]
    one.enter("4.8 4.9 4.7")
    assert one.done
    assert one.says() == "saved lunge left and right, hidden until the re-test is in"


def test_a_kept_side_changes_with_each_key(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = taken(now, "10.2 10.3 10.1")
    one.back()
    assert kept(now) == [("left", (10.2, 10.3))]
    one.enter("9.9")
    assert kept(now) == [("left", (10.2, 10.3, 9.9))]
    one.back()
    one.back()
    one.back()
    assert kept(now) == []


def test_leaving_keeps_what_is_there_as_fewer_trials_and_says_so(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = taken(now, "51 51.1", measure="girth")
    one.swap()
    one.enter("53")
    one.leave()
    assert kept(now) == [("left", (51.0, 51.1)), ("right", (53.0,))]
    assert one.says() == (
        "saved girth left 51.1, right 53.0 cm; left with 2 of 3 trials; right with 1 of 3 trials"
    )


def test_leaving_without_anything_keeps_and_says_nothing(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = taken(now)
    one.leave()
    assert (now.kept, one.says()) == ([], "")


def test_it_goes_on_where_it_was_left(tmp_path: Path) -> None:
    now = begun(tmp_path)
    taken(now, "51 51.1", measure="girth").leave()
    again = taken(now, measure="girth")
    assert again.trials.current.values == (51.0, 51.1)
    again.enter("51.2")
    assert kept(now) == [("left", (51.0, 51.1, 51.2))]
    assert again.says() == "saved girth left 51.1 cm"


def test_going_on_blind_does_not_show_what_was_taken_before(tmp_path: Path) -> None:
    now = begun(tmp_path)
    taken(now, "10.2 10.3 10.1", "4.8").leave()
    again = taken(now, moment=Moment.BEFORE)
    assert [again.hides(side) for side in again.trials.sides] == [True, True]
    again.enter("4.9")
    assert [again.hides(side) for side in again.trials.sides] == [True, False]


def test_unable_is_kept_as_unable(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = taken(now, "10.2 10.3 10.1")
    one.unable()
    assert [reading.status for reading in now.kept] == [Status.MEASURED, Status.UNABLE]
    assert one.done


def test_perhaps_swapped_is_asked_once_and_swapped_by_one_key(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = taken(now, "4.8 4.9 4.7", "10.2 10.3 10.1")
    assert (one.asks_swap, one.done) == (True, False)
    one.swap()
    assert (one.asks_swap, one.done) == (False, True)
    assert sorted(kept(now)) == [("left", (10.2, 10.3, 10.1)), ("right", (4.8, 4.9, 4.7))]


def test_or_it_was_right_as_it_was(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = taken(now, "4.8 4.9 4.7", "10.2 10.3 10.1")
    one.sure()
    assert one.done
    assert kept(now) == [("left", (4.8, 4.9, 4.7)), ("right", (10.2, 10.3, 10.1))]


def test_a_blind_retest_that_is_put_right_stays_blind(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("lunge l 10.2 10.2 10.2 r 4.8 4.8 4.8")
    one = taken(now, "5.8 5.9 5.7", "10.2 10.3 10.1", moment=Moment.AFTER)
    one.swap()
    after = [reading for reading in now.kept if reading.moment is Moment.AFTER]
    assert [reading.blind for reading in after] == [True, True]
    assert one.says() == "saved lunge left 10.2, right 5.8 cm: right +1.0, within measurement error"


def test_the_unusual_is_asked_again_and_what_cannot_be_read_changes_nothing(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = taken(now, measure="girth")
    with pytest.raises(Doubt):
        one.enter("79")
    one.enter("79", sure=True)
    with pytest.raises(EntryError):
        one.enter("790")
    assert one.trials.current.values == (79.0,)


def test_when_keeping_fails_the_trials_stay_and_the_next_key_keeps_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = begun(tmp_path)
    one = taken(now, "10.2 10.3")

    def full(*_: object, **__: object) -> None:
        raise RecordFault(FaultKind.REFUSED, "the disk is full")

    with monkeypatch.context() as patched:
        patched.setattr("store.care.measuring.readings.add_readings", full)
        with pytest.raises(RecordFault):
            one.enter("10.1")
    assert now.kept == []
    assert one.trials.of(Side.LEFT).values == (10.2, 10.3, 10.1)
    assert not one.done
    one.enter("4.8")
    assert kept(now) == [("left", (10.2, 10.3, 10.1))]


def test_a_measure_that_this_copy_lacks_is_refused(tmp_path: Path) -> None:
    now = begun(tmp_path)
    with pytest.raises(CareFault, match="does not know the measure moon_phase"):
        start(now.care, now.visit_id, "moon_phase")


def test_a_visit_that_ended_meanwhile_keeps_nothing(tmp_path: Path) -> None:
    now = begun(tmp_path)
    one = taken(now, "10.2")
    visits.end_visit(now.care, now.visit)
    with pytest.raises(CareFault, match="has ended"):
        one.leave()
