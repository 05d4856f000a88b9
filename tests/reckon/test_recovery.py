"""What must hold of the forecast's arithmetic, whatever its figures."""

from __future__ import annotations

import random
from math import exp, sqrt
from statistics import fmean

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store.reckon.filter import Sighting, filtered, moved
from store.reckon.prior import DEFAULT
from store.reckon.recovery import Outlook, Reference, outlook, worn

SEM, SPREAD = 0.69, 5.5
SHARES = (0.1, 0.5, 0.9)
SEEN = (Sighting(3, 4.1, SEM), Sighting(8, 5.6, SEM), Sighting(12, 6.0, SEM), Sighting(19, 7.7, SEM))
REFERENCE = Reference(11.0, 0.3)


def course(*seen: Sighting, reference: Reference = REFERENCE, spread: float = SPREAD) -> Outlook:
    return outlook(seen or SEEN, reference, spread)


def test_the_order_of_readings_does_not_matter() -> None:
    assert course(*reversed(SEEN)).quantiles(33, SHARES) == course().quantiles(33, SHARES)


@pytest.mark.parametrize("times", [0.01, 10.0])
def test_another_unit_changes_nothing_but_the_unit(times: float) -> None:
    scaled = course(
        *(Sighting(one.day, one.value * times, one.sem * times) for one in SEEN),
        reference=Reference(REFERENCE.value * times, REFERENCE.sem * times),
        spread=SPREAD * times,
    )
    assert scaled.quantiles(33, SHARES) == pytest.approx([each * times for each in course().quantiles(33, SHARES)])
    assert scaled.first_days(8 * times, SHARES, 19) == course().first_days(8, SHARES, 19)


def test_a_very_large_error_gives_back_the_prior() -> None:
    blurred = course(Sighting(3, 100.0, 1e6), Sighting(9, -100.0, 1e6))
    other = course(Sighting(3, 0.0, 1e6), Sighting(9, 5.0, 1e6))
    assert blurred.quantiles(30, SHARES) == pytest.approx(other.quantiles(30, SHARES), abs=1e-3)


def test_an_error_of_next_to_nothing_gives_back_the_reading() -> None:
    sharp = course(Sighting(3, 4.0, 1e-4), Sighting(9, 5.0, 1e-4))
    assert sharp.quantiles(9, (0.5,))[0] == pytest.approx(5.0, abs=1e-3)


@given(
    st.floats(2, 80), st.floats(0, 30), st.floats(0, 100), st.floats(0.1, 60), st.floats(0.1, 0.9), st.floats(0, 4)
)
def test_splitting_a_gap_changes_nothing(
    constant: float, ramp: float, day: float, gap: float, part: float, noise: float
) -> None:
    state = (5.0, 10.0, 0.8, 0.2, 1.1)
    between = day + gap * part

    def go(start: float, end: float, at: tuple[float, float, float, float, float]) -> tuple[float, ...]:
        return moved(at, exp(-(worn(end, ramp) - worn(start, ramp)) / constant), noise)

    halfway = moved(state, exp(-(worn(between, ramp) - worn(day, ramp)) / constant), noise)
    assert go(between, day + gap, halfway) == pytest.approx(go(day, day + gap, state), rel=1e-9, abs=1e-9)


def test_a_value_at_the_cap_is_a_lower_bound() -> None:
    low = Sighting(3, 4.0, SEM)
    at_the_cap = course(low, Sighting(9, 6.0, SEM, at_least=True)).quantiles(9, (0.5,))[0]
    measured = course(low, Sighting(9, 6.0, SEM)).quantiles(9, (0.5,))[0]
    assert at_the_cap > measured
    unsurprising = course(low, Sighting(9, 2.0, SEM, at_least=True)).quantiles(20, SHARES)
    assert unsurprising == pytest.approx(course(low).quantiles(20, SHARES), abs=0.15)


@settings(max_examples=25)
@given(st.lists(st.tuples(st.integers(0, 60), st.floats(0, 20)), min_size=1, max_size=8))
def test_any_readings_give_a_course_in_order(readings: list[tuple[int, float]]) -> None:
    found = course(*(Sighting(day, value, SEM) for day, value in readings))
    low, middle, high = found.quantiles(found.last_day + 14, SHARES)
    assert low < middle < high
    assert sum(path.weight for path in found.paths) == pytest.approx(1)


def test_the_day_of_a_line_is_the_first_with_that_chance() -> None:
    found = course()
    low, median, high = found.first_days(8.5, SHARES, 19)
    assert low is not None
    assert median is not None
    assert low < median
    for day, chance in ((low, 0.1), (median, 0.5)):
        assert found.chance_past(8.5, day) >= chance
        assert day == 19 or found.chance_past(8.5, day - 1) < chance
    assert high is None or found.chance_past(8.5, high) >= 0.9
    assert found.first_days(20.0, SHARES, 19) == (None, None, None)
    assert found.first_days(1.0, SHARES, 19) == (19, 19, 19)


def test_the_past_is_smoother_than_its_readings() -> None:
    past = course().past()
    assert len(past) == len(SEEN)
    assert past[-1] == pytest.approx(fmean(_means(course())), abs=1.0)
    assert max(past) - min(past) < max(one.value for one in SEEN) - min(one.value for one in SEEN)


def _means(found: Outlook) -> list[float]:
    return [path.at(found.last_day)[0] for path in found.paths]


def test_calibrated_on_its_own_prior() -> None:
    """Simulation-based calibration: people drawn from the prior fall evenly into what is forecast of them."""
    chance = random.Random(20261125)
    bins = [0] * 10
    people = 300
    for _ in range(people):
        day, true, seen = _drawn(chance)
        rank = 1 - outlook(seen, REFERENCE, SPREAD).chance_past(true, day)
        bins[min(int(rank * 10), 9)] += 1
    expected = people / 10
    chi_square = sum((count - expected) ** 2 / expected for count in bins)
    assert chi_square < 21.67  # chi-square with 9 degrees of freedom, 0.99: standard tables


def _drawn(chance: random.Random) -> tuple[float, float, list[Sighting]]:
    """A person from the model's own prior: the day of the forecast, the true value then, and four readings."""
    rate = chance.choices(DEFAULT.rates, [exp(one.log_weight) for one in DEFAULT.rates])[0]
    ramp = chance.choices(DEFAULT.ramps, [one.weight for one in DEFAULT.ramps])[0].value
    noise = chance.choices(DEFAULT.noises, [one.weight for one in DEFAULT.noises])[0].value * SPREAD
    residual = chance.choices(DEFAULT.residuals, [one.weight for one in DEFAULT.residuals])[0]
    held = chance.gauss(REFERENCE.value, REFERENCE.sem)
    end = held - chance.gauss(residual.middle, residual.sd) * SPREAD
    level = held - chance.gauss(DEFAULT.gap, DEFAULT.gap_sd) * SPREAD
    day = float(chance.randint(2, 7))
    seen = []
    for number in range(5):
        if number:
            later = day + chance.randint(2, 7) + (10 if number == 4 else 0)
            keep = exp(-(worn(later, ramp) - worn(day, ramp)) / rate.days)
            level = keep * level + (1 - keep) * end + chance.gauss(0, noise * sqrt(1 - keep * keep))
            day = later
        if number < 4:
            seen.append(Sighting(day, level + chance.gauss(0, SEM), SEM))
    return day, level, seen


def test_refusals() -> None:
    with pytest.raises(ValueError, match="at least one"):
        outlook([], REFERENCE, SPREAD)
    with pytest.raises(ValueError, match="above nought"):
        course(Sighting(1, 2.0, 0.0))
    with pytest.raises(ValueError, match="above nought"):
        course(spread=0.0)


def test_more_of_the_same_reading_makes_it_surer() -> None:
    once = course(Sighting(5, 6.0, SEM)).quantiles(5, SHARES)
    thrice = course(*[Sighting(5, 6.0, SEM)] * 3).quantiles(5, SHARES)
    assert thrice[2] - thrice[0] < once[2] - once[0]
    assert filtered([], [], 0.0, (0.0, 0.0, 1.0, 0.0, 1.0)) == (0.0, [])
