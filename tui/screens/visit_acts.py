"""What is done to a visit beside its steps: the last thing taken back, a step left out, the visit ended."""

from __future__ import annotations

from store.care import ending, visits
from store.care.faults import FAULTS
from store.care.undoing import undo
from tui.screens.visit_beside import VisitBeside
from tui.widgets.asks_first import AsksFirst
from tui.widgets.message_line import Kind
from tui.widgets.plan_list import PlanList, PlanRow, Stand

SHOWS = {"end": "shows: end", "drop": "shows: drop"}
"""What is asked before something is done that shows what a re-test hides, by command: it cannot be unseen."""


class VisitActs(VisitBeside, AsksFirst):
    """A screen of one visit with its plan on show."""

    def read_visit(self, *, onward: bool = False) -> None:
        """Read the visit afresh. `onward` takes the cursor to the next step that waits, if its own does not."""
        raise NotImplementedError

    def show_step(self) -> None:
        """Show the step under the cursor."""
        raise NotImplementedError

    def do_undo(self) -> None:
        """Take back what was saved last in this visit, or that it ended."""
        care, left = self.shell.care, self._left_ids()
        stood = {row.key: row.stand for row in self.query_one(PlanList).rows}
        try:
            visit = care.visit(self.visit)
            if visit.ended is not None:
                ending.open_again(care, visit)
                self.say("took back the ending: this visit goes on", Kind.SAVED)
            else:
                self.say(undo(care, visit), Kind.SAVED)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
        self.read_visit()
        plan = self.query_one(PlanList)
        left = self._left_ids() - left
        bouts = [at for at, row in enumerate(plan.rows) if row.key in left]
        steps = [
            at
            for at, row in enumerate(plan.rows)
            if row.stand is Stand.OPEN and stood.get(row.key) in (Stand.DONE, Stand.DROPPED)
        ]
        if again := bouts or steps:  # the bout that was opened again, or the step that waits again: space does it
            plan.cursor = again[0]
        self.show_step()

    def _left_ids(self) -> frozenset[str]:
        return frozenset(one.bout.id for one in self.shown.unfinished) if self.shown is not None else frozenset()

    def do_drop(self) -> None:
        """Leave the step under the cursor out today, or take it back in."""
        chosen = self.query_one(PlanList).chosen
        if chosen is None or chosen.stand is Stand.PAUSED:
            self.say("A paused bout is ended in the timer: space goes on with it, x ends and keeps it.")
            return
        if chosen.stand is Stand.DONE:
            self.say("Done already: u takes back what was saved last.")
            return
        hidden = self._hidden_by(chosen)
        if hidden and not self.again.confirms(SHOWS["drop"]):
            self._ask_to_show(hidden, "d again leaves it out")
            return
        try:
            care = self.shell.care
            visits.drop_step(care, care.visit(self.visit), chosen.key)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
        else:
            back = chosen.stand is Stand.DROPPED
            self.say(
                f"{chosen.name}: taken back in" if back else f"{chosen.name}: skipped today, d takes it back in"
            )
        self.read_visit()

    def _hidden_by(self, chosen: PlanRow) -> str:
        """The measure whose values are hidden until this step is done, by name; empty where none are."""
        step, shown = self.step_at_cursor(), self.shown
        waits = step is not None and step.kind == "retest" and chosen.stand is Stand.OPEN
        if not waits or step is None or shown is None or step.ref not in shown.hidden:
            return ""
        known = self.shell.care.knowledge.measures.get(step.ref)
        return known.name if known is not None else step.ref

    def _ask_to_show(self, hidden: str, does: str) -> None:
        self.say(f"The re-test of {hidden} still waits: {does} and shows what was hidden.", Kind.WRONG)

    def do_end(self) -> None:
        """End the visit and say what was left open; u takes that back, but not that what was hidden is seen."""
        assert self.shown is not None
        waits = sum(line.line.open for line in self.shown.lines)
        try:
            care = self.shell.care
            visit = care.visit(self.visit)
            hidden = ending.hidden_words(care, visit)
            if hidden and not self.again.confirms(SHOWS["end"]):
                self._ask_to_show(hidden, "x again ends it")
                return
            ended = ending.end_visit(care, visit)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        says = f"visit ended after {round(visits.minutes_gone(care, ended))} min"
        says += "; nothing was done, so it does not count" if self.shown.empty else ""
        says += f"; {waits} steps were open" if waits > 1 else "; one step was open" if waits else ""
        says += "; a bout is kept paused" if self.shown.unfinished else ""
        self.say(f"{says}. u opens it again, esc goes back.", Kind.SAVED)
        self.read_visit()
