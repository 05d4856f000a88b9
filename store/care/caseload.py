"""The caseload: who has an open episode, how wide the widest gap is, and who was seen today."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from store.care.care import Care
from store.care.measured import MeasureStanding, widest
from store.care.standing import Standing, standing
from store.knowledge.words import Episode, Grade, Person, Side
from store.record import episodes, people, visits


@dataclass(frozen=True, slots=True)
class CaseloadRow:
    """One person's line. Whoever wants the widest gap asks for it, since it needs what was measured.

    `week` counts from the injury while the episode is open.
    """

    person: str
    label: str
    episode: str | None
    injured_side: Side | None
    injury: str
    grade: Grade | None
    week: int | None
    is_open: bool = True
    widest_words: str = ""
    stage_words: str = ""
    structure: str = ""
    closed_on: date | None = None


@dataclass(frozen=True, slots=True)
class CaseloadCount:
    """How many episodes are open, and how many people were seen today."""

    open: int
    seen_today: int


def caseload(
    care: Care, find: str = "", *, closed: bool = False, limit: int = 200, offset: int = 0
) -> tuple[CaseloadRow, ...]:
    """The open episodes (or the closed ones) whose label holds `find`, without the figures of `widest_gap`."""
    listed = episodes.closed_episodes if closed else episodes.open_episodes
    today = care.clock.now().on
    rows = []
    for person, episode in listed(care.record, limit, offset, find):
        days = (today - episode.injured_on).days if episode.injured_on and not closed else None
        rows.append(_row(person, episode, days // 7 + 1 if days is not None else None))
    return tuple(rows)


def everybody(care: Care) -> tuple[CaseloadRow, ...]:
    """The open episodes in caseload order, then the rest: closed episodes, then people without one."""
    most = 100_000
    rows = [*caseload(care, limit=most), *caseload(care, closed=True, limit=most)]
    listed = {row.person for row in rows}
    for person in people.find_people(care.record, "", most):
        if person.id not in listed:
            rows.append(CaseloadRow(person.id, person.label, None, None, "", None, None, is_open=False))
    return tuple(rows)


def with_widest(care: Care, rows: Iterable[CaseloadRow]) -> tuple[CaseloadRow, ...]:
    """The rows with the widest gap of each open episode, in words."""
    return tuple(
        replace(row, widest_words=widest_gap(care, row.episode)) if row.episode and row.is_open else row
        for row in rows
    )


def count(care: Care) -> CaseloadCount:
    """The two counts above the list."""
    today = care.clock.now().on
    return CaseloadCount(episodes.count_open(care.record), visits.count_people_seen_on(care.record, today))


def widest_gap(care: Care, episode_id: str) -> str:
    """The widest gap of an episode in words: the largest in multiples of its own MDC."""
    return widest_words(standing(care, episode_id))


def widest_words(held: Standing) -> str:
    """The widest gap in words; "none beyond error" when no gap is larger than its own MDC.

    While a blind re-test waits it cannot be told: the hidden gap may be the widest.
    """
    if any(one.hidden for one in held.measures):
        return "hidden until re-test"
    paired = [one for one in held.measures if one.measure.paired and one.measured]
    one = widest(paired)
    if one is not None and (one.multiples or 0.0) >= 1:
        return f"{one.measure.name}, {one.gap_words}"
    return _no_gap(held, paired, known=one is not None)


def _no_gap(held: Standing, paired: Sequence[MeasureStanding], *, known: bool) -> str:
    """Why no gap can be named. An injured side that is unable is short, by how much cannot be told."""
    if not paired:
        return "not measured"
    if held.both_injured and not known:
        return "both injured"
    unable = next((one for one in paired if one.unable), None)
    if unable is not None:
        return f"{unable.measure.name}, unable"
    if known:
        return "none beyond error"
    if any(one.gap is not None for one in paired):
        return "error unknown"
    both = any(all(one.of(side) for side in one.measure.sides) for one in paired)
    return "no gap in figures" if both else "one side only"


def _row(person: Person, episode: Episode, week: int | None) -> CaseloadRow:
    graded = str(episode.grade) if episode.grade else "not yet graded"
    return CaseloadRow(
        person=person.id,
        label=person.label,
        episode=episode.id,
        injured_side=episode.side,
        injury=f"{episode.structure}, {graded}",
        grade=episode.grade,
        week=week,
        is_open=episode.closed is None,
        structure=episode.structure,
        closed_on=episode.closed.on if episode.closed else None,
    )
