"""The re-sprain log: a new sprain is kept as it is told, in a visit, at a recall or between, and taken back."""

from __future__ import annotations

from datetime import date
from typing import Any

from store.care import visits as visiting
from store.care.care import Care
from store.care.dates import day_text, short_day
from store.care.faults import CareFault
from store.care.in_words import visible
from store.care.people import clean_words
from store.knowledge.resprain import Resprain
from store.knowledge.words import Episode, Visit
from store.record import resprains

ABOUT_NOW = 300
"""Days for which a day is told without its year: the same day of another year is farther away."""

HOW = "the day first: 12 jan at work"
"""How a line is typed, in few words."""

NOTE_MOST = 200
"""Characters of how it came about."""


def log(care: Care, episode_id: str, line: str) -> Resprain:
    """Keep a new sprain: `12 jan on the stairs`, `yesterday left on the kerb`. Raises EntryError or CareFault.

    Without a side it is the injured one's. It changes nothing else of an episode, which may be closed.
    """
    from store.entry.sprain import parse_sprain  # read when it is first asked for, not at the start

    episode = care.episode(episode_id)
    said = parse_sprain(line, care.clock.now().on)
    if episode.injured_on is not None and said.day <= episode.injured_on and said.side in {None, episode.side}:
        raise CareFault(
            f"{day_text(said.day)} is not after the injury of {day_text(episode.injured_on)}: what was before it "
            "belongs to the sprains before this one (e)"
        )
    side = said.side or episode.side
    note = clean_words(said.words, "how it came about") or ""
    if len(note) > NOTE_MOST:
        raise CareFault(f"how it came about has at most {NOTE_MOST} characters: shorten it")
    there = resprains.resprains_of_person(care.record, episode.person)
    if any(one.day == said.day and one.side is side for one in there):
        raise CareFault(f"a new sprain of the {side} ankle is kept for {day_text(said.day)} already")
    visit = None if episode.closed is not None else visiting.open_visit(care, episode)
    new = Resprain(
        id="",
        person=episode.person,
        episode=episode.id,
        side=side,
        day=said.day,
        told=care.clock.now(),
        visit=visit.id if visit is not None else None,
        note=note,
        examiner=care.examiner,
    )
    with care.together():
        return resprains.RESPRAIN.add(care.record, new, by=care.examiner)


def take_back(care: Care, one: Resprain) -> str:
    """Take one back; it stays in the file, marked. Raises RecordFault where it was taken back meanwhile."""
    with care.together():
        resprains.RESPRAIN.take_back(care.record, None, one, by=care.examiner)
    return f"took back: {resprain_words(one)}"


def logged(care: Care, episode_id: str) -> tuple[Resprain, ...]:
    """What the log of an episode holds, by day."""
    return tuple(resprains.resprains_of(care.record, episode_id))


# in words and as data


def resprain_words(one: Resprain) -> str:
    """One in a few words: "new sprain of the right ankle, 12 Jan 2027: on the stairs"."""
    note = f": {visible(one.note)}" if one.note else ""
    return f"new sprain of the {one.side} ankle, {day_text(one.day)}{note}"


def short_words(one: Resprain, today: date) -> str:
    """One in the fewest words: "new sprain right, 12 Jan", with the year where it is not of about now."""
    day = short_day(one.day) if 0 <= (today - one.day).days < ABOUT_NOW else day_text(one.day)
    return f"new sprain {one.side}, {day}"


def next_step_words(episode: Episode) -> str:
    """What to think of after one: this is no treatment and no screen."""
    if episode.closed is not None:
        return "to treat it: a, a new episode"
    return "screen it for safety (s)"


def resprain_lines(care: Care, episode_id: str) -> list[str]:
    """The log as `show` tells it, a line each."""
    return [resprain_words(one) for one in logged(care, episode_id)]


def visit_lines(care: Care, visit: Visit) -> list[str]:
    """What a note tells of the sprains that were told in its visit."""
    if visit.episode is None:
        return []
    return [resprain_words(one) for one in logged(care, visit.episode) if one.visit == visit.id]


def resprain_data(care: Care, episode_id: str) -> list[dict[str, Any]]:
    """The log as `show --json` tells it."""
    return [
        {
            "id": one.id,
            "side": one.side,
            "day_on": one.day.isoformat(),
            "note": one.note or None,
            "told_at": one.told.text,
            "told_on": one.told.on.isoformat(),
            "examiner": one.examiner or None,
        }
        for one in logged(care, episode_id)
    ]
