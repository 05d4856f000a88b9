"""Two hockey players. They were measured before the season, so each has a baseline of their own."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime

from store.care import squads
from store.care.adding import add_line
from store.care.people import EpisodeForm, new_episode, new_person
from store.demo.body import Body, course, steady
from store.demo.clinic import Clinic
from store.demo.session import Session
from store.demo.stories.squad import SQUAD, baseline
from store.knowledge.words import Grade, Person, Side

FORWARD_INJURED = 74  # days before today
FORWARD_AGAIN = 60  # the day since injury of the visit in which a new sprain is told
FORWARD = {
    "lunge": (
        course((4, 3.1), (11, 4.2), (18, 5.0), (32, 6.6), (46, 7.9), (53, 8.2), (60, 8.2), (71, 8.1)),
        steady(11.3),
    ),
    "girth": (course((4, 54.6), (18, 53.6), (46, 52.9), (71, 52.8)), steady(52.4)),
    "stance_open": (course((11, 5), (25, 14), (46, 33), (60, 50), (71, 60)), steady(60)),
    "heel_raise": (course((25, 3), (46, 14), (71, 21), able=22), steady(27)),
}
FORWARD_WELL = {"reach_ant": (steady(64.6), steady(65.1)), "side_hop": (steady(9.2), steady(9.0))}
GOALKEEPER_WELL = {"reach_ant": (steady(59.3), steady(58.8)), "side_hop": (steady(10.3), steady(10.6))}
GOALKEEPER_INJURED = 11  # days before today
GOALKEEPER = {
    "lunge": (course((3, 5.2), (8, 6.6)), steady(9.7)),
    "girth": (course((3, 48.3), (8, 47.7)), steady(46.6)),
    "stance_open": (course((3, 11), (8, 22)), steady(60)),
    "heel_raise": (course((8, 9), able=6), steady(21)),
}


def _before_the_season(clinic: Clinic, label: str, born: str, lines: tuple[str, ...], body: Body) -> Person:
    person, _ = new_person(clinic.care, label, born)
    (own,) = squads.every_squad(clinic.care, SQUAD)
    squads.add(clinic.care, own.squad, person)
    for line in lines:
        clinic.pass_minutes(2)
        add_line(clinic.care, person, line)
    baseline(clinic, person, body, ("reach_ant", "side_hop"))
    return person


def forward(clinic: Clinic) -> Iterator[datetime]:
    """Left ankle, grade III: ten visits in ten weeks, the lunge flat for the last three."""
    yield clinic.at(130, 17, 0)
    lines = (
        "lunge left 11.4 11.6 11.5 right 11.2 11.5 11.4",
        "stance_open left cap right cap",
        "heel_raise 28 29",
    )
    well = Body(random.Random("forward"), Side.LEFT, FORWARD_WELL)
    person = _before_the_season(clinic, "S.L.", "1999", lines, well)

    yield clinic.at(FORWARD_INJURED - 4, 11, 30)
    form = EpisodeForm(
        side=Side.LEFT,
        grade=Grade.III,
        injured_on=clinic.day(FORWARD_INJURED),
        goal="first match of the second half of the season",
        goal_on=clinic.sunday_in(90),
        sport="field hockey, forward",
        level="first team",
        sprains_left=2,
        sprains_right=0,
        anticoagulant=False,
        loss_of_feeling=False,
        hypermobility=True,
        brace="semi-rigid brace in training",
    )
    episode = new_episode(clinic.care, person, form)
    body = Body(random.Random("forward 5"), Side.LEFT, FORWARD)

    visit = Session(clinic, episode, body)
    visit.says("pain 6 worst 8 gaveway 2 confidence 1")
    visit.screens()
    visit.measure("girth")
    visit.measure("lunge")
    visit.types("heel_raise left unable right 27")
    visit.hands_out("elevation", "ankle_pumps", "isometrics")
    visit.end(sign=True)

    said = (
        (11, "pain 4 worst 6 morning 3 walk 6 gaveway 1 home 6/7 confidence 2"),
        (18, "pain 4 worst 6 morning 3 walk 5 gaveway 1 home 7/7 confidence 3"),
        (25, "pain 3 worst 5 morning 2 walk 4 gaveway 0 home 7/7 confidence 4"),
        (32, "pain 2 worst 4 morning 2 walk 3 gaveway 0 home 5/7 confidence 5"),
        (39, "pain 2 worst 4 morning 1 walk 2 gaveway 0 home 6/7 confidence 5"),
        (46, "pain 1 worst 3 morning 1 walk 1 gaveway 0 home 6/7 confidence 6"),
        (53, "pain 1 worst 2 morning 0 walk 1 gaveway 0 home 4/7 confidence 7"),
        (60, "pain 1 worst 2 morning 0 walk 0 gaveway 0 home 4/7 confidence 7"),
    )
    for nth, (day, line) in enumerate(said, 2):
        yield clinic.at(FORWARD_INJURED - day, 11, 30)
        treated = nth in (4, 7)
        visit = Session(clinic, episode, body)
        visit.says(line)
        if nth % 2:
            visit.measure("girth")
        visit.measure("lunge")
        if treated:
            visit.mobilise((1, 0) if nth == 4 else (0, 0), reps=6)
            visit.measure("lunge", lift=0.7)
        if nth % 2 == 0:
            visit.measure("stance_open")
            visit.measure("heel_raise")
        if day == FORWARD_AGAIN:
            visit.tells_of_sprain(5, "turned in on uneven grass, two days off")
        if nth == 4:
            visit.hands_out("hold_firm", "heel_raises_two", "band_eversion", anew=True)
        visit.end()

    yield clinic.at(FORWARD_INJURED - 71, 11, 30)
    visit = Session(clinic, episode, body)
    visit.says("pain 0 worst 2 morning 0 walk 0 gaveway 0 home 3/7 confidence 7")
    visit.tells_days("3020030")
    visit.measure("girth")
    visit.measure("lunge")
    visit.hold(0, 1, controls=(3, 2), activity="hold_half_dome")
    visit.measure("stance_open")
    visit.measure("heel_raise")
    visit.comes_again(clinic.coming(0, 16, 30))
    visit.hands_out(more="heel_raises_two")
    visit.end()


def goalkeeper(clinic: Clinic) -> Iterator[datetime]:
    """Right ankle, under 18: two visits in the second week, with the growth plates in mind."""
    yield clinic.at(130, 17, 20)
    lines = ("lunge left 9.8 9.6 9.9 right 9.5 9.4 9.7", "stance_open left cap right cap", "heel_raise 22 20")
    well = Body(random.Random("keeper"), Side.LEFT, GOALKEEPER_WELL)
    person = _before_the_season(clinic, "M.B.", str(clinic.now.on.year - 16), lines, well)

    yield clinic.at(GOALKEEPER_INJURED - 3, 15, 40)
    form = EpisodeForm(
        side=Side.RIGHT,
        grade=Grade.II,
        injured_on=clinic.day(GOALKEEPER_INJURED),
        goal="back in goal",
        sport="field hockey, goalkeeper",
        level="under 18",
        sprains_left=0,
        sprains_right=0,
        anticoagulant=False,
        loss_of_feeling=False,
    )
    episode = new_episode(clinic.care, person, form)
    body = Body(random.Random("goalkeeper"), Side.RIGHT, GOALKEEPER)

    visit = Session(clinic, episode, body)
    visit.says("pain 4 worst 6 gaveway 0 confidence 3")
    visit.screens()
    visit.measure("girth")
    visit.measure("lunge")
    visit.measure("stance_open")
    visit.types("heel_raise left 21 right unable")
    visit.hands_out("ankle_circles", "two_leg_balance")
    visit.end(sign=True)

    yield clinic.at(GOALKEEPER_INJURED - 8, 15, 40)
    visit = Session(clinic, episode, body)
    visit.says("pain 2 worst 4 morning 1 walk 3 gaveway 0 home 5/5 confidence 5")
    visit.tells_days("22222")
    visit.measure("girth")
    visit.measure("lunge")
    visit.hold(0, 3, controls=(3, 1), hold_s=20)
    visit.measure("stance_open")
    visit.measure("heel_raise")
    visit.comes_again(clinic.coming(0, 15, 40))
    visit.hands_out("band_eversion")
    visit.end()
