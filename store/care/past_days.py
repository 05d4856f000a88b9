"""Days on which something was measured without a visit, as what a table brought in is. None of it is blind."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, timedelta
from typing import NamedTuple

from store.care.care import Care
from store.care.dates import day_text
from store.care.in_words import many, visible
from store.care.pairs import Pair, pairs_of
from store.care.past_visits import week_on
from store.care.past_words import measured_statements
from store.care.standing import belongs
from store.care.statements import Section, Statement
from store.knowledge.words import Episode, Reading
from store.record import readings
from store.record.uuid7 import made_at

FROM_A_TABLE, ALONE = "from a table", "without a visit"
AT_ONCE = timedelta(minutes=1)
"""A reading that is typed is kept as it is taken; a table is brought in later than that."""


def came_from(reading: Reading) -> str:
    """Where a reading without a visit came from: of a table, or typed in a shell for somebody without an episode;
    empty where it is of a visit. The record keeps no word of it: that it was kept later than it was taken tells.
    """
    if reading.visit is not None:
        return ""
    kept = made_at(reading.id)
    return FROM_A_TABLE if kept is not None and kept - reading.taken.at > AT_ONCE else ALONE


class PastDay(NamedTuple):
    """What was measured on a day without a visit, oldest first; `pairs` are of measures that this copy knows."""

    on: date
    readings: tuple[Reading, ...]
    pairs: tuple[Pair, ...]
    unknown: tuple[str, ...]


def past_days(care: Care, episode: Episode) -> tuple[PastDay, ...]:
    """Those of an episode, the newest first: by its own readings, and those of none that fall into its time."""
    days: dict[date, list[Reading]] = defaultdict(list)
    for one in readings.readings_of_person(care.record, episode.person):
        if one.visit is None and belongs(one, episode) and one.episode in (None, episode.id):
            days[one.taken.on].append(one)
    return tuple(_day(care, on, days[on]) for on in sorted(days, reverse=True))


def _day(care: Care, on: date, taken: list[Reading]) -> PastDay:
    known, names = care.knowledge.measures, list(dict.fromkeys(one.measure for one in taken))
    pairs = pairs_of(known, names, taken, frozenset())
    return PastDay(on, tuple(taken), pairs, tuple(name for name in names if name not in known))


def week_text(on: date, episode: Episode) -> str:
    """The week since the injury as `week 4`; empty where its day is not known."""
    week = week_on(on, episode)
    return f"week {week}" if week else ""


def day_sections(day: PastDay, episode: Episode) -> tuple[Section, ...]:
    """The day whole: that it was no visit, where its readings come from, who took them, and what was measured."""
    when = ", ".join(filter(None, (day_text(day.on, weekday=True), week_text(day.on, episode), "no visit")))
    examiners = dict.fromkeys(one.examiner for one in day.readings if one.examiner)
    tabled = [one for one in day.readings if came_from(one) == FROM_A_TABLE]
    count = many(len(tabled), "reading")
    came = [f"{count} brought in {FROM_A_TABLE}"] if tabled else []
    alone = len(day.readings) - len(tabled)
    came += [f"{many(alone, 'reading')} kept {ALONE}"] if alone else []
    by = f"examiner {' and '.join(map(visible, examiners))}" if examiners else "examiner not named"
    origin = Statement("", "; ".join((*came, by)))
    measured = tuple(measured_statements(day.pairs, day.unknown))
    return Section(when, (origin,)), Section("measured", measured)


def days_line(days: tuple[PastDay, ...]) -> str:
    """All of them in a line; empty where there is none."""
    if not days:
        return ""
    first, last = day_text(days[-1].on), day_text(days[0].on)
    span = f"on {last}" if len(days) == 1 else f"on {many(len(days), 'day')} from {first} to {last}"
    every = [one for day in days for one in day.readings]
    tabled = sum(came_from(one) == FROM_A_TABLE for one in every)
    brought = f", {tabled if tabled < len(every) else 'all'} of them {FROM_A_TABLE}" if tabled else ""
    return f"{ALONE}: {many(len(every), 'reading')} {span}{brought}"
