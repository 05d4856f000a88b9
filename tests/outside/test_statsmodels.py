"""Against a reference library: the filter, for one fixed rate, on a grid of days; and kappa."""

from __future__ import annotations

import random
from itertools import pairwise
from math import exp

import pytest

from store.reckon.filter import Sighting, State, filtered, smoothed
from store.reckon.reliability import Weights, kappa
from tests.outside.published import COHEN, FLEISS, GRADED_IN_THREE

# statsmodels 0.15.0, used in tests only. Level and end; a step of a day keeps exp(-1 / T) of the way to the
# end.
CONSTANT, NOISE_VAR, SEM = 14.0, 0.25, 0.69
START: State = (4.0, 10.5, 6.0, 0.2, 0.9)
SEEN = ((0, 4.1), (3, 5.0), (4, 5.6), (11, 7.9), (20, 8.1), (34, 9.7))


@pytest.fixture(scope="module")
def theirs():  # type: ignore[no-untyped-def]  # noqa: ANN201 - the library ships no types
    """A level on its way to an end that stands still, in steps of a day."""
    import numpy as np  # these take two seconds, which every process of a run would pay at its collection
    from statsmodels.tsa.statespace.mlemodel import MLEModel

    keep = exp(-1 / CONSTANT)
    grid = np.full(SEEN[-1][0] + 1, np.nan)
    for day, value in SEEN:
        grid[day] = value
    model = MLEModel(
        grid,
        k_states=2,
        k_posdef=1,
        initialization="known",
        initial_state=np.array(START[:2]),
        initial_state_cov=np.array([[START[2], START[3]], [START[3], START[4]]]),
    )
    model["design"] = np.array([[1.0, 0.0]])
    model["transition"] = np.array([[keep, 1 - keep], [0.0, 1.0]])
    model["selection"] = np.array([[1.0], [0.0]])
    model["state_cov"] = np.array([[NOISE_VAR * (1 - keep * keep)]])
    model["obs_cov"] = np.array([[SEM * SEM]])
    return model.ssm.smooth()


def test_filtered_smoothed_and_likelihood_agree(theirs) -> None:  # type: ignore[no-untyped-def]  # noqa: ANN001 - the library ships no types
    keeps = [
        1.0,
        *(exp(-(later - earlier) / CONSTANT) for (earlier, _), (later, _) in pairwise(SEEN)),
    ]
    score, after = filtered([Sighting(day, value, SEM) for day, value in SEEN], keeps, NOISE_VAR, START)
    hindsight = smoothed(after, keeps, NOISE_VAR)
    for (day, _), ours, later in zip(SEEN, after, hindsight, strict=True):
        level, end, level_var, covariance, end_var = ours
        state = theirs.filtered_state[:, day]
        spread = theirs.filtered_state_cov[:, :, day]
        assert [level, end] == pytest.approx(list(state), rel=1e-9)
        assert [level_var, covariance, end_var] == pytest.approx(
            [spread[0, 0], spread[0, 1], spread[1, 1]], rel=1e-9
        )
        assert list(later[:2]) == pytest.approx(list(theirs.smoothed_state[:, day]), rel=1e-9)
    assert score == pytest.approx(float(theirs.llf_obs.sum()), rel=1e-9)


def _graded() -> list[tuple[tuple[int, ...], ...]]:
    """Published tables, and made-up ones of two to five grades that were all given by both."""
    chance = random.Random(7)
    made = [
        tuple(tuple(chance.choice((0, 1, 2, 9, 40)) for _ in range(grades)) for _ in range(grades))
        for grades in (2, 3, 4, 5)
        for _ in range(8)
    ]
    used = [table for table in made if all(map(any, table)) and all(map(any, zip(*table, strict=True)))]
    assert len(used) > 20
    return [GRADED_IN_THREE, COHEN, FLEISS, ((20, 5), (10, 15)), *used]


@pytest.mark.parametrize(("weights", "theirs"), [("none", None), ("linear", "linear"), ("quadratic", "quadratic")])
def test_kappa_and_its_standard_error_agree(weights: Weights, theirs: str | None) -> None:
    from statsmodels.stats.inter_rater import cohens_kappa  # as above: not at collection

    for table in _graded():
        found, wanted = kappa(table, weights), cohens_kappa(table, wt=theirs)
        assert found.value == pytest.approx(wanted.kappa, abs=1e-12), table
        assert found.standard_error == pytest.approx(wanted.std_kappa, abs=1e-9), table
