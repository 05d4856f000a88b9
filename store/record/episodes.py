"""Episodes: added, amended, linked, and listed as the caseload."""

from __future__ import annotations

from datetime import date

from store.knowledge.words import Episode, Person
from store.record import clinical
from store.record.appointments import WAITING_TODAY
from store.record.faults import FaultKind, RecordFault
from store.record.handle import Record, Row
from store.record.rows import EPISODE_COLUMNS, PERSON_COLUMNS, episode_of, episode_values, person_of
from store.record.text import fold

EPISODE = f"SELECT {EPISODE_COLUMNS} FROM episode WHERE id = :id"
OF_PERSON = f"SELECT {EPISODE_COLUMNS} FROM episode WHERE person = :person ORDER BY opened_at, id"
LEAST_WORD = 3
"""Letters from which a text is looked for in sport and goal too: one remembers the fencer, and not her initials.

Of the open episodes only: in ten thousand closed ones it would cost a key 30 ms more."""
LONGEST_PATTERN = 10_000


def _holding(column: str) -> str:
    """SQL: whether a column holds the folded :text, of which :like is the pattern where it has one.

    LIKE does for ASCII, as many bytes as letters, what `fold` does for all, and is many times as fast.
    """
    return f"""(CASE WHEN length(CAST({column} AS BLOB)) = length({column}) AND :like IS NOT NULL
  THEN {column} LIKE :like ESCAPE '\\' ELSE instr(fold({column}), :text) > 0 END)"""


def _wanted(find: str) -> dict[str, str | None]:
    """What is looked for, folded, and its pattern: SQLite takes none that is very long, or holds a zero."""
    text = fold(find.strip())
    if len(text) > LONGEST_PATTERN or "\0" in text:
        return {"text": text, "like": None}
    like = text.replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_")
    return {"text": text, "like": f"%{like}%"}


_HOLDS = _holding("person.label")
_TOLD = f"""({_HOLDS} OR (length(:text) >= {LEAST_WORD}
  AND ({_holding("coalesce(episode.sport, '')")} OR {_holding("coalesce(episode.goal, '')")})))"""
# Who is expected today comes first, in the order of the day; the few appointments of a day are looked up once.
OPEN = f"""WITH today AS MATERIALIZED ({WAITING_TODAY})
SELECT {PERSON_COLUMNS}, {EPISODE_COLUMNS} FROM episode JOIN person ON person.id = episode.person
LEFT JOIN today ON today.person = episode.person
WHERE episode.closed_at IS NULL AND {_TOLD} AND (:only IS NULL OR episode.person = :only)
ORDER BY NOT {_HOLDS}, today.due_at IS NULL, today.due_at,
  person.label COLLATE NOCASE, person.label, episode.opened_at, episode.id LIMIT :limit OFFSET :offset"""
# Closed ones are many. Those of a page are found by id first, so that no more are read whole; those whose label
# holds a text are looked for along the index of labels, which ends as soon as the page is full.
CLOSED = f"""WITH page AS MATERIALIZED (SELECT id FROM episode
  WHERE closed_at IS NOT NULL AND (:only IS NULL OR person = :only)
  ORDER BY closed_at DESC, id LIMIT :limit OFFSET :offset)
SELECT {PERSON_COLUMNS}, {EPISODE_COLUMNS} FROM page
JOIN episode ON episode.id = page.id JOIN person ON person.id = episode.person
ORDER BY episode.closed_at DESC, episode.id"""
CLOSED_HOLDING = f"""SELECT {PERSON_COLUMNS}, {EPISODE_COLUMNS}
FROM person CROSS JOIN episode ON episode.person = person.id
WHERE {_HOLDS} AND episode.closed_at IS NOT NULL AND (:only IS NULL OR person.id = :only)
ORDER BY person.label COLLATE NOCASE, person.id, episode.opened_at LIMIT :limit OFFSET :offset"""
WITHOUT = f"""SELECT {PERSON_COLUMNS} FROM person
WHERE {_HOLDS} AND NOT EXISTS (SELECT 1 FROM episode WHERE episode.person = person.id)
AND (:only IS NULL OR person.id = :only)
ORDER BY person.label COLLATE NOCASE, person.id LIMIT :limit OFFSET :offset"""
# Who may have a recall due: discharged within a span of days, and not seen from some days before it on. A month
# that is too short for the day runs over here, so that too many are found and never too few.
NOT_SEEN = f"""SELECT {PERSON_COLUMNS}, {EPISODE_COLUMNS}
FROM episode JOIN person ON person.id = episode.person
WHERE episode.closed_on BETWEEN :since AND :until AND coalesce((SELECT started_on FROM visit
  WHERE visit.person = episode.person ORDER BY started_at DESC LIMIT 1), '')
  < date(episode.closed_on, :months || ' months', -:early || ' days')
ORDER BY episode.closed_on, episode.person LIMIT :limit"""
OPEN_COUNT = "SELECT count(*) FROM episode WHERE closed_at IS NULL"

_PERSON_WIDTH = PERSON_COLUMNS.count(",") + 1


def add_episode(record: Record, episode: Episode, *, by: str = "") -> Episode:
    """Keep a new episode; one without an id gets the next. Raises RecordFault."""
    episode = episode._replace(id=episode.id or record.new_id(), revision=record.new_id())
    clinical.add(record, "episode", [episode_values(episode)], episode.revision, by)
    return episode


def revise_episode(record: Record, episode: Episode, *, by: str, because: str) -> Episode:
    """Amend an episode as read at its revision. Raises RecordFault when it was amended meanwhile."""
    values = episode_values(episode)
    return episode._replace(revision=clinical.amend(record, "episode", values, episode.revision, by, because))


def link_episodes(record: Record, one: str, other: str, *, by: str, because: str) -> tuple[Episode, Episode]:
    """Link two episodes of one person, one of each ankle, with each other. Raises RecordFault."""
    with record.write_tx():
        first, second = episode(record, one), episode(record, other)
        if first is None or second is None or first.person != second.person or first.side is second.side:
            raise RecordFault(FaultKind.REFUSED, "Only two episodes of one person, left and right, can be linked.")
        return (
            revise_episode(record, first._replace(linked_episode=second.id), by=by, because=because),
            revise_episode(record, second._replace(linked_episode=first.id), by=by, because=because),
        )


def episode(record: Record, episode_id: str) -> Episode | None:
    """The episode with this id, if there is one."""
    row = record.read_one(EPISODE, {"id": episode_id})
    return episode_of(row) if row else None


def episodes_of_person(record: Record, person_id: str) -> list[Episode]:
    """All of a person, open and closed, oldest first."""
    return [episode_of(row) for row in record.read(OF_PERSON, {"person": person_id})]


def open_episodes(
    record: Record, limit: int = 50, offset: int = 0, find: str = "", *, today: date | None = None, only: str = ""
) -> list[tuple[Person, Episode]]:
    """The caseload: those whose label holds `find`, whatever its case, by label; after them those whose sport or
    goal does.

    Whoever is expected on the day `today` comes first, in order of time. `only` leaves out all but one
    person.
    """
    return _listed(
        record, OPEN, limit, offset, find, today=today.isoformat() if today else None, only=only or None
    )


def closed_episodes(
    record: Record, limit: int = 50, offset: int = 0, find: str = "", *, only: str = ""
) -> list[tuple[Person, Episode]]:
    """What was closed, the last first; with `find` by label, those whose label holds it, whatever its case."""
    return _listed(record, CLOSED_HOLDING if find.strip() else CLOSED, limit, offset, find, only=only or None)


def not_seen_since(
    record: Record, since: date, last: date, months: int, early_days: int, limit: int = -1
) -> list[tuple[Person, Episode]]:
    """What was closed from one day to another, both counted, of people not seen since so many days before the day
    that lies so many months after; the first first, and some too many at the end of a month. `limit` -1 is all.
    """
    values = {"since": since.isoformat(), "until": last.isoformat(), "months": months, "early": early_days}
    return [_person_and_episode(row) for row in record.read(NOT_SEEN, values | {"limit": limit})]


def without_episode(
    record: Record, limit: int = 50, offset: int = 0, find: str = "", *, only: str = ""
) -> list[Person]:
    """People who never had an episode and whose label holds `find`, by label."""
    values = {**_wanted(find), "limit": limit, "offset": offset, "only": only or None}
    return [person_of(row) for row in record.read(WITHOUT, values)]


def count_open(record: Record) -> int:
    """How many episodes are open."""
    return int(record.read(OPEN_COUNT, {})[0][0])


def _listed(
    record: Record, sql: str, limit: int, offset: int, find: str, **more: str | None
) -> list[tuple[Person, Episode]]:
    values = {**_wanted(find), "limit": limit, "offset": offset, **more}
    return [_person_and_episode(row) for row in record.read(sql, values)]


def _person_and_episode(row: Row) -> tuple[Person, Episode]:
    return person_of(row[:_PERSON_WIDTH]), episode_of(row[_PERSON_WIDTH:])
