"""Does a screen fit its terminal: nothing outside it, nothing focusable without a size."""

from __future__ import annotations

from typing import Any

from textual.app import App
from textual.screen import Screen
from textual.widget import Widget


def misfits(app: App[Any]) -> list[str]:
    """What does not fit on the screen that is on show, one line each; empty when all is well."""
    screen: Screen[Any] = app.screen
    found: list[str] = []
    for widget in screen.walk_children(Widget):
        if not _displayed(widget):
            continue
        name = f"{type(widget).__name__}#{widget.id}"
        region = widget.region
        if widget.focusable and not (region.width and region.height) and not _scrolled_away(widget, screen):
            found.append(f"{name} can be focused but has no size")
        elif region and not screen.region.contains_region(region) and not _in_scroller(widget, screen):
            found.append(f"{name} at {region} is outside {screen.region}")
    return found


def _displayed(widget: Widget) -> bool:
    return all(node.display for node in widget.ancestors_with_self if isinstance(node, Widget))


def _ancestors(widget: Widget, screen: Screen[Any]) -> list[Widget]:
    return [node for node in widget.ancestors if isinstance(node, Widget) and node is not screen]


def _in_scroller(widget: Widget, screen: Screen[Any]) -> bool:
    return any(node.allow_vertical_scroll or node.allow_horizontal_scroll for node in _ancestors(widget, screen))


def _scrolled_away(widget: Widget, screen: Screen[Any]) -> bool:
    return _in_scroller(widget, screen)


def text_of(app: App[Any]) -> str:
    """The screen on show as plain text, a line a row, without the blanks at the end of each."""
    width, height = app.size
    strips = app.screen._compositor.render_strips()[:height]
    return "\n".join(strip.crop(0, width).text.rstrip() for strip in strips)
