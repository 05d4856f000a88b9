"""A forest orienteer, right ankle, grade II: four weeks that go well, with ten flat days in the middle."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime

from store.care.people import EpisodeForm, new_person
from store.demo.body import Body, course, steady
from store.demo.clinic import Clinic
from store.demo.session import Session
from store.knowledge.words import Episode, Grade, Side

INJURED = 27  # days before today
BODY = {
    "lunge": (course((3, 2.7), (9, 3.7), (18, 3.9), (24, 4.8)), steady(10.2)),
    "girth": (course((3, 53.1), (12, 52.7), (24, 52.2)), steady(51.0)),
    "stance_open": (course((6, 8), (12, 13), (24, 17)), steady(60)),
    "heel_raise": (course((15, 4), (24, 7), able=14), steady(20)),
    "reach_ant": (course((18, 60), (24, 61)), steady(68)),
}


def orienteer(clinic: Clinic) -> Iterator[datetime]:
    """Eight visits; today's is still to come."""
    yield clinic.at(INJURED - 3, 9, 20)
    form = EpisodeForm(
        side=Side.RIGHT,
        grade=Grade.II,
        injured_on=clinic.day(INJURED),
        goal="21 km forest race",
        goal_on=clinic.sunday_in(108),
        sport="orienteering",
        level="club, long distance",
        sprains_left=0,
        sprains_right=1,
        anticoagulant=False,
        loss_of_feeling=False,
        hypermobility=False,
        brace="lace-up brace outdoors",
    )
    _, episode = new_person(clinic.care, "R.K.", "1995", form)
    assert episode is not None
    yield from _visits(clinic, episode, Body(random.Random("orienteer 99"), Side.RIGHT, BODY))


def _visits(clinic: Clinic, episode: Episode, body: Body) -> Iterator[datetime]:
    _first(Session(clinic, episode, body, plan=("lunge",)))
    yield clinic.at(INJURED - 6, 9, 20)
    _second(Session(clinic, episode, body, plan=("lunge", "mobilisation", "lunge_retest")))
    yield clinic.at(INJURED - 9, 10, 40)
    _third(Session(clinic, episode, body, plan=("lunge", "mobilisation", "lunge_retest", "hold")))
    yield clinic.at(INJURED - 12, 9, 20)
    _fourth(Session(clinic, episode, body, plan=("lunge", "mobilisation", "lunge_retest")))
    yield clinic.at(INJURED - 15, 10, 40)
    _fifth(Session(clinic, episode, body, plan=("lunge", "hold", "shifts")))
    yield clinic.at(INJURED - 18, 9, 20)
    _sixth(Session(clinic, episode, body, plan=("lunge", "mobilisation", "lunge_retest")))
    yield clinic.at(INJURED - 21, 10, 40)
    _seventh(Session(clinic, episode, body, plan=("lunge", "mobilisation", "lunge_retest", "shifts")))
    yield clinic.at(INJURED - 24, 9, 20)
    _eighth(Session(clinic, episode, body), clinic.coming(0, 13, 0))


def _first(visit: Session) -> None:
    visit.says("pain 4 worst 7 gaveway 1 confidence 2")
    visit.screens()
    visit.measure("girth")
    visit.measure("lunge", more='note "careful, to the first pain"')
    visit.hands_out("ankle_circles", "two_leg_balance")
    visit.end(sign=True)


def _second(visit: Session) -> None:
    visit.says("pain 3 worst 6 morning 2 walk 5 gaveway 1 home 2/3 confidence 3")
    visit.tells_days("202")
    visit.measure("girth")
    visit.measure("lunge")
    visit.work("glide_2", 1, 0, hold_s=30)
    visit.mobilise((0, 1), reps=6, activity="mobilisation_hand")
    visit.measure("lunge", lift=0.5)
    visit.measure("stance_open")
    visit.hands_out("band_mobilisation")
    visit.end()


def _third(visit: Session) -> None:
    visit.says("pain 3 worst 5 morning 1 walk 4 gaveway 0 home 3/3 confidence 4")
    visit.measure("lunge")
    visit.mobilise((0, 0), reps=6)
    visit.measure("lunge", lift=0.8)
    visit.hold(0, 0, 4, 3, controls=(3, 3, 1, 1), hold_s=15)
    visit.end()


def _fourth(visit: Session) -> None:
    visit.says("pain 2 worst 5 morning 2 walk 4 gaveway 0 home 3/3 confidence 4")
    visit.measure("girth")
    visit.types("lunge 3.8 10.4")  # typed the wrong way round, and taken back at once
    visit.takes_back()
    visit.measure("lunge")
    visit.mobilise((1, 0), reps=6)
    visit.measure("lunge", lift=0.5)
    visit.test_stance()
    visit.hands_out("hold_firm", more="two_leg_balance")
    visit.end()


def _fifth(visit: Session) -> None:
    visit.says("pain 2 worst 5 morning 2 walk 3 gaveway 1 home 2/3 confidence 4")
    visit.tells_days("404")
    visit.measure("lunge")
    visit.hold(0, 1, 3, 3, controls=(3, 3, 2, 1), hold_s=15)
    visit.shift(2, 4, 6, reps=8)
    visit.measure("heel_raise")
    visit.end()


def _sixth(visit: Session) -> None:
    visit.says("pain 2 worst 4 morning 1 walk 3 gaveway 0 home 3/3 confidence 5")
    visit.measure("girth")
    visit.measure("lunge")
    visit.mobilise((0, 0), reps=8)
    visit.measure("lunge", lift=0.7)
    visit.measure("reach_ant")
    visit.hands_out("heel_raises", more="hold_firm")
    visit.end(foresee=True)


def _seventh(visit: Session) -> None:
    visit.says("pain 2 worst 4 morning 1 walk 2 gaveway 0 home 3/3 confidence 5")
    visit.measure("lunge")
    visit.mobilise((0, 0), reps=8)
    visit.measure("lunge", lift=0.8)
    visit.shift(3, 7, 10)
    visit.end()


def _eighth(visit: Session, again: str) -> None:
    visit.says("pain 1 worst 3 morning 1 walk 2 gaveway 0 home 3/3 confidence 6")
    visit.tells_days("435")
    visit.measure("girth")
    visit.measure("lunge")
    visit.mobilise((0, 0, 0))
    visit.measure("lunge", lift=0.7)
    visit.hold(0, 0, 0, 2, 1, 1, controls=(3, 3, 3, 2, 2, 2))
    visit.shift(4, 9)
    visit.measure("stance_open")
    visit.test_raises()
    visit.measure("reach_ant")
    visit.end(foresee=True, again=again)
