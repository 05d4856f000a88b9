"""The person's view: one key hides everyone else from an open room, and the same key shows everybody again."""

from __future__ import annotations

from store.care.visible import visible
from store.knowledge.words import Person
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.reach import in_reach


class OnePerson(KeyedScreen[None]):
    """A screen that can hide everyone else. It holds until the key is pressed again or the program ends."""

    def whom(self) -> Person | None:
        """The person whom this screen is about, or whom its cursor is on."""
        raise NotImplementedError

    def only_changed(self) -> None:
        """Read again what may no longer be shown, or may be again."""

    def do_only(self) -> None:
        """Show one person only, or everybody again."""
        if self.shell.only is not None:
            self.shell.only = None
            self.only_changed()
            self.say("Everybody is shown again.")
            return
        person = self.whom()
        if person is None:
            self.say("Nobody is under the cursor whom it could show alone.")
            return
        self.shell.only = person
        self.only_changed()
        self.say(self.only_says())

    def only_says(self) -> str:
        """That one person is shown only, and the key that ends it; empty where everybody is."""
        person = self.shell.only
        if person is None:
            return ""
        found = in_reach(get("only"), self.focused) or get("only")
        return f"Only {visible(person.label)} is shown: {found.key} shows everybody again."

    def only_key(self) -> Command:
        """The key, by what it does now."""
        return relabelled(get("only"), "show everybody") if self.shell.only is not None else get("only")
