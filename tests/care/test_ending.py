"""The end of a visit keeps what is foreseen then, both or neither, and taking it back takes that back too."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from store.care.care import Care
from store.care.ending import end_visit, open_again
from store.care.faults import CareFault, FaultKind, RecordFault
from store.care.visits import start_visit
from store.knowledge.planned import ForecastMade
from store.record import amendments, forecasts
from tests.care.begun import Begun, begun


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Begun]:
    """A fourth visit in hand, the lunge gaining and the girth falling."""
    found = begun(tmp_path)
    for days, lunge, girth in ((2, "5.0", "53.4"), (5, "6.1", "52.9"), (5, "6.9", "52.7"), (6, "7.4", "52.6")):
        end_visit(found.care, found.visit, ())
        found.clock.move(days * 86_400)
        found.visit_id = start_visit(found.care, found.episode).id
        for line in (f"lunge 11.0 {lunge}", "lunge 11.0 9.0 after", f"girth 52.0 {girth}"):
            found.line(line)
    yield found
    found.care.close()


def kept(room: Begun) -> list[ForecastMade]:
    return forecasts.forecasts_of_visit(room.care.record, room.visit_id)


def test_what_was_measured_is_foreseen_at_the_end(room: Begun) -> None:
    ended = end_visit(room.care, room.visit)
    assert ended.ended == room.care.clock.now()
    assert sorted(one.measure for one in kept(room)) == ["girth", "lunge"]
    assert all(one.made == ended.ended for one in kept(room))


def test_only_what_is_named(room: Begun) -> None:
    end_visit(room.care, room.visit, ["lunge", "heel_raise"])
    assert [one.measure for one in kept(room)] == ["lunge"]


def test_a_visit_that_goes_on_has_no_forecast_and_ends_with_a_new_one(room: Begun) -> None:
    end_visit(room.care, room.visit)
    first = {one.id for one in kept(room)}
    opened = open_again(room.care, room.visit)
    assert opened.ended is None
    assert kept(room) == []
    (was,) = amendments.amendments_of(room.care.record, "forecast_made", min(first))
    assert was.because == "the visit goes on"
    end_visit(room.care, room.visit)
    assert len(kept(room)) == 2
    assert first.isdisjoint(one.id for one in kept(room))


def test_an_ended_one_is_not_ended_twice(room: Begun) -> None:
    end_visit(room.care, room.visit)
    with pytest.raises(CareFault, match="has ended"):
        end_visit(room.care, room.visit)
    assert len(kept(room)) == 2


def test_a_forecast_that_cannot_be_kept_leaves_the_visit_open(
    room: Begun, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> None:
        raise RecordFault(FaultKind.FULL, "The disk is full.")

    monkeypatch.setattr(type(forecasts.FORECAST), "add", full)
    with pytest.raises(RecordFault):
        end_visit(room.care, room.visit)
    monkeypatch.undo()
    assert room.visit.ended is None
    assert kept(room) == []


def test_a_first_visit_without_a_value_ends_all_the_same(tmp_path: Path) -> None:
    fresh = begun(tmp_path)
    care: Care = fresh.care
    end_visit(care, fresh.visit)
    assert forecasts.every_forecast(care.record) == []
    care.close()
