"""A hockey squad, measured before the season: six who stayed well, and the two of whom hockey.py tells."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime

from store.care import squads
from store.care.adding import add_line
from store.care.people import new_person
from store.demo.body import Body, steady
from store.demo.clinic import Clinic
from store.entry.numbers import plain
from store.knowledge.words import Person, Side

SQUAD = "Field hockey, first team"
BEFORE_SEASON = 130  # days before today
BASELINES = ("lunge", "reach_ant", "stance_open", "side_hop")

PLAYERS = (
    # label, born, then left and right: lunge cm, anterior reach cm, stance s, side hop s
    ("A.W.", "2000", (11.8, 11.4), (66.1, 65.2), (60, 60), (8.9, 9.2)),
    ("C.H.", "1998", (9.1, 9.6), (61.0, 62.3), (60, 60), (10.1, 9.8)),
    ("E.T.", "2003", (12.6, 12.9), (68.4, 68.0), (60, 52), (8.2, 8.3)),
    ("G.P.", "2001", (10.4, 10.1), (63.7, 64.9), (60, 60), (9.5, 9.4)),
    ("L.D.", "1997", (8.3, 10.2), (58.8, 62.9), (31, 60), (12.4, 9.9)),  # a left ankle that was sprained before
    ("P.J.", "2002", (11.1, 11.0), (65.0, 64.1), (60, 60), (9.0, 9.1)),
)


def squad(clinic: Clinic) -> Iterator[datetime]:
    """An afternoon of screening: lunge, reach, stance and side hop of each, both sides."""
    yield clinic.at(BEFORE_SEASON, 14, 0)
    made = squads.make(clinic.care, SQUAD)
    for label, born, *pairs in PLAYERS:
        person, _ = new_person(clinic.care, label, born)
        squads.add(clinic.care, made, person)
        courses = {
            measure: (steady(left), steady(right)) for measure, (left, right) in zip(BASELINES, pairs, strict=True)
        }
        baseline(clinic, person, Body(random.Random(label), Side.LEFT, courses))


def baseline(clinic: Clinic, person: Person, body: Body, measures: tuple[str, ...] = BASELINES) -> None:
    """Measure somebody who is well, two minutes a measure, and keep it with the person alone."""
    for name in measures:
        clinic.pass_minutes(2)
        measure = clinic.care.knowledge.measures[name]
        sides = (f"{side} " + " ".join(plain(one) for one in body.trials(measure, side)) for side in Side)
        add_line(clinic.care, person, " ".join((name, *sides)))
