"""What the file is made of: one STRICT table a word, each rule a named CHECK whose name is the sentence shown.

This is the schema as first made. Later versions change it in migrations.py; the names of its parts stay here, so
that opening a file of the present version needs nothing but this.
"""

from __future__ import annotations

from store.record.columns import REVISED, count_of, day_of, instant_of, json_of, one_of, yes_no

APPLICATION_ID = int.from_bytes(b"feet", "big")
"""Stands in the file's header: says that it is ours."""

VERSION = 9
"""The schema this copy of the program reads and writes; stands in the header as user_version."""

CLINICAL = (
    *("person", "examiner", "episode", "visit", "bout", "reading"),
    *("squad", "squad_member", "appointment"),
    *("stage_decision", "forecast_made"),
    *("safety_screen", "programme", "programme_day", "note"),
    "resprain",
    *("run_plan", "run_session"),
    *("practice_try", "recheck"),
)
"""Tables whose rows are amended, never overwritten; a row refers only to tables before its own, and to its own."""

APPEND_ONLY = ("bout_event", "amendment", "rules")
"""Tables whose rows never change."""

TABLES = CLINICAL + APPEND_ONLY

_PERSON = f"""CREATE TABLE person (
  id TEXT PRIMARY KEY NOT NULL,
  label TEXT NOT NULL,
  born TEXT,
  {REVISED},
  CONSTRAINT "a person needs a label" CHECK (trim(label) <> ''),
  CONSTRAINT "born is a year, as 1995, or a date that exists, as 1995-04-12" CHECK (born IS NULL
    OR born GLOB '[0-9][0-9][0-9][0-9]' OR (born GLOB '????-??-??' AND born IS date(born, '+0 days'))),
  {instant_of("revised", local_date=False)}
) STRICT"""

_EXAMINER = f"""CREATE TABLE examiner (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  {REVISED},
  CONSTRAINT "an examiner needs a name or initials" CHECK (trim(name) <> ''),
  {instant_of("revised", local_date=False)}
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
  {REVISED},
  {one_of("side", "left", "right")},
  {instant_of("opened")},
  {one_of("grade", "I", "II", "III")},
  {day_of("injured_on")},
  {day_of("goal_on")},
  {count_of("sprains_left")},
  {count_of("sprains_right")},
  {yes_no("anticoagulant")},
  {yes_no("loss_of_feeling")},
  {yes_no("hypermobility")},
  CONSTRAINT "an episode is linked to another one" CHECK (linked_episode <> id),
  {instant_of("closed")},
  {instant_of("revised", local_date=False)}
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
  {REVISED},
  {one_of("kind", "clinic", "sideline", "practice")},
  {instant_of("started")},
  {instant_of("ended")},
  {count_of("gave_way")},
  {count_of("home_done")},
  {count_of("home_planned")},
  {instant_of("consent")},
  CONSTRAINT "slot_min is minutes, 1 or more" CHECK (slot_min > 0),
  {json_of("plan", "array")},
  {instant_of("revised", local_date=False)}
) STRICT"""

_KINDS = ("paced reps", "counted reps", "hold to loss", "hold of fixed time", "direction shifts")
_LATER_KINDS = ("oscillations", "walk-run intervals", "reaches", "hop and hold", "timed work")

FIRST_KINDS = one_of("kind", *_KINDS)
"""The rule of the kinds of bout in version 1."""

KINDS = one_of("kind", *_KINDS, *_LATER_KINDS)
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
  {REVISED},
  CONSTRAINT "a bout is of an activity" CHECK (activity <> ''),
  {FIRST_KINDS},
  {one_of("moment", "before", "after")},
  {json_of("plan", "object")},
  {instant_of("started")},
  {instant_of("ended")},
  {instant_of("retracted", local_date=False)},
  {instant_of("revised", local_date=False)}
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
  {REVISED},
  CONSTRAINT "a reading is of a measure" CHECK (measure <> ''),
  {one_of("side", "left", "right")},
  {one_of("moment", "before", "after")},
  CONSTRAINT "value is a finite number" CHECK (abs(value) <= 1.7976931348623157e308),
  {one_of("status", "measured", "unable", "cap reached")},
  CONSTRAINT "a reading has a value, unless unable" CHECK ((value IS NULL) = (status = 'unable')),
  {json_of("trials", "array")},
  {json_of("conditions", "array")},
  {instant_of("taken")},
  {yes_no("blind")},
  {instant_of("retracted", local_date=False)},
  {instant_of("revised", local_date=False)}
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
  {count_of("seq")},
  CONSTRAINT "an event is of a kind" CHECK (kind <> ''),
  {count_of("at_ms")},
  {instant_of("wall", local_date=False)},
  {json_of("data", "object")}
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
  {instant_of("revised", local_date=False)},
  {json_of("was", "object")}
) STRICT"""

FIRST_TABLES = (_PERSON, _EXAMINER, _EPISODE, _VISIT, _BOUT, _READING, _BOUT_EVENT, _AMENDMENT)

FIRST_INDEXES = (
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
