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

_SAFETY_SCREEN = f"""CREATE TABLE safety_screen (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  episode TEXT REFERENCES episode(id),
  visit TEXT REFERENCES visit(id),
  kind TEXT NOT NULL,
  asked_at TEXT NOT NULL,
  asked_on TEXT NOT NULL,
  asked_offset_min INTEGER NOT NULL,
  examiner TEXT NOT NULL,
  answers TEXT NOT NULL,
  shown TEXT NOT NULL,
  outcome TEXT NOT NULL,
  findings TEXT NOT NULL,
  rules TEXT,
  settled_at TEXT,
  settled_offset_min INTEGER,
  settled_because TEXT NOT NULL,
  {_RETRACTED},
  {REVISED},
  {one_of("kind", "full", "asked as a group")},
  {instant_of("asked")},
  {json_of("answers", "object")},
  {json_of("shown", "array")},
  {one_of("outcome", "emergency", "refer today", "refer", "unknown", "no stop sign found")},
  {json_of("findings", "array")},
  {instant_of("settled", local_date=False)},
  CONSTRAINT "what is settled gives its reason" CHECK (settled_at IS NULL OR trim(settled_because) <> ''),
  {_RETRACTED_RULE},
  {_REVISED_RULE}
) STRICT"""

_PROGRAMME = f"""CREATE TABLE programme (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  episode TEXT NOT NULL REFERENCES episode(id),
  visit TEXT REFERENCES visit(id),
  issued_at TEXT NOT NULL,
  issued_on TEXT NOT NULL,
  issued_offset_min INTEGER NOT NULL,
  examiner TEXT NOT NULL,
  review_on TEXT,
  items TEXT NOT NULL,
  words TEXT NOT NULL,
  {_RETRACTED},
  {REVISED},
  {instant_of("issued")},
  {day_of("review_on")},
  {json_of("items", "array")},
  {_RETRACTED_RULE},
  {_REVISED_RULE}
) STRICT"""

_PROGRAMME_DAY = f"""CREATE TABLE programme_day (
  id TEXT PRIMARY KEY NOT NULL,
  programme TEXT NOT NULL REFERENCES programme(id),
  person TEXT NOT NULL REFERENCES person(id),
  day_on TEXT NOT NULL,
  done INTEGER NOT NULL,
  pain_morning INTEGER,
  note TEXT NOT NULL,
  {_RETRACTED},
  {REVISED},
  {day_of("day_on")},
  {count_of("done")},
  CONSTRAINT "pain_morning is 0 to 10" CHECK (pain_morning BETWEEN 0 AND 10),
  {_RETRACTED_RULE},
  {_REVISED_RULE}
) STRICT"""

_NOTE = f"""CREATE TABLE note (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  episode TEXT REFERENCES episode(id),
  visit TEXT REFERENCES visit(id),
  kind TEXT NOT NULL,
  adds_to TEXT REFERENCES note(id),
  drafted_at TEXT NOT NULL,
  drafted_on TEXT NOT NULL,
  drafted_offset_min INTEGER NOT NULL,
  sections TEXT NOT NULL,
  signed_at TEXT,
  signed_offset_min INTEGER,
  signed_by TEXT NOT NULL,
  student INTEGER NOT NULL,
  countersigned_at TEXT,
  countersigned_offset_min INTEGER,
  countersigned_by TEXT NOT NULL,
  rules TEXT,
  {_RETRACTED},
  {REVISED},
  {one_of("kind", "visit note", "addition")},
  CONSTRAINT "an addition adds to a note" CHECK ((kind = 'addition') = (adds_to IS NOT NULL)),
  {instant_of("drafted")},
  {json_of("sections", "object")},
  {instant_of("signed", local_date=False)},
  CONSTRAINT "a signed note says by whom" CHECK (signed_at IS NULL OR trim(signed_by) <> ''),
  {yes_no("student")},
  {instant_of("countersigned", local_date=False)},
  CONSTRAINT "a countersign follows a signature" CHECK (countersigned_at IS NULL OR signed_at IS NOT NULL),
  {_RETRACTED_RULE},
  {_REVISED_RULE}
) STRICT"""

_RULES = f"""CREATE TABLE rules (
  hash TEXT PRIMARY KEY NOT NULL,
  data TEXT NOT NULL,
  {json_of("data", "object")}
) STRICT"""

PAPER_TABLES = (_RULES, _SAFETY_SCREEN, _PROGRAMME, _PROGRAMME_DAY, _NOTE)
"""Version 4: safety screens, home programmes, notes, and the rules they were made by."""

PAPER_INDEXES = (
    "CREATE INDEX safety_screen_episode ON safety_screen(episode, asked_at)",
    "CREATE INDEX safety_screen_person ON safety_screen(person, asked_at)",
    "CREATE INDEX programme_episode ON programme(episode, issued_at)",
    "CREATE INDEX programme_day_programme ON programme_day(programme, day_on)",
    "CREATE INDEX note_episode ON note(episode, drafted_at)",
    "CREATE INDEX note_visit ON note(visit)",
    "CREATE INDEX note_adds_to ON note(adds_to)",
)

_RESPRAIN = f"""CREATE TABLE resprain (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  episode TEXT NOT NULL REFERENCES episode(id),
  visit TEXT REFERENCES visit(id),
  side TEXT NOT NULL,
  day_on TEXT NOT NULL,
  told_at TEXT NOT NULL,
  told_on TEXT NOT NULL,
  told_offset_min INTEGER NOT NULL,
  note TEXT NOT NULL,
  examiner TEXT NOT NULL,
  {_RETRACTED},
  {REVISED},
  {one_of("side", "left", "right")},
  {day_of("day_on")},
  {instant_of("told")},
  {_RETRACTED_RULE},
  {_REVISED_RULE}
) STRICT"""

RESPRAIN_TABLES = (_RESPRAIN,)
"""Version 5: new sprains that were told of after the one that is cared for; its indexes also find recalls."""

RESPRAIN_INDEXES = (
    "CREATE INDEX resprain_episode ON resprain(episode, day_on)",
    "CREATE INDEX resprain_person ON resprain(person, day_on)",
    "CREATE INDEX episode_closed ON episode(closed_on, person) WHERE closed_on IS NOT NULL",
)

_RUN_PLAN = f"""CREATE TABLE run_plan (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  episode TEXT NOT NULL REFERENCES episode(id),
  ladder TEXT NOT NULL,
  rung INTEGER NOT NULL,
  weekdays TEXT NOT NULL,
  begins_on TEXT NOT NULL,
  made_at TEXT NOT NULL,
  made_on TEXT NOT NULL,
  made_offset_min INTEGER NOT NULL,
  examiner TEXT NOT NULL,
  reason TEXT NOT NULL,
  {_RETRACTED},
  {REVISED},
  CONSTRAINT "rung is 1 or more" CHECK (rung > 0),
  {json_of("weekdays", "array")},
  {day_of("begins_on")},
  {instant_of("made")},
  {_RETRACTED_RULE},
  {_REVISED_RULE}
) STRICT"""

_RUN_SESSION = f"""CREATE TABLE run_session (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  episode TEXT NOT NULL REFERENCES episode(id),
  plan TEXT REFERENCES run_plan(id),
  rung INTEGER NOT NULL,
  planned_on TEXT,
  done_on TEXT,
  minutes REAL,
  distance_km REAL,
  pain_during INTEGER,
  pain_morning INTEGER,
  pain_usual INTEGER,
  swelling INTEGER,
  note TEXT NOT NULL,
  examiner TEXT NOT NULL,
  {_RETRACTED},
  {REVISED},
  CONSTRAINT "rung is 1 or more" CHECK (rung > 0),
  CONSTRAINT "a run session is planned or done" CHECK (planned_on IS NOT NULL OR done_on IS NOT NULL),
  CONSTRAINT "what is not done has no pain, minutes or distance" CHECK (done_on IS NOT NULL OR
    coalesce(minutes, distance_km, pain_during, pain_morning, pain_usual, swelling) IS NULL),
  {day_of("planned_on")},
  {day_of("done_on")},
  CONSTRAINT "minutes is more than 0" CHECK (minutes > 0),
  CONSTRAINT "distance_km is more than 0" CHECK (distance_km > 0),
  CONSTRAINT "pain_during is 0 to 10" CHECK (pain_during BETWEEN 0 AND 10),
  CONSTRAINT "pain_morning is 0 to 10" CHECK (pain_morning BETWEEN 0 AND 10),
  CONSTRAINT "pain_usual is 0 to 10" CHECK (pain_usual BETWEEN 0 AND 10),
  {yes_no("swelling")},
  {_RETRACTED_RULE},
  {_REVISED_RULE}
) STRICT"""

RUN_TABLES = (_RUN_PLAN, _RUN_SESSION)
"""Version 6: plans of running and their sessions."""

RUN_INDEXES = (
    "CREATE INDEX run_plan_episode ON run_plan(episode, made_at)",
    "CREATE INDEX run_session_episode ON run_session(episode, done_on)",
)

_PRACTICE_TRY = f"""CREATE TABLE practice_try (
  id TEXT PRIMARY KEY NOT NULL,
  kind TEXT NOT NULL,
  ref TEXT NOT NULL,
  began_at TEXT NOT NULL,
  began_on TEXT NOT NULL,
  began_offset_min INTEGER NOT NULL,
  examiner TEXT NOT NULL,
  ended_at TEXT,
  ended_offset_min INTEGER,
  data TEXT NOT NULL,
  {_RETRACTED},
  {REVISED},
  {one_of("kind", "sequence", "case", "drill")},
  {instant_of("began")},
  {instant_of("ended", local_date=False)},
  {json_of("data", "object")},
  {_RETRACTED_RULE},
  {_REVISED_RULE}
) STRICT"""

PRACTICE_TABLES = (_PRACTICE_TRY,)
"""Version 8: what was practised, about nobody who is cared for."""

PRACTICE_INDEXES = ("CREATE INDEX practice_try_examiner ON practice_try(examiner, began_at)",)

_RECHECK = f"""CREATE TABLE recheck (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  side TEXT NOT NULL,
  looked_at TEXT NOT NULL,
  looked_on TEXT NOT NULL,
  looked_offset_min INTEGER NOT NULL,
  outcome TEXT NOT NULL,
  answers TEXT NOT NULL,
  due_at TEXT,
  due_offset_min INTEGER,
  examiner TEXT NOT NULL,
  {_RETRACTED},
  {REVISED},
  {one_of("side", "left", "right")},
  {instant_of("looked")},
  {one_of("outcome", "emergency", "refer today", "remove", "re-check", "no stop sign found")},
  {json_of("answers", "object")},
  {instant_of("due", local_date=False)},
  {_RETRACTED_RULE},
  {_REVISED_RULE}
) STRICT"""

SIDELINE_TABLES = (_RECHECK,)
"""Version 9: looks at players at the sideline, and when they are looked at again."""

SIDELINE_INDEXES = ("CREATE INDEX recheck_person ON recheck(person, looked_at)",)
