"""Somebody seen for the first time a little while ago: not yet graded, and nothing is loaded yet."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime, timedelta

from store.care.people import EpisodeForm, new_person
from store.demo.body import Body, course, steady
from store.demo.clinic import Clinic
from store.demo.session import Session
from store.knowledge.words import Side

BODY = {
    "girth": (course((0, 55.3)), steady(53.2)),
}


def first_day(clinic: Clinic) -> Iterator[datetime]:
    """Turned the left ankle on a kerb the evening before; takes an anticoagulant, so nothing is mobilised."""
    yield clinic.just_now(55)
    form = EpisodeForm(
        side=Side.LEFT,
        injured_on=clinic.clock.now().on - timedelta(days=1),
        goal="walk the dog without the crutch",
        sprains_left=0,
        sprains_right=2,
        anticoagulant=True,
        loss_of_feeling=False,
    )
    _, episode = new_person(clinic.care, "J.V.", "1961", form)
    assert episode is not None
    visit = Session(clinic, episode, Body(random.Random("first day"), Side.LEFT, BODY))
    visit.says("pain 6 worst 8 gaveway 0 confidence 1")
    visit.types("weight_bearing 1")
    visit.measure("girth", more='note "over the sock line; warm, pulse felt"')
    visit.end(again=clinic.coming(2, 9, 0))
