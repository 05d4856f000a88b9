CREATE TABLE "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
);

CREATE TABLE amendment (
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
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440)),
  CONSTRAINT "was is a JSON object" CHECK (CASE WHEN json_valid(was) THEN json_type(was) = 'object' ELSE 0 END)
) STRICT;

CREATE TABLE appointment (
  id TEXT PRIMARY KEY NOT NULL,
  person TEXT NOT NULL REFERENCES person(id),
  episode TEXT REFERENCES episode(id),
  due_at TEXT NOT NULL,
  due_on TEXT NOT NULL,
  due_offset_min INTEGER NOT NULL,
  minutes INTEGER NOT NULL,
  note TEXT NOT NULL,
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "due_at is a UTC time with Z, and its offset and local date fit it" CHECK ((due_at IS NULL AND due_offset_min IS NULL AND due_on IS NULL) OR (due_at IS NOT NULL AND due_offset_min IS NOT NULL AND due_on IS NOT NULL AND due_at GLOB '????-??-??T??:??:??.???Z' AND substr(due_at, 1, 10) IS date(due_at, '+0 days') AND abs(due_offset_min) < 1440 AND due_on IS date(due_at, due_offset_min || ' minutes'))),
  CONSTRAINT "minutes is 1 or more" CHECK (minutes > 0),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE "bout" (
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
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "a bout is of an activity" CHECK (activity <> ''),
  CONSTRAINT "kind is paced reps or counted reps or hold to loss or hold of fixed time or direction shifts or oscillations or walk-run intervals or reaches or hop and hold or timed work" CHECK (kind IN ('paced reps', 'counted reps', 'hold to loss', 'hold of fixed time', 'direction shifts', 'oscillations', 'walk-run intervals', 'reaches', 'hop and hold', 'timed work')),
  CONSTRAINT "moment is before or after" CHECK (moment IN ('before', 'after')),
  CONSTRAINT "plan is a JSON object" CHECK (CASE WHEN json_valid(plan) THEN json_type(plan) = 'object' ELSE 0 END),
  CONSTRAINT "started_at is a UTC time with Z, and its offset and local date fit it" CHECK ((started_at IS NULL AND started_offset_min IS NULL AND started_on IS NULL) OR (started_at IS NOT NULL AND started_offset_min IS NOT NULL AND started_on IS NOT NULL AND started_at GLOB '????-??-??T??:??:??.???Z' AND substr(started_at, 1, 10) IS date(started_at, '+0 days') AND abs(started_offset_min) < 1440 AND started_on IS date(started_at, started_offset_min || ' minutes'))),
  CONSTRAINT "ended_at is a UTC time with Z, and its offset and local date fit it" CHECK ((ended_at IS NULL AND ended_offset_min IS NULL AND ended_on IS NULL) OR (ended_at IS NOT NULL AND ended_offset_min IS NOT NULL AND ended_on IS NOT NULL AND ended_at GLOB '????-??-??T??:??:??.???Z' AND substr(ended_at, 1, 10) IS date(ended_at, '+0 days') AND abs(ended_offset_min) < 1440 AND ended_on IS date(ended_at, ended_offset_min || ' minutes'))),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE bout_event (
  bout TEXT NOT NULL REFERENCES bout(id),
  seq INTEGER NOT NULL,
  kind TEXT NOT NULL,
  at_ms INTEGER NOT NULL,
  wall_at TEXT NOT NULL,
  wall_offset_min INTEGER NOT NULL,
  data TEXT NOT NULL,
  PRIMARY KEY (bout, seq),
  CONSTRAINT "seq is a count, 0 or more" CHECK (seq >= 0),
  CONSTRAINT "an event is of a kind" CHECK (kind <> ''),
  CONSTRAINT "at_ms is a count, 0 or more" CHECK (at_ms >= 0),
  CONSTRAINT "wall_at is a UTC time with Z, and its offset fit it" CHECK ((wall_at IS NULL AND wall_offset_min IS NULL) OR (wall_at IS NOT NULL AND wall_offset_min IS NOT NULL AND wall_at GLOB '????-??-??T??:??:??.???Z' AND substr(wall_at, 1, 10) IS date(wall_at, '+0 days') AND abs(wall_offset_min) < 1440)),
  CONSTRAINT "data is a JSON object" CHECK (CASE WHEN json_valid(data) THEN json_type(data) = 'object' ELSE 0 END)
) STRICT;

CREATE TABLE episode (
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
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL, letter_to TEXT,
  CONSTRAINT "side is left or right" CHECK (side IN ('left', 'right')),
  CONSTRAINT "opened_at is a UTC time with Z, and its offset and local date fit it" CHECK ((opened_at IS NULL AND opened_offset_min IS NULL AND opened_on IS NULL) OR (opened_at IS NOT NULL AND opened_offset_min IS NOT NULL AND opened_on IS NOT NULL AND opened_at GLOB '????-??-??T??:??:??.???Z' AND substr(opened_at, 1, 10) IS date(opened_at, '+0 days') AND abs(opened_offset_min) < 1440 AND opened_on IS date(opened_at, opened_offset_min || ' minutes'))),
  CONSTRAINT "grade is I or II or III" CHECK (grade IN ('I', 'II', 'III')),
  CONSTRAINT "injured_on is a date that exists, as 2026-11-25" CHECK (injured_on IS NULL OR (injured_on GLOB '????-??-??' AND injured_on IS date(injured_on, '+0 days'))),
  CONSTRAINT "goal_on is a date that exists, as 2026-11-25" CHECK (goal_on IS NULL OR (goal_on GLOB '????-??-??' AND goal_on IS date(goal_on, '+0 days'))),
  CONSTRAINT "sprains_left is a count, 0 or more" CHECK (sprains_left >= 0),
  CONSTRAINT "sprains_right is a count, 0 or more" CHECK (sprains_right >= 0),
  CONSTRAINT "anticoagulant is 1 for yes or 0 for no" CHECK (anticoagulant IN (0, 1)),
  CONSTRAINT "loss_of_feeling is 1 for yes or 0 for no" CHECK (loss_of_feeling IN (0, 1)),
  CONSTRAINT "hypermobility is 1 for yes or 0 for no" CHECK (hypermobility IN (0, 1)),
  CONSTRAINT "an episode is linked to another one" CHECK (linked_episode <> id),
  CONSTRAINT "closed_at is a UTC time with Z, and its offset and local date fit it" CHECK ((closed_at IS NULL AND closed_offset_min IS NULL AND closed_on IS NULL) OR (closed_at IS NOT NULL AND closed_offset_min IS NOT NULL AND closed_on IS NOT NULL AND closed_at GLOB '????-??-??T??:??:??.???Z' AND substr(closed_at, 1, 10) IS date(closed_at, '+0 days') AND abs(closed_offset_min) < 1440 AND closed_on IS date(closed_at, closed_offset_min || ' minutes'))),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE examiner (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "an examiner needs a name or initials" CHECK (trim(name) <> ''),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE forecast_made (
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
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "side is left or right" CHECK (side IN ('left', 'right')),
  CONSTRAINT "made_at is a UTC time with Z, and its offset and local date fit it" CHECK ((made_at IS NULL AND made_offset_min IS NULL AND made_on IS NULL) OR (made_at IS NOT NULL AND made_offset_min IS NOT NULL AND made_on IS NOT NULL AND made_at GLOB '????-??-??T??:??:??.???Z' AND substr(made_at, 1, 10) IS date(made_at, '+0 days') AND abs(made_offset_min) < 1440 AND made_on IS date(made_at, made_offset_min || ' minutes'))),
  CONSTRAINT "for_on is a date that exists, as 2026-11-25" CHECK (for_on IS NULL OR (for_on GLOB '????-??-??' AND for_on IS date(for_on, '+0 days'))),
  CONSTRAINT "a band goes from low to high" CHECK (low80 <= high80 AND reading_low80 <= reading_high80),
  CONSTRAINT "flat is 1 for yes or 0 for no" CHECK (flat IN (0, 1)),
  CONSTRAINT "over_days is a count, 0 or more" CHECK (over_days >= 0),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE note (
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
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "kind is visit note or addition" CHECK (kind IN ('visit note', 'addition')),
  CONSTRAINT "an addition adds to a note" CHECK ((kind = 'addition') = (adds_to IS NOT NULL)),
  CONSTRAINT "drafted_at is a UTC time with Z, and its offset and local date fit it" CHECK ((drafted_at IS NULL AND drafted_offset_min IS NULL AND drafted_on IS NULL) OR (drafted_at IS NOT NULL AND drafted_offset_min IS NOT NULL AND drafted_on IS NOT NULL AND drafted_at GLOB '????-??-??T??:??:??.???Z' AND substr(drafted_at, 1, 10) IS date(drafted_at, '+0 days') AND abs(drafted_offset_min) < 1440 AND drafted_on IS date(drafted_at, drafted_offset_min || ' minutes'))),
  CONSTRAINT "sections is a JSON object" CHECK (CASE WHEN json_valid(sections) THEN json_type(sections) = 'object' ELSE 0 END),
  CONSTRAINT "signed_at is a UTC time with Z, and its offset fit it" CHECK ((signed_at IS NULL AND signed_offset_min IS NULL) OR (signed_at IS NOT NULL AND signed_offset_min IS NOT NULL AND signed_at GLOB '????-??-??T??:??:??.???Z' AND substr(signed_at, 1, 10) IS date(signed_at, '+0 days') AND abs(signed_offset_min) < 1440)),
  CONSTRAINT "a signed note says by whom" CHECK (signed_at IS NULL OR trim(signed_by) <> ''),
  CONSTRAINT "student is 1 for yes or 0 for no" CHECK (student IN (0, 1)),
  CONSTRAINT "countersigned_at is a UTC time with Z, and its offset fit it" CHECK ((countersigned_at IS NULL AND countersigned_offset_min IS NULL) OR (countersigned_at IS NOT NULL AND countersigned_offset_min IS NOT NULL AND countersigned_at GLOB '????-??-??T??:??:??.???Z' AND substr(countersigned_at, 1, 10) IS date(countersigned_at, '+0 days') AND abs(countersigned_offset_min) < 1440)),
  CONSTRAINT "a countersign follows a signature" CHECK (countersigned_at IS NULL OR signed_at IS NOT NULL),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE person (
  id TEXT PRIMARY KEY NOT NULL,
  label TEXT NOT NULL,
  born TEXT,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "a person needs a label" CHECK (trim(label) <> ''),
  CONSTRAINT "born is a year, as 1995, or a date that exists, as 1995-04-12" CHECK (born IS NULL
    OR born GLOB '[0-9][0-9][0-9][0-9]' OR (born GLOB '????-??-??' AND born IS date(born, '+0 days'))),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE practice_try (
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
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "kind is sequence or case or drill" CHECK (kind IN ('sequence', 'case', 'drill')),
  CONSTRAINT "began_at is a UTC time with Z, and its offset and local date fit it" CHECK ((began_at IS NULL AND began_offset_min IS NULL AND began_on IS NULL) OR (began_at IS NOT NULL AND began_offset_min IS NOT NULL AND began_on IS NOT NULL AND began_at GLOB '????-??-??T??:??:??.???Z' AND substr(began_at, 1, 10) IS date(began_at, '+0 days') AND abs(began_offset_min) < 1440 AND began_on IS date(began_at, began_offset_min || ' minutes'))),
  CONSTRAINT "ended_at is a UTC time with Z, and its offset fit it" CHECK ((ended_at IS NULL AND ended_offset_min IS NULL) OR (ended_at IS NOT NULL AND ended_offset_min IS NOT NULL AND ended_at GLOB '????-??-??T??:??:??.???Z' AND substr(ended_at, 1, 10) IS date(ended_at, '+0 days') AND abs(ended_offset_min) < 1440)),
  CONSTRAINT "data is a JSON object" CHECK (CASE WHEN json_valid(data) THEN json_type(data) = 'object' ELSE 0 END),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE programme (
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
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "issued_at is a UTC time with Z, and its offset and local date fit it" CHECK ((issued_at IS NULL AND issued_offset_min IS NULL AND issued_on IS NULL) OR (issued_at IS NOT NULL AND issued_offset_min IS NOT NULL AND issued_on IS NOT NULL AND issued_at GLOB '????-??-??T??:??:??.???Z' AND substr(issued_at, 1, 10) IS date(issued_at, '+0 days') AND abs(issued_offset_min) < 1440 AND issued_on IS date(issued_at, issued_offset_min || ' minutes'))),
  CONSTRAINT "review_on is a date that exists, as 2026-11-25" CHECK (review_on IS NULL OR (review_on GLOB '????-??-??' AND review_on IS date(review_on, '+0 days'))),
  CONSTRAINT "items is a JSON array" CHECK (CASE WHEN json_valid(items) THEN json_type(items) = 'array' ELSE 0 END),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE programme_day (
  id TEXT PRIMARY KEY NOT NULL,
  programme TEXT NOT NULL REFERENCES programme(id),
  person TEXT NOT NULL REFERENCES person(id),
  day_on TEXT NOT NULL,
  done INTEGER NOT NULL,
  pain_morning INTEGER,
  note TEXT NOT NULL,
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "day_on is a date that exists, as 2026-11-25" CHECK (day_on IS NULL OR (day_on GLOB '????-??-??' AND day_on IS date(day_on, '+0 days'))),
  CONSTRAINT "done is a count, 0 or more" CHECK (done >= 0),
  CONSTRAINT "pain_morning is 0 to 10" CHECK (pain_morning BETWEEN 0 AND 10),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE reading (
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
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "a reading is of a measure" CHECK (measure <> ''),
  CONSTRAINT "side is left or right" CHECK (side IN ('left', 'right')),
  CONSTRAINT "moment is before or after" CHECK (moment IN ('before', 'after')),
  CONSTRAINT "value is a finite number" CHECK (abs(value) <= 1.7976931348623157e308),
  CONSTRAINT "status is measured or unable or cap reached" CHECK (status IN ('measured', 'unable', 'cap reached')),
  CONSTRAINT "a reading has a value, unless unable" CHECK ((value IS NULL) = (status = 'unable')),
  CONSTRAINT "trials is a JSON array" CHECK (CASE WHEN json_valid(trials) THEN json_type(trials) = 'array' ELSE 0 END),
  CONSTRAINT "conditions is a JSON array" CHECK (CASE WHEN json_valid(conditions) THEN json_type(conditions) = 'array' ELSE 0 END),
  CONSTRAINT "taken_at is a UTC time with Z, and its offset and local date fit it" CHECK ((taken_at IS NULL AND taken_offset_min IS NULL AND taken_on IS NULL) OR (taken_at IS NOT NULL AND taken_offset_min IS NOT NULL AND taken_on IS NOT NULL AND taken_at GLOB '????-??-??T??:??:??.???Z' AND substr(taken_at, 1, 10) IS date(taken_at, '+0 days') AND abs(taken_offset_min) < 1440 AND taken_on IS date(taken_at, taken_offset_min || ' minutes'))),
  CONSTRAINT "blind is 1 for yes or 0 for no" CHECK (blind IN (0, 1)),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE recheck (
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
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "side is left or right" CHECK (side IN ('left', 'right')),
  CONSTRAINT "looked_at is a UTC time with Z, and its offset and local date fit it" CHECK ((looked_at IS NULL AND looked_offset_min IS NULL AND looked_on IS NULL) OR (looked_at IS NOT NULL AND looked_offset_min IS NOT NULL AND looked_on IS NOT NULL AND looked_at GLOB '????-??-??T??:??:??.???Z' AND substr(looked_at, 1, 10) IS date(looked_at, '+0 days') AND abs(looked_offset_min) < 1440 AND looked_on IS date(looked_at, looked_offset_min || ' minutes'))),
  CONSTRAINT "outcome is emergency or refer today or remove or re-check or no stop sign found" CHECK (outcome IN ('emergency', 'refer today', 'remove', 're-check', 'no stop sign found')),
  CONSTRAINT "answers is a JSON object" CHECK (CASE WHEN json_valid(answers) THEN json_type(answers) = 'object' ELSE 0 END),
  CONSTRAINT "due_at is a UTC time with Z, and its offset fit it" CHECK ((due_at IS NULL AND due_offset_min IS NULL) OR (due_at IS NOT NULL AND due_offset_min IS NOT NULL AND due_at GLOB '????-??-??T??:??:??.???Z' AND substr(due_at, 1, 10) IS date(due_at, '+0 days') AND abs(due_offset_min) < 1440)),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE resprain (
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
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "side is left or right" CHECK (side IN ('left', 'right')),
  CONSTRAINT "day_on is a date that exists, as 2026-11-25" CHECK (day_on IS NULL OR (day_on GLOB '????-??-??' AND day_on IS date(day_on, '+0 days'))),
  CONSTRAINT "told_at is a UTC time with Z, and its offset and local date fit it" CHECK ((told_at IS NULL AND told_offset_min IS NULL AND told_on IS NULL) OR (told_at IS NOT NULL AND told_offset_min IS NOT NULL AND told_on IS NOT NULL AND told_at GLOB '????-??-??T??:??:??.???Z' AND substr(told_at, 1, 10) IS date(told_at, '+0 days') AND abs(told_offset_min) < 1440 AND told_on IS date(told_at, told_offset_min || ' minutes'))),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE rules (
  hash TEXT PRIMARY KEY NOT NULL,
  data TEXT NOT NULL,
  CONSTRAINT "data is a JSON object" CHECK (CASE WHEN json_valid(data) THEN json_type(data) = 'object' ELSE 0 END)
) STRICT;

CREATE TABLE run_plan (
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
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "rung is 1 or more" CHECK (rung > 0),
  CONSTRAINT "weekdays is a JSON array" CHECK (CASE WHEN json_valid(weekdays) THEN json_type(weekdays) = 'array' ELSE 0 END),
  CONSTRAINT "begins_on is a date that exists, as 2026-11-25" CHECK (begins_on IS NULL OR (begins_on GLOB '????-??-??' AND begins_on IS date(begins_on, '+0 days'))),
  CONSTRAINT "made_at is a UTC time with Z, and its offset and local date fit it" CHECK ((made_at IS NULL AND made_offset_min IS NULL AND made_on IS NULL) OR (made_at IS NOT NULL AND made_offset_min IS NOT NULL AND made_on IS NOT NULL AND made_at GLOB '????-??-??T??:??:??.???Z' AND substr(made_at, 1, 10) IS date(made_at, '+0 days') AND abs(made_offset_min) < 1440 AND made_on IS date(made_at, made_offset_min || ' minutes'))),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE run_session (
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
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "rung is 1 or more" CHECK (rung > 0),
  CONSTRAINT "a run session is planned or done" CHECK (planned_on IS NOT NULL OR done_on IS NOT NULL),
  CONSTRAINT "what is not done has no pain, minutes or distance" CHECK (done_on IS NOT NULL OR
    coalesce(minutes, distance_km, pain_during, pain_morning, pain_usual, swelling) IS NULL),
  CONSTRAINT "planned_on is a date that exists, as 2026-11-25" CHECK (planned_on IS NULL OR (planned_on GLOB '????-??-??' AND planned_on IS date(planned_on, '+0 days'))),
  CONSTRAINT "done_on is a date that exists, as 2026-11-25" CHECK (done_on IS NULL OR (done_on GLOB '????-??-??' AND done_on IS date(done_on, '+0 days'))),
  CONSTRAINT "minutes is more than 0" CHECK (minutes > 0),
  CONSTRAINT "distance_km is more than 0" CHECK (distance_km > 0),
  CONSTRAINT "pain_during is 0 to 10" CHECK (pain_during BETWEEN 0 AND 10),
  CONSTRAINT "pain_morning is 0 to 10" CHECK (pain_morning BETWEEN 0 AND 10),
  CONSTRAINT "pain_usual is 0 to 10" CHECK (pain_usual BETWEEN 0 AND 10),
  CONSTRAINT "swelling is 1 for yes or 0 for no" CHECK (swelling IN (0, 1)),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE safety_screen (
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
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "kind is full or asked as a group" CHECK (kind IN ('full', 'asked as a group')),
  CONSTRAINT "asked_at is a UTC time with Z, and its offset and local date fit it" CHECK ((asked_at IS NULL AND asked_offset_min IS NULL AND asked_on IS NULL) OR (asked_at IS NOT NULL AND asked_offset_min IS NOT NULL AND asked_on IS NOT NULL AND asked_at GLOB '????-??-??T??:??:??.???Z' AND substr(asked_at, 1, 10) IS date(asked_at, '+0 days') AND abs(asked_offset_min) < 1440 AND asked_on IS date(asked_at, asked_offset_min || ' minutes'))),
  CONSTRAINT "answers is a JSON object" CHECK (CASE WHEN json_valid(answers) THEN json_type(answers) = 'object' ELSE 0 END),
  CONSTRAINT "shown is a JSON array" CHECK (CASE WHEN json_valid(shown) THEN json_type(shown) = 'array' ELSE 0 END),
  CONSTRAINT "outcome is emergency or refer today or refer or unknown or no stop sign found" CHECK (outcome IN ('emergency', 'refer today', 'refer', 'unknown', 'no stop sign found')),
  CONSTRAINT "findings is a JSON array" CHECK (CASE WHEN json_valid(findings) THEN json_type(findings) = 'array' ELSE 0 END),
  CONSTRAINT "settled_at is a UTC time with Z, and its offset fit it" CHECK ((settled_at IS NULL AND settled_offset_min IS NULL) OR (settled_at IS NOT NULL AND settled_offset_min IS NOT NULL AND settled_at GLOB '????-??-??T??:??:??.???Z' AND substr(settled_at, 1, 10) IS date(settled_at, '+0 days') AND abs(settled_offset_min) < 1440)),
  CONSTRAINT "what is settled gives its reason" CHECK (settled_at IS NULL OR trim(settled_because) <> ''),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE squad (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "a squad needs a name" CHECK (trim(name) <> ''),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE squad_member (
  id TEXT PRIMARY KEY NOT NULL,
  squad TEXT NOT NULL REFERENCES squad(id),
  person TEXT NOT NULL REFERENCES person(id),
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE stage_decision (
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
  retracted_at TEXT,
  retracted_offset_min INTEGER,
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "stage is walk or jog or run or agility or sport" CHECK (stage IN ('walk', 'jog', 'run', 'agility', 'sport')),
  CONSTRAINT "decided_at is a UTC time with Z, and its offset and local date fit it" CHECK ((decided_at IS NULL AND decided_offset_min IS NULL AND decided_on IS NULL) OR (decided_at IS NOT NULL AND decided_offset_min IS NOT NULL AND decided_on IS NOT NULL AND decided_at GLOB '????-??-??T??:??:??.???Z' AND substr(decided_at, 1, 10) IS date(decided_at, '+0 days') AND abs(decided_offset_min) < 1440 AND decided_on IS date(decided_at, decided_offset_min || ' minutes'))),
  CONSTRAINT "a decision gives its reason" CHECK (trim(reason) <> ''),
  CONSTRAINT "answers is a JSON array" CHECK (CASE WHEN json_valid(answers) THEN json_type(answers) = 'array' ELSE 0 END),
  CONSTRAINT "retracted_at is a UTC time with Z, and its offset fit it" CHECK ((retracted_at IS NULL AND retracted_offset_min IS NULL) OR (retracted_at IS NOT NULL AND retracted_offset_min IS NOT NULL AND retracted_at GLOB '????-??-??T??:??:??.???Z' AND substr(retracted_at, 1, 10) IS date(retracted_at, '+0 days') AND abs(retracted_offset_min) < 1440)),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE TABLE visit (
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
  revision TEXT NOT NULL,
  revised_by TEXT NOT NULL DEFAULT '',
  revised_because TEXT NOT NULL DEFAULT '',
  revised_at TEXT NOT NULL,
  revised_offset_min INTEGER NOT NULL,
  CONSTRAINT "kind is clinic or sideline or practice" CHECK (kind IN ('clinic', 'sideline', 'practice')),
  CONSTRAINT "started_at is a UTC time with Z, and its offset and local date fit it" CHECK ((started_at IS NULL AND started_offset_min IS NULL AND started_on IS NULL) OR (started_at IS NOT NULL AND started_offset_min IS NOT NULL AND started_on IS NOT NULL AND started_at GLOB '????-??-??T??:??:??.???Z' AND substr(started_at, 1, 10) IS date(started_at, '+0 days') AND abs(started_offset_min) < 1440 AND started_on IS date(started_at, started_offset_min || ' minutes'))),
  CONSTRAINT "ended_at is a UTC time with Z, and its offset and local date fit it" CHECK ((ended_at IS NULL AND ended_offset_min IS NULL AND ended_on IS NULL) OR (ended_at IS NOT NULL AND ended_offset_min IS NOT NULL AND ended_on IS NOT NULL AND ended_at GLOB '????-??-??T??:??:??.???Z' AND substr(ended_at, 1, 10) IS date(ended_at, '+0 days') AND abs(ended_offset_min) < 1440 AND ended_on IS date(ended_at, ended_offset_min || ' minutes'))),
  CONSTRAINT "gave_way is a count, 0 or more" CHECK (gave_way >= 0),
  CONSTRAINT "home_done is a count, 0 or more" CHECK (home_done >= 0),
  CONSTRAINT "home_planned is a count, 0 or more" CHECK (home_planned >= 0),
  CONSTRAINT "consent_at is a UTC time with Z, and its offset and local date fit it" CHECK ((consent_at IS NULL AND consent_offset_min IS NULL AND consent_on IS NULL) OR (consent_at IS NOT NULL AND consent_offset_min IS NOT NULL AND consent_on IS NOT NULL AND consent_at GLOB '????-??-??T??:??:??.???Z' AND substr(consent_at, 1, 10) IS date(consent_at, '+0 days') AND abs(consent_offset_min) < 1440 AND consent_on IS date(consent_at, consent_offset_min || ' minutes'))),
  CONSTRAINT "slot_min is minutes, 1 or more" CHECK (slot_min > 0),
  CONSTRAINT "plan is a JSON array" CHECK (CASE WHEN json_valid(plan) THEN json_type(plan) = 'array' ELSE 0 END),
  CONSTRAINT "revised_at is a UTC time with Z, and its offset fit it" CHECK ((revised_at IS NULL AND revised_offset_min IS NULL) OR (revised_at IS NOT NULL AND revised_offset_min IS NOT NULL AND revised_at GLOB '????-??-??T??:??:??.???Z' AND substr(revised_at, 1, 10) IS date(revised_at, '+0 days') AND abs(revised_offset_min) < 1440))
) STRICT;

CREATE INDEX appointment_day ON appointment(due_on, due_at);

CREATE INDEX appointment_person ON appointment(person, due_at);

CREATE INDEX bout_unfinished ON bout(ended_at, person) WHERE ended_at IS NULL AND retracted_at IS NULL;

CREATE INDEX bout_visit ON bout(visit, started_at);

CREATE INDEX episode_closed ON episode(closed_on, person) WHERE closed_on IS NOT NULL;

CREATE INDEX episode_open ON episode(closed_at, person) WHERE closed_at IS NULL;

CREATE INDEX episode_person ON episode(person, opened_at);

CREATE INDEX examiner_name ON examiner(name);

CREATE INDEX forecast_made_episode ON forecast_made(episode, measure, made_at);

CREATE INDEX forecast_made_visit ON forecast_made(visit);

CREATE UNIQUE INDEX "idx__sqlite_migrations_migration_set_name"
    ON "_sqlite_migrations" ("migration_set", "name");

CREATE INDEX note_adds_to ON note(adds_to);

CREATE INDEX note_episode ON note(episode, drafted_at);

CREATE INDEX note_visit ON note(visit);

CREATE INDEX person_label ON person(label COLLATE NOCASE, id);

CREATE INDEX practice_try_examiner ON practice_try(examiner, began_at);

CREATE INDEX programme_day_programme ON programme_day(programme, day_on);

CREATE INDEX programme_episode ON programme(episode, issued_at);

CREATE INDEX reading_bout ON reading(bout) WHERE bout IS NOT NULL;

CREATE INDEX reading_episode ON reading(episode, taken_at);

CREATE INDEX reading_person ON reading(person, measure, side, taken_at);

CREATE INDEX reading_visit ON reading(visit, taken_at);

CREATE INDEX recheck_person ON recheck(person, looked_at);

CREATE INDEX resprain_episode ON resprain(episode, day_on);

CREATE INDEX resprain_person ON resprain(person, day_on);

CREATE INDEX run_plan_episode ON run_plan(episode, made_at);

CREATE INDEX run_session_episode ON run_session(episode, done_on);

CREATE INDEX safety_screen_episode ON safety_screen(episode, asked_at);

CREATE INDEX safety_screen_person ON safety_screen(person, asked_at);

CREATE INDEX squad_member_person ON squad_member(person);

CREATE INDEX squad_member_squad ON squad_member(squad, person);

CREATE INDEX squad_name ON squad(name);

CREATE INDEX stage_decision_episode ON stage_decision(episode, decided_at);

CREATE INDEX visit_day ON visit(started_on, person);

CREATE INDEX visit_episode ON visit(episode, started_at);

CREATE INDEX visit_person ON visit(person, started_at);

CREATE VIEW bout_standing AS
SELECT person.label, bout.started_on, bout.activity, bout.kind, bout.ended_at IS NOT NULL AS ended,
  (SELECT count(*) FROM bout_event WHERE bout_event.bout = bout.id) AS events,
  bout.measure, bout.moment, bout.examiner, bout.started_at, bout.ended_at, bout.id, bout.person, bout.episode,
  bout.visit
FROM bout
JOIN person ON person.id = bout.person
WHERE bout.retracted_at IS NULL;

CREATE VIEW correction AS
SELECT revised_at, revised_by, revised_because, row_table, row_id, was FROM amendment ORDER BY revision;

CREATE VIEW gap_by_visit AS
WITH newest AS (
  SELECT reading.*, row_number() OVER (
    PARTITION BY visit, episode, measure, moment, side ORDER BY taken_at DESC, id DESC) AS place
  FROM reading
  WHERE retracted_at IS NULL AND visit IS NOT NULL AND episode IS NOT NULL AND side IS NOT NULL
)
SELECT person.label, visit.started_on AS visit_on, newest.measure, newest.moment, episode.side AS injured_side,
  max(newest.value) FILTER (WHERE newest.side = 'left') AS "left",
  max(newest.value) FILTER (WHERE newest.side = 'right') AS "right",
  max(newest.value) FILTER (WHERE newest.side = episode.side)
    - max(newest.value) FILTER (WHERE newest.side <> episode.side) AS gap,
  newest.unit, newest.visit, newest.episode, newest.person
FROM newest
JOIN episode ON episode.id = newest.episode
JOIN person ON person.id = newest.person
JOIN visit ON visit.id = newest.visit
WHERE newest.place = 1
GROUP BY newest.visit, newest.episode, newest.measure, newest.moment;

CREATE VIEW open_caseload AS
SELECT person.label, episode.side AS injured_side, episode.structure, episode.grade, episode.injured_on,
  episode.opened_on, episode.goal, episode.goal_on,
  (SELECT max(started_on) FROM visit WHERE visit.episode = episode.id AND (visit.said IS NOT NULL OR visit.gave_way IS NOT NULL OR visit.home_done IS NOT NULL
  OR visit.consent_at IS NOT NULL
  OR EXISTS (SELECT 1 FROM reading WHERE reading.visit = visit.id AND reading.retracted_at IS NULL)
  OR EXISTS (SELECT 1 FROM bout WHERE bout.visit = visit.id AND bout.retracted_at IS NULL
    AND EXISTS (SELECT 1 FROM bout_event WHERE bout_event.bout = bout.id AND bout_event.kind = 'set_started'))
  OR EXISTS (SELECT 1 FROM safety_screen WHERE safety_screen.episode = visit.episode
    AND safety_screen.visit = visit.id AND safety_screen.retracted_at IS NULL))) AS last_visit_on,
  (SELECT count(*) FROM visit WHERE visit.episode = episode.id AND (visit.said IS NOT NULL OR visit.gave_way IS NOT NULL OR visit.home_done IS NOT NULL
  OR visit.consent_at IS NOT NULL
  OR EXISTS (SELECT 1 FROM reading WHERE reading.visit = visit.id AND reading.retracted_at IS NULL)
  OR EXISTS (SELECT 1 FROM bout WHERE bout.visit = visit.id AND bout.retracted_at IS NULL
    AND EXISTS (SELECT 1 FROM bout_event WHERE bout_event.bout = bout.id AND bout_event.kind = 'set_started'))
  OR EXISTS (SELECT 1 FROM safety_screen WHERE safety_screen.episode = visit.episode
    AND safety_screen.visit = visit.id AND safety_screen.retracted_at IS NULL))) AS visits,
  (SELECT stage FROM stage_decision WHERE stage_decision.episode = episode.id AND retracted_at IS NULL
    ORDER BY decided_at DESC, id DESC LIMIT 1) AS stage,
  episode.id AS episode, episode.person
FROM episode
JOIN person ON person.id = episode.person
WHERE episode.closed_at IS NULL
ORDER BY person.label COLLATE NOCASE, person.label, episode.opened_at, episode.id;

CREATE VIEW reading_standing AS
SELECT person.label, episode.side AS injured_side, reading.taken_on, reading.measure, reading.side, reading.moment,
  reading.value, reading.unit, reading.status, reading.trials, reading.conditions, reading.examiner, reading.note,
  reading.protocol, reading.taken_at, reading.id, reading.person, reading.episode, reading.visit, reading.bout
FROM reading
JOIN person ON person.id = reading.person
LEFT JOIN episode ON episode.id = reading.episode
WHERE reading.retracted_at IS NULL;

CREATE VIEW run_standing AS
SELECT person.label, episode.side AS injured_side, run_session.planned_on, run_session.done_on, run_plan.ladder,
  run_session.rung, run_session.minutes, run_session.distance_km, run_session.pain_during,
  run_session.pain_morning, run_session.pain_usual, run_session.swelling, run_session.note, run_session.id,
  run_session.person, run_session.episode
FROM run_session
JOIN person ON person.id = run_session.person
JOIN episode ON episode.id = run_session.episode
LEFT JOIN run_plan ON run_plan.id = run_session.plan
WHERE run_session.retracted_at IS NULL;

CREATE TRIGGER amendment_no_delete BEFORE DELETE ON amendment BEGIN SELECT RAISE(ABORT, 'a row of amendment is never changed or taken away'); END;

CREATE TRIGGER amendment_no_replace BEFORE INSERT ON amendment WHEN EXISTS (SELECT 1 FROM amendment WHERE row_table = NEW.row_table AND row_id = NEW.row_id AND was_revision = NEW.was_revision) BEGIN SELECT RAISE(ABORT, 'this amendment is there already'); END;

CREATE TRIGGER amendment_no_update BEFORE UPDATE ON amendment BEGIN SELECT RAISE(ABORT, 'a row of amendment is never changed or taken away'); END;

CREATE TRIGGER appointment_amended AFTER UPDATE ON appointment BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'appointment', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'person', OLD.person, 'episode', OLD.episode, 'due_at', OLD.due_at, 'due_on', OLD.due_on, 'due_offset_min', OLD.due_offset_min, 'minutes', OLD.minutes, 'note', OLD.note, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'appointment' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER appointment_needs_revision BEFORE UPDATE ON appointment WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a appointment is amended under a new, later revision'); END;

CREATE TRIGGER appointment_no_delete BEFORE DELETE ON appointment BEGIN SELECT RAISE(ABORT, 'a appointment is never deleted, only amended or retracted'); END;

CREATE TRIGGER appointment_no_replace BEFORE INSERT ON appointment WHEN EXISTS (SELECT 1 FROM appointment WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this appointment is there already'); END;

CREATE TRIGGER bout_amended AFTER UPDATE ON bout BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'bout', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'person', OLD.person, 'episode', OLD.episode, 'visit', OLD.visit, 'activity', OLD.activity, 'kind', OLD.kind, 'measure', OLD.measure, 'moment', OLD.moment, 'plan', OLD.plan, 'started_at', OLD.started_at, 'started_on', OLD.started_on, 'started_offset_min', OLD.started_offset_min, 'ended_at', OLD.ended_at, 'ended_on', OLD.ended_on, 'ended_offset_min', OLD.ended_offset_min, 'examiner', OLD.examiner, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'bout' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER bout_event_no_delete BEFORE DELETE ON bout_event BEGIN SELECT RAISE(ABORT, 'a row of bout_event is never changed or taken away'); END;

CREATE TRIGGER bout_event_no_replace BEFORE INSERT ON bout_event WHEN EXISTS (SELECT 1 FROM bout_event WHERE bout = NEW.bout AND seq = NEW.seq) BEGIN SELECT RAISE(ABORT, 'this bout_event is there already'); END;

CREATE TRIGGER bout_event_no_update BEFORE UPDATE ON bout_event BEGIN SELECT RAISE(ABORT, 'a row of bout_event is never changed or taken away'); END;

CREATE TRIGGER bout_needs_revision BEFORE UPDATE ON bout WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a bout is amended under a new, later revision'); END;

CREATE TRIGGER bout_no_delete BEFORE DELETE ON bout BEGIN SELECT RAISE(ABORT, 'a bout is never deleted, only amended or retracted'); END;

CREATE TRIGGER bout_no_replace BEFORE INSERT ON bout WHEN EXISTS (SELECT 1 FROM bout WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this bout is there already'); END;

CREATE TRIGGER episode_amended AFTER UPDATE ON episode BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'episode', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'person', OLD.person, 'side', OLD.side, 'opened_at', OLD.opened_at, 'opened_on', OLD.opened_on, 'opened_offset_min', OLD.opened_offset_min, 'structure', OLD.structure, 'grade', OLD.grade, 'injured_on', OLD.injured_on, 'goal', OLD.goal, 'goal_on', OLD.goal_on, 'sport', OLD.sport, 'level', OLD.level, 'sprains_left', OLD.sprains_left, 'sprains_right', OLD.sprains_right, 'anticoagulant', OLD.anticoagulant, 'loss_of_feeling', OLD.loss_of_feeling, 'hypermobility', OLD.hypermobility, 'brace', OLD.brace, 'main_measure', OLD.main_measure, 'linked_episode', OLD.linked_episode, 'closed_at', OLD.closed_at, 'closed_on', OLD.closed_on, 'closed_offset_min', OLD.closed_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min, 'letter_to', OLD.letter_to) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'episode' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER episode_needs_revision BEFORE UPDATE ON episode WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a episode is amended under a new, later revision'); END;

CREATE TRIGGER episode_no_delete BEFORE DELETE ON episode BEGIN SELECT RAISE(ABORT, 'a episode is never deleted, only amended or retracted'); END;

CREATE TRIGGER episode_no_replace BEFORE INSERT ON episode WHEN EXISTS (SELECT 1 FROM episode WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this episode is there already'); END;

CREATE TRIGGER examiner_amended AFTER UPDATE ON examiner BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'examiner', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'name', OLD.name, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'examiner' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER examiner_needs_revision BEFORE UPDATE ON examiner WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a examiner is amended under a new, later revision'); END;

CREATE TRIGGER examiner_no_delete BEFORE DELETE ON examiner BEGIN SELECT RAISE(ABORT, 'a examiner is never deleted, only amended or retracted'); END;

CREATE TRIGGER examiner_no_replace BEFORE INSERT ON examiner WHEN EXISTS (SELECT 1 FROM examiner WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this examiner is there already'); END;

CREATE TRIGGER forecast_made_amended AFTER UPDATE ON forecast_made BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'forecast_made', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'person', OLD.person, 'episode', OLD.episode, 'visit', OLD.visit, 'measure', OLD.measure, 'side', OLD.side, 'made_at', OLD.made_at, 'made_on', OLD.made_on, 'made_offset_min', OLD.made_offset_min, 'for_on', OLD.for_on, 'value', CASE WHEN OLD.value IS NOT NULL THEN json(printf('%!.17g', OLD.value)) END, 'low80', CASE WHEN OLD.low80 IS NOT NULL THEN json(printf('%!.17g', OLD.low80)) END, 'high80', CASE WHEN OLD.high80 IS NOT NULL THEN json(printf('%!.17g', OLD.high80)) END, 'reading_low80', CASE WHEN OLD.reading_low80 IS NOT NULL THEN json(printf('%!.17g', OLD.reading_low80)) END, 'reading_high80', CASE WHEN OLD.reading_high80 IS NOT NULL THEN json(printf('%!.17g', OLD.reading_high80)) END, 'flat', OLD.flat, 'rate_a_week', CASE WHEN OLD.rate_a_week IS NOT NULL THEN json(printf('%!.17g', OLD.rate_a_week)) END, 'over_days', OLD.over_days, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'forecast_made' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER forecast_made_needs_revision BEFORE UPDATE ON forecast_made WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a forecast_made is amended under a new, later revision'); END;

CREATE TRIGGER forecast_made_no_delete BEFORE DELETE ON forecast_made BEGIN SELECT RAISE(ABORT, 'a forecast_made is never deleted, only amended or retracted'); END;

CREATE TRIGGER forecast_made_no_replace BEFORE INSERT ON forecast_made WHEN EXISTS (SELECT 1 FROM forecast_made WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this forecast_made is there already'); END;

CREATE TRIGGER note_amended AFTER UPDATE ON note BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'note', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'person', OLD.person, 'episode', OLD.episode, 'visit', OLD.visit, 'kind', OLD.kind, 'adds_to', OLD.adds_to, 'drafted_at', OLD.drafted_at, 'drafted_on', OLD.drafted_on, 'drafted_offset_min', OLD.drafted_offset_min, 'sections', OLD.sections, 'signed_at', OLD.signed_at, 'signed_offset_min', OLD.signed_offset_min, 'signed_by', OLD.signed_by, 'student', OLD.student, 'countersigned_at', OLD.countersigned_at, 'countersigned_offset_min', OLD.countersigned_offset_min, 'countersigned_by', OLD.countersigned_by, 'rules', OLD.rules, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'note' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER note_is_locked BEFORE UPDATE ON note WHEN OLD.signed_at IS NOT NULL AND (NEW.person IS NOT OLD.person OR NEW.episode IS NOT OLD.episode OR NEW.visit IS NOT OLD.visit OR NEW.kind IS NOT OLD.kind OR NEW.adds_to IS NOT OLD.adds_to OR NEW.sections IS NOT OLD.sections OR NEW.signed_at IS NOT OLD.signed_at OR NEW.signed_by IS NOT OLD.signed_by OR NEW.student IS NOT OLD.student OR NEW.rules IS NOT OLD.rules) BEGIN SELECT RAISE(ABORT, 'a signed note is locked: add to it instead'); END;

CREATE TRIGGER note_needs_revision BEFORE UPDATE ON note WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a note is amended under a new, later revision'); END;

CREATE TRIGGER note_no_delete BEFORE DELETE ON note BEGIN SELECT RAISE(ABORT, 'a note is never deleted, only amended or retracted'); END;

CREATE TRIGGER note_no_replace BEFORE INSERT ON note WHEN EXISTS (SELECT 1 FROM note WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this note is there already'); END;

CREATE TRIGGER person_amended AFTER UPDATE ON person BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'person', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'label', OLD.label, 'born', OLD.born, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'person' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER person_needs_revision BEFORE UPDATE ON person WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a person is amended under a new, later revision'); END;

CREATE TRIGGER person_no_delete BEFORE DELETE ON person BEGIN SELECT RAISE(ABORT, 'a person is never deleted, only amended or retracted'); END;

CREATE TRIGGER person_no_replace BEFORE INSERT ON person WHEN EXISTS (SELECT 1 FROM person WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this person is there already'); END;

CREATE TRIGGER practice_try_amended AFTER UPDATE ON practice_try BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'practice_try', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'kind', OLD.kind, 'ref', OLD.ref, 'began_at', OLD.began_at, 'began_on', OLD.began_on, 'began_offset_min', OLD.began_offset_min, 'examiner', OLD.examiner, 'ended_at', OLD.ended_at, 'ended_offset_min', OLD.ended_offset_min, 'data', OLD.data, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'practice_try' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER practice_try_needs_revision BEFORE UPDATE ON practice_try WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a practice_try is amended under a new, later revision'); END;

CREATE TRIGGER practice_try_no_delete BEFORE DELETE ON practice_try BEGIN SELECT RAISE(ABORT, 'a practice_try is never deleted, only amended or retracted'); END;

CREATE TRIGGER practice_try_no_replace BEFORE INSERT ON practice_try WHEN EXISTS (SELECT 1 FROM practice_try WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this practice_try is there already'); END;

CREATE TRIGGER programme_amended AFTER UPDATE ON programme BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'programme', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'person', OLD.person, 'episode', OLD.episode, 'visit', OLD.visit, 'issued_at', OLD.issued_at, 'issued_on', OLD.issued_on, 'issued_offset_min', OLD.issued_offset_min, 'examiner', OLD.examiner, 'review_on', OLD.review_on, 'items', OLD.items, 'words', OLD.words, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'programme' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER programme_day_amended AFTER UPDATE ON programme_day BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'programme_day', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'programme', OLD.programme, 'person', OLD.person, 'day_on', OLD.day_on, 'done', OLD.done, 'pain_morning', OLD.pain_morning, 'note', OLD.note, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'programme_day' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER programme_day_needs_revision BEFORE UPDATE ON programme_day WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a programme_day is amended under a new, later revision'); END;

CREATE TRIGGER programme_day_no_delete BEFORE DELETE ON programme_day BEGIN SELECT RAISE(ABORT, 'a programme_day is never deleted, only amended or retracted'); END;

CREATE TRIGGER programme_day_no_replace BEFORE INSERT ON programme_day WHEN EXISTS (SELECT 1 FROM programme_day WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this programme_day is there already'); END;

CREATE TRIGGER programme_needs_revision BEFORE UPDATE ON programme WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a programme is amended under a new, later revision'); END;

CREATE TRIGGER programme_no_delete BEFORE DELETE ON programme BEGIN SELECT RAISE(ABORT, 'a programme is never deleted, only amended or retracted'); END;

CREATE TRIGGER programme_no_replace BEFORE INSERT ON programme WHEN EXISTS (SELECT 1 FROM programme WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this programme is there already'); END;

CREATE TRIGGER reading_amended AFTER UPDATE ON reading BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'reading', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'person', OLD.person, 'episode', OLD.episode, 'visit', OLD.visit, 'bout', OLD.bout, 'measure', OLD.measure, 'side', OLD.side, 'moment', OLD.moment, 'value', CASE WHEN OLD.value IS NOT NULL THEN json(printf('%!.17g', OLD.value)) END, 'unit', OLD.unit, 'status', OLD.status, 'trials', OLD.trials, 'conditions', OLD.conditions, 'taken_at', OLD.taken_at, 'taken_on', OLD.taken_on, 'taken_offset_min', OLD.taken_offset_min, 'examiner', OLD.examiner, 'note', OLD.note, 'protocol', OLD.protocol, 'blind', OLD.blind, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'reading' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER reading_needs_revision BEFORE UPDATE ON reading WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a reading is amended under a new, later revision'); END;

CREATE TRIGGER reading_no_delete BEFORE DELETE ON reading BEGIN SELECT RAISE(ABORT, 'a reading is never deleted, only amended or retracted'); END;

CREATE TRIGGER reading_no_replace BEFORE INSERT ON reading WHEN EXISTS (SELECT 1 FROM reading WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this reading is there already'); END;

CREATE TRIGGER recheck_amended AFTER UPDATE ON recheck BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'recheck', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'person', OLD.person, 'side', OLD.side, 'looked_at', OLD.looked_at, 'looked_on', OLD.looked_on, 'looked_offset_min', OLD.looked_offset_min, 'outcome', OLD.outcome, 'answers', OLD.answers, 'due_at', OLD.due_at, 'due_offset_min', OLD.due_offset_min, 'examiner', OLD.examiner, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'recheck' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER recheck_needs_revision BEFORE UPDATE ON recheck WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a recheck is amended under a new, later revision'); END;

CREATE TRIGGER recheck_no_delete BEFORE DELETE ON recheck BEGIN SELECT RAISE(ABORT, 'a recheck is never deleted, only amended or retracted'); END;

CREATE TRIGGER recheck_no_replace BEFORE INSERT ON recheck WHEN EXISTS (SELECT 1 FROM recheck WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this recheck is there already'); END;

CREATE TRIGGER resprain_amended AFTER UPDATE ON resprain BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'resprain', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'person', OLD.person, 'episode', OLD.episode, 'visit', OLD.visit, 'side', OLD.side, 'day_on', OLD.day_on, 'told_at', OLD.told_at, 'told_on', OLD.told_on, 'told_offset_min', OLD.told_offset_min, 'note', OLD.note, 'examiner', OLD.examiner, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'resprain' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER resprain_needs_revision BEFORE UPDATE ON resprain WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a resprain is amended under a new, later revision'); END;

CREATE TRIGGER resprain_no_delete BEFORE DELETE ON resprain BEGIN SELECT RAISE(ABORT, 'a resprain is never deleted, only amended or retracted'); END;

CREATE TRIGGER resprain_no_replace BEFORE INSERT ON resprain WHEN EXISTS (SELECT 1 FROM resprain WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this resprain is there already'); END;

CREATE TRIGGER rules_no_delete BEFORE DELETE ON rules BEGIN SELECT RAISE(ABORT, 'a row of rules is never changed or taken away'); END;

CREATE TRIGGER rules_no_replace BEFORE INSERT ON rules WHEN EXISTS (SELECT 1 FROM rules WHERE hash = NEW.hash) BEGIN SELECT RAISE(ABORT, 'this rules is there already'); END;

CREATE TRIGGER rules_no_update BEFORE UPDATE ON rules BEGIN SELECT RAISE(ABORT, 'a row of rules is never changed or taken away'); END;

CREATE TRIGGER run_plan_amended AFTER UPDATE ON run_plan BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'run_plan', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'person', OLD.person, 'episode', OLD.episode, 'ladder', OLD.ladder, 'rung', OLD.rung, 'weekdays', OLD.weekdays, 'begins_on', OLD.begins_on, 'made_at', OLD.made_at, 'made_on', OLD.made_on, 'made_offset_min', OLD.made_offset_min, 'examiner', OLD.examiner, 'reason', OLD.reason, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'run_plan' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER run_plan_needs_revision BEFORE UPDATE ON run_plan WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a run_plan is amended under a new, later revision'); END;

CREATE TRIGGER run_plan_no_delete BEFORE DELETE ON run_plan BEGIN SELECT RAISE(ABORT, 'a run_plan is never deleted, only amended or retracted'); END;

CREATE TRIGGER run_plan_no_replace BEFORE INSERT ON run_plan WHEN EXISTS (SELECT 1 FROM run_plan WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this run_plan is there already'); END;

CREATE TRIGGER run_session_amended AFTER UPDATE ON run_session BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'run_session', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'person', OLD.person, 'episode', OLD.episode, 'plan', OLD.plan, 'rung', OLD.rung, 'planned_on', OLD.planned_on, 'done_on', OLD.done_on, 'minutes', CASE WHEN OLD.minutes IS NOT NULL THEN json(printf('%!.17g', OLD.minutes)) END, 'distance_km', CASE WHEN OLD.distance_km IS NOT NULL THEN json(printf('%!.17g', OLD.distance_km)) END, 'pain_during', OLD.pain_during, 'pain_morning', OLD.pain_morning, 'pain_usual', OLD.pain_usual, 'swelling', OLD.swelling, 'note', OLD.note, 'examiner', OLD.examiner, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'run_session' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER run_session_needs_revision BEFORE UPDATE ON run_session WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a run_session is amended under a new, later revision'); END;

CREATE TRIGGER run_session_no_delete BEFORE DELETE ON run_session BEGIN SELECT RAISE(ABORT, 'a run_session is never deleted, only amended or retracted'); END;

CREATE TRIGGER run_session_no_replace BEFORE INSERT ON run_session WHEN EXISTS (SELECT 1 FROM run_session WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this run_session is there already'); END;

CREATE TRIGGER safety_screen_amended AFTER UPDATE ON safety_screen BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'safety_screen', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'person', OLD.person, 'episode', OLD.episode, 'visit', OLD.visit, 'kind', OLD.kind, 'asked_at', OLD.asked_at, 'asked_on', OLD.asked_on, 'asked_offset_min', OLD.asked_offset_min, 'examiner', OLD.examiner, 'answers', OLD.answers, 'shown', OLD.shown, 'outcome', OLD.outcome, 'findings', OLD.findings, 'rules', OLD.rules, 'settled_at', OLD.settled_at, 'settled_offset_min', OLD.settled_offset_min, 'settled_because', OLD.settled_because, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'safety_screen' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER safety_screen_needs_revision BEFORE UPDATE ON safety_screen WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a safety_screen is amended under a new, later revision'); END;

CREATE TRIGGER safety_screen_no_delete BEFORE DELETE ON safety_screen BEGIN SELECT RAISE(ABORT, 'a safety_screen is never deleted, only amended or retracted'); END;

CREATE TRIGGER safety_screen_no_replace BEFORE INSERT ON safety_screen WHEN EXISTS (SELECT 1 FROM safety_screen WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this safety_screen is there already'); END;

CREATE TRIGGER squad_amended AFTER UPDATE ON squad BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'squad', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'name', OLD.name, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'squad' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER squad_member_amended AFTER UPDATE ON squad_member BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'squad_member', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'squad', OLD.squad, 'person', OLD.person, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'squad_member' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER squad_member_needs_revision BEFORE UPDATE ON squad_member WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a squad_member is amended under a new, later revision'); END;

CREATE TRIGGER squad_member_no_delete BEFORE DELETE ON squad_member BEGIN SELECT RAISE(ABORT, 'a squad_member is never deleted, only amended or retracted'); END;

CREATE TRIGGER squad_member_no_replace BEFORE INSERT ON squad_member WHEN EXISTS (SELECT 1 FROM squad_member WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this squad_member is there already'); END;

CREATE TRIGGER squad_needs_revision BEFORE UPDATE ON squad WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a squad is amended under a new, later revision'); END;

CREATE TRIGGER squad_no_delete BEFORE DELETE ON squad BEGIN SELECT RAISE(ABORT, 'a squad is never deleted, only amended or retracted'); END;

CREATE TRIGGER squad_no_replace BEFORE INSERT ON squad WHEN EXISTS (SELECT 1 FROM squad WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this squad is there already'); END;

CREATE TRIGGER stage_decision_amended AFTER UPDATE ON stage_decision BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'stage_decision', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'person', OLD.person, 'episode', OLD.episode, 'stage', OLD.stage, 'decided_at', OLD.decided_at, 'decided_on', OLD.decided_on, 'decided_offset_min', OLD.decided_offset_min, 'examiner', OLD.examiner, 'reason', OLD.reason, 'answers', OLD.answers, 'retracted_at', OLD.retracted_at, 'retracted_offset_min', OLD.retracted_offset_min, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'stage_decision' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER stage_decision_needs_revision BEFORE UPDATE ON stage_decision WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a stage_decision is amended under a new, later revision'); END;

CREATE TRIGGER stage_decision_no_delete BEFORE DELETE ON stage_decision BEGIN SELECT RAISE(ABORT, 'a stage_decision is never deleted, only amended or retracted'); END;

CREATE TRIGGER stage_decision_no_replace BEFORE INSERT ON stage_decision WHEN EXISTS (SELECT 1 FROM stage_decision WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this stage_decision is there already'); END;

CREATE TRIGGER visit_amended AFTER UPDATE ON visit BEGIN INSERT INTO amendment (row_table, row_id, was_revision, revision, revised_by, revised_because, revised_at, revised_offset_min, was) SELECT 'visit', OLD.id, OLD.revision, NEW.revision, NEW.revised_by, NEW.revised_because, NEW.revised_at, NEW.revised_offset_min, json_object('id', OLD.id, 'person', OLD.person, 'episode', OLD.episode, 'kind', OLD.kind, 'started_at', OLD.started_at, 'started_on', OLD.started_on, 'started_offset_min', OLD.started_offset_min, 'ended_at', OLD.ended_at, 'ended_on', OLD.ended_on, 'ended_offset_min', OLD.ended_offset_min, 'examiner', OLD.examiner, 'gave_way', OLD.gave_way, 'home_done', OLD.home_done, 'home_planned', OLD.home_planned, 'said', OLD.said, 'consent_at', OLD.consent_at, 'consent_on', OLD.consent_on, 'consent_offset_min', OLD.consent_offset_min, 'slot_min', OLD.slot_min, 'plan', OLD.plan, 'revision', OLD.revision, 'revised_by', OLD.revised_by, 'revised_because', OLD.revised_because, 'revised_at', OLD.revised_at, 'revised_offset_min', OLD.revised_offset_min) WHERE NOT EXISTS (SELECT 1 FROM amendment WHERE row_table = 'visit' AND row_id = OLD.id AND was_revision = OLD.revision); END;

CREATE TRIGGER visit_needs_revision BEFORE UPDATE ON visit WHEN NEW.id <> OLD.id OR NEW.revision <= OLD.revision BEGIN SELECT RAISE(ABORT, 'a visit is amended under a new, later revision'); END;

CREATE TRIGGER visit_no_delete BEFORE DELETE ON visit BEGIN SELECT RAISE(ABORT, 'a visit is never deleted, only amended or retracted'); END;

CREATE TRIGGER visit_no_replace BEFORE INSERT ON visit WHEN EXISTS (SELECT 1 FROM visit WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'this visit is there already'); END;

