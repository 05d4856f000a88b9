"""What was measured is put right or taken out, also in an earlier visit, and what stood before is kept."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.care import noting, visits
from store.care.corrections import corrections, earlier_versions
from store.care.faults import CareFault, EntryError
from store.care.putting_right import SIGNED, anew, of_measure, put_back, put_right, says_of, take_out, typed
from store.care.standing import standing
from store.knowledge.kinds import Measure
from store.knowledge.words import Reading, Side
from store.record import readings
from tests.care.begun import Begun, begun
from tests.screens.made import opened, orienteer


def ended(tmp_path: Path, line: str = "lunge l 10.2 10.4 10.3 r 4 5.5 17") -> Begun:
    """A visit of yesterday with a typing error in it."""
    now = begun(tmp_path)
    now.line(line)
    visits.end_visit(now.care, now.visit)
    now.clock.move(86_400)
    return now


def lunge(now: Begun) -> Measure:
    return now.care.knowledge.measures["lunge"]


def right_of(now: Begun) -> Reading:
    return next(one for one in of_measure(now.care, now.episode.person, lunge(now)) if one.side is Side.RIGHT)


def test_a_value_of_an_earlier_visit_is_put_right_and_what_stood_is_kept(tmp_path: Path) -> None:
    now = ended(tmp_path)
    wrong = right_of(now)
    assert typed(wrong, lunge(now)) == "4 5.5 17"
    done = put_right(now.care, wrong, anew(now.care, wrong, lunge(now), "4 5.5 7"))
    assert done.says == "lunge right: was 8.8, now 5.5"
    held = standing(now.care, now.episode.id).of("lunge")
    assert held.of(Side.RIGHT) == done.now
    assert (done.now.taken, done.now.visit, done.now.trials) == (wrong.taken, now.visit_id, (4.0, 5.5, 7.0))
    told = earlier_versions(now.care, done.now, lunge(now))
    assert [
        one.says.startswith("was right 8.8 before until") and "put right by AB" in one.says for one in told
    ] == [True]


def test_undo_gives_back_what_stood(tmp_path: Path) -> None:
    now = ended(tmp_path)
    wrong = right_of(now)
    done = put_right(now.care, wrong, anew(now.care, wrong, lunge(now), "unable"))
    assert done.now.value is None
    assert put_back(now.care, done, lunge(now)) == "lunge right is 8.8 again"
    assert right_of(now).trials == wrong.trials
    with pytest.raises(CareFault, match="changed since"):
        put_back(now.care, done, lunge(now))


def test_two_corrections_of_one_reading_are_undone_one_by_one(tmp_path: Path) -> None:
    now = ended(tmp_path)
    wrong = right_of(now)
    first = put_right(now.care, wrong, anew(now.care, wrong, lunge(now), "6"))
    second = put_right(now.care, first.now, anew(now.care, first.now, lunge(now), "7"))
    put_back(now.care, second, lunge(now))
    assert right_of(now).trials == (6.0,)
    put_back(now.care, first, lunge(now))
    assert right_of(now).trials == wrong.trials


def test_what_is_taken_out_is_told_as_taken_back_and_comes_back_by_undo(tmp_path: Path) -> None:
    now = ended(tmp_path)
    done = take_out(now.care, right_of(now), lunge(now))
    assert done.says == "took out lunge right 8.8"
    assert [one.side for one in of_measure(now.care, now.episode.person, lunge(now))] == [Side.LEFT]
    held = standing(now.care, now.episode.id)
    assert "taken back: it was 8.8" in corrections(now.care, held, lunge(now))[0].says
    put_back(now.care, done, lunge(now))
    assert right_of(now).retracted is None


@pytest.mark.parametrize(
    ("text", "fault", "says"),
    [
        ("4 5.5 17", CareFault, "nothing was changed"),
        ("4 left 5", CareFault, "this one side only"),
        ("left 5", CareFault, "this one side only"),
        ("5 tape", CareFault, "type the values only"),
        ("", EntryError, "nothing to read"),
        ("99", EntryError, "from 0 to 30 cm"),
        ("five", EntryError, "not a word of this line"),
    ],
)
def test_what_is_no_value_of_that_side_is_refused(
    tmp_path: Path, text: str, fault: type[Exception], says: str
) -> None:
    now = ended(tmp_path)
    wrong = right_of(now)
    with pytest.raises(fault, match=says):
        put_right(now.care, wrong, anew(now.care, wrong, lunge(now), text))
    assert right_of(now) == wrong


def test_an_unusual_value_asks_as_it_does_when_it_is_measured(tmp_path: Path) -> None:
    now = ended(tmp_path)
    assert anew(now.care, right_of(now), lunge(now), "24").asks


def test_what_is_blind_is_not_listed_and_the_newest_stands_first(tmp_path: Path) -> None:
    now = ended(tmp_path)
    second = visits.start_visit(now.care, now.episode)
    now.visit_id = second.id
    now.line("lunge l 10 10 10 r 5 5 5")
    listed = of_measure(now.care, now.episode.person, lunge(now))
    assert {one.visit for one in listed} != {second.id}
    assert second.id not in {one.visit for one in listed}
    now.clock.move(60)
    now.line("lunge l 11 11 11 r 6 6 6 after")
    listed = of_measure(now.care, now.episode.person, lunge(now))
    assert [one.value for one in listed] == [
        11.0,
        6.0,
        10.0,
        5.0,
        pytest.approx(10.3),
        pytest.approx(8.83, abs=0.01),
    ]
    assert says_of(listed[1], lunge(now)) == "right 6.0 from 6 6 6, AB"


def test_a_signed_note_is_told_of(tmp_path: Path) -> None:
    now = ended(tmp_path)
    noting.sign(now.care, now.visit_id)
    assert SIGNED in take_out(now.care, right_of(now), lunge(now)).says


def test_a_value_that_was_timed_can_be_taken_out_only(tmp_path: Path) -> None:
    now = ended(tmp_path)
    timed = right_of(now)._replace(bout="a bout")
    with pytest.raises(CareFault, match="it can be taken out"):
        anew(now.care, timed, lunge(now), "5")


def test_every_reading_of_a_course_is_listed(tmp_path: Path) -> None:
    care, clock = opened(tmp_path)
    episode = orienteer(care, clock)
    listed = of_measure(care, episode.person, care.knowledge.measures["lunge"])
    assert len(listed) == len(readings.readings_of_person(care.record, episode.person, "lunge")) == 10
    days = [one.taken.on for one in listed]
    assert days == sorted(days, reverse=True)
