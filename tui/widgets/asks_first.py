"""What stands against hands-on work or loading is asked before a screen starts it: the same key twice goes on."""

from __future__ import annotations

from store.care.asking import asks, go_on, question
from store.care.faults import FAULTS
from store.care.warning import Warned
from store.knowledge.kinds import Activity, Measure
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.message_line import Kind


class AsksFirst(KeyedScreen[None]):
    """A screen from which something is started in a visit. A yes is kept, and not asked for again in it."""

    def may_start(self, visit: str, key: str, *things: Activity | Measure) -> bool:
        """Whether things may be started; if not, it was asked for all of them, and `key` again goes on."""
        care = self.shell.care
        try:
            by_id: dict[str, Warned] = {one.id: one for thing in things for one in asks(care, visit, thing)}
            found = tuple(by_id.values())
            if found and not self.again.confirms(" ".join((*(thing.id for thing in things), *by_id))):
                self.say(question(found, key), Kind.WRONG)
                return False
            if found:
                go_on(care, visit, found)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return False
        return True

    def take_back_question(self) -> None:
        """Something else was done: the question is asked anew."""
        self.again.take_back()
