"""What the file is made of: one STRICT table a word, each rule a named CHECK whose name is the sentence shown.

This is the schema as first made. Later versions change it in migrations.py; the names of its parts stay here, so
that opening a file of the present version needs nothing but this.
"""

from __future__ import annotations

APPLICATION_ID = int.from_bytes(b"feet", "big")
"""Stands in the file's header: says that it is ours."""

VERSION = 2
"""The schema this copy of the program reads and writes; stands in the header as user_version."""

CLINICAL = ("person", "examiner", "episode", "visit", "bout", "reading")
"""Tables whose rows are amended, never overwritten; a row refers only to tables before its own, and to its own."""

APPEND_ONLY = ("bout_event", "amendment")
"""Tables whose rows never change."""

TABLES = CLINICAL + APPEND_ONLY

_REVISED = """revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL"""


def _one_of(column: str, *words: str) -> str:
    allowed = ", ".join(f"'{word}'" for word in words)
    return f'CONSTRAINT "{column} is {" or ".join(words)}" CHECK ({column} IN ({allowed}))'


def _yes_no(column: str) -> str:
    return f'CONSTRAINT "{column} is 1 for yes or 0 for no" CHECK ({column} IN (0, 1))'


def _count(column: str) -> str:
    return f'CONSTRAINT "{column} is a count, 0 or more" CHECK ({column} >= 0)'


def _date(column: str) -> str:
    shape = f"{column} GLOB '????-??-??' AND {column} IS date({column}, '+0 days')"
    return f'CONSTRAINT "{column} is a date that exists, as 2026-11-25" CHECK ({column} IS NULL OR ({shape}))'


def _instant(name: str, *, local_date: bool = True) -> str:
    """UTC with Z to the millisecond, its offset, and the local date that follows from the two."""
    at, on, offset = f"{name}_at", f"{name}_on", f"{name}_offset_min"
    shape = f"{at} GLOB '????-??-??T??:??:??.???Z' AND substr({at}, 1, 10) IS date({at}, '+0 days')"
    shape += f" AND abs({offset}) < 1440"
    named = "its offset"
    given = f"{offset} IS NOT NULL"
    absent = f"{at} IS NULL AND {offset} IS NULL"
    if local_date:
        named += " and local date"
        shape += f" AND {on} IS date({at}, {offset} || ' minutes')"
        given += f" AND {on} IS NOT NULL"
        absent += f" AND {on} IS NULL"
    rule = f"({absent}) OR ({at} IS NOT NULL AND {given} AND {shape})"
    return f'CONSTRAINT "{at} is a UTC time with Z, and {named} fit it" CHECK ({rule})'


def _json(column: str, kind: str) -> str:
    rule = f"CASE WHEN json_valid({column}) THEN json_type({column}) = '{kind}' ELSE 0 END"
    return f'CONSTRAINT "{column} is a JSON {kind}" CHECK ({rule})'


_PERSON = f"""CREATE TABLE person (
  id TEXT PRIMARY KEY NOT NULL,
  label TEXT NOT NULL,
  born TEXT,
  {_REVISED},
  CONSTRAINT "a person needs a label" CHECK (trim(label) <> ''),
  CONSTRAINT "born is a year, as 1995, or a date that exists, as 1995-04-12" CHECK (born IS NULL
    OR born GLOB '[0-9][0-9][0-9][0-9]' OR (born GLOB '????-??-??' AND born IS date(born, '+0 days'))),
  {_instant("revised", local_date=False)}
) STRICT"""

_EXAMINER = f"""CREATE TABLE examiner (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  {_REVISED},
  CONSTRAINT "an examiner needs a name or initials" CHECK (trim(name) <> ''),
  {_instant("revised", local_date=False)}
) STRICT"""

_EPISODE = f"""CREATE TABLE episode (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  side TEXT NOT NULL,
  opened_at TEXT NOT NULL,
  opened_on TEXT NOT NULL,
  opened_offset_min INTEGER NOT NULL,
  structure TEXT NOT NULL,
  grade TEXT,
  injured_on TEXT,
  goal TEXT,
  goal_on TEXT,
  sport TEXT,
  level TEXT,
  sprains_left INTEGER,
  sprains_right INTEGER,
  anticoagulant INTEGER,
  loss_of_feeling INTEGER,
  hypermobility INTEGER,
  brace TEXT,
  main_measure TEXT NOT NULL,
  linked_episode TEXT REFERENCES episode(id),
  closed_at TEXT,
  closed_on TEXT,
  closed_offset_min INTEGER,
  {_REVISED},
  {_one_of("side", "left", "right")},
  {_instant("opened")},
  {_one_of("grade", "I", "II", "III")},
  {_date("injured_on")},
  {_date("goal_on")},
  {_count("sprains_left")},
  {_count("sprains_right")},
  {_yes_no("anticoagulant")},
  {_yes_no("loss_of_feeling")},
  {_yes_no("hypermobility")},
  CONSTRAINT "an episode is linked to another one" CHECK (linked_episode <> id),
  {_instant("closed")},
  {_instant("revised", local_date=False)}
) STRICT"""

_VISIT = f"""CREATE TABLE visit (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  episode TEXT REFERENCES episode(id),
  kind TEXT NOT NULL,
  started_at TEXT NOT NULL,
  started_on TEXT NOT NULL,
  started_offset_min INTEGER NOT NULL,
  ended_at TEXT,
  ended_on TEXT,
  ended_offset_min INTEGER,
  examiner TEXT NOT NULL,
  gave_way INTEGER,
  home_done INTEGER,
  home_planned INTEGER,
  said TEXT,
  consent_at TEXT,
  consent_on TEXT,
  consent_offset_min INTEGER,
  slot_min INTEGER NOT NULL,
  plan TEXT NOT NULL,
  {_REVISED},
  {_one_of("kind", "clinic", "sideline", "practice")},
  {_instant("started")},
  {_instant("ended")},
  {_count("gave_way")},
  {_count("home_done")},
  {_count("home_planned")},
  {_instant("consent")},
  CONSTRAINT "slot_min is minutes, 1 or more" CHECK (slot_min > 0),
  {_json("plan", "array")},
  {_instant("revised", local_date=False)}
) STRICT"""

_KINDS = ("paced reps", "counted reps", "hold to loss", "hold of fixed time", "direction shifts")
_LATER_KINDS = ("oscillations", "walk-run intervals", "reaches", "hop and hold", "timed work")

FIRST_KINDS = _one_of("kind", *_KINDS)
"""The rule of the kinds of bout in version 1."""

KINDS = _one_of("kind", *_KINDS, *_LATER_KINDS)
"""The same since version 2."""

_BOUT = f"""CREATE TABLE bout (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  episode TEXT REFERENCES episode(id),
  visit TEXT REFERENCES visit(id),
  activity TEXT NOT NULL,
  kind TEXT NOT NULL,
  measure TEXT,
  moment TEXT,
  plan TEXT NOT NULL,
  started_at TEXT NOT NULL,
  started_on TEXT NOT NULL,
  started_offset_min INTEGER NOT NULL,
  ended_at TEXT,
  ended_on TEXT,
  ended_offset_min INTEGER,
  examiner TEXT NOT NULL,
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  {_REVISED},
  CONSTRAINT "a bout is of an activity" CHECK (activity <> ''),
  {FIRST_KINDS},
  {_one_of("moment", "before", "after")},
  {_json("plan", "object")},
  {_instant("started")},
  {_instant("ended")},
  {_instant("retracted", local_date=False)},
  {_instant("revised", local_date=False)}
) STRICT"""

_READING = f"""CREATE TABLE reading (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  episode TEXT REFERENCES episode(id),
  visit TEXT REFERENCES visit(id),
  bout TEXT REFERENCES bout(id),
  measure TEXT NOT NULL,
  side TEXT,
  moment TEXT,
  value REAL,
  unit TEXT NOT NULL,
  status TEXT NOT NULL,
  trials TEXT NOT NULL,
  conditions TEXT NOT NULL,
  taken_at TEXT NOT NULL,
  taken_on TEXT NOT NULL,
  taken_offset_min INTEGER NOT NULL,
  examiner TEXT NOT NULL,
  note TEXT,
  protocol TEXT NOT NULL,
  blind INTEGER NOT NULL,
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  {_REVISED},
  CONSTRAINT "a reading is of a measure" CHECK (measure <> ''),
  {_one_of("side", "left", "right")},
  {_one_of("moment", "before", "after")},
  CONSTRAINT "value is a finite number" CHECK (abs(value) <= 1.7976931348623157e308),
  {_one_of("status", "measured", "unable", "cap reached")},
  CONSTRAINT "a reading has a value, unless unable" CHECK ((value IS NULL) = (status = 'unable')),
  {_json("trials", "array")},
  {_json("conditions", "array")},
  {_instant("taken")},
  {_yes_no("blind")},
  {_instant("retracted", local_date=False)},
  {_instant("revised", local_date=False)}
) STRICT"""

_BOUT_EVENT = f"""CREATE TABLE bout_event (
  bout TEXT NOT NULL REFERENCES bout(id),
  seq INTEGER NOT NULL,
  kind TEXT NOT NULL,
  at_ms INTEGER NOT NULL,
  wall_at TEXT NOT NULL,
  wall_offset_min INTEGER NOT NULL,
  data TEXT NOT NULL,
  PRIMARY KEY (bout, seq),
  {_count("seq")},
  CONSTRAINT "an event is of a kind" CHECK (kind <> ''),
  {_count("at_ms")},
  {_instant("wall", local_date=False)},
  {_json("data", "object")}
) STRICT"""

_AMENDMENT = f"""CREATE TABLE amendment (
  row_table TEXT NOT NULL,
  row_id TEXT NOT NULL,
  was_revision TEXT NOT NULL,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL,
  revised_because TEXT NOT NULL,
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  was TEXT NOT NULL,
  PRIMARY KEY (row_table, row_id, was_revision),
  {_instant("revised", local_date=False)},
  {_json("was", "object")}
) STRICT"""

TABLE_SQL = (_PERSON, _EXAMINER, _EPISODE, _VISIT, _BOUT, _READING, _BOUT_EVENT, _AMENDMENT)

INDEX_SQL = (
    "CREATE INDEX person_label ON person(label COLLATE NOCASE, id)",
    "CREATE INDEX examiner_name ON examiner(name)",
    "CREATE INDEX episode_person ON episode(person, opened_at)",
    "CREATE INDEX episode_open ON episode(closed_at, person) WHERE closed_at IS NULL",
    "CREATE INDEX visit_episode ON visit(episode, started_at)",
    "CREATE INDEX visit_person ON visit(person, started_at)",
    "CREATE INDEX visit_day ON visit(started_on, person)",
    "CREATE INDEX bout_visit ON bout(visit, started_at)",
    "CREATE INDEX bout_unfinished ON bout(ended_at, person) WHERE ended_at IS NULL AND retracted_at IS NULL",
    "CREATE INDEX reading_episode ON reading(episode, taken_at)",
    "CREATE INDEX reading_person ON reading(person, measure, side, taken_at)",
    "CREATE INDEX reading_visit ON reading(visit, taken_at)",
    "CREATE INDEX reading_bout ON reading(bout) WHERE bout IS NOT NULL",
)
