"""A hill walker who came down with both feet turned: two linked episodes, and no side to hold against."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime

from store.care.people import EpisodeForm, new_episode, new_person
from store.demo.body import Body, course
from store.demo.clinic import Clinic
from store.demo.session import Session
from store.knowledge.words import Grade, Side

INJURED = 33  # days before today
BODY = {
    "lunge": (course((4, 2.4), (14, 4.1), (28, 6.3)), course((4, 5.6), (14, 7.6), (28, 9.1))),
    "girth": (course((4, 54.2), (28, 53.0)), course((4, 53.5), (28, 52.7))),
    "stance_open": (course((14, 9), (28, 23)), course((14, 20), (28, 39))),
    "heel_raise": (course((28, 6), able=20), course((14, 8), (28, 16), able=10)),
}


def both_ankles(clinic: Clinic) -> Iterator[datetime]:
    """The left one is worse. Three visits to the left episode, one to the right."""
    yield clinic.at(INJURED - 4, 8, 30)
    injured_on = clinic.day(INJURED)
    left = EpisodeForm(
        side=Side.LEFT,
        grade=Grade.II,
        injured_on=injured_on,
        goal="a week of hut to hut",
        goal_on=clinic.day(-190),
        sport="hill walking",
        sprains_left=1,
        sprains_right=1,
        anticoagulant=False,
        loss_of_feeling=False,
        hypermobility=True,
    )
    person, episode = new_person(clinic.care, "A.O.", "1983-06-30", left)
    assert episode is not None
    right = EpisodeForm(side=Side.RIGHT, grade=Grade.I, injured_on=injured_on, sprains_left=1, sprains_right=1)
    other = new_episode(clinic.care, person, right)
    episode = clinic.care.episode(episode.id)  # linked meanwhile
    body = Body(random.Random("both ankles"), Side.LEFT, BODY)

    visit = Session(clinic, episode, body)
    visit.says("pain 5 worst 8 gaveway 2 confidence 1")
    visit.screens()
    visit.screens(other=other.id)
    visit.measure("girth")
    visit.measure("lunge")
    visit.hands_out("ankle_circles", "isometrics", "two_leg_balance")
    visit.end(sign=True)

    yield clinic.at(INJURED - 14, 8, 30)
    visit = Session(clinic, episode, body)
    visit.says("pain 3 worst 5 morning 2 walk 5 gaveway 1 home 6/7 confidence 3")
    visit.tells_days("3330323")
    visit.measure("lunge")
    visit.mobilise((0, 0), reps=6)
    visit.measure("lunge", lift=0.6)
    visit.measure("stance_open")
    visit.types("heel_raise left unable right 8")
    visit.hands_out("heel_raises_two")
    visit.end()

    yield clinic.at(INJURED - 21, 8, 30)
    visit = Session(clinic, other, body)
    visit.says("pain 2 worst 4 morning 1 walk 3 gaveway 0 home 6/7 confidence 5")
    visit.measure("lunge")
    visit.hold(3, 1, controls=(1, 2), hold_s=20)
    visit.end()

    yield clinic.at(INJURED - 28, 8, 30)
    visit = Session(clinic, episode, body)
    visit.says("pain 2 worst 3 morning 1 walk 2 gaveway 0 home 5/7 confidence 6")
    visit.tells_days("4003004")  # which does not fit what she says
    visit.measure("girth")
    visit.measure("lunge")
    visit.measure("stance_open")
    visit.measure("heel_raise")
    visit.end(again=clinic.coming(3, 8, 30))
