"""Criteria one by one, and together: what counts, what does not, and what to measure next."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from store.knowledge.criteria import Criterion, Need
from store.knowledge.kinds import Measure
from store.knowledge.time import Stamp
from store.knowledge.words import Better, Mark, Status
from store.reckon.criteria import (
    Answer,
    Evidence,
    all_met,
    answer,
    counted,
    in_the_way,
    line_of,
    measure_next,
)
from store.reckon.threshold import LineVerdict
from tests.reckon.made import CONFIDENCE, GIRTH, HEEL_RAISE, LUNGE, PAIN, STANCE, reading

TODAY = date(2026, 11, 25)
NEED_OF_LUNGE = Need(
    "any", parts=(Need("within", 2.0), Need("all", parts=(Need("at_least", 8.0), Need("within", 3.0))))
)


def criterion(id: str, need: Need) -> Criterion:
    return Criterion(id, id, id, need, "range of motion", Mark.COMMON)


def held(
    need: Need,
    value: float | None,
    of: Measure = LUNGE,
    *,
    id: str = "one",
    reference: float | None = 11.0,
    sem: float | None = 0.69,
    days_ago: int = 0,
    fresh: float | None = 14,
) -> Answer:
    taken = Stamp.of(datetime.combine(TODAY - timedelta(days=days_ago), datetime.min.time(), UTC))
    read = reading(value, of)._replace(taken=taken)
    gap_sem = None if sem is None else sem * 2**0.5
    return answer(criterion(id, need), Evidence(of, read, None, reference, sem, gap_sem, fresh), TODAY)


@pytest.mark.parametrize(
    ("reference", "line", "relative"),
    [
        (10.0, 8.0, False),  # both 10 - 2 and at least 8 say 8: the first of two equal lines stands
        (12.0, 9.0, True),  # 12 - 2 = 10, or 8 and 12 - 3 = 9: the easier is 9
        (10.5, 8.0, False),  # 8.5, or 8 and 7.5: 8
        (9.0, 7.0, True),  # 7, or 8 and 6: 7
    ],
)
def test_a_line_through_the_reference_or_a_bare_one(reference: float, line: float, relative: bool) -> None:
    found = line_of(NEED_OF_LUNGE, reference, Better.HIGHER)
    assert found is not None
    assert found.value == line
    if reference != 10.0:
        assert found.relative is relative


def test_lines_where_less_is_better() -> None:
    within = line_of(Need("within", 1.0), 52.0, Better.LOWER)
    share = line_of(Need("share", 0.8), 10.0, Better.LOWER)
    assert within is not None
    assert share is not None
    assert within.value == 53.0
    assert share.value == pytest.approx(12.5)  # 10 / 12.5 is 80 %: the other way round from a distance


def test_without_a_reference_there_is_no_line_through_it() -> None:
    assert line_of(Need("within", 2.0), None, Better.HIGHER) is None
    assert line_of(NEED_OF_LUNGE, None, Better.HIGHER) is None
    found = held(Need("share", 0.8), 20, HEEL_RAISE, reference=None)
    assert found.verdict is LineVerdict.NOT_MEASURED
    assert found.why


@pytest.mark.parametrize(
    ("value", "verdict"),
    [
        (9.0, LineVerdict.MET_CLOSE),  # exactly the line
        (8.9, LineVerdict.SHORT_CLOSE),
        (10.3, LineVerdict.CLEARLY_MET),
        (7.0, LineVerdict.CLEARLY_SHORT),
    ],
)
def test_a_gap_against_its_line(value: float, verdict: LineVerdict) -> None:
    found = held(Need("within", 2.0), value)
    assert found.line == 9.0
    assert found.verdict is verdict
    assert found.margin == pytest.approx(value - 9.0)


def test_unable_is_clearly_short_and_has_no_value() -> None:
    found = held(Need("at_least", 30), None, STANCE)
    assert found.verdict is LineVerdict.CLEARLY_SHORT
    assert found.value is None


def test_the_cap_meets_a_line_under_it() -> None:
    read = reading(45.0, STANCE, status=Status.CAP)._replace(taken=Stamp.of(datetime(2026, 11, 25, tzinfo=UTC)))
    found = answer(criterion("stance", Need("at_least", 30)), Evidence(STANCE, read), TODAY)
    assert found.verdict is LineVerdict.MET_UNKNOWN


def test_what_is_old_is_stale_and_does_not_count() -> None:
    assert held(Need("at_least", 7), 8, CONFIDENCE, sem=None, days_ago=14).verdict.met
    old = held(Need("at_least", 7), 8, CONFIDENCE, sem=None, days_ago=15)
    assert old.verdict is LineVerdict.STALE
    assert old.value == 8
    assert not old.verdict.met


def test_all_met_but_confidence_not_asked_is_incomplete() -> None:
    # Smith 2021 (PAASS): what the athlete feels is part of it.
    asked = criterion("confidence", Need("at_least", 7))
    answers = [
        held(Need("within", 2.0), 10.9, id="lunge"),
        answer(asked, Evidence(CONFIDENCE, None), TODAY),
    ]
    assert answers[0].verdict.met
    assert not all_met(answers)
    assert counted(answers) == {LineVerdict.CLEARLY_MET: 1, LineVerdict.NOT_MEASURED: 1}
    assert not all_met([])


def test_less_girth_than_the_line_is_met() -> None:
    found = held(Need("within", 1.0), 52.5, GIRTH, reference=52.0, sem=0.3)
    assert found.verdict.met
    assert found.margin == pytest.approx(0.5)


def test_heel_raises_twenty_of_twenty_five_are_eighty_per_cent() -> None:
    # 20 against 25 is 80 %: it meets a line at 80 % and fails one at 90 %.
    assert held(Need("share", 0.8), 20, HEEL_RAISE, reference=25, sem=None).verdict.met
    assert not held(Need("share", 0.9), 20, HEEL_RAISE, reference=25, sem=None).verdict.met


def test_next_is_what_would_most_change_the_decision() -> None:
    sure = held(Need("within", 2.0), 10.9, id="sure")
    unknown = answer(criterion("unknown", Need("at_least", 7)), Evidence(CONFIDENCE, None), TODAY)
    nearly = held(Need("within", 2.0), 9.9, id="nearly", days_ago=3)
    found = measure_next([sure, nearly, unknown])
    assert found is unknown
    assert measure_next([sure]) is None
    assert in_the_way([sure, held(Need("within", 2.0), 5.0, id="short")])[0].criterion.id == "short"


@pytest.mark.parametrize(
    ("before", "now", "verdict"),
    [
        (2.0, 2.0, LineVerdict.MET_UNKNOWN),
        (2.0, 3.0, LineVerdict.SHORT_UNKNOWN),
        (None, 0.0, LineVerdict.MET_UNKNOWN),
        (None, 1.0, LineVerdict.NOT_MEASURED),
    ],
)
def test_no_rise_is_told_against_the_time_before(before: float | None, now: float, verdict: LineVerdict) -> None:
    taken = Stamp.of(datetime(2026, 11, 25, tzinfo=UTC))
    earlier = None if before is None else reading(before, PAIN, visit="earlier")._replace(taken=taken)
    known = Evidence(PAIN, reading(now, PAIN)._replace(taken=taken), earlier)
    assert answer(criterion("morning", Need("no_rise")), known, TODAY).verdict is verdict
