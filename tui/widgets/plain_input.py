"""A field of one line: no frame, a cursor that does not blink, and a letter that costs a paint and no layout."""

from __future__ import annotations

from textual.geometry import Size
from textual.reactive import Reactive
from textual.widgets import Input


class PlainInput(Input):
    """Every field of the program is one, so that they look and answer alike."""

    DEFAULT_CSS = """
    PlainInput { border: none !important; height: 1; padding: 0; }
    """

    virtual_size = Reactive(Size(0, 0))
    """How far the text goes. Textual lays the screen out anew as it grows; no field here grows with its text."""

    def __init__(
        self,
        value: str | None = None,
        *,
        placeholder: str = "",
        max_length: int = 0,
        select_on_focus: bool = False,
        id: str | None = None,
    ) -> None:
        super().__init__(
            value, placeholder=placeholder, max_length=max_length, select_on_focus=select_on_focus, id=id
        )
        self.cursor_blink = False
