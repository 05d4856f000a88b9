"""What stands against hands-on work or loading is asked before a screen starts it: the same key twice goes on."""

from __future__ import annotations

from store.care.asking import asks, go_on, question
from store.care.faults import FAULTS
from store.knowledge.kinds import Activity, Measure
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.message_line import Kind


class AsksFirst(KeyedScreen[None]):
    """A screen from which something is started in a visit. A yes is kept, and not asked for again in it."""

    _asked_for = ""

    def may_start(self, visit: str, thing: Activity | Measure, key: str) -> bool:
        """Whether a thing may be started; if not, it was asked, and `key` again goes on."""
        care = self.shell.care
        try:
            found = asks(care, visit, thing)
            asked = " ".join((thing.id, *(one.id for one in found)))
            if found and self._asked_for != asked:
                self._asked_for = asked
                self.say(question(found, key), Kind.WRONG)
                return False
            self._asked_for = ""
            if found:
                go_on(care, visit, found)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return False
        return True

    def take_back_question(self) -> None:
        """Something else was done: the question is asked anew."""
        self._asked_for = ""
        self.again.take_back()
