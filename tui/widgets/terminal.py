"""Can the screens be shown here? Asked before Textual is imported, so this needs nothing of it."""

from __future__ import annotations

from collections.abc import Mapping, MutableMapping
from typing import Protocol


class Stream(Protocol):
    """A standard stream."""

    def isatty(self) -> bool:
        """Whether a terminal is at its end."""
        ...


def refusal(stdin: Stream, stdout: Stream, environ: Mapping[str, str]) -> str | None:
    """The sentence why the screens cannot be shown, with what to do instead; None when they can."""
    if environ.get("TEXTUAL_DRIVER", "").endswith(":WebDriver"):
        return None  # a browser is at both ends, by way of `serve`
    instead = "`bothfeet show` prints plain text, and `bothfeet add` takes one line."
    if not stdin.isatty() or not stdout.isatty():
        return f"the screens need a terminal for input and output, and there is none here. {instead}"
    if environ.get("TERM", "") in ("", "dumb", "unknown"):
        return f"this terminal (TERM={environ.get('TERM', '')!r}) cannot place text on the screen. {instead}"
    return None


_LIGHT_GROUNDS = {"7", "15"}
"""White and bright white, of the sixteen colours."""


def wants_dark(theme: str, environ: Mapping[str, str]) -> bool:
    """Whether the ground is to be dark: as the settings say, else as the terminal says of its own, else yes.

    COLORFGBG holds the terminal's two colours, "15;0", the ground last.
    """
    if theme != "auto":
        return theme != "light"
    return environ.get("COLORFGBG", "").rpartition(";")[2] not in _LIGHT_GROUNDS


def wants_no_color(environ: MutableMapping[str, str]) -> bool:
    """Whether NO_COLOR is set and not empty. An empty one is taken away, since libraries read it as set."""
    if environ.get("NO_COLOR") == "":
        del environ["NO_COLOR"]
    return "NO_COLOR" in environ
