"""Tables that came after the first version, by the version that brought them."""

from __future__ import annotations

from store.record.columns import REVISED, count_of, day_of, instant_of, json_of, one_of, yes_no

_RETRACTED = "retracted_at TEXT,\n  retracted_offset_min INTEGER"
_RETRACTED_RULE = instant_of("retracted", local_date=False)
_REVISED_RULE = instant_of("revised", local_date=False)

_SQUAD = f"""CREATE TABLE squad (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  {_RETRACTED},
  {REVISED},
  CONSTRAINT "a squad needs a name" CHECK (trim(name) <> ''),
  {_RETRACTED_RULE},
  {_REVISED_RULE}
) STRICT"""

_SQUAD_MEMBER = f"""CREATE TABLE squad_member (
  id TEXT PRIMARY KEY NOT NULL,
  squad TEXT NOT NULL REFERENCES squad(id),
  person TEXT NOT NULL REFERENCES person(id),
  {_RETRACTED},
  {REVISED},
  {_RETRACTED_RULE},
  {_REVISED_RULE}
) STRICT"""

_APPOINTMENT = f"""CREATE TABLE appointment (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  episode TEXT REFERENCES episode(id),
  due_at TEXT NOT NULL,
  due_on TEXT NOT NULL,
  due_offset_min INTEGER NOT NULL,
  minutes INTEGER NOT NULL,
  note TEXT NOT NULL,
  {_RETRACTED},
  {REVISED},
  {instant_of("due")},
  CONSTRAINT "minutes is 1 or more" CHECK (minutes > 0),
  {_RETRACTED_RULE},
  {_REVISED_RULE}
) STRICT"""

_STAGE_DECISION = f"""CREATE TABLE stage_decision (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  episode TEXT NOT NULL REFERENCES episode(id),
  stage TEXT NOT NULL,
  decided_at TEXT NOT NULL,
  decided_on TEXT NOT NULL,
  decided_offset_min INTEGER NOT NULL,
  examiner TEXT NOT NULL,
  reason TEXT NOT NULL,
  answers TEXT NOT NULL,
  {_RETRACTED},
  {REVISED},
  {one_of("stage", "walk", "jog", "run", "agility", "sport")},
  {instant_of("decided")},
  CONSTRAINT "a decision gives its reason" CHECK (trim(reason) <> ''),
  {json_of("answers", "array")},
  {_RETRACTED_RULE},
  {_REVISED_RULE}
) STRICT"""

_FORECAST_MADE = f"""CREATE TABLE forecast_made (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  episode TEXT NOT NULL REFERENCES episode(id),
  visit TEXT NOT NULL REFERENCES visit(id),
  measure TEXT NOT NULL,
  side TEXT,
  made_at TEXT NOT NULL,
  made_on TEXT NOT NULL,
  made_offset_min INTEGER NOT NULL,
  for_on TEXT NOT NULL,
  value REAL NOT NULL,
  low80 REAL NOT NULL,
  high80 REAL NOT NULL,
  reading_low80 REAL NOT NULL,
  reading_high80 REAL NOT NULL,
  flat INTEGER NOT NULL,
  rate_a_week REAL,
  over_days INTEGER NOT NULL,
  {_RETRACTED},
  {REVISED},
  {one_of("side", "left", "right")},
  {instant_of("made")},
  {day_of("for_on")},
  CONSTRAINT "a band goes from low to high" CHECK (low80 <= high80 AND reading_low80 <= reading_high80),
  {yes_no("flat")},
  {count_of("over_days")},
  {_RETRACTED_RULE},
  {_REVISED_RULE}
) STRICT"""

PLANNED_TABLES = (_SQUAD, _SQUAD_MEMBER, _APPOINTMENT, _STAGE_DECISION, _FORECAST_MADE)
"""Version 3: what is planned and decided."""

PLANNED_INDEXES = (
    "CREATE INDEX squad_name ON squad(name)",
    "CREATE INDEX squad_member_squad ON squad_member(squad, person)",
    "CREATE INDEX squad_member_person ON squad_member(person)",
    "CREATE INDEX appointment_person ON appointment(person, due_at)",
    "CREATE INDEX appointment_day ON appointment(due_on, due_at)",
    "CREATE INDEX stage_decision_episode ON stage_decision(episode, decided_at)",
    "CREATE INDEX forecast_made_episode ON forecast_made(episode, measure, made_at)",
    "CREATE INDEX forecast_made_visit ON forecast_made(visit)",
)
