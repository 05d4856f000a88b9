"""What the record chooses of a person's readings says as much as all of them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from store.care.measured import course_of
from store.knowledge.time import SetClock, Stamp
from store.knowledge.words import Moment, Person, Reading, Side
from store.record.courses import readings_of_courses
from store.record.file import Record, open_record
from store.record.people import add_person
from store.record.readings import add_readings

START = datetime(2026, 9, 1, 9, 0, tzinfo=UTC)
TAKEN = st.tuples(
    st.integers(0, 9),
    st.integers(0, 3),
    st.sampled_from([None, Moment.BEFORE, Moment.AFTER]),
    st.sampled_from(list(Side)),
)


@pytest.fixture(scope="module")
def record() -> Iterator[Record]:
    with (
        TemporaryDirectory() as folder,
        open_record(Path(folder) / "r.sqlite", SetClock(START), create=True) as made,
    ):
        yield made


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(TAKEN, max_size=25, unique_by=lambda taken: taken[:2]))
def test_the_chosen_readings_make_the_same_course_as_all(
    record: Record, taken: list[tuple[int, int, Moment | None, Side]]
) -> None:
    person = add_person(record, Person(record.new_id(), "A.B."))
    every = add_readings(
        record,
        [
            Reading(record.new_id(), person.id, "lunge", "cm", _at(day, hour), side, 5.0 + hour, moment=moment)
            for day, hour, moment, side in taken
        ],
    )
    chosen, _ = readings_of_courses(record, person.id, date(2026, 9, 1))
    for side in Side:
        assert course_of(one for one in chosen if one.side is side) == course_of(
            one for one in every if one.side is side
        )


def _at(day: int, hour: int) -> Stamp:
    return Stamp.of(START + timedelta(days=day, hours=hour))
