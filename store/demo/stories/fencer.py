"""A fencer, left ankle, grade I: three visits, no gap left that is larger than its error, and the first runs."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime

from store.care import run_acts
from store.care.people import EpisodeForm, new_person
from store.demo.body import Body, course, steady
from store.demo.clinic import Clinic
from store.demo.session import Session
from store.knowledge.criteria import Stage
from store.knowledge.words import Grade, Side

INJURED = 16  # days before today
BODY = {
    "lunge": (course((3, 7.4), (8, 9.2), (13, 10.4)), steady(11.2)),
    "girth": (course((3, 50.0), (13, 49.4)), steady(49.2)),
    "stance_open": (course((3, 24), (8, 41), (13, 60)), steady(60)),
    "heel_raise": (course((8, 19), (13, 24)), steady(26)),
}


def fencer(clinic: Clinic) -> Iterator[datetime]:
    """Seen three times; the next visit is next week."""
    yield clinic.at(INJURED - 3, 14, 10)
    form = EpisodeForm(
        side=Side.LEFT,
        grade=Grade.I,
        injured_on=clinic.day(INJURED),
        goal="regional foil tournament",
        goal_on=clinic.sunday_in(18),
        sport="fencing, foil",
        level="regional",
        sprains_left=0,
        sprains_right=0,
        anticoagulant=False,
        loss_of_feeling=False,
        hypermobility=False,
    )
    _, episode = new_person(clinic.care, "T.M.", "2001", form)
    assert episode is not None
    body = Body(random.Random("fencer"), Side.LEFT, BODY)

    visit = Session(clinic, episode, body)
    visit.says("pain 2 worst 4 gaveway 0 confidence 6")
    visit.screens()
    visit.measure("girth")
    visit.measure("lunge")
    visit.measure("stance_open")
    visit.hands_out("hold_firm", "band_eversion")
    visit.end(sign=True)

    yield clinic.at(INJURED - 8, 14, 10)
    visit = Session(clinic, episode, body)
    visit.says("pain 1 worst 2 morning 0 walk 1 gaveway 0 home 5/5 confidence 7")
    visit.tells_days("22122")
    visit.measure("lunge")
    visit.mobilise((0, 0), reps=6)
    visit.measure("lunge", lift=0.6)
    visit.measure("stance_open")
    visit.measure("heel_raise")
    visit.hands_out("hold_foam")
    visit.end(sign=True)

    yield clinic.at(INJURED - 13, 14, 10)
    visit = Session(clinic, episode, body)
    visit.says("pain 0 worst 1 morning 0 walk 0 gaveway 0 home 4/5 confidence 9")
    visit.tells_days("33032")
    visit.measure("girth")
    visit.measure("lunge")
    visit.shift(5, reps=8)
    visit.measure("stance_open")
    visit.measure("heel_raise")
    visit.types("hop_spot yes yes")
    visit.types("pain_hop 1")
    visit.decide(Stage.JOG, "hops without pain, nothing short beyond its error; jogs every other day, ten minutes")
    visit.comes_again(clinic.coming(1, 14, 10))
    visit.hands_out("step_down", more="hold_foam")
    visit.plans_running("rung 2 alternate")
    visit.end()

    yield clinic.just_now(60 * 24)  # by telephone
    run_acts.tell(clinic.care, episode.id, "yesterday 2:3x5 pain 1 swelling no morning 0")
