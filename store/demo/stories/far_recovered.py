"""A handball player, left ankle, grade II, in week fifteen: hops, drills, a full session, questionnaires."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime

from store.care.people import EpisodeForm, new_person
from store.demo.body import Body, course, steady
from store.demo.clinic import Clinic
from store.demo.session import Session
from store.knowledge.criteria import Stage
from store.knowledge.words import Grade, Side

INJURED = 103  # days before today
BODY = {
    "lunge": (course((8, 4.8), (30, 8.2), (60, 10.6), (100, 11.4)), steady(11.7)),
    "girth": (course((8, 52.4), (30, 51.3), (100, 50.6)), steady(50.4)),
    "stance_open": (course((30, 30), (60, 60)), steady(60)),
    "stance_closed": (course((60, 13), (100, 22)), steady(24)),
    "heel_raise": (course((30, 15), (60, 23), (100, 27)), steady(28)),
    "leg_length": (steady(86.2), steady(86.0)),
    "reach_ant": (course((60, 61), (100, 65.8)), steady(66.4)),
    "reach_pm": (course((60, 88), (100, 95.5)), steady(96.2)),
    "reach_pl": (course((60, 82), (100, 90.1)), steady(91.0)),
    "single_hop": (course((60, 118), (80, 151), (100, 164)), steady(168)),
    "side_hop": (course((80, 11.4), (100, 9.6)), steady(9.3)),
}


def far_recovered(clinic: Clinic) -> Iterator[datetime]:
    """Six visits over fourteen weeks, from walking to agility; sport is still to be decided."""
    yield clinic.at(INJURED - 8, 18, 0)
    form = EpisodeForm(
        side=Side.LEFT,
        grade=Grade.II,
        injured_on=clinic.day(INJURED),
        goal="league match",
        goal_on=clinic.sunday_in(12),
        sport="handball, wing",
        level="regional league",
        sprains_left=1,
        sprains_right=1,
        anticoagulant=False,
        loss_of_feeling=False,
        hypermobility=False,
        brace="semi-rigid brace on the court",
    )
    _, episode = new_person(clinic.care, "B.W.", "1997-12-19", form)
    assert episode is not None
    body = Body(random.Random("far recovered"), Side.LEFT, BODY)

    _early(Session(clinic, episode, body))
    yield clinic.at(INJURED - 30, 18, 0)
    _walks(Session(clinic, episode, body, plan=("lunge",)))
    yield clinic.at(INJURED - 60, 18, 0)
    _jogs(Session(clinic, episode, body, plan=("lunge",)))
    yield clinic.at(INJURED - 80, 18, 0)
    _runs(Session(clinic, episode, body, plan=("lunge",)))
    yield clinic.at(INJURED - 93, 18, 0)
    _turns(Session(clinic, episode, body, plan=()))
    yield clinic.at(INJURED - 100, 18, 0)
    _trains(Session(clinic, episode, body, plan=("lunge",)), clinic.coming(4, 18, 0))


def _early(visit: Session) -> None:
    visit.says("pain 3 worst 5 gaveway 1 confidence 3")
    visit.screens()
    visit.types("weight_bearing 2")
    visit.measure("girth")
    visit.measure("lunge")
    visit.hands_out("two_leg_balance", "heel_raises_two", "band_eversion")
    visit.end(sign=True)


def _walks(visit: Session) -> None:
    visit.says("pain 1 worst 3 morning 1 walk 2 gaveway 0 home 18/22 confidence 5")
    visit.types("weight_bearing 3")
    visit.types("limp 0")
    visit.measure("girth")
    visit.measure("lunge")
    visit.measure("stance_open")
    visit.measure("heel_raise")
    visit.decide(Stage.WALK, "walks without a limp, pain at most 2")
    visit.hands_out("heel_raises", "hold_foam", "band_eversion", anew=True)
    visit.end()


def _jogs(visit: Session) -> None:
    visit.says("pain 0 worst 2 morning 0 walk 0 gaveway 0 home 25/30 confidence 7")
    visit.measure("lunge")
    visit.measure("stance_open")
    visit.measure("heel_raise")
    visit.types("hop_spot yes yes")
    visit.types("pain_hop 1")
    visit.measure("single_hop")
    visit.types("faam_adl 91.7")
    visit.types("faam_sport 64.3")
    visit.decide(Stage.JOG, "all lines met; starts with one minute of jogging in three")
    visit.end()


def _runs(visit: Session) -> None:
    visit.says("pain 0 worst 2 morning 0 walk 0 gaveway 0 home 16/20 confidence 8")
    visit.measure("lunge")
    visit.types("pain_sport 1")
    visit.measure("stance_closed")
    visit.measure("single_hop")
    visit.measure("side_hop", more="brace")
    visit.work("hop_hold_medium", 0, faults=(1,), reps=4)
    visit.decide(Stage.RUN, "five kilometres without a break, quiet the next morning")
    visit.hands_out("jump_landing")
    visit.end()


def _turns(visit: Session) -> None:
    visit.says("pain 0 worst 1 morning 0 walk 0 gaveway 0 home 9/13 confidence 8")
    visit.types("drills no")
    visit.takes_back()  # the last drill was done after all
    visit.types('drills yes note "straight, turns, and cuts at full pace"')
    visit.measure("single_hop")
    visit.measure("side_hop")
    visit.work("jump_landing", 0, reps=4)
    visit.decide(Stage.AGILITY, "drills at full pace without pain; trains without contact")
    visit.end()


def _trains(visit: Session, again: str) -> None:
    visit.says("pain 0 worst 1 morning 0 walk 0 gaveway 0 home 5/7 confidence 9")
    visit.tells_days("4404430")
    visit.measure("lunge")
    visit.measure("leg_length")
    for reach in ("reach_ant", "reach_pm", "reach_pl"):
        visit.measure(reach)
    visit.measure("single_hop")
    visit.types("drills yes")
    visit.types("full_session yes")
    for asked in ("pain_sport 1", "faam_adl 98.8", "faam_sport 92.9", "cait left 24 right 27", "sane 93"):
        visit.types(asked)
    visit.end(again=again)
