"""The application over an invented record, with the screens of this folder real and the others only noted."""

from __future__ import annotations

from pathlib import Path

from store.care.care import Care
from store.knowledge.time import SetClock
from tui.app import BothFeetApp
from tui.widgets import commands

OURS = {
    commands.CASELOAD,
    commands.PERSON,
    commands.EPISODE,
    commands.CHART,
    commands.CRITERIA,
    commands.HOME,
    commands.RUNNING,
    commands.SAFETY,
    commands.VISITS,
    commands.READINGS,
    commands.SOURCE,
    commands.HELP,
    commands.PAGE,
    commands.SQUADS,
    commands.SQUAD,
}


class Theatre(BothFeetApp):
    """Opens our screens, and notes what else was asked for."""

    def __init__(self, care: Care, clock: SetClock, log_folder: Path, first: str = commands.CASELOAD) -> None:
        super().__init__(care, clock, theme="dark", first=first, log_folder=log_folder)
        self.opened: list[tuple[str, dict[str, object]]] = []

    def open(self, name: str, **arguments: object) -> None:
        self.opened.append((name, arguments))
        if name in OURS:
            super().open(name, **arguments)
