"""The step that comes next as one large word."""

from __future__ import annotations

from textual.strip import Strip

from tui.widgets.big_word import BigWord


class StepWord(BigWord):
    """The step under the cursor, to be read from afar; nothing where there is no room for letters."""

    def render_line(self, y: int) -> Strip:
        """One row of the letters."""
        if self.scale is None:
            return Strip.blank(self.content_size.width)
        return super().render_line(y)
