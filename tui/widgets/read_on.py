"""On in what does not fit on the screen, or back: a page less a line, so that the eye finds where it was."""

from __future__ import annotations

from textual.containers import VerticalScroll


def read_on(page: VerticalScroll, key: str) -> None:
    """Scroll by what is in sight; `key` is pagedown or pageup."""
    by = max(page.content_size.height - 1, 1)
    page.scroll_relative(y=by if key == "pagedown" else -by, animate=False)
