"""The screens over an invented record, for a look at each: caseload, form, episode, chart, page of origins."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

from textual.app import App

from store.care import visits
from store.care.care import open_care
from store.demo import build
from store.knowledge.time import SetClock
from store.knowledge.words import Episode
from store.record.episodes import episodes_of_person
from store.record.people import find_people
from tests.screens.made import at, opened, take, ward
from tests.screens.theatre import Theatre
from tui.widgets import commands

Scene = Callable[[], App[Any]]


def _theatre(*, filled: bool = True) -> tuple[Theatre, dict[str, Episode]]:
    folder = Path(tempfile.mkdtemp(prefix="bothfeet-look-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    care, clock = opened(folder)
    episodes = ward(care, clock) if filled else {}
    return Theatre(care, clock, folder), episodes


def _of(label: str, screen: str, measure: str = "", **more: str) -> Scene:
    """A screen about one of the people of the record."""

    def make() -> App[Any]:
        app, episodes = _theatre()
        arguments = {"episode": episodes[label].id} | ({"measure": measure} if measure else {}) | more
        app.call_later(app.open, screen, **arguments)
        return app

    return make


def _person() -> App[Any]:
    app, _ = _theatre()
    app.call_later(app.open, commands.PERSON)
    return app


def _edited() -> App[Any]:
    """The form of an episode that is put right."""
    app, episodes = _theatre()
    one = episodes["R.K."]
    app.call_later(app.open, commands.PERSON, person=app.care.person(one.person), editing=one)
    return app


def _blind() -> App[Any]:
    """A visit whose re-test waits."""
    app, episodes = _theatre()
    visit = visits.start_visit(app.care, episodes["R.K."])
    take(app.care, visit, "lunge l 10.7 10.7 10.7 r 5.7 5.7 5.7 before")
    app.call_later(app.open, commands.EPISODE, episode=episodes["R.K."].id)
    return app


def _visits() -> App[Any]:
    """The visits of the orienteer in the demo, whose bouts were timed."""
    folder = Path(tempfile.mkdtemp(prefix="bothfeet-look-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    clock = SetClock(at(date(2026, 11, 23), 12))
    build(folder / "demo.sqlite", clock.now().on)
    care = open_care(folder / "demo.sqlite", clock)
    app = Theatre(care, clock, folder)
    (person,) = find_people(care.record, "R.K.")
    app.call_later(app.open, commands.VISITS, episode=episodes_of_person(care.record, person.id)[-1].id)
    return app


WARD: dict[str, Scene] = {
    "ward": lambda: _theatre()[0],
    "ward-empty": lambda: _theatre(filled=False)[0],
    "ward-person": _person,
    "ward-person-edit": _edited,
    "ward-episode-closed": _of("P.D.", commands.EPISODE),
    "ward-episode": _of("R.K.", commands.EPISODE),
    "ward-episode-new": _of("J.V.", commands.EPISODE),
    "ward-episode-caution": _of("T.M.", commands.EPISODE),
    "ward-episode-blind": _blind,
    "ward-chart": _of("R.K.", commands.CHART, "lunge"),
    "ward-chart-pain": _of("R.K.", commands.CHART, "pain_now"),
    "ward-visits": _visits,
    "ward-criteria": _of("R.K.", commands.CRITERIA, stage="jog"),
    "ward-safety": _of("R.K.", commands.SAFETY),
    "ward-source": _of("R.K.", commands.SOURCE, "lunge"),
}
