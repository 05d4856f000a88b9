"""A screen whose one field has the focus from the start: keys that come before it stands are kept for it."""

from __future__ import annotations

from textual import events
from textual.widget import Widget

from tui.widgets.keyed_screen import KeyedScreen


class FieldFirst(KeyedScreen[None]):
    """Mixed into a screen whose AUTO_FOCUS is its field; letters never reach the commands there."""

    def __init__(self) -> None:
        super().__init__()
        self._early: list[events.Key] = []

    def keep_early(self, event: events.Key) -> bool:
        """Keep a key for the field while that has not got the focus; whether it was kept."""
        if self.focused is not None or not (event.is_printable or event.key in ("enter", "backspace")):
            return False
        self._early.append(events.Key(event.key, event.character))
        return True

    def on_key(self, event: events.Key) -> None:
        """A key that came while nothing had the focus."""
        if self.keep_early(event):
            event.stop()

    def set_focus(self, widget: Widget | None, scroll_visible: bool = True, from_app_focus: bool = False) -> None:
        """Give the field what came before it, in the same breath as the focus: later keys come after."""
        super().set_focus(widget, scroll_visible, from_app_focus)
        if self.focused is not None:
            early, self._early = self._early, []
            for event in early:
                self.focused.post_message(event)
