"""Jump: one key puts a letter on each part of a screen, a field or a row, and the letter goes there.

A widget whose rows are parts has `jump_spots`: where in its content each row in sight begins, and what going there
does. A field that can have the focus is a part by itself.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from string import ascii_lowercase, ascii_uppercase
from typing import Any, Protocol, runtime_checkable

from textual import events
from textual.content import Content
from textual.geometry import Offset
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Input

from tui.widgets.choice_field import ChoiceField
from tui.widgets.look import Role, mark
from tui.widgets.spots import Spot

LETTERS = ascii_lowercase + ascii_uppercase


@runtime_checkable
class HasSpots(Protocol):
    """A widget with parts of its own."""

    def jump_spots(self) -> Sequence[Spot]:
        """The parts in sight, from the top."""
        ...


@dataclass(frozen=True, slots=True)
class Target:
    """One part of a screen: the letter, the cell of the screen where that stands, and what it does."""

    letter: str
    at: Offset
    act: Callable[[], object]


class Letter(Widget):
    """A letter over the part that it goes to."""

    DEFAULT_CSS = """
    Letter { layer: over; position: absolute; width: 1; height: 1; color: $now; background: $ground; }
    """

    def __init__(self, target: Target) -> None:
        super().__init__()
        self.letter = target.letter
        self.styles.offset = target.at

    def render(self) -> Content:
        """The letter, turned dark on bright: it is seen without colour too."""
        return Content.styled(self.letter, f"{mark(Role.NOW, bold=True)} reverse")


class Jump(Widget):
    """Stands over the key line while the letters are shown, and takes the next key."""

    HELP_TEXT = "The letter on a part goes there; any other key leaves everything as it was."
    DEFAULT_CSS = """
    Jump { layer: over; dock: bottom; height: 1; width: 100%; padding: 0 1; display: none; background: $ground; }
    """

    def __init__(self) -> None:
        super().__init__()
        self.targets: tuple[Target, ...] = ()
        self._was: Widget | None = None

    def begin(self) -> bool:
        """Show the letters; whether there is any part to go to."""
        self.targets = targets_of(self.screen)
        if not self.targets:
            return False
        self._was = self.screen.focused
        self.can_focus = self.display = True
        self.screen.set_focus(self)
        self.screen.mount_all([Letter(target) for target in self.targets])
        return True

    def end(self) -> None:
        """Take the letters away, and give the focus back."""
        if not self.display:
            return
        was, self._was = self._was, None
        self.can_focus = self.display = False
        self.screen.query(Letter).remove()
        self.screen.set_focus(was)

    def render(self) -> Content:
        """What to press."""
        return Content.assemble(
            ("letter", mark(Role.INK, bold=True)),
            (" goes there   ", mark(Role.QUIET)),
            ("esc", mark(Role.INK, bold=True)),
            (" leaves it", mark(Role.QUIET)),
        )

    def check_consume_key(self, key: str, character: str | None) -> bool:
        """Every key is meant for it."""
        del key, character
        return True

    def on_key(self, event: events.Key) -> None:
        """Go to the part of the letter."""
        event.stop()
        event.prevent_default()
        found = next((one for one in self.targets if one.letter == event.character), None)
        self.end()
        if found is not None:
            found.act()

    def on_click(self) -> None:
        """The pointer needs no letters."""
        self.end()

    def on_blur(self) -> None:
        """Something else took the focus: the letters are no longer meant."""
        if self.display:
            self._was = self.screen.focused
            self.end()


def targets_of(screen: Screen[Any]) -> tuple[Target, ...]:
    """The parts of a screen that are in sight, from the top, with their letters; the rest have none."""
    spots: list[Spot] = []
    for widget in screen.walk_children(Widget):
        if not widget.display or not widget.region or not _in_sight(widget, screen):
            continue
        if isinstance(widget, HasSpots):
            content = widget.content_region
            inside = [(at + content.offset, act) for at, act in widget.jump_spots()]
            spots += [spot for spot in inside if content.contains_point(spot[0])]
        elif isinstance(widget, Input | ChoiceField) and widget.focusable:
            spots.append((_beside(widget), widget.focus))
    spots.sort(key=lambda spot: (spot[0].y, spot[0].x))
    return tuple(Target(letter, at, act) for letter, (at, act) in zip(LETTERS, spots, strict=False))


def _beside(widget: Widget) -> Offset:
    """The blank before a field, so that the letter hides nothing that was typed."""
    return Offset(max(widget.region.x - 1, 0) if isinstance(widget, Input) else widget.region.x, widget.region.y)


def _in_sight(widget: Widget, screen: Screen[Any]) -> bool:
    """Whether it is painted, and not scrolled away or within something hidden."""
    shown = all(node.display for node in widget.ancestors if isinstance(node, Widget))
    return shown and widget in screen._compositor.visible_widgets
