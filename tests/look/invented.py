"""The screens over the invented people of the demo, and those that nothing else here shows."""

from __future__ import annotations

import shutil
from functools import cache
from pathlib import Path
from typing import Any

from textual.app import App

from store.care.care import open_care
from store.care.visits import start_visit
from store.demo import build
from store.knowledge.time import SetClock
from store.record.episodes import episodes_of_person
from store.record.people import find_people
from tests.helpers.passing import passing_folder
from tests.helpers.stage import NOON
from tests.look.arriving import LATER
from tests.look.ward import Scene
from tui.app import BothFeetApp
from tui.widgets import commands


@cache
def _built() -> Path:
    """The demo, made once a run."""
    path = passing_folder() / "demo.sqlite"
    build(path, NOON.date())
    return path


class Walked(BothFeetApp):
    """The program over a copy of the demo; `walk` is what a look at it presses first."""

    def __init__(self, walk: tuple[str, ...]) -> None:
        self.folder = passing_folder()
        path = Path(shutil.copy(_built(), self.folder))
        clock = SetClock(NOON)
        super().__init__(open_care(path, clock, examiner="AB"), clock, theme="dark", log_folder=self.folder)
        self.walk = walk


def walked(*keys: str) -> Scene:
    """The first screen after these keys."""
    return lambda: Walked(keys)


def of(label: str, screen: str, *keys: str, **more: object) -> Scene:
    """A screen about one of the people: their last episode, or a visit just begun where one is asked for."""

    def make() -> App[Any]:
        app = Walked(keys)
        (person,) = find_people(app.care.record, label)
        if screen == commands.PAGE:
            app.call_later(app.open, screen, person=person.id)
            return app
        episode = episodes_of_person(app.care.record, person.id)[-1]
        asked: dict[str, object] = {"episode": episode.id}
        if screen in _OF_A_VISIT:
            asked = {"visit": start_visit(app.care, episode).id}
        app.call_later(app.open, screen, **asked, **more)
        return app

    return make


_OF_A_VISIT = {commands.VISIT, commands.TRIALS, commands.LINE, commands.SAFETY_AGAIN}

SAID = ("space", *"2", "space", *"4", "space", *"1", "space", "space", *"0", "space", *"5", "space", *"7", "space")
TICKED = ("y", LATER, "y", "n", "y")
DRILLED = tuple(key for value in ("10.2", "4.8", "9.1", "10.0", "5.2", "9.3") for key in (*value, "enter"))
SURE = ("enter", LATER, "enter")
RAN = " pain 1 swelling no"
INVENTED: dict[str, Scene] = {
    "caseload": walked(),
    "caseload-jump": walked("ctrl+y"),
    "caseload-closed": walked("f5"),
    "palette": walked("ctrl+p"),
    "help-all": walked("f1", "f1"),
    "only": of("R.K.", commands.EPISODE, "o"),
    "person-page": of("A.W.", commands.PAGE),
    "squads": walked("f3"),
    "squad": walked("f3", "enter"),
    "sideline": walked("f3", "enter", "f6", *"10.2 9.8", "enter", *"11 8.2", "enter"),
    "sideline-check": walked("f3", "enter", "f6", "f8", "right", *(("n", LATER) * 13), "y"),
    "practice": walked("f4"),
    "assessment": walked("f4", "enter", "space"),
    "assessment-steps": walked("f4", "enter", "space", "x", *TICKED),
    "assessment-told": walked("f4", "enter", "space", LATER, "space", "x", *TICKED, "enter"),
    "paper-case": walked("f4", *"long lunge", "enter", "enter", "down", "enter"),
    "paper-case-told": walked("f4", *"long lunge", "enter", "enter", "k", "down", "down", "enter"),
    "drill": walked("f4", *"lunge", "enter", *"3", "enter", *"10.2", "enter"),
    "drill-told": walked("f4", *"lunge", "enter", *"3", "enter", *DRILLED),
    "new-sprain": of("S.L.", commands.EPISODE, "q"),
    "fencer": of("T.M.", commands.EPISODE),
    "said": of("R.K.", commands.VISIT),
    "visit": of("R.K.", commands.VISIT, *SAID),
    "trials": of("R.K.", commands.TRIALS, *"10.2", "enter", measure="lunge"),
    "line": of("R.K.", commands.LINE, *"lunge 10.2 4.8"),
    "safety-again": of("R.K.", commands.SAFETY_AGAIN),
    "safety-source": of("R.K.", commands.SAFETY, "i"),
    "home": of("R.K.", commands.HOME),
    "running": of("R.K.", commands.RUNNING, "e", *"mon wed fri", *SURE, "space", *RAN, "enter"),
    "running-telling": of("R.K.", commands.RUNNING, "e", *"wed sat", *SURE, "space"),
    "running-source": of("R.K.", commands.RUNNING, "i"),
    "running-empty": of("R.K.", commands.RUNNING),
    "papers": of("R.K.", commands.PAPERS),
    "letter": of("R.K.", commands.PAPERS, "right"),
    "letter-to-whom": of("R.K.", commands.PAPERS, "right", "e", *"Dr N. N., Example practice"),
    "calendar": of("R.K.", commands.PAPERS, "right", "right"),
    "calendar-file": of("R.K.", commands.PAPERS, "right", "right", "ctrl+o", *"plan.ics"),
    "home-sheet": of("R.K.", commands.PAPERS, "left"),
    "person": walked("f2"),
    "chart": of("R.K.", commands.CHART, measure="lunge"),
    "safety": of("R.K.", commands.SAFETY),
    "source": of("R.K.", commands.SOURCE, measure="lunge"),
    "visits": of("R.K.", commands.VISITS),
    "readings": of("R.K.", commands.READINGS, measure="lunge"),
    "readings-anew": of("R.K.", commands.READINGS, "down", "enter", measure="lunge"),
}
