"""The caseload: who has an open episode, how wide the widest gap is, and who was seen today."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from store.care.appointments import due_words, next_appointments
from store.care.care import Care
from store.care.dates import short_day
from store.care.safety_state import gravest
from store.knowledge.time import Stamp
from store.knowledge.words import Episode, Grade, Person, Side
from store.record import decisions, episodes, safety, visits
from store.record.text import fold

if TYPE_CHECKING:
    from store.care.measured import MeasureStanding
    from store.care.recall import Recall
    from store.care.standing import Standing

# What works out gaps and recalls is imported where that is asked for: the rows are on show before.

LEAST_WORD = episodes.LEAST_WORD
"""Letters from which sport and goal are searched too."""


class CaseloadRow(NamedTuple):
    """One person's line. Whoever wants the widest gap asks for it, since it needs what was measured.

    `week` counts from the injury while the episode is open. `next_words` is when they come next, in few words, and
    `next_long` the same with the time of day. `screened`: the safety screen of an open episode was asked.
    `refer_words`: what its screens found and nobody has settled yet, the gravest. `recall` is that of a closed
    one, where it is due and was looked for.
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
    due: Stamp | None = None
    next_words: str = ""
    next_long: str = ""
    screened: bool = True
    refer_words: str = ""
    flat_words: str = ""
    recall: Recall | None = None

    @property
    def recall_words(self) -> str:
        """That a recall is due since a day; empty where none is."""
        return f"recall due {short_day(self.recall.on)}" if self.recall is not None else ""


class CaseloadCount(NamedTuple):
    """How many episodes are open, and how many people were seen today."""

    open: int
    seen_today: int


def caseload(
    care: Care, find: str = "", *, closed: bool = False, limit: int = 200, offset: int = 0, only: str = ""
) -> tuple[CaseloadRow, ...]:
    """The open episodes whose label, sport or goal holds `find` (or the closed ones whose label does), without
    the figures of `widest_gap`.

    Of the open ones whoever is expected today comes first. `only` leaves out everybody but one person.
    """
    today = care.clock.now().on
    if closed:
        listed = episodes.closed_episodes(care.record, limit, offset, find, only=only)
    else:
        listed = episodes.open_episodes(care.record, limit, offset, find, today=today, only=only)
    return _with_next(care, [row_of(person, episode, today) for person, episode in listed])


def without_episode(
    care: Care, find: str = "", *, limit: int = 200, offset: int = 0, only: str = ""
) -> tuple[CaseloadRow, ...]:
    """People who never had an episode, such as those of a squad, whose label holds `find`."""
    found = episodes.without_episode(care.record, limit, offset, find, only=only)
    return _with_next(care, [bare_row(person) for person in found])


def bare_row(person: Person) -> CaseloadRow:
    """The line of a person without an episode."""
    return CaseloadRow(person.id, person.label, None, None, "", None, None, is_open=False)


def _with_next(care: Care, rows: Sequence[CaseloadRow]) -> tuple[CaseloadRow, ...]:
    """The rows with when each person comes next, and what was decided on the stage of each episode."""
    stages = decisions.stages_of(care.record, [row.episode for row in rows if row.episode])
    today = care.clock.now().on
    planned = next_appointments(care, list({row.person for row in rows}))
    outcomes = safety.unsettled_in(care.record, [row.episode for row in rows if row.episode and row.is_open])
    told = []
    for row in rows:
        one = planned.get(row.person)
        words = (due_words(one.due, today), due_words(one.due, today, long=True)) if one else ("", "")
        if row.is_open:
            asked = outcomes.get(row.episode or "", [])
            row = row._replace(screened=bool(asked), refer_words=gravest(asked))
        stage = stages.get(row.episode or "")
        if stage is not None:
            row = row._replace(stage_words=stage.value)
        told.append(row._replace(due=one.due, next_words=words[0], next_long=words[1]) if one else row)
    return tuple(told)


def more_rows(
    care: Care,
    there: Sequence[CaseloadRow],
    wanted: int,
    find: str = "",
    *,
    closed_too: bool = False,
    only: str = "",
) -> tuple[CaseloadRow, ...]:
    """So many more rows after those that are there: the open ones; then, when asked for, the closed ones and the
    people without any."""
    opened = sum(row.is_open for row in there)
    bare = sum(row.episode is None for row in there)
    rows = caseload(care, find, limit=wanted, offset=opened, only=only)
    if closed_too and len(rows) < wanted:
        closed, left = len(there) - opened - bare, wanted - len(rows)
        rows = (*rows, *caseload(care, find, closed=True, limit=left, offset=closed, only=only))
    if closed_too and len(rows) < wanted:
        rows = (*rows, *without_episode(care, find, limit=wanted - len(rows), offset=bare, only=only))
    return rows


def recall_rows(care: Care, limit: int = -1) -> tuple[CaseloadRow, ...]:
    """The closed episodes whose recall is due, the longest due first; `limit` -1 is all."""
    from store.care.recall import recalls_due

    today = care.clock.now().on
    rows = [
        row_of(person, episode, today)._replace(recall=due) for person, episode, due in recalls_due(care, limit)
    ]
    return _with_next(care, rows)


def with_recalls(rows: Iterable[CaseloadRow], due: Iterable[CaseloadRow]) -> tuple[CaseloadRow, ...]:
    """The rows with the recalls of those that are among them."""
    recalls = {row.episode: row.recall for row in due}
    return tuple(row._replace(recall=recalls.get(row.episode)) if row.episode else row for row in rows)


def those_holding(rows: Iterable[CaseloadRow], find: str, only: str = "") -> tuple[CaseloadRow, ...]:
    """The rows whose label holds `find`, as the caseload looks for it; `only` leaves out all but one person."""
    text = fold(find.strip())
    return tuple(row for row in rows if text in fold(row.label) and (not only or row.person == only))


def everybody(care: Care) -> tuple[CaseloadRow, ...]:
    """The open episodes in caseload order, then the rest: closed episodes, then people without one."""
    most = 100_000
    return (
        *caseload(care, limit=most),
        *with_recalls(caseload(care, closed=True, limit=most), recall_rows(care)),
        *without_episode(care, limit=most),
    )


def with_widest(care: Care, rows: Iterable[CaseloadRow]) -> tuple[CaseloadRow, ...]:
    """The rows with the widest gap of each open episode, in words."""
    return tuple(
        row._replace(widest_words=widest_gap(care, row.episode), flat_words=flat_words(care, row.episode))
        if row.episode and row.is_open
        else row
        for row in rows
    )


def count(care: Care) -> CaseloadCount:
    """The two counts above the list."""
    today = care.clock.now().on
    return CaseloadCount(episodes.count_open(care.record), visits.count_people_seen_on(care.record, today))


def widest_gap(care: Care, episode_id: str) -> str:
    """The widest gap of an episode in words: the largest in multiples of its own MDC."""
    from store.care.standing import standing

    return widest_words(standing(care, episode_id))


def flat_words(care: Care, episode_id: str) -> str:
    """Which measure has come to a stand, as it was found at the end of the last visit; empty where none has."""
    from store.care.in_words import rough
    from store.record import forecasts

    for made in forecasts.newest_of(care.record, episode_id):
        measure = care.knowledge.measures.get(made.measure)
        if made.flat and measure is not None and made.rate_a_week is not None:
            rate = f"{rough(abs(made.rate_a_week))} {measure.unit} a week"
            return f"{measure.name} flat: {rate} over {made.over_days} days, re-examine"
    return ""


def widest_words(held: Standing) -> str:
    """The widest gap in words; "none beyond error" when no gap is larger than its own MDC.

    While a blind re-test waits it cannot be told: the hidden gap may be the widest.
    """
    from store.care.measured import widest

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
    if any(one.only_after for one in paired):
        return "after values only"
    both = any(all(one.of(side) for side in one.measure.sides) for one in paired)
    return "no gap in figures" if both else "one side only"


def row_of(person: Person, episode: Episode, today: date) -> CaseloadRow:
    """The line of an episode on a day: whoever makes many asks the clock once, which takes as long as a line."""
    is_open = episode.closed is None
    days = (today - episode.injured_on).days if episode.injured_on and is_open else None
    graded = str(episode.grade) if episode.grade else "not yet graded"
    return CaseloadRow(
        person=person.id,
        label=person.label,
        episode=episode.id,
        injured_side=episode.side,
        injury=f"{episode.structure}, {graded}",
        grade=episode.grade,
        week=days // 7 + 1 if days is not None else None,
        is_open=is_open,
        structure=episode.structure,
        closed_on=episode.closed.on if episode.closed else None,
    )
