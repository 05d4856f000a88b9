"""A field that leaves some printable keys to the screen: the signs of the number pad are commands there."""

from __future__ import annotations

from textual.widgets import Input


class PadInput(Input):
    """A compact field without a blinking cursor. `leaves` are the keys that it does not take as text."""

    def __init__(
        self, value: str = "", *, leaves: frozenset[str], max_length: int | None = None, id: str | None = None
    ) -> None:
        super().__init__(value, compact=True, select_on_focus=False, max_length=max_length or 0, id=id)
        self.leaves = leaves
        self.cursor_blink = False

    def check_consume_key(self, key: str, character: str | None) -> bool:
        """Whether a key is text here."""
        return key not in self.leaves and super().check_consume_key(key, character)
