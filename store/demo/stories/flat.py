"""A postwoman on her round, left ankle, grade II: the lunge has been flat about 3 cm short for eight weeks."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime

from store.care.people import EpisodeForm, new_person
from store.demo.body import Body, course, steady
from store.demo.clinic import Clinic
from store.demo.session import Session
from store.knowledge.words import Grade, Side

INJURED = 84  # days before today
BODY = {
    "lunge": (course((18, 6.2), (25, 7.1), (81, 7.1)), steady(10.1)),
    "girth": (course((18, 52.6), (46, 51.9), (81, 51.7)), steady(51.3)),
    "stance_open": (course((18, 14), (46, 31), (81, 44)), steady(60)),
    "heel_raise": (course((18, 9), (46, 16), (81, 19)), steady(22)),
}
VISITS = (
    # day since injury, what she says, what is measured, whether it is mobilised
    (18, "pain 3 worst 5 gaveway 1 confidence 4", ("girth", "lunge"), False),
    (25, "pain 2 worst 4 morning 1 walk 3 gaveway 0 home 6/7 confidence 5", ("lunge",), True),
    (31, "pain 2 worst 4 morning 1 walk 3 gaveway 0 home 6/6 confidence 5", ("lunge",), False),
    (36, "pain 2 worst 3 morning 1 walk 2 gaveway 0 home 5/5 confidence 5", ("lunge", "heel_raise"), False),
    (42, "pain 2 worst 3 morning 1 walk 2 gaveway 0 home 6/6 confidence 6", ("lunge",), True),
    (46, "pain 1 worst 3 morning 1 walk 2 gaveway 0 home 3/4 confidence 6", ("girth", "lunge"), False),
    (52, "pain 2 worst 3 morning 1 walk 2 gaveway 0 home 6/6 confidence 6", ("lunge", "stance_open"), False),
    (57, "pain 1 worst 3 morning 1 walk 2 gaveway 0 home 4/5 confidence 6", ("lunge",), False),
    (63, "pain 1 worst 3 morning 1 walk 1 gaveway 0 home 5/6 confidence 6", ("lunge", "heel_raise"), False),
    (70, "pain 1 worst 3 morning 1 walk 1 gaveway 0 home 5/7 confidence 6", ("lunge",), True),
    (74, "pain 1 worst 2 morning 0 walk 1 gaveway 0 home 2/4 confidence 6", ("girth", "lunge"), False),
    (81, "pain 1 worst 2 morning 0 walk 1 gaveway 0 home 4/7 confidence 6", ("lunge", "stance_open"), False),
)
HANDED_OUT = {18: ("calf_stretch_bent", "hold_firm"), 46: ("band_mobilisation",)}
DAYS_TOLD = {31: "222122", 46: "2202", 63: "333230", 81: "3302003"}
FORESEEN = (57, 63, 81)  # days of the visits with which a forecast is kept


def flat(clinic: Clinic) -> Iterator[datetime]:
    """Twelve visits, four to seven days apart; what treatment gives is gone the next time."""
    yield clinic.at(INJURED - 18, 7, 40)
    form = EpisodeForm(
        side=Side.LEFT,
        grade=Grade.II,
        injured_on=clinic.day(INJURED),
        goal="the whole round on foot, with the hill",
        sport="walking for work",
        sprains_left=1,
        sprains_right=0,
        anticoagulant=False,
        loss_of_feeling=False,
        hypermobility=False,
    )
    _, episode = new_person(clinic.care, "K.F.", "1976-02-11", form)
    assert episode is not None
    body = Body(random.Random("flat"), Side.LEFT, BODY)
    for day, says, measures, mobilised in VISITS:
        if day > VISITS[0][0]:
            yield clinic.at(INJURED - day, 7, 40)
        visit = Session(clinic, episode, body)
        visit.says(says)
        if day == VISITS[0][0]:
            visit.screens("seen_before")  # at the hospital, on the day; films showed no break
        if day in DAYS_TOLD:
            visit.tells_days(DAYS_TOLD[day])
        for measure in measures:
            visit.measure(measure, more="shoe" if (day, measure) == (31, "lunge") else "")
        if mobilised:
            visit.mobilise((0, 0), reps=5)
            visit.measure("lunge", lift=0.7)
        last = day == VISITS[-1][0]
        if day in HANDED_OUT:
            visit.hands_out(*HANDED_OUT[day])
        if last:
            visit.screens(
                "seen_before", "talus"
            )  # a deep ache, weeks on: it is asked what hides behind the sprain
        visit.end(sign=day == VISITS[0][0], foresee=day in FORESEEN, again=clinic.coming(2, 7, 40) if last else "")
