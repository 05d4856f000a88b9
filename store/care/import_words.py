"""What came of a table, or would come of it, in plain words."""

from __future__ import annotations

from collections.abc import Sequence

from store.care.bringing import Found
from store.care.dates import day_text
from store.care.importing import listed
from store.care.in_words import many, visible
from store.knowledge.words import Episode, Person

NAMED_MOST = 20
"""New people and episodes that are named; of more, how many."""


def imported_text(found: Found, *, dry_run: bool = False) -> str:
    """How much was added, or would be, who and what is new, and what was here already."""
    lines = [_added(found, dry_run=dry_run)]
    lines += _named("new people", [visible(person.label) for person in found.people])
    lines += _named("new episodes", [_episode(person, episode) for person, episode in found.episodes])
    if dry_run:
        lines.append("nothing was written: leave --dry-run out to import it")
    return "\n".join(lines)


def notes_text(found: Found) -> str:
    """What is worth a look, and the lines that were left out; empty where there is nothing."""
    lines = [f"left out, {many(len(found.bad), 'bad line')}:", *listed(found.bad)] if found.bad else []
    lines += ["worth a look:", *listed(found.notes)] if found.notes else []
    if found.only_days:
        lines.append(f"{many(found.only_days, 'reading')} with a day and no time: kept as of the start of the day")
    if any(not reading.examiner for reading in found.readings):
        nameless = sum(not reading.examiner for reading in found.readings)
        lines.append(f"{many(nameless, 'reading')} without an examiner: --examiner names one for all of them")
    if found.unread:
        lines.append(f"{many(found.unread, 'cell')} under an empty heading: not read")
    return "\n".join(lines)


def _added(found: Found, *, dry_run: bool) -> str:
    would = "would add" if dry_run else "added"
    parts = [f"{would} {many(len(found.readings), 'reading')}" if found.readings else "no new reading"]
    parts += [f"{many(found.here, 'reading')} here already"] if found.here else []
    parts += [f"{many(found.twice, 'line')} said twice"] if found.twice else []
    parts += (
        [f"{many(found.taken_back, 'reading')} taken back before and not added again"] if found.taken_back else []
    )
    return "; ".join(parts)


def _named(what: str, names: Sequence[str]) -> list[str]:
    if not names:
        return []
    more = f", and {len(names) - NAMED_MOST} more" if len(names) > NAMED_MOST else ""
    return [f"{what} ({len(names)}): {', '.join(names[:NAMED_MOST])}{more}"]


def _episode(person: Person, episode: Episode) -> str:
    grade = f" grade {episode.grade}" if episode.grade else ""
    when = f" of {day_text(episode.injured_on)}" if episode.injured_on else ""
    return f"{visible(person.label)} {episode.side}{grade}{when}"
