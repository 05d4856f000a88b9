"""A clinician at the keyboard: presses a key, sees what it did, and only then presses the next one."""

from __future__ import annotations

import re
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import partial

from tests.terminal.driver import Condition, Terminal
from tests.terminal.keys import KeyCount
from tests.terminal.programs import patience
from tests.terminal.view import View

BETWEEN_S = 0.8  # a pedal pressed sooner after the last press, or after the end of a set, counts as the same press

WHOLE_S = 0.02  # nothing came for so long: what is being painted is whole


class Walk:
    """Walks a program by keys, and counts them by the part of the walk."""

    def __init__(self, terminal: Terminal, *, rate: float = 1.0) -> None:
        self.terminal = terminal
        self._between_s = BETWEEN_S / min(
            rate, 4.0
        )  # a busy program's time may pass less than `rate` times as fast
        self.counts: dict[str, KeyCount] = {}
        self._saw = time.perf_counter()

    # seeing

    @property
    def view(self) -> View:
        """The screen now."""
        return self.terminal.view()

    def sees(self, *wanted: str, within: float = 20.0) -> View:
        """Wait until every text stands on the screen."""
        view = self.terminal.wait_for(*wanted, within=patience(within))
        self._saw = time.perf_counter()
        return view

    def sees_that(self, holds: Condition, what: str, within: float = 20.0) -> View:
        """Wait until a condition holds of the screen."""
        view = self.terminal.wait_until(holds, within=patience(within), what=what)
        self._saw = time.perf_counter()
        return view

    def saw(self, holds: Condition, what: str, within: float = 20.0) -> View:
        """Wait for what stands for a moment only, as giant words do: a slow look does not miss it."""
        view = self.terminal.wait_shown(holds, within=patience(within), what=what)
        self._saw = time.perf_counter()
        return view

    def saw_text(self, *wanted: str) -> View:
        """The same for texts."""
        return self.saw(lambda view: all(view.find(text) for text in wanted), ", ".join(map(repr, wanted)))

    # pressing

    @contextmanager
    def part(self, name: str) -> Iterator[KeyCount]:
        """Keys pressed within are counted under this name; a part within a part is counted apart."""
        outer, own = self.terminal.keys, self.counts.setdefault(name, KeyCount())
        self.terminal.keys = own
        try:
            yield own
        finally:
            self.terminal.keys = outer

    def press(self, key: str, *then: str) -> View:
        """Press one key and wait for what it shows.

        A screen comes out in pieces: until the last of them is there, what stood before it may be taken for new.
        """
        self.terminal.settle(WHOLE_S)
        self.terminal.press(key)
        return self.sees(*then)

    def type(self, text: str) -> View:
        """Type text and wait until it stands on the screen."""
        self.terminal.type(text)
        return self.sees(text)

    def find(self, label: str) -> View:
        """Type a label on the caseload and wait until the cursor stands on who has it."""
        self.terminal.type(label)
        return self.sees_that(lambda view: label in view.line_with("▸"), f"the cursor on {label}")

    def pedal_in_rest(self, *then: str) -> View:
        """Press the pedal in a rest, once its clock shows that the end of the set is a while ago."""
        self.sees_that(_has_rested, "a rest of more than a second")
        return self.press("space", *then)

    def pedal(self, *then: str) -> View:
        """Press the pedal as a foot does: a while after what was last seen."""
        return self.press_unhurried("space", *then)

    def press_unhurried(self, key: str, *then: str) -> View:
        """Press a key a while after what was last seen, so that it is not taken for the one before, held."""
        while (left := self._saw + self._between_s - time.perf_counter()) > 0:
            self.terminal.watch(left)
        return self.press(key, *then)

    # the forms

    def fill(self, *lines: tuple[str, Sequence[str]]) -> None:
        """Fill a form field by field: each is its label and the keys in it; enter goes on."""
        for at, (label, keys) in enumerate(lines):
            self.sees_that(partial(in_hand, label), f"the field {label!r}")
            for key in keys:
                self.terminal.press(key)
            if at + 1 < len(lines):
                self.terminal.press("enter")

    def trials(self, values: Sequence[str], *, first: int = 1, of: int = 3) -> None:
        """Take trials of one side one by one, each value seen before the next is typed."""
        for at, value in enumerate(values, start=first):
            self.sees(f"trial {at} of {of}")
            self.sees_that(partial(_holds, ""), "an empty field")
            self.terminal.type(value)
            self.sees_that(partial(_holds, value), f"{value} in the field")
            self.terminal.press("enter")


def _has_rested(view: View) -> bool:
    found = re.search(r"rest (\d+) s, then", view.text)
    planned = re.search(r"rest (\d+) s\b(?!, then)", view.text)
    return bool(found and planned and int(found.group(1)) <= int(planned.group(1)) - 2)


def in_hand(label: str, view: View) -> bool:
    """Whether the field with this label has the focus: its label is bold."""
    for row in view.cells:
        text = "".join(cell.char or " " for cell in row)
        for found in re.finditer(rf"(?<!\S){re.escape(label)}(?= )", text):
            if all(row[at].bold for at in range(*found.span()) if text[at] != " "):
                return True
    return False


def _holds(value: str, view: View) -> bool:
    return field_text(view) == value


def field_text(view: View) -> str:
    """What stands in the field of the screen trial by trial."""
    found = re.search(r"value (.*?)(?:\s+(?:cm|degrees)\b.*)?$", view.line_with("    value "))
    return found.group(1).strip() if found else ""


def chosen_step(view: View) -> str:
    """The step of the plan that the cursor stands on."""
    found = re.match(r" ▸ +(?:! +)?(.+?)(?:  |…| │)", view.line_with(" ▸"))
    return found.group(1).strip() if found else ""
