"""What a screen may ask of the application it stands in. The application fulfils it; screens never import that."""

from __future__ import annotations

from typing import Any, Protocol

from store.knowledge.time import Clock


class Shell(Protocol):
    """The application as its screens see it."""

    care: Any
    clock: Clock

    def open(self, name: str, **arguments: object) -> None:
        """Put the screen of this name on top; the arguments go to its constructor."""
        ...
