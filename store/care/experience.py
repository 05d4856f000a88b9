"""What this file's own closed episodes teach the forecast of a measure: worked out once a run of the program."""

from __future__ import annotations

from store.care.care import Care
from store.care.standing import belongs
from store.knowledge.kinds import Measure
from store.knowledge.words import Episode, Moment, Reading, Side
from store.reckon.error import error_for
from store.reckon.filter import Sighting
from store.reckon.forecast import day_nought, sightings_of
from store.reckon.learned import LEAST_READINGS, learned
from store.reckon.prior import DEFAULT, SPREAD_SEMS, Prior
from store.reckon.recovery import Reference
from store.record import episodes, readings

NEWEST = 60
"""So many closed episodes are looked at, the newest first: people of long ago were treated in other ways."""


def prior_of(care: Care, measure: Measure) -> Prior:
    """The prior of a measure's forecast, with what the closed episodes of this file add to it."""
    if measure.id not in care.priors:
        care.priors[measure.id] = _learned(care, measure)
    return care.priors[measure.id]


def _learned(care: Care, measure: Measure) -> Prior:
    error = error_for(measure, "between")
    if error is None or not measure.paired:
        return DEFAULT
    told = [
        _course(care, episode, measure, error.sem) for _, episode in episodes.closed_episodes(care.record, NEWEST)
    ]
    return learned([one for one in told if one is not None], SPREAD_SEMS * error.sem)


def _course(care: Care, episode: Episode, measure: Measure, sem: float) -> tuple[list[Sighting], Reference] | None:
    """The readings of a closed episode and the mean of its uninjured side; None where they are too few."""
    if episode.injured_on is None:
        return None
    taken = [
        one
        for one in readings.readings_of_person(care.record, episode.person, measure.id)
        if belongs(one, episode) and one.value is not None and one.moment is not Moment.AFTER
    ]
    own, other = _of(taken, episode.side), _of(taken, episode.side.other)
    if len(own) < LEAST_READINGS or not other:
        return None
    return sightings_of(measure, own, other, day_nought(own, episode.injured_on), sem)


def _of(taken: list[Reading], side: Side) -> list[Reading]:
    return [one for one in taken if one.side is side]
