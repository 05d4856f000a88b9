"""A nurse in her second week, left ankle, grade III: off the crutches step by step, in a brace."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime

from store.care.people import EpisodeForm, new_person
from store.demo.body import Body, course, steady
from store.demo.clinic import Clinic
from store.demo.session import Session
from store.knowledge.words import Grade, Side

INJURED = 12  # days before today
BODY = {
    "girth": (course((3, 55.8), (7, 54.9), (11, 54.0)), steady(52.0)),
    "lunge": (course((7, 1.1), (11, 2.3), able=6), steady(9.4)),
    "stance_open": (course((11, 3), able=10), steady(47)),
}


def crutches(clinic: Clinic) -> Iterator[datetime]:
    """Three visits: two crutches, one, and none indoors."""
    yield clinic.at(INJURED - 3, 13, 20)
    form = EpisodeForm(
        side=Side.LEFT,
        grade=Grade.III,
        injured_on=clinic.day(INJURED),
        goal="back on the ward",
        goal_on=clinic.day(-30),
        sprains_left=0,
        sprains_right=0,
        anticoagulant=False,
        loss_of_feeling=False,
        hypermobility=False,
        brace="rigid brace, day and night",
    )
    _, episode = new_person(clinic.care, "H.Z.", "1986", form)
    assert episode is not None
    body = Body(random.Random("crutches"), Side.LEFT, BODY)
    visit = Session(clinic, episode, body)
    visit.says("pain 6 worst 8 gaveway 0 confidence 1")
    visit.screens("no_weight_at_once", "no_weight_now", "fibula_edge", fibula_cm=3)  # sent to films the same day
    visit.types("weight_bearing 0")
    visit.types("pitting left 3 right 0")
    visit.measure("girth")
    visit.hands_out("elevation", "compression", "brace_or_tape")
    visit.end(sign=True)

    yield clinic.at(INJURED - 7, 13, 20)
    visit = Session(clinic, episode, body)
    visit.says("pain 4 worst 6 morning 3 walk 6 gaveway 0 home 4/4 confidence 2")
    visit.settles("films of the same day: no break")
    visit.tells_days("3333")
    visit.types("weight_bearing 1")
    visit.types("pitting left 2 right 0")
    visit.measure("girth")
    visit.measure("lunge")
    visit.work("crutch_weaning", 3, hold_s=45)
    visit.hands_out("crutch_weaning")
    visit.end(sign=True)

    yield clinic.at(INJURED - 11, 13, 20)
    visit = Session(clinic, episode, body)
    visit.says("pain 3 worst 5 morning 2 walk 4 gaveway 0 home 4/4 confidence 3")
    visit.tells_days("4344")
    visit.types("weight_bearing 2")
    visit.types("limp 2")
    visit.measure("girth")
    visit.measure("lunge")
    visit.measure("stance_open", more="brace")
    visit.end(again=clinic.coming(1, 13, 20))
