"""Mixed into a screen that reads the record when it comes to the top: it notices another window's writing too."""

from __future__ import annotations

from textual import events
from textual.timer import Timer

from tui.widgets.keyed_screen import KeyedScreen

EVERY_S = 1.0
CHANGED = "Another window changed the record: this is how it stands now."


class Notices(KeyedScreen[None]):
    """Looks once a second while it is on top, and reads again when there is something new."""

    _looking: Timer | None = None

    def read_afresh(self) -> None:
        """Read again what the screen shows; the cursor and what was typed stay."""
        raise NotImplementedError

    def tick(self) -> None:
        """Read again when another window has written."""
        if self.shell.care.changed_elsewhere():
            self.read_afresh()
            self.say(CHANGED)

    # Textual calls these beside the ones of the bases and of the screen itself

    def _on_mount(self, event: events.Mount) -> None:
        del event
        self._looking = self.set_interval(EVERY_S, self.tick)

    def _on_screen_resume(self, event: events.ScreenResume) -> None:
        del event
        if self._looking is not None:
            self._looking.resume()

    def _on_screen_suspend(self) -> None:
        if self._looking is not None:
            self._looking.pause()
