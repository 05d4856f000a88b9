"""The smallest tables that are whole: tests change one line of them and look at what the loader says."""

from __future__ import annotations

import shutil
from pathlib import Path

from store import knowledge

TABLES = {
    "sources.toml": "a_study = 'A study of 20 ankles'\nanother = 'Another study'\n"
    "delahunt_2018 = 'Domains'\nsmith_2021 = 'Domains'\n",
    "cautions.toml": "[sore]\nsays = 'Not on a sore leg.'\nmark = 'common practice'\n",
    "measures/all.toml": """
[stance]
name = 'stance'
long_name = 'single-leg stance'
short_forms = ['st']
shows = 'Balance.'
domain = 'static balance'
unit = 's'
step = 0.1
low = 0
high = 45
usual_low = 1
usual_high = 44
better = 'higher'
paired = true
practice = 1
counted = 3
aggregate = 'best'
symmetry = 'lsi'
cap = 45
loading = true
protocol = 'arms_crossed'
bout = 'stance_test'
steps = ['Stand on one leg.']
cautions = ['sore']
fresh_days = { value = 14, mark = 'common practice' }
importance = { value = 3, mark = 'recalled', source = 'a_study' }
healthy = [
  ['mean of adults', 40, 'read', 'a_study'],
]

[[stance.errors]]
id = 'usual'
name = 'one examiner'
sem_within = { value = 1.0, mark = 'read', source = 'a_study' }
sem_between = { value = 1.5, mark = 'read', source = 'a_study' }
mdc_between = { value = 4.2, mark = 'read', source = 'a_study' }

[pain]
name = 'pain'
long_name = 'pain now'
shows = 'Pain.'
asks = 'Pain now?'
domain = 'pain'
unit = '0-10'
step = 1
low = 0
high = 10
usual_low = 0
usual_high = 10
better = 'lower'
paired = false
counted = 1
aggregate = 'single'
symmetry = 'none'
loading = false
protocol = 'asked'
""",
    "activities/all.toml": """
[stance_test]
name = 'stance test'
short_forms = ['test']
hands_on = false
kind = 'hold to loss'
domain = 'static balance'
shows = 'Balance.'
sides = 'both'
surface = 'firm'
ends = 'A foot down.'
loading = true
measure = 'stance'
cautions = ['sore']
mark = 'read'
source = 'a_study'
minutes = 5

[stance_test.dose]
sets = 3
cap_s = 45
mark = 'read'
source = 'a_study'

[glide]
name = 'glide'
hands_on = true
kind = 'paced reps'
domain = 'range of motion'
shows = 'Range.'
sides = 'injured'
ask_pain = true
painless = true
loading = true
cautions = ['sore']
mark = 'common practice'
minutes = 6

[glide.dose]
sets = 3
reps = 10
mark = 'common practice'
phases = [{ word = 'LUNGE', seconds = 2 }]

[shifts]
name = 'shifts'
hands_on = false
kind = 'direction shifts'
domain = 'dynamic balance'
shows = 'Control.'
sides = 'injured'
directions = ['in', 'out']
loading = true
mark = 'common practice'
minutes = 2

[shifts.dose]
sets = 1
reps = 6
shift_s = 5
mark = 'common practice'
""",
    "pain.toml": """
[exercise]
value = 5
mark = 'recalled'
source = 'a_study'

[running]
value = 2
mark = 'common practice'
""",
    "home.toml": """
[shifts]
name = 'to and fro'
steps = ['Move your foot in and out.']
picture = 'one_leg'
a_day = 1
days_a_week = 7
mark = 'common practice'

[sheet]
stop = ['Stop when it hurts.']
hold_on = ['Hold on.']
bands = ['Pad it.']
call_today = ['Call us.']
emergency = 'Call for help.'
mark = 'common practice'

[rules]
most_items = { value = 4, mark = 'common practice' }
fewer = { value = 15, mark = 'common practice' }
grade = { value = 6, mark = 'common practice' }
tail_weeks = { value = 8, mark = 'common practice' }
recall = { months = [['months', 3, 'common practice']] }
formula = { figures = [['a word', 0.39, 'common practice']] }
""",
    "visit.toml": """
[slot]
value = 30
mark = 'common practice'

[[step]]
id = 'before'
kind = 'measure'
ref = 'stance'
minutes = 5

[[step]]
id = 'treat'
kind = 'activity'
ref = 'glide'
minutes = 10

[[step]]
id = 'after'
kind = 'retest'
ref = 'stance'
minutes = 5

[[step]]
id = 'note'
kind = 'note'
minutes = 5

[first_days]
value = 2
mark = 'common practice'

[[first_step]]
id = 'said'
kind = 'said'
minutes = 5
""",
    "criteria.toml": """
[jog]
advice = [
  ['it heals for {} weeks', 6, 'read', 'a_study'],
]

[[jog.criterion]]
id = 'balance'
measure = 'stance'
says = 'stance 30 s, or within 5 s of the other side'
needs = { any = [{ at_least = 30 }, { within = 5 }] }
domain = 'static balance'
mark = 'common practice'
lines = [
  ['seconds', 30, 'read', 'another'],
]

[[jog.criterion]]
id = 'pain'
measure = 'pain'
says = 'pain at most 2'
needs = { at_most = 2 }
domain = 'pain'
mark = 'common practice'
""",
}


SHIPPED = Path(knowledge.__file__).parent
AS_SHIPPED = ("safety.toml", "running.toml", "practice.toml", "sideline.toml")
"""Taken as they are shipped: the least of them would be nearly all of them."""


def write_tables(folder: Path, file: str = "", was: str = "", now: str = "") -> Path:
    """The tables in a folder, in one file a text changed once. Fails when the text to change is not there."""
    for name, text in TABLES.items():
        if name == file:
            assert was in text, f"{was!r} is not in {name}"
            text = text.replace(was, now, 1)
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    for name in AS_SHIPPED:
        shutil.copy(SHIPPED / name, folder)
    with (folder / "sources.toml").open("a", encoding="utf-8") as sources:
        sources.write(_other_sources())
    return folder


def _other_sources() -> str:
    """The shipped sources that the small tables do not have, for what is taken as shipped."""
    there = {line.partition(" =")[0] for line in TABLES["sources.toml"].splitlines()}
    lines = (SHIPPED / "sources.toml").read_text(encoding="utf-8").splitlines()
    return "".join(f"{line}\n" for line in lines if "=" in line and line.partition(" =")[0] not in there)
