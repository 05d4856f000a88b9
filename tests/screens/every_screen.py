"""Every screen of the program, opened over a filled record: for what must hold on each of them."""

from __future__ import annotations

from collections.abc import AsyncIterator
from pathlib import Path
from typing import Any

from textual.pilot import Pilot

from store.care import visits
from store.care.appointments import plan
from store.care.people import new_person
from store.care.squads import add, make
from store.knowledge.words import Visit
from tests.screens.filled import Ward
from tui.app import BothFeetApp
from tui.widgets import commands


class House(Ward):
    """The ward with every screen real. R.K. has a visit in hand and an appointment, and is in a squad with B.B."""

    def __init__(self, tmp_path: Path) -> None:
        super().__init__(tmp_path)
        self.episode = self.episodes["R.K."]
        person = self.care.person(self.episode.person)
        self.bare, _ = new_person(self.care, "B.B.")
        squad = make(self.care, "hockey")
        for one in (person, self.bare):
            add(self.care, squad, one)
        plan(self.care, person, "today 16:00")
        self.visit: Visit = visits.start_visit(self.care, self.episode)
        of_episode: dict[str, object] = {"episode": self.episode.id}
        of_visit: dict[str, object] = {"visit": self.visit.id}
        self.ways: dict[str, dict[str, object]] = {
            commands.CASELOAD: {},
            commands.PERSON: {},
            commands.EPISODE: of_episode,
            commands.PAGE: {"person": self.bare.id},
            commands.SQUADS: {},
            commands.SQUAD: {"squad": squad.id},
            commands.SIDELINE: {"squad": squad.id},
            commands.CHECK: {"person": self.bare.id},
            commands.PRACTICE: {},
            commands.WALK: {"ref": "whole"},
            commands.CASE: {"ref": "lunge"},
            commands.DRILL: {"ref": "lunge"},
            commands.VISIT: of_visit,
            commands.TRIALS: of_visit | {"measure": "lunge"},
            commands.LINE: of_visit,
            commands.PICK: of_visit,
            commands.BOUT: of_visit | {"activity": "single_leg_hold"},
            commands.CHART: of_episode | {"measure": "lunge"},
            commands.CRITERIA: of_episode,
            commands.HOME: of_episode | of_visit,
            commands.SAFETY: of_episode,
            commands.SAFETY_AGAIN: of_visit,
            commands.RUNNING: of_episode,
            commands.PAPERS: of_episode | of_visit,
            commands.VISITS: of_episode,
            commands.READINGS: of_episode | {"measure": "lunge"},
            commands.SOURCE: of_episode | {"measure": "lunge"},
            commands.HELP: {"where": commands.EPISODE},
        }

    def open(self, name: str, **arguments: object) -> None:
        BothFeetApp.open(self, name, **arguments)


async def settled(pilot: Pilot[Any]) -> None:
    """Let what was asked for be laid out and painted."""
    for _ in range(3):
        await pilot.pause()


async def each_screen(app: House, pilot: Pilot[Any]) -> AsyncIterator[str]:
    """Every screen in turn, by name, alone on top of the caseload."""
    for name, arguments in app.ways.items():
        app.open(name, **arguments)
        await settled(pilot)
        yield name
        while len(app.screen_stack) > 1:
            app.pop_screen()
