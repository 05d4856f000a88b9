"""A climber, right ankle, grade II: jogged at five weeks, flared up after a long descent, settles."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime

from store.care import stages
from store.care.people import EpisodeForm, new_person
from store.demo.body import Body, course, steady
from store.demo.clinic import Clinic
from store.demo.session import Session
from store.knowledge.criteria import Stage
from store.knowledge.kinds import Phase
from store.knowledge.words import Grade, Side

INJURED = 48  # days before today
BODY = {
    "lunge": (course((5, 4.1), (20, 7.4), (34, 9.6), (41, 7.3), (46, 8.4)), steady(11.0)),
    "girth": (course((5, 53.0), (20, 51.8), (34, 51.2), (41, 52.6), (46, 51.9)), steady(50.9)),
    "stance_open": (course((12, 12), (34, 41), (41, 22), (46, 30)), steady(60)),
    "heel_raise": (course((12, 5), (34, 20), (41, 12), (46, 16), able=10), steady(23)),
}


def flare_up(clinic: Clinic) -> Iterator[datetime]:
    """Six visits: a gain, a decision to jog, a flare-up, the decision taken back, half of it regained."""
    yield clinic.at(INJURED - 5, 12, 30)
    form = EpisodeForm(
        side=Side.RIGHT,
        grade=Grade.II,
        injured_on=clinic.day(INJURED),
        goal="alpine routes in the spring",
        goal_on=clinic.sunday_in(150),
        sport="climbing",
        level="for oneself",
        sprains_left=0,
        sprains_right=0,
        anticoagulant=False,
        loss_of_feeling=False,
        hypermobility=False,
        brace="tape for the approach",
    )
    _, episode = new_person(clinic.care, "I.S.", "1991-09-03", form)
    assert episode is not None
    body = Body(random.Random("flare-up"), Side.RIGHT, BODY)

    _early(Session(clinic, episode, body))
    yield clinic.at(INJURED - 12, 12, 30)
    _second(Session(clinic, episode, body))
    yield clinic.at(INJURED - 20, 12, 30)
    _third(Session(clinic, episode, body))
    yield clinic.at(INJURED - 34, 12, 30)
    _jogs(Session(clinic, episode, body, plan=("lunge",)))
    yield clinic.at(INJURED - 41, 12, 30)
    _flares(Session(clinic, episode, body, plan=("lunge",)))
    yield clinic.at(INJURED - 46, 12, 30)
    _settles(Session(clinic, episode, body, plan=("lunge", "hold")), clinic.coming(0, 14, 30))


def _early(visit: Session) -> None:
    visit.says("pain 4 worst 6 gaveway 0 confidence 3")
    visit.screens()
    visit.measure("girth")
    visit.measure("lunge")
    visit.work("ankle_pumps", 2, reps=10)
    visit.hands_out("ankle_pumps", "isometrics")
    visit.end(sign=True)


def _second(visit: Session) -> None:
    visit.says("pain 3 worst 4 morning 1 walk 3 gaveway 0 home 7/7 confidence 4")
    visit.corrects("worst 5")
    visit.tells_days("2222122")
    visit.measure("lunge")
    visit.leaves_out("mobilisation")  # the belt was with a colleague
    visit.leaves_out("lunge_retest")
    visit.work("glide_3", 0, hold_s=30)
    visit.measure("stance_open", more="tape")
    visit.measure("heel_raise")
    visit.hands_out("two_leg_balance")
    visit.end()


def _third(visit: Session) -> None:
    visit.says("pain 1 worst 3 morning 0 walk 2 gaveway 0 home 8/8 confidence 6")
    visit.measure("girth")
    visit.measure("lunge")
    visit.end(foresee=True)


def _jogs(visit: Session) -> None:
    visit.says("pain 0 worst 2 morning 0 walk 1 gaveway 0 home 12/14 confidence 8")
    visit.measure("girth")
    visit.measure("lunge")
    visit.measure("stance_open")
    visit.measure("heel_raise")
    visit.types("hop_spot yes yes")
    visit.types("pain_hop 1")
    visit.work("walk_run", 0, reps=2, phases=(Phase("WALK", 20), Phase("JOG", 10)))
    visit.decide(Stage.JOG, "hops ten times without pain; jogs on flat ground only, every other day")
    visit.end()


def _flares(visit: Session) -> None:
    visit.says("pain 4 worst 7 morning 3 walk 4 gaveway 1 home 4/7 confidence 4")
    visit.measure("girth", more='note "after four hours downhill with a pack"')
    visit.measure("lunge")
    visit.measure("heel_raise")
    taken = stages.decisions_of(visit.care, visit.episode)
    stages.take_back(visit.care, taken[-1])
    visit.decide(Stage.WALK, "flare-up after a long descent: flat walking until the morning is as it was")
    visit.end()


def _settles(visit: Session, again: str) -> None:
    visit.says("pain 2 worst 4 morning 1 walk 2 gaveway 0 home 5/5 confidence 5")
    visit.tells_days("33333")
    visit.measure("girth")
    visit.measure("lunge")
    visit.hold(0, 2, controls=(3, 2), hold_s=15, activity="hold_foam", slip=True)
    visit.measure("stance_open")
    visit.measure("heel_raise")
    visit.comes_again(again)
    visit.hands_out(more="two_leg_balance")
    visit.end()
