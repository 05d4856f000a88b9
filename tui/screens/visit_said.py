"""The form of what has changed, joined to the visit that it is saved in."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from store.care import visits
from store.care.care import Care
from store.care.faults import FAULTS
from store.care.plan_words import said_hints
from tui.widgets.again import Again
from tui.widgets.message_line import Kind
from tui.widgets.said_form import SaidForm


class Say(Protocol):
    """Where messages go."""

    def __call__(self, text: str, kind: Kind = Kind.NOTE) -> None:
        """Say something."""


class SaidPanel(SaidForm):
    """Saves what is typed as one act; what is unusual wants sending twice. `saved` is called when it is kept."""

    def __init__(self, care: Care, visit: str, say: Say, again: Again, saved: Callable[[], None]) -> None:
        super().__init__(said_hints(care), self._well, self._keep)
        self._care = care
        self._visit = visit
        self._say = say
        self._saved = saved
        self._again = again

    def _well(self, word: str, text: str) -> bool:
        """Whether a field can be read; if not, say why."""
        if not text:
            return True
        try:
            visits.said_asks(self._care, f"{word} {text}")
        except FAULTS as fault:
            self._say(str(fault), Kind.WRONG)
            return False
        return True

    def _keep(self, line: str) -> None:
        if not line:
            self._say("Nothing new was typed: esc puts this away, d leaves the step out today.")
            return
        try:
            asks = visits.said_asks(self._care, line)
            if asks and not self._again.confirms(line):
                self._say(f"{' '.join(asks)} Send it again if so.", Kind.WRONG)
                return
            visits.said(self._care, self._care.visit(self._visit), line)
        except FAULTS as fault:
            self._say(str(fault), Kind.WRONG)
            return
        self._saved()
