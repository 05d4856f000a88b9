"""All that a screen or paper shows of a person's ankle, as one frozen object, read afresh from the record."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from store.care import visits as visiting
from store.care.care import Care
from store.care.faults import CareFault
from store.care.measured import MeasureStanding, course_of
from store.care.people import age
from store.knowledge.kinds import Measure
from store.knowledge.words import Episode, Moment, Person, Reading, Side, Visit
from store.record import episodes, readings
from store.record.courses import readings_of_courses


@dataclass(frozen=True, slots=True)
class Standing:
    """Where one ankle stands: who, since when, and every measure of the table in its order."""

    person: Person
    episode: Episode
    on: date
    age: int | None
    week: int | None
    day: int | None
    days_to_goal: int | None
    phase: str
    cautions: tuple[str, ...]
    open_visit: Visit | None
    measures: tuple[MeasureStanding, ...]
    both_injured: bool
    unknown: tuple[str, ...] = ()

    def of(self, measure_id: str) -> MeasureStanding:
        """One measure's standing. Raises CareFault on a measure this copy does not know."""
        for one in self.measures:
            if one.measure.id == measure_id:
                return one
        raise CareFault(f"this copy does not know the measure {measure_id}")

    @property
    def main(self) -> MeasureStanding:
        """The episode's one main measure; the others are secondary."""
        return self.of(self.episode.main_measure)


def standing(care: Care, episode_id: str) -> Standing:
    """The standing of an episode now."""
    episode = care.episode(episode_id)
    person = care.person(episode.person)
    now = care.clock.now()
    today = now.on
    current = visiting.open_visit(care, episode)
    both = _both_injured(care, episode)
    days = (today - episode.injured_on).days if episode.injured_on else None
    measures, unknown = measure_standings(care, episode, current, both)
    return Standing(
        person=person,
        episode=episode,
        on=today,
        age=age(person.born, today),
        week=days // 7 + 1 if days is not None else None,
        day=days,
        days_to_goal=(episode.goal_on - today).days if episode.goal_on else None,
        phase=healing_phase(days),
        cautions=cautions_of(episode),
        open_visit=current,
        measures=measures,
        both_injured=both,
        unknown=unknown,
    )


def measure_standings(
    care: Care, episode: Episode, current: Visit | None, both_injured: bool
) -> tuple[tuple[MeasureStanding, ...], tuple[str, ...]]:
    """How every known measure stands in an episode, and the ids of measures in the file that this copy lacks."""
    taken = readings.readings_of_visit(care.record, current.id) if current else []
    hidden = visiting.hidden(care, current, tuple(taken))
    start = episode.injured_on or episode.opened.on
    during: dict[str, dict[Side | None, list[Reading]]] = defaultdict(lambda: defaultdict(list))
    baselines: dict[str, Reading] = {}
    for reading in readings_of_courses(
        care.record, episode.person, start, episode.closed, current.id if current else None, hidden
    ):
        if reading.taken.on >= start:
            during[reading.measure][reading.side].append(reading)
        elif reading.side is episode.side and reading.moment is not Moment.AFTER:
            baselines[reading.measure] = reading  # oldest first: the last one before the injury stays
    standings = tuple(
        MeasureStanding(
            measure,
            episode.side,
            {side: course_of(taken) for side, taken in during.get(measure.id, {}).items()},
            baseline=baselines.get(measure.id),
            both_injured=both_injured,
            hidden=measure.id in hidden,
        )
        for measure in care.knowledge.measures.values()
    )
    return standings, tuple(sorted(set(during) - set(care.knowledge.measures)))


def _both_injured(care: Care, episode: Episode) -> bool:
    """Whether the other ankle has an open episode too, so that it is no uninjured side."""
    return any(
        other.id != episode.id and other.closed is None and other.side is not episode.side
        for other in episodes.episodes_of_person(care.record, episode.person)
    )


def healing_phase(days: int | None) -> str:
    """The healing phase in words, by days since injury.

    Common practice; texts differ by weeks, so the borders are said as a passage and nothing is blocked by them:
    inflammatory to day 3, repair to about week 3, remodelling from about week 6 on.
    """
    if days is None:
        return ""
    if days <= 3:
        return "inflammatory"
    if days <= 21:
        return "repair"
    return "repair into remodelling" if days <= 42 else "remodelling"


def cautions_of(episode: Episode) -> tuple[str, ...]:
    """The cautions that this episode puts in force, in a few words each."""
    said = (
        (episode.anticoagulant, "anticoagulant"),
        (episode.loss_of_feeling, "loss of feeling"),
        (episode.hypermobility, "hypermobility"),
    )
    return tuple(words for there, words in said if there)


@dataclass(frozen=True, slots=True)
class Series:
    """One measure over time, for the chart: every standing reading that counts, side by side."""

    measure: Measure
    injured: Side
    start: date
    left: tuple[Reading, ...]
    right: tuple[Reading, ...]
    single: tuple[Reading, ...]


def series(care: Care, episode: Episode, measure: Measure, current: Visit | None) -> Series:
    """The readings of one measure in an episode, oldest first, without what is blind now."""
    kept = readings.readings_of_person(care.record, episode.person, measure.id)
    in_visit = tuple(reading for reading in kept if current is not None and reading.visit == current.id)
    hidden = measure.id in visiting.hidden(care, current, in_visit)
    start = episode.injured_on or episode.opened.on
    shown = [
        reading
        for reading in kept
        if reading.taken.on >= start and not (hidden and current is not None and reading.visit == current.id)
    ]
    by_side = {side: tuple(one for one in shown if one.side is side) for side in (Side.LEFT, Side.RIGHT, None)}
    return Series(measure, episode.side, start, by_side[Side.LEFT], by_side[Side.RIGHT], by_side[None])
