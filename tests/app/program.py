"""The application with a screen of the tests, as a program for a real terminal."""

from __future__ import annotations

import sys
from typing import Any

import tui.app
from store.knowledge.time import SetClock
from tests.helpers.stage import NOON
from tui.app import SCREENS_BY_NAME, BothFeetApp
from tui.widgets import commands


def main() -> None:
    screens = {**SCREENS_BY_NAME, commands.EPISODE: "tests.helpers.stage:Ward"}
    tui.app.SCREENS_BY_NAME = screens
    care: Any = None
    app = BothFeetApp(care, SetClock(NOON), first=commands.EPISODE)
    app.run()
    sys.exit(app.return_code or 0)


if __name__ == "__main__":
    main()
