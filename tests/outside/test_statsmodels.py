"""The filter, for one fixed rate, against the state-space model of a reference library on a grid of days."""

from __future__ import annotations

from itertools import pairwise
from math import exp

import pytest

from store.reckon.filter import Sighting, State, filtered, smoothed

# statsmodels 0.15.0, used in this test only. Level and end; a step of a day keeps exp(-1 / T) of the way to the
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
