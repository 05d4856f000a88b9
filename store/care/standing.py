"""All that a screen or paper shows of a person's ankle, as one frozen object, read afresh from the record."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from store.care import visits as visiting
from store.care.care import Care
from store.care.faults import CareFault
from store.care.measured import MeasureStanding, course_of
from store.care.people import age
from store.care.safety_state import last_full, refer_words, standing_refers
from store.care.warning import ADULT, FIRST_DAYS, answers, in_few_words
from store.care.worked_out import COMPOSITE, LEG_LENGTH, composites
from store.knowledge.kinds import Measure
from store.knowledge.words import Episode, Person, Reading, Side, Visit
from store.record import episodes, readings
from store.record.courses import readings_of_courses
from store.record.safety import screens_of


@dataclass(frozen=True, slots=True)
class Standing:
    """Where one ankle stands: who, since when, and in the table's order the measures of which something is known:
    read since the injury or before it, hidden now, or the main one. `of` gives any other, without readings.

    `screened`: it is closed, or was screened for safety question by question.
    `blind` names the visits in hand, of either ankle, and the measures whose values in them are held back.
    """

    person: Person
    episode: Episode
    on: date
    age: int | None
    week: int | None
    day: int | None
    phase: str
    cautions: tuple[str, ...]
    open_visit: Visit | None
    measures: tuple[MeasureStanding, ...]
    both_injured: bool
    blind: Mapping[str, frozenset[str]]
    unknown: tuple[str, ...] = ()
    screened: bool = True
    known: Mapping[str, Measure] = field(default_factory=dict, repr=False, compare=False)

    def of(self, measure_id: str) -> MeasureStanding:
        """One measure's standing. Raises CareFault on a measure this copy does not know."""
        for one in self.measures:
            if one.measure.id == measure_id:
                return one
        if measure_id in self.known:
            injured, both = self.episode.side, self.both_injured
            return MeasureStanding(self.known[measure_id], injured, {}, both_injured=both)
        raise CareFault(f"this copy does not know the measure {measure_id}: a later version of bothfeet may")

    @property
    def to_grade(self) -> bool:
        """Whether the grade can be told by now, and nobody has given it."""
        open_and_bare = self.episode.closed is None and self.episode.grade is None
        return open_and_bare and self.day is not None and self.day >= GRADE_FROM_DAY

    @property
    def main(self) -> MeasureStanding | None:
        """The episode's one main measure, the others are secondary; None where this copy does not know it."""
        return next((one for one in self.measures if one.measure.id == self.episode.main_measure), None)

    @property
    def main_name(self) -> str:
        """What the main measure is called; one that this copy does not know, by its id."""
        return self.main.measure.name if self.main is not None else self.episode.main_measure


def standing(care: Care, episode_id: str) -> Standing:
    """The standing of an episode now."""
    episode = care.episode(episode_id)
    person = care.person(episode.person)
    now = care.clock.now()
    today = now.on
    current = visiting.open_visit(care, episode)
    ankles = episodes.episodes_of_person(care.record, person.id)
    both = _both_injured(episode, ankles)
    blind = _blind(care, episode, current, ankles)
    days = (today - episode.injured_on).days if episode.injured_on else None
    measures, unknown = _measures(care, episode, blind, both)
    screens = screens_of(care.record, episode.id) if episode.closed is None else []
    return Standing(
        person=person,
        episode=episode,
        on=today,
        age=age(person.born, today),
        week=days // 7 + 1 if days is not None else None,
        day=days,
        phase=healing_phase(days),
        cautions=(*map(refer_words, standing_refers(screens)), *cautions_in_force(person, episode, today)),
        open_visit=current,
        measures=measures,
        both_injured=both,
        blind=blind,
        unknown=unknown,
        screened=episode.closed is not None or last_full(screens) is not None,
        known=care.knowledge.measures,
    )


def _measures(
    care: Care, episode: Episode, blind: Mapping[str, frozenset[str]], both_injured: bool
) -> tuple[tuple[MeasureStanding, ...], tuple[str, ...]]:
    """How each measure stands of which something is known, and the ids of those that this copy lacks."""
    hidden = frozenset[str]().union(*blind.values())
    during: dict[str, dict[Side | None, list[Reading]]] = defaultdict(lambda: defaultdict(list))
    chosen, earlier = readings_of_courses(care.record, episode.person, start_of(episode), episode.closed, blind)
    for reading in chosen:
        during[reading.measure][reading.side].append(reading)
    baselines = {reading.measure: reading for reading in earlier if reading.side is episode.side}
    known = care.knowledge.measures
    if LEG_LENGTH in during or any(one.measure == LEG_LENGTH for one in earlier):
        for one in composites([*chosen, *earlier], known[COMPOSITE]):
            if one.taken.on >= start_of(episode):
                during[one.measure][one.side].append(one)
            elif one.side is episode.side:
                baselines[one.measure] = one
    told = {*during, *baselines, *hidden, episode.main_measure}
    standings = tuple(
        MeasureStanding(
            known[name],
            episode.side,
            {side: course_of(taken) for side, taken in during.get(name, {}).items()},
            baseline=baselines.get(name),
            both_injured=both_injured,
            hidden=name in hidden,
        )
        for name in known
        if name in told
    )
    return standings, tuple(sorted(name for name in during if name not in known))


def _blind(
    care: Care, episode: Episode, current: Visit | None, ankles: Iterable[Episode]
) -> dict[str, frozenset[str]]:
    """What is held back now in the visit in hand, and in one of the other ankle, which measures both sides too."""
    others = (visiting.open_visit(care, one) for one in ankles if one.id != episode.id and one.closed is None)
    return {
        visit.id: visiting.hidden(care, visit, readings.readings_of_visit(care.record, visit.id))
        for visit in (current, *others)
        if visit is not None and (episode.closed is None or visit.started <= episode.closed)
    }


def _both_injured(episode: Episode, ankles: Iterable[Episode]) -> bool:
    """Whether the other ankle is in an episode too, or was when this one was closed: it is no uninjured side."""
    others = [other for other in ankles if other.side is not episode.side]
    if episode.closed is None:
        return any(other.closed is None for other in others)
    end = episode.closed.on
    return any(start_of(other) <= end and (other.closed is None or other.closed.on >= end) for other in others)


def start_of(episode: Episode) -> date:
    """The day from which readings belong to an episode: of the injury, else the one on which it was opened."""
    return episode.injured_on or episode.opened.on


GRADE_FROM_DAY = 5
"""From this day on the ligaments tell their grade better than within 48 hours. Read: van Dijk and others 1996, J
Bone Joint Surg Br 78:958, abstract; the same as the caution `laxity_day5`."""


def belongs(reading: Reading, episode: Episode) -> bool:
    """Whether a reading of the person was taken since the injury and until the episode was closed."""
    return reading.taken.on >= start_of(episode) and (episode.closed is None or reading.taken <= episode.closed)


def healing_phase(days: int | None) -> str:
    """The healing phase in words, by days since injury.

    Common practice; texts differ by weeks, so the borders are said as a passage and nothing is blocked by them:
    inflammatory to day 3, repair to about week 3, remodelling from about week 6 on.
    """
    if days is None:
        return ""
    if days <= FIRST_DAYS:
        return "inflammatory"
    if days <= 21:
        return "repair"
    return "repair into remodelling" if days <= 42 else "remodelling"


def cautions_in_force(person: Person, episode: Episode, today: date) -> tuple[str, ...]:
    """The cautions that an episode and its person's age put in force, in a few words each."""
    answered = tuple(in_few_words(caution) for caution, there in answers(episode).items() if there)
    return (*answered, *growth_plates(person, today))


def growth_plates(person: Person, today: date) -> tuple[str, ...]:
    """The caution of whoever is not grown up, in a few words; none where the age is not known."""
    years = age(person.born, today)
    return (f"growth plates, under {ADULT}",) if years is not None and years < ADULT else ()
