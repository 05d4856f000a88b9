"""An evening runner who is back: seven visits in ten weeks, discharged three months ago, a recall due now."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime

from store.care.people import EpisodeForm, close_episode, new_person
from store.demo.body import Body, course, steady
from store.demo.clinic import Clinic
from store.demo.session import Session
from store.knowledge.kinds import Phase
from store.knowledge.words import Grade, Side

INJURED = 163  # days before today: discharged 93 days ago, which are three months whatever months they are
BODY = {
    "lunge": (course((4, 3.6), (14, 5.9), (28, 8.1), (49, 9.6), (70, 10.3)), steady(10.8)),
    "girth": (course((4, 52.7), (28, 51.3), (70, 50.8)), steady(50.6)),
    "stance_open": (course((14, 12), (28, 29), (49, 60)), steady(60)),
    "heel_raise": (course((14, 5), (28, 13), (49, 21), (70, 25), able=10), steady(26)),
}
SAID = (
    (4, "pain 4 worst 6 gaveway 1 confidence 3"),
    (9, "pain 3 worst 5 morning 2 walk 4 gaveway 0 home 5/5 confidence 4"),
    (14, "pain 2 worst 4 morning 1 walk 3 gaveway 0 home 4/5 confidence 5"),
    (21, "pain 2 worst 3 morning 1 walk 2 gaveway 0 home 6/7 confidence 6"),
    (28, "pain 1 worst 3 morning 0 walk 1 gaveway 0 home 7/7 confidence 7"),
    (49, "pain 0 worst 2 morning 0 walk 0 gaveway 0 home 6/7 confidence 8"),
    (70, "pain 0 worst 0 morning 0 walk 0 gaveway 0 home 5/7 confidence 9"),
)

HANDED_OUT = {
    4: ("ankle_circles", "hold_firm"),
    9: ("calf_stretch_bent",),
    28: ("heel_raises",),
    70: ("home_balance", "brace_after"),
}
DAYS_TOLD = {9: "22122", 28: "3332333", 70: "4404430"}


def runner(clinic: Clinic) -> Iterator[datetime]:
    """Right ankle, grade II; nothing short at the end beyond its error."""
    yield clinic.at(INJURED - 4, 16, 30)
    form = EpisodeForm(
        side=Side.RIGHT,
        grade=Grade.II,
        injured_on=clinic.day(INJURED),
        goal="the six kilometres to work",
        goal_on=clinic.day(INJURED - 70),
        sport="running",
        level="for oneself",
        sprains_left=0,
        sprains_right=0,
        anticoagulant=False,
        loss_of_feeling=False,
        hypermobility=False,
    )
    _, episode = new_person(clinic.care, "D.P.", "1988", form)
    assert episode is not None
    body = Body(random.Random("runner"), Side.RIGHT, BODY)
    for nth, (day, line) in enumerate(SAID, 1):
        if nth > 1:
            yield clinic.at(INJURED - day, 16, 30)
        visit = Session(clinic, episode, body)
        visit.says(line)
        if nth == 1:
            visit.screens()
        if day in DAYS_TOLD:
            visit.tells_days(DAYS_TOLD[day])
        if nth % 2:
            visit.measure("girth")
        visit.measure("lunge")
        if day in (14, 28, 49, 70):
            visit.measure("stance_open")
            visit.measure("heel_raise")
        if day == 49:
            visit.reach()
            visit.work("hop_hold_short", 0, faults=(1,), reps=5)
        if day == 70:
            visit.work("brisk_walk", 0, hold_s=30)
            visit.work("walk_run", 0, reps=2, phases=(Phase("WALK", 30), Phase("RUN", 15)))
            visit.types('sane 95 note "discharged; asked back at 3, 6 and 12 months"')
        if day in HANDED_OUT:
            visit.hands_out(*HANDED_OUT[day], anew=day == 70)
        visit.end(sign=day in (4, 70))
    clinic.pass_minutes(2)
    close_episode(clinic.care, clinic.care.episode(episode.id))
