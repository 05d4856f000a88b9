"""What a screen may ask of the application it stands in. The application fulfils it; screens never import that."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from store.knowledge.time import Clock
from store.knowledge.words import Person

if TYPE_CHECKING:
    from store.care.care import Care
    from store.care.timing import Guard
    from tui.clock.sound import Sounder


class Shell(Protocol):
    """The application as its screens see it."""

    care: Care
    clock: Clock
    only: Person | None
    """Whom alone the screens may show, in an open room; None shows everybody."""

    @property
    def sounder(self) -> Sounder:
        """What makes the cues of a bout heard."""
        ...

    def open(self, name: str, **arguments: object) -> None:
        """Put the screen of this name on top; the arguments go to its constructor."""
        ...

    def drop_keys(self) -> None:
        """Forget the keys that were typed ahead."""
        ...

    def spend_key(self, guard: Guard) -> None:
        """Say that the last key closed a screen: held or pressed twice, it does nothing on the one below."""
        ...
