"""A dancer seen on the second and the fifth day: too sore to be graded at first, and it is still open."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime

from store.care.people import EpisodeForm, new_person
from store.demo.body import Body, course, steady
from store.demo.clinic import Clinic
from store.demo.session import Session
from store.knowledge.words import Side

INJURED = 7  # days before today
BODY = {
    "girth": (course((2, 51.9), (5, 51.2)), steady(49.6)),
    "lunge": (course((5, 2.2), able=4), steady(12.8)),
    "stance_open": (course((5, 1), able=9), steady(60)),
}


def not_graded(clinic: Clinic) -> Iterator[datetime]:
    """Right ankle; the ligaments are to be tested again once the swelling allows."""
    yield clinic.at(INJURED - 2, 16, 0)
    form = EpisodeForm(
        side=Side.RIGHT,
        injured_on=clinic.day(INJURED),
        goal="on stage with the ensemble",
        goal_on=clinic.sunday_in(60),
        sport="modern dance",
        level="professional",
        sprains_left=1,
        sprains_right=0,
        anticoagulant=False,
        loss_of_feeling=False,
        hypermobility=True,
    )
    _, episode = new_person(clinic.care, "N.R.", "2000-05-24", form)
    assert episode is not None
    body = Body(random.Random("not graded"), Side.RIGHT, BODY)

    visit = Session(clinic, episode, body)
    visit.says("pain 5 worst 7 gaveway 0 confidence 2")
    visit.screens("cannot_hop")  # a sign of one kind alone
    visit.types("weight_bearing 1")
    visit.types("pitting left 0 right 2")
    visit.measure("girth")
    visit.measure("lunge")
    visit.hands_out("elevation", "compression", "ankle_pumps")
    visit.end(sign=True)

    yield clinic.at(INJURED - 5, 16, 0)
    visit = Session(clinic, episode, body)
    visit.says("pain 4 worst 5 morning 3 walk 4 gaveway 0 home 3/3 confidence 3")
    visit.tells_days("333")
    visit.types("weight_bearing 2")
    visit.types("limp 2")
    visit.measure("girth", more='note "ligaments too sore to be tested; again at the next visit"')
    visit.measure("lunge", more="tape")
    visit.measure("stance_open")
    visit.end(again=clinic.coming(1, 16, 0))
